"""``review --against``: a folder compared with itself at a git revision, in real repositories."""

import json
import os
import subprocess
from pathlib import Path

import pytest
from sites import site_text

pytestmark = pytest.mark.needs("git")

CLEAN = site_text(8)
ENVIRONMENT = {
    **os.environ,
    "GIT_AUTHOR_NAME": "A",
    "GIT_AUTHOR_EMAIL": "a@example.org",
    "GIT_COMMITTER_NAME": "A",
    "GIT_COMMITTER_EMAIL": "a@example.org",
    "GIT_CONFIG_GLOBAL": os.devnull,
    "GIT_CONFIG_SYSTEM": os.devnull,
}


def git(folder, *arguments):
    done = subprocess.run(["git", *arguments], cwd=folder, env=ENVIRONMENT, capture_output=True, text=True, check=True)
    return done.stdout.strip()


def commit(folder, message):
    git(folder, "add", "-A")
    git(folder, "commit", "-qm", message)


@pytest.fixture
def repository(tmp_path, monkeypatch):
    """A repository with one clean site, committed once."""
    folder = tmp_path / "buildings"
    (folder / "tithe-barn").mkdir(parents=True)
    (folder / "tithe-barn" / "as-designed.yaml").write_text(CLEAN, "utf-8")
    git(folder, "init", "-q", "-b", "main")
    commit(folder, "plan")
    monkeypatch.chdir(folder)
    return folder


def since(zonecfg, *arguments):
    done = zonecfg("review", "tithe-barn", *arguments, "--format", "json")
    return done, json.loads(done.out)["against"]


def groups_of(text):
    """The first member line of the plan's first group."""
    lines = text.splitlines()
    start = lines.index("groups:")
    return next(line for line in lines[start:] if line.strip().startswith("- "))


def spoil(folder, name="tithe-barn"):
    """Take the first actuator out of its group: nothing closes it any more."""
    path = folder / name / "as-designed.yaml"
    text = path.read_text("utf-8")
    path.write_text(text.replace(groups_of(text) + "\n", "", 1), "utf-8")


def test_nothing_changed(zonecfg, repository):
    done, answer = since(zonecfg, "--against", "HEAD")
    assert done.status == 0
    assert answer["files"] == []
    assert answer["unchanged"] == 1


def test_a_change_in_the_dirty_tree_is_told_with_its_new_findings(zonecfg, repository):
    spoil(repository)
    done, answer = since(zonecfg, "--against", "HEAD", "--fail-on-new")
    (file,) = answer["files"]
    assert (file["path"], file["status"]) == ("tithe-barn/as-designed.yaml", "changed")
    assert [(c["kind"], c["field"]) for c in file["changes"]] == [("moved", "group")]
    assert "actuator-without-group" in {f["check"] for f in answer["introduced"]}
    assert done.status == 1


def test_an_old_building_is_let_in(zonecfg, repository):
    """Old findings do not fail the run; only what is new since then does."""
    spoil(repository)
    commit(repository, "an old fault")
    path = repository / "tithe-barn" / "as-designed.yaml"
    path.write_text(path.read_text("utf-8") + "x-note: seen\n", "utf-8")
    assert zonecfg("review", "tithe-barn").status == 1
    done, answer = since(zonecfg, "--against", "HEAD", "--fail-on-new")
    assert done.status == 0
    assert answer["introduced"] == []


def test_a_renamed_folder_is_the_same_site(zonecfg, repository):
    git(repository, "mv", "tithe-barn", "old-barn")
    done = zonecfg("review", "old-barn", "--against", "HEAD", "--format", "json")
    (file,) = json.loads(done.out)["against"]["files"]
    assert (file["status"], file["was"], file["changes"]) == ("renamed", "tithe-barn/as-designed.yaml", [])


def test_added_and_removed_files(zonecfg, repository):
    saved = repository / "tithe-barn" / "saved"
    saved.mkdir()
    head = "format: zonecfg-site/1\nstate: saved\nsite: {name: Tithe Barn}\nactuators: {}\nsaved: {date: 2026-05-14}\n"
    (saved / "2026-05-14.yaml").write_text(head, "utf-8")
    _, answer = since(zonecfg, "--against", "HEAD")
    assert [(f["path"], f["status"]) for f in answer["files"]] == [("tithe-barn/saved/2026-05-14.yaml", "added")]
    commit(repository, "a copy")
    (saved / "2026-05-14.yaml").unlink()
    _, answer = since(zonecfg, "--against", "HEAD")
    assert [(f["path"], f["status"]) for f in answer["files"]] == [("tithe-barn/saved/2026-05-14.yaml", "removed")]


@pytest.mark.parametrize("broken_first", [True, False])
def test_a_file_that_does_not_parse_on_one_side(zonecfg, repository, broken_first):
    path = repository / "tithe-barn" / "as-designed.yaml"
    broken = CLEAN.replace("rooms:", "rooms: [", 1)
    path.write_text(broken if broken_first else CLEAN, "utf-8")
    git(repository, "add", "-A")
    git(repository, "commit", "-qm", "one side", "--allow-empty")
    path.write_text(CLEAN if broken_first else broken, "utf-8")
    _, answer = since(zonecfg, "--against", "HEAD")
    (file,) = answer["files"]
    assert "could not be read" in file["because"]
    moved = file["cleared"] if broken_first else file["introduced"]
    assert [f["check"] for f in moved] == ["unreadable-file"]


def test_a_range_leaves_the_tree_aside(zonecfg, repository):
    spoil(repository)
    commit(repository, "a fault")
    path = repository / "tithe-barn" / "as-designed.yaml"
    path.write_text(CLEAN, "utf-8")
    _, answer = since(zonecfg, "--against", "HEAD~1..HEAD")
    assert "actuator-without-group" in {f["check"] for f in answer["introduced"]}


def test_merge_base_leaves_out_what_the_other_branch_did(zonecfg, repository):
    git(repository, "checkout", "-qb", "work")
    git(repository, "checkout", "-q", "main")
    spoil(repository)
    commit(repository, "main went on")
    git(repository, "checkout", "-q", "work")
    _, answer = since(zonecfg, "--against", "merge-base:main")
    assert answer["files"] == []
    _, answer = since(zonecfg, "--against", "main")
    assert len(answer["files"]) == 1


@pytest.mark.parametrize("revision", ["no-such", "--output=x", "HEAD~9", "HEAD..no-such", ""])
def test_a_revision_that_is_none(zonecfg, repository, revision):
    done = zonecfg("review", "tithe-barn", f"--against={revision}")
    assert done.status == 2
    assert "revision" in done.err
    assert "internal failure" not in done.err


def test_a_shallow_clone_says_so(zonecfg, repository, tmp_path, monkeypatch):
    spoil(repository)
    commit(repository, "more")
    git(tmp_path, "clone", "-q", "--depth", "1", repository.as_uri(), "shallow")
    monkeypatch.chdir(tmp_path / "shallow")
    done = zonecfg("review", "tithe-barn", "--against", "HEAD~1")
    assert done.status == 2
    assert "shallow" in done.err


def test_no_repository(zonecfg, tmp_path, monkeypatch):
    (tmp_path / "tithe-barn").mkdir()
    (tmp_path / "tithe-barn" / "as-designed.yaml").write_text(CLEAN, "utf-8")
    monkeypatch.chdir(tmp_path)
    done = zonecfg("review", "tithe-barn", "--against", "HEAD")
    assert done.status == 2
    assert "no git repository" in done.err


def test_fail_on_new_needs_against(zonecfg, repository):
    assert zonecfg("review", "tithe-barn", "--fail-on-new").status == 2


def test_nothing_is_written_to_the_repository(zonecfg, repository):
    before = sorted(path for path in Path().rglob("*") if ".git" not in path.parts)
    zonecfg("review", "tithe-barn", "--against", "HEAD")
    assert sorted(path for path in Path().rglob("*") if ".git" not in path.parts) == before
    assert git(repository, "status", "--porcelain") == ""


def test_text_and_markdown_tell_new_findings_apart_from_old_ones(zonecfg, repository):
    spoil(repository)
    text = zonecfg("review", "tithe-barn", "--against", "HEAD").out
    told = text[text.index("Since HEAD (") : text.index("To be decided")]
    assert "tithe-barn/as-designed.yaml: changed" in told
    assert "taken out of G-1-1" in told
    assert "new error: " in told
    assert "(actuator-without-group)" in told
    markdown = zonecfg("review", "tithe-barn", "--against", "HEAD", "--format", "markdown").out
    told = markdown[markdown.index("## Since HEAD (") :]
    assert "- tithe-barn/as-designed.yaml: changed" in told
    assert told.index("new error: ") < told.index("`actuator-without-group`")
    commit(repository, "kept")
    assert "Nothing differs." in zonecfg("review", "tithe-barn", "--against", "HEAD").out
    assert "Nothing differs." in zonecfg("review", "tithe-barn", "--against", "HEAD", "--format", "markdown").out
    (repository / "tithe-barn" / "as-designed.yaml").write_text(CLEAN, "utf-8")
    assert "cleared error: " in zonecfg("review", "tithe-barn", "--against", "HEAD").out
    assert "cleared error: " in zonecfg("review", "tithe-barn", "--against", "HEAD", "--format", "markdown").out


@pytest.mark.parametrize("fmt", ["text", "markdown"])
def test_a_side_that_cannot_be_read_is_told_in_words(zonecfg, repository, fmt):
    path = repository / "tithe-barn" / "as-designed.yaml"
    path.write_text(CLEAN.replace("rooms:", "rooms: [", 1), "utf-8")
    done = zonecfg("review", "tithe-barn", "--against", "HEAD", "--format", fmt)
    assert "could not be read now" in done.out.replace("\n", " ")
    git(repository, "mv", "tithe-barn", "old-barn")
    path = repository / "old-barn" / "as-designed.yaml"
    path.write_text(CLEAN, "utf-8")
    assert (
        "tithe-barn/as-designed.yaml before" in zonecfg("review", "old-barn", "--against", "HEAD", "--format", fmt).out
    )


def test_which_of_many_sites_changed(zonecfg, repository):
    for name in ("granary", "dovecote"):
        (repository / name).mkdir()
        (repository / name / "as-designed.yaml").write_text(CLEAN, "utf-8")
    spoil(repository, "dovecote")
    commit(repository, "three sites, one of them wrong all along")
    spoil(repository, "granary")
    done = zonecfg("review", ".", "--against", "HEAD", "--fail-on-new", "--format", "json")
    answer = json.loads(done.out)
    assert done.status == 1
    since_of = {site: page["against"] for site, page in answer["pages"].items()}
    assert {site: len(s["files"]) for site, s in since_of.items()} == {"tithe-barn": 0, "granary": 1, "dovecote": 0}
    assert {site: s["unchanged"] for site, s in since_of.items()} == {"tithe-barn": 1, "granary": 0, "dovecote": 1}
    assert {f["file"] for s in since_of.values() for f in s["introduced"]} == {"granary/as-designed.yaml"}
    assert "1 file changed" in zonecfg("review", ".", "--against", "HEAD").out
    annotations = zonecfg("review", ".", "--against", "HEAD", "--format", "github").out
    assert "granary" in annotations
    assert "dovecote" not in annotations
    (repository / "granary" / "as-designed.yaml").write_text(CLEAN, "utf-8")
    assert zonecfg("review", ".", "--against", "HEAD", "--fail-on-new").status == 0
    git(repository, "rm", "-rq", "--cached", "dovecote")
    (repository / "dovecote" / "as-designed.yaml").unlink()
    gone = json.loads(zonecfg("review", ".", "--against", "HEAD", "--format", "json").out)["pages"]["dovecote"]
    assert [file["status"] for file in gone["against"]["files"]] == ["removed"]


def test_a_binary_file_where_a_plan_was(zonecfg, repository):
    path = repository / "tithe-barn" / "as-designed.yaml"
    path.write_bytes(b"\x00\x01\xffPK\x03\x04" * 50)
    done, answer = since(zonecfg, "--against", "HEAD")
    (file,) = answer["files"]
    assert done.status == 1
    assert "could not be read now" in file["because"]
    commit(repository, "binary")
    path.write_text(CLEAN, "utf-8")
    _, answer = since(zonecfg, "--against", "HEAD")
    assert "could not be read at the revision" in answer["files"][0]["because"]


def test_a_submodule_is_somebody_elses_repository(zonecfg, repository):
    """Its files are no part of this one's history; those that lie there now are told as added."""
    sub = repository / "annex"
    sub.mkdir()
    (sub / "as-designed.yaml").write_text(CLEAN, "utf-8")
    git(sub, "init", "-q")
    commit(sub, "its own")
    git(repository, "update-index", "--add", "--cacheinfo", f"160000,{git(sub, 'rev-parse', 'HEAD')},annex")
    git(repository, "commit", "-qm", "a submodule")
    done = zonecfg("review", "tithe-barn", "--against", "HEAD", "--format", "json")
    assert json.loads(done.out)["against"]["files"] == []
    done = zonecfg("review", ".", "--against", "HEAD", "--format", "json")
    pages = json.loads(done.out)["pages"]
    assert [f["status"] for f in pages["annex"]["against"]["files"]] == ["added"]
    assert done.err == ""


def test_a_file_that_left_the_site_is_removed_from_it(zonecfg, repository):
    (repository / "archive").mkdir()
    git(repository, "mv", "tithe-barn/as-designed.yaml", "archive/old.yaml")
    (repository / "tithe-barn" / "saved").mkdir(parents=True)
    head = "format: zonecfg-site/1\nstate: saved\nsite: {name: Tithe Barn}\nactuators: {}\nsaved: {date: 2026-05-14}\n"
    (repository / "tithe-barn" / "saved" / "2026-05-14.yaml").write_text(head, "utf-8")
    git(repository, "add", "-A")
    _, answer = since(zonecfg, "--against", "HEAD")
    gone = {f["path"]: f for f in answer["files"]}["tithe-barn/as-designed.yaml"]
    assert gone["status"] == "removed"
    assert "archive/old.yaml" in gone["because"]


@pytest.mark.parametrize("fmt", ["text", "markdown", "comment"])
def test_of_many_sites_the_new_findings_and_the_lost_sites_are_told(zonecfg, repository, fmt):
    for name in ("granary", "dovecote"):
        (repository / name).mkdir()
        (repository / name / "as-designed.yaml").write_text(CLEAN, "utf-8")
    commit(repository, "three sites")
    spoil(repository, "granary")
    git(repository, "rm", "-rq", "dovecote")
    told = zonecfg("review", ".", "--against", "HEAD", "--format", fmt).out
    assert "taken out of G-1-1" in told
    assert "actuator-without-group" in told
    assert "dovecote" in told
    assert "removed" in told
    assert "nothing of it is left" in told


def test_only_what_is_new_fails_a_test_report(zonecfg, repository):
    from junitparser import JUnitXml

    spoil(repository)
    commit(repository, "wrong all along")
    done = zonecfg("review", "tithe-barn", "--against", "HEAD", "--fail-on-new", "--format", "junit")
    assert done.status == 0
    assert JUnitXml.fromstring(done.out.encode()).failures == 0
    assert "actuator-without-group" in done.out
    path = repository / "tithe-barn" / "as-designed.yaml"
    path.write_text(path.read_text("utf-8").replace("stroke_mm: 300", "stroke_mm: 900", 1), "utf-8")
    done = zonecfg("review", "tithe-barn", "--against", "HEAD", "--fail-on-new", "--format", "junit")
    assert done.status == 1
    assert JUnitXml.fromstring(done.out.encode()).failures >= 1
    sarif = json.loads(zonecfg("review", "tithe-barn", "--against", "HEAD", "--format", "sarif").out)
    states = {r["ruleId"]: r["baselineState"] for r in sarif["runs"][0]["results"]}  # SARIF 2.1.0, 3.27.24
    assert states["actuator-without-group"] == "unchanged"
    assert "new" in states.values()
    alone = zonecfg("review", "tithe-barn", "--format", "junit")
    assert JUnitXml.fromstring(alone.out.encode()).failures > JUnitXml.fromstring(done.out.encode()).failures
