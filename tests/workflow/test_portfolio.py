"""Trees of many sites: the answer is that of one by one, whoever does the work."""

import json
import warnings
from collections import Counter
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator
from sites import commissioned_text, site_text
from test_terminal import on_terminal

from zonecfg.schema import schema_of

SITES = 45
CATALOGUE = """format: zonecfg-catalogue/1
types:
  actuators:
    spare-250: {kind: chain, stroke_max_mm: 250, thrust_n: -5}
"""


@pytest.fixture(scope="module")
def tree(tmp_path_factory):
    """Sites in two towns that share a faulty catalogue; one plan cannot be read, one site has both states."""
    root = tmp_path_factory.mktemp("buildings")
    (root / ".git").mkdir()
    (root / "equipment.yaml").write_text(CATALOGUE, "utf-8")
    for number in range(SITES):
        folder = root / ("north" if number % 2 else "south") / f"house-{number:02}"
        folder.mkdir(parents=True)
        text = site_text(8, seed=number, faults=number % 4)
        text = text.replace("\ntypes:", "\ncatalogue: [../../equipment.yaml]\n\ntypes:", 1)
        (folder / "as-designed.yaml").write_text("a: [" if number == 7 else text, "utf-8")
    both = root / "south" / "house-10"
    (both / "as-commissioned.yaml").write_text(commissioned_text(8, seed=10), "utf-8")
    return root


def findings(zonecfg, *arguments):
    done = zonecfg("check", *arguments, "--format", "json", "--fail-on", "never")
    assert done.status == 0, done.err
    return done.out


def test_processes_answer_as_one_does(zonecfg, tree):
    assert findings(zonecfg, tree, "--jobs", 2) == findings(zonecfg, tree, "--jobs", 1)


def test_a_cluster_answers_as_one_process_does(zonecfg, tree):
    """A real Dask scheduler with two worker processes on this machine."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # what the library's own start and end warn of
        distributed = pytest.importorskip("distributed")
        with distributed.LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as cluster:
            address = cluster.scheduler_address.removeprefix("tcp://")
            there = findings(zonecfg, tree, "--executor", f"dask://{address}")
            pages = zonecfg("review", tree, "--executor", f"cluster://{address}", "--format", "json").out
    assert there == findings(zonecfg, tree, "--jobs", 1)
    assert pages == zonecfg("review", tree, "--jobs", 1, "--format", "json").out


def test_the_whole_is_the_sum_of_its_sites(zonecfg, tree, monkeypatch):
    monkeypatch.chdir(tree)
    whole = json.loads(findings(zonecfg, "."))
    single = [json.loads(findings(zonecfg, path.parent.relative_to(tree))) for path in sorted(tree.rglob("as-d*.yaml"))]
    of_catalogue = [f for f in whole["findings"] if f["file"] == "equipment.yaml"]
    assert len(of_catalogue) == 1  # told once, though 44 sites name it
    assert all(f in of_catalogue for one in single for f in one["findings"] if f["file"] == "equipment.yaml")
    mine = [f for one in single for f in one["findings"] if f["file"] != "equipment.yaml"]
    assert sorted(map(json.dumps, mine)) == sorted(json.dumps(f) for f in whole["findings"] if f not in of_catalogue)
    assert sorted(f["path"] for one in single for f in one["files"]) == [f["path"] for f in whole["files"]]


def test_a_review_of_the_tree_holds_the_review_of_each_site(zonecfg, tree, monkeypatch):
    monkeypatch.chdir(tree)
    done = zonecfg("review", ".", "--jobs", 2, "--format", "json")
    answer = json.loads(done.out)
    Draft202012Validator(schema_of("portfolio")).validate(answer)
    assert done.status == 1
    assert len(answer["pages"]) == SITES
    for site in ("south/house-10", "north/house-07", "south/house-00"):
        assert answer["pages"][site] == json.loads(zonecfg("review", site, "--format", "json").out)
    assert answer["pages"]["south/house-10"]["compare"]["changes"]


def test_the_tally_counts_what_is_there(zonecfg, tree, monkeypatch):
    monkeypatch.chdir(tree)
    answer = json.loads(zonecfg("review", ".", "--format", "json").out)
    found = json.loads(findings(zonecfg, "."))["findings"]
    by_site = Counter((str(Path(f["file"]).parent), f["severity"]) for f in found)
    assert {(t["site"], s): t["findings"][s] for t in answer["sites"] for s in ("error", "warning", "note")
            if t["findings"][s]} == by_site  # fmt: skip
    worst = [tuple(-t["findings"][s] for s in ("error", "warning", "note")) for t in answer["sites"]]
    assert worst == sorted(worst)
    assert {c["check"]: c["findings"] for c in answer["checks"]} == Counter(f["check"] for f in found)
    assert [t["unread"] for t in answer["sites"] if t["site"] == "north/house-07"] == [1]


@pytest.mark.parametrize("command", ["check", "review"])
def test_text_and_markdown_name_the_worst_sites(zonecfg, tree, monkeypatch, command):
    monkeypatch.chdir(tree)
    text = zonecfg(command, ".").out
    assert "Sites, the worst first" in text
    assert max(len(line) for line in text.splitlines() if "│" not in line) <= 80
    listed = text[text.index("Sites, the worst first") :].splitlines()[1:21]
    assert all(": " in line for line in listed)
    assert "more site" in text
    if command == "review":
        markdown = zonecfg(command, ".", "--format", "markdown").out
        assert markdown.count("<details>") == markdown.count("</details>") >= SITES


def test_one_site_in_folders_of_its_own_is_no_portfolio(zonecfg, tmp_path):
    for name, text in (("as-designed", site_text(8)), ("as-commissioned", commissioned_text(8))):
        (tmp_path / name).mkdir()
        (tmp_path / name / f"{name}.yaml").write_text(text, "utf-8")
    answer = json.loads(zonecfg("review", tmp_path, "--format", "json").out)
    assert answer["format"] == "zonecfg-review/1"
    assert answer["compare"] is not None


def test_progress_is_for_a_terminal_only(zonecfg, tree):
    assert zonecfg("check", tree, "--fail-on", "never").err == ""
    shown = on_terminal("check", tree, "--jobs", "1", TERM="dumb")
    assert f"{SITES + 2} of {SITES + 2} done" in shown  # plans and the catalogue
    assert "done" not in on_terminal("check", tree / "south" / "house-10", TERM="dumb")


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--jobs", "0"), "1 is the least"),
        (("--executor", "spark://here"), "cluster://HOST:PORT"),
        (("--executor", "dask://"), "cluster://HOST:PORT"),
    ],
)
def test_workers_that_cannot_be(zonecfg, tree, arguments, said):
    done = zonecfg("check", tree, *arguments)
    assert done.status == 2
    assert said in done.err
    assert not done.out


def test_a_cluster_that_does_not_answer(zonecfg, tree, monkeypatch):
    distributed = pytest.importorskip("distributed")

    def refuse(*_, **__):
        raise OSError("Timed out trying to connect")

    monkeypatch.setattr(distributed, "Client", refuse)
    done = zonecfg("check", tree, "--executor", "dask://127.0.0.1:9")
    assert (done.status, done.out) == (2, "")
    assert "no scheduler answers" in done.err
