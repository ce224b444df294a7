"""A plain value means something else to a reader of YAML 1.1.

Why
    Editors and scripts that still read YAML 1.1 take no for false, 012 for ten
    and 1:30 for ninety.
Wrong
    rooms:
      plant: {name: no, storey: 012}
Right
    Put text in quotes; write numbers without leading zeros.

        rooms:
          plant: {name: "no", storey: 12}
"""

from zonecfg.checks.registry import Check

CHECK = Check(
    "ambiguous-word",
    "warning",
    source="YAML 1.1 types (bool, int, float) against the core schema of YAML 1.2.2, section 10.3.2",
)
