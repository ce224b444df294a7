"""How a field is said: all that is known of it, in one expression beside its name."""

from typing import Any

from msgspec import Meta, Struct

from zonecfg.results.change import Consequence

ID_PATTERN = r"^(?!x-)[A-Za-z0-9][A-Za-z0-9_.-]*$"
NODES = "nodes"
"""What ends of cables refer to: a thing of any section whose things cables can name."""
PLACE = "a place"
"""What an acceptance refers to: a pointer to a thing of any section, or to what stands below it."""


class Said(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """What the model says of a field, besides its type and bounds."""

    doc: str
    unit: str | None = None
    required: bool = False
    """Whether a thing must have it, itself or from its type."""
    refers: str | None = None
    """Section whose ids stand here: ``openings``, ``types.openings``, ``nodes``, ``rules.falls``, ``checks``."""
    exclusive: bool = False
    """Whether a thing may be named once only in all the lists of this field: an actuator in one group."""
    keyed_by: str | None = None
    """Section whose ids are the keys below, where they are not a section's own."""
    known_by: tuple[str, ...] = ()
    """Fields that tell the items of a list apart, where it holds mappings."""
    ordered: bool = False
    """Whether the order of a list says something; else it is a set."""
    touches: Consequence | None = None
    """What a change of it touches first; None where it is what the field above says."""
    usual: tuple[float, float] | None = None
    """Range that the trade has; a value outside it looks like a slip."""
    possible: float | None = None
    """Least that can be meant at all, where that is more than the bounds say."""
    as_written: bool = False
    """Whether a plain number here is text: a name, or what a label says."""
    quoted: bool = False
    """Whether it is written in quotes, since a label may be made of any signs."""
    node: bool = False
    """Of a section: whether cables can name its things; ids are unique across all of these."""
    setting: bool = False
    """Of a section: whether a controller stores it, so that a saved copy can put it back; all else is physical."""

    signed: str | None = None
    """Of what was seen: the key of its value where it is written as a record of its own, with day and name."""


def _meta(said: Said, example: Any = None, **constraints: Any) -> Meta:
    return Meta(
        description=f"{said.doc} Unit: {said.unit}." if said.unit else said.doc,
        examples=None if example is None else [example],
        extra={"said": said},
        **{name: value for name, value in constraints.items() if value is not None},
    )


def field(
    doc: str,
    unit: str | None = None,
    *,
    example: Any = None,
    above: float | None = None,
    least: float | None = None,
    most: float | None = None,
    usual: tuple[float, float] | None = None,
    possible: float | None = None,
    required: bool = False,
    ordered: bool = False,
    touches: Consequence | None = None,
    signed: str | None = None,
) -> Meta:
    """Describe a field.

    Parameters
    ----------
    doc
        What it means, in a sentence an editor shows on hover.
    unit
        As people write it.
    example
        One value, as it stands in a plan.
    above, least, most
        Exclusive lower, inclusive lower and upper bound.
    usual
        Range that the trade has, within the bounds.
    possible
        Least that can be meant at all.
    required
        Whether a thing must have it, itself or from its type.
    ordered
        Whether the order of a list says something; else it is a set.
    touches
        What a change of it touches first, where that is not what its section says.
    signed
        Of what was seen: the key of its value where it stands as a record of its own, with day, name and meter.
    """
    said = Said(
        doc=doc, unit=unit, required=required, ordered=ordered, touches=touches, usual=usual, possible=possible,
        signed=signed,
    )  # fmt: skip
    return _meta(said, example, gt=above, ge=least, le=most)


def refers(
    section: str,
    doc: str,
    *,
    required: bool = False,
    example: Any = None,
    exclusive: bool = False,
    touches: Consequence | None = None,
) -> Meta:
    """Describe a field that holds the id of a thing in another section, or a list of them."""
    listed = isinstance(example, list)
    said = Said(doc=doc, required=required, refers=section, exclusive=exclusive, touches=touches, as_written=not listed)
    return _meta(said, example, min_length=None if listed else 1)


def text(
    doc: str,
    *,
    required: bool = False,
    example: Any = None,
    refers: str | None = None,
    as_written: bool = False,
    touches: Consequence | None = None,
) -> Meta:
    """Describe a field of words: at least one sign that can be seen."""
    said = Said(doc=doc, required=required, refers=refers, as_written=as_written, touches=touches)
    return _meta(said, example, pattern=r"\S")


def label(doc: str, *, example: str, touches: Consequence | None = None) -> Meta:
    """Describe a field that repeats what a label says: text, whatever signs it is made of."""
    return _meta(Said(doc=doc, as_written=True, quoted=True, touches=touches), example, pattern=r"\S")


def day(doc: str, *, required: bool = False, example: str = "2026-05-14") -> Meta:
    """Describe a field that holds a date."""
    said = Said(doc=f"{doc} Written year-month-day.", required=required, touches="record")
    return _meta(said, example, extra_json_schema={"format": "date"})


def section(
    doc: str,
    *,
    touches: Consequence | None = None,
    refers: str | None = None,
    keyed_by: str | None = None,
    known_by: tuple[str, ...] = (),
    required: bool = False,
    ordered: bool = False,
    node: bool = False,
    setting: bool = False,
    example: Any = None,
) -> Meta:
    """Describe a section, or any field that holds parts: by id, in a list, or one."""
    said = Said(
        doc=doc, touches=touches, refers=refers, keyed_by=keyed_by, known_by=known_by, required=required,
        ordered=ordered, node=node, setting=setting,
    )  # fmt: skip
    return _meta(said, example)


class Part(Struct, frozen=True, kw_only=True, omit_defaults=True, gc=False):
    """Anything of a plan that has fields. A field that is None is not known."""
