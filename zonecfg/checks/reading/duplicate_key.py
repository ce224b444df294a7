"""A key stands twice in one mapping.

Why
    Most readers keep the last of the two in silence, so a window can vanish
    from the plan. Here the first is used and the second is a fault.
Wrong
    groups:
      east: {actuators: [A-01]}
      east: {actuators: [A-02]}
Right
    Keep one of the two, or give the second its own id.

        groups:
          east: {actuators: [A-01]}
          west: {actuators: [A-02]}
"""

from zonecfg.checks.registry import Check

CHECK = Check("duplicate-key", "error", source="YAML 1.2.2, section 3.2.1.1: keys are unique")
