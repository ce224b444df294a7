"""Hypothesis strategies: small sites as plain data, and edits of them as time and people make them.

Everything drawn is valid by the schema and refers only to what is there; whether a check would be content
with it is another matter. Data is as a reader gives it: mappings by id, lists, text, numbers and booleans.
"""

from __future__ import annotations

import copy
from typing import TYPE_CHECKING, Any

from hypothesis import strategies as st

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    Draw = Callable[[st.SearchStrategy[Any]], Any]

Data = dict[str, Any]

USES = ("bedroom", "childcare", "living", "kitchen", "office", "assembly", "teaching", "circulation", "other")
NODES = ("controllers", "supplies", "actuators", "sensors", "junctions")
RENAMED = (
    "rooms",
    "openings",
    "controllers",
    "supplies",
    "actuators",
    "groups",
    "sensors",
    "junctions",
    "cables",
)

_TYPES: Data = {
    "openings": {
        "low": {"hinge": "top-hung", "opens": "outward", "width_mm": 900, "height_mm": 1000, "stays": "none"},
        "wide": {
            "hinge": "bottom-hung",
            "opens": "inward",
            "width_mm": 1400,
            "height_mm": 700,
            "glass_mm": 8,
        },
    },
    "actuators": {
        "chain-24": {
            "kind": "chain",
            "stroke_max_mm": 350,
            "thrust_n": 250,
            "running_a": 0.7,
            "idle_a": 0.02,
        },
        "chain-24-long": {"kind": "chain", "stroke_max_mm": 600, "thrust_n": 400, "running_a": 1.1},
    },
    "controllers": {
        "hall": {"saved_copy_keeps": ["groups"], "moves_at_once": 8, "limits": {"actuators": 40}},
        "house": {"saved_copy_keeps": ["groups", "links", "wet_weather", "strong_wind"], "idle_a": 0.2},
    },
    "sensors": {
        "plate": {"measures": "rain", "connects": "bus", "if_lost": "wet"},
        "cups": {"measures": "wind", "connects": "contact", "wind_above_m_s": 11},
    },
    "supplies": {"psu": {"output_v": 24, "output_a": 10}},
    "cables": {"pair": {"conductor_mm2": 2.5, "conductor_class": 5}},
}

strokes = st.sampled_from([100, 120, 200.5, 250, 300])
lengths = st.sampled_from([0, 1, 2.5, 9, 40])
serials = st.integers(min_value=0, max_value=99_999_999).map(lambda number: f"{number:08}")
words = st.sampled_from(["Room 1", "Hall", "Nord, links", "101", "no", "~", "Crèche", "a/b", "x: y"])
percents = st.sampled_from([0, 5, 10, 100])
minutes = st.sampled_from([0, 10, 15, 30])


@st.composite
def wet_actions(draw: Draw) -> Data:
    """Draw what a group does while it is wet."""
    action: Data = {"open_percent": draw(percents)}
    if draw(st.booleans()):
        action["when_dry"] = draw(st.sampled_from(["stay", "return"]))
        if action["when_dry"] == "return":
            action["dry_minutes"] = draw(minutes)
    return action


@st.composite
def wind_actions(draw: Draw) -> Data:
    """Draw what a group does when the wind is calm again."""
    return draw(
        st.sampled_from([{"when_calm": "stay"}, {"when_calm": "return", "calm_minutes": 20}, {"calm_minutes": 5}])
    ).copy()


@st.composite
def sites(draw: Draw) -> Data:
    """Draw a site: up to eight openings, one or two controllers, groups, sensors, links, actions, cables."""
    data: Data = {
        "format": "zonecfg-site/1",
        "state": draw(st.sampled_from(["as-designed", "as-commissioned"])),
        "site": {"name": draw(words), "date": "2026-03-09", "wind_m_s": 12},
        "types": copy.deepcopy(_TYPES),
    }
    for section in (*RENAMED, "links", "wet_weather", "strong_wind"):
        data[section] = {}
    if draw(st.booleans()):
        data["site"]["rules"] = {"falls": "NCC-2022-D3D29"}
    _building(draw, data)
    _settings(draw, data)
    _wiring(draw, data)
    if data["state"] == "as-commissioned":
        _record(draw, data)
    return {key: value for key, value in data.items() if value not in ({}, [])}


def _building(draw: Draw, data: Data) -> None:
    """Draw rooms, openings, controllers and actuators; every actuator knows its serial, or none does."""
    for number in range(1, draw(st.integers(1, 3)) + 1):
        room: Data = {"use": draw(st.sampled_from(USES)), "storey": number - 1}
        if draw(st.booleans()):
            room |= {"name": draw(words), "floor_area_m2": 20 * number}
        data["rooms"][f"room-{number}"] = room
    rooms = st.sampled_from(list(data["rooms"]))
    for number in range(1, draw(st.integers(1, 2)) + 1):
        data["controllers"][f"C-{number}"] = {
            "type": draw(st.sampled_from(["hall", "house"])),
            "room": draw(rooms),
        }
        data["supplies"][f"PS-{number}"] = {"type": "psu"}
    known = data["state"] == "as-commissioned" or draw(st.booleans())
    count = draw(st.integers(1, 8))
    pairs = [draw(st.booleans()) for _ in range(count)]
    labels = iter(draw(st.lists(serials, min_size=2 * count, max_size=2 * count, unique=True)))
    for number, pair in enumerate(pairs, start=1):
        opening = f"W-{number:02}"
        data["openings"][opening] = {
            "type": "wide" if pair else "low",
            "room": draw(rooms),
            "sill_mm": draw(st.sampled_from([300, 900, 2700])),
            "drop_mm": draw(st.sampled_from([300, 3100, 6200])),
        }
        stroke = draw(strokes)
        for letter in ("a", "b") if pair else ("",):
            actuator: Data = {"type": "chain-24", "opening": opening, "stroke_mm": stroke}
            if known:
                actuator["serial"] = next(labels)
            data["actuators"][f"A-{number:02}{letter}"] = actuator


def _settings(draw: Draw, data: Data) -> None:
    """Draw groups that hold each actuator once, sensors, links and actions."""
    controllers = list(data["controllers"])
    several = len(controllers) > 1
    for actuator in data["actuators"]:
        controller = controllers[int(data["actuators"][actuator]["opening"][2:]) % len(controllers)]
        group = f"group-{controller[2:]}-{draw(st.integers(1, 2))}"
        fields = data["groups"].setdefault(group, {"controller": controller} if several else {})
        fields.setdefault("actuators", []).append(actuator)
    for number in range(1, draw(st.integers(0, 3)) + 1):
        wind = number == 3
        sensor: Data = {
            "type": "cups" if wind else "plate",
            "controller": controllers[number % len(controllers)],
        }
        if data["state"] == "as-commissioned":
            sensor["serial"] = f"5120041{number}"
        data["sensors"][f"WS-{number}" if wind else f"R-{number}"] = sensor
    for sensor in data["sensors"]:
        linked = [group for group in data["groups"] if draw(st.booleans())]
        if linked:
            data["links"][sensor] = linked
            section, actions = (
                ("strong_wind", wind_actions()) if sensor.startswith("WS") else ("wet_weather", wet_actions())
            )
            for group in linked:
                data[section].setdefault(group, draw(actions))


def _wiring(draw: Draw, data: Data) -> None:
    """Draw one line a controller, from its supply through its groups' actuators; or no cables at all."""
    data["terminators"] = []
    if not draw(st.booleans()):
        return
    lines: dict[str, list[str]] = {controller: [controller] for controller in data["controllers"]}
    for group in data["groups"].values():
        lines[group.get("controller", "C-1")] += group["actuators"]
    for controller, line in lines.items():
        number = controller[2:]
        data["cables"][f"K-{number}00"] = _cable(draw, f"PS-{number}", controller, ["power"])
        for index in range(1, len(line)):
            one, other = line[index - 1], line[index]
            same = data["actuators"].get(one, {}).get("opening") == data["actuators"][other]["opening"]
            carries = ["power", "bus", "sync"] if same else ["power", "bus"]
            data["cables"][f"K-{number}{index:02}"] = _cable(draw, one, other, carries)
        data["terminators"] += [controller, line[-1]] if len(line) > 1 else [controller]
    if draw(st.booleans()):
        data["junctions"]["J-1"] = {"room": next(iter(data["rooms"]))}
        data["cables"]["K-900"] = _cable(draw, "PS-1", "J-1", ["power"])


def _cable(draw: Draw, one: str, other: str, carries: list[str]) -> Data:
    return {"from": one, "to": other, "length_m": draw(lengths), "type": "pair", "carries": carries}


def _record(draw: Draw, data: Data) -> None:
    """Record every actuator as tested, some things more."""
    data["record"] = {
        "actuators": {
            actuator: {"serial": fields["serial"], "calibrated": True, "walk_test": "pass"}
            for actuator, fields in data["actuators"].items()
        }
    }
    if draw(st.booleans()):
        data["record"]["controllers"] = {"C-1": {"actuators_counted": len(data["actuators"])}}
        data["record"]["groups"] = {group: {"walk_test": "pass"} for group in data["groups"]}
    if data["sensors"] and draw(st.booleans()):
        data["record"]["sensors"] = {sensor: {"wet_test": "fail"} for sensor in data["sensors"]}


@st.composite
def edited(draw: Draw, site_data: Data) -> Data:
    """Draw a copy with one to five edits; some change nothing, none leaves a reference to what is gone."""
    data = copy.deepcopy(site_data)
    for edit in draw(st.lists(st.sampled_from(EDITS), min_size=1, max_size=5)):
        edit(draw, data)
    return {key: value for key, value in data.items() if value not in ({}, [])}


@st.composite
def rearranged(draw: Draw, site_data: Data) -> Data:
    """Draw a copy under other settings: three to ten edits of groups, links and actions, and of nothing else."""
    data = copy.deepcopy(site_data)
    for edit in draw(st.lists(st.sampled_from((_regroup, _link, _act)), min_size=3, max_size=10)):
        edit(draw, data)
    return {key: value for key, value in data.items() if value not in ({}, [])}


@st.composite
def site_pairs(draw: Draw) -> tuple[Data, Data]:
    """Draw a site and an edited copy of it."""
    before = draw(sites())
    return before, draw(edited(before))


@st.composite
def shuffled(draw: Draw, value: Any) -> Any:
    """Draw the same data with its keys in another order; lists stay as they are."""
    if isinstance(value, dict):
        return {key: draw(shuffled(value[key])) for key in draw(st.permutations(list(value)))}
    return value


# Edits. Each changes the data in place, or leaves it where it finds nothing to change.


def _some(draw: Draw, data: Data, section: str) -> str | None:
    things = list(data.get(section, {}))
    return draw(st.sampled_from(things)) if things else None


def _fresh(draw: Draw, data: Data, prefix: str) -> str:
    taken = {name for section in RENAMED for name in data.get(section, {})}
    free = [name for name in (f"{prefix}-{number}" for number in range(70, 100)) if name not in taken]
    return draw(st.sampled_from(free[:3]))


def _regroup(draw: Draw, data: Data) -> None:
    actuator, target = _some(draw, data, "actuators"), _some(draw, data, "groups")
    if actuator is None or target is None:
        return
    for group in data["groups"].values():
        if actuator in group["actuators"]:
            group["actuators"].remove(actuator)
    data["groups"][target]["actuators"].append(actuator)


def _swap_serials(draw: Draw, data: Data) -> None:
    labelled = [fields for fields in data.get("actuators", {}).values() if "serial" in fields]
    if len(labelled) > 1:
        one, other = draw(st.permutations(labelled))[:2]
        one["serial"], other["serial"] = other["serial"], one["serial"]


def _replace_serial(draw: Draw, data: Data) -> None:
    section = draw(st.sampled_from(["actuators", "sensors"]))
    thing = _some(draw, data, section)
    taken = {fields.get("serial") for part in ("actuators", "sensors") for fields in data.get(part, {}).values()}
    if thing is not None:
        data[section][thing]["serial"] = draw(serials.filter(lambda serial: serial not in taken))


def _forget_serial(draw: Draw, data: Data) -> None:
    thing = _some(draw, data, "actuators")
    if thing is not None:
        data["actuators"][thing].pop("serial", None)


def _link(draw: Draw, data: Data) -> None:
    sensor, group = _some(draw, data, "sensors"), _some(draw, data, "groups")
    if sensor is None or group is None:
        return
    linked = data.setdefault("links", {}).setdefault(sensor, [])
    if group in linked:
        linked.remove(group)
    else:
        linked.append(group)
    if not linked:
        del data["links"][sensor]


def _act(draw: Draw, data: Data) -> None:
    """Add, change or drop a wet or wind action."""
    group = _some(draw, data, "groups")
    if group is None:
        return
    section = draw(st.sampled_from(["wet_weather", "strong_wind"]))
    actions = data.setdefault(section, {})
    if group in actions and draw(st.booleans()):
        del actions[group]
    else:
        actions[group] = draw(wet_actions() if section == "wet_weather" else wind_actions())


_FIELDS: dict[str, dict[str, st.SearchStrategy[Any]]] = {
    "rooms": {"name": words, "use": st.sampled_from(USES), "floor_area_m2": st.sampled_from([12, 40.5])},
    "openings": {"sill_mm": st.sampled_from([0, 950]), "sheltered": st.booleans(), "x-note": words},
    "controllers": {"panel_locked": st.booleans(), "firmware": st.sampled_from(["2.4", "0070"])},
    "supplies": {"battery": st.booleans(), "output_min_v": st.sampled_from([22.5, 23])},
    "actuators": {"stroke_mm": strokes, "type": st.sampled_from(["chain-24", "chain-24-long"])},
    "groups": {"name": words},
    "sensors": {"facade_deg": st.sampled_from([0, 180])},
    "cables": {
        "length_m": lengths,
        "carries": st.sampled_from([["power"], ["bus"], ["power", "bus", "common"]]),
    },
}


def _edit_field(draw: Draw, data: Data) -> None:
    section = draw(st.sampled_from(list(_FIELDS)))
    thing = _some(draw, data, section)
    if thing is None:
        return
    name = draw(st.sampled_from(list(_FIELDS[section])))
    data[section][thing][name] = copy.deepcopy(draw(_FIELDS[section][name]))


def _edit_site(draw: Draw, data: Data) -> None:
    name, value = draw(
        st.sampled_from([
            ("name", "Larkenby Hall"), ("revision", "D"), ("date", "2026-11-02"), ("wind_m_s", 14),
            ("indoor_c", 26), ("rules", {"falls": "ADK-2013"}), ("x-contact", {"desk": "site office"}),
        ])
    )  # fmt: skip
    data["site"][name] = copy.deepcopy(value)


def _edit_type(draw: Draw, data: Data) -> None:
    section, name, value = draw(
        st.sampled_from([
            ("actuators", "thrust_n", 300), ("openings", "height_mm", 1100), ("sensors", "responds_s", 4),
            ("controllers", "limits", {"actuators": 20, "groups": 8}), ("supplies", "output_a", 20),
        ])
    )  # fmt: skip
    kind = draw(st.sampled_from(list(data["types"][section])))
    data["types"][section][kind][name] = copy.deepcopy(value)


def _edit_record(draw: Draw, data: Data) -> None:
    actuator = _some(draw, data, "actuators")
    if actuator is not None and data["state"] == "as-commissioned":
        seen = data.setdefault("record", {}).setdefault("actuators", {}).setdefault(actuator, {})
        seen["measured_stroke_mm"] = draw(strokes)


def _add(draw: Draw, data: Data) -> None:
    """Add an opening with its actuator in a group, a room, a sensor, a junction or a cable."""
    what = draw(st.sampled_from(["opening", "room", "sensor", "junction", "cable"]))
    room = _some(draw, data, "rooms")
    if what == "room":
        data.setdefault("rooms", {})[_fresh(draw, data, "room")] = {"use": "office"}
    elif what == "junction":
        data.setdefault("junctions", {})[_fresh(draw, data, "J")] = {}
    elif what == "sensor":
        data.setdefault("sensors", {})[_fresh(draw, data, "R")] = {"type": "plate"}
    elif what == "cable":
        nodes = [node for section in NODES for node in data.get(section, {})]
        one, other = draw(st.sampled_from(nodes)), draw(st.sampled_from(nodes))
        data.setdefault("cables", {})[_fresh(draw, data, "K")] = _cable(draw, one, other, ["power"])
    elif room is not None:
        opening, actuator, group = (
            _fresh(draw, data, "W"),
            _fresh(draw, data, "A"),
            _some(draw, data, "groups"),
        )
        data.setdefault("openings", {})[opening] = {"type": "low", "room": room}
        data.setdefault("actuators", {})[actuator] = {"type": "chain-24", "opening": opening}
        if group is not None:
            data["groups"][group]["actuators"].append(actuator)


def _remove(draw: Draw, data: Data) -> None:
    """Remove a thing and all that names it."""
    section = draw(st.sampled_from(["openings", "actuators", "groups", "sensors", "junctions", "cables"]))
    thing = _some(draw, data, section)
    if thing is not None:
        remove(data, section, thing)


def _rename(draw: Draw, data: Data) -> None:
    section = draw(st.sampled_from(RENAMED))
    thing = _some(draw, data, section)
    if thing is not None:
        rename(data, section, thing, _fresh(draw, data, "N"))


def _reorder(draw: Draw, data: Data) -> None:
    """Change the order of a section's things, which changes nothing."""
    section = draw(st.sampled_from(["rooms", "actuators", "groups", "cables"]))
    if data.get(section):
        data[section] = {key: data[section][key] for key in draw(st.permutations(list(data[section])))}


EDITS = (
    _regroup, _swap_serials, _replace_serial, _forget_serial, _link, _act, _edit_field, _edit_site,
    _edit_type, _edit_record, _add, _remove, _rename, _reorder,
)  # fmt: skip


# References, so that a removed or renamed thing leaves none behind


def _fields_naming(data: Data, section: str) -> Iterator[tuple[Data, str]]:
    """Yield the mappings, each with the field in it, that hold the id of a thing of a section."""
    holders: dict[str, tuple[tuple[str, str], ...]] = {
        "rooms": tuple((part, "room") for part in ("openings", "controllers", "supplies", "sensors", "junctions")),
        "openings": (("actuators", "opening"),),
        "controllers": tuple((part, "controller") for part in ("actuators", "groups", "sensors")),
    }
    ends = (("cables", "from"), ("cables", "to")) if section in NODES else ()
    for part, field in (*holders.get(section, ()), *ends):
        for thing in data.get(part, {}).values():
            yield thing, field


def _lists_naming(data: Data, section: str) -> Iterator[list[str]]:
    """Yield the lists that may hold the id of a thing of a section."""
    if section == "actuators":
        yield from (group["actuators"] for group in data.get("groups", {}).values())
    if section == "groups":
        yield from data.get("links", {}).values()
    if section in NODES:
        yield data.get("terminators", [])


def _maps_keyed(data: Data, section: str) -> Iterator[tuple[Data, str]]:
    """Yield the mappings, each in its holder, that are keyed by ids of a section."""
    keyed = {"groups": ("wet_weather", "strong_wind"), "sensors": ("links",)}
    for name in (section, *keyed.get(section, ())):
        if name in data:
            yield data, name
    for name in (section, *(("buses",) if section == "controllers" else ())):
        if name in data.get("record", {}):
            yield data["record"], name


def rename(data: Data, section: str, old: str, new: str) -> None:
    """Give a thing another id, wherever it is named."""
    for holder, name in _maps_keyed(data, section):
        holder[name] = {new if key == old else key: value for key, value in holder[name].items()}
    for thing, field in _fields_naming(data, section):
        if thing.get(field) == old:
            thing[field] = new
    for listed in _lists_naming(data, section):
        listed[:] = [new if name == old else name for name in listed]


def remove(data: Data, section: str, gone: str) -> None:
    """Take a thing away with whatever cannot be without it: a sash's actuators, a node's cables."""
    for holder, name in _maps_keyed(data, section):
        holder[name].pop(gone, None)
    for listed in _lists_naming(data, section):
        listed[:] = [name for name in listed if name != gone]
    for sensor in [sensor for sensor, linked in data.get("links", {}).items() if not linked]:
        del data["links"][sensor]
    if section == "openings":
        held = [name for name, fields in data.get("actuators", {}).items() if fields["opening"] == gone]
        for actuator in held:
            remove(data, "actuators", actuator)
    if section in NODES:
        cables = data.get("cables", {})
        for cable in [name for name, fields in cables.items() if gone in {fields["from"], fields["to"]}]:
            del cables[cable]
