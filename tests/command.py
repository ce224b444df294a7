"""Runs the command line in this process, as the installed program does."""

import gc
import sys
from typing import NamedTuple

import pytest

from zonecfg.cli.app import run


class Done(NamedTuple):
    """How a command ended and what it wrote."""

    status: int
    out: str
    err: str


class Zonecfg:
    """Call it with arguments; ``--today`` is added where a command judges acceptances."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
        self._monkeypatch = monkeypatch
        self._capsys = capsys

    def __call__(self, *arguments: object) -> Done:
        argv = ["zonecfg", *map(str, arguments)]
        if argv[1:2] in (["check"], ["review"], ["compare"], ["rollback"]) and "--today" not in argv:
            argv += ["--today", "2026-11-25"]
        self._monkeypatch.setattr(sys, "argv", argv)
        self._capsys.readouterr()
        try:
            status = run()
        finally:
            gc.enable()
        out, err = self._capsys.readouterr()
        return Done(status, out, err)


@pytest.fixture
def zonecfg(monkeypatch, capsys):
    """The command line, without what the tester's own terminal asks for."""
    for name in ("NO_COLOR", "FORCE_COLOR", "TERM", "COLUMNS", "ZONECFG_TRACEBACK"):
        monkeypatch.delenv(name, raising=False)
    return Zonecfg(monkeypatch, capsys)
