"""What planting a fault means: the planters by check, and questions about a site that they share.

A planter takes a clean site as data and a source of chance, makes the one fault, and says what has to be found. It knows
the check from its meaning and from published figures, never from its code.
"""

from __future__ import annotations

import copy
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, TypeVar

from clean_sites import openings_of, sash
from plans import fields

if TYPE_CHECKING:
    import random
    from collections.abc import Callable, Iterable

Data = dict[str, Any]
T = TypeVar("T")


class CannotPlant(Exception):
    """The site has no place for the fault; another one has."""


@dataclass(frozen=True)
class Planted:
    """What has to be found.

    Parameters
    ----------
    found
        For each finding: what it may be about (one id, or several that name the same fault equally well), and the
        things, as ``section/id``, on any of whose lines it may stand.
    also
        Other checks that find what the fault brings with it.
    """

    found: tuple[tuple[frozenset[str], frozenset[str]], ...]
    also: frozenset[str] = frozenset()


@dataclass(frozen=True)
class Planter:
    """How one check's fault is planted, and how it is just avoided."""

    check: str
    plant: Callable[[Data, random.Random], Planted]
    state: str | None
    in_text: bool


PLANTERS: dict[str, list[Planter]] = {}
NEAR_MISSES: dict[str, list[Planter]] = {}


def plants(check: str, *, state: str | None = None, in_text: bool = False) -> Callable[[Any], Any]:
    """Register a planter; one that needs a state says so, one that works on the lines of the text too."""

    def register(function: Any) -> Any:
        PLANTERS.setdefault(check, []).append(Planter(check, function, state, in_text))
        return function

    return register


def just_avoids(check: str, *, state: str | None = None) -> Callable[[Any], Any]:
    """Register what stays just inside the limit of a check: nothing may be found then but what it names itself."""

    def register(function: Any) -> Any:
        NEAR_MISSES.setdefault(check, []).append(Planter(check, function, state, in_text=False))
        return function

    return register


def one(about: str | Iterable[str], at: str | Iterable[str] = (), also: Iterable[str] = ()) -> Planted:
    """Expect one finding; it stands on the thing it is about where nothing else is said."""
    abouts = frozenset([about] if isinstance(about, str) else about)
    places = frozenset([at] if isinstance(at, str) else at) or abouts
    return Planted(((abouts, places),), frozenset(also))


def each(abouts: Iterable[str], at: Callable[[str], str] = str, also: Iterable[str] = ()) -> Planted:
    """Expect a finding about each of several things."""
    return Planted(tuple((frozenset([about]), frozenset([at(about)])) for about in abouts), frozenset(also))


NOTHING = Planted(())


def pick(chance: random.Random, choices: Iterable[T]) -> T:
    """Choose one, if there is any."""
    listed = list(choices)
    if not listed:
        raise CannotPlant
    return chance.choice(listed)


# Questions


def group_of(data: Data, actuator: str) -> str:
    """Give the group of an actuator."""
    return next(group for group, own in data["groups"].items() if actuator in own["actuators"])


def mates(data: Data, actuator: str) -> list[str]:
    """List the actuators of its sash, itself too."""
    opening = data["actuators"][actuator]["opening"]
    return [other for other, own in data["actuators"].items() if own["opening"] == opening]


def groups_on(data: Data, controller: str) -> list[str]:
    """List the groups of a controller."""
    return [group for group, own in data["groups"].items() if own["controller"] == controller]


def actuators_on(data: Data, controller: str) -> list[str]:
    """List the actuators of a controller."""
    return [a for group in groups_on(data, controller) for a in data["groups"][group]["actuators"]]


def sensors_on(data: Data, controller: str, measures: str = "rain") -> list[str]:
    """List the sensors of a controller by what they act on."""
    groups = set(groups_on(data, controller))
    return [s for s in links_of(data, measures) if groups.intersection(data["links"][s])]


def links_of(data: Data, measures: str = "rain") -> dict[str, list[str]]:
    """Give the links of the sensors that measure rain, or wind."""
    return {s: groups for s, groups in data["links"].items() if fields(data, "sensors", s)["measures"] == measures}


def singles(data: Data) -> list[str]:
    """List the actuators that are alone on their sash."""
    seen: dict[str, int] = {}
    for own in data["actuators"].values():
        seen[own["opening"]] = seen.get(own["opening"], 0) + 1
    return [actuator for actuator, own in data["actuators"].items() if seen[own["opening"]] == 1]


def pairs(data: Data) -> list[tuple[str, str]]:
    """List the two actuators of each sash that has two."""
    sashes: dict[str, list[str]] = {}
    for actuator, own in data["actuators"].items():
        sashes.setdefault(own["opening"], []).append(actuator)
    return [(each[0], each[1]) for each in sashes.values() if len(each) == 2]


def moved(data: Data, opening: str) -> list[str]:
    """List the actuators of an opening."""
    return [actuator for actuator, own in data["actuators"].items() if own["opening"] == opening]


def use_of(data: Data, opening: str) -> str:
    """Give what the room of an opening is used for."""
    return str(data["rooms"][data["openings"][opening]["room"]]["use"])


def in_wall(data: Data, opening: str) -> bool:
    """Whether a sash is an outward top-hung one in a wall."""
    kind = sash(data, opening)
    return kind["hinge"] == "top-hung" and kind["opens"] == "outward" and kind.get("pitch_deg", 90) == 90


def unsheltered(data: Data, group: str) -> bool:
    """Whether rain can reach an opening of the group."""
    return any(not sash(data, opening).get("sheltered") for opening in openings_of(data, group))


def set_strokes(data: Data, opening: str, stroke_mm: float, **more: Any) -> list[str]:
    """Set all actuators of a sash alike."""
    for actuator in moved(data, opening):
        data["actuators"][actuator] |= {"stroke_mm": stroke_mm, **more}
    return moved(data, opening)


def own_part(data: Data, controller: str, part: str, **changes: Any) -> None:
    """Give a controller limits of its own, like those of its type but for some."""
    whole = copy.deepcopy(fields(data, "controllers", controller)[part])
    data["controllers"][controller][part] = whole | changes


# Questions about cables


def carrying(data: Data, what: str) -> dict[str, Data]:
    """Give the cables that carry something."""
    return {cable: own for cable, own in data["cables"].items() if what in own["carries"]}


def neighbours(data: Data, what: str) -> dict[str, list[tuple[str, str]]]:
    """Give, for each node, the cables that carry something there with the node at their other end."""
    met: dict[str, list[tuple[str, str]]] = {}
    for cable, own in carrying(data, what).items():
        met.setdefault(own["from"], []).append((cable, own["to"]))
        met.setdefault(own["to"], []).append((cable, own["from"]))
    return met


def reached(data: Data, what: str, start: str, without: str | None = None) -> tuple[list[str], list[str]]:
    """Give the nodes and cables that are joined to a node by what carries something, one cable left aside."""
    met, nodes, cables = neighbours(data, what), [start], []
    for node in nodes:
        for cable, other in met.get(node, ()):
            if cable != without and cable not in cables:
                cables.append(cable)
                if other not in nodes:
                    nodes.append(other)
    return nodes, cables


def behind(data: Data, cable: str) -> list[str]:
    """List the nodes that a power cable of a tree feeds."""
    nodes, _ = reached(data, "power", data["cables"][cable]["from"], without=cable)
    start = data["cables"][cable]["to" if any(n in data["supplies"] for n in nodes) else "from"]
    return reached(data, "power", start, without=cable)[0]


def supply_of(data: Data, node: str) -> str:
    """Give the supply that feeds a node."""
    return next(n for n in reached(data, "power", node)[0] if n in data["supplies"])


def controller_on(data: Data, node: str) -> str:
    """Give the controller on the bus of a node."""
    return next(n for n in reached(data, "bus", node)[0] if n in data["controllers"])


def peak_a(data: Data, nodes: Iterable[str]) -> float:
    """Give the current that some nodes draw when all of their windows close [A].

    All of a controller's actuators that can matter must be among them: a controller moves the sashes of the largest
    current first, as many as it moves at once.
    """
    there = list(nodes)
    sashes: dict[str, dict[str, float]] = {}
    total = 0.0
    for node in there:
        if node in data["actuators"]:
            kind = fields(data, "actuators", node)
            controller = data["groups"][group_of(data, node)]["controller"]
            extra = sashes.setdefault(controller, {})
            opening = data["actuators"][node]["opening"]
            extra[opening] = extra.get(opening, 0) + kind["peak_a"] - kind["idle_a"]
            total += kind["idle_a"]
        elif node in data["controllers"]:
            total += fields(data, "controllers", node)["idle_a"]
        elif node in data["sensors"]:
            total += fields(data, "sensors", node)["running_a"]
    for controller, extra in sashes.items():
        at_once = fields(data, "controllers", controller)["moves_at_once"]
        total += sum(sorted(extra.values(), reverse=True)[:at_once])
    return total
