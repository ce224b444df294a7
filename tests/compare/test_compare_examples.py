"""The examples under ``examples/compare/``: before, after, and the changes written down by hand."""

from datetime import date
from pathlib import Path

import jsonpatch
import pytest
from ruamel.yaml import YAML

from zonecfg.workflow.compare import compare

ROOT = Path(__file__).parents[2] / "examples" / "compare"
FIELDS = ("kind", "section", "id", "field", "before", "after", "consequence")
SWAPPED = {"added": "removed", "removed": "added", "linked": "unlinked", "unlinked": "linked"}


def changes(before, after):
    return compare(before, after, date(2026, 11, 25)).changes


@pytest.mark.parametrize("case", sorted(path.name for path in ROOT.iterdir()))
def test_changes_are_those_written_down(case):
    folder = ROOT / case
    expected = YAML(typ="safe", pure=True).load((folder / "expected.yaml").read_text("utf-8"))
    found = changes(folder / "before.yaml", folder / "after.yaml")
    told = [{name: getattr(change, name) for name in FIELDS} for change in found.changes]
    for change in told:
        if change["kind"] in {"added", "removed", "recorded"} and change["field"] is None:
            change["before"] = change["after"] = None  # the whole thing, which the files themselves show
    wanted = [{name: change.get(name) for name in FIELDS} for change in expected]
    by_what = lambda change: (change["section"], change["id"], change["field"] or "")  # noqa: E731
    assert sorted(told, key=by_what) == sorted(wanted, key=by_what)


@pytest.mark.parametrize("case", sorted(path.name for path in ROOT.iterdir()))
def test_swapping_the_sides_swaps_the_kinds(case):
    folder = ROOT / case
    there = changes(folder / "before.yaml", folder / "after.yaml")
    back = changes(folder / "after.yaml", folder / "before.yaml")
    kinds = sorted((SWAPPED.get(c.kind, c.kind), c.section) for c in there.changes)
    assert sorted((c.kind, c.section) for c in back.changes) == kinds


@pytest.mark.parametrize("case", sorted(path.name for path in ROOT.iterdir()))
def test_the_patch_turns_one_file_into_the_other(case):
    folder = ROOT / case
    reader = YAML(typ="safe", pure=True)
    before, after = (reader.load((folder / name).read_text("utf-8")) for name in ("before.yaml", "after.yaml"))
    patch = changes(folder / "before.yaml", folder / "after.yaml").patch
    assert jsonpatch.apply_patch(before, list(patch)) == after
