"""Fields that stand in a plan and could not be read: they are not known, which is not the same as not there."""

from collections.abc import Iterator

from zonecfg.model.site import Site
from zonecfg.results.finding import Unknown


def sashless(site: Site) -> Iterator[Unknown]:
    """Say which actuators may move any sash, because their opening could not be read; nearly always nothing."""
    if site.sashless:
        yield Unknown("it is not known which opening they move", site.sashless)


def unread(site: Site, section: str, thing: str, *fields: str) -> Unknown | None:
    """Say which of a thing's fields were refused; None where none was, which is nearly always."""
    if not site.unknown:
        return None
    if f"{section}/{thing}" in site.unknown:
        return Unknown(f"one of the {section} could not be read", (thing,))
    lost = [field for field in fields if f"{section}/{thing}/{field}" in site.unknown]
    return Unknown(f"{' and '.join(lost)} could not be read", (thing,)) if lost else None


def undeclared(site: Site, function: str) -> Iterator[Unknown]:
    """Say once of a site that no opening states a function, where some are moved; once one does, absence means no."""
    moved = [opening for opening in site.openings.values() if site.actuators_of.get(opening.id)]
    if moved and all(getattr(opening, function) is None for opening in site.openings.values()):
        yield Unknown(f"{function} is stated of no opening")
