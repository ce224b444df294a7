"""Every bus: what hangs on it, how long it is, how it runs and where it ends."""

from collections.abc import Iterable, Mapping, Sequence
from functools import cached_property
from typing import Literal

from zonecfg.engineering.rs485 import longest_line, measured_resistance
from zonecfg.figures.bus_line import Line, line_of
from zonecfg.figures.cables import cable_ohm
from zonecfg.graph.cables import Piece, Port, a_loop, between_ports, home_of
from zonecfg.graph.topology import Topology
from zonecfg.model.site import Site
from zonecfg.results.finding import Unknown


class Bus:
    """A connected piece of bus cables.

    Parameters
    ----------
    site, topology
        The site and its graphs.
    piece
        The cables.
    """

    def __init__(self, site: Site, topology: Topology, piece: Piece[Port]) -> None:
        self.site = site
        self.topology = topology
        self.piece = piece
        self.things = tuple(dict.fromkeys([thing for thing, _ in piece.nodes]))
        self.ports = tuple(sorted(node for node in piece.nodes if node[0] in site.controllers))
        self.controllers = tuple(dict.fromkeys(thing for thing, _ in self.ports))

    @cached_property
    def about(self) -> str:
        """What findings on it are about: its controller (and the line, beyond the first), else its first node."""
        if self.ports:
            controller, line = self.ports[0]
            return f"controllers/{controller}" + (f"/{line}" if line != "1" else "")
        named = (f"{home}/{t}" for t in sorted(self.things) if (home := home_of(self.site, t)))
        return next(named, f"cables/{min(self.piece.cables)}")

    @cached_property
    def name(self) -> str:
        """What messages call it."""
        if not self.ports:
            return f"the bus at {min(self.things)}"
        controller, line = self.ports[0]
        return f"the bus of {controller}" if line == "1" else f"the bus on line {line} of {controller}"

    @cached_property
    def length_m(self) -> float | Unknown:
        """Length of all its cables [m]."""
        cables = self.site.cables
        lacks = tuple(cable for cable in self.piece.cables if cables[cable].length_m is None)
        if lacks:
            return Unknown("length_m of the cable is not given", lacks)
        return sum([cables[cable].length_m or 0.0 for cable in self.piece.cables])

    @cached_property
    def unit_loads(self) -> float | Unknown:
        """Unit loads of all that hangs on it [-]; supplies and junctions put none on it."""
        total, lacks = 0.0, []
        controllers, actuators, sensors = self.site.controllers, self.site.actuators, self.site.sensors
        for thing in self.things:
            device = actuators.get(thing) or sensors.get(thing) or controllers.get(thing)
            if device is not None:
                if device.bus_unit_load is None:
                    lacks.append(thing)
                else:
                    total += device.bus_unit_load
        return Unknown("bus_unit_load is not given", tuple(lacks)) if lacks else total

    def limit(self, name: Literal["unit_loads", "length_m", "stub_m"]) -> float | Unknown:
        """Limit of its controller's type; of several the tightest."""
        if not self.controllers:
            return Unknown("no controller is on this bus", (self.things[0],))
        found = [getattr(bus, name) for c in self.controllers if (bus := self.site.controllers[c].bus) is not None]
        known = [value for value in found if value is not None]
        if not known:
            return Unknown(f"bus.{name} of the controller type is not given", self.controllers)
        return float(min(known))

    @cached_property
    def length_limit(self) -> tuple[float, float | None] | Unknown:
        """The most its cables may measure [m], and the bit rate [bit/s] where that is what limits them."""
        stated = self.limit("length_m")
        rates = [bus.bit_rate for c in self.controllers if (bus := self.site.controllers[c].bus) and bus.bit_rate]
        if not rates:
            return stated if isinstance(stated, Unknown) else (stated, None)
        by_rate = longest_line(max(rates))
        return (by_rate, max(rates)) if isinstance(stated, Unknown) or by_rate < stated else (stated, None)

    @cached_property
    def loop(self) -> Sequence[str]:
        """Cables of a loop in it; empty where there is none."""
        if not self.piece.has_loop:
            return ()
        on_bus = self.topology.edges["bus"]
        return a_loop(between_ports(self.site, [on_bus[cable] for cable in sorted(self.piece.cables)]))

    @cached_property
    def line(self) -> Line | Unknown:
        """How it runs; Unknown where it has a loop."""
        if self.piece.has_loop:
            return Unknown("the bus has a loop", self.controllers or (self.things[0],))
        stub_m = self.limit("stub_m")
        return line_of(
            self.site,
            self.piece,
            self.topology.beside_on_bus,
            self.topology.terminated,
            None if isinstance(stub_m, Unknown) else stub_m,
        )

    @cached_property
    def ends(self) -> tuple[Port, Port] | Unknown:
        """Its two ends; Unknown where it has a loop or a branch, or no controller."""
        ids = self.controllers or (self.things[0],)
        if not self.controllers:
            return Unknown("no controller is on this bus", ids)
        line = self.line
        if isinstance(line, Unknown):
            return line
        if line.branches:
            return Unknown("the bus branches", ids)
        if line.unclear or len(line.ends) != 2:
            return Unknown("it is not known which cables are stubs: bus.stub_m or length_m is not given", ids)
        return line.ends[0], line.ends[1]

    @cached_property
    def expected_ohm(self) -> float | Unknown:
        """Resistance a meter shows across the bus at its controller, supply off [ohm]: a resistor at each end."""
        both = self.ends
        if isinstance(both, Unknown):
            return both
        siemens = 0.0
        for end in both:
            loop = 0.0
            for cable in self._way(self.ports[0], end):
                ohm = cable_ohm(self.site.cables[cable])
                if isinstance(ohm, Unknown):
                    return ohm
                loop += ohm
            siemens += 1 / measured_resistance(loop, near=0, far=1)
        return 1 / siemens

    def _way(self, start: Port, end: Port) -> Iterable[str]:
        """Cables from one node to another, on a bus without a loop."""
        came: dict[Port, tuple[Port, str] | None] = {start: None}
        waiting = [start]
        for node in waiting:
            for cable, other in self.topology.beside_on_bus[node]:
                if other not in came:
                    came[other] = node, cable
                    waiting.append(other)
        found = []
        while (step := came[end]) is not None:
            end, cable = step
            found.append(cable)
        return found


class Buses:
    """All buses of a site."""

    def __init__(self, site: Site, topology: Topology) -> None:
        self.site = site
        self.topology = topology

    @cached_property
    def unknown(self) -> Unknown | None:
        """Why nothing is known of the bus in this plan."""
        if not self.topology.buses:
            return Unknown("no cable carries the bus")
        if self.topology.unclear:
            return Unknown("from, to or carries of a cable could not be read", self.topology.unclear)
        return None

    @cached_property
    def all(self) -> Sequence[Bus]:
        """Every bus, in the order of its first cable; none where the cables could not be read."""
        if self.unknown is not None:
            return ()
        return [Bus(self.site, self.topology, piece) for piece in self.topology.buses]

    @cached_property
    def of_controller(self) -> Mapping[str, Sequence[Bus]]:
        """Buses of each controller."""
        found: dict[str, list[Bus]] = {}
        for bus in self.all:
            for controller in bus.controllers:
                found.setdefault(controller, []).append(bus)
        return found
