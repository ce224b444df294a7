"""Who has no rain closing while settings change one by one, counted anew each time on plain sets."""

from itertools import permutations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from plans import plan, site_of

from zonecfg.rollback.settings import Coverage, settings_of, with_settings
from zonecfg.rollback.steps import steps_between

GROUPS = ("east", "north", "south", "west")
SENSORS = ("R-1", "R-2", "WS-1")
MINUTES = {"move": 2, "park": 1, "put-in": 1, "link": 1, "unlink": 1, "set-wet-action": 3, "clear-wet-action": 1}


@st.composite
def plants(draw, several=True):
    """Six windows, some sheltered and one actuator on none; where ``several``, an actuator may be in two groups.

    Groups, actuators and sensors belong to one of two controllers each, which may share sensors or not.
    """
    names = [f"A-{n}" for n in range(1, 8)]
    members = {group: [] for group in GROUPS}
    for name in names:
        for group in draw(st.sets(st.sampled_from(GROUPS), max_size=2 if several else 1)):
            members[group].append(name)
    home = st.fixed_dictionaries({"controller": st.sampled_from(("C-1", "C-1", "C-2"))})
    pairs = st.tuples(st.sampled_from(SENSORS), st.sampled_from(GROUPS))
    return plan(
        types_sensors={"cups": {"measures": "wind"}},
        openings={f"W-{n}": {"type": "sash", "room": "room", "sheltered": draw(st.booleans())} for n in range(1, 7)},
        actuators={
            name: draw(home) | {"type": "chain"} | ({"opening": f"W-{n}"} if n < 7 else {})
            for n, name in enumerate(names, 1)
        },
        controllers={name: {"type": "hall", "shares_sensors": draw(st.booleans())} for name in ("C-1", "C-2")},
        groups={"G": {"actuators": []}, **{group: draw(home) | {"actuators": held} for group, held in members.items()}},
        sensors={name: draw(home) | {"type": "cups" if name == "WS-1" else "plate"} for name in SENSORS},
        **with_links(draw(st.sets(pairs, max_size=5)), draw(st.sets(st.sampled_from(GROUPS)))),
    )


def with_links(links, actions):
    """Give the sections that link sensors to groups and let groups act."""
    return {
        "links": {s: sorted(g for other, g in links if other == s) for s in sorted({s for s, _ in links})},
        "wet_weather": {group: {"open_percent": 0} for group in sorted(actions)},
    }


def state(data):
    return {(s, g) for s, groups in data.get("links", {}).items() for g in groups}, set(data.get("wet_weather", {}))


def uncovered(data, links, actions):
    """Count the actuators on no sheltered window that no rain sensor closes."""

    def belongs(section, key):
        return data[section][key].get("controller")

    def hears(sensor, group):
        both = {belongs("sensors", sensor), belongs("groups", group)}
        return len(both) == 1 or all(data["controllers"][name]["shares_sensors"] for name in both)

    closed = {g for s, g in links if s != "WS-1" and g in actions and hears(s, g)}
    reached = {
        a for g in closed for a in data["groups"][g]["actuators"] if belongs("groups", g) == belongs("actuators", a)
    }
    sheltered = {name for name, fields in data["openings"].items() if fields.get("sheltered")}
    return sum(a not in reached and f.get("opening") not in sheltered for a, f in data["actuators"].items())


def after(data, links, actions, groups, step):
    """Give links, actions and groups once a step is done."""
    if step.do == "link":
        return links | {(step.sensor, step.group)}, actions, groups
    if step.do == "unlink":
        return links - {(step.sensor, step.group)}, actions, groups
    if step.do == "set-wet-action":
        return links, actions | {step.group}, groups
    if step.do == "clear-wet-action":
        return links, actions - {step.group}, groups
    held = {g: [a for a in f["actuators"] if a not in step.actuators] for g, f in groups.items()}
    if step.do != "park":
        held[step.group] = [*held[step.group], *step.actuators]
    return links, actions, {g: {**f, "actuators": held[g]} for g, f in groups.items()}


def counts(data, order):
    """Count who is uncovered after each of some steps; None where a link would come before its action."""
    links, actions = state(data)
    groups, found = data["groups"], []
    wanted = {step.group for step in order if step.do == "set-wet-action"}
    for step in order:
        if step.do == "link" and step.group in wanted and step.group not in actions:
            return None
        if step.do == "clear-wet-action" and any(
            other.do == "unlink" and other.group == step.group for other in order[order.index(step) + 1 :]
        ):
            return None
        links, actions, groups = after(data, links, actions, groups, step)
        found.append(uncovered({**data, "groups": groups}, links, actions))
    return found


@given(plants(several=False), plants(several=False))
def test_no_other_order_has_a_lower_worst_moment_nor_with_the_same_a_lower_sum(data, other):
    """Against every order of up to six steps, each counted anew on plain sets."""
    links, actions = state(other)
    groups = {g: {**f, "actuators": other["groups"][g]["actuators"]} for g, f in data["groups"].items()}
    site = site_of(data)
    plan_ = steps_between(
        site, settings_of(site), settings_of(site_of({**data, "groups": groups, **with_links(links, actions)})), MINUTES
    )
    steps = plan_.steps
    told = [step.uncovered for step in steps]
    assert told == counts(data, steps)
    assert plan_.search.exact == (len(steps) <= 10)
    assume(0 < len(steps) <= 6)

    def price(found, order):
        return max(found), sum(n * MINUTES.get(step.do, 0) for n, step in zip(found, order, strict=True))

    best = min(price(found, order) for order in permutations(steps) if (found := counts(data, order)) is not None)
    assert price(told, steps) == (best[0], pytest.approx(best[1]))


@given(plants(several=False))
def test_an_action_that_leaves_all_as_it_is_closes_nothing(data):
    """At most 100 % open is as it was: whoever has that and no more is out in the rain."""
    data["wet_weather"] = {g: {"open_percent": 100} for g in data["wet_weather"]}
    site = site_of(data)
    assert Coverage(site).uncovered(settings_of(site)) == uncovered(data, state(data)[0], set())


@given(plants(several=False), plants(several=False))
def test_moves_count_whom_rain_closes_where_they_are(data, other):
    """Sashes of one actuator each, moved one by one on plain lists; where rain does not reach them they count."""
    there = {g: {**fields, "actuators": other["groups"][g]["actuators"]} for g, fields in data["groups"].items()}
    links, actions = state(data)
    site = site_of(data)
    held = {g: list(fields["actuators"]) for g, fields in data["groups"].items()}
    for step in steps_between(site, settings_of(site), settings_of(site_of({**data, "groups": there})), MINUTES).steps:
        held = {g: [a for a in members if a not in step.actuators] for g, members in held.items()}
        if step.do != "park":
            held[step.group] += step.actuators
        groups = {g: {**fields, "actuators": held[g]} for g, fields in data["groups"].items()}
        assert step.uncovered == uncovered({**data, "groups": groups}, links, actions)
    assert {g: sorted(members) for g, members in held.items()} == {g: sorted(f["actuators"]) for g, f in there.items()}


def test_what_could_not_be_read_is_unknown_under_other_settings_too():
    site = site_of(plan(), frozenset({"openings/W-1/sheltered"}))
    assert "openings/W-1/sheltered" in with_settings(site, settings_of(site)).unknown
