"""Everything computed about a site, once, when it is first asked for."""

from collections.abc import Mapping
from functools import cached_property

from zonecfg.engineering.sash import sash_opening
from zonecfg.figures.motion import SensorFigures, sensor_figures
from zonecfg.graph import Topology
from zonecfg.model.site import Site


class Figures:
    """The figures of one site. Checks compare them with limits; the ``figures`` command prints them."""

    def __init__(self, site: Site) -> None:
        self.site = site

    @cached_property
    def topology(self) -> Topology:
        """The cable graphs and who commands whom."""
        return Topology(self.site)

    @cached_property
    def sensors(self) -> Mapping[str, SensorFigures]:
        """What each sensor sets moving and how long that takes."""
        return sensor_figures(self.site, self.topology)

    def gap_at(self, opening_id: str, percent: float) -> float | None:
        """Gap of a sash that stands open to a share of its set stroke [mm]; None where a figure is missing."""
        opening = self.site.openings[opening_id]
        strokes = [self.site.actuators[a].stroke_mm for a in self.site.actuators_of.get(opening_id, ())]
        known = [stroke for stroke in strokes if stroke is not None]
        if not known or opening.width_mm is None or opening.height_mm is None:
            return None
        if opening.hinge in (None, "other"):
            return None
        sash = sash_opening(
            opening.hinge, opening.width_mm, opening.height_mm, max(known) * percent / 100, opening.actuator_at_mm
        )
        return None if sash is None else sash.gap_mm
