"""Everything computed about a site, once, when it is first asked for."""

from collections.abc import Mapping
from functools import cached_property

from zonecfg.figures.bus import Buses
from zonecfg.figures.falls import FallFigures, fall_figures
from zonecfg.figures.motion import SensorFigures, sensor_figures
from zonecfg.figures.openings import OpeningFigures, opened_to, opening_figures
from zonecfg.figures.power import Power
from zonecfg.figures.rooms import RoomFigures, room_figures
from zonecfg.figures.thrust import Thrust, thrusts
from zonecfg.figures.zero_volt import references
from zonecfg.graph.topology import Topology
from zonecfg.model.site import Site
from zonecfg.results.figure import SiteFigures
from zonecfg.results.finding import Unknown


class Figures:
    """The figures of one site. Checks compare them with limits; the ``figures`` command prints them."""

    def __init__(self, site: Site) -> None:
        self.site = site

    @cached_property
    def topology(self) -> Topology:
        """The cable graphs and who commands whom."""
        return Topology(self.site)

    @cached_property
    def openings(self) -> Mapping[str, OpeningFigures]:
        """What every sash opens to, and the force that takes."""
        return opening_figures(self.site)

    @cached_property
    def thrusts(self) -> Mapping[str, Thrust]:
        """Every sash that actuators move: the force each movement takes against what its actuators have."""
        return thrusts(self.site, self.openings)

    @cached_property
    def falls(self) -> Mapping[str, FallFigures] | Unknown:
        """What the named fall rule asks of every opening; Unknown where none is named."""
        return fall_figures(self.site, self.openings)

    @cached_property
    def rooms(self) -> Mapping[str, RoomFigures]:
        """Opening area of every room, what a rule counts and asks, and the air that flows."""
        return room_figures(self.site, self.openings)

    @cached_property
    def power(self) -> Power:
        """Currents and voltages, a network a supply."""
        return Power(self.site, self.topology)

    @cached_property
    def buses(self) -> Buses:
        """Every bus: its load, length, line and ends."""
        return Buses(self.site, self.topology)

    @cached_property
    def references(self) -> Mapping[str, int]:
        """Things whose zero volts are joined have one number."""
        return references(self.topology)

    @cached_property
    def sensors(self) -> Mapping[str, SensorFigures]:
        """What each sensor sets moving and how long that takes."""
        return sensor_figures(self.site, self.topology)

    @cached_property
    def printed(self) -> SiteFigures:
        """All figures as others read them."""
        from zonecfg.figures.printed import printed  # noqa: PLC0415  (only where somebody asks for all)

        return printed(self)

    def gap_at(self, opening_id: str, percent: float) -> float | None:
        """Gap of a sash that stands open to a share of its set stroke [mm]; None where a figure is missing."""
        opening = self.site.openings[opening_id]
        strokes = [self.site.actuators[a].stroke_mm for a in self.site.actuators_of.get(opening_id, ())]
        known = [stroke for stroke in strokes if stroke is not None]
        sash = opened_to(opening, max(known) * percent / 100) if known else None
        return None if sash is None else sash.gap_mm
