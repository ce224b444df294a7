"""``zonecfg git-setup``: told, done, done once, and refused where there is no repository."""

import os
import shlex
from pathlib import Path

import pytest
from repositories import ENVIRONMENT, git, repository, tried

pytestmark = pytest.mark.needs("git")

SITE = "format: zonecfg-site/1\nstate: as-designed\nsite: {name: A}\n"
CATALOGUE = "format: zonecfg-catalogue/1\ntypes: {}\n"


@pytest.fixture
def top(tmp_path, monkeypatch):
    for name in ("GIT_CONFIG_GLOBAL", "GIT_CONFIG_SYSTEM", "PATH"):
        monkeypatch.setenv(name, ENVIRONMENT[name])
    folder = repository(tmp_path / "buildings", drivers=False)
    house = folder / "the house"
    (house / "saved").mkdir(parents=True)
    for name, text in (("as-designed.yaml", SITE), ("saved/2026-05-14.yaml", SITE), ("equipment.yaml", CATALOGUE),
                       ("variant [b].yaml", SITE), ("notes.yaml", "a: 1\n")):  # fmt: skip
        (house / name).write_text(text, "utf-8")
    monkeypatch.chdir(folder)
    return folder


def drivers(folder, *paths):
    """What git itself says of files."""
    told = git(folder, "check-attr", "-z", "diff", "merge", "--", *paths).split("\0")
    values = [told[i : i + 3] for i in range(0, len(told) - 2, 3)]
    return {path: {v for p, _, v in values if p == path} for path in paths}


def test_told_and_nothing_written(zonecfg, top):
    done = zonecfg("git-setup")
    assert done.status == 0
    assert not Path(".gitattributes").exists()
    assert tried(top, "git", "config", "--local", "--get-regexp", "zonecfg").returncode == 1
    for line in done.out.splitlines():
        if line.strip().startswith("git config"):
            assert shlex.split(line)[:2] == ["git", "config"]


def test_what_is_told_is_what_is_done(zonecfg, top):
    """The lines and commands printed, put in by hand, leave nothing to do."""
    told = [line.strip() for line in zonecfg("git-setup").out.splitlines()]
    Path(".gitattributes").write_text("\n".join(line for line in told if "merge=zonecfg" in line) + "\n", "utf-8")
    for line in told:
        if line.startswith("git config"):
            git(top, *shlex.split(line)[1:])
    assert zonecfg("git-setup", "--write").out == "Nothing to do: all of it stands there already.\n"


def test_done_once(zonecfg, top):
    Path(".gitattributes").write_bytes(b"*.png binary")
    assert zonecfg("git-setup", "the house", "--write").status == 0
    first = Path(".gitattributes").read_bytes()
    assert first.startswith(b"*.png binary\nas-designed.yaml diff=zonecfg merge=zonecfg\n")
    assert zonecfg("git-setup", "--write").out == "Nothing to do: all of it stands there already.\n"
    assert Path(".gitattributes").read_bytes() == first
    assert "all there" in zonecfg("git-setup").out


def test_which_files_git_takes_for_plans(zonecfg, top):
    zonecfg("git-setup", "--write")
    ours, none = {"zonecfg"}, {"unspecified"}
    assert drivers(
        top, "as-designed.yaml", "a/b/as-commissioned.yml", "saved/x.yaml", "a/saved/2026-05-14.yaml", "the house/equipment.yaml",
        "the house/variant [b].yaml", "the house/variant b.yaml", "the house/notes.yaml", "README.md", "a/saved/x.txt",
    ) == {
        "as-designed.yaml": ours, "a/b/as-commissioned.yml": ours, "saved/x.yaml": ours, "a/saved/2026-05-14.yaml": ours,
        "the house/equipment.yaml": ours, "the house/variant [b].yaml": ours, "the house/variant b.yaml": none,
        "the house/notes.yaml": none, "README.md": none, "a/saved/x.txt": none,
    }  # fmt: skip


def test_a_name_that_others_have_too_is_meant_by_its_path(zonecfg, top):
    (top / "equipment.yaml").write_text("a: 1\n", "utf-8")
    zonecfg("git-setup", "--write")
    assert drivers(top, "equipment.yaml", "the house/equipment.yaml") == {
        "equipment.yaml": {"unspecified"},
        "the house/equipment.yaml": {"zonecfg"},
    }


def test_another_setting_is_replaced_and_told(zonecfg, top):
    git(top, "config", "diff.zonecfg.textconv", "cat")
    assert "(was cat)" in zonecfg("git-setup", "--write").out
    assert git(top, "config", "diff.zonecfg.textconv").strip().endswith(" -m zonecfg textconv")


def test_off_the_path_the_program_is_named_in_full(zonecfg, top, monkeypatch):
    monkeypatch.setenv("PATH", os.path.dirname(tried(top, "sh", "-c", "command -v git").stdout.strip()))  # noqa: PTH120
    zonecfg("git-setup", "--write")
    command = git(top, "config", "diff.zonecfg.textconv").strip()
    assert command.endswith(" -m zonecfg textconv")
    done = tried(top, "sh", "-c", f'{command} "the house/as-designed.yaml"')
    assert done.stdout.startswith("format: zonecfg-site/1\n")


def test_no_repository(zonecfg, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("GIT_CEILING_DIRECTORIES", str(tmp_path.parent))
    for arguments in ([], ["--write"], ["no-such"]):
        done = zonecfg("git-setup", *arguments)
        assert (done.status, done.out, done.err.count("\n")) == (2, "", 1)
    assert "no git repository" in zonecfg("git-setup").err
    assert list(tmp_path.iterdir()) == []


def test_a_bare_repository(zonecfg, tmp_path, monkeypatch):
    git(tmp_path, "init", "-q", "--bare", "store")
    monkeypatch.chdir(tmp_path / "store")
    done = zonecfg("git-setup", "--write")
    assert (done.status, done.err.count("\n")) == (2, 1)


def test_no_git(zonecfg, top, monkeypatch):
    monkeypatch.setenv("PATH", "")
    done = zonecfg("git-setup")
    assert (done.status, done.err) == (2, "zonecfg: git is not installed, and this needs it\n")
