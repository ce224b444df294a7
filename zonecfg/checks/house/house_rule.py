"""The plan breaks a rule of your own.

Why
    A team has rules that no trade has: ids by a pattern, an asset number for every actuator. A
    JSON Schema that the plan names under house says them, once for all sites.
Wrong
    house: [house/assets.json]      # demands x-asset of every actuator
    actuators:
      A-01: {type: chain-24-350, opening: W-01, stroke_mm: 300}
Right
    Do as the rule says, change the rule, or accept the finding with a reason.

        house: [house/assets.json]
        actuators:
          A-01: {type: chain-24-350, opening: W-01, stroke_mm: 300, x-asset: LH-0113}
"""

from zonecfg.checks.registry import Check

CHECK = Check("house-rule", "error", source="the schema that the plan names; the severity is its x-severity")
