"""The checks of single sashes at, just below and just above their limits, and where something is missing."""

import math

import pytest
from plans import plan, problems, unknowns

from zonecfg.results.finding import Unknown


class TestCount:
    """Length along the hinge over what one actuator serves; 900 mm where the type does not say (common practice)."""

    @pytest.mark.parametrize(
        ("width", "limit", "found"),
        [(1000, 1000, 0), (1000.1, 1000, 1), (900, None, 0), (900.1, None, 1)],
    )
    def test_one_actuator(self, width, limit, found):
        data = plan(openings={"W-1": {"width_mm": width}})
        data["types"]["actuators"]["chain"]["along_hinge_max_mm"] = limit
        if limit is None:
            del data["types"]["actuators"]["chain"]["along_hinge_max_mm"]
        results = problems(data, "sash-needs-more-actuators")
        assert len(results) == found
        assert all(("common practice" in r.message) == (limit is None) for r in results)

    @pytest.mark.parametrize(("width", "found"), [(2000, 0), (2001, 1)])
    def test_two_actuators(self, width, found):
        data = plan(openings={"W-1": {"width_mm": width}}, actuators={"A-2": {"type": "chain", "opening": "W-1"}})
        results = problems(data, "sash-needs-more-actuators")
        assert len(results) == found
        assert all("3 would serve it" in r.message for r in results)

    @pytest.mark.parametrize(("hinge", "found"), [("top-hung", 0), ("side-hung", 1)])
    def test_the_hinge_says_which_side(self, hinge, found):
        """800 mm wide, 1200 mm high: along the hinge of a side-hung sash it is 1200 mm."""
        data = plan(openings={"W-1": {"hinge": hinge, "width_mm": 800, "height_mm": 1200}})
        assert len(problems(data, "sash-needs-more-actuators")) == found

    @pytest.mark.parametrize("fields", [{"hinge": "other"}, {"hinge": None}, {"width_mm": None}])
    def test_unknown(self, fields):
        data = plan(openings={"W-1": fields})
        for key, value in fields.items():
            if value is None:
                del data["openings"]["W-1"][key], data["types"]["openings"]["sash"][key]
        for check in ("sash-needs-more-actuators", "sash-needs-pivot-brackets", "stroke-over-sash", "thrust-too-small"):
            assert not problems(data, check)
            assert unknowns(data, check)[0].ids == ("W-1",)

    def test_a_sash_that_nothing_moves_is_not_judged(self):
        data = plan(
            openings={
                "W-2": {"type": "sash", "room": "room", "width_mm": 3000, "lock": "hand", "access_outside": False}
            }
        )
        for check in ("sash-needs-more-actuators", "hand-lock-fitted", "finger-trap"):
            assert not problems(data, check)
            assert not unknowns(data, check)


class TestBrackets:
    """Hinge to edge; 500 mm where the type does not say (common practice)."""

    @pytest.mark.parametrize(
        ("height", "limit", "found"), [(450, 450, 0), (449.9, 450, 1), (500, None, 0), (499.9, None, 1)]
    )
    def test_threshold(self, height, limit, found):
        data = plan(openings={"W-1": {"height_mm": height}}, actuators={"A-1": {"stroke_mm": 100}})
        if limit is None:
            del data["types"]["actuators"]["chain"]["hinge_to_edge_min_mm"]
        assert len(problems(data, "sash-needs-pivot-brackets")) == found
        data["openings"]["W-1"]["pivot_brackets"] = True
        assert not problems(data, "sash-needs-pivot-brackets")

    @pytest.mark.parametrize(("height", "found"), [(900, 0), (899, 1)])
    def test_half_a_centre_pivot(self, height, found):
        data = plan(openings={"W-1": {"hinge": "centre-pivot", "height_mm": height}})
        assert len(problems(data, "sash-needs-pivot-brackets")) == found


class TestStroke:
    """The set stroke against the type and against a right angle, r·√2."""

    @pytest.mark.parametrize(("stroke", "found"), [(350, 0), (350.1, 1)])
    def test_type(self, stroke, found):
        data = plan(actuators={"A-1": {"stroke_mm": stroke, "stroke_max_mm": 350}})
        assert [p.at for p in problems(data, "stroke-over-type")] == ["/actuators/A-1/stroke_mm"] * found

    @pytest.mark.parametrize("lack", ["stroke_mm", "stroke_max_mm"])
    def test_unknown(self, lack):
        data = plan()
        for fields in (data["actuators"]["A-1"], data["types"]["actuators"]["chain"]):
            fields.pop(lack, None)
        assert unknowns(data, "stroke-over-type")[0].ids == ("A-1",)

    @pytest.mark.parametrize(
        ("stroke", "at", "found"),
        [
            (500 * math.sqrt(2), 500, 0),
            (708, 500, 1),
            (1000, 500, 1),
            (1000.1, 500, 1),
            (708, None, 0),
        ],
    )
    def test_right_angle(self, stroke, at, found):
        data = plan(actuators={"A-1": {"stroke_mm": stroke}})
        if at is not None:
            data["openings"]["W-1"]["actuator_at_mm"] = at
        results = problems(data, "stroke-over-sash")
        assert len(results) == found
        assert all("707 mm is a right angle" in r.message for r in results)
        assert all(("no angle fits it" in r.message) == (stroke > 1000) for r in results)


class TestThrust:
    """30 kg, 1000 mm, 300 mm, no wind: m·g·w/2L = 30·9.81·0.3/2 = 44.145 N at the end of the stroke."""

    def heavy(self, thrust, **more):
        return plan(
            site={"wind_m_s": 0},
            openings={"W-1": {"sash_mass_kg": 30, "seal_n_per_m": 0, **more.pop("opening", {})}},
            actuators={"A-1": {"stroke_mm": 300, "thrust_n": thrust, **more}},
        )

    @pytest.mark.parametrize(
        ("thrust", "small", "margin"),
        [(44.1, 1, 0), (44.2, 0, 1), (55.1, 0, 1), (55.2, 0, 0)],
    )
    def test_thresholds(self, thrust, small, margin):
        """All of it, and 80 % (common practice): 44.145 / 0.8 = 55.18 N."""
        assert len(problems(self.heavy(thrust), "thrust-too-small")) == small
        assert len(problems(self.heavy(thrust), "thrust-margin-small")) == margin

    def test_direction_and_place(self):
        (found,) = problems(self.heavy(40), "thrust-too-small")
        assert "opening W-1 takes 44 N of A-1 at 300 mm of 300 mm" in found.message
        assert "A-1 pushes with 40 N" in found.message
        inward = self.heavy(40, opening={"hinge": "bottom-hung", "opens": "inward"})
        (found,) = problems(inward, "thrust-too-small")
        assert "closing W-1 takes 44 N" in found.message
        assert "A-1 pulls with 40 N" in found.message

    def test_push_and_pull_apart(self):
        """A top-hung sash is pushed open; a weak pull does not matter where nothing resists closing."""
        assert not problems(self.heavy(1, push_n=60, pull_n=1), "thrust-too-small")
        assert problems(self.heavy(60, push_n=40), "thrust-too-small")

    def test_shared_and_the_weakest_has_to_bear_its_share(self):
        data = self.heavy(23)
        data["actuators"]["A-2"] = {"type": "chain", "opening": "W-1", "stroke_mm": 300, "thrust_n": 22.5}
        assert not problems(data, "thrust-too-small")
        data["actuators"]["A-2"]["thrust_n"] = 22
        (found,) = problems(data, "thrust-too-small")
        assert "A-2 pushes with 22 N" in found.message

    def test_what_is_left_out_is_said(self):
        data = self.heavy(5, opening={"pitch_deg": 35})
        del data["types"]["openings"]["sash"]["seal_n_per_m"], data["openings"]["W-1"]["seal_n_per_m"]
        del data["openings"]["W-1"]["sash_mass_kg"], data["types"]["openings"]["sash"]["sash_mass_kg"]
        data["openings"]["W-1"] |= {"glass_mm": 8, "stays": "non-friction"}
        (found,) = problems(data, "thrust-too-small")
        assert "mass estimated from the glass, 18.0 kg" in found.message  # 0.9 m² of 8 mm at 2.5 kg
        assert "no seal and no friction given" in found.message
        assert "snow is not included" in found.message

    def test_friction_stays_of_unknown_force_are_never_a_pass(self):
        data = self.heavy(500, opening={"stays": "friction"})
        for check in ("thrust-too-small", "thrust-margin-small"):
            assert unknowns(data, check)[0].because == "friction_n of the stays is not given"
        weak = self.heavy(40, opening={"stays": "friction"})
        assert problems(weak, "thrust-too-small")

    @pytest.mark.parametrize(
        ("section", "lack", "because"),
        [
            ("openings", "sash_mass_kg", "neither sash_mass_kg nor glass_mm is given"),
            ("openings", "opens", "opens is not given"),
            ("actuators", "thrust_n", "thrust_n of the actuator is not given"),
            ("site", "wind_m_s", "site.wind_m_s is not given"),
        ],
    )
    def test_what_is_missing(self, section, lack, because):
        data = plan()
        (data["site"] if section == "site" else next(iter(data["types"][section].values()))).pop(lack)
        assert not problems(data, "thrust-too-small")
        assert unknowns(data, "thrust-too-small")[0].because == because


class TestStaysAndLocks:
    """What brakes or bolts a sash that an actuator moves."""

    def test_friction_stays_are_an_error_only_while_their_force_is_unknown(self):
        data = plan(openings={"W-1": {"stays": "friction", "friction_n": 40}})
        assert problems(data, "friction-stay-fitted")[0].severity is None
        del data["openings"]["W-1"]["friction_n"]
        assert problems(data, "friction-stay-fitted")[0].severity == "error"

    @pytest.mark.parametrize(("check", "field"), [("friction-stay-fitted", "stays"), ("hand-lock-fitted", "lock")])
    def test_not_given(self, check, field):
        data = plan()
        del data["types"]["openings"]["sash"][field]
        assert unknowns(data, check)[0].because == f"{field} of the sash is not given"


class TestFingers:
    """Edges more than 2.5 m up, and those moved while a switch is held, are outside (EN and IEC 60335-2-103)."""

    def edge(self, sill, protection=None, **fields):
        opening = {"sill_mm": sill, **fields} | ({} if protection is None else {"protection": protection})
        return plan(openings={"W-1": opening}, sensors={"R-1": {"type": "plate"}})

    @pytest.mark.parametrize(("sill", "found"), [(2500, 1), (2500.1, 0)])
    def test_reach(self, sill, found):
        assert len(problems(self.edge(sill), "finger-trap")) == found

    @pytest.mark.parametrize(("sill", "found"), [(2500, 1), (2500.1, 0)])
    @pytest.mark.parametrize("hinge", ["bottom-hung", "side-hung", "centre-pivot"])
    def test_the_side_edges_close_from_the_sill_up(self, hinge, sill, found):
        """1000 mm high: of a bottom-hung sash the upper edge is out of reach, the sides are not."""
        assert len(problems(self.edge(sill, hinge=hinge), "finger-trap")) == found

    @pytest.mark.parametrize(("drop", "found"), [(-100, 1), (0, 0)])
    def test_the_outside_face_is_in_reach_where_people_pass(self, drop, found):
        """Edge 2600 mm above the floor: 2500 mm above a terrace that lies 100 mm higher than the floor."""
        data = self.edge(2600, drop_mm=drop, access_outside=True)
        assert len(problems(data, "finger-trap")) == found
        assert not problems(self.edge(2600, drop_mm=drop, access_outside=False), "finger-trap")
        del data["openings"]["W-1"]["drop_mm"]
        assert unknowns(data, "finger-trap")[0].ids == ("W-1",)

    def test_who_passes_outside_is_said_once_or_not_known(self):
        assert Unknown("access_outside is stated of no opening") in unknowns(self.edge(900), "finger-trap")
        data = self.edge(900)
        data["openings"]["W-2"] = {"type": "sash", "room": "room", "sill_mm": 900, "access_outside": False}
        assert not unknowns(data, "finger-trap")

    @pytest.mark.parametrize(
        ("protection", "found"),
        [
            ([], 1),
            (["warning-signal"], 1),
            (["pressure-edge"], 0),
            (["light-curtain", "warning-signal"], 0),
            (["assessed"], 0),
            (["hold-to-run"], 0),
        ],
    )
    def test_protection(self, protection, found):
        assert len(problems(self.edge(900, protection), "finger-trap")) == found
        assert not unknowns(self.edge(900, protection, access_outside=False), "finger-trap")

    def test_held_switches_where_links_could_not_be_read(self):
        (reason,) = unknowns(self.edge(900, ["hold-to-run"], access_outside=False), "finger-trap", frozenset({"links"}))
        assert reason == Unknown("it is not known whether rain or wind can move it", ("W-1",))

    @pytest.mark.parametrize(("protection", "found"), [(["hold-to-run"], 1), (["hold-to-run", "pressure-edge"], 0)])
    def test_held_switches_do_not_stop_the_rain(self, protection, found):
        data = self.edge(900, protection)
        data["links"] = {"R-1": ["G"]}
        results = problems(data, "finger-trap")
        assert len(results) == found
        assert all("R-1 can move it unattended" in r.message for r in results)

    def test_one_finding_a_room(self):
        data = self.edge(900)
        data["openings"]["W-2"] = {"type": "sash", "room": "room", "sill_mm": 900}
        data["actuators"]["A-2"] = {"type": "chain", "opening": "W-2", "stroke_mm": 250}
        (found,) = problems(data, "finger-trap")
        assert (found.about, found.at, found.related) == ("rooms/room", "/openings/W-1", ("/openings/W-2",))

    def test_unknown_height(self):
        data = self.edge(900, access_outside=False)
        del data["openings"]["W-1"]["sill_mm"]
        assert unknowns(data, "finger-trap")[0].ids == ("W-1",)
        assert unknowns(self.edge(900, access_outside=False), "finger-trap", frozenset({"openings/W-1/protection"}))[
            0
        ].ids == ("W-1",)
