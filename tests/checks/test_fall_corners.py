"""The fall, barrier and restrictor checks through whole plans, at, just below and just above every threshold."""

import pytest
from plans import plan, problems, unknowns

NCC, IRC, ADK, BS = "NCC-2022-D3D29", "IRC-R312.2", "ADK-2013", "BS-8213-1"


def window(rule, *, use="bedroom", drop=3100, sill=900, stroke=100, **more):
    """One top-hung sash of 900 by 1000 mm."""
    sash = {"sill_mm": sill, "drop_mm": drop} | {k: v for k, v in more.items() if k != "actuator"}
    return plan(
        site={"rules": {"falls": rule}},
        rooms={"room": {"use": use}},
        openings={"W-1": {k: v for k, v in sash.items() if v is not None}},
        actuators={"A-1": {"stroke_mm": stroke, **more.get("actuator", {})}},
    )


def over(data):
    return bool(problems(data, "opening-over-fall-limit"))


@pytest.mark.parametrize(
    ("rule", "fields", "found"),
    [
        # ABCB guide to D3D29: 125 mm in bedrooms and early childhood centres, 2 m up, under 1.7 m
        (NCC, {"stroke": 124}, False),
        (NCC, {"stroke": 125}, True),
        (NCC, {"stroke": 125, "drop": 1999.9}, False),
        (NCC, {"stroke": 125, "drop": 2000}, True),
        (NCC, {"stroke": 125, "sill": 1699.9}, True),
        (NCC, {"stroke": 125, "sill": 1700}, False),
        (NCC, {"stroke": 125, "use": "childcare"}, True),
        (NCC, {"stroke": 300, "use": "office", "drop": 9000}, False),
        # IRC R312.2: more than 1829 mm above the surface outside, under 610 mm above the floor, 102 mm
        (IRC, {"stroke": 101, "drop": 1400, "sill": 500}, False),
        (IRC, {"stroke": 102, "drop": 1400, "sill": 500}, True),
        (IRC, {"stroke": 102, "drop": 1329, "sill": 500}, False),
        (IRC, {"stroke": 102, "drop": 1329.1, "sill": 500}, True),
        (IRC, {"stroke": 102, "drop": 1400, "sill": 610}, False),
        (IRC, {"stroke": 102, "drop": 1400, "sill": 609.9}, True),
        (IRC, {"stroke": 102, "drop": 1400, "sill": 500, "use": "office"}, True),
        # Approved Document K, diagram 3.1: it asks for guarding, and puts its sphere to that, not to the sash
        (ADK, {"stroke": 300}, False),
        (ADK, {"stroke": 300, "use": "office"}, False),
        # BS 8213-1 (secondary): 100 mm where somebody could fall
        (BS, {"stroke": 99, "drop": 1, "use": "office"}, False),
        (BS, {"stroke": 100, "drop": 1, "use": "office"}, True),
        (BS, {"stroke": 100, "drop": 0, "use": "office"}, False),
    ],
)
def test_thresholds(rule, fields, found):
    assert over(window(rule, **fields)) == found


def test_a_guard_screen_and_no_other():
    assert not over(window(NCC, stroke=300, screen="guard"))
    assert over(window(NCC, stroke=300, screen="insect"))


@pytest.mark.parametrize(("stroke", "found"), [(62, False), (62.5, True)])
def test_the_gap_counts_not_the_stroke(stroke, found):
    """Half way from the hinge: the edge opens twice the stroke, 125 mm at 62.5 mm."""
    assert over(window(NCC, stroke=stroke, actuator_at_mm=500)) == found


RECORD = "/record/actuators/A-1"


@pytest.mark.parametrize(
    ("stroke", "gap", "measured", "where"),
    [
        (100, 124.9, None, None),
        (100, 125, None, f"{RECORD}/measured_gap_mm"),
        (200, 110, None, "/actuators/A-1/stroke_mm"),  # a gap measured small does not unset a long stroke
        (100, 110, 125, f"{RECORD}/measured_stroke_mm"),
        (100, 110, 124, None),
        (130, 140, 125, f"{RECORD}/measured_gap_mm"),
        (150, 140, 125, "/actuators/A-1/stroke_mm"),
    ],
)
def test_the_largest_of_what_is_set_and_measured_counts(stroke, gap, measured, where):
    """Held at its edge the sash opens as far as the stroke goes."""
    record = {"measured_gap_mm": gap} | ({} if measured is None else {"measured_stroke_mm": measured})
    data = window(NCC, stroke=stroke) | {"state": "as-commissioned", "record": {"actuators": {"A-1": record}}}
    assert [r.at for r in problems(data, "opening-over-fall-limit")] == ([] if where is None else [where])


def test_the_largest_of_several_measured_gaps():
    data = window(NCC, stroke=100)
    data["actuators"]["A-2"] = {"type": "chain", "opening": "W-1", "stroke_mm": 100}
    record = {"A-1": {"measured_gap_mm": 110}, "A-2": {"measured_gap_mm": 126}}
    data |= {"state": "as-commissioned", "record": {"actuators": record}}
    (found,) = problems(data, "opening-over-fall-limit")
    assert found.at == "/record/actuators/A-2/measured_gap_mm"


def test_the_longer_of_two_strokes_and_the_cure():
    data = window(NCC, stroke=100)
    data["actuators"]["A-2"] = {"type": "chain", "opening": "W-1", "stroke_mm": 130}
    (found,) = problems(data, "opening-over-fall-limit")
    assert (found.about, found.at) == ("openings/W-1", "/actuators/A-2/stroke_mm")
    assert "a stroke of 120 mm or less stops it and leaves 5 mm" in found.message


@pytest.mark.parametrize("lack", ["drop", "sill", "use"])
def test_what_the_rule_needs_and_is_not_there(lack):
    data = window(NCC, **{"stroke": 300, lack: None} if lack != "use" else {"stroke": 300})
    if lack == "use":
        del data["rooms"]["room"]["use"]
    for side in ("drop", "sill"):
        if lack == side:
            data["openings"]["W-1"].pop(f"{side}_mm", None)
    assert not over(data)
    (reason,) = unknowns(data, "opening-over-fall-limit")
    assert reason.ids == ("W-1",)
    assert lack in reason.because


def test_one_trigger_that_fails_settles_it():
    """The sill alone is high enough: nobody needs the drop."""
    data = window(NCC, stroke=300, sill=1700)
    del data["openings"]["W-1"]["drop_mm"]
    assert not unknowns(data, "opening-over-fall-limit")


def test_no_stroke_no_rule_other_hinge():
    data = window(NCC)
    del data["actuators"]["A-1"]["stroke_mm"]
    assert unknowns(data, "opening-over-fall-limit")[0].ids == ("A-1",)
    assert "hinge `other`" in unknowns(window(NCC, hinge="other"), "opening-over-fall-limit")[0].because
    bare = window(NCC)
    del bare["site"]["rules"]
    assert unknowns(bare, "opening-over-fall-limit")[0].because == "site.rules.falls names no rule set"


def test_a_screen_that_could_not_be_read_is_not_none():
    data = window(NCC, stroke=100)
    (reason,) = unknowns(data, "opening-over-fall-limit", frozenset({"openings/W-1/screen"}))
    assert reason.because == "screen could not be read"


@pytest.mark.parametrize(
    ("rule", "fields", "said"),
    [
        (NCC, {"stroke": 125}, False),
        (BS, {"stroke": 100}, True),
        (IRC, {"stroke": 102, "drop": 1400, "sill": 500}, False),
    ],
)
def test_what_was_read_second_hand_is_said(rule, fields, said):
    (found,) = problems(window(rule, **fields), "opening-over-fall-limit")
    assert ("as quoted elsewhere" in found.message) == said


def test_a_rule_beyond_its_uses_is_said():
    dwelling = window(IRC, stroke=102, drop=1400, sill=500)
    office = window(IRC, stroke=102, drop=1400, sill=500, use="office")
    assert "because the plan names it" not in problems(dwelling, "opening-over-fall-limit")[0].message
    assert "because the plan names it" in problems(office, "opening-over-fall-limit")[0].message


class TestBarrier:
    """What the rule asks always, and what it asks where the limit can be overridden."""

    def low(self, data):
        return bool(problems(data, "barrier-too-low"))

    @pytest.mark.parametrize(
        ("rule", "fields", "found"),
        [
            (NCC, {"sill": 800}, False),  # a set stroke is no limit that can be overridden
            (NCC, {"sill": 800, "limit_by": "actuator"}, False),
            (NCC, {"sill": 800, "limit_by": "restrictor", "hand_release": "hand"}, False),
            (NCC, {"sill": 864, "limit_by": "release-by-tool"}, True),
            (NCC, {"sill": 865, "limit_by": "release-by-tool"}, False),
            (NCC, {"sill": 100, "barrier_mm": 865, "limit_by": "release-by-tool"}, False),
            (NCC, {"sill": 864, "hand_release": "hand"}, True),
            (NCC, {"sill": 864, "hand_release": "tool"}, True),
            (NCC, {"sill": 864, "hand_release": "none"}, False),
            (NCC, {"sill": 864, "use": "office", "drop": 4000}, True),
            (NCC, {"sill": 865, "use": "office", "drop": 4000}, False),
            (NCC, {"sill": 864, "use": "office", "drop": 3999.9}, False),
            (ADK, {"sill": 799, "use": "office"}, True),
            (ADK, {"sill": 800, "use": "office"}, False),
            (ADK, {"sill": 100, "barrier_mm": 799, "use": "bedroom"}, True),
            (ADK, {"sill": 799, "use": "office", "drop": 600}, False),
            (IRC, {"sill": 100, "drop": 5000}, False),
        ],
    )
    def test_thresholds(self, rule, fields, found):
        """ABCB guide to D3D29 with 865 mm as quoted elsewhere; Approved Document K, diagram 3.1."""
        assert self.low(window(rule, **fields)) == found

    @pytest.mark.parametrize(
        ("fields", "lacks"),
        [
            ({}, "hand_release and panel_locked of its controller"),
            ({"limit_by": "actuator", "hand_release": "none"}, "panel_locked of its controller"),
            ({"limit_by": "restrictor"}, None),
            ({"barrier_mm": 865}, None),
        ],
    )
    def test_what_is_not_stated_is_not_known(self, fields, lacks):
        """A sill of 300 mm, twelve metres up: silence would be a pass."""
        data = window(NCC, sill=300, drop=12_000, **fields)
        found = unknowns(data, "barrier-too-low")
        assert not self.low(data)
        assert [u.because.partition(" is" if "and" not in (lacks or "") else " are")[0] for u in found] == [
            lacks
        ] * bool(lacks)

    @pytest.mark.parametrize("sill", [100, 900])
    def test_the_openings_of_a_guarding_are_not_judged(self, sill):
        """Approved Document K puts its 100 mm sphere to them, and no field says them; a sill is no guarding."""
        found = unknowns(window(ADK, sill=sill, barrier_mm=900), "barrier-too-low")
        assert [u.ids for u in found] == ([("W-1",)] if sill < 800 else [])

    @pytest.mark.parametrize(("locked", "found"), [(True, False), (None, False), (False, True)])
    def test_an_open_panel_lets_the_stroke_be_changed(self, locked, found):
        data = window(NCC, sill=800)
        data["controllers"] = {"C-1": {"type": "hall"} | ({} if locked is None else {"panel_locked": locked})}
        assert self.low(data) == found
        data["openings"]["W-1"]["limit_by"] = "restrictor"
        assert not self.low(data)

    def test_the_secondary_figure_is_said(self):
        (found,) = problems(window(NCC, sill=800, limit_by="release-by-tool"), "barrier-too-low")
        assert "as quoted elsewhere" in found.message
        assert found.at == "/openings/W-1/sill_mm"

    def test_unknown_sill(self):
        data = window(ADK, use="office")
        del data["openings"]["W-1"]["sill_mm"]
        assert unknowns(data, "barrier-too-low")[0].ids == ("W-1",)
        data["openings"]["W-1"]["barrier_mm"] = 800
        assert not unknowns(data, "barrier-too-low")


class TestRestrictor:
    """What holds the sash where nothing but the actuator does."""

    def weak(self, data):
        return problems(data, "restrictor-strength-unknown")

    @pytest.mark.parametrize(("hold", "found"), [(251, 0), (250, 1), (249.9, 1), (None, 1)])
    def test_against_250_n(self, hold, found):
        """ABCB guide to D3D29: a restrictor that resists 250 N; at the edge, where a chain at the edge has cos(a/2) of it."""
        data = window(NCC)
        data["types"]["actuators"]["chain"]["hold_n"] = hold
        if hold is None:
            del data["types"]["actuators"]["chain"]["hold_n"]
        assert len(self.weak(data)) == found

    def test_the_weaker_of_two(self):
        data = window(NCC)
        data["actuators"]["A-2"] = {"type": "chain", "opening": "W-1", "stroke_mm": 100, "hold_n": 200}
        (found,) = self.weak(data)
        assert found.at == "/actuators/A-2/hold_n"

    def test_one_that_was_refused_does_not_hide_the_other(self):
        data = window(NCC)
        del data["types"]["actuators"]["chain"]["hold_n"]
        data["actuators"]["A-2"] = {"type": "chain", "opening": "W-1", "stroke_mm": 100, "hold_n": 200}
        refused = frozenset({"actuators/A-1/hold_n"})
        (found,) = problems(data, "restrictor-strength-unknown", refused)
        assert found.at == "/actuators/A-2/hold_n"
        assert [lost.ids for lost in unknowns(data, "restrictor-strength-unknown", refused)] == [("A-1",)]

    def test_a_rule_without_a_force_asks_that_it_is_known(self):
        data = window(BS, stroke=90)
        assert not self.weak(data)
        del data["types"]["actuators"]["chain"]["hold_n"]
        assert self.weak(data)

    @pytest.mark.parametrize("fields", [{"limit_by": "restrictor"}, {"limit_by": "release-by-tool"}, {"screen": "guard"},
                                        {"stroke": 125}, {"drop": 1999}, {"use": "office"},
                                        {"use": "office", "drop": 4000}])  # fmt: skip
    def test_where_no_limit_rests_on_it(self, fields):
        data = window(NCC, **fields)
        del data["types"]["actuators"]["chain"]["hold_n"]
        assert not self.weak(data)
