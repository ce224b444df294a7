"""Faults of the text itself: planted in its lines, as a slip of an editor makes them.

A planter of text gets the lines and changes them in place; what it expects stands on line numbers.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from clean_sites import accept
from planting import CannotPlant, Planted, one, pick, plants

if TYPE_CHECKING:
    import random

Lines = list[str]
Data = dict[str, Any]

_SECTION = re.compile(r"([a-z_]+):")
_THING = re.compile(r'  "?([^":\s]+)"?: \{(.+)\}$')


def _things(lines: Lines, *sections: str) -> list[tuple[int, str, str]]:
    """List the things written on one line: index of the line, section, id."""
    found, section = [], ""
    for index, line in enumerate(lines):
        if match := _SECTION.match(line):
            section = match[1]
        elif (match := _THING.match(line)) and section in sections:
            found.append((index, section, match[1]))
    return found


def _members(lines: Lines) -> list[tuple[int, str, int]]:
    """List the members of groups: index of the line, group, place in its list."""
    found, section, group, place = [], "", "", 0
    for index, line in enumerate(lines):
        if match := _SECTION.match(line):
            section = match[1]
        elif section == "groups" and (match := re.match(r"  (\S+):$", line)):
            group, place = match[1], 0
        elif section == "groups" and line.startswith("      - "):
            found.append((index, group, place))
            place += 1
    return found


def _on(line: int, about: str | tuple[str, ...], also: tuple[str, ...] = ()) -> Planted:
    return one(about, f"line {line + 1}", also)


ANY_FILE = "site.yaml"


@plants("unreadable-file", in_text=True)
def tab(lines: Lines, chance: random.Random) -> Planted:
    index, _, _ = pick(chance, _things(lines, "actuators", "sensors", "wet_weather"))
    lines[index] = "\t" + lines[index].lstrip()
    return _on(index, ANY_FILE)


@plants("unreadable-file", in_text=True)
def anchor(lines: Lines, chance: random.Random) -> Planted:
    index, section, thing = pick(chance, _things(lines, "sensors", "wet_weather", "strong_wind"))
    lines[index] = lines[index].replace(": {", ": &base {", 1)
    return _on(index, f"{section}/{thing}")


@plants("unreadable-file", in_text=True)
def second_document(lines: Lines, chance: random.Random) -> Planted:
    lines += ["---", "format: zonecfg-site/1"]
    return _on(len(lines) - 2, ANY_FILE)


@plants("duplicate-key", in_text=True)
def the_same_thing_twice(lines: Lines, chance: random.Random) -> Planted:
    index, section, thing = pick(chance, _things(lines, "actuators", "sensors", "wet_weather", "openings", "cables"))
    end = next(i for i in range(index, len(lines)) if not lines[i].startswith("  "))
    at = chance.randint(index + 1, end)
    lines.insert(at, lines[index])
    return _on(at, f"{section}/{thing}")


@plants("duplicate-key", in_text=True)
def the_same_field_twice(lines: Lines, chance: random.Random) -> Planted:
    index, section, thing = pick(chance, _things(lines, "actuators", "sensors"))
    lines[index] = lines[index][:-1] + ', serial: "79999999"}'
    return _on(index, f"{section}/{thing}/serial")


@plants("wrong-shape", in_text=True)
def number_with_its_unit(lines: Lines, chance: random.Random) -> Planted:
    index, section, thing = pick(chance, (t for t in _things(lines, "actuators", "openings") if "_mm: " in lines[t[0]]))
    field, value = pick(chance, re.findall(r"(\w+_mm): ([\d.]+)", lines[index]))
    lines[index] = lines[index].replace(f"{field}: {value}", f"{field}: {value} mm")
    return _on(index, f"{section}/{thing}/{field}")


@plants("wrong-shape", in_text=True)
def field_left_out(lines: Lines, chance: random.Random) -> Planted:
    index, section, thing = pick(chance, _things(lines, "wet_weather"))
    lines[index] = re.sub(r"open_percent: [\d.]+(, )?", "", lines[index])
    return _on(index, f"{section}/{thing}/open_percent")


@plants("unknown-key", in_text=True)
def misspelt(lines: Lines, chance: random.Random) -> Planted:
    index, section, thing = pick(chance, _things(lines, "actuators", "openings", "sensors", "cables", "wet_weather"))
    key = chance.choice(["storke_mm", "remark", "Type"])
    lines[index] = f"{lines[index][:-1]}, {key}: 1}}"
    return _on(index, f"{section}/{thing}/{key}")


@plants("unknown-reference", in_text=True)
def room_that_is_not_there(lines: Lines, chance: random.Random) -> Planted:
    index, section, thing = pick(
        chance, (t for t in _things(lines, "controllers", "supplies") if "room: " in lines[t[0]])
    )
    lines[index] = re.sub(r"room: [^,}]+", "room: roof-hut", lines[index])
    return _on(index, f"{section}/{thing}/room")


@plants("unknown-reference", in_text=True)
def member_that_is_not_there(lines: Lines, chance: random.Random) -> Planted:
    index, group, place = pick(chance, _members(lines))
    lines.insert(index + 1, "      - A-nobody")
    return _on(index + 1, f"groups/{group}/actuators/{place + 1}")


@plants("unknown-reference")
def name_that_leads_nowhere(data: Data, chance: random.Random) -> Planted:
    """Links, weather, resistors, rules and the record name things too."""
    kind = chance.choice(["links", "wet_weather", "terminators", "rules", "record", "accepted"])
    if kind == "links":
        sensor = pick(chance, data["links"])
        data["links"][sensor].append("G-nobody")
        return one(f"links/{sensor}/{len(data['links'][sensor]) - 1}", f"links/{sensor}")
    if kind == "wet_weather":
        data["wet_weather"]["G-nobody"] = {"open_percent": 0, "when_dry": "stay"}
        return one("wet_weather/G-nobody", also={"wet-action-without-link"})
    if kind == "terminators":
        data["terminators"].append("R-nobody")
        return one(f"terminators/{len(data['terminators']) - 1}", "terminators")
    if kind == "rules":
        rule = pick(chance, data["site"]["rules"])
        data["site"]["rules"][rule] = "NCC-2022-D3D92"
        return one(f"site/rules/{rule}", "site")
    if kind == "record" and "record" in data:
        data["record"]["actuators"]["A-nobody"] = {"walk_test": "pass", "calibrated": True}
        return one("record/actuators/A-nobody")
    if kind == "accepted":
        accept(data, "hand-lock-fited", "/openings", by="architect", until="2031-03-01")
        return one(f"accepted/{len(data['accepted']) - 1}/check", "accepted", {"acceptance-unused"})
    raise CannotPlant


@plants("ambiguous-word", in_text=True)
def other_word_to_other_readers(lines: Lines, chance: random.Random) -> Planted:
    index, section, thing = pick(chance, _things(lines, "actuators", "openings", "sensors", "rooms", "cables"))
    lines[index] = f"{lines[index][:-1]}, x-note: {chance.choice(['no', 'on', '012', '1:30', '1_000', 'Yes'])}}}"
    return _on(index, f"{section}/{thing}/x-note")


@plants("secret-in-plan", in_text=True)
def pin_written_down(lines: Lines, chance: random.Random) -> Planted:
    index, section, thing = pick(chance, _things(lines, "controllers", "actuators", "sensors"))
    key = chance.choice(["x-panel-pin", "password", "x-passcode", "apiKey", "x-accessToken"])
    lines[index] = f'{lines[index][:-1]}, {key}: "0000"}}'
    return _on(index, f"{section}/{thing}/{key}")


@plants("type-defined-twice", in_text=True)
def defined_in_the_catalogue_too(lines: Lines, chance: random.Random) -> Planted:
    """Beside every site lies its own equipment.yaml; the site does not name it until now."""
    at = next((i for i, line in enumerate(lines) if line == "types:"), None)
    if at is None:
        raise CannotPlant
    lines[at:at] = ["catalogue: [equipment.yaml]", ""]
    doubled = next(i for i, line in enumerate(lines) if line.startswith("    spare-900: "))
    return _on(doubled, "types/openings/spare-900")


@plants("catalogue-outside-repository", in_text=True)
def elsewhere(lines: Lines, chance: random.Random) -> Planted:
    path = chance.choice(["/srv/stock/equipment.yaml", "../../../../stock/equipment.yaml", "C:/stock/equipment.yaml"])
    lines += ["catalogue:", f"  - {path}"]
    return _on(len(lines) - 1, "catalogue/0")


@plants("id-reused", in_text=True)
def one_id_for_two(lines: Lines, chance: random.Random) -> Planted:
    index, section, thing = pick(chance, _things(lines, "actuators", "sensors", "supplies", "controllers"))
    if "junctions:" in lines:
        raise CannotPlant
    lines += ["junctions:", f'  "{thing}": {{}}']
    return one((f"{section}/{thing}", f"junctions/{thing}"), (f"line {index + 1}", f"line {len(lines)}"))
