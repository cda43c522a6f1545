"""Bushes: the lists by material, and that one kind of list never answers for the other."""

from __future__ import annotations

import numpy as np
import pytest

from loadbench.errors import InputError
from loadbench.follower import bush
from loadbench.sources import COMMON_PRACTICE, SOURCES


@pytest.mark.parametrize(
    ("text", "dry", "fed"),
    [
        ("tin bronze", "cast-bronze-shigley", "tin-bronze-fed"), ("Bronze", "cast-bronze-shigley", "tin-bronze-fed"),
        ("phosphor-bronze bush", "cast-bronze-shigley", "tin-bronze-fed"),
        ("leaded tin bronze C93800", "lead-tin-bronze-mott", "lead-bronze-fed"),
        ("aluminum bronze", "aluminium-bronze-mott", "aluminium-bronze-fed"),
        ("aluminium bronze bush", "aluminium-bronze-mott", "aluminium-bronze-fed"),
        ("C95400", "aluminium-bronze-mott", "aluminium-bronze-fed"),
        ("manganese bronze", "manganese-bronze-mott", None),
        ("sintered bronze", "porous-bronze-mott", None), ("porous iron", "porous-iron-shigley", None),
        ("babbitt", None, None), ("", None, None), (None, None, None), ("bronzed", None, None),
    ],
)  # fmt: skip
def test_a_material_has_its_own_row_or_none(text: str | None, dry: str | None, fed: str | None) -> None:
    rows = [bush.bush_limits(text, fed=each) for each in (False, True)]
    assert [row and row.id for row in rows] == [dry, fed]


def test_every_row_says_where_it_is_from_and_is_found_by_each_of_its_words() -> None:
    rows = bush.bush_lists()
    assert len({row.id for row in rows}) == len(rows)
    for row in rows:
        assert row.source in {*SOURCES, COMMON_PRACTICE}
        assert row.seen in {"read", "memory"}
        assert row.pv is not None
        for word in row.words:
            assert bush.bush_limits(word, fed=row.fed) is row


def test_lists_of_both_kinds_are_far_apart_and_never_mixed() -> None:
    dry, fed = ([row for row in bush.bush_lists() if row.fed == each] for each in (False, True))
    assert max(row.pv or 0 for row in dry) < min(row.pv or 0 for row in fed) / 2
    assert all(row.source == "machine-elements-351" for row in fed)


@pytest.mark.reference("machine-elements-351")
@pytest.mark.parametrize(
    ("material", "pressure", "speed"),
    [("tin bronze", (8, 15), (3, 10)), ("lead bronze", (5, 25), (8, 12)), ("aluminium bronze", (15, 20), (None, 5))],
)
def test_f65_ranges(material: str, pressure: tuple[float, float], speed: tuple[float | None, float]) -> None:
    row = bush.bush_limits(material, fed=True)
    assert row is not None
    assert (row.pressure_from, row.pressure) == pytest.approx((pressure[0] * 1e6, pressure[1] * 1e6))
    assert (row.speed_from, row.speed) == speed


@pytest.mark.reference("shigley-bearings")
@pytest.mark.parametrize(
    ("material", "psi", "feet", "product"), [("cast bronze", 4500, 1500, 50000), ("porous iron", 8000, 800, 50000)]
)
def test_f61_f62_in_the_units_of_their_table(material: str, psi: float, feet: float, product: float) -> None:
    row = bush.bush_limits(material, fed=False)
    assert row is not None
    assert row.pressure is not None
    assert row.speed is not None
    assert row.pv is not None
    psi_unit, foot = 4.4482216152605 / 0.0254**2, 0.3048 / 60
    assert row.pressure / psi_unit == pytest.approx(psi, rel=1e-5)
    assert row.speed / foot == pytest.approx(feet, rel=1e-5)
    assert row.pv / psi_unit / foot == pytest.approx(product, rel=1e-5)
    assert row.seen == "memory"


@pytest.mark.reference("mott")
def test_f64_with_the_design_factor_of_two() -> None:
    psi, foot = 4.4482216152605 / 0.0254**2, 0.3048 / 60
    speed = bush.surface_speed(1.5 * 0.0254, 500 * np.pi / 30)
    work = 2 * bush.bush_pressure(150 * 4.4482216152605, 1.5 * 0.0254, 1.5 * 0.0254) * speed
    assert work / psi / foot == pytest.approx(26200, rel=0.005)


def test_a_swinging_bush_is_a_sine_followed_step_by_step() -> None:
    swing, frequency, diameter = 0.4, 25.0, 0.016
    t = np.linspace(0, 1 / frequency, 100001)
    speed = np.abs(np.gradient(swing / 2 * np.sin(2 * np.pi * frequency * t), t)) * diameter / 2
    mean, greatest = bush.swinging_speed(diameter, swing, frequency)
    assert mean == pytest.approx(np.mean(speed), rel=1e-4)
    assert greatest == pytest.approx(np.max(speed), rel=1e-6)


def test_a_bush_without_size_is_refused() -> None:
    with pytest.raises(InputError):
        bush.bush_pressure(1000.0, 0.0, 0.01)
    with pytest.raises(InputError):
        bush.swinging_speed(0.01, -0.1, 20.0)
