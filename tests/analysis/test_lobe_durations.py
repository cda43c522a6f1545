"""Durations of a line's lift with and without lash, against the closed form of a harmonic lobe."""

from __future__ import annotations

import math

import numpy as np
import pytest

from loadbench.analysis.motion.lobe_durations import LASH_STEP, LEVELS, durations_of, lashes_of
from loadbench.motion.lobe import LawLobe
from loadbench.units import Style

TOP, HALF = 12e-3, 1.2
LOBE = LawLobe(law="harmonic", lift=TOP, opening=HALF, closing=1.1 * HALF)


def half(level: float) -> float:
    """How far from the nose a harmonic flank of duration 1 passes a level: s = h/2 (1 - cos(pi x))."""
    return 1 - math.acos(1 - 2 * level / TOP) / math.pi


def test_durations_are_those_of_the_closed_form() -> None:
    levels, lashes = (0.0005, 0.001, 0.005), (0.0, 0.3e-3)
    found = durations_of(LOBE, levels, lashes)
    assert found.durations.shape == (3, 2)
    for row, level in enumerate(levels):
        for column, lash in enumerate(lashes):
            wanted = half(level + lash)
            assert found.opens[row, column] == pytest.approx(-HALF * wanted, rel=1e-9)
            assert found.closes[row, column] == pytest.approx(1.1 * HALF * wanted, rel=1e-9)
            assert found.durations[row, column] == pytest.approx(2.1 * HALF * wanted, rel=1e-9)


def test_the_area_without_lash_is_half_the_lift_over_the_duration() -> None:
    """A harmonic flank is symmetrical about its middle."""
    found = durations_of(LOBE, (0.0,), (0.0, 1e-3))
    assert found.areas[0] == pytest.approx(TOP / 2 * 2.1 * HALF, rel=1e-6)
    assert found.areas[1] < found.areas[0]


def test_a_lift_that_is_never_reached_has_no_duration() -> None:
    found = durations_of(LOBE, (0.0119, 0.0121), (0.0, 0.2e-3))
    assert found.durations[0, 0] > 0
    assert found.durations[0, 1] == 0.0
    assert found.durations[1].tolist() == [0.0, 0.0]
    assert np.isnan(found.opens[1]).all()


def test_lashes_are_none_the_own_and_a_step_each_way() -> None:
    step = LASH_STEP[Style.INCH_POUND]
    assert step == pytest.approx(0.002 * 0.0254)
    assert lashes_of(None, step) == lashes_of(0.0, step) == (0.0,)
    assert lashes_of(0.4e-3, step) == pytest.approx((0.0, 0.4e-3, 0.4e-3 - step, 0.4e-3 + step))
    assert lashes_of(step / 2, step) == pytest.approx((0.0, step / 2, 1.5 * step))


def test_the_levels_rise_from_the_seat() -> None:
    for levels in LEVELS.values():
        assert levels[0] == 0.0
        assert list(levels) == sorted(levels)
    assert LEVELS[Style.INCH_POUND][3] == pytest.approx(0.00127)
