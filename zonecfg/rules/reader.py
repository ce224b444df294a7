"""Find and read the rule sets; they are known by the files that stand beside this one."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Literal

import msgspec

from zonecfg.errors import UnknownName
from zonecfg.rules.escape import EscapeRule
from zonecfg.rules.falls import FallRule
from zonecfg.rules.ventilation import VentilationRule

RuleSet = FallRule | VentilationRule | EscapeRule
Kind = Literal["falls", "ventilation", "escape"]

_FOLDER = Path(__file__).parent


@cache
def known(kind: Kind | None = None) -> tuple[str, ...]:
    """List the rule sets there are.

    Parameters
    ----------
    kind
        Only those a plan may name under this key of ``site.rules``; None lists all.

    Returns
    -------
    tuple of str
        Ids, sorted.
    """
    ids = tuple(sorted(file.name.removesuffix(".json") for file in _FOLDER.glob("*.json")))
    return ids if kind is None else tuple(rule_id for rule_id in ids if rule_set(rule_id).kind == kind)


@cache
def rule_set(rule_id: str) -> RuleSet:
    """Read one rule set.

    Parameters
    ----------
    rule_id
        One of `known`. A plan's own words are compared with that list first.

    Returns
    -------
    FallRule, VentilationRule or EscapeRule

    Raises
    ------
    UnknownName
        There is no such rule set.
    """
    if rule_id not in known():
        raise UnknownName(f"no rule set is called {rule_id}; there are {', '.join(known())}")
    rules: RuleSet = msgspec.json.decode((_FOLDER / f"{rule_id}.json").read_bytes(), type=RuleSet)
    return rules
