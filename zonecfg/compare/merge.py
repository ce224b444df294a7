"""Two files that were made from one, put together: by id, by field, by member of a list of ids; never by line."""

from collections.abc import Iterable
from typing import Any

from msgspec import Struct

from zonecfg.compare.sets import Ids, Members, agree, as_data, laid_out, value_under, woven
from zonecfg.compare.sides import ABSENT
from zonecfg.compare.tied import Thing, are_disputed, going_along, homes, removed_and_changed
from zonecfg.model.grammar import grammar
from zonecfg.results.pointer import join


class Conflict(Struct, frozen=True):
    """A place where both sides changed, and not alike. ``ABSENT`` stands for what a side does not hold."""

    path: tuple[str, ...]
    base: Any
    ours: Any
    theirs: Any

    @property
    def at(self) -> str:
        """JSON Pointer to it."""
        return join(*self.path)


class Merged(Struct, frozen=True):
    """What two files make together: one text with conflicts decided for ours, one with them decided for theirs."""

    ours: Any
    theirs: Any
    conflicts: tuple[Conflict, ...]


def merged_data(base: Any, ours: Any, theirs: Any, disputed: Iterable[Thing] = ()) -> Merged:
    """Merge three files' data.

    Parameters
    ----------
    base, ours, theirs
        Mappings as read; ``base`` is empty where both sides made the file.
    disputed
        Things that shall not be put together of both sides, besides those that one side removed and one changed.

    Returns
    -------
    Merged
        Both data are equal exactly when there is no conflict. The keys and lists of ours keep their order.
    """
    return _Merge((laid_out(base), laid_out(ours), laid_out(theirs)), disputed).whole()


class _Merge:
    def __init__(self, files: tuple[Any, Any, Any], disputed: Iterable[Thing]) -> None:
        self._files = files
        self._tied = going_along({*disputed, *removed_and_changed(*self._files)}, *self._files)
        self._conflicts: list[Conflict] = []
        self._homes: tuple[dict[str, frozenset[str]], dict[str, frozenset[str]]] = ({}, {})

    def whole(self) -> Merged:
        """Merge the files."""
        self._settle_homes()
        ours, theirs = self._pair((), *self._files)
        return Merged(
            as_data(self._with_members(ours, 0)), as_data(self._with_members(theirs, 1)), tuple(self._conflicts)
        )

    def _settle_homes(self) -> None:
        """Decide which groups each actuator is in: its groups are one value."""
        was, here, there = map(homes, self._files)
        none: frozenset[str] = frozenset()
        for actuator in {**was, **here, **there}:
            b, o, t = (side.get(actuator, none) for side in (was, here, there))
            disputed = ("actuators", actuator) in self._tied or any(("groups", group) in self._tied for group in o ^ t)
            if o != t and (disputed or b not in (o, t)):
                path = ("actuators", actuator, "group")
                self._conflicts.append(Conflict(path, *(sorted(groups) or ABSENT for groups in (b, o, t))))
                pair = (o, t)
            else:
                pair = (t, t) if o == b else (o, o)
            self._homes[0][actuator], self._homes[1][actuator] = pair

    def _pair(self, path: tuple[str, ...], b: Any, o: Any, t: Any) -> tuple[Any, Any]:
        """Give a value as it stands with conflicts decided for ours, and for theirs."""
        if agree(o, t):
            return o, o
        if grammar().thing_at(path) in self._tied:
            return self._conflict(path, b, o, t)
        if isinstance(o, Members) and isinstance(t, Members):
            return o, o  # its members are those whose home it is
        if isinstance(o, Ids) and isinstance(t, Ids):
            return self._ids(path, b, o, t)
        if (
            b is ABSENT and any(type(value) is Ids for value in (o, t)) and ABSENT in (o, t)
        ):  # a list that one side began
            ours, theirs = self._ids(path, b, *(Ids() if value is ABSENT else value for value in (o, t)))
            return ours or ABSENT, theirs or ABSENT
        holds = all(value is ABSENT or isinstance(value, dict) for value in (o, t))
        if holds and (len(path) < 2 or _holds_things(path)):
            return self._sections(path, b, o, t)
        if isinstance(o, dict) and isinstance(t, dict) and not _of_two_actuators(path, o, t):
            return self._mappings(path, b, o, t)
        if agree(b, o):
            return t, t
        if agree(b, t):
            return o, o
        return self._conflict(path, b, o, t)

    def _conflict(self, path: tuple[str, ...], b: Any, o: Any, t: Any) -> tuple[Any, Any]:
        self._conflicts.append(Conflict(path, *(as_data(value) for value in (b, o, t))))
        return o, t

    def _sections(self, path: tuple[str, ...], b: Any, o: Any, t: Any) -> tuple[Any, Any]:
        """Merge what holds things: a section that a side has not is one without things."""
        empty = type(t if o is ABSENT else o)()
        pair = self._mappings(path, b, *(empty if value is ABSENT else value for value in (o, t)))
        if b is not ABSENT and (o is ABSENT or t is ABSENT):
            pair = (pair[0] or ABSENT, pair[1] or ABSENT)
        return pair

    def _mappings(self, path: tuple[str, ...], b: Any, o: Any, t: Any) -> tuple[Any, Any]:
        ours, theirs = type(o)(), type(o)()
        for key in woven(o, t, {**o, **t}):
            x, y = self._pair((*path, key), value_under(b, key), value_under(o, key), value_under(t, key))
            ours.update({} if x is ABSENT else {key: x})
            theirs.update({} if y is ABSENT else {key: y})
        return ours, theirs

    def _ids(self, path: tuple[str, ...], b: Any, o: Ids, t: Ids) -> tuple[Ids, Ids]:
        base = set(b) if isinstance(b, Ids) else set()
        ours, theirs = set(o) & set(t), set(o) & set(t)
        node = grammar().at(path)
        refers = node.each.said.refers if node is not None and node.each is not None else None
        for name in dict.fromkeys((*o, *t)):
            if name in ours:
                continue
            if are_disputed(self._tied, refers, name):
                held = name if name in base else ABSENT
                here, there = (name if name in side else ABSENT for side in (o, t))
                self._conflicts.append(Conflict((*path, name), held, here, there))
                (ours if name in o else theirs).add(name)
            elif name not in base:
                ours.add(name)
                theirs.add(name)
        return Ids(woven(o, t, ours)), Ids(woven(o, t, theirs))

    def _with_members(self, data: Any, side: int) -> Any:
        """Put the members into the groups, in the order of ours."""
        groups = value_under(data, "groups")
        if not isinstance(groups, dict):
            return data
        _, here, there = (value_under(file, "groups") for file in self._files)
        filled = {}
        for group, fields in groups.items():
            filled[group] = fields
            if isinstance(value_under(fields, "actuators"), Members):
                o, t = (_members(held, group) for held in (here, there))
                wanted = {member for member in (*o, *t) if group in self._homes[side][member]}
                filled[group] = {**fields, "actuators": Ids(woven(o, t, wanted))}
        return {**data, "groups": filled}


def _holds_things(path: tuple[str, ...]) -> bool:
    node = grammar().at(path)
    return node is not None and node.kind == "map" and node.each is not None and node.each.kind == "part"


def _of_two_actuators(path: tuple[str, ...], o: Any, t: Any) -> bool:
    """Whether two records are of two actuators: what was tested of one says nothing of the other."""
    return (
        path[:2] == ("record", "actuators") and len(path) == 3 and value_under(o, "serial") != value_under(t, "serial")
    )


def _members(groups: Any, group: str) -> tuple[str, ...]:
    members = value_under(value_under(groups, group), "actuators")
    return members if isinstance(members, Members) else ()
