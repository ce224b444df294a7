"""A short attack with a fixed seed; ``attack.py`` goes on for as long as it is told."""

import random

import pytest
from attack import Broken, Target, targets

ROUNDS = 100
NAMES = ["plan, bytes", "plan, lines", "compare", "rollback", "rehearse", "review", "sheet, csv", "sheet, bytes",
         "sheet, xlsx", "format", "merge", "observer sheet, csv", "observer sheet, xlsx", "observer sheet, json",
         "found list", "found list, bytes"]  # fmt: skip


@pytest.fixture(scope="module")
def every(tmp_path_factory):
    folder = tmp_path_factory.mktemp("attack")
    (folder / ".git").mkdir()
    return folder, {target.name: target for target in targets(folder)}


@pytest.mark.parametrize("name", NAMES)
def test_damaged_inputs_are_taken_well(every, name, monkeypatch):
    folder, known = every
    assert len(known) == len(NAMES)
    monkeypatch.setattr("attack.LONGEST_S", 60.0)  # how busy the machine is must not fail a test
    chance = random.Random(name)
    inputs = {known[name].attack(chance, folder) for _ in range(ROUNDS)}
    assert len(inputs) > ROUNDS * 0.8  # the damage differs


def test_what_breaks_is_noticed(every):
    folder, known = every

    def fail(path, chance):
        raise ValueError(path)

    broken = Target("always", known["compare"].seeds, known["compare"].damage, fail, ".yaml")
    with pytest.raises(Broken, match="always: ValueError"):
        broken.attack(random.Random(1), folder)
