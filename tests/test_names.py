"""One name a thing: no public class or function of the package has the name of another, but for those said here."""

import ast
from collections import defaultdict
from pathlib import Path

import zonecfg

PACKAGE = Path(zonecfg.__file__).parent
SAME_ON_PURPOSE = {
    "render": "one a format, which report/__init__.py picks",
    "written": "blocks as text, and blocks as Markdown",
    "blocks": "one an answer, which report/said/__init__.py picks",
    "problems": "one a check, which the registry finds",
    "read": "a plan's text; and one a kind of sheet, picked by the file's ending",
    "main": "the script's entry, and the module it loads only then",
}
COMMANDS = {path.stem for path in (PACKAGE / "cli").glob("*.py")} & {
    path.stem for path in (PACKAGE / "workflow").glob("*.py")
}


def test_public_names_occur_once():
    """A command's arguments and its work bear the command's name, in cli/ and in workflow/."""
    homes = defaultdict(list)
    for path in sorted(PACKAGE.rglob("*.py")):
        for node in ast.parse(path.read_text("utf-8")).body:
            if isinstance(node, ast.ClassDef | ast.FunctionDef) and not node.name.startswith("_"):
                homes[node.name].append(path.relative_to(PACKAGE).as_posix())
    doubled = {name: paths for name, paths in homes.items() if len(paths) > 1}
    commands = {name for name in COMMANDS if doubled.get(name) == [f"cli/{name}.py", f"workflow/{name}.py"]}
    assert set(doubled) - commands == set(SAME_ON_PURPOSE), doubled
