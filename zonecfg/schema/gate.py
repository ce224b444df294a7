"""Data to faults by JSON Schema: an engine says whether there is any, and only then what."""

import re
from typing import Any

from zonecfg.schema.engine import Engine, engine
from zonecfg.schema.fault import SchemaFault
from zonecfg.schema.secrets import secrets_below
from zonecfg.schema.words import faults_of

_DIGITS = re.compile(r"\+?[0-9]+\Z")


def faults(data: Any, kind: str, *, may_hold_own_keys: bool = True, by: Engine | None = None) -> list[SchemaFault]:
    """Find every fault of shape.

    Parameters
    ----------
    data
        A document as read.
    kind
        ``site`` or ``catalogue``.
    may_hold_own_keys
        False where no key can begin with ``x-``, which saves a walk.
    by
        Another engine than the one that is installed.

    Returns
    -------
    list of SchemaFault
        One a fault, in the order of the schema's walk.
    """
    found: list[SchemaFault] = []
    gate = engine(kind) if by is None else by
    if not gate.valid(data):
        seen: set[tuple[str, str, str | None]] = set()
        told, mark = _digits_marked(data)
        for violation in gate.violations(told):
            for fault in faults_of(violation, kind, data, mark):
                identity = (fault.check, fault.at, fault.missing)
                if identity not in seen:
                    seen.add(identity)
                    found.append(fault)
    if may_hold_own_keys:
        found.extend(secrets_below(data, ()))
    return found


def _digits_marked(data: Any) -> tuple[Any, str]:
    """Put a mark before every key of digits: the validator gives its path as a number, 007 as 7, as if it were an item.

    The mark begins no other key, and leaves an id an id; it is empty where no key is of digits.
    """
    keys = _keys_below(data)
    if not any(map(_DIGITS.match, keys)):
        return data, ""
    mark = "k"
    while any(key.startswith(mark) for key in keys):
        mark += "_"
    return _with_mark(data, mark), mark


def _keys_below(node: Any) -> set[str]:
    if isinstance(node, list):
        return set().union(*map(_keys_below, node))
    return set(node).union(*map(_keys_below, node.values())) if isinstance(node, dict) else set()


def _with_mark(node: Any, mark: str) -> Any:
    if isinstance(node, list):
        return [_with_mark(item, mark) for item in node]
    if isinstance(node, dict):
        return {mark * bool(_DIGITS.match(key)) + key: _with_mark(item, mark) for key, item in node.items()}
    return node
