"""What differs inside a value of the user's own: deepdiff finds it, the library's import waits until then."""

import subprocess
import sys
from datetime import date

import pytest

from zonecfg.compare.inside import inner_changes
from zonecfg.workflow.compare import compare


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [
        ({"owner": {"phone": "12"}}, {"owner": {"phone": "13"}}, "owner.phone 13 (was 12)"),
        ({"a": 1}, {"a": 1, "b": [2, 3]}, "b 2 and 3 (not given before)"),
        ({"a": 1, "b": 2}, {"a": 1}, "b no longer given (was 2)"),
        (["x", "y"], ["x", "z"], "1 z (was y)"),
        ("x", "y", None),
        ({"a": 1}, ["a"], None),
    ],
)
def test_what_is_said(before, after, said):
    assert inner_changes(before, after) == said


def test_a_comparison_says_it(tmp_path):
    head = "format: zonecfg-site/1\nstate: as-designed\nsite: {name: Old Granary}\n"
    for name, number in (("a", 12), ("b", 13)):
        (tmp_path / f"{name}.yaml").write_text(f"{head}x-hooks: {{cabinet: {{hook: {number}, tag: red}}}}\n", "utf-8")
    (change,) = compare(tmp_path / "a.yaml", tmp_path / "b.yaml", date(2026, 11, 25)).changes.changes
    assert "cabinet.hook 13 (was 12)" in change.text or "hook 13 (was 12)" in change.text
    assert "tag" not in change.text


def test_the_library_is_imported_only_then():
    code = "import sys, zonecfg.workflow.compare; sys.exit('deepdiff' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
