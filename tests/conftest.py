"""What all tests share: the hypothesis profile, and which tests need a program that pip cannot bring.

Drawn examples are the same in every run and on every machine.
"""

import os
import shutil

import pytest
from hypothesis import HealthCheck, settings

settings.register_profile(
    "ci", derandomize=True, deadline=None, database=None, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("ci")

PACKAGES = {
    "bash": "bash", "chromium": "chromium", "fish": "fish", "git": "git", "ngspice": "ngspice",
    "soffice": "libreoffice-calc-nogui", "zbarimg": "zbar-tools", "zsh": "zsh",
}  # fmt: skip
"""Programs that tests need, and the Debian packages that bring them."""


def pytest_runtest_setup(item):
    """Skip a test where a program is missing; where ZONECFG_TESTS_SKIP_NOTHING is set, as in CI, it fails instead."""
    for mark in item.iter_markers("needs"):
        missing = [f"{name} (Debian package {PACKAGES[name]})" for name in mark.args if shutil.which(name) is None]
        if missing:
            because = f"needs {' and '.join(missing)}"
            (pytest.fail if os.environ.get("ZONECFG_TESTS_SKIP_NOTHING") else pytest.skip)(because)
