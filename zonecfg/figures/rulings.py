"""The rule sets a plan names, and what must be said beside every figure that rests on one."""

from typing import Literal, TypeVar

from zonecfg.model.site import Site
from zonecfg.results.finding import Unknown
from zonecfg.rules import EscapeRule, FallRule, VentilationRule, known, rule_set

Rule = FallRule | VentilationRule | EscapeRule
R = TypeVar("R", FallRule, VentilationRule, EscapeRule)

TRIGGERS = ("drop_at_least_mm", "drop_over_mm", "opening_over_mm", "sill_under_mm")
"""Figures that decide whether a fall rule applies at all; whatever it then asks rests on them."""


def rule_named(site: Site, kind: Literal["falls", "ventilation", "escape"], of: type[R]) -> R | Unknown:
    """Give the rule set the plan names for a subject, or say that it names none."""
    rules = site.info.rules
    name = None if rules is None else getattr(rules, kind)
    if name is None:
        return Unknown(f"site.rules.{kind} names no rule set")
    if name in known(kind):
        rule = rule_set(name)
        if isinstance(rule, of):
            return rule
    return Unknown(f"site.rules.{kind} names {name}, which is no rule set for it")


def caveat(rule: Rule, use: str | None, *, secondary: bool) -> str:
    """Say, after a message, what limits the authority of the rule it rests on; empty where nothing does.

    Parameters
    ----------
    rule
        The rule set.
    use
        Use of the room it is applied to.
    secondary
        Whether one of the figures was read where another text quotes the rule.
    """
    said = []
    if secondary or rule.read == "secondary":
        said.append(f"figures of {rule.id} as quoted elsewhere: open the standard before relying on them")
    if rule.beyond_uses(use):
        said.append(f"{rule.id} is written for {of_buildings(rule)} and is applied because the plan names it")
    return f" ({'; '.join(said)})" if said else ""


def of_buildings(rule: Rule) -> str:
    """Say within a sentence what buildings a rule is written for."""
    buildings = rule.written_for.buildings
    return buildings[0].lower() + buildings[1:]
