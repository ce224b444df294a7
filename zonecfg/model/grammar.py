"""The plan's grammar: every declaration of the model compiled once to nodes, and one walk along them."""

from collections.abc import Collection, Iterable, Iterator, Mapping
from functools import cache, cached_property
from inspect import get_annotations
from types import UnionType
from typing import Annotated, Any, Literal, NamedTuple, Union, get_args, get_origin

import msgspec

from zonecfg.model.fields import NODES, PLACE, Part, Said
from zonecfg.model.plan import Plan
from zonecfg.results.change import Consequence
from zonecfg.results.own import is_own

PLAN: type[Part] = Plan
"""The declarations that the grammar is made of."""

_NO_META = msgspec.Meta()
Kind = Literal["part", "map", "set", "list", "value"]
Path = tuple[str | int, ...]


class Node(msgspec.Struct, frozen=True, kw_only=True, dict=True):
    """A place in a plan, with all that is known of what stands there."""

    name: str
    """As written; of what stands under an id or in a list, the name of what holds it."""
    kind: Kind
    said: Said
    meta: msgspec.Meta = _NO_META
    """Bounds and description."""
    of: Any = str
    """Type of a value."""
    part: type[Part] | None = None
    """Declarations of a part."""
    keys: "Mapping[str, Node]" = {}
    """Fields of a part, in the order they are written in."""
    each: "Node | None" = None
    """What stands under every id of a map, or in every place of a list."""
    section: str | None = None
    """Section that the ids of a map are of."""
    touches: Consequence = "record"

    def below(self, step: str | int) -> "Node | None":
        """Give the node under a key, an id or in a place of a list; none for what the grammar does not know."""
        return self.each if self.each is not None else self.keys.get(step) if isinstance(step, str) else None

    @cached_property
    def mentions(self) -> frozenset[str]:
        """Sections whose ids stand here or below."""
        own = frozenset(name for name in (self.said.refers, self.section) if name)
        return own.union(*(node.mentions for node in self.inner))

    @property
    def inner(self) -> "tuple[Node, ...]":
        """Nodes right below."""
        return (*self.keys.values(), self.each) if self.each is not None else tuple(self.keys.values())


class Reference(NamedTuple):
    """A place whose values, items or keys are ids: ``*`` stands for any id, ``-`` for any place of a list."""

    route: tuple[str, ...]
    to: str
    where: Literal["value", "items", "keys"]

    def names(self, data: Any) -> Iterator[tuple[Path, str]]:
        """Give every id that stands here, with its path; of a key that is an id, the path to what stands under it."""
        for path, value in _along(self.route, data, ()):
            if self.where == "value":
                yield path, value
            elif self.where == "keys":
                yield from (((*path, key), key) for key in value if not is_own(key))
            else:
                yield from (((*path, index), item) for index, item in enumerate(value))


class Grammar:
    """All that the model says of a plan.

    Parameters
    ----------
    plan
        The declarations, section by section.
    """

    def __init__(self, plan: type[Part]) -> None:
        bare = _part(plan, "", Said(doc=_first_line(plan)), "record")
        sections = {name: node for name, node in bare.keys.items() if name != "types"}
        self.parts: Mapping[type[Part], Node] = dict(_parts(sections.values()))
        """Every kind of part below the whole plan, with a place where it stands."""
        types = bare.keys["types"]
        self.typed = tuple(types.keys)
        """Sections whose things may take their fields from a type."""
        types = _replaced(types, keys={name: _types_of(node, sections[name]) for name, node in types.keys.items()})
        self.root = _replaced(bare, keys={**bare.keys, "types": types})
        self.order = tuple(self.root.keys)
        """The canonical order of sections."""
        self.things: Mapping[str, Node] = {
            name: node.each for name, node in sections.items() if node.kind == "map" and node.each and node.each.part
        }
        """What stands under an id of each section that holds parts."""
        self.nodes = tuple(name for name, node in sections.items() if node.said.node)
        """Sections whose ids cables name; ids are unique across all of them."""
        self.settings = tuple(name for name, node in sections.items() if node.said.setting)
        """What a controller stores and a saved copy can put back; all else is physical."""

    def at(self, path: Collection[str | int]) -> Node | None:
        """Give the node at a path from the top down; none for the user's own and what the grammar does not know."""
        node: Node | None = self.root
        for step in path:
            if node is None or (isinstance(step, str) and is_own(step)):
                return None
            node = node.below(step)
        return node

    def of(self, section: str, *below: str) -> Node | None:
        """Give the node of a thing of a section, ``types.openings`` and ``record.actuators`` too, or of its field."""
        node = self.at(section.split("."))
        for step in (node.each,) if node is not None and node.kind == "map" else (node,):
            node = step
        for field in below:
            node = None if node is None or is_own(field) else node.below(field)
        return node

    def sections(self, refers: str) -> tuple[str, ...]:
        """Give the sections whose ids a reference may name."""
        return self.nodes if refers == NODES else (refers,)

    def walk(self, data: Any, path: Path = ()) -> "Iterator[tuple[Path, Node, Any]]":
        """Give every value of a plan that the grammar knows, with the place it stands in, from the top down.

        Parameters
        ----------
        data
            What stands at ``path``; what is not of the shape that the grammar has is given and not entered.
        path
            Keys, ids and places of lists from the top down.

        Yields
        ------
        path : tuple
        node : Node
        value
            As it stands; the user's own keys are left out.
        """
        node = self.at(path)
        if node is not None:
            yield from _walk(node, data, path)

    @cached_property
    def references(self) -> tuple[Reference, ...]:
        """Every place where ids of a section stand, ids of its own left out."""
        return tuple(_references(self.root, ()))

    def names(self, data: Any, section: str) -> Iterator[tuple[Reference, Path, str]]:
        """Give every place of a plan without faults of reading that may name a thing of a section."""
        for reference in self.references:
            if section in self.sections(reference.to):
                yield from ((reference, path, name) for path, name in reference.names(data))

    @cached_property
    def as_written(self) -> frozenset[str]:
        """Keys whose plain values stay text as written."""
        return frozenset(node.name for node in _below(self.root) if node.said.as_written)

    @cached_property
    def quoted(self) -> frozenset[str]:
        """Keys whose values are written in quotes."""
        return frozenset(node.name for node in _below(self.root) if node.said.quoted)

    def keys_at(self, path: Collection[str | int]) -> tuple[str, ...]:
        """Give the keys of a mapping in their order; none where keys are ids, or the user's own."""
        node = self.at(path)
        return tuple(node.keys) if node is not None else ()

    def part_of(self, section: str) -> type[Part]:
        """Give the declarations of a section's things."""
        part = self.things[section].part
        if part is None:
            raise TypeError(f"{section} holds no parts")
        return part

    def attribute(self, section: str, field: str) -> str:
        """Give the name that a thing's field has in the model."""
        part = self.part_of(section)
        return part.__struct_fields__[part.__struct_encode_fields__.index(field)]

    def holder(self, section: str) -> Node:
        """Give the map that holds the things of a section, ``types.openings`` too."""
        node = self.at(section.split("."))
        if node is None or node.kind != "map":
            raise KeyError(section)
        return node

    def thing_above(self, path: Path) -> tuple[str, str] | None:
        """Give section and id of the thing that what stands at a path is a part of."""
        node: Node | None = self.root
        for step in path:
            if node is None:
                return None
            if node.kind == "map" and node.section is not None:
                return node.section, str(step)
            node = node.below(step)
        return None

    def thing_at(self, path: tuple[str, ...]) -> tuple[str, str] | None:
        """Give section and id of the thing that what stands at a path tells about; none for what is above or within."""
        if not path:
            return None
        above = self.at(path[:-1])
        return (above.section, path[-1]) if above is not None and above.kind == "map" and above.section else None


def _parts(nodes: Iterable[Node]) -> Iterator[tuple[type[Part], Node]]:
    for node in nodes:
        for inner in (node, *_below(node)):
            if inner.part is not None:
                yield inner.part, inner


def _below(node: Node) -> Iterator[Node]:
    for inner in node.inner:
        yield inner
        yield from _below(inner)


def grammar() -> Grammar:
    """Give the grammar of plans."""
    return _compiled(PLAN)


@cache
def _compiled(plan: type[Part]) -> Grammar:
    return Grammar(plan)


def _replaced(node: Any, **fields: Any) -> Any:
    return msgspec.structs.replace(node, **fields)


def _first_line(part: type) -> str:
    return (part.__doc__ or "").split("\n")[0]


def _part(part: type[Part], name: str, said: Said, touches: Consequence, meta: msgspec.Meta = _NO_META) -> Node:
    own = said.touches or touches
    keys = {node.name: node for node in _fields(part, own)}
    return Node(name=name, kind="part", said=said, meta=meta, part=part, keys=keys, touches=own)


def _fields(part: type[Part], touches: Consequence) -> Iterator[Node]:
    written = dict(zip(part.__struct_fields__, part.__struct_encode_fields__, strict=True))
    hints = {name: hint for base in reversed(part.__mro__) for name, hint in get_annotations(base).items()}
    for name in (name for name in hints if name in written):
        if name != "id":
            yield _node(hints[name], written[name], touches, "")


def _node(hint: Any, name: str, touches: Consequence, section: str) -> Node:
    """Compile one declaration: what is annotated, and what its type holds."""
    kind, meta = _unwrapped(hint)
    said: Said = (meta.extra or {}).get("said") or Said(doc="")
    own = said.touches or touches
    if isinstance(kind, type) and issubclass(kind, Part):
        return _part(kind, name, said, own, meta)
    origin, arms = get_origin(kind), get_args(kind)
    if origin is dict:
        each = _node(arms[1], name, own, "") if arms[1] is not Any else None
        section = said.keyed_by or name
        return Node(name=name, kind="map", said=said, meta=meta, each=each, section=section, touches=own)
    if origin in (tuple, list):
        item = _node(arms[0], name, own, "")
        parts = item.kind != "value"
        each = _replaced(item, said=Said(doc=said.doc, refers=said.refers), touches=own)
        kind_of: Kind = "list" if said.ordered or parts else "set"
        return Node(name=name, kind=kind_of, said=said, meta=meta, each=each, touches=own)
    return Node(name=name, kind="value", said=said, meta=meta, of=kind, touches=own)


def _unwrapped(hint: Any) -> tuple[Any, msgspec.Meta]:
    """Take ``Annotated[X, Meta] | None`` apart."""
    if get_origin(hint) in (Union, UnionType):
        hint = next(arm for arm in get_args(hint) if arm is not type(None))
    if get_origin(hint) is Annotated:
        kind, *metas = get_args(hint)
        return kind, next((meta for meta in metas if isinstance(meta, msgspec.Meta)), _NO_META)
    return hint, _NO_META


def _types_of(types: Node, section: Node) -> Node:
    """Give the types of a section: what its things have, none of it required, and no type of their own."""
    if section.each is None:
        raise TypeError(f"{section.name} cannot have types: the section holds no parts")
    keys = {
        key: _replaced(node, said=_replaced(node.said, required=False))
        for key, node in section.each.keys.items()
        if key != "type"
    }
    said = Said(doc=f"Fields that {types.name} of this type have in common.")
    kind: Node = _replaced(section.each, said=said, keys=keys)
    whole: Node = _replaced(types, each=kind, section=f"types.{types.name}", touches=section.touches)
    return whole


def _walk(node: Node, value: Any, path: Path) -> "Iterator[tuple[Path, Node, Any]]":
    yield path, node, value
    if node.kind == "value":
        return
    if isinstance(value, Mapping):
        for key, inner in value.items():
            below = None if is_own(key) else node.below(key)
            if below is not None:
                yield from _walk(below, inner, (*path, key))
    elif isinstance(value, (list, tuple)) and node.kind in ("set", "list") and node.each is not None:
        for index, item in enumerate(value):
            yield from _walk(node.each, item, (*path, index))


def _along(route: tuple[str, ...], data: Any, path: Path) -> Iterator[tuple[Path, Any]]:
    """Give what stands at the places that a route leads to."""
    if data is None:
        return
    if not route:
        yield path, data
    elif route[0] == "-":
        for index, item in enumerate(data):
            yield from _along(route[1:], item, (*path, index))
    elif route[0] == "*":
        for key, item in data.items():
            yield from _along(route[1:], item, (*path, key))
    elif route[0] in data:
        yield from _along(route[1:], data[route[0]], (*path, route[0]))


def _references(node: Node, route: tuple[str, ...]) -> Iterator[Reference]:
    refers = node.said.refers
    if node.kind == "map" and node.said.keyed_by:
        yield Reference(route, node.said.keyed_by, "keys")
    if refers is not None and refers != PLACE:
        yield Reference(route, refers, "items" if node.kind in ("set", "list") else "value")
        return
    if node.each is not None:
        yield from _references(node.each, (*route, "*" if node.kind == "map" else "-"))
    for key, inner in node.keys.items():
        yield from _references(inner, (*route, key))
