"""Fall rules at, just below and just above every figure; the source is the rule set's own text."""

import pytest

from zonecfg.rules import FallDemand, FallRule, NotJudged, rule_set


def rule(rule_id: str) -> FallRule:
    found = rule_set(rule_id)
    assert isinstance(found, FallRule)
    return found


def demand(rule_id: str, use: str | None, drop_mm: float | None, sill_mm: float | None) -> FallDemand:
    found = rule(rule_id).asks(use, drop_mm, sill_mm)
    assert isinstance(found, FallDemand)
    return found


# NCC 2022, ABCB guide to D3D29: floor 2 m or more up, lowest opening under 1.7 m


@pytest.mark.parametrize("use", ["bedroom", "childcare"])
@pytest.mark.parametrize(
    ("drop_mm", "sill_mm", "asked"),
    [(1999, 900, False), (2000, 900, True), (2001, 900, True), (3000, 1699, True), (3000, 1700, False),
     (3000, 1701, False), (9000, 1700, False)],
)  # fmt: skip
def test_ncc_bedrooms(use: str, drop_mm: float, sill_mm: float, asked: bool) -> None:
    found = rule("NCC-2022-D3D29").asks(use, drop_mm, sill_mm)
    assert (found is not None) is asked
    if isinstance(found, FallDemand):
        assert (found.sphere_mm, found.resist_n) == (125, 250)


@pytest.mark.parametrize(
    ("drop_mm", "sill_mm", "barrier_mm"),
    [(3999, 900, None), (4000, 900, 865), (4001, 900, 865), (5000, 1699, 865), (5000, 1700, None)],
)
def test_ncc_other_rooms(drop_mm: float, sill_mm: float, barrier_mm: float | None) -> None:
    """The barrier of 865 mm is secondary: the demand says so."""
    found = rule("NCC-2022-D3D29").asks("office", drop_mm, sill_mm)
    if barrier_mm is None:
        assert found is None
        return
    assert isinstance(found, FallDemand)
    assert found.sphere_mm is None
    assert found.barrier_mm() == barrier_mm
    assert "barrier_mm" in found.secondary
    assert (found.asks.no_climb_from_mm, found.asks.no_climb_to_mm) == (150, 760)


def test_ncc_barrier_in_bedrooms_only_where_the_limit_can_be_overridden() -> None:
    found = demand("NCC-2022-D3D29", "bedroom", 3100, 800)
    assert found.barrier_mm() is None
    assert found.barrier_mm(overridable=True) == 865
    assert "barrier_if_overridable_mm" in found.secondary
    assert found.asks.child_resistant_release


def test_ncc_bedrooms_keep_their_own_clause_at_four_metres() -> None:
    assert demand("NCC-2022-D3D29", "bedroom", 6000, 900).sphere_mm == 125


# IRC R312.2: opening more than 72 in (1829 mm) above the surface outside, sill under 24 in (610 mm)


@pytest.mark.parametrize(
    ("drop_mm", "sill_mm", "asked"),
    [(1328, 500, False), (1329, 500, False), (1330, 500, True), (1829, 0, False), (1830, 0, True),
     (3000, 609, True), (3000, 610, False), (3000, 611, False)],
)  # fmt: skip
def test_irc(drop_mm: float, sill_mm: float, asked: bool) -> None:
    """The height is the opening's above the surface outside: drop and sill together."""
    found = rule("IRC-R312.2").asks("bedroom", drop_mm, sill_mm)
    assert (found is not None) is asked
    if isinstance(found, FallDemand):
        assert found.sphere_mm == 102
        assert found.asks.or_device
        assert found.secondary == ("judges_hand_opened",)
        assert found.asks.judges_hand_opened


# Approved Document K, diagram 3.1 and paragraph 3.3; the drop of 600 mm is secondary


@pytest.mark.parametrize(("drop_mm", "asked"), [(599, False), (600, False), (601, True)])
@pytest.mark.parametrize(("use", "sphere_mm"), [("bedroom", 100), ("childcare", 100), ("office", None)])
def test_adk(use: str, sphere_mm: float | None, drop_mm: float, asked: bool) -> None:
    found = rule("ADK-2013").asks(use, drop_mm, 700)
    assert (found is not None) is asked
    if isinstance(found, FallDemand):
        assert found.barrier_mm() == 800
        assert found.sphere_mm is None
        assert found.asks.guarding_sphere_mm == sphere_mm
        assert found.secondary == ("drop_over_mm",)


# BS 8213-1, secondary: 100 mm where somebody could fall


@pytest.mark.parametrize(("drop_mm", "asked"), [(0, False), (1, True), (3000, True)])
def test_bs_8213_1(drop_mm: float, asked: bool) -> None:
    found = rule("BS-8213-1").asks("office", drop_mm, None)
    assert (found is not None) is asked
    if isinstance(found, FallDemand):
        assert found.sphere_mm == 100
        assert "sphere_mm" in found.secondary


# Sphere tests: a smaller gap passes, an equal one fails


@pytest.mark.parametrize(
    ("rule_id", "use", "sphere_mm"),
    [("NCC-2022-D3D29", "bedroom", 125), ("IRC-R312.2", "bedroom", 102),
     ("BS-8213-1", "bedroom", 100)],
)  # fmt: skip
def test_sphere(rule_id: str, use: str, sphere_mm: float) -> None:
    found = demand(rule_id, use, 3000, 500)
    assert not found.lets_through(sphere_mm - 0.1)
    assert found.lets_through(sphere_mm)
    assert found.lets_through(sphere_mm - 1e-12), "a chord that came back from its own angle"
    assert found.lets_through(sphere_mm + 0.1)


def test_no_sphere_lets_nothing_through() -> None:
    assert not demand("NCC-2022-D3D29", "office", 5000, 900).lets_through(900)


# What is missing matters only where the answer hangs on it


@pytest.mark.parametrize(
    ("rule_id", "use", "drop_mm", "sill_mm", "answer"),
    [
        ("NCC-2022-D3D29", None, 1999, None, None),
        ("NCC-2022-D3D29", None, None, 1700, None),
        ("NCC-2022-D3D29", "office", 3000, None, None),
        ("NCC-2022-D3D29", None, 3000, 900, NotJudged(("use",))),
        ("NCC-2022-D3D29", None, 5000, 900, NotJudged(("use",))),
        ("NCC-2022-D3D29", None, None, None, NotJudged(("use", "drop_mm", "sill_mm"))),
        ("NCC-2022-D3D29", "bedroom", 3000, None, NotJudged(("sill_mm",))),
        ("NCC-2022-D3D29", "office", None, 900, NotJudged(("drop_mm",))),
        ("IRC-R312.2", None, None, 610, None),
        ("IRC-R312.2", None, None, 500, NotJudged(("drop_mm",))),
        ("ADK-2013", None, 600, None, None),
        ("ADK-2013", None, 601, None, NotJudged(("use",))),
        ("BS-8213-1", None, None, None, NotJudged(("drop_mm",))),
    ],
)
def test_unknown(
    rule_id: str, use: str | None, drop_mm: float | None, sill_mm: float | None, answer: NotJudged | None
) -> None:
    assert rule(rule_id).asks(use, drop_mm, sill_mm) == answer


@pytest.mark.parametrize(
    ("rule_id", "use", "beyond"),
    [
        ("NCC-2022-D3D29", "office", False),
        ("IRC-R312.2", "bedroom", False),
        ("IRC-R312.2", "assembly", True),
        ("IRC-R312.2", None, None),
        ("ADK-2013", "living", False),
        ("ADK-2013", "office", True),
        ("BS-8213-1", "office", False),
    ],
)
def test_beyond_uses(rule_id: str, use: str | None, beyond: bool | None) -> None:
    """It is applied all the same, and the demand says it."""
    assert demand(rule_id, use, 5000, 500).beyond_uses is beyond
