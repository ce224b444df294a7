"""A hand that frees the sash undoes what keeps it from opening further.

Why
    Some fall rules judge the largest position that a hand can bring the sash to. A sash that a
    hand frees from its actuators then opens all the way, whatever stroke is set; a release that
    children cannot work is accepted.
Wrong
    site: {rules: {falls: IRC-R312.2}}
    openings:
      W-11: {type: casement, room: attic, hand_release: hand, child_resistant_release: false}
Right
    Fit a release that children cannot work, or a restrictor beside the actuator.

        openings:
          W-11: {type: casement, room: attic, hand_release: hand, child_resistant_release: true}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import fall_hazards
from zonecfg.figures import Figures
from zonecfg.figures.unread import sashless, unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown

CHECK = Check(
    "hand-release-defeats-limit",
    "error",
    source="the rule set named in site.rules.falls; that the hand-opened position counts is from memory (IRC R312.2)",
    needs=("openings", "actuators", "rooms", "site"),
    over="openings",
    scope=fall_hazards,
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    yield from sashless(site)
    if isinstance(figures.falls, Unknown):
        yield figures.falls
        return
    for key, fall in figures.falls.items():
        opening = site.openings[key]
        if fall.unknown is not None:
            yield fall.unknown
        if fall.demand is None or not fall.limits_gap or opening.screen == "guard":
            continue
        asks = fall.demand.asks
        if opening.limit_by == "restrictor" or not (asks.judges_hand_opened or asks.child_resistant_release):
            continue
        if lost := unread(site, "openings", key, "hand_release", "child_resistant_release", "limit_by"):
            yield lost
        elif opening.hand_release is None:
            yield Unknown("hand_release is not given, and what a hand can open counts here", (key,))
        elif opening.hand_release != "hand" or opening.child_resistant_release:
            continue
        elif opening.child_resistant_release is None:
            yield Unknown("child_resistant_release is not given, and a hand frees the sash", (key,))
        else:
            what, figure = "asks for a release that children cannot work", "child_resistant_release"
            if asks.judges_hand_opened:
                what, figure = "judges the largest position a hand can reach", "judges_hand_opened"
            yield Problem(
                f"openings/{key}",
                site.at("openings", key, "hand_release"),
                f"a hand frees {key} from its actuators, children's hands too, and {fall.rule.id} {what}; a release "
                f"that children cannot work would do{fall.caveat(figure)}",
            )
