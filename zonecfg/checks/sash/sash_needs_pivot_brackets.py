"""The sash is so short from hinge to edge that its actuators need pivot brackets.

Why
    A short sash turns far in a few millimetres. An actuator that cannot turn with it bends its
    chain or tears at its bracket.
Wrong
    openings:
      W-01: {type: fanlight, room: hall, width_mm: 800, height_mm: 400}      # no pivot_brackets
Right
    Fit brackets that turn with the chain, and a shorter stroke where the maker asks for it.

        openings:
          W-01: {type: fanlight, room: hall, width_mm: 800, height_mm: 400, pivot_brackets: true}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import moved
from zonecfg.figures import Figures
from zonecfg.figures.unread import sashless, unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Size, Unknown

USUAL_MM = 500.0

CHECK = Check(
    "sash-needs-pivot-brackets",
    "warning",
    source="hinge_to_edge_min_mm of the actuator type; common practice, 500 mm, where none is given",
    needs=("openings", "actuators"),
    over="openings",
    scope=moved,
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    yield from sashless(site)
    for opening, sash in figures.openings.items():
        if not sash.actuators or site.openings[opening].pivot_brackets:
            continue
        if sash.levers is None:
            if sash.shape_unknown is not None:
                yield sash.shape_unknown
            continue
        given = [site.actuators[actuator].hinge_to_edge_min_mm for actuator in sash.actuators]
        asked = [USUAL_MM if least is None else least for least in given]
        least = max(asked)
        if sash.levers.swing_mm >= least * (1 - 1e-9):
            continue
        lost = [unread(site, "openings", opening, "pivot_brackets")]
        lost += [unread(site, "actuators", actuator, "hinge_to_edge_min_mm") for actuator in sash.actuators]
        if known := [unknown for unknown in lost if unknown is not None]:
            yield from known
            continue
        field = "width_mm" if site.openings[opening].hinge == "side-hung" else "height_mm"
        first = asked.index(least)
        whose = f"by the type of {sash.actuators[first]}"
        if given[first] is None:
            whose = "by common practice: the type does not say"
        yield Problem(
            f"openings/{opening}",
            site.at("openings", opening, field),
            f"the sash of {opening} is {sash.levers.swing_mm:g} mm from hinge to edge; under {least:g} mm ({whose}) "
            "its actuators need pivot brackets",
            size=Size(sash.levers.swing_mm, least, "mm"),
        )
