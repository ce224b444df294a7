"""Pull requests and folders of strangers: what is committed is what is judged, and nothing outside is read."""

import json
import os
import signal
import subprocess
import sys
import threading
from pathlib import Path

import pytest
import xlsxwriter
from hypothesis import given
from hypothesis import strategies as st
from sites import site_text
from test_against import CLEAN, commit, git, repository, spoil  # noqa: F401  (the fixture)

from zonecfg.errors import CannotWrite, UnknownName, UnreadableSheet, WorkerLost
from zonecfg.results.nearest import did_you_mean, seek_anew
from zonecfg.results.signs import commandless, printable
from zonecfg.schema.fault import SchemaFault
from zonecfg.schema.pruning import pruned
from zonecfg.sheets.as_text import guarded, unguarded
from zonecfg.sheets.workbook import formulas
from zonecfg.workflow.revisions import lay_out, span
from zonecfg.workflow.spread import Crew
from zonecfg.workflow.write import write_bytes

ROOT = Path(__file__).parents[2]
PASSWORDS = "root:x:0:0:root\nformat: zonecfg-site/1\n"


def blobs(folder, revision):
    """Name and content of every plan of a commit, by git's own plumbing, one call a file."""
    names = git(folder, "ls-tree", "-r", "--name-only", revision).splitlines()
    raw = {}
    for name in names:
        if name.endswith(".yaml"):
            shown = subprocess.run(
                ["git", "cat-file", "blob", f"{revision}:{name}"], cwd=folder, capture_output=True, check=True
            )
            raw[name] = shown.stdout
    return raw


@pytest.mark.needs("git")
class TestGit:
    """Git shows what is committed, and nothing else."""

    @pytest.mark.parametrize(
        "attributes",
        ["*.yaml export-ignore\n", "*.yaml export-subst\n", "*.yaml filter=evil\n", "*.yaml text eol=crlf\n",
         "tithe-barn export-ignore\n"],
    )  # fmt: skip
    def test_no_attribute_hides_or_changes_a_plan(self, repository, tmp_path, attributes):  # noqa: F811
        plan = Path("tithe-barn/as-designed.yaml")
        plan.write_text(CLEAN + "# $Format:%H$\n", "utf-8")
        Path(".gitattributes").write_text(attributes, "utf-8")
        git(repository, "config", "filter.evil.smudge", "sed s/300/30/")
        commit(repository, "attributes")
        into = tmp_path / "laid-out"
        into.mkdir()
        lay_out(repository, span(repository, "HEAD").before, into)
        laid = {p.relative_to(into).as_posix(): p.read_bytes() for p in into.rglob("*.yaml")}
        assert laid == blobs(repository, "HEAD")

    def test_a_broken_plan_cannot_be_hidden(self, zonecfg, repository):  # noqa: F811
        git(repository, "checkout", "-q", "-b", "theirs")
        spoil(repository)
        Path(".gitattributes").write_text("*.yaml export-ignore\n", "utf-8")
        commit(repository, "broken and hidden")
        done = zonecfg("review", "tithe-barn", "--against", "main...theirs", "--format", "json", "--fail-on-new")
        (file,) = json.loads(done.out)["against"]["files"]
        assert (done.status, file["status"]) == (1, "changed")

    def test_a_link_in_a_tree_is_a_link(self, zonecfg, repository):  # noqa: F811
        Path("tithe-barn/as-commissioned.yaml").symlink_to("/etc/passwd")
        commit(repository, "a link out")
        done = zonecfg("review", "tithe-barn", "--against", "HEAD~1..HEAD")
        assert "root:" not in done.out + done.err
        assert "leads outside" in done.err + done.out.replace("\n", " ")

    def test_a_hook_s_variables_do_not_lead_elsewhere(self, zonecfg, repository, tmp_path, monkeypatch):  # noqa: F811
        other = tmp_path / "other"
        other.mkdir()
        git(other, "init", "-q")
        for name, value in (("GIT_DIR", other / ".git"), ("GIT_WORK_TREE", other), ("GIT_INDEX_FILE", other / "index")):
            monkeypatch.setenv(name, str(value))
        done = zonecfg("review", "tithe-barn", "--against", "HEAD", "--format", "json")
        assert json.loads(done.out)["against"]["unchanged"] == 1

    def test_what_is_too_large_is_refused_before_it_is_read(self, repository, tmp_path, monkeypatch):  # noqa: F811
        monkeypatch.setattr("zonecfg.workflow.revisions._MOST_BYTES", 100)
        from zonecfg.workflow.revisions import GitRefuses

        with pytest.raises(GitRefuses, match="are the most"):
            lay_out(repository, "HEAD", tmp_path)


class TestOutside:
    """Nothing that a link takes out of the repository is read, or quoted."""

    @pytest.fixture
    def folder(self, tmp_path):
        (tmp_path / "secret").write_text(PASSWORDS, "utf-8")
        site = tmp_path / "repository" / "barn"
        site.mkdir(parents=True)
        (tmp_path / "repository" / ".git").mkdir()
        return site

    def test_a_plan_that_is_a_link_out(self, zonecfg, folder, tmp_path):
        (folder / "as-designed.yaml").symlink_to(tmp_path / "secret")
        for given_path in (folder, folder / "as-designed.yaml"):
            done = zonecfg("check", given_path)
            assert done.status == 2
            assert "leads outside repository/" in done.err
            assert "root:" not in done.out + done.err

    def test_a_link_within_is_followed(self, zonecfg, folder):
        (folder.parent / "plans").mkdir()
        (folder.parent / "plans" / "barn.yaml").write_text(CLEAN, "utf-8")
        (folder / "as-designed.yaml").symlink_to("../plans/barn.yaml")
        assert zonecfg("check", folder, "--fail-on", "error").status == 0

    @pytest.mark.parametrize("kind", ["dangling", "fifo"])
    def test_what_is_named_like_a_plan_and_is_none_is_told(self, zonecfg, folder, kind):
        (folder / "barn.yaml").write_text(CLEAN, "utf-8")
        path = folder / "as-commissioned.yaml"
        if kind == "fifo":
            os.mkfifo(path)
        else:
            path.symlink_to("nowhere.yaml")
        done = zonecfg("check", folder)
        assert (done.status, "as-commissioned.yaml" in done.err) == (2, True)

    def test_a_pipe_is_never_waited_for(self, zonecfg, tmp_path):
        os.mkfifo(tmp_path / "pipe.yaml")
        for command in (("textconv",), ("merge",)):
            paths = [tmp_path / "pipe.yaml"] * (3 if command == ("merge",) else 1)
            more = ("-o", tmp_path / "out.yaml") if command == ("merge",) else ()
            assert "not a regular file" in zonecfg(*command, *paths, *more).err

    def test_a_plan_behind_much_comment_or_with_a_misspelt_format_is_found(self, zonecfg, folder):
        (folder / "long.yaml").write_text("# words\n" * 20_000 + CLEAN, "utf-8")
        (folder / "odd.yaml").write_text(CLEAN.replace("zonecfg-site/1", "zonecfg-sites/1"), "utf-8")
        files = {
            f["path"].rsplit("/", 1)[-1] for f in json.loads(zonecfg("check", folder, "--format", "json").out)["files"]
        }
        assert files == {"long.yaml", "odd.yaml"}

    def test_no_device_is_replaced(self, tmp_path):
        os.mkfifo(tmp_path / "pipe")
        with pytest.raises(CannotWrite, match="no regular file"):
            write_bytes(tmp_path / "pipe", b"x", force=True)


def test_two_writers_end_as_one_of_both(tmp_path):
    """Read, change, write, from many threads: no value that was said to be written is lost."""
    path = tmp_path / "count.yaml"
    path.write_bytes(b"")
    kept = []

    def add(word):
        while True:
            old = path.read_bytes()

            def unchanged(_, old=old):
                if path.read_bytes() != old:
                    raise CannotWrite("changed")

            try:
                write_bytes(path, old + word, force=True, before=unchanged)
            except CannotWrite:
                continue
            kept.append(word)
            return

    threads = [threading.Thread(target=add, args=(f"{n:02}\n".encode(),)) for n in range(24)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(path.read_bytes().splitlines(keepends=True)) == sorted(kept)
    assert len(kept) == 24


@given(st.text(alphabet="x'=+-@;,|\t \n1", max_size=12))
def test_no_cell_holds_a_formula_of_any_list(text):
    """Split at the separators of any locale, no part begins with a sign that makes a formula; and nothing is lost."""
    written = guarded(text)
    assert unguarded(written) == text
    for separator in ";,|\t\n":
        assert not any(part.strip(" ").startswith(("=", "+", "-", "@")) for part in written.split(separator))


COMMAND_V2 = "::"
COMMAND_V1 = "##["
"""How GitHub's runner finds commands in what is printed (actions/runner, ActionCommand): at a line's start, anywhere."""


@given(st.text(alphabet="#[:] aerror\n", max_size=30))
def test_no_line_is_a_command_to_a_runner(text):
    for line in map(commandless, printable(text).splitlines()):
        assert COMMAND_V1 not in line
        assert not line.lstrip().startswith(COMMAND_V2)


@pytest.mark.parametrize("fmt", ["text", "json", "markdown", "comment", "junit", "sarif"])
def test_words_of_a_plan_are_no_commands(zonecfg, tmp_path, fmt):
    text = site_text(5).replace(
        "rooms:", 'x-note: "##[error]stop ::error::x"\nrooms:\n  ##[group]: {name: "##[error]::error::y"}', 1
    )
    (tmp_path / "as-designed.yaml").write_text(text.replace("  ##[group]:", '  "##[group]":'), "utf-8")
    out = zonecfg("check", tmp_path, "--format", fmt).out
    assert COMMAND_V1 not in out
    assert not any(line.lstrip().startswith(COMMAND_V2) for line in out.splitlines())


@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "utf-16"])
@pytest.mark.parametrize("fmt", ["json", "sarif", "junit", "markdown"])
def test_what_others_read_is_utf_8_whatever_the_console(tmp_path, encoding, fmt):
    (tmp_path / "as-designed.yaml").write_text(CLEAN.replace("Larkenby", "Lärkenby ☂"), "utf-8")
    command = [
        sys.executable,
        "-m",
        "zonecfg",
        "check",
        str(tmp_path),
        "--format",
        fmt,
        "--output",
        f"{fmt}={tmp_path}/out",
    ]
    environment = {**os.environ, "PYTHONIOENCODING": encoding, "LC_ALL": "C"}
    done = subprocess.run(command, capture_output=True, env=environment, check=False)
    assert done.stdout == (tmp_path / "out").read_bytes()
    done.stdout.decode("utf-8")


def test_no_output_is_an_input(zonecfg, tmp_path):
    (tmp_path / "as-designed.yaml").write_text(CLEAN, "utf-8")
    found = tmp_path / "found.csv"
    found.write_text("serial\n70000001\n", "utf-8")
    done = zonecfg("match", tmp_path / "as-designed.yaml", found, "--output", f"json={found}", "--force")
    assert "is read by this command" in done.err
    assert found.read_text("utf-8") == "serial\n70000001\n"


def test_suggestions_are_sought_for_so_long_and_the_message_stays_true():
    """Many misspelt names: the first are offered their nearest, the last none, and nothing says that there is none."""
    known = [f"W-{n}" for n in range(2000)]
    seek_anew()
    said = [did_you_mean(f"W-{n}x", known) for n in range(400)]
    assert said[0]
    assert said[-1] == ""
    seek_anew()
    assert did_you_mean("W-399x", known)


@given(st.data())
def test_pruning_takes_out_what_one_by_one_would(data):
    """Every fault's place is gone or emptied, and nothing else changes: against the faults taken one after the other."""
    plan = {"openings": {f"W-{n}": {"sill_mm": "x", "width_mm": 900, "room": "r"} for n in range(4)},
            "groups": {"G": {"actuators": ["A-1", 2, "A-3"]}}, "accepted": [{"check": 3}, {"at": "/x"}]}  # fmt: skip
    places = st.sampled_from([("openings", "W-1", "sill_mm"), ("openings", "W-2"), ("openings", "W-2", "sill_mm"), ("openings",),
                              ("groups", "G", "actuators", 1), ("accepted", 0, "check"), ("accepted", 1), ("zz",)])  # fmt: skip
    paths = data.draw(st.lists(places, max_size=5))
    faults = [SchemaFault("wrong-shape", "/" + "/".join(map(str, path)), "x", path=path) for path in paths]
    one_by_one = plan
    for fault in faults:
        one_by_one = pruned(one_by_one, [fault])
    assert pruned(plan, faults) == one_by_one


@pytest.mark.parametrize("arguments", [
    ("rehearse", "examples/larkenby-hall/as-designed.yaml", "--wet", "R-1@1..20", "--fire", "5"),
    ("figures", "examples/larkenby-hall/as-designed.yaml"), ("review", "examples/larkenby-hall"),
    ("rollback", "examples/larkenby-hall/as-commissioned.yaml", "--to", "examples/larkenby-hall/saved/2026-05-14.yaml"),
])  # fmt: skip
def test_same_bytes_under_any_hash_seed_and_locale(arguments):
    told = set()
    for seed, locale in (("1", "C"), ("2", "tr_TR.UTF-8"), ("77", "C.UTF-8")):
        environment = {**os.environ, "PYTHONHASHSEED": seed, "LC_ALL": locale}
        command = [sys.executable, "-m", "zonecfg", *arguments, "--format", "json"]
        done = subprocess.run(command, capture_output=True, env=environment, cwd=ROOT, check=False)
        assert done.stdout, done.stderr
        told.add(done.stdout)
    assert len(told) == 1


def test_without_docstrings_it_refuses_by_name():
    done = subprocess.run(
        [sys.executable, "-OO", "-m", "zonecfg", "explain"], capture_output=True, text=True, check=False
    )
    assert done.returncode == 1
    assert "-OO strips" in done.stderr


def end_of_it(things):
    if "2" in things:
        os.kill(os.getpid(), signal.SIGKILL)
    return len(things)


def test_a_worker_that_is_killed_is_told():
    with pytest.raises(WorkerLost, match="nothing is told of"):
        list(Crew(2).each(end_of_it, ["1", "2", "3"], 1))


def shared(path, cells):
    """Write a workbook whose cells show one long text."""
    book = xlsxwriter.Workbook(path)
    sheet = book.add_worksheet()
    for row in range(cells):
        sheet.write_string(row, 0, "x" * 32_000)
    book.close()
    return path.read_bytes()


def test_a_shared_text_counts_as_often_as_cells_show_it(tmp_path):
    """One text in thousands of cells is a small file, and gigabytes to whoever makes each cell's anew."""
    assert formulas(shared(tmp_path / "small.xlsx", 1000), "small.xlsx") == {"Sheet1": frozenset()}
    raw = shared(tmp_path / "large.xlsx", 2100)
    assert len(raw) < 100_000
    with pytest.raises(UnreadableSheet, match="67,200,000 characters"):
        formulas(raw, "large.xlsx")


@pytest.mark.parametrize("cluster", ["cluster://host", "tls://host", "cluster://", "cluster://host:port"])
def test_an_address_without_a_port_is_named(cluster):
    with pytest.raises(UnknownName, match="is no cluster"):
        list(Crew(1, cluster).each(len, ["1"]))
