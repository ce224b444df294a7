"""An actuator is set to a longer stroke than its type has.

Why
    It cannot go there: the sash opens less than the plan says, or the setting is refused.
Wrong
    actuators:
      A-01: {type: chain-24-350, opening: W-01, stroke_mm: 400}      # stroke_max_mm: 350
Right
    Set a stroke the type has, or choose a longer type.

        actuators:
          A-01: {type: chain-24-350, opening: W-01, stroke_mm: 350}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown

CHECK = Check("stroke-over-type", "error", source="stroke_max_mm of the actuator type", needs=("actuators",))


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    for actuator in site.actuators.values():
        stroke, most = actuator.stroke_mm, actuator.stroke_max_mm
        if stroke is None or most is None:
            lacks = "stroke_mm" if stroke is None else "stroke_max_mm of the actuator type"
            yield Unknown(f"{lacks} is not given", (actuator.id,))
        elif stroke > most:
            yield Problem(
                f"actuators/{actuator.id}",
                site.at("actuators", actuator.id, "stroke_mm"),
                f"{actuator.id} is set to {stroke:g} mm; {actuator.type or 'it'} has {most:g} mm at most",
            )
