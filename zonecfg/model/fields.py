"""How a field is said: its meaning, unit, bounds and an example, in one expression beside its name."""

from typing import Annotated, Any

from msgspec import Meta, Struct

ID_PATTERN = r"^(?!x-)[A-Za-z0-9][A-Za-z0-9_.-]*$"

# Fields that name something or repeat what a label says: a plain number there is text, as written.
AS_WRITTEN = frozenset(
    {
        "controller", "firmware", "from", "line", "name", "opening", "reference", "revision", "room", "serial", "to",
        "type",
    }
)  # fmt: skip


def field(
    doc: str,
    unit: str | None = None,
    *,
    example: Any = None,
    above: float | None = None,
    least: float | None = None,
    most: float | None = None,
    required: bool = False,
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
    required
        Whether a thing must have it, itself or from its type.
    """
    bounds: dict[str, Any] = {"gt": above, "ge": least, "le": most}
    return Meta(
        description=f"{doc} Unit: {unit}." if unit else doc,
        examples=None if example is None else [example],
        extra={"unit": unit, "required": required, "doc": doc},
        **{bound: value for bound, value in bounds.items() if value is not None},
    )


def refers(section: str, doc: str, *, required: bool = False, example: Any = None) -> Meta:
    """Describe a field that holds the id of a thing in another section, or a list of them."""
    return Meta(
        description=doc,
        min_length=None if isinstance(example, list) else 1,
        examples=None if example is None else [example],
        extra={"unit": None, "required": required, "doc": doc, "refers": section},
    )


def text(doc: str, *, required: bool = False, example: Any = None) -> Meta:
    """Describe a field of words: at least one sign that can be seen."""
    return Meta(
        description=doc,
        pattern=r"\S",
        examples=None if example is None else [example],
        extra={"unit": None, "required": required, "doc": doc},
    )


def day(doc: str, *, required: bool = False, example: str = "2026-05-14") -> Meta:
    """Describe a field that holds a date."""
    return Meta(
        description=f"{doc} Written year-month-day.",
        examples=[example],
        extra_json_schema={"format": "date"},
        extra={"unit": None, "required": required, "doc": doc},
    )


Count = Annotated[int, Meta(ge=0)]


class Part(Struct, frozen=True, kw_only=True, omit_defaults=True, gc=False):
    """Anything of a plan that has fields. A field that is None is not known."""
