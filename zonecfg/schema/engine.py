"""What judges data by a schema: the compiled engine where it is installed, else the pure Python one; both alike."""

import re
from collections.abc import Callable, Iterable
from functools import cache
from typing import Any, NamedTuple, Protocol

from zonecfg.schema.files import schema_of, schema_text


class Violation(NamedTuple):
    """One keyword of the schema that a place in the data does not satisfy."""

    path: tuple[str | int, ...]
    keyword: str
    instance: Any
    wanted: Any
    """What the keyword says: types, options, a limit; the keys that are too many; the key that is missing."""


class Engine(Protocol):
    """Judges data by one schema."""

    def valid(self, data: Any) -> bool:
        """Whether nothing is wrong; asked first, and of most plans the only question."""

    def violations(self, data: Any) -> Iterable[Violation]:
        """Give what is wrong."""


@cache
def engine(kind: str) -> Engine:
    """Give the engine for ``site`` or ``catalogue``: the compiled one, a hundred times as fast, where it is there."""
    try:
        import jsonschema_rs  # noqa: F401, PLC0415  (no wheel of it runs in a browser)
    except ImportError:
        return PureEngine(kind)
    return CompiledEngine(kind)


class CompiledEngine:
    """jsonschema-rs."""

    def __init__(self, kind: str) -> None:
        from jsonschema_rs import Draft202012Validator  # noqa: PLC0415

        self._validator = Draft202012Validator(schema_text(kind), validate_formats=True)

    def valid(self, data: Any) -> bool:
        """Whether nothing is wrong."""
        return self._validator.is_valid(data)

    def violations(self, data: Any) -> Iterable[Violation]:
        """Give what is wrong."""
        for error in self._validator.iter_errors(data):
            detail: Any = error.kind
            take = _TAKEN.get(detail.name)
            yield Violation(tuple(error.instance_path), detail.name, error.instance, take(detail) if take else None)


_TAKEN: dict[str, Callable[[Any], Any]] = {
    "additionalProperties": lambda detail: list(detail.unexpected),
    "required": lambda detail: detail.property,
    "type": lambda detail: list(detail.types),
    "enum": lambda detail: list(detail.options),
    "const": lambda detail: detail.expected_value,
    **dict.fromkeys(("minimum", "maximum", "exclusiveMinimum", "exclusiveMaximum"), lambda detail: detail.limit),
}


class PureEngine:
    """The ``jsonschema`` library."""

    def __init__(self, kind: str) -> None:
        from jsonschema import Draft202012Validator  # noqa: PLC0415

        checker = Draft202012Validator.FORMAT_CHECKER
        self._validator = Draft202012Validator(schema_of(kind), format_checker=checker)

    def valid(self, data: Any) -> bool:
        """Whether nothing is wrong."""
        return bool(self._validator.is_valid(data))

    def violations(self, data: Any) -> Iterable[Violation]:
        """Give what is wrong."""
        for error in self._validator.iter_errors(data):
            name = str(error.validator) if error.validator is not None else "falseSchema"
            wanted = error.validator_value
            if name == "additionalProperties":
                wanted = _unexpected(error.instance, error.schema)
            elif name == "type" and isinstance(wanted, str):
                wanted = [wanted]
            path = tuple(error.absolute_path)
            if name == "required":  # one error a missing key, which names it in words alone
                yield from (Violation(path, name, error.instance, key) for key in wanted if key not in error.instance)
            else:
                yield Violation(path, name, error.instance, wanted)


def _unexpected(instance: Any, schema: Any) -> list[str]:
    patterns = [re.compile(pattern) for pattern in schema.get("patternProperties", ())]
    known = schema.get("properties", ())
    return [key for key in instance if key not in known and not any(p.search(key) for p in patterns)]
