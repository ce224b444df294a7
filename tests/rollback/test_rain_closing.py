"""Who has no rain closing while settings change one by one, counted anew each time on plain sets."""

from itertools import permutations

from hypothesis import given
from hypothesis import strategies as st
from plans import plan, site_of

from zonecfg.rollback.settings import (
    Coverage,
    Settings,
    Tally,
    groups_of_controllers,
    limits_of_groups,
    settings_of,
    with_settings,
)
from zonecfg.rollback.steps import steps_between

GROUPS = ("east", "north", "south", "west")
SENSORS = ("R-1", "R-2", "WS-1")


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


@given(
    plants(),
    st.lists(st.tuples(st.sampled_from((None, *SENSORS)), st.sampled_from(GROUPS), st.booleans()), max_size=12),
)
def test_the_count_kept_up_is_the_count_made_anew(data, changes):
    site = site_of(data)
    tally = Tally(Coverage(site), settings_of(site))
    links, actions = state(data)
    assert tally.uncovered == uncovered(data, links, actions)
    for sensor, group, on in changes:
        now = uncovered(data, links, actions)
        assert tally.gain_of_action(group) == now - uncovered(data, links, actions | {group})
        if sensor is None:
            tally.act(group, on)
            actions = actions | {group} if on else actions - {group}
        else:
            assert tally.gain_of_link(sensor, group) == now - uncovered(data, links | {(sensor, group)}, actions)
            tally.link(sensor, group, on)
            links = links | {(sensor, group)} if on else links - {(sensor, group)}
        assert tally.uncovered == uncovered(data, links, actions)


@given(plants(several=False), plants(several=False))
def test_what_is_set_and_linked_goes_in_the_order_that_leaves_fewest_uncovered(data, other):
    """Against every order of the actions, and of the links behind them, by their sum over the steps."""
    links, actions = state(data)
    more, act = ({link for link in state(other)[0] if link[0] != "WS-1"} - links, state(other)[1] - actions)
    goal = {**data, **with_links(links | more, actions | act)}
    site = site_of(data)
    steps = steps_between(site, settings_of(site), settings_of(site_of(goal))).steps
    assert [step.do for step in steps] == ["set-wet-action"] * len(act) + ["link"] * len(more)
    found = [step.uncovered for step in steps]
    assert sum(found[: len(act)]) == min(
        sum(uncovered(data, links, actions | set(order[:n])) for n in range(1, len(act) + 1))
        for order in permutations(act)
    )
    assert sum(found[len(act) :]) == min(
        sum(uncovered(data, links | set(order[:n]), actions | act) for n in range(1, len(more) + 1))
        for order in permutations(more)
    )


@given(plants(several=False), plants(several=False))
def test_moves_count_whom_rain_closes_where_they_are(data, other):
    """Sashes of one actuator each, moved one by one on plain lists; where rain does not reach them they count."""
    there = {g: {**fields, "actuators": other["groups"][g]["actuators"]} for g, fields in data["groups"].items()}
    links, actions = state(data)
    site = site_of(data)
    held = {g: list(fields["actuators"]) for g, fields in data["groups"].items()}
    for step in steps_between(site, settings_of(site), settings_of(site_of({**data, "groups": there}))).steps:
        held = {g: [a for a in members if a not in step.actuators] for g, members in held.items()}
        if step.do != "park":
            held[step.group] += step.actuators
        groups = {g: {**fields, "actuators": held[g]} for g, fields in data["groups"].items()}
        assert step.uncovered == uncovered({**data, "groups": groups}, links, actions)
    assert {g: sorted(members) for g, members in held.items()} == {g: sorted(f["actuators"]) for g, f in there.items()}


def test_what_could_not_be_read_is_unknown_under_other_settings_too():
    site = site_of(plan(), frozenset({"openings/W-1/sheltered"}))
    assert "openings/W-1/sheltered" in with_settings(site, settings_of(site)).unknown


def test_the_limit_of_a_group_is_that_of_its_controller():
    """Written down by hand: of the one it names, of the only one there is, and none where its type sets none."""
    sections = {
        "types_controllers": {"small": {"limits": {"actuators_per_group": 4}}, "plain": {}},
        "groups": {"G": {"actuators": []}, "east": {"controller": "C-2", "actuators": []}},
    }
    one = site_of(plan(controllers={"C-2": {"type": "small"}}, **sections))
    assert settings_of(one).about == {"G": {}, "east": {"controller": "C-2"}}
    assert limits_of_groups(one, settings_of(one)) == {"G": 4, "east": 4}
    two = site_of(plan(controllers={"C-1": {"type": "plain"}, "C-2": {"type": "small"}}, **sections))
    assert limits_of_groups(two, settings_of(two)) == {"east": 4}
    turned = site_of(plan(controllers={"C-2": {"type": "small"}, "C-1": {"type": "plain"}}, **sections))
    assert limits_of_groups(turned, settings_of(turned)) == {"east": 4}
    fresh = Settings(
        members={"new": (), "other": ()},
        links=frozenset(),
        wet_weather={},
        strong_wind={},
        about={"new": {"controller": "C-2"}},
    )
    assert limits_of_groups(one, fresh) == {"new": 4, "other": 4}
    assert limits_of_groups(two, fresh) == {"new": 4}
    assert groups_of_controllers(one, fresh) == {"C-2": ["new", "other"]}
    assert groups_of_controllers(two, fresh) == {"C-2": ["new"]}
    bare = site_of(
        plan(controllers={"C-1": {"type": "plain"}}, groups=sections["groups"] | {"east": {"actuators": []}})
    )
    assert limits_of_groups(bare, settings_of(bare)) == {}
