"""What changed between two states, what it means, and which findings it brings or clears."""

from collections.abc import Iterable
from datetime import date
from pathlib import Path

from zonecfg.compare.differences import differences
from zonecfg.compare.patch import patch
from zonecfg.compare.rename import Names
from zonecfg.compare.worse import grown, renamed
from zonecfg.errors import UnreadableSite
from zonecfg.figures.moves import figure_moves
from zonecfg.results.change import Changes, FigureMove, FindingsMoved, StateRef
from zonecfg.results.comparison import Comparison
from zonecfg.results.finding import Finding
from zonecfg.workflow.check import Checked, check_state, helps, quoted
from zonecfg.workflow.load import Loader
from zonecfg.workflow.plan import state_named


def compare(before: Path, after: Path, today: date) -> Comparison:
    """Compare two site files.

    Parameters
    ----------
    before, after
        Site files.
    today
        The day that acceptances are judged by.

    Raises
    ------
    CannotRead
        A path cannot be opened or is no site file.
    UnreadableSite
        One of the two has faults of reading, so that what it says is not known.
    """
    loader = Loader()
    first, second = (state_named(path, loader) for path in (before, after))
    return compare_states(check_state(first, today), check_state(second, today))


def compare_states(before: Checked, after: Checked) -> Comparison:
    """Compare two states that were read and judged."""
    if before.state.site is None or after.state.site is None:
        raise UnreadableSite("a state that could not be read cannot be compared")
    changes, renames = differences(before.state.site, after.state.site)
    moved = findings_moved(before.findings, after.findings, renames)
    answer = Changes(
        before=StateRef(path=before.state.file, state=before.state.site.state),
        after=StateRef(path=after.state.file, state=after.state.site.state),
        changes=tuple(changes),
        findings=moved,
        figures=_figures_moved(before, after, renames),
        patch=tuple(patch(before.state.document.data, after.state.document.data)),
    )
    told = (*moved.introduced, *moved.cleared)
    places = {**before.state.places, **after.state.places}
    return Comparison(changes=answer, help=helps(told), lines=quoted(told, places))


def _figures_moved(before: Checked, after: Checked, renames: Names) -> tuple[FigureMove, ...]:
    """Figures that differ; a saved copy is no whole plant and has none."""
    whole = all(c.state.site is not None and c.state.site.state != "saved" for c in (before, after))
    if not whole or before.figures is None or after.figures is None:
        return ()
    return figure_moves(before.figures, after.figures, renames)


def findings_moved(before: Iterable[Finding], after: Iterable[Finding], renames: Names) -> FindingsMoved:
    """Tell which open findings are on one side only or got worse; a thing that was renamed keeps its findings."""
    old = {(f.check, renamed(f.about, renames)): f for f in before if f.accepted is None}
    new = {f.identity: f for f in after if f.accepted is None}
    both = ((old[identity], found) for identity, found in new.items() if identity in old)
    return FindingsMoved(
        introduced=tuple(f for identity, f in new.items() if identity not in old),
        cleared=tuple(f for identity, f in old.items() if identity not in new),
        worse=tuple(more for was, now in both if (more := grown(was, now, renames)) is not None),
    )
