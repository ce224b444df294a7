"""A name leads to nothing on the plan.

Why
    What it leads to cannot be judged, and the plant will not be what people think:
    a group that names a missing actuator moves one window less.
Wrong
    groups:
      east: {actuators: [A-1]}     # the actuator is called A-01
Right
    Name a thing that is there, or add the thing.

        groups:
          east: {actuators: [A-01]}
"""

from zonecfg.checks.registry import Check

CHECK = Check("unknown-reference", "error", source="the plan's own format")
