"""A fixed screen stands before a window that people leave through in a fire.

Why
    A guard keeps people from falling out, and from getting out.
Wrong
    openings:
      W-21: {type: casement, room: bedroom, escape: true, screen: guard}
Right
    Fit a screen that opens without a tool, and say so.

        openings:
          W-21: {type: casement, room: bedroom, escape: true, screen: guard, screen_opens: true}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import escapes
from zonecfg.figures import Figures
from zonecfg.figures.unread import undeclared, unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown

CHECK = Check(
    "guard-before-escape",
    "error",
    source="common practice: a way out is not barred",
    needs=("openings",),
    over="openings",
    scope=escapes,
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    yield from undeclared(site, "escape")
    for opening in site.openings.values():
        if lost := unread(site, "openings", opening.id, "escape", "screen", "screen_opens"):
            yield lost
        elif opening.escape and opening.screen == "guard" and not opening.screen_opens:
            said = "" if opening.screen_opens is False else " that is not said to open"
            yield Problem(
                f"openings/{opening.id}",
                site.at("openings", opening.id, "screen"),
                f"{opening.id} is an escape window behind a guard screen{said}; fit one that opens without a tool",
            )
