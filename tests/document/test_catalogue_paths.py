"""Which catalogue files a plan may name: those inside the repository, else inside the site folder."""

import os
from datetime import date

import pytest

from zonecfg.workflow.check import check

SITE = """\
format: zonecfg-site/1
state: as-designed
site: {{name: Larkenby Hall}}
catalogue: [{}]
"""
CATALOGUE = "format: zonecfg-catalogue/1\ntypes: {}\n"
TODAY = date(2026, 11, 25)


@pytest.fixture
def site(tmp_path):
    """A repository with a site folder in it, and a catalogue on every floor, the one outside too."""
    folder = tmp_path / "repository" / "sites" / "larkenby-hall"
    folder.mkdir(parents=True)
    (tmp_path / "repository" / ".git").mkdir()
    for place in (tmp_path, tmp_path / "repository", folder.parent, folder):
        (place / "equipment.yaml").write_text(CATALOGUE)
    return folder


def found(folder, written, name="as-designed.yaml"):
    """Give check and message of all that is found in a site that names a catalogue."""
    file = folder / name
    file.parent.mkdir(exist_ok=True)
    text = SITE.format(f"'{written}'")
    if file.parent.name == "saved":
        text = text.replace("as-designed", "saved") + "saved: {date: 2026-05-14}\n"
    file.write_text(text)
    return [(f.check, f.line, f.message) for f in check([file], TODAY).findings.findings]


@pytest.mark.parametrize("written", ["equipment.yaml", "./equipment.yaml", "../equipment.yaml", "../../equipment.yaml",
                                     "../larkenby-hall/equipment.yaml"])  # fmt: skip
def test_inside(site, written):
    assert found(site, written) == []


@pytest.mark.parametrize("written", ["../../../equipment.yaml", "../../../../../../../../../etc/hostname",
                                     "../../repository/../../equipment.yaml"])  # fmt: skip
def test_above(site, written):
    ((check_id, line, message),) = found(site, written)
    assert (check_id, line) == ("catalogue-outside-repository", 4)
    assert "outside" in message


@pytest.mark.parametrize("written", ["/etc/hostname", "//server/share/equipment.yaml", "C:/equipment.yaml",
                                     "C:equipment.yaml", r"..\equipment.yaml", r"\\server\share\equipment.yaml",
                                     "file:///etc/hostname"])  # fmt: skip
def test_not_relative_with_forward_slashes(site, written):
    ((check_id, line, message),) = found(site, written)
    assert (check_id, line) == ("catalogue-outside-repository", 4)
    assert "forward slashes" in message


def test_without_a_repository_the_site_folder_is_the_bound(site):
    (site.parent.parent / ".git").rmdir()
    assert found(site, "equipment.yaml") == []
    assert [f[0] for f in found(site, "../equipment.yaml")] == ["catalogue-outside-repository"]


def test_a_worktree_has_a_file_for_its_git_folder(site):
    """git-worktree(1): in a linked working tree .git is a file."""
    (site.parent.parent / ".git").rmdir()
    (site.parent.parent / ".git").write_text("gitdir: ../main/.git/worktrees/a\n")
    assert found(site, "../../equipment.yaml") == []


def test_a_link_that_leaves(site, tmp_path):
    (site / "link.yaml").symlink_to(tmp_path / "equipment.yaml")
    assert [f[0] for f in found(site, "link.yaml")] == ["catalogue-outside-repository"]


def test_a_folder_link_that_leaves(site, tmp_path):
    (site / "stock").symlink_to(tmp_path, target_is_directory=True)
    assert [f[0] for f in found(site, "stock/equipment.yaml")] == ["catalogue-outside-repository"]


def test_a_link_that_stays(site):
    (site / "link.yaml").symlink_to("../equipment.yaml")
    assert found(site, "link.yaml") == []


def test_a_link_to_itself(site):
    (site / "loop.yaml").symlink_to("loop.yaml")
    ((check_id, line, _),) = found(site, "loop.yaml")
    assert check_id in {"unknown-reference", "catalogue-outside-repository"}
    assert line == 4


def test_a_folder(site):
    (site / "types").mkdir()
    ((check_id, _, message),) = found(site, "types")
    assert check_id == "unknown-reference"
    assert "no file types" in message


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
def test_a_pipe_is_not_waited_for(site):
    os.mkfifo(site / "pipe.yaml")
    assert [f[0] for f in found(site, "pipe.yaml")] == ["unknown-reference"]


def test_missing_with_the_nearest_name(site):
    ((check_id, line, message),) = found(site, "equipmnt.yaml")
    assert (check_id, line) == ("unknown-reference", 4)
    assert message == "there is no file equipmnt.yaml; equipment.yaml is the nearest known"


@pytest.mark.parametrize(
    "written", ["a" * 5_000 + ".yaml", "nul\\0.yaml", ".", "..", "equipment.yaml/", "equipment.yaml/x"]
)
def test_odd_names_are_findings(site, written):
    """Whatever the system says to such a name, it is a finding on its line and no failure."""
    results = found(site, written)
    assert all(check_id in {"unknown-reference", "catalogue-outside-repository"} for check_id, _, _ in results)
    assert [line for _, line, _ in results] == [4] * len(results)


def test_a_name_with_a_nul(site):
    file = site / "as-designed.yaml"
    file.write_text(SITE.format(r'"equip\0ment.yaml"'))
    assert [f.check for f in check([file], TODAY).findings.findings] == ["unknown-reference"]


def test_a_saved_copy_is_one_folder_deeper(site):
    """saved/2026-05-14.yaml may name what its site folder may name, and no more."""
    assert found(site, "../equipment.yaml", "saved/2026-05-14.yaml") == []
    (site.parent.parent / ".git").rmdir()
    assert found(site, "../equipment.yaml", "saved/2026-05-14.yaml") == []
    assert [f[0] for f in found(site, "../../equipment.yaml", "saved/2026-05-14.yaml")] == [
        "catalogue-outside-repository"
    ]


@pytest.mark.skipif(os.geteuid() == 0 if hasattr(os, "geteuid") else True, reason="the superuser may read everything")
def test_one_that_may_not_be_opened(site):
    (site / "equipment.yaml").chmod(0)
    ((check_id, _, message),) = found(site, "equipment.yaml")
    assert check_id == "unknown-reference"
    assert "cannot be opened" in message


def test_the_same_catalogue_twice_is_one(site):
    """Two ways to one file define nothing twice."""
    (site / "equipment.yaml").write_text(CATALOGUE.replace("{}", "{actuators: {chain: {stroke_max_mm: 350}}}"))
    file = site / "as-designed.yaml"
    file.write_text(SITE.format("equipment.yaml, ../larkenby-hall/equipment.yaml"))
    assert [f.check for f in check([file], TODAY).findings.findings] == []


def test_a_site_reached_through_a_link(site, tmp_path):
    """The plan's own folder counts, whatever name led to it."""
    assert found(site, "../equipment.yaml") == []
    (tmp_path / "elsewhere").symlink_to(site, target_is_directory=True)
    assert [f.check for f in check([tmp_path / "elsewhere" / "as-designed.yaml"], TODAY).findings.findings] == []
