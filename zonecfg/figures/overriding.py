"""How what limits an opening can be overridden."""

from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.results.finding import Unknown


def overriding(site: Site, figures: Figures, opening: str) -> str | Unknown | None:
    """Say how what limits the opening can be overridden.

    Returns
    -------
    str, Unknown or None
        None where the plan states that it cannot; Unknown where it does not state all that decides.
    """
    sash = site.openings[opening]
    if sash.limit_by == "release-by-tool":
        return "its limit can be released with a tool"
    if sash.limit_by == "restrictor":
        return None
    if sash.hand_release in ("hand", "tool"):
        how = "by hand" if sash.hand_release == "hand" else "with a tool"
        return f"the sash can be freed from its actuators {how}"
    lacks = ["hand_release"] if sash.hand_release is None else []
    for actuator in site.actuators_of.get(opening, ()):
        controller = site.controllers.get(figures.topology.controller_of_actuator.get(actuator, ""))
        if controller is not None and controller.panel_locked is False:
            return f"the panel of {controller.id} is not locked, and the stroke can be changed there"
        if controller is None or controller.panel_locked is None:
            lacks.append("panel_locked of its controller")
    if not lacks:
        return None
    named = " and ".join(dict.fromkeys(lacks))
    verb = "are" if len(set(lacks)) > 1 else "is"
    return Unknown(f"{named} {verb} not given: it is not known whether what limits it can be overridden", (opening,))
