"""More current runs through a controller than it passes on.

Why
    Its terminals and tracks are made for a current. Beyond it they heat up, or its fuse opens
    when all windows move.
Wrong
    controllers:
      C-1: {type: hall-controller}      # output_a: 5, and 12 actuators of 0.9 A behind it
Right
    Feed some of the actuators from the supply by a cable that does not run through the controller.

        cables:
          K-01: {from: PS-1, to: C-1, type: pair, length_m: 2, carries: [power]}
          K-02: {from: PS-1, to: A-01, type: pair, length_m: 9, carries: [power]}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Size, Unknown

CHECK = Check(
    "controller-overloaded",
    "error",
    source="Kirchhoff's current law, in the worst event; output_a of the controller type",
    needs=("cables", "supplies", "actuators", "controllers", "sensors", "groups", "links"),
    over="controllers",
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    power = figures.power
    if power.unknown is not None:
        yield power.unknown
        return
    for controller in site.controllers.values():
        feed = figures.topology.feed_of.get(controller.id)
        if feed is None or not feed.supplies:
            continue
        network = power.network_of(feed.supplies[0])
        if isinstance(network, Unknown):
            yield network
            continue
        if not network.passes(controller.id):
            continue
        if controller.output_a is None:
            yield Unknown("output_a of the controller is not given", (controller.id,))
            continue
        if network.load_unknown is None and network.peak.amp <= controller.output_a:
            continue  # it passes on no more than the supply gives
        passed = network.passed_on(controller.id)
        if passed is None:
            yield network.load_unknown or network.volt_unknown or Unknown("its current is not known", (controller.id,))
        elif passed.amp > controller.output_a * (1 + 1e-9):
            only = " (running current only: no peak_a is given)" if network.running_only else ""
            yield Problem(
                f"controllers/{controller.id}",
                site.at("controllers", controller.id, "output_a"),
                f"{controller.id} passes on {passed.amp:.4g} A when {passed.event}{only}; it is made for "
                f"{controller.output_a:g} A: feed {passed.amp - controller.output_a:.3g} A of it from "
                f"{network.supply.id} past the controller",
                size=Size(passed.amp, controller.output_a, "A"),
            )
