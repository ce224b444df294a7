"""Lists of survivors: how they are read, and that those here are true as far as it takes no mutants to tell."""

from pathlib import Path

import pytest
from listed import FOLDER, Survivor, as_entry, from_diff, functions_of, list_of, read_list
from run import PACKAGES

ROOT = Path(__file__).parents[2]
LISTS = sorted(FOLDER.glob("*.yaml"))
ONE = Survivor("zonecfg/compare/match.py pairs", "strict=True", "strict=False")
DIFF = """\
# zonecfg.compare.match.xǁPairsǁof__mutmut_3: survived
--- zonecfg/compare/match.py
+++ zonecfg/compare/match.py
@@ -1,5 +1,4 @@
 def of(self):
     x = 1
-    found = call(
-        1,
+    found = call(
         2,
     )
"""


def test_what_is_printed_is_an_entry_but_for_its_why() -> None:
    printed = as_entry([ONE, ONE._replace(was="a: 'b'  # c", now="")])
    assert read_list(printed.replace("why: null", "why: 'no: none'")) == [ONE, ONE._replace(was="a: 'b'  # c", now="")]
    with pytest.raises(ValueError, match="needs why"):
        read_list(printed)


@pytest.mark.parametrize(
    "text",
    [
        "- mutants: []",
        "- {why: '', mutants: []}",
        "- {why: a, mutants: [], more: b}",
        "- {why: a, mutants: [{in: b, was: c}]}",
        "- {why: a, mutants: [{in: b, was: c, now: 1}]}",
    ],
)
def test_a_list_that_says_too_little_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="needs"):
        read_list(text)


def test_a_diff_is_read_as_lines_and_a_place() -> None:
    assert from_diff("zonecfg.compare.match.xǁPairsǁof__mutmut_3", DIFF) == Survivor(
        "zonecfg/compare/match.py Pairs.of", "found = call( / 1,", "found = call("
    )
    assert from_diff("zonecfg.compare.match.x__pairs_of__mutmut_3", DIFF).where == "zonecfg/compare/match.py _pairs_of"


@pytest.mark.parametrize("path", LISTS, ids=lambda path: path.stem)
def test_every_list_names_functions_that_are_there(path: Path) -> None:
    packages = [paths for package, (paths, _) in PACKAGES.items() if list_of(package) == path]
    survivors = read_list(path.read_text("utf-8"))
    assert len(set(survivors)) == len(survivors), "a mutant is listed twice"
    for survivor in survivors:
        module, function = survivor.where.split(" ")
        assert any(module.startswith(tuple(paths)) for paths in packages), f"{module} is not mutated"
        assert function in functions_of((ROOT / module).read_text("utf-8")), survivor.where
