"""Two sites to changes: each told once, as what it means."""

from zonecfg.compare.records import of_acceptances, of_records, of_terminators
from zonecfg.compare.rename import Names
from zonecfg.compare.settings import of_links, of_members
from zonecfg.compare.sides import Sides
from zonecfg.compare.things import moved_serials, of_section, renamings
from zonecfg.model.grammar import grammar
from zonecfg.model.site import Site
from zonecfg.results.change import Change


def differences(before: Site, after: Site) -> tuple[list[Change], Names]:
    """List what differs between two sites.

    Parameters
    ----------
    before, after
        The two states, catalogues resolved. Their ``state`` itself, the order of anything, comments and style do not
        count; lists of ids are sets.

    Returns
    -------
    list of Change
        In the order of sections, ids and fields; empty exactly when the two sites are equal.
    dict
        Ids that changed: section to old to new.
    """
    sides = Sides(before, after)
    changes = [
        *renamings(sides),
        *(
            change
            for section in dict.fromkeys((*sides.before.things, *sides.after.things))
            for change in of_section(sides, section)
        ),
        *moved_serials(sides),
        *of_members(sides),
        *of_links(sides),
        *of_terminators(sides),
        *of_records(sides),
        *of_acceptances(sides),
    ]
    changes.sort(key=lambda c: (_rank(c.section), c.section, c.id, c.field or ""))
    return changes, sides.renames


def _rank(section: str) -> int:
    base = section.partition(".")[0]
    order = grammar().order
    return order.index(base) if base in order else len(order)
