"""Real ``git merge`` and ``git diff`` with the drivers that ``git-setup --write`` sets."""

import os
import re
import subprocess

import pytest
from repositories import ENVIRONMENT, commit, git, repository, tried
from sites import as_yaml, site_data
from three_sides import chosen, commented

from zonecfg.document.reader import read
from zonecfg.model.grammar import grammar

pytestmark = pytest.mark.needs("git")

BASE = site_data(24)
TEXT = as_yaml(BASE)


def edited(edit):
    data = site_data(24)
    edit(data)
    return as_yaml(data)


def moved(data, member, group):
    for fields in data["groups"].values():
        if member in fields["actuators"]:
            fields["actuators"].remove(member)
    data["groups"][group]["actuators"].insert(4, member)


def stroke(actuator, value):
    return lambda data: data["actuators"][actuator].update(stroke_mm=value)


A, B, *_ = BASE["actuators"]


def branches(folder, ours, theirs, *, drivers=True, text=TEXT):
    repository(folder, drivers=drivers)
    commit(folder, "base", as__designed_yaml=text)
    git(folder, "checkout", "-qb", "work")
    commit(folder, "theirs", as__designed_yaml=theirs)
    git(folder, "checkout", "-q", "main")
    commit(folder, "ours", as__designed_yaml=ours)
    return folder, tried(folder, "git", "merge", "-q", "--no-edit", "work")


def data_of(text):
    return read(text.encode(), "x", grammar().as_written).data


@pytest.mark.parametrize("drivers", [True, False])
def test_neighbouring_lines(tmp_path, drivers):
    """Two people set two actuators that stand one below the other: git's own merge leaves it to a person."""
    folder, done = branches(tmp_path, edited(stroke(A, 200)), edited(stroke(B, 210)), drivers=drivers)
    text = (folder / "as-designed.yaml").read_text("utf-8")
    if not drivers:
        assert done.returncode == 1
        assert "<<<<<<<" in text
        return
    assert done.returncode == 0, done.stdout + done.stderr
    assert git(folder, "status", "--porcelain") == ""
    held = data_of(text)["actuators"]
    assert (held[A]["stroke_mm"], held[B]["stroke_mm"]) == (200, 210)


@pytest.mark.parametrize("drivers", [True, False])
def test_one_actuator_into_two_groups(tmp_path, drivers):
    """Git's own merge calls it clean, and the actuator stands in two groups."""
    member = BASE["groups"]["G-1-2"]["actuators"][3]
    ours, theirs = (edited(lambda data, g=group: moved(data, member, g)) for group in ("G-1-1", "G-1-3"))
    folder, done = branches(tmp_path, ours, theirs, drivers=drivers)
    text = (folder / "as-designed.yaml").read_text("utf-8")
    if not drivers:
        assert done.returncode == 0
        assert text.count(f"- {member}\n") == 2
        assert tried(folder, "zonecfg", "check", "as-designed.yaml").returncode == 1
        return
    assert done.returncode == 1
    assert git(folder, "status", "--porcelain").strip() == "UU as-designed.yaml"
    assert f"{member}: in G-1-1 in ours, in G-1-3 in theirs" in done.stdout + done.stderr
    for side, group in (("ours", "G-1-1"), ("theirs", "G-1-3")):
        groups = data_of(chosen(text, side))["groups"]
        assert [name for name, fields in groups.items() if member in fields["actuators"]] == [group]


def test_a_conflict_is_resolved_as_git_users_do(tmp_path):
    folder, done = branches(tmp_path, edited(stroke(A, 200)), edited(stroke(A, 210)))
    assert done.returncode == 1
    path = folder / "as-designed.yaml"
    path.write_text(chosen(path.read_text("utf-8"), "theirs"), "utf-8")
    commit(folder, "merged")
    assert data_of(path.read_text("utf-8"))["actuators"][A]["stroke_mm"] == 210


def test_comments_and_order_of_ours(tmp_path):
    base = commented(as_yaml(BASE))
    ours = base.replace("# above 3", "# said by ours").replace("stroke_mm: 250", "stroke_mm: 240", 1)
    theirs = edited(lambda data: data["rooms"].update(attic={"use": "other"}))
    folder, done = branches(tmp_path, ours, theirs, text=as_yaml(BASE))
    assert done.returncode == 0
    text = (folder / "as-designed.yaml").read_text("utf-8")
    assert "attic: {use: other}" in text
    assert [line for line in text.splitlines() if "attic" not in line] == ours.splitlines()


def test_rebase_and_cherry_pick_use_it_too(tmp_path):
    folder, _ = branches(tmp_path, edited(stroke(A, 200)), edited(stroke(B, 210)))
    git(folder, "reset", "-q", "--hard", "HEAD~1")
    done = tried(folder, "git", "cherry-pick", "work")
    assert done.returncode == 0, done.stdout + done.stderr


def test_a_merge_with_two_common_ancestors(tmp_path):
    """Two branches that were merged into each other have two bases, which git merges with the driver first."""
    folder, done = branches(tmp_path, edited(stroke(A, 200)), edited(stroke(B, 210)))
    assert done.returncode == 0
    git(folder, "checkout", "-q", "work")
    git(folder, "merge", "-q", "--no-edit", "main~1")
    both = site_data(24)
    stroke(A, 200)(both)
    stroke(B, 210)(both)
    third = list(BASE["actuators"])[2]
    both["actuators"][third]["stroke_mm"] = 220
    commit(folder, "theirs went on", as__designed_yaml=as_yaml(both))
    git(folder, "checkout", "-q", "main")
    done = tried(folder, "git", "merge", "-q", "--no-edit", "work")
    assert done.returncode == 0, done.stdout + done.stderr
    held = data_of((folder / "as-designed.yaml").read_text("utf-8"))["actuators"]
    assert [held[name]["stroke_mm"] for name in (A, B, third)] == [200, 210, 220]


def test_a_file_removed_on_one_side_is_gits_own_matter(tmp_path):
    repository(tmp_path)
    commit(tmp_path, "base", as__designed_yaml=as_yaml(BASE))
    git(tmp_path, "checkout", "-qb", "work")
    git(tmp_path, "rm", "-q", "as-designed.yaml")
    git(tmp_path, "commit", "-qm", "gone")
    git(tmp_path, "checkout", "-q", "main")
    commit(tmp_path, "ours", as__designed_yaml=edited(stroke(A, 200)))
    done = tried(tmp_path, "git", "merge", "-q", "--no-edit", "work")
    assert done.returncode == 1
    assert "modify/delete" in done.stdout
    assert data_of((tmp_path / "as-designed.yaml").read_text("utf-8"))["actuators"][A]["stroke_mm"] == 200


@pytest.mark.parametrize("raw", [b"\0\xff" * 20, b"\xff\xfe"])
def test_a_side_that_is_no_text_leaves_ours_as_it_was(tmp_path, raw):
    repository(tmp_path)
    commit(tmp_path, "base", as__designed_yaml=TEXT)
    git(tmp_path, "checkout", "-qb", "work")
    (tmp_path / "as-designed.yaml").write_bytes(raw)
    commit(tmp_path, "theirs")
    git(tmp_path, "checkout", "-q", "main")
    ours = edited(stroke(A, 200))
    commit(tmp_path, "ours", as__designed_yaml=ours)
    done = tried(tmp_path, "git", "merge", "-q", "--no-edit", "work")
    assert done.returncode == 1
    assert "internal failure" not in done.stderr
    assert git(tmp_path, "status", "--porcelain").strip() == "UU as-designed.yaml"
    assert "stroke_mm: 200" in (tmp_path / "as-designed.yaml").read_text("utf-8", "replace")


def test_a_path_with_a_space_in_a_folder_of_its_own(tmp_path):
    repository(tmp_path)
    house = tmp_path / "the house"
    house.mkdir()
    catalogue = "format: zonecfg-catalogue/1\ntypes: {sensors: {plate: {measures: rain}}}\n"
    head = "format: zonecfg-site/1\nstate: as-designed\nsite: {name: A}\ncatalogue: [types.yaml]\n"
    commit(house, "base", as__designed_yaml=head + "x-a: 1\n", types_yaml=catalogue)
    git(tmp_path, "checkout", "-qb", "work")
    commit(house, "theirs", as__designed_yaml=head + "x-a: 1\nsensors: {R-1: {type: plate}}\n")
    git(tmp_path, "checkout", "-q", "main")
    commit(house, "ours", as__designed_yaml=head + "x-a: 2\n")
    done = tried(tmp_path, "git", "merge", "-q", "--no-edit", "work")
    assert done.returncode == 0, done.stderr
    assert "unknown-reference" not in done.stderr
    assert "sensor-unlinked" in done.stderr


class TestDiff:
    def test_it_shows_what_changed_and_nothing_else(self, tmp_path):
        """Another order, comments and style: nothing. A member in another group: one line out, one in."""
        repository(tmp_path)
        commit(tmp_path, "base", as__designed_yaml=as_yaml(BASE))
        shuffled = dict(reversed(BASE.items()))
        (tmp_path / "as-designed.yaml").write_text(commented(as_yaml(shuffled)), "utf-8")
        assert git(tmp_path, "diff") == "" or not re.search(r"(?m)^[-+](?![-+])", git(tmp_path, "diff"))
        member = BASE["groups"]["G-1-2"]["actuators"][3]
        (tmp_path / "as-designed.yaml").write_text(edited(lambda data: moved(data, member, "G-1-1")), "utf-8")
        lines = re.findall(r"(?m)^[-+](?![-+]).*$", git(tmp_path, "diff"))
        assert lines == [f"-actuator {member} in group: G-1-2", f"+actuator {member} in group: G-1-1"]

    @pytest.mark.parametrize(
        "raw", [b"rooms: [\n", b"\x80\xff", b"a: 1\na: 2\n", b"", b"x\x1b[31m\n", "ü".encode("utf-16")]
    )
    def test_it_never_fails(self, tmp_path, raw):
        repository(tmp_path)
        commit(tmp_path, "base", as__designed_yaml=as_yaml(BASE))
        (tmp_path / "as-designed.yaml").write_bytes(raw)
        shown = git(tmp_path, "diff", "--no-color")
        assert "+# not readable" in shown
        assert "\x1b" not in shown

    def test_added_and_deleted_files(self, tmp_path):
        repository(tmp_path)
        commit(tmp_path, "base", as__designed_yaml=as_yaml(BASE))
        git(tmp_path, "mv", "as-designed.yaml", "as-commissioned.yaml")
        assert "site name: Larkenby Hall" in git(tmp_path, "diff", "--cached", "--no-renames")

    def test_during_a_conflict_it_shows_the_facts_in_dispute(self, tmp_path):
        folder, _ = branches(tmp_path, edited(stroke(A, 200)), edited(stroke(A, 210)))
        shown = git(folder, "diff")
        assert f" +actuator {A} stroke_mm: 200\n" in shown
        assert f"+ actuator {A} stroke_mm: 210\n" in shown
        assert len(shown.splitlines()) < 40


def test_a_driver_that_is_gone_leaves_gits_own_merge(tmp_path):
    """The environment that the driver was set up in is removed: what both changed still stands between markers."""
    folder, _ = branches(tmp_path, edited(stroke(A, 210)), edited(stroke(A, 230)))
    git(folder, "merge", "--abort")
    driver = git(folder, "config", "merge.zonecfg.driver").strip()
    git(folder, "config", "merge.zonecfg.driver", f"/nowhere/python{driver[driver.index(' -m zonecfg') :]}")
    assert tried(folder, "git", "merge", "work").returncode == 1
    text = (folder / "as-designed.yaml").read_text("utf-8")
    assert text.count("<<<<<<<") == text.count(">>>>>>>") == 1
    assert "stroke_mm: 210" in text
    assert "stroke_mm: 230" in text


def test_the_driver_is_found_from_a_shell_without_the_environment(tmp_path):
    """By its interpreter's full name, with a path on which there is no zonecfg."""
    folder, _ = branches(tmp_path, edited(stroke(A, 200)), edited(stroke(B, 210)))
    git(folder, "reset", "-q", "--hard", "HEAD^1")
    done = subprocess.run(
        ["git", "merge", "-q", "--no-edit", "work"],
        cwd=folder, env={**ENVIRONMENT, "PATH": os.defpath}, capture_output=True, check=False,
    )  # fmt: skip
    assert done.returncode == 0
    held = data_of((folder / "as-designed.yaml").read_text("utf-8"))["actuators"]
    assert (held[A]["stroke_mm"], held[B]["stroke_mm"]) == (200, 210)
    assert git(folder, "config", "diff.zonecfg.cachetextconv") == "true\n"
