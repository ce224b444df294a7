"""The order that keys are written in: sections as the format lists them, fields as the model has them."""

from collections.abc import Mapping, Sequence
from functools import cache
from typing import Any

import msgspec

from zonecfg.model.building import SiteInfo
from zonecfg.model.evidence import Acceptance, Record, Saved
from zonecfg.model.sections import ORDER, THINGS, TYPED


class Shape(msgspec.Struct, frozen=True):
    """What may stand in a mapping: its keys in order with what stands in them; or one shape for every id."""

    keys: "Mapping[str, Shape | None]" = {}
    each: "Shape | None" = None


def keys_at(path: Sequence[str]) -> tuple[str, ...]:
    """Give the keys of a mapping of a plan in their order.

    Parameters
    ----------
    path
        Keys from the top down to the mapping; the number of an item for an item of a list.

    Returns
    -------
    tuple of str
        Empty where keys are ids, or the user's own: these keep the order that people gave them.
    """
    shape: Shape | None = plan()
    for step in path:
        if shape is None or step.startswith("x-"):
            return ()
        shape = shape.each or shape.keys.get(step)
    return tuple(shape.keys) if shape else ()


@cache
def plan() -> Shape:
    """Give the shape of a whole file, site file or catalogue."""
    whole: dict[str, Shape | None] = dict.fromkeys(ORDER)
    whole |= {name: Shape(each=_of(section.part)) for name, section in THINGS.items()}
    whole |= {"site": _of(SiteInfo), "record": _of(Record), "saved": _of(Saved)}
    whole["types"] = Shape({name: Shape(each=_of(THINGS[name].part)) for name in TYPED})
    whole["accepted"] = Shape(each=_of(Acceptance))
    return Shape(whole)


def _of(part: type) -> Shape:
    return _shape(msgspec.inspect.type_info(part)) or Shape()


def _shape(kind: Any) -> Shape | None:
    if isinstance(kind, msgspec.inspect.Metadata):
        return _shape(kind.type)
    if isinstance(kind, msgspec.inspect.UnionType):
        return next((found for arm in kind.types if (found := _shape(arm)) is not None), None)
    if isinstance(kind, msgspec.inspect.DictType):
        return Shape(each=_shape(kind.value_type))
    if isinstance(kind, msgspec.inspect.StructType):
        return Shape({field.encode_name: _shape(field.type) for field in kind.fields if field.name != "id"})
    return None
