"""Data in which things have other ids, wherever the old ones stand."""

from collections.abc import Mapping
from typing import Any

from zonecfg.model.fields import NODES, PLACE
from zonecfg.model.grammar import Node, grammar
from zonecfg.results.own import is_own
from zonecfg.results.pointer import join, split

Names = Mapping[str, Mapping[str, str]]
"""Section to old id to new id."""


def with_new_ids(data: Any, names: Names) -> Any:
    """Give things new ids: as keys, in fields and lists that refer to them, and in places that acceptances name.

    Parameters
    ----------
    data
        A plan without faults of reading; what nothing changes in is shared.
    names
        New ids by section and old id.
    """
    plan = grammar()
    wanted = frozenset({*names, PLACE, *([NODES] if any(section in names for section in plan.nodes) else [])})
    return _Renaming(names, wanted).value(plan.root, data)


class _Renaming:
    def __init__(self, names: Names, wanted: frozenset[str]) -> None:
        self._names = names
        self._wanted = wanted

    def value(self, node: Node | None, value: Any) -> Any:
        """Give what stands at a node with new ids."""
        if node is None or node.mentions.isdisjoint(self._wanted):
            return value
        if isinstance(value, Mapping):
            names = self._names.get(node.section or "", {}) if node.kind == "map" else {}
            return {
                names.get(key, key): held if is_own(key) else self.value(node.below(key), held)
                for key, held in value.items()
            }
        if isinstance(value, list):
            return [self.value(node.each, item) for item in value]
        return self._id(node.said.refers, value) if isinstance(value, str) and node.said.refers else value

    def _id(self, refers: str, value: str) -> str:
        if refers == PLACE:
            return self._place(value)
        for section in grammar().sections(refers):
            if value in self._names.get(section, {}):
                return self._names[section][value]
        return value

    def _place(self, at: str) -> str:
        """Give a pointer, or a place as printed, with new ids."""
        node: Node | None = grammar().root
        steps = []
        for step in split(at if at.startswith("/") else f"/{at}"):
            ids = self._names.get(node.section or "", {}) if node is not None and node.kind == "map" else {}
            steps.append(ids.get(step, step))
            node = None if node is None or is_own(step) else node.below(step)
        new = join(*steps)
        return new if at.startswith("/") else new[1:]
