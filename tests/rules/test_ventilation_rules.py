"""Ventilation rules at, just below and just above every figure; the source is the rule set's own text."""

import pytest

from zonecfg.rules import VentilationRule, rule_set


def rule(rule_id: str) -> VentilationRule:
    found = rule_set(rule_id)
    assert isinstance(found, VentilationRule)
    return found


@pytest.mark.parametrize(
    ("angle_deg", "share"),
    [(0, 0), (14.99, 0), (15, 0.5), (15.01, 0.5), (29.99, 0.5), (30, 1), (30.01, 1), (90, 1)],
)
def test_adf_bands(angle_deg: float, share: float) -> None:
    """Approved Document F volume 1, table 1.4: 1/20 from 30°, 1/10 from 15°, nothing below."""
    assert rule("ADF-2021-T1.4").counted_share(angle_deg) == share


def test_adf_band_asks_its_own_fraction() -> None:
    """Approved Document F volume 1, table 1.4."""
    adf = rule("ADF-2021-T1.4")
    wide, narrow = adf.band(30), adf.band(15)
    assert wide
    assert narrow
    assert (wide.of_floor(20), narrow.of_floor(20)) == (1, 2)
    assert adf.band(14.9) is None


def test_adf_angle_unknown() -> None:
    adf = rule("ADF-2021-T1.4")
    assert adf.needs_angle
    assert adf.counted_area_m2(1000, 600, None) is None


@pytest.mark.parametrize("angle_deg", [None, 0, 5, 60])
@pytest.mark.parametrize("rule_id", ["NCC-2022-HP-10.6.2", "IRC-R303.1"])
def test_whole_sash_whatever_the_restrictor(rule_id: str, angle_deg: float | None) -> None:
    """ABCB Housing Provisions, explanatory note to 10.6.2; IRC R303.1."""
    assert not rule(rule_id).needs_angle
    assert rule(rule_id).counted_area_m2(1000, 600, angle_deg) == 0.6


@pytest.mark.parametrize(
    ("rule_id", "floor_m2", "required_m2"),
    [("ADF-2021-T1.4", 12, 0.6), ("NCC-2022-HP-10.6.2", 12, 0.6), ("IRC-R303.1", 25, 1)],
)
def test_required_area(rule_id: str, floor_m2: float, required_m2: float) -> None:
    """ABCB Housing Provisions, 10.6.2: 12 m² needs 0.6 m²; table 1.4: 1/20; R303.1: 4 %."""
    ruled = rule(rule_id)
    assert ruled.required_area_m2(floor_m2) == pytest.approx(required_m2, abs=1e-12)
    assert not ruled.enough(required_m2 - 0.001, required_m2)
    assert ruled.enough(required_m2, required_m2)
    assert ruled.enough(required_m2 + 0.001, required_m2)


def test_enough_forgives_the_last_digits_of_a_sum() -> None:
    ncc = rule("NCC-2022-HP-10.6.2")
    assert ncc.enough(sum([0.1] * 6), ncc.required_area_m2(12))


@pytest.mark.parametrize(
    ("rule_id", "use", "beyond"),
    [
        ("NCC-2022-HP-10.6.2", "bedroom", False),
        ("NCC-2022-HP-10.6.2", "assembly", True),
        ("ADF-2021-T1.4", "living", False),
        ("ADF-2021-T1.4", "teaching", True),
        ("IRC-R303.1", "bath", True),
        ("IRC-R303.1", None, None),
    ],
)
def test_beyond_uses(rule_id: str, use: str | None, beyond: bool | None) -> None:
    assert rule(rule_id).beyond_uses(use) is beyond
