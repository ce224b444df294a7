"""Many findings have one cause.

Why
    A cable that is far too long, one figure of a catalogue or one rule set can stand behind a
    dozen findings: mend that line first, and see what is left.
Wrong
    types:
      actuators:
        chain-24-350: {voltage_v: 24, thrust_n: 30, stroke_max_mm: 350}      # 300 was meant
Right
    Look at the line that all of them rest on, and mend it there or what hangs on it.

        types:
          actuators:
            chain-24-350: {voltage_v: 24, thrust_n: 300, stroke_max_mm: 350}
"""

from zonecfg.checks.registry import Check

CHECK = Check(
    "one-cause",
    "note",
    source="common practice: what many faults have in common is looked at first",
    states=(),  # found once all others are
)
