"""Keys that are named like a PIN, a password or a key."""

import re
from typing import Any

from zonecfg.results.own import is_own
from zonecfg.results.pointer import join
from zonecfg.schema.fault import SchemaFault

# Names that people give to secrets; a name is taken apart at - _ . spaces and capitals first.
_SECRET_PARTS = frozenset(
    "pin pins pincode password passwords passwd pwd passcode passcodes passphrase token tokens secret secrets "
    "credential credentials apikey".split()
)
_NAME_PARTS = re.compile(r"[A-Z]+(?![a-z])|[A-Z]?[a-z]+")


def names_a_secret(key: str) -> bool:
    """Whether a key is named like a PIN, password, passcode, token or key."""
    parts = [part.lower() for part in _NAME_PARTS.findall(key)]
    joined = "".join(parts)
    return (
        any(part in _SECRET_PARTS for part in parts)
        or parts[-1:] in (["key"], ["keys"])
        or any(word in joined for word in ("password", "passcode", "passphrase", "apikey"))
    )


def secret(path: tuple[str | int, ...]) -> SchemaFault:
    """Make the fault of a key that is named like a secret."""
    return SchemaFault(
        "secret-in-plan",
        join(*path),
        f"{path[-1]} looks like a secret; a plan is read by many and kept for ever: take it out, and change it",
        True,
        path,
    )


def secrets_below(node: Any, path: tuple[str | int, ...], *, own: bool = False) -> list[SchemaFault]:
    """Look for secrets below keys that begin with ``x-``, those keys included."""
    if isinstance(node, list):
        return [fault for i, item in enumerate(node) for fault in secrets_below(item, (*path, i), own=own)]
    if not isinstance(node, dict):
        return []
    found = []
    for key, value in node.items():
        inside = own or is_own(key)
        if inside and names_a_secret(key):
            found.append(secret((*path, key)))
        else:
            found.extend(secrets_below(value, (*path, key), own=inside))
    return found
