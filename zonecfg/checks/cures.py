"""Edits that would mend a fault, and which of them nobody but a person may make."""

from collections.abc import Callable, Mapping
from typing import Any, Literal, get_origin

from zonecfg.model.grammar import grammar
from zonecfg.model.site import Site
from zonecfg.results.finding import Cure
from zonecfg.results.pointer import join, split

Patch = tuple[dict[str, Any], ...]
"""Operations of RFC 6902 over the data of the file that the finding stands in."""


def setting(site: Site, section: str, thing: str, field: str, value: Any) -> Patch:
    """Give a thing a value of its own, whatever its type says."""
    own = site.own.get(section, {}).get(thing)
    known = isinstance(own, dict) and field in own
    return ({"op": "replace" if known else "add", "path": join(section, thing, field), "value": value},)


def listing(site: Site, section: str, item: Any) -> Patch:
    """Put an item at the end of a list that is a section."""
    if isinstance(site.own.get(section), list):
        return ({"op": "add", "path": join(section, "-"), "value": item},)
    return ({"op": "add", "path": join(section), "value": [item]},)


def smallest_type(
    site: Site, section: str, by: str, fits: Callable[[Mapping[str, Any]], bool]
) -> tuple[str, Mapping[str, Any]] | None:
    """Find the type of a catalogue that fits and has least of a field; None where none fits."""
    types = site.types.get(section, {})
    fitting = [(fields[by], name) for name, fields in types.items() if fields.get(by) is not None and fits(fields)]
    return (min(fitting)[1], types[min(fitting)[1]]) if fitting else None


def without_judgement(cures: tuple[Cure, ...]) -> tuple[Cure, ...]:
    """Keep an edit only where nothing that people's safety hangs on is changed; the sentence stays."""
    if all(cure.patch is None for cure in cures):
        return cures
    return tuple(cure if cure.patch is None or not _weighs(cure.patch) else Cure(cure.text) for cure in cures)


def _weighs(patch: Patch) -> bool:
    return any(_is_judgement(step["path"]) for step in patch)


def _is_judgement(pointer: str) -> bool:
    """Whether a place says what a window is for or what protects it, in a word: a number or a name can be a slip."""
    node = grammar().at(tuple(split(pointer)))
    if node is None or node.kind != "value" or node.touches != "safety":
        return False
    return node.of is bool or get_origin(node.of) is Literal
