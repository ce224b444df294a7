"""What the supplies carry while sashes move: every set of moving actuators is one load case of their networks."""

from collections.abc import Iterable, Mapping

from zonecfg.figures import Figures
from zonecfg.figures.network import Network
from zonecfg.results.rehearsal import LowestVoltage, PeakCurrent
from zonecfg.results.words import listed

_AT_REST = "at rest"


class LoadCases:
    """Gathers load cases and gives the largest currents and the lowest voltage."""

    def __init__(self, figures: Figures) -> None:
        self._figures = figures
        self._cases: dict[frozenset[str], float] = {}

    def at(self, now: float, moving: Iterable[str]) -> None:
        """Note which actuators move from a moment [s] on."""
        case = frozenset(moving)
        if case:
            self._cases.setdefault(case, now)

    def result(self) -> tuple[tuple[PeakCurrent, ...], LowestVoltage | None]:
        """Give the peak of each supply, and the lowest voltage at an actuator that moved."""
        power, site = self._figures.power, self._figures.site
        moved = frozenset(a for case in self._cases for a in case)
        peaks = []
        lowest: LowestVoltage | None = None
        for supply in site.supplies:
            unknown = power.supplies[supply].unknown
            if unknown is not None:
                ids = f" ({listed(unknown.ids)})" if unknown.ids else ""
                peaks.append(PeakCurrent(supply=supply, current_a=None, at_s=None, because=unknown.because + ids))
                continue
            network = power.networks[supply].without_events()
            times = self._play(network, power.draws.moving_a)
            peaks.append(PeakCurrent(supply=supply, current_a=network.peak.amp, at_s=times.get(network.peak.event)))
            for thing, volt in network.lowest.items() if network.volt_unknown is None else ():
                if thing in moved and volt.event in times and (lowest is None or volt.volt < lowest.voltage_v):
                    lowest = LowestVoltage(actuator=thing, voltage_v=volt.volt, at_s=times[volt.event])
        return tuple(peaks), lowest

    def _play(self, network: Network, moving_a: Mapping[str, float]) -> dict[str, float]:
        """Add every load case to a network; give the moment of each."""
        here = frozenset(network.things)
        network.add(_AT_REST, [])
        times = {}
        for number, (case, now) in enumerate(self._cases.items()):
            name = f"case {number}"
            network.add(name, [(a, moving_a[a]) for a in sorted(case & here) if a in moving_a])
            times[name] = now
        return times
