"""What the program must never do, watched from inside the interpreter: no network, no writing but its output."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from zonecfg.errors import CannotWrite
from zonecfg.workflow.write import write_bytes

ROOT = Path(__file__).parents[1]
HOUSE = "examples/larkenby-hall"
PLAN, BUILT, COPY = f"{HOUSE}/as-designed.yaml", f"{HOUSE}/as-commissioned.yaml", f"{HOUSE}/saved/2026-05-14.yaml"
WATCHED = """
import os, sys

def watch(event, arguments):
    if event.startswith("socket.") or event == "urllib.Request":
        os.write(2, f"NETWORK {event}".encode())
        os._exit(99)
    if event == "open" and isinstance(arguments[2], int) and arguments[2] & (os.O_WRONLY | os.O_RDWR | os.O_CREAT):
        if not str(arguments[0]).startswith(os.devnull) and not isinstance(arguments[0], int):
            os.write(2, f"WRITES {arguments[0]}".encode())
            os._exit(98)
    if event in {"os.remove", "os.rename", "os.mkdir", "os.rmdir", "os.chmod", "os.link", "os.symlink", "os.truncate"}:
        os.write(2, f"CHANGES {event} {arguments}".encode())
        os._exit(97)

sys.dont_write_bytecode = True
sys.addaudithook(watch)
from zonecfg.cli import main
main()
"""
READERS = [
    ("check", HOUSE),
    ("check", HOUSE, "--format", "sarif"),
    ("compare", PLAN, BUILT, "--format", "json"),
    ("review", HOUSE),
    ("figures", PLAN),
    ("rollback", BUILT, "--to", COPY, "--design", PLAN),
    ("rehearse", PLAN, "--wet", "R-1@1..5"),
    ("match", PLAN, f"{HOUSE}/site-work/found.csv"),
    ("explain",),
    ("explain", "bus-loop"),
    ("schema",),
    ("--help",),
]


@pytest.mark.parametrize("arguments", READERS, ids=" ".join)
def test_reading_commands_write_nothing_and_call_nobody(arguments):
    """Python's own audit events (PEP 578) tell of every socket, every file opened to write, every rename."""
    done = subprocess.run(
        [sys.executable, "-c", WATCHED, *arguments], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert done.returncode in {0, 1}, done.stderr
    assert done.stdout


@pytest.mark.parametrize("doing", ["import socket; socket.create_connection(('127.0.0.1', 9))", "open('x', 'w')",
                                   "import os; os.mkdir('x')"])  # fmt: skip
def test_the_watch_is_awake(doing, tmp_path):
    watched = WATCHED.replace("from zonecfg.cli import main\nmain()", doing)
    done = subprocess.run([sys.executable, "-c", watched], cwd=tmp_path, capture_output=True, check=False)
    assert done.returncode in {97, 98, 99}


@pytest.mark.skipif(os.name == "nt", reason="links need rights there")
class TestOutputs:
    def test_a_link_in_place_of_the_output_is_replaced_and_not_followed(self, tmp_path):
        precious = tmp_path / "precious"
        precious.write_bytes(b"mine")
        link = tmp_path / "out.yaml"
        link.symlink_to(precious)
        with pytest.raises(CannotWrite):
            write_bytes(link, b"new")
        write_bytes(link, b"new", force=True)
        assert precious.read_bytes() == b"mine"
        assert link.read_bytes() == b"new"
        assert not link.is_symlink()

    def test_a_link_that_leads_nowhere_is_not_written_through(self, tmp_path):
        link = tmp_path / "out.yaml"
        link.symlink_to(tmp_path / "elsewhere" / "file")
        with pytest.raises(CannotWrite):
            write_bytes(link, b"new")
        assert not (tmp_path / "elsewhere").exists()
        assert sorted(path.name for path in tmp_path.iterdir()) == ["out.yaml"]

    def test_whoever_was_quicker_keeps_the_name(self, tmp_path):
        path = tmp_path / "out.yaml"

        def somebody_else(_: bytes) -> None:
            path.write_bytes(b"theirs")

        with pytest.raises(CannotWrite, match="stands there already"):
            write_bytes(path, b"ours", before=somebody_else)
        assert path.read_bytes() == b"theirs"
        assert list(tmp_path.iterdir()) == [path]

    @pytest.mark.parametrize("there", [False, True])
    def test_where_there_are_no_links(self, tmp_path, monkeypatch, there):
        """Memory sticks and some shares."""

        def refuse(*_: object) -> None:
            raise PermissionError(1, "Operation not permitted")

        monkeypatch.setattr(os, "link", refuse)
        path = tmp_path / "out.yaml"
        if there:

            def somebody_else(_: bytes) -> None:
                path.write_bytes(b"theirs")

            with pytest.raises(CannotWrite):
                write_bytes(path, b"ours", before=somebody_else)
            assert path.read_bytes() == b"theirs"
        else:
            write_bytes(path, b"ours")
            assert path.read_bytes() == b"ours"
        assert list(tmp_path.iterdir()) == [path]

    def test_a_new_file_is_as_private_as_others(self, tmp_path):
        write_bytes(tmp_path / "out.yaml", b"x")
        (tmp_path / "other").write_bytes(b"x")
        assert (tmp_path / "out.yaml").stat().st_mode == (tmp_path / "other").stat().st_mode
