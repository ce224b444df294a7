"""A value has the wrong type or range, or a needed field is missing.

Why
    A wrong value is not guessed at: it counts as not known, and the checks
    that need it do not run.
Wrong
    actuators:
      A-01: {type: chain-24-350, opening: W-01, stroke_mm: 30 cm}
Right
    Write the value in the unit that the key names, within its bounds, and give
    every field that is needed.

        actuators:
          A-01: {type: chain-24-350, opening: W-01, stroke_mm: 300}
"""

from zonecfg.checks.registry import Check

CHECK = Check("wrong-shape", "error", source="the plan's own format; JSON Schema 2020-12")
