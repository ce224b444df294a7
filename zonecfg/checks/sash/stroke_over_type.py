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

from zonecfg.checks.cures import setting
from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.results.finding import Cure, Problem, Size, Unknown

CHECK = Check(
    "stroke-over-type", "error", source="stroke_max_mm of the actuator type", needs=("actuators",), over="actuators"
)


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
                size=Size(stroke, most, "mm"),
                cures=_cures(site, actuator.opening, actuator.id, most),
            )


def _cures(site: Site, opening: str | None, actuator: str, most: float) -> tuple[Cure, ...]:
    """The stroke of its type where only comfort is lost; a smoke vent or a way out needs what it was given."""
    sash = site.openings.get(opening or "")
    judged = sash is None or sash.smoke_vent or sash.escape
    patch = None if judged else setting(site, "actuators", actuator, "stroke_mm", most)
    return (Cure(f"set {most:g} mm", patch),)
