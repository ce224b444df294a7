"""The page in a real browser, at the width of a phone and of a desk: typed, reloaded, exported, scanned."""

import json
import shutil
import subprocess
from pathlib import Path

import pytest

FOUND = Path(__file__).parents[2] / "examples" / "larkenby-hall" / "site-work" / "unlabelled.csv"
WIDTHS = {"phone": (390, 844), "desk": (1280, 900)}


@pytest.fixture(scope="module")
def browser():
    from playwright.sync_api import sync_playwright

    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox"])
        yield browser
        browser.close()


@pytest.fixture
def page_file(site, zonecfg, tmp_path):
    path = tmp_path / "sheet.html"
    assert zonecfg("worksheet", site, "-o", path).status == 0
    return path


@pytest.mark.needs("chromium")
@pytest.mark.parametrize("width", WIDTHS)
def test_typed_kept_exported_recorded(browser, page_file, site, zonecfg, tmp_path, width):
    wide, high = WIDTHS[width]
    context = browser.new_context(viewport={"width": wide, "height": high}, offline=True, accept_downloads=True)
    page = context.new_page()
    troubles = []
    page.on("pageerror", lambda error: troubles.append(str(error)))
    page.on("console", lambda message: troubles.append(message.text) if message.type == "error" else None)
    page.goto(page_file.as_uri())
    assert page.evaluate("document.documentElement.scrollWidth") <= wide
    card = page.locator("article[data-id='A-109']")
    card.locator("[data-column=serial]").fill("0070<b>&\"'")
    card.locator("[data-column=measured_gap_mm]").fill("118,5 mm")
    card.locator("[data-column=calibrated]").select_option("yes")
    card.locator("[data-column=date]").fill("2026-05-14")
    page.locator("article[data-id='R-2'] [data-column=wet_test]").select_option("fail")
    page.reload()
    assert card.locator("[data-column=serial]").input_value() == "0070<b>&\"'"
    assert card.locator("[data-column=calibrated]").input_value() == "yes"
    assert page.locator("#count").text_content() == "1 of 60 begun"
    page.locator("#find").fill("guest room 2")
    assert page.locator("[data-section=actuators] article:visible").count() == 2
    with page.expect_download() as download:
        page.locator("#export").click()
    assert download.value.suggested_filename == "LKH-2207-C-worksheet.json"
    export = tmp_path / "export.json"
    download.value.save_as(export)
    context.close()
    assert troubles == []
    assert json.loads(export.read_text("utf-8")) == {
        "format": "zonecfg-worksheet/1", "site": "LKH-2207", "revision": "C",
        "entries": {
            "actuators": {"A-109": {"serial": "0070<b>&\"'", "measured_gap_mm": "118,5 mm", "calibrated": "yes",
                                    "date": "2026-05-14"}},
            "sensors": {"R-2": {"wet_test": "fail"}},
        },
    }  # fmt: skip
    assert zonecfg("record", site, export, "-o", site / "as-commissioned.yaml").status == 0
    assert 'A-109: {serial: "0070<b>&\\"\'", calibrated: true, measured_gap_mm: 118.5, date: 2026-05-14}' in (
        site / "as-commissioned.yaml"
    ).read_text("utf-8")


@pytest.mark.needs("chromium")
@pytest.mark.parametrize("width", WIDTHS)
def test_rounds_noted_kept_exported_decoded(browser, site, zonecfg, tmp_path, width):
    """The observer sheet of the example building: one round after the other, with a reload between."""
    wide, high = WIDTHS[width]
    found, path = FOUND, tmp_path / "sheet.html"
    assert zonecfg("identify", site, found, "-o", path).status == 0
    answer = json.loads(zonecfg("identify", site, found, "--format", "json").out)
    windows = [window["opening"] for window in answer["windows"]]
    # Any placing that fits: pairs take the sets, the others the single serials, in the order of the plan.
    sizes = {window["opening"]: len(window["actuators"]) for window in answer["windows"]}
    units = {size: [u for u in answer["units"] if len(u["serials"]) == size] for size in (1, 2)}
    at = {opening: units[sizes[opening]].pop() for opening in windows}
    context = browser.new_context(viewport={"width": wide, "height": high}, offline=True, accept_downloads=True)
    page = context.new_page()
    troubles = []
    page.on("pageerror", lambda error: troubles.append(str(error)))
    page.on("console", lambda message: troubles.append(message.text) if message.type == "error" else None)
    page.goto(path.as_uri())
    assert page.evaluate("document.documentElement.scrollWidth") <= wide
    assert "dry and calm" in page.locator(".cautions").inner_text()
    for number in range(1, len(answer["rounds"]) + 1):
        page.locator("#step").select_option(label=f"Round {number}")
        assert page.locator("article:visible [data-column]:visible").count() == len(windows)
        assert page.locator("article.now").count() == len(answer["rounds"][number - 1]["starts"])
        for opening in windows:
            field = page.locator(f"article[data-id='{opening}'] [data-column=round_{number}]")
            field.select_option(at[opening]["positions"][number - 1])
        assert page.locator("#count").text_content() == f"{len(windows)} of {len(windows)} noted"
        if number == 3:
            page.wait_for_timeout(300)  # a busy browser hands its storage to the next page a moment later
            page.reload()
            assert page.locator("#step").input_value() == "round_4"
    page.locator("#step").select_option(label="All rounds")
    assert page.locator("article:visible [data-column]:visible").count() == len(windows) * len(answer["rounds"])
    assert page.locator("#count").text_content() == f"{len(windows)} of {len(windows)} begun"
    with page.expect_download() as download:
        page.locator("#export").click()
    assert download.value.suggested_filename == "LKH-2207-C-observer-sheet.json"
    export = tmp_path / "export.json"
    download.value.save_as(export)
    context.close()
    assert troubles == []
    seen = json.loads(zonecfg("identify", site, found, "--seen", export, "--format", "json").out)["seen"]
    assert {w["opening"]: w["serials"] for w in seen["windows"]} == {o: u["serials"] for o, u in at.items()}


@pytest.mark.needs("chromium", "zbarimg")
def test_labels_are_read_by_a_scanner(browser, page_file, tmp_path):
    page = browser.new_page(viewport={"width": 1280, "height": 900}, device_scale_factor=2)
    page.goto(page_file.as_uri())
    pictures = {}
    for figure in page.locator("[data-label]").all()[::7]:
        label = figure.get_attribute("data-label")
        pictures[label] = tmp_path / f"{label}.png"
        figure.locator("svg").screenshot(path=pictures[label])
    page.close()
    read = subprocess.run(
        ["zbarimg", "--quiet", "--raw", "-Sdisable", "-Sqrcode.enable", *pictures.values()],
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert read.stdout.split() == list(pictures)
    assert len(pictures) == 9
