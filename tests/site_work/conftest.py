"""A copy of the example site without its record, and ways to fill its worksheet."""

import csv
import io
import shutil
from pathlib import Path

import pytest
from command import zonecfg  # noqa: F401  (a fixture)

EXAMPLE = Path(__file__).parents[2] / "examples" / "larkenby-hall"


@pytest.fixture
def site(tmp_path):
    """The site's folder with the plan and its catalogue."""
    folder = tmp_path / "site"
    folder.mkdir()
    for name in ("as-designed.yaml", "equipment.yaml"):
        shutil.copy(EXAMPLE / name, folder)
    return folder


@pytest.fixture
def fill(site, zonecfg, tmp_path):  # noqa: F811
    """Fill the CSV worksheet: ``fill({("actuators", "A-011"): {"serial": "1"}})`` gives the file."""

    def filled(values, name="filled.csv", plan=site):
        blank = tmp_path / "blank.csv"
        assert zonecfg("worksheet", plan, "-o", blank, "--force").status == 0
        rows = list(csv.reader(io.StringIO(blank.read_text("utf-8-sig"), newline="")))
        header = rows[0]
        for row in rows:
            for key, value in values.get((row[0], row[1]), {}).items():
                row[header.index(key)] = value
        out = io.StringIO()
        csv.writer(out).writerows(rows)
        path = tmp_path / name
        path.write_text(out.getvalue(), "utf-8", newline="")
        return path

    return filled
