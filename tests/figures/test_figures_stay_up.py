"""Whatever is missing or odd in a plan: figures and checks do not fail, and nothing is null without a reason."""

import copy
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from plans import plan, site_of
from sites import site_data
from strategies import sites

from zonecfg.checks.runner import judge
from zonecfg.figures import Figures
from zonecfg.figures.remarks import not_computed, remarks

DUTIES = ("power", "bus", "common", "sync")
NODES = ("controllers", "supplies", "actuators", "sensors", "junctions")


@st.composite
def thinned(draw):
    """A drawn site or a generated one, with fields taken out of things and types, and cables between anything."""
    data = copy.deepcopy(draw(st.one_of(sites(), st.integers(1, 3).map(lambda n: site_data(9, seed=n)))))
    things = [
        fields
        for section in ("rooms", "openings", "controllers", "supplies", "actuators", "sensors", "cables")
        for fields in (*data.get(section, {}).values(), *data["types"].get(section, {}).values())
        if fields
    ]
    for _ in range(draw(st.integers(0, 25))):
        fields = draw(st.sampled_from(things))
        if fields:
            fields.pop(draw(st.sampled_from(sorted(fields))))
    for key in draw(st.lists(st.sampled_from(["wind_m_s", "rules"]), unique=True)):
        data["site"].pop(key, None)
    if draw(st.booleans()):
        data["site"] |= {"indoor_c": 26, "outdoor_c": draw(st.sampled_from([-5, 20, 26]))}
    if draw(st.booleans()):
        rules = {"falls": "ADK-2013", "ventilation": "ADF-2021-T1.4", "escape": "ADB-ESCAPE"}
        data["site"]["rules"] = rules
    nodes = [node for section in NODES for node in data.get(section, {})]
    cables = data.setdefault("cables", {})
    for number in range(draw(st.integers(0, 4))):
        cables[f"KX-{number}"] = {
            "from": draw(st.sampled_from([*nodes, "nowhere"])), "to": draw(st.sampled_from(nodes)),
            "length_m": draw(st.sampled_from([0, 1, 80])), "type": draw(st.sampled_from(["pair", "no-such"])),
            "carries": draw(st.lists(st.sampled_from(DUTIES), min_size=1, unique=True)),
        }  # fmt: skip
    for opening in draw(st.lists(st.sampled_from(sorted(data["openings"])), max_size=3)):
        data["openings"][opening] |= draw(
            st.sampled_from(
                [
                    {"hinge": "other"}, {"hinge": "centre-pivot"}, {"hinge": "side-hung", "actuator_at_mm": 20},
                    {"pitch_deg": 0, "glass_mm": 8}, {"escape": True, "smoke_vent": True}, {"stays": "friction"},
                ]
            )
        )  # fmt: skip
    return data


@settings(max_examples=300)
@given(thinned())
def test_no_plan_makes_them_fail(data):
    figures = Figures(site_of(data))
    judge(figures, file=None, places=None, today=date(2026, 11, 25))
    remarks(figures)
    reasons = not_computed(figures)
    named = {name for entry in reasons for name in entry.ids}
    for section in ("openings", "actuators", "supplies"):
        for figure in getattr(figures.printed, section).values():
            blank = [n for n in figure.__struct_fields__ if getattr(figure, n) is None and n != "output_a"]
            assert not blank or reasons
    for key, sensor in figures.printed.sensors.items():
        assert sensor.last_settled_s is not None or key in named


class TestRows:
    """What every number of things in a row costs: a line of many must not take time by the square."""

    @pytest.mark.parametrize("loop", [False, True])
    def test_two_thousand_on_one_supply(self, loop):
        names = [f"A-{n}" for n in range(2000)]
        cables = {
            f"K-{n}": {"from": one, "to": other, "length_m": 0.01, "type": "pair", "carries": ["power", "bus"]}
            for n, (one, other) in enumerate(zip(["PS-1", *names], names, strict=False))
        }
        if loop:
            cables["K-X"] = {
                "from": names[-1],
                "to": "PS-1",
                "length_m": 1,
                "type": "pair",
                "carries": ["power", "bus"],
            }
        data = plan(
            supplies={"PS-1": {"type": "psu"}},
            openings={f"W-{n}": {"type": "sash", "room": "room"} for n in range(2000)},
            actuators={a: {"type": "chain", "opening": f"W-{n}", "stroke_mm": 250} for n, a in enumerate(names)},
            groups={"G": {"actuators": names[:8]}} | {f"G-{n}": {"actuators": names[n : n + 8]} for n in range(8, 2000, 8)},
            cables=cables,
        )  # fmt: skip
        figures = Figures(site_of(data))
        judge(figures, file=None, places=None, today=date(2026, 11, 25))
        assert figures.power.supplies["PS-1"].peak_a == pytest.approx(2000.0)
