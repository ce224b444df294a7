"""``zonecfg completion``: the scripts, run by the shells they are for."""

import pytest
from repositories import tried

from zonecfg.checks.registry import entries

SHELLS = ("bash", "zsh", "fish")


def in_bash(folder, *words):
    """What bash offers for a line that ends in the last word."""
    script = tried(folder, "zonecfg", "completion", "bash").stdout
    quoted = " ".join(f"'{word}'" for word in words)
    call = f"COMP_WORDS=({quoted}); COMP_CWORD={len(words) - 1}\n_zonecfg_completion zonecfg\nprintf '%s\\n' \"${{COMPREPLY[@]}}\""
    done = tried(folder, "bash", "--noprofile", "--norc", "-c", f"{script}\n{call}")
    assert done.stderr == ""
    return done.stdout.split()


@pytest.mark.needs("bash")
def test_bash(tmp_path):
    assert in_bash(tmp_path, "zonecfg", "che") == ["check"]
    assert set(in_bash(tmp_path, "zonecfg", "m")) == {"match", "merge", "migrate"}
    assert in_bash(tmp_path, "zonecfg", "merge", "--mark") == ["--marker-size"]
    assert in_bash(tmp_path, "zonecfg", "completion", "z") == ["zsh"]


@pytest.mark.needs("bash")
def test_bash_knows_checks_and_fields(tmp_path):
    begun = "actuator-"
    assert set(in_bash(tmp_path, "zonecfg", "explain", begun)) == {name for name in entries() if name.startswith(begun)}
    assert "openings.drop_mm" in in_bash(tmp_path, "zonecfg", "explain", "openings.d")
    assert "NCC-2022-D3D29" in in_bash(tmp_path, "zonecfg", "explain", "NCC")


@pytest.mark.needs("bash")
def test_bash_takes_the_script_as_its_own(tmp_path):
    script = tried(tmp_path, "zonecfg", "completion", "bash").stdout
    done = tried(tmp_path, "bash", "--noprofile", "--norc", "-c", f"{script}\ncomplete -p zonecfg")
    assert done.stdout.strip().endswith("-F _zonecfg_completion zonecfg")


@pytest.mark.needs("zsh")
def test_zsh(tmp_path):
    """The script asks for completions as zsh does; compadd and its like are shown instead of run."""
    script = tried(tmp_path, "zonecfg", "completion", "zsh").stdout
    shown = 'compdef() { :; }\n_arguments() { print -r -- "$@"; }\n_describe() { print -r -- "${(P@)2:-}" "$@"; }\n'
    call = "words=(zonecfg che); CURRENT=2\n_zonecfg_completion"
    done = tried(tmp_path, "zsh", "-f", "-c", f"{shown}{script}\n{call}")
    assert "check" in done.stdout, done.stderr
    assert "compare" not in done.stdout


@pytest.mark.needs("fish")
def test_fish(tmp_path):
    script = tried(tmp_path, "zonecfg", "completion", "fish").stdout
    done = tried(tmp_path, "fish", "--no-config", "-c", f"{script}\ncomplete --do-complete 'zonecfg che'")
    assert [line.split("\t")[0] for line in done.stdout.splitlines()] == ["check"], done.stderr


@pytest.mark.parametrize("shell", SHELLS)
def test_a_script_for_each_shell(zonecfg, shell):
    done = zonecfg("completion", shell)
    assert done.status == 0
    assert f"_ZONECFG_COMPLETE=complete_{shell}" in done.out


def test_another_shell(zonecfg):
    done = zonecfg("completion", "ksh")
    assert (done.status, done.out) == (2, "")
    assert "bash" in done.err
