"""A sash that actuators move has a lock worked by hand.

Why
    The actuator does not know that somebody locked it: it pulls until the lock, the bracket or
    the chain gives way.
Wrong
    openings:
      W-01: {type: casement, room: office, lock: hand}
Right
    Take the lock out, or have a motor lock that the controller opens first.

        openings:
          W-01: {type: casement, room: office, lock: none}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import moved
from zonecfg.figures import Figures
from zonecfg.figures.unread import sashless
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown
from zonecfg.results.words import listed

CHECK = Check(
    "hand-lock-fitted", "error", source="common practice", needs=("openings", "actuators"), over="openings", scope=moved
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    yield from sashless(site)
    for opening, actuators in site.actuators_of.items():
        if opening not in site.openings:
            continue
        lock = site.openings[opening].lock
        if lock is None:
            yield Unknown("lock of the sash is not given", (opening,))
        elif lock == "hand":
            yield Problem(
                f"openings/{opening}",
                site.at("openings", opening, "lock"),
                f"{opening} can be locked by hand, and {listed(actuators)} would pull against it; "
                "take the lock out, or have one that a motor works",
            )
