"""``zonecfg schema -o``, and the first line that points an editor to a schema."""

import json
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from zonecfg.model.schemas import SCHEMAS
from zonecfg.workflow.schemas import MODELINE, pointing

TEXT = "format: zonecfg-site/1\n"


@pytest.fixture
def here(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    Path(".git").mkdir()
    return tmp_path


def pointed(path):
    """The schema that a plan's first line leads to, as an editor finds it."""
    line = path.read_text("utf-8").splitlines()[0]
    assert line.startswith(MODELINE), line
    return (path.parent / line.removeprefix(MODELINE)).resolve()


def test_all_schemas_into_a_folder(zonecfg, here):
    done = zonecfg("schema", "-o", "schemas")
    assert done.status == 0
    assert done.out.splitlines() == sorted(f"schemas/{name}.schema.json" for name in SCHEMAS)
    assert f"{MODELINE}schemas/site.schema.json" in done.err
    for line in done.out.splitlines():
        Draft202012Validator.check_schema(json.loads(Path(line).read_text("utf-8")))


def test_again_is_no_harm_and_another_file_stays(zonecfg, here):
    zonecfg("schema", "-o", "schemas")
    assert zonecfg("schema", "-o", "schemas").status == 0
    Path("schemas/site.schema.json").write_text("{}", "utf-8")
    assert zonecfg("schema", "-o", "schemas").status == 2
    assert Path("schemas/site.schema.json").read_text("utf-8") == "{}"
    assert zonecfg("schema", "-o", "schemas", "--force").status == 0
    Path("file").touch()
    assert zonecfg("schema", "-o", "file").status == 2


@pytest.mark.parametrize("folder", ["house", "a/b c/house", "."])
def test_new_points_to_the_schemas_above(zonecfg, here, folder):
    zonecfg("schema", "-o", "schemas")
    assert zonecfg("new", folder).status == 0
    assert pointed(Path(folder, "as-designed.yaml")) == here.resolve() / "schemas" / "site.schema.json"
    assert pointed(Path(folder, "equipment.yaml")) == here.resolve() / "schemas" / "catalogue.schema.json"
    assert zonecfg("check", folder).status == 0


def test_new_without_schemas_points_nowhere(zonecfg, here):
    """A line that leads to no file makes editors complain; so there is none."""
    zonecfg("new", "house")
    assert MODELINE not in Path("house/as-designed.yaml").read_text("utf-8")


def test_no_further_up_than_the_repository(zonecfg, here):
    zonecfg("schema", "-o", "schemas")
    Path("inner/.git").mkdir(parents=True)
    zonecfg("new", "inner/house")
    assert MODELINE not in Path("inner/house/as-designed.yaml").read_text("utf-8")


def test_a_copy_in_another_folder_points_to_the_same_file(here):
    Path("own").mkdir()
    Path("own/site.schema.json").touch()
    text = f"{MODELINE}../own/site.schema.json\n{TEXT}"
    Path("plans").mkdir()
    moved = pointing(text, Path("as-built/b/as-commissioned.yaml"), "site", Path("plans/as-designed.yaml"))
    assert moved == f"{MODELINE}../../own/site.schema.json\n{TEXT}"


@pytest.mark.parametrize("line", [f"{MODELINE}https://example.org/site.json\n", f"{MODELINE}gone.json\n", "", "# x\n"])
def test_what_leads_nowhere_we_know_stays(here, line):
    assert pointing(line + TEXT, Path("b/x.yaml"), "site", Path("a/x.yaml")) == line + TEXT
