"""The bus checks at, just below and just above their limits, and where something is missing."""

import pytest
from plans import line, plan, problems, unknowns

BUS = ["bus"]


def bus(*nodes, terminators=None, cables=None, **more):
    """A controller's bus through actuators in a line, a resistor at both ends."""
    devices = [n for n in nodes if n.startswith("A")]
    sections = {
        "controllers": {"C-1": {"type": "hall"}},
        "actuators": {device: {"type": "chain", "opening": "W-1"} for device in devices},
        "cables": line(*nodes, carries=BUS) | (cables or {}),
        "terminators": [nodes[0], nodes[-1]] if terminators is None else terminators,
    }
    return plan(**{**sections, **more})


def cable(one, other, length=5, carries=BUS, **more):
    return {"from": one, "to": other, "length_m": length, "type": "pair", "carries": list(carries), **more}


class TestTerminators:
    """ANSI/TIA/EIA-485-A: a resistor at each of the two ends, none elsewhere."""

    def test_both_ends(self):
        data = bus("C-1", "A-1", "A-2")
        assert not problems(data, "terminator-missing")
        assert not problems(data, "terminator-misplaced")

    def test_none_is_one_finding_of_both_ends(self):
        (found,) = problems(bus("C-1", "A-1", "A-2", terminators=[]), "terminator-missing")
        assert found.about == "controllers/C-1"
        assert found.at == "/controllers/C-1"
        assert found.related == ("/actuators/A-2",)

    @pytest.mark.parametrize("resistor", ["switch", "none", None])
    def test_only_a_built_in_one_needs_no_naming(self, resistor):
        data = bus("C-1", "A-1", terminators=["A-1"])
        data["types"]["controllers"]["hall"]["bus_end_resistor"] = resistor or "none"
        if resistor is None:
            del data["types"]["controllers"]["hall"]["bus_end_resistor"]
        (found,) = problems(data, "terminator-missing")
        assert ("switch on" in found.message) == (resistor == "switch")
        data["types"]["controllers"]["hall"]["bus_end_resistor"] = "built-in"
        assert not problems(data, "terminator-missing")

    def test_built_in_in_mid_line(self):
        data = bus("A-1", "C-1", "A-2")
        assert not problems(data, "terminator-misplaced")
        data["types"]["controllers"]["hall"]["bus_end_resistor"] = "built-in"
        (found,) = problems(data, "terminator-misplaced")
        assert found.about == "controllers/C-1"
        assert "built in" in found.message

    def test_built_in_between_two_lines_is_at_the_end_of_both(self):
        data = bus("C-1", "A-1", cables={"K-9": cable("C-1", "A-2", line="2")}, terminators=["A-1", "A-2"])
        data["actuators"]["A-2"] = {"type": "chain", "opening": "W-1"}
        data["types"]["controllers"]["hall"]["bus_end_resistor"] = "built-in"
        assert not problems(data, "terminator-missing")
        assert not problems(data, "terminator-misplaced")

    def test_in_mid_line_twice_and_on_no_bus(self):
        data = bus("C-1", "A-1", "A-2", terminators=["C-1", "A-1", "A-2", "A-2", "PS-1"])
        data["supplies"] = {"PS-1": {"type": "psu"}}
        found = {problem.about: problem for problem in problems(data, "terminator-misplaced")}
        assert set(found) == {"controllers/C-1", "supplies/PS-1"}
        assert found["controllers/C-1"].at == "/terminators/1"
        assert found["controllers/C-1"].related == ("/terminators/3",)
        assert found["supplies/PS-1"].at == "/terminators/4"

    def test_on_a_stub(self):
        data = bus("C-1", "A-1", "A-2", cables={"K-9": cable("A-1", "A-3", 1)}, terminators=["C-1", "A-2", "A-3"])
        data["actuators"]["A-3"] = {"type": "chain", "opening": "W-1"}
        (found,) = problems(data, "terminator-misplaced")
        assert found.at == "/terminators/2"

    def test_not_checked_on_a_loop_or_a_branch(self):
        ring = bus("C-1", "A-1", "A-2", cables={"K-9": cable("A-2", "C-1")}, terminators=[])
        star = bus("C-1", "A-1", cables={"K-8": cable("A-1", "A-2", 9), "K-9": cable("A-1", "A-3", 9)}, terminators=[])
        star["actuators"] |= {a: {"type": "chain", "opening": "W-1"} for a in ("A-2", "A-3")}
        for data, why in ((ring, "loop"), (star, "branches")):
            for check in ("terminator-missing", "terminator-misplaced"):
                assert not problems(data, check)
                assert why in unknowns(data, check)[0].because


class TestBranchesAndStubs:
    """Three cables at a node: a stub no longer than stub_m, a stub too long, or a branch."""

    @pytest.mark.parametrize(("length", "too_long"), [(1.5, False), (1.51, True)])
    def test_stub_at_its_limit(self, length, too_long):
        data = bus("C-1", "A-1", "A-2", cables={"K-9": cable("A-1", "A-3", length)})
        data["actuators"]["A-3"] = {"type": "chain", "opening": "W-1"}
        assert bool(problems(data, "stub-too-long")) == too_long
        assert not problems(data, "bus-branches")
        assert not problems(data, "terminator-missing")

    def test_star_without_resistors_branches(self):
        data = bus(
            "C-1", "J-1", junctions={"J-1": {}}, terminators=[],
            cables={"K-8": cable("J-1", "A-1", 9), "K-9": cable("J-1", "A-2", 9)},
        )  # fmt: skip
        data["actuators"] = {a: {"type": "chain", "opening": "W-1"} for a in ("A-1", "A-2")}
        (found,) = problems(data, "bus-branches")
        assert (found.about, found.at) == ("controllers/C-1", "/junctions/J-1")
        assert not problems(data, "stub-too-long")

    def test_without_stub_m_nobody_can_tell(self):
        data = bus("C-1", "A-1", "A-2", cables={"K-9": cable("A-1", "A-3", 1)})
        data["actuators"]["A-3"] = {"type": "chain", "opening": "W-1"}
        del data["types"]["controllers"]["hall"]["bus"]["stub_m"]
        for check in ("bus-branches", "stub-too-long", "terminator-missing"):
            assert not problems(data, check)
            assert "stub_m" in unknowns(data, check)[0].because
        del data["cables"]["K-9"]
        for check in ("bus-branches", "stub-too-long", "terminator-missing"):
            assert not unknowns(data, check)  # nothing there could be a stub

    def test_a_controller_on_a_short_stub_is_no_end(self):
        data = bus("A-1", "A-2", "A-3", cables={"K-9": cable("A-2", "C-1", 1)})
        assert not problems(data, "terminator-missing")
        assert not problems(data, "bus-branches")


class TestLoops:
    """The cable that closes a loop is the place of the finding."""

    def test_ring(self):
        data = bus("C-1", "A-1", "A-2", cables={"K-9": cable("A-2", "C-1")})
        (found,) = problems(data, "bus-loop")
        assert (found.about, found.at) == ("controllers/C-1", "/cables/K-9/carries")
        assert len(found.related) == 2

    def test_two_cables_side_by_side(self):
        (found,) = problems(bus("C-1", "A-1", cables={"K-9": cable("C-1", "A-1")}), "bus-loop")
        assert found.at == "/cables/K-9/carries"

    def test_two_lines_of_a_controller_are_no_loop(self):
        data = bus("C-1", "A-1", cables={"K-9": cable("C-1", "A-2", line="2")})
        assert not problems(data, "bus-loop")

    def test_a_cable_back_to_its_beginning(self):
        (found,) = problems(bus("C-1", "A-1", cables={"K-9": cable("A-1", "A-1")}), "bus-loop")
        assert found.at == "/cables/K-9/carries"


class TestPieces:
    """What no controller reaches."""

    def test_device_without_bus_only_where_the_plan_has_a_bus(self):
        data = bus("C-1", "A-1", actuators={a: {"type": "chain", "opening": "W-1"} for a in ("A-1", "A-2")})
        assert [found.about for found in problems(data, "bus-in-pieces")] == ["actuators/A-2"]
        data["cables"] = {}
        assert not problems(data, "bus-in-pieces")
        assert unknowns(data, "bus-in-pieces")[0].because == "no cable carries the bus"

    def test_a_type_without_unit_load_is_not_made_for_the_bus(self):
        data = bus("C-1", "A-1", sensors={"R-1": {"type": "contact"}}, types_sensors={"contact": {"measures": "rain"}})
        assert not problems(data, "bus-in-pieces")

    def test_piece_without_controller(self):
        data = bus("C-1", "A-1", cables={"K-9": cable("A-2", "A-3")})
        data["actuators"] |= {a: {"type": "chain", "opening": "W-1"} for a in ("A-2", "A-3")}
        (found,) = problems(data, "bus-in-pieces")
        assert (found.about, found.at) == ("actuators/A-2", "/cables/K-9")
        assert unknowns(data, "bus-too-long")[0].ids == ("A-2",)


class TestLimits:
    """Length and unit loads at the limit of the controller's type pass."""

    @pytest.mark.parametrize(("limit", "found"), [(10, 0), (9.99, 1)])
    def test_length(self, limit, found):
        data = bus("C-1", "A-1", "A-2")
        data["types"]["controllers"]["hall"]["bus"]["length_m"] = limit
        assert len(problems(data, "bus-too-long")) == found

    @pytest.mark.parametrize(("limit", "found"), [(1.5, 0), (1.49, 1)])
    def test_unit_loads(self, limit, found):
        data = bus("C-1", "A-1", "A-2")
        data["types"]["controllers"]["hall"]["bus"]["unit_loads"] = limit
        assert len(problems(data, "bus-overloaded")) == found

    def test_32_loads_of_rs485(self):
        """1 of the controller and 124 quarters are 32; one more is too many."""
        for count, found in ((124, 0), (125, 1)):
            data = bus("C-1", *(f"A-{n}" for n in range(count)))
            assert len(problems(data, "bus-overloaded")) == found

    def test_what_is_not_given_is_named(self):
        data = bus("C-1", "A-1", "A-2")
        del data["types"]["actuators"]["chain"]["bus_unit_load"]
        del data["types"]["controllers"]["hall"]["bus"]
        loads, limit = unknowns(data, "bus-overloaded")
        assert (loads.because, loads.ids) == ("bus_unit_load is not given", ("A-1", "A-2"))
        assert "bus.unit_loads" in limit.because
        assert unknowns(data, "bus-too-long")[0].ids == ("C-1",)


class TestCommon:
    """Two supplies along one bus, and what joins their zero volts."""

    def two(self, **cables):
        data = bus("C-1", "A-1", "A-2", supplies={"PS-1": {"type": "psu"}, "PS-2": {"type": "psu"}})
        power = {"KP-1": cable("PS-1", "A-1", 5, ["power"]), "KP-2": cable("PS-2", "A-2", 5, ["power"])}
        data["cables"] |= power | cables
        return data

    def test_none(self):
        (found,) = problems(self.two(), "bus-without-common")
        assert found.at == "/cables/K-1-A-1-A-2/carries"

    @pytest.mark.parametrize(
        "cables",
        [
            {"KC": cable("PS-1", "PS-2", 5, ["common"])},
            {"KC": cable("A-1", "A-2", 5, ["common"])},
            {"KC": cable("A-1", "J-1", 5, ["common"]), "KD": cable("J-1", "PS-2", 5, ["common", "sync"])},
        ],
        ids=["between supplies", "between actuators", "through a box"],
    )
    def test_any_common_between_the_two(self, cables):
        assert not problems(self.two(**cables), "bus-without-common")

    def test_a_common_that_leads_elsewhere(self):
        assert problems(self.two(KC=cable("A-1", "J-1", 5, ["common"])), "bus-without-common")

    def test_unknown_supply(self):
        data = self.two()
        del data["cables"]["KP-2"]
        assert not problems(data, "bus-without-common")
        assert unknowns(data, "bus-without-common")[0].ids == ("A-2",)


class TestResistance:
    """120 Ω at both ends in parallel, the loop of the line with the far one; 15 % either way."""

    def measured(self, ohm, *nodes):
        data = bus(*(nodes or ("C-1", "A-1")), state="as-commissioned", record={"buses": {"C-1": {"bus_ohm": ohm}}})
        data["types"]["cables"]["pair"] = {"conductor_mm2": 0.75, "conductor_class": 5, "conductor_c": 20}
        for wire in data["cables"].values():
            wire["length_m"] = 500 / len(data["cables"])
        return data

    @pytest.mark.parametrize(("ohm", "found"), [(55.9, 1), (56.0, 0), (75.7, 0), (75.8, 1)])
    def test_controller_at_the_end(self, ohm, found):
        """500 m of 26 Ω/km there and back are 26 Ω: 120 ∥ 146 = 65.86 Ω, so 55.98 to 75.74 Ω pass."""
        assert len(problems(self.measured(ohm), "bus-resistance-off")) == found

    @pytest.mark.parametrize(("ohm", "found"), [(56.5, 1), (56.6, 0), (76.4, 0), (76.5, 1)])
    def test_controller_in_the_middle(self, ohm, found):
        """133 ∥ 133 = 66.5 Ω, so 56.53 to 76.48 Ω pass."""
        assert len(problems(self.measured(ohm, "A-1", "C-1", "A-2"), "bus-resistance-off")) == found

    @pytest.mark.parametrize(
        ("ohm", "hint"), [(120, "missing"), (146, "missing"), (40, "too many"), (5, "touch"), (9000, "no resistor")]
    )
    def test_hint(self, ohm, hint):
        (found,) = problems(self.measured(ohm), "bus-resistance-off")
        assert hint in found.message

    def test_not_recorded(self):
        data = self.measured(60)
        del data["record"]
        assert unknowns(data, "bus-resistance-off")[0].ids == ("C-1",)


def test_cables_that_could_not_be_read_leave_nothing_known():
    """A cable whose ends are lost may join anything: no bus check judges, each says so."""
    data = bus("C-1", "A-1", terminators=[], cables={"K-9": {"type": "pair", "length_m": 3, "carries": ["bus"]}})
    for check in ("terminator-missing", "bus-in-pieces", "bus-branches", "bus-too-long", "bus-loop"):
        assert not problems(data, check)
        assert unknowns(data, check)[0].ids == ("K-9",)
