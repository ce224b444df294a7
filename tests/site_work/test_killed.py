"""Killed at any instant, ``record`` leaves the old file or the new one, whole."""

import subprocess
import sys
import time
from datetime import date

from zonecfg.document.reader import read

RUN = "from zonecfg.cli import main; main()"


def test_killed_at_many_instants(site, fill, zonecfg):
    target = site / "as-commissioned.yaml"
    assert zonecfg("record", site, fill({("actuators", "A-011"): {"walk_test": "pass"}}), "-o", target).status == 0
    old = target.read_bytes()
    sheet = fill({("actuators", f"A-{n:03}{side}"): {"serial": f"9{n}{side}", "walk_test": "pass"}
                  for n in range(1, 11) for side in "ab"})  # fmt: skip
    command = [sys.executable, "-c", RUN, "record", site / "as-designed.yaml", sheet, "-o", target]
    start = time.perf_counter()
    subprocess.run(command, check=True, capture_output=True)
    whole = time.perf_counter() - start
    new = target.read_bytes()
    assert new != old
    for step in range(24):
        target.write_bytes(old)
        process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        time.sleep(whole * (0.3 + 0.04 * step))
        process.kill()
        process.wait()
        now = target.read_bytes()
        assert now in (old, new)
        assert not read(now, "x").faults
        left = {path.name for path in site.iterdir()} - {"as-commissioned.yaml", "as-designed.yaml", "equipment.yaml"}
        assert all(name.startswith(".as-commissioned.yaml.") for name in left)
    assert (site / "as-designed.yaml").exists()


def test_killed_between_writing_and_renaming(site, fill, monkeypatch):
    """The name is given last: whatever happens before, the old file stands and no half one beside it is taken for it."""
    from pathlib import Path

    import pytest

    from zonecfg.workflow.record import record

    target = site / "as-commissioned.yaml"
    sheet = fill({("actuators", "A-011"): {"walk_test": "pass"}})
    record(site, sheet, target, date(2026, 6, 1))
    old = target.read_bytes()
    second = fill({("actuators", "A-012"): {"walk_test": "pass"}}, "second.csv")
    monkeypatch.setattr(Path, "replace", lambda self, other: (_ for _ in ()).throw(KeyboardInterrupt))
    with pytest.raises(KeyboardInterrupt):
        record(site / "as-designed.yaml", second, target, date(2026, 6, 1))
    assert target.read_bytes() == old
    assert sorted(path.name for path in site.iterdir()) == [
        "as-commissioned.yaml",
        "as-designed.yaml",
        "equipment.yaml",
    ]


def test_somebody_else_was_quicker(site, fill, monkeypatch):
    import pytest

    from zonecfg.errors import CannotWrite
    from zonecfg.workflow import record as module

    target = site / "as-commissioned.yaml"
    module.record(site, fill({("actuators", "A-011"): {"walk_test": "pass"}}), target, date(2026, 6, 1))
    second = fill({("actuators", "A-012"): {"walk_test": "pass"}}, "second.csv")
    rewritten = module.rewritten

    def slow(*arguments, **options):
        new = rewritten(*arguments, **options)
        target.write_text(target.read_text("utf-8") + "# mine\n", "utf-8")
        return new

    monkeypatch.setattr(module, "rewritten", slow)
    with pytest.raises(CannotWrite, match="changed by somebody else"):
        module.record(site / "as-designed.yaml", second, target, date(2026, 6, 1))
    assert target.read_text("utf-8").endswith("# mine\n")
