"""Figures outside the range that the trade has, with the slip each looks like."""

from collections.abc import Iterator, Mapping
from typing import Any, NamedTuple

from msgspec import Struct

from zonecfg.model.grammar import Node, grammar
from zonecfg.model.site import Site
from zonecfg.results.pointer import join

# Units people have in mind when they write a figure too small, or too large, and how many of ours one of them is.
_MEANT: Mapping[str, tuple[tuple[float, str], ...]] = {
    "mm": ((1000.0, "metres"), (10.0, "centimetres"), (25.4, "inches"), (0.001, "micrometres")),
    "m": ((1000.0, "kilometres"), (0.001, "millimetres"), (0.01, "centimetres")),
    "N": ((1000.0, "kilonewtons"), (9.81, "kilograms")),
    "N/m": ((1000.0, "newtons a millimetre"),),
    "kg": ((0.001, "grams"), (1000.0, "tonnes")),
    "A": ((0.001, "milliamperes"),),
    "V": ((0.001, "millivolts"), (1000.0, "kilovolts")),
    "V DC": ((0.001, "millivolts"), (1000.0, "kilovolts")),
    "m²": ((1e-6, "square millimetres"), (1e-4, "square centimetres")),
    "mm²": ((100.0, "square centimetres"),),
    "m/s": ((1 / 3.6, "kilometres an hour"),),
    "mm/s": ((1000.0, "metres a second"),),
    "kPa": ((0.001, "pascals"),),
    "Ah": ((0.001, "milliampere hours"),),
}
_SECTIONS = ("rooms", "openings", "controllers", "supplies", "actuators", "sensors", "cables")


class Slip(Struct, frozen=True):
    """All that looks wrong of one thing, or of one type: what it is about, where the first stands, and the words."""

    about: str
    at: str
    message: str
    impossible: bool
    meant: tuple[tuple[str, float], ...] = ()
    """Fields with what was meant, where every one of them looks like one slip."""


class Odd(NamedTuple):
    """A figure out of its usual range: field, words, whether it is impossible, what was meant where that is clear."""

    name: str
    words: str
    impossible: bool
    meant: float | None


def slips(site: Site) -> Iterator[Slip]:
    """Give what looks like a slip: a thing's own figures about the thing, those of a type once, about the type."""
    plan = grammar()
    info = plan.root.keys["site"]
    if found := list(_odd(site.info, info.keys)):
        yield _slip("site", [join("site", name) for name, *_ in found], "the site", found)
    for section in _SECTIONS:
        node = plan.root.keys[section].each
        ranged = {} if node is None else {name: key for name, key in node.keys.items() if key.said.usual is not None}
        yield from _of_section(site, section, ranged)


def _of_section(site: Site, section: str, ranged: Mapping[str, Node]) -> Iterator[Slip]:
    """Look at every thing's own figures, and at each figure of a type where the first thing takes it from there."""
    all_own = site.own.get(section) or {}
    untold: dict[str | None, dict[str, Node]] = {}
    for key, thing in getattr(site, section).items():
        own = all_own.get(key)
        own = own if isinstance(own, dict) else {}
        said = {name: ranged[name] for name in own if name in ranged}
        if said and (mine := list(_odd(thing, said))):
            yield _slip(f"{section}/{key}", [join(section, key, name) for name, *_ in mine], key, mine)
        kind = getattr(thing, "type", None)
        if kind is None:
            continue
        left = untold.setdefault(kind, dict(ranged))
        if left and (fresh := {name: node for name, node in left.items() if name not in own}):
            for name in fresh:
                del left[name]
            if typed := list(_odd(thing, fresh)):
                at = _type_at(site, section, kind, key)
                yield _slip(f"types/{section}/{kind}", [at], f"type {kind}", typed)


def _type_at(site: Site, section: str, kind: str, thing: str) -> str:
    """Pointer to a type of this file; to the first thing that has it where it stands in a catalogue."""
    types = site.own.get("types", {})
    held = types.get(section) if isinstance(types, dict) else None
    return join("types", section, kind) if isinstance(held, dict) and kind in held else join(section, thing)


def _odd(thing: Any, fields: Mapping[str, Node]) -> Iterator[Odd]:
    """Give name, words and whether it is impossible, of every figure out of its usual range; 0 is always usual."""
    for name, field in fields.items():
        said, value = field.said, getattr(thing, name, None)
        if said.usual is None or not isinstance(value, int | float) or isinstance(value, bool) or not value:
            continue
        size, (low, high) = abs(value), said.usual
        if low <= size <= high:
            continue
        fits = [(factor, what) for factor, what in _MEANT.get(said.unit or "", ()) if low <= size * factor <= high]
        words = f"{name} {value:g}{f' {said.unit}' if said.unit else ''}"
        guess = f": {fits[0][1]}?" if fits else f"; usual is {low:g} to {high:g}"
        meant = float(f"{value * fits[0][0]:.6g}") if fits else None
        yield Odd(name, words + guess, said.possible is not None and size < said.possible, meant)


def _slip(about: str, places: list[str], name: str, found: list[Odd]) -> Slip:
    words = "; ".join(odd.words for odd in found)
    meant = tuple((odd.name, odd.meant) for odd in found if odd.meant is not None)
    return Slip(about, places[0], f"{name} has {words}", any(odd.impossible for odd in found), meant)
