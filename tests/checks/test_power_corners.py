"""The power checks at, just below and just above their limits, and where something is missing."""

import pytest
from plans import plan, problems, unknowns

OHM_PER_M = 2 * 7.98e-3 * (1 + 0.00393 * 20)
"""There and back, 2.5 mm², class 5, 40 °C (IEC 60228)."""
ALL = (
    "power-missing", "supplies-joined", "power-loop", "supply-overloaded", "controller-overloaded", "voltage-too-low",
    "cable-current-too-high", "fuse-over-cable",
)  # fmt: skip


def cable(one, other, length=5, carries=("power",), **more):
    return {"from": one, "to": other, "length_m": length, "type": "pair", "carries": list(carries), **more}


def fed(*, cables=None, **more):
    """One actuator of 1.0 A, 10 m behind a supply of 24 V."""
    wires = {"K-1": cable("PS-1", "A-1", 10)} if cables is None else cables
    return plan(**{"supplies": {"PS-1": {"type": "psu"}}, "cables": wires, **more})


@pytest.mark.parametrize("check", ALL)
def test_without_power_cables_nothing_is_judged(check):
    """Silence is never a pass: a plan without power cables is told so, once, for all."""
    data = fed(cables={"K-1": cable("PS-1", "A-1", carries=["bus"])})
    assert not problems(data, check)
    (reason,) = unknowns(data, check)
    assert (reason.because, reason.ids) == ("no cable carries power", ())


@pytest.mark.parametrize("check", ALL)
def test_clean(check):
    assert not problems(fed(), check)


@pytest.mark.parametrize("check", [check for check in ALL if check not in ("power-missing", "supplies-joined")])
def test_joined_supplies_and_high_voltage_are_not_computed(check):
    joined = fed(supplies={"PS-1": {"type": "psu"}, "PS-2": {"type": "psu"}},
                 cables={"K-1": cable("PS-1", "A-1"), "K-2": cable("A-1", "PS-2"), "K-3": cable("PS-1", "PS-2"),
                         "K-4": cable("PS-1", "C-1")}, controllers={"C-1": {"type": "hall"}})  # fmt: skip
    high = fed(types_supplies={"psu": {"output_v": 120.1}}, controllers={"C-1": {"type": "hall"}},
               cables={"K-1": cable("PS-1", "C-1"), "K-2": cable("C-1", "A-1"), "K-3": cable("A-1", "PS-1")})  # fmt: skip
    for data, ids in ((joined, ("PS-1", "PS-2")), (high, ("PS-1",))):
        assert not problems(data, check)
        assert any(reason.ids == ids for reason in unknowns(data, check))


def test_joined_supplies_are_one_finding_a_piece():
    data = fed(supplies={"PS-1": {"type": "psu"}, "PS-2": {"type": "psu"}, "PS-3": {"type": "psu"}},
               cables={"K-1": cable("PS-1", "A-1"), "K-2": cable("A-1", "PS-2"), "K-3": cable("PS-2", "PS-3")})  # fmt: skip
    (found,) = problems(data, "supplies-joined")
    assert (found.about, found.related) == ("supplies/PS-1", ("/supplies/PS-2", "/supplies/PS-3"))


@pytest.mark.parametrize(("volt", "found"), [(120, 0), (120.1, 1)])
def test_extra_low_voltage_ends_at_120_v(volt, found):
    """IEC 60050: up to 120 V ripple-free."""
    assert len(problems(fed(types_supplies={"psu": {"output_v": volt}}), "outside-extra-low-voltage")) == found


class TestMissing:
    """What draws current and has no way to a supply."""

    def test_each_kind_of_thing(self):
        data = fed(
            controllers={"C-1": {"type": "hall"}}, sensors={"R-1": {"type": "plate"}},
            openings={"W-2": {"type": "sash", "room": "room"}}, actuators={"A-2": {"type": "chain", "opening": "W-2"}},
        )  # fmt: skip
        assert {p.about for p in problems(data, "power-missing")} == {"controllers/C-1", "sensors/R-1", "actuators/A-2"}

    def test_a_piece_without_a_supply(self):
        data = fed(cables={"K-1": cable("PS-1", "J-1"), "K-2": cable("J-2", "A-1")}, junctions={"J-1": {}, "J-2": {}})
        (found,) = problems(data, "power-missing")
        assert found.about == "actuators/A-1"

    def test_the_cable_that_could_carry_it_is_named(self):
        data = fed(sensors={"R-1": {"type": "plate"}})
        data["cables"]["K-2"] = cable("A-1", "R-1", carries=["bus"])
        (found,) = problems(data, "power-missing")
        assert "let K-2 carry power" in found.message

    def test_what_draws_nothing_needs_none(self):
        data = fed(types_sensors={"contact": {"running_a": 0}, "mute": {}}, sensors={"R-1": {"type": "contact"}})
        assert not problems(data, "power-missing")
        data["sensors"]["R-2"] = {"type": "mute"}
        assert not problems(data, "power-missing")
        assert unknowns(data, "power-missing")[0].ids == ("R-2",)


class TestVoltage:
    """24 V less 10 m of 0.017214 ohm/m at 1 A."""

    @pytest.mark.parametrize(("offset", "found"), [(-1e-4, 0), (1e-4, 1)])
    def test_at_its_minimum(self, offset, found):
        least = 24 - 10 * OHM_PER_M + offset
        assert len(problems(fed(types_actuators={"chain": {"voltage_min_v": least}}), "voltage-too-low")) == found

    def test_from_the_least_the_supply_gives(self):
        data = fed(types_supplies={"psu": {"output_v": 24, "output_min_v": 20.5}})
        assert problems(data, "voltage-too-low")
        data["types"]["supplies"]["psu"]["output_min_v"] = 20.6
        assert not problems(data, "voltage-too-low")  # 20.6 - 0.172

    def test_message_names_event_way_and_cure(self):
        """40 m of 0.75 mm², class 5, 20 °C: 26·2·0.04 = 2.08 ohm, 21.92 V; 1.0 mm² gives 24 − 1.56 = 22.44 V."""
        data = fed(types_actuators={"chain": {"voltage_min_v": 22}}, cables={"K-1": cable("PS-1", "A-1", 40)})
        data["types"]["cables"]["pair"] = {"conductor_mm2": 0.75, "conductor_class": 5, "conductor_c": 20}
        (found,) = problems(data, "voltage-too-low")
        assert found.message == (
            "A-1 gets 21.9 V when all close; its minimum is 22 V (40 m of 0.75 mm² from PS-1); 1.0 mm² gives 22.4 V"
        )

    def test_the_size_that_passes_is_found_past_the_next(self):
        """0.75 to 1.0 mm² gives 22.44 V, which is not enough for 22.5 V; 1.5 mm²: 24 − 13.3·0.08 = 22.94 V."""
        data = fed(types_actuators={"chain": {"voltage_min_v": 22.5}}, cables={"K-1": cable("PS-1", "A-1", 40)})
        data["types"]["cables"]["pair"] = {"conductor_mm2": 0.75, "conductor_class": 5, "conductor_c": 20}
        (found,) = problems(data, "voltage-too-low")
        assert "1.5 mm² gives 22.9 V" in found.message

    def test_no_size_is_enough(self):
        data = fed(cables={"K-1": cable("PS-1", "A-1", 5000)})
        (found,) = problems(data, "voltage-too-low")
        assert "no conductor up to 10 mm²" in found.message

    def test_running_current_only_is_said(self):
        data = fed(types_actuators={"chain": {"voltage_min_v": 23.9}})
        assert "running current only" not in problems(data, "voltage-too-low")[0].message
        del data["types"]["actuators"]["chain"]["peak_a"]
        assert "running current only" in problems(data, "voltage-too-low")[0].message

    @pytest.mark.parametrize("lack", ["conductor_mm2", "conductor_class"])
    def test_without_conductors_the_current_is_still_known(self, lack):
        data = fed(types_supplies={"psu": {"output_a": 0.9}})
        del data["types"]["cables"]["pair"][lack]
        assert not problems(data, "voltage-too-low")
        assert unknowns(data, "voltage-too-low")[0].ids == ("K-1",)
        assert problems(data, "supply-overloaded")
        assert not unknowns(data, "cable-current-too-high")

    def test_a_size_no_table_has(self):
        data = fed(cables={"K-1": cable("PS-1", "A-1", conductor_mm2=0.8)})
        assert "0.8 mm²" in unknowns(data, "voltage-too-low")[0].because

    @pytest.mark.parametrize("lack", ["idle_a", "running_a"])
    def test_a_load_that_is_not_known(self, lack):
        data = fed()
        del data["types"]["actuators"]["chain"][lack]
        data["types"]["actuators"]["chain"].pop("peak_a")
        for check in ("voltage-too-low", "supply-overloaded", "cable-current-too-high"):
            assert not problems(data, check)
            assert unknowns(data, check)[0].because == f"{lack} of the actuator is not given"

    def test_a_loop_is_computed_by_nodal_analysis(self):
        """Two ways of 10 m in parallel: half the resistance."""
        least = 24 - 5 * OHM_PER_M
        data = fed(cables={"K-1": cable("PS-1", "A-1", 10), "K-2": cable("PS-1", "A-1", 10)})
        data["types"]["actuators"]["chain"]["voltage_min_v"] = least - 1e-6
        assert not problems(data, "voltage-too-low")
        data["types"]["actuators"]["chain"]["voltage_min_v"] = least + 1e-4
        assert problems(data, "voltage-too-low")
        (found,) = problems(data, "power-loop")
        assert (found.about, found.at) == ("supplies/PS-1", "/cables/K-2/carries")


class TestCurrents:
    """1.0 A of the actuator, 0.15 A of the controller."""

    def behind_controller(self, **types):
        return fed(
            controllers={"C-1": {"type": "hall"}},
            cables={"K-1": cable("PS-1", "C-1"), "K-2": cable("C-1", "A-1")},
            **types,
        )

    @pytest.mark.parametrize(("limit", "found"), [(1.15, 0), (1.149, 1)])
    def test_supply(self, limit, found):
        data = self.behind_controller(types_supplies={"psu": {"output_a": limit}})
        assert len(problems(data, "supply-overloaded")) == found

    @pytest.mark.parametrize(("limit", "found"), [(1.0, 0), (0.999, 1)])
    def test_controller_passes_on_what_is_not_its_own(self, limit, found):
        data = self.behind_controller(types_controllers={"hall": {"output_a": limit}})
        assert len(problems(data, "controller-overloaded")) == found

    def test_a_controller_at_the_end_of_a_cable_passes_nothing_on(self):
        data = fed(
            controllers={"C-1": {"type": "hall"}},
            cables={"K-1": cable("PS-1", "C-1"), "K-2": cable("PS-1", "A-1")},
            types_controllers={"hall": {"output_a": 0.01}},
        )
        assert not problems(data, "controller-overloaded")
        assert not unknowns(data, "controller-overloaded")

    @pytest.mark.parametrize(("limit", "found"), [(1.15, 0), (1.149, 1), (0.99, 2)])
    def test_cables(self, limit, found):
        data = self.behind_controller(types_cables={"pair": {"current_max_a": limit}})
        assert len(problems(data, "cable-current-too-high")) == found

    @pytest.mark.parametrize(("fuse", "found"), [(18, 0), (18.1, 1)])
    def test_fuse_against_the_smallest_cable(self, fuse, found):
        """I_n ≤ I_Z (IEC 60364-4-43, 433.1)."""
        data = self.behind_controller(types_supplies={"psu": {"fuse_a": fuse}})
        data["cables"]["K-1"]["current_max_a"] = 30
        assert len(problems(data, "fuse-over-cable")) == found

    def test_a_known_weak_cable_is_told_though_others_are_unknown(self):
        data = self.behind_controller(types_cables={"pair": {"current_max_a": None}})
        del data["types"]["cables"]["pair"]["current_max_a"]
        assert not problems(data, "fuse-over-cable")
        assert unknowns(data, "fuse-over-cable")[0].ids == ("K-1", "K-2")
        data["cables"]["K-2"]["current_max_a"] = 4
        assert problems(data, "fuse-over-cable")
        data["cables"]["K-2"]["current_max_a"] = 0.5
        assert [found.about for found in problems(data, "cable-current-too-high")] == ["cables/K-2"]
        assert unknowns(data, "cable-current-too-high")[0].ids == ("K-1",)


class TestMeasured:
    """A measured voltage is judged whatever was computed."""

    @pytest.mark.parametrize(("volt", "found"), [(20.4, 0), (20.3, 1)])
    def test_at_its_minimum(self, volt, found):
        data = plan(state="as-commissioned", record={"actuators": {"A-1": {"voltage_moving_v": volt}}})
        results = problems(data, "measured-voltage-too-low")
        assert [problem.at for problem in results] == ["/record/actuators/A-1/voltage_moving_v"] * found

    def test_not_recorded(self):
        (reason,) = unknowns(plan(state="as-commissioned"), "measured-voltage-too-low")
        assert reason.ids == ("A-1",)


class TestSmokeVents:
    """The battery of the supply that feeds the vent, or of whichever does."""

    def vent(self, **more):
        return plan(openings={"W-1": {"smoke_vent": True, "smoke_stroke_mm": 500}}, **more)

    @pytest.mark.parametrize(
        ("batteries", "found", "unknown"), [((True, True), 0, 0), ((False, False), 1, 0), ((True, False), 0, 1)]
    )
    def test_without_cables(self, batteries, found, unknown):
        data = self.vent(supplies={f"PS-{n}": {"type": "psu", "battery": b} for n, b in enumerate(batteries)})
        assert len(problems(data, "smoke-vent-unproven")) == found
        assert len(unknowns(data, "smoke-vent-unproven")) == unknown

    @pytest.mark.parametrize(("feeder", "found"), [("PS-1", 0), ("PS-2", 1)])
    def test_with_cables(self, feeder, found):
        data = self.vent(
            supplies={"PS-1": {"type": "psu", "battery": True}, "PS-2": {"type": "psu"}},
            cables={"K-1": cable(feeder, "A-1")},
        )
        assert len(problems(data, "smoke-vent-unproven")) == found

    def test_no_stroke(self):
        data = self.vent(supplies={"PS-1": {"type": "psu", "battery": True}})
        del data["openings"]["W-1"]["smoke_stroke_mm"]
        (found,) = problems(data, "smoke-vent-unproven")
        assert "smoke_stroke_mm" in found.message
