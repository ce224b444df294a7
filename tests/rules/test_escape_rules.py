"""The escape rule at, just below and just above every figure (Approved Document B, secondary)."""

import pytest

from zonecfg.rules import EscapeDemand, EscapeRule, rule_set


def demand(use: str | None = "bedroom") -> EscapeDemand:
    found = rule_set("ADB-ESCAPE")
    assert isinstance(found, EscapeRule)
    return found.asks(use)


@pytest.mark.parametrize(("area_m2", "met"), [(0.329, False), (0.33, True), (0.331, True)])
def test_clear_area(area_m2: float, met: bool) -> None:
    assert demand().unmet(clear_area_m2=area_m2) == (() if met else ("clear_area_at_least_m2",))


@pytest.mark.parametrize(("size_mm", "met"), [(449, False), (450, True), (451, True)])
def test_each_way(size_mm: float, met: bool) -> None:
    unmet = () if met else ("each_way_at_least_mm",)
    assert demand().unmet(clear_width_mm=size_mm, clear_height_mm=900) == unmet
    assert demand().unmet(clear_width_mm=900, clear_height_mm=size_mm) == unmet


@pytest.mark.parametrize(("bottom_mm", "met"), [(1099, True), (1100, True), (1101, False)])
def test_bottom(bottom_mm: float, met: bool) -> None:
    assert demand().unmet(bottom_mm=bottom_mm) == (() if met else ("bottom_at_most_mm",))


def test_by_hand() -> None:
    assert demand().unmet(opens_by_hand=False) == ("by_hand",)
    assert demand().unmet(opens_by_hand=True) == ()


def test_what_is_not_given_is_not_judged() -> None:
    assert demand().unmet() == ()


def test_all_figures_are_secondary() -> None:
    assert "clear_area_at_least_m2" in demand().secondary


@pytest.mark.parametrize(("use", "beyond"), [("bedroom", False), ("office", True), (None, None)])
def test_beyond_uses(use: str | None, beyond: bool | None) -> None:
    assert demand(use).beyond_uses is beyond
