"""What somebody on a ladder needs to be told: short, in the order of the work, and only what this site has."""

from collections.abc import Iterator, Sequence

from msgspec import Struct

from zonecfg.figures import Figures
from zonecfg.model.site import Site

_PIVOT_BELOW_MM = 500  # where the type says nothing: common practice, as in sash-needs-pivot-brackets
_MOST_NAMED = 12


class Advice(Struct, frozen=True):
    """Cautions first, then the steps."""

    cautions: tuple[str, ...]
    steps: tuple[str, ...]


def advice(site: Site, figures: Figures) -> Advice:
    """Give the cautions and steps of fitting for one site.

    Isolating and proving dead: EN 50110-1, from memory. Resistors at both ends: ANSI/TIA/EIA-485-A. The rest is common
    practice, but for what the plan itself says.
    """
    return Advice(tuple(_cautions(site)), tuple(_steps(site, figures)))


def _cautions(site: Site) -> Iterator[str]:
    yield "Isolate the mains and the battery, and prove them dead, before any connection is made or undone."
    yield "Keep hands, tools and faces clear of a sash that can move: rain, wind or a fire command may move it."
    yield "Work at height: local rules for ladders, towers and fall protection come first. Secure the sash and tools."
    special = [o.id for o in site.openings.values() if o.smoke_vent]
    escape = [o.id for o in site.openings.values() if o.escape]
    which = f" Smoke vents: {first_named(special)}." if special else ""
    which += f" Escape windows: {first_named(escape)}." if escape else ""
    yield "Smoke vents and escape windows follow the fire strategy; change nothing on them without its author." + which


def _steps(site: Site, figures: Figures) -> Iterator[str]:
    yield "Compare id, opening and type with the label before anything is fixed. Write down the serial."
    stays = [o.id for o in site.openings.values() if o.stays == "friction"]
    yield "Only non-friction stays on the sash; take friction stays off." + (
        f" Planned with: {first_named(stays)}." * bool(stays)
    )
    locks = [o.id for o in site.openings.values() if o.lock == "hand"]
    yield "Take hand locks off, or fix them open." + (f" Planned with: {first_named(locks)}." * bool(locks))
    short = _short_sashes(site, figures)
    yield "Pivot brackets where a sash is short from hinge to edge." + (f" Here: {first_named(short)}." * bool(short))
    yield "Set the stroke before power is switched on; both actuators of a pair alike."
    if site.cables:
        yield "A resistor at both ends of each bus and nowhere else: " + (
            f"{first_named(list(site.terminators))}." if site.terminators else "the plan names none yet."
        )
    yield "Let the cable hang below its entry, and seal the entry."
    yield "Measure the resistance across the bus with the supply off, then switch on."
    yield "Calibrate as the maker says, nobody near the sash. Then measure stroke, gap and voltage."
    yield "Walk test: each actuator by itself, then each group; every window of it moves, and no other."


def _short_sashes(site: Site, figures: Figures) -> list[str]:
    found = []
    for opening in site.openings.values():
        known = figures.openings[opening.id]
        if opening.pivot_brackets:
            found.append(opening.id)
        elif known.levers is not None and known.actuators:
            least = [site.actuators[a].hinge_to_edge_min_mm or _PIVOT_BELOW_MM for a in known.actuators]
            if known.levers.swing_mm < max(least):
                found.append(opening.id)
    return found


def first_named(ids: Sequence[str]) -> str:
    """List ids; beyond a dozen the rest is counted."""
    rest = len(ids) - _MOST_NAMED
    return ", ".join(ids[:_MOST_NAMED]) + (f" and {rest} more" if rest > 0 else "")
