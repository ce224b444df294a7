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
            cases, times = self._cases_of(power.networks[supply], power.draws.moving_a)
            peak, volts = power.networks[supply].over(cases)
            peaks.append(PeakCurrent(supply=supply, current_a=peak.amp, at_s=times.get(peak.event)))
            for thing, volt in volts.items():
                if thing in moved and volt.event in times and (lowest is None or volt.volt < lowest.voltage_v):
                    lowest = LowestVoltage(actuator=thing, voltage_v=volt.volt, at_s=times[volt.event])
        return tuple(peaks), lowest

    def _cases_of(
        self, network: Network, moving_a: Mapping[str, float]
    ) -> tuple[list[tuple[str, Mapping[str, float]]], dict[str, float]]:
        """Give every load case of a network, those alike once, and the moment of each."""
        here = frozenset(network.things)
        cases: dict[frozenset[str], tuple[str, Mapping[str, float]]] = {frozenset(): (_AT_REST, {})}
        times = {}
        for number, (case, now) in enumerate(self._cases.items()):
            moving = frozenset(case & here & moving_a.keys())
            if moving not in cases:
                name = f"case {number}"
                cases[moving] = name, {a: moving_a[a] for a in sorted(moving)}
                times[name] = now
        return list(cases.values()), times
