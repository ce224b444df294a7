"""What a change touches first, and that its sentence names what changed: worked out on plain dictionaries."""

from copy import deepcopy

import pytest
from hypothesis import given
from hypothesis import strategies as st
from plans import plan, site_of
from strategies import edited, rearranged, site_pairs, sites

from zonecfg.compare.differences import differences


def changes(before, after):
    return differences(site_of(before), site_of(after))[0]


@pytest.mark.parametrize(
    ("section", "field", "before", "after", "consequence"),
    [
        ("openings", "sill_mm", 2600, 900, "safety"),  # what a person can fall from
        ("openings", "smoke_vent", False, True, "safety"),
        ("openings", "type", "sash", "other", "safety"),
        ("openings", "sheltered", True, False, "weather"),
        ("openings", "facade_deg", 90, 180, "weather"),
        ("openings", "room", "room", "hall", "air"),
        ("openings", "name", "north", "south", "record"),
        ("openings", "x-note", "a", "b", "record"),
        ("openings", "reference", "a", "b", "record"),
        ("rooms", "use", "office", "bedroom", "safety"),  # fall rules ask for it
        ("rooms", "floor_area_m2", 20, 30, "air"),
        ("actuators", "stroke_mm", 250, 300, "safety"),
        ("actuators", "type", "chain", "other", "operation"),
        ("controllers", "fire_command_outranks", True, False, "safety"),
        ("controllers", "shares_sensors", True, False, "weather"),
        ("controllers", "bus_end_resistor", "switch", "none", "electrical"),
        ("controllers", "panel_locked", True, False, "operation"),
        ("supplies", "output_v", 24, 30, "electrical"),
        ("supplies", "battery", True, False, "electrical"),
        ("sensors", "type", "plate", "other", "operation"),
        ("sensors", "facade_deg", 90, 180, "weather"),
        ("cables", "length_m", 2, 3, "electrical"),
        ("cables", "x-colour", "red", "blue", "record"),
        ("groups", "name", "east", "west", "record"),
    ],
)
def test_a_field_of_a_thing(section, field, before, after, consequence):
    """By the trade's sense of each field: what may hurt somebody, then rain and wind, air, current, working it."""
    base = plan(
        rooms={"hall": {"use": "office"}},
        types_openings={"other": {}},
        types_actuators={"other": {}},
        types_sensors={"other": {}},
        controllers={"C-1": {"type": "hall"}},
        supplies={"PS-1": {"type": "psu"}},
        sensors={"R-1": {"type": "plate"}},
        cables={"K-1": {"from": "PS-1", "to": "C-1", "length_m": 2, "type": "pair", "carries": ["power"]}},
    )
    key = next(iter(base[section]))
    one, other = deepcopy(base), deepcopy(base)
    one[section][key][field], other[section][key][field] = before, after
    (change,) = changes(one, other)
    assert (change.section, change.id, change.field, change.consequence) == (section, key, field, consequence)


@pytest.mark.parametrize(
    ("section", "name", "field", "before", "after", "consequence"),
    [
        ("actuators", "chain", "peak_a", 1.0, 1.2, "electrical"),
        ("actuators", "chain", "thrust_n", 500, 400, "safety"),
        ("actuators", "chain", "speed_mm_s", 5, 6, "operation"),
        ("controllers", "hall", "bus", {"length_m": 1200}, {"length_m": 600}, "electrical"),
        ("sensors", "plate", "measures", "rain", "wind", "weather"),
        ("supplies", "psu", "fuse_a", 10, 16, "electrical"),
        ("cables", "pair", "conductor_mm2", 2.5, 1.5, "electrical"),
    ],
)
def test_a_field_of_a_type(section, name, field, before, after, consequence):
    one, other = plan(), plan()
    one["types"][section][name][field], other["types"][section][name][field] = before, after
    (change,) = changes(one, other)
    assert (change.section, change.id, change.consequence) == (f"types.{section}", name, consequence)


@pytest.mark.parametrize(
    ("field", "before", "after", "consequence"),
    [
        ("wind_m_s", 12, 14, "safety"),
        ("rules", {"falls": "ADK-2013"}, {"falls": "NCC-2022-D3D29"}, "safety"),
        ("indoor_c", 24, 26, "air"),
        ("revision", "B", "C", "record"),
        ("x-contact", {"desk": "1"}, {"desk": "2"}, "record"),
    ],
)
def test_a_field_of_the_site(field, before, after, consequence):
    one, other = plan(), plan()
    one["site"][field], other["site"][field] = before, after
    (change,) = changes(one, other)
    assert (change.section, change.consequence) == ("site", consequence)


def of_membership(sides, actuator):
    """Safety where a smoke vent, a way out or a sash pulled apart is concerned; weather where rain or wind acts."""
    homes = [
        {a: frozenset(g for g, f in data.get("groups", {}).items() if a in f["actuators"]) for a in data["actuators"]}
        for data in sides
    ]
    for data, home in zip(sides, homes, strict=True):
        opening = data["actuators"].get(actuator, {}).get("opening")
        fields = data.get("openings", {}).get(opening, {})
        if fields.get("smoke_vent") or fields.get("escape"):
            return "safety"
        on_it = [a for a, f in data["actuators"].items() if opening is not None and f.get("opening") == opening]
        if len({home[a] for a in on_it}) > 1:
            return "safety"
    return of_groups(sides, homes[0].get(actuator, frozenset()) | homes[1].get(actuator, frozenset()))


def of_groups(sides, groups):
    acted = {group for data in sides for groups in data.get("links", {}).values() for group in groups}
    acted |= {group for data in sides for section in ("wet_weather", "strong_wind") for group in data.get(section, {})}
    return "weather" if acted & set(groups) else "operation"


def vented(data, draw):
    """Make some windows smoke vents or ways out."""
    data = deepcopy(data)
    for fields in data.get("openings", {}).values():
        fields.update(draw.draw(st.sampled_from(({}, {}, {}, {"smoke_vent": True}, {"escape": True}))))
    return data


@given(sites(), st.data())
def test_what_moves_an_actuator_by_plain_dictionaries(data, draw):
    before = vented(data, draw)
    after = draw.draw(rearranged(before) | edited(before))
    sides = before, {"actuators": {}, **after}
    for change in changes(before, after):
        if change.section == "actuators" and change.field == "group" and not renamed(*sides):
            assert change.consequence == of_membership(sides, change.id)
        if change.section == "groups" and change.kind in {"added", "removed"}:
            assert change.consequence == of_groups(sides, [change.id])
        if change.section in {"links", "wet_weather", "strong_wind"}:
            assert change.consequence == "weather"


def renamed(before, after):
    """Whether something may have got another id: some came and some went."""
    return any(
        before.get(section, {}).keys() - after.get(section, {}).keys()
        and after.get(section, {}).keys() - before.get(section, {}).keys()
        for section in ("groups", "actuators", "openings", "sensors")
    )


def words_of(value):
    """The figures and names of a value as people write them."""
    if isinstance(value, bool):
        return [str(value).lower()]
    if isinstance(value, dict):
        return [word for item in value.values() for word in words_of(item)]
    if isinstance(value, list):
        return [word for item in value[:3] for word in words_of(item)]
    return [] if value is None else [f"{value:g}" if isinstance(value, float) else str(value)]


@given(site_pairs())
def test_the_sentence_names_the_thing_and_both_values(pair):
    for change in changes(*pair):
        assert change.id in change.text or change.section in {"site", "saved"}
        if change.field is not None and change.kind != "recorded":
            missing = [
                word for side in (change.before, change.after) for word in words_of(side) if word not in change.text
            ]
            assert missing == [], change.text
        if change.kind in {"added", "removed"}:
            side = change.before if change.kind == "removed" else change.after
            held = side if isinstance(side, dict) else {}
            if change.section == "actuators":
                assert all(name in change.text for name in (held.get("opening", ""), *held["groups"][:3]))
            if change.section == "sensors":
                assert all(group in change.text for group in held["links"][:3])
            if change.section == "groups":
                assert f"{len(held['actuators'])} actuator" in change.text
                assert all(sensor in change.text for sensor in held["sensors"][:3])


@given(site_pairs())
def test_a_thing_that_came_or_went_is_told_with_all_it_held(pair):
    """Membership, links and actions of a group; groups of an actuator; links of a sensor: from the data itself."""
    for change in changes(*pair):
        if change.kind not in {"added", "removed"}:
            continue
        data = pair[0] if change.kind == "removed" else pair[1]
        held = change.before if change.kind == "removed" else change.after
        if renamed(*pair) or change.section not in {"actuators", "groups", "sensors"}:
            continue
        fields = {k: v for k, v in data[change.section][change.id].items() if k != "actuators"}
        groups, links = data.get("groups", {}), data.get("links", {})
        if change.section == "actuators":
            fields["groups"] = sorted(g for g, f in groups.items() if change.id in f["actuators"])
        elif change.section == "sensors":
            fields["links"] = sorted(set(links.get(change.id, ())))
        else:
            fields["actuators"] = sorted(set(groups[change.id]["actuators"]))
            fields["sensors"] = sorted(s for s, linked in links.items() if change.id in linked)
            for action in ("wet_weather", "strong_wind"):
                if change.id in data.get(action, {}):
                    fields[action] = data[action][change.id]
        assert held == fields
