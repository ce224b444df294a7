"""A type is defined twice.

Why
    Which of the two a thing gets would depend on the order of files.
Wrong
    catalogue: [equipment.yaml]      # holds chain-24-350
    types:
      actuators:
        chain-24-350: {stroke_max_mm: 400}
Right
    Keep one definition; a thing that differs says so in its own fields.

        actuators:
          A-01: {type: chain-24-350, opening: W-01, stroke_max_mm: 400}
"""

from zonecfg.checks.registry import Check

CHECK = Check("type-defined-twice", "error", source="the plan's own format")
