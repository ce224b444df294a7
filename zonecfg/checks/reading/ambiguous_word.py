"""A plain value means different things to readers of YAML 1.1 and 1.2.

Why
    Editors and scripts that still read YAML 1.1 take no for false, 012 for ten
    and 1:30 for ninety; to those of YAML 1.2 a serial such as 0017008 is the number 17008.
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
