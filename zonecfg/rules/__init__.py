"""Published rule sets: one data file each, with its source, and what a plan may ask of them.

A designer names a rule set in ``site.rules``; it is applied because it is named. Each file says what
buildings and uses it is written for, and every answer says whether it was asked beyond them. One more country
is one more file.
"""

from zonecfg.rules.escape import EscapeDemand, EscapeRule
from zonecfg.rules.falls import FallDemand, FallRule
from zonecfg.rules.head import NotJudged
from zonecfg.rules.reader import RuleSet, known, rule_set
from zonecfg.rules.ventilation import VentilationRule

__all__ = [
    "EscapeDemand",
    "EscapeRule",
    "FallDemand",
    "FallRule",
    "NotJudged",
    "RuleSet",
    "VentilationRule",
    "known",
    "rule_set",
]
