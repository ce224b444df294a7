"""The hooks under the real pre-commit, and the action's steps under a stand-in for the runner."""

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from ruamel.yaml import YAML
from sites import site_text
from test_against import ENVIRONMENT, commit, git

from zonecfg.report.comment import MARK

ROOT = Path(__file__).parents[2]
ACTION = ROOT / ".github" / "actions" / "review"
CLEAN = site_text(8)
BROKEN = CLEAN.replace("stroke_mm: 300", "stroke_mm: 30 cm", 1)
WORKFLOWS = [*ROOT.glob(".github/workflows/*.yml"), ROOT / "examples" / "pull-request" / "review.yml"]

pytestmark = pytest.mark.skipif(os.name == "nt", reason="the runner's steps are for bash")


def site(folder, text):
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "as-designed.yaml").write_text(text, "utf-8")


@pytest.fixture
def buildings(tmp_path):
    """A repository with a clean site and one that was wrong all along."""
    folder = tmp_path / "buildings"
    site(folder / "tithe-barn", CLEAN)
    site(folder / "old mill", BROKEN)
    git(tmp_path, "init", "-q", "-b", "main", "buildings")
    commit(folder, "plans")
    return folder


@pytest.mark.needs("git")
class TestHooks:
    def run(self, folder, *arguments):
        """``pre-commit try-repo`` takes the hooks, and the package, from this checkout as it is."""
        return subprocess.run(
            [sys.executable, "-m", "pre_commit", "try-repo", str(ROOT), *arguments],
            cwd=folder,
            env={**ENVIRONMENT, "PRE_COMMIT_HOME": str(folder.parent / "hooks")},
            capture_output=True,
            text=True,
            check=False,
        )

    @pytest.mark.skipif(not (ROOT / ".git").exists(), reason="pre-commit takes hooks from a repository")
    def test_both_hooks_by_the_real_pre_commit(self, buildings):
        done = self.run(buildings, "--all-files")
        assert done.returncode == 1, done.stdout + done.stderr
        assert done.stdout.count("Failed") == 2
        assert "wrong-shape" in done.stdout
        site(buildings / "old mill", CLEAN)
        git(buildings, "add", "-A")
        done = self.run(buildings)
        assert done.returncode == 0, done.stdout + done.stderr
        assert done.stdout.count("Passed") == 2

    def test_the_file_hook_takes_the_files_of_a_site_only(self):
        hooks = {hook["id"]: hook for hook in YAML(typ="safe").load((ROOT / ".pre-commit-hooks.yaml").read_text())}
        pattern = hooks["zonecfg-files"]["files"]
        for name in ("a/as-designed.yaml", "as-commissioned.yml", "x/saved/2026-05-14.yaml", "equipment.yaml"):
            assert re.search(pattern, name)
        for name in (".github/workflows/check.yml", "a/was-designed.yaml", "saved/notes.txt", "a/saved/b/c.yaml"):
            assert not re.search(pattern, name)


class Runner:
    """Stands in for the runner: inputs go into ``env`` only, files take what a step says."""

    def __init__(self, work: Path) -> None:
        self.temp = work / "temp"
        self.temp.mkdir()
        self.steps = YAML(typ="safe").load((ACTION / "action.yml").read_text("utf-8"))["runs"]["steps"]

    def step(self, name, folder, **inputs):
        (step,) = (s for s in self.steps if s["name"] == name)
        assert "${{" not in step["run"]
        assert step["shell"] == "bash"
        given = {f"${{{{ inputs.{key.replace('_', '-')} }}}}": value for key, value in inputs.items()}
        files = {key: self.temp / key.lower() for key in ("GITHUB_OUTPUT", "GITHUB_STEP_SUMMARY")}
        for file in files.values():
            file.write_text("", "utf-8")
        environment = {
            **ENVIRONMENT,
            "GITHUB_ACTION_PATH": str(ACTION),
            "RUNNER_TEMP": str(self.temp),
            **{key: str(file) for key, file in files.items()},
            **{key: given[value] for key, value in step.get("env", {}).items()},
        }
        command = ["bash", "--noprofile", "--norc", "-eo", "pipefail", "-c", step["run"]]
        done = subprocess.run(command, cwd=folder, env=environment, capture_output=True, text=True, check=False)
        said = dict(line.split("=", 1) for line in files["GITHUB_OUTPUT"].read_text("utf-8").splitlines())
        return done, said, files["GITHUB_STEP_SUMMARY"].read_text("utf-8")


@pytest.fixture(scope="module")
def runner(tmp_path_factory):
    runner = Runner(tmp_path_factory.mktemp("runner"))
    done, _, _ = runner.step("Install", ROOT)
    assert done.returncode == 0, done.stderr
    return runner


def review(runner, folder, path=".", against="", fail_on="error"):
    return runner.step("Review", folder, path=path, against=against, fail_on=fail_on)


@pytest.mark.needs("git", "bash")
class TestAction:
    def test_a_review_of_all_that_is_there(self, runner, buildings):
        done, said, summary = review(runner, buildings)
        assert done.returncode == 1, done.stderr
        assert "::error file=old mill/as-designed.yaml," in done.stdout
        assert "# 2 sites" in summary
        sarif = json.loads(Path(said["sarif"]).read_text("utf-8"))
        assert [r["ruleId"] for r in sarif["runs"][0]["results"] if r["level"] == "error"] == ["wrong-shape"]
        assert Path(said["comment"]).read_text("utf-8") == f"{MARK}\n{summary}"
        assert Path(said["summary"]).read_text("utf-8") == summary

    def test_an_old_building_is_let_in_and_a_new_fault_is_not(self, runner, buildings):
        site(buildings / "tithe-barn", CLEAN.replace("note: ", "note: "))
        done, _, _ = review(runner, buildings, against="HEAD")
        assert done.returncode == 0, done.stdout
        assert "::error" not in done.stdout
        assert "there before" in done.stdout
        site(buildings / "tithe-barn", BROKEN)
        done, said, _ = review(runner, buildings, against="HEAD")
        assert done.returncode == 1
        assert [line.split(",")[0] for line in done.stdout.splitlines() if line.startswith("::error")] == [
            "::error file=tithe-barn/as-designed.yaml"
        ]
        assert "1 new finding" in Path(said["comment"]).read_text("utf-8")

    @pytest.mark.parametrize(
        "inputs",
        [
            {"path": "no such folder"},
            {"against": "no-such-revision"},
            {"path": "-rf"},
            {"path": "$(touch pwned)`touch pwned`; touch pwned"},
            {"against": '"; touch pwned; "'},
            {"against": "--output=markdown=pwned"},
            {"fail_on": "error; touch pwned"},
        ],
        ids=str,
    )
    def test_what_cannot_be_run_writes_nothing(self, runner, buildings, inputs):
        done, said, summary = review(runner, buildings, **inputs)
        assert done.returncode == 2, done.stdout
        assert (said, summary) == ({}, "")
        assert not list(buildings.rglob("pwned"))
        assert len(done.stderr.strip().splitlines()) <= 4


def test_workflows_and_action_pass_a_security_linter():
    """zizmor, which knows how workflows are attacked; offline."""
    command = [shutil.which("zizmor", path=str(Path(sys.executable).parent)) or "zizmor", "--offline", "--quiet"]
    paths = [*map(str, WORKFLOWS), str(ACTION / "action.yml")]
    done = subprocess.run([*command, *paths], capture_output=True, text=True, check=False, env=ENVIRONMENT)
    assert done.returncode == 0, done.stdout + done.stderr


@pytest.mark.skipif(shutil.which("actionlint") is None, reason="actionlint is not installed")
def test_workflows_pass_actionlint():
    done = subprocess.run(["actionlint", *map(str, WORKFLOWS)], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout
