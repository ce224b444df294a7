"""Currents and voltages of the whole site: one network a supply."""

from collections.abc import Mapping
from functools import cached_property

from msgspec import Struct

from zonecfg.figures.draws import Draws, draws
from zonecfg.figures.network import Network, Volt
from zonecfg.figures.unread import unread
from zonecfg.figures.worst_moment import ALL, FIRE, LoadMoment, SashLoad, load_moment
from zonecfg.graph.topology import Feed, Topology
from zonecfg.model.site import Site
from zonecfg.results.finding import Unknown

ELV_V = 120.0
"""Highest ripple-free direct voltage that is extra-low [V], IEC 60050."""


class SupplyFigures(Struct, frozen=True, kw_only=True, gc=False):
    """The largest current of a supply; ``unknown`` says why it is not known.

    ``running_only`` says that the peak current of some type is not given, so that its running current stands in.
    """

    peak_a: float | None
    peak_event: str | None
    output_a: float | None
    running_only: bool = False
    unknown: Unknown | None = None


class Power:
    """Who feeds whom, and with how much."""

    def __init__(self, site: Site, topology: Topology) -> None:
        self.site = site
        self.topology = topology

    @cached_property
    def unknown(self) -> Unknown | None:
        """Why nothing is known of the power in this plan."""
        if not self.topology.feeds:
            return Unknown("no cable carries power")
        if self.topology.unclear:
            return Unknown("from, to or carries of a cable could not be read", self.topology.unclear)
        return None

    @cached_property
    def draws(self) -> Draws:
        """Current of everything, at rest and moving."""
        return draws(self.site)

    def apart(self, feed: Feed) -> Unknown | None:
        """Say why the network of a feed is not computed as a whole: several supplies, or too high a voltage."""
        return self._apart.get(feed.supplies)

    @cached_property
    def _apart(self) -> Mapping[tuple[str, ...], Unknown]:
        found = {}
        for feed in self.topology.feeds:
            high = tuple(s for s in feed.supplies if (self.site.supplies[s].output_v or 0.0) > ELV_V)
            if feed.joined:
                found[feed.supplies] = Unknown("supplies that are joined are not computed", feed.supplies)
            elif high:
                found[feed.supplies] = Unknown("output_v is over 120 V DC", high)
        return found

    @cached_property
    def networks(self) -> Mapping[str, Network]:
        """Network of each supply that feeds something alone, with what sets its sashes moving."""
        site, draws_ = self.site, self.draws
        found: dict[str, Network] = {}
        for feed in self.topology.feeds:
            if not feed.supplies:
                continue
            if self.apart(feed) is None:
                (supply,) = feed.supplies
                network = found[supply] = Network(
                    site.supplies[supply], feed.piece, site.cables, self.topology.beside_on_power
                )
                network.rest(draws_.idle_a)
                network.refused = self._refused(network)
                network.moments = self._moments(network)
        self._mark_unknown_loads(found)
        return found

    def _moments(self, network: Network) -> list[LoadMoment]:
        """What sets the sashes of a network moving. What moves of a controller may all be of this network."""
        site, of = self.site, self.topology.controller_of_actuator
        loads: dict[tuple[str | None, str], list[tuple[str, float]]] = {}
        for thing in network.things:
            actuator = site.actuators.get(thing)
            if actuator is not None and thing in self.draws.moving_a:
                extra = self.draws.moving_a[thing] - self.draws.idle_a.get(thing, 0.0)
                loads.setdefault((of.get(thing), actuator.opening or thing), []).append((thing, extra))
        sashes = {key: SashLoad(key[0], tuple(extra)) for key, extra in loads.items()}
        at_once = {c.id: c.moves_at_once for c in site.controllers.values()}
        found = [load_moment(ALL, sashes.values(), at_once)]
        in_fire = {c.id: c.fire_moves_at_once for c in site.controllers.values() if c.fire_moves_at_once is not None}
        vents = [s for (_, o), s in sashes.items() if o in site.openings and site.openings[o].smoke_vent]
        if vents and any(sash.controller in in_fire for sash in vents):
            found.append(load_moment(FIRE, vents, {**at_once, **in_fire}))
        return found

    @cached_property
    def supplies(self) -> Mapping[str, SupplyFigures]:
        """Largest current of every supply."""
        found = {}
        for supply in self.site.supplies.values():
            network = self.network_of(supply.id)
            unknown = network if isinstance(network, Unknown) else network.load_unknown
            peak = None if isinstance(network, Unknown) or unknown is not None else network.peak
            found[supply.id] = SupplyFigures(
                peak_a=None if peak is None else peak.amp,
                peak_event=None if peak is None else peak.event,
                output_a=supply.output_a,
                running_only=not isinstance(network, Unknown) and bool(network.running_only),
                unknown=unknown,
            )
        return found

    def voltage(self, thing: str) -> Volt | Unknown:
        """Lowest voltage at something, over all moments."""
        network = self.feeding(thing)
        if isinstance(network, Unknown):
            return network
        return network.lowest(thing) or network.volt_unknown or Unknown("its voltage is not known", (thing,))

    def feeding(self, thing: str) -> Network | Unknown:
        """Network that feeds something, or why its voltages are not computed."""
        if self.unknown is not None:
            return self.unknown
        feed = self.topology.feed_of.get(thing)
        if feed is None or not feed.supplies:
            return Unknown("no path to a supply", (thing,))
        if (apart := self.apart(feed)) is not None:
            return apart
        network = self.networks[feed.supplies[0]]
        return network.volt_unknown or network

    def network_of(self, supply: str) -> Network | Unknown:
        """Network of a supply, or why there is none that is computed."""
        if self.unknown is not None:
            return self.unknown
        feed = self.topology.feed_of.get(supply)
        if feed is None:
            return Unknown("no power cable is joined to it", (supply,))
        return self.apart(feed) or self.networks[supply]

    def _refused(self, network: Network) -> Unknown | None:
        site = self.site
        if not site.unknown:
            return None
        lost = unread(site, "supplies", network.supply.id, "output_v", "output_min_v")
        return lost or next((u for c in network.cables if (u := unread(site, "cables", c.id, "conductor_c"))), None)

    def _mark_unknown_loads(self, networks: Mapping[str, Network]) -> None:
        """A load that is not known makes its network unknown, and every one its controller has a queue in."""
        unknown, of = self.draws.unknown, self.topology.controller_of_actuator
        controllers = self.site.controllers
        queues = {c: lost for c in controllers if (lost := unread(self.site, "controllers", c, "moves_at_once"))}
        for thing, reason in unknown.items():
            home = of.get(thing, "")
            if home in controllers and controllers[home].moves_at_once is not None:
                queues.setdefault(home, reason)
        running_only = self.draws.running_only
        for network in networks.values():
            reasons: dict[str, dict[str, None]] = {}
            for thing in network.things:
                lost = unknown.get(thing) or (queues.get(of[thing]) if thing in of else None)
                if lost is not None:
                    reasons.setdefault(lost.because, {}).update(dict.fromkeys(lost.ids))
            network.load_unknown = next((Unknown(b, tuple(ids)) for b, ids in reasons.items()), None)
            network.running_only = running_only.intersection(network.things)
