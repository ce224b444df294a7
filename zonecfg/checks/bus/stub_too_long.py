"""A device hangs on the bus by too long a stub.

Why
    The signal runs to the end of the stub and back, and meets itself on the line. Short stubs do
    not matter; how short depends on how steep the edges are.
Wrong
    cables:
      K-01: {from: A-01, to: A-02, type: pair, length_m: 4, carries: [bus]}
      K-02: {from: A-01, to: R-1, type: pair, length_m: 12, carries: [bus]}      # stub_m: 1.5
Right
    Run the line in and out of the device, or move it nearer to the line.

        cables:
          K-01: {from: A-01, to: R-1, type: pair, length_m: 12, carries: [bus]}
          K-02: {from: R-1, to: A-02, type: pair, length_m: 10, carries: [bus]}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.graph.cables import as_subject
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Size, Unknown

CHECK = Check(
    "stub-too-long",
    "error",
    source="stub_m of the controller type; transceiver data sheets, as TI SLLSEV1: a tenth of the rise time's way",
    needs=("cables", "controllers", "terminators"),
    over="controllers",
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong, one finding a bus, about its longest stub."""
    if figures.buses.unknown is not None:
        yield figures.buses.unknown
        return
    for bus in figures.buses.all:
        line, most = bus.line, bus.limit("stub_m")
        if isinstance(line, Unknown):
            yield line
        elif line.unclear:
            yield most if isinstance(most, Unknown) else Unknown("length_m of the cable is not given", line.unclear)
        elif line.long_stubs and not isinstance(most, Unknown):
            first, *others = sorted(line.long_stubs, key=lambda stub: -(site.cables[stub.cable].length_m or 0.0))
            more = f", and {len(others)} more {'is' if len(others) == 1 else 'are'} too long" if others else ""
            yield Problem(
                bus.about,
                site.at("cables", first.cable, "length_m"),
                f"{first.device} hangs on {bus.name} by a stub of {site.cables[first.cable].length_m:g} m "
                f"({first.cable}){more}; {most:g} m is the most: run the line from {first.at} in and out of it",
                tuple(site.at("cables", stub.cable, "length_m") for stub in others),
                subjects=(bus.about, *(as_subject(site, stub.device) for stub in line.long_stubs)),
                size=Size(site.cables[first.cable].length_m or 0.0, most, "m"),
            )
