"""One id names two things that cables can name.

Why
    A cable that ends at this id could mean either.
Wrong
    actuators:
      X-1: {type: chain-24-350, opening: W-01}
    sensors:
      X-1: {type: rain-plate}
Right
    Give one of the two another id.

        actuators:
          A-1: {type: chain-24-350, opening: W-01}
        sensors:
          R-1: {type: rain-plate}
"""

from zonecfg.checks.registry import Check

CHECK = Check("id-reused", "error", source="the plan's own format")
