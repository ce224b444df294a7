"""Opening area, angles and escape windows through whole plans, at, just below and just above every threshold."""

import math

import pytest
from plans import plan, problems, site_of, unknowns

from zonecfg.figures import Figures

NCC, ADF, IRC = "NCC-2022-HP-10.6.2", "ADF-2021-T1.4", "IRC-R303.1"


def room(rule, floor, *, stroke=300, use="living", **fields):
    """A room with one sash of 900 by 1000 mm, 0.9 m²."""
    return plan(
        site={"rules": {"ventilation": rule}},
        rooms={"room": {"use": use, "floor_area_m2": floor, **fields}},
        actuators={"A-1": {"stroke_mm": stroke}},
    )


@pytest.mark.parametrize(
    ("rule", "floor", "fields", "found"),
    [
        # 5 % of the floor, the whole sash whatever its restrictor (ABCB Housing Provisions, 10.6.2): 0.9 m² serve 18 m²
        (NCC, 18, {"stroke": 10}, 0),
        (NCC, 18.001, {"stroke": 350}, 1),
        (NCC, 20, {"other_openings_m2": 0.1}, 0),
        (NCC, 20, {"other_openings_m2": 0.099}, 1),
        # 4 % (IRC R303.1): 22.5 m²
        (IRC, 22.5, {}, 0),
        (IRC, 22.501, {}, 1),
        # Approved Document F, table 1.4: 1/20 from 30° (517.6 mm), 1/10 from 15° (261.1 mm), nothing below
        (ADF, 18, {"stroke": 518}, 0),
        (ADF, 18.001, {"stroke": 518}, 1),
        (ADF, 18, {"stroke": 517}, 1),
        (ADF, 9, {"stroke": 517}, 0),
        (ADF, 9, {"stroke": 262}, 0),
        (ADF, 9.001, {"stroke": 262}, 1),
        (ADF, 9, {"stroke": 261}, 1),
    ],
)
def test_area(rule, floor, fields, found):
    data = room(rule, floor, **fields)
    assert len(problems(data, "room-opening-area-small")) == found


def test_twelve_square_metres():
    """12 m² of floor need 0.6 m², a sash of 1.0 by 0.6 m: the published example."""
    data = room(NCC, 12)
    data["types"]["openings"]["sash"] |= {"width_mm": 1000, "height_mm": 600}
    assert not problems(data, "room-opening-area-small")
    data["types"]["openings"]["sash"]["height_mm"] = 599.9
    assert problems(data, "room-opening-area-small")


def test_openings_that_no_actuator_moves_do_not_count():
    data = room(NCC, 18)
    data["openings"]["W-2"] = {"type": "sash", "room": "room"}
    figures = Figures(site_of(data)).rooms["room"]
    assert figures.openings == ("W-1",)
    assert figures.counted_area_m2 == pytest.approx(0.9)


def test_a_louvre_counts_where_the_rule_counts_any_sash():
    """Hinge `other`: its size is known, its geometry is not computed."""
    data = room(NCC, 18)
    data["openings"]["W-1"]["hinge"] = "other"
    assert not problems(data, "room-opening-area-small")
    assert not unknowns(data, "room-opening-area-small")
    data["site"]["rules"]["ventilation"] = ADF
    assert "hinge `other`" in unknowns(data, "room-opening-area-small")[0].because


def test_machines_no_rule_no_floor():
    data = room(NCC, 40, mechanical_air=True)
    assert not problems(data, "room-opening-area-small")
    assert unknowns(data, "room-opening-area-small")[0].ids == ("room",)
    del data["rooms"]["room"]["mechanical_air"], data["rooms"]["room"]["floor_area_m2"]
    assert unknowns(data, "room-opening-area-small")[0].because == "floor_area_m2 is not given"
    del data["site"]["rules"]
    assert unknowns(data, "room-opening-area-small")[0].because == "site.rules.ventilation names no rule set"


def test_both_areas_are_told():
    """0.9 m² counted, and of 100 mm: 0.09 + sin(5.73°) = 0.19 m² really free."""
    (found,) = problems(room(NCC, 40, stroke=100), "room-opening-area-small")
    assert "0.9 m²" in found.message
    assert "its free area is 0.19 m²" in found.message


class TestAngle:
    """Approved Document F: under 15° a sash counts nothing; 2·1000·sin 7.5° = 261.05 mm."""

    @pytest.mark.parametrize(("stroke", "found"), [(261, 1), (261.1, 0), (300, 0)])
    def test_at_15_degrees(self, stroke, found):
        results = problems(room(ADF, 5, stroke=stroke), "opening-angle-not-counted")
        assert len(results) == found
        assert all("a stroke of 262 mm reaches it" in result.message for result in results)

    def test_exactly_15_degrees_counts(self):
        stroke = 2000 * math.sin(math.radians(7.5))
        assert not problems(room(ADF, 5, stroke=stroke), "opening-angle-not-counted")

    def test_rules_that_count_whatever_the_angle(self):
        data = room(NCC, 5, stroke=10)
        assert not problems(data, "opening-angle-not-counted")
        assert not unknowns(data, "opening-angle-not-counted")


class TestStarved:
    """124 mm of 1000 mm: 0.9·0.124 + sin(7.109°) = 0.1116 + 0.1238 = 0.2354 m² free at the fall limit."""

    def bedroom(self, floor, *, rule=NCC, **fields):
        data = room(rule, floor, stroke=100, use="bedroom", **fields)
        data["site"]["rules"]["falls"] = "NCC-2022-D3D29"
        data["openings"]["W-1"] |= {"sill_mm": 900, "drop_mm": 3100}
        return data

    @pytest.mark.parametrize(("floor", "found"), [(4.70, 0), (4.71, 1)])
    def test_free_area_at_the_limit(self, floor, found):
        """0.2354 m² are 5 % of 4.708 m²; the stroke that is set does not matter, the largest allowed does."""
        (*results,) = problems(self.bedroom(floor), "fall-limit-starves-room")
        assert len(results) == found
        assert all(r.about == "rooms/room" and "0.235 m²" in r.message for r in results)

    def test_what_the_rule_then_counts(self):
        """7.1° count nothing in Approved Document F, however small the room."""
        assert problems(self.bedroom(1, rule=ADF), "fall-limit-starves-room")

    def test_what_helps(self):
        assert not problems(self.bedroom(16, other_openings_m2=0.6), "fall-limit-starves-room")
        guarded = self.bedroom(16)
        guarded["openings"]["W-1"]["screen"] = "guard"
        assert not problems(guarded, "fall-limit-starves-room")
        assert not problems(self.bedroom(16, mechanical_air=True), "fall-limit-starves-room")

    def test_no_limit_no_note(self):
        assert not problems(room(NCC, 40), "fall-limit-starves-room")


class TestEscape:
    """Approved Document B as quoted elsewhere: 0.33 m², 450 mm both ways, at most 1100 mm up, by hand."""

    def window(self, width=900, height=1000, **fields):
        return plan(
            site={"rules": {"escape": "ADB-ESCAPE"}},
            rooms={"room": {"use": "bedroom"}},
            openings={
                "W-1": {
                    "width_mm": width, "height_mm": height, "sill_mm": 900, "escape": True, "hand_release": "hand",
                    **fields,
                }
            },
        )  # fmt: skip

    @pytest.mark.parametrize(
        ("size", "fields", "found"),
        [
            ((450, 734), {}, 0),  # 0.3303 m²
            ((450, 733), {}, 1),  # 0.32985 m²
            ((449, 1000), {}, 1),
            ((1000, 449), {}, 1),
            ((900, 1000), {"sill_mm": 1100}, 0),
            ((900, 1000), {"sill_mm": 1100.1}, 1),
            ((900, 1000), {"hand_release": "tool"}, 1),
            ((900, 1000), {"hand_release": "none"}, 1),
            ((900, 1000), {"limit_by": "restrictor"}, 1),  # held at 250 mm, freed or not
            ((900, 1000), {"escape": False, "hand_release": "none"}, 0),
        ],
    )
    def test_thresholds(self, size, fields, found):
        results = problems(self.window(*size, **fields), "escape-window-restricted")
        assert len(results) == found

    def test_second_hand(self):
        (found,) = problems(self.window(sill_mm=1200), "escape-window-restricted")
        assert "as quoted elsewhere" in found.message
        assert found.at == "/openings/W-1/sill_mm"

    def test_without_a_rule_the_hand_still_counts(self):
        data = self.window(hand_release="none", sill_mm=1200)
        del data["site"]["rules"]
        (found,) = problems(data, "escape-window-restricted")
        assert "1200" not in found.message
        assert unknowns(data, "escape-window-restricted")[0].because == "site.rules.escape names no rule set"

    @pytest.mark.parametrize("lack", ["hand_release", "sill_mm"])
    def test_what_is_not_given(self, lack):
        data = self.window()
        del data["openings"]["W-1"][lack]
        assert any(lack in reason.because for reason in unknowns(data, "escape-window-restricted"))
