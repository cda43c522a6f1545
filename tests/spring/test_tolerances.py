"""Tolerances: grades in order, the standard's range, refusals."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.errors import InputError
from loadbench.spring.tolerances import (
    GRADES,
    INDEX_STEPS,
    DIAMETER_STEPS_mm,
    DIAMETER_TOLERANCES_mm,
    MEMORY_ROWS_mm,
    coil_count_factor,
    diameter_tolerance,
    length_tolerance,
    load_tolerance,
    parallelism,
    size_tolerance_load,
    squareness,
)

wires = st.floats(0.002, 0.006)
indices = st.floats(4.0, 14.0)
turns = st.floats(2.0, 12.0)
loads = st.floats(0.0, 5e3)


def test_the_table_has_a_row_a_step_and_widens() -> None:
    for grade in GRADES:
        table = np.array(DIAMETER_TOLERANCES_mm[grade])
        assert table.shape == (len(DIAMETER_STEPS_mm) - 1, len(INDEX_STEPS) - 1)
        assert np.all(np.diff(table, axis=0) >= 0)
        assert np.all(np.diff(table, axis=1) >= 0)
    assert np.all(np.array(DIAMETER_TOLERANCES_mm[1]) < DIAMETER_TOLERANCES_mm[2])
    assert np.all(np.array(DIAMETER_TOLERANCES_mm[2]) < DIAMETER_TOLERANCES_mm[3])
    assert set(MEMORY_ROWS_mm) < set(pairwise(DIAMETER_STEPS_mm))


@pytest.mark.parametrize(("diameter", "index"), [(0.0062, 6.0), (0.0501, 6.0), (0.030, 3.99), (0.030, 20.1)])
def test_outside_the_table_is_unknown(diameter: float, index: float) -> None:
    assert np.isnan(diameter_tolerance(diameter, index, 2))


def test_a_size_from_inches_stays_in_its_step() -> None:
    # 25 mm stated as 0.984252 in comes back a hair above 25.
    assert float(diameter_tolerance(0.025 * (1 + 1e-12), 8.0 * (1 + 1e-12), 1)) == pytest.approx(0.20e-3)
    assert float(diameter_tolerance(0.0251, 8.1, 1)) == pytest.approx(0.30e-3)


@given(wires, indices, turns, loads)
def test_grades_stand_as_their_factors(d: float, w: float, n: float, F: float) -> None:
    close, middle, wide = (float(load_tolerance(d, w * d, n, F, grade)) for grade in GRADES)
    assert (close / middle, wide / middle) == pytest.approx((0.63, 1.6), rel=1e-12)


@given(wires, indices, turns, loads, st.floats(1e3, 1e6))
def test_a_load_tolerance_without_its_load_is_the_lengths(d: float, w: float, n: float, F: float, rate: float) -> None:
    scatter = float(load_tolerance(d, w * d, n, 0.0, 2))
    assert float(length_tolerance(d, w * d, n, rate, 2)) == pytest.approx(scatter / rate, rel=1e-12)
    assert float(load_tolerance(d, w * d, n, F, 2)) == pytest.approx(scatter + 0.015 * F, rel=1e-12)


@given(turns, turns)
def test_more_coils_scatter_less(one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert coil_count_factor(high) <= coil_count_factor(low)


@given(wires, indices, st.floats(0.5, 2.0))
def test_scatter_goes_with_its_power_of_size(d: float, w: float, scale: float) -> None:
    at = float(size_tolerance_load(d, w * d))
    # d^3.3/D^1.6; the index, scaled and unscaled, may differ by rounding at the range's end.
    again = float(size_tolerance_load(scale * d, w * scale * d))
    assert again == pytest.approx(at * scale**1.7, rel=1e-9)


@pytest.mark.parametrize(("mean", "coils"), [(0.015, 5.0), (0.081, 5.0), (0.030, 1.9)])
def test_loads_outside_the_standard_are_unknown(mean: float, coils: float) -> None:
    assert np.isnan(load_tolerance(0.004, mean, coils, 500.0, 2))
    assert np.isnan(length_tolerance(0.004, mean, coils, 2e4, 2))


def test_arrays_go_through_together() -> None:
    means = np.array([0.020, 0.030])
    assert diameter_tolerance(means, np.array([[5.0], [9.0], [25.0]]), 1).shape == (3, 2)
    both = load_tolerance(0.004, means, 5.0, 500.0, 1)
    assert both.tolist() == pytest.approx([float(load_tolerance(0.004, mean, 5.0, 500.0, 1)) for mean in means])


@pytest.mark.parametrize("grade", [0, 4, -1])
def test_an_unknown_grade_is_refused(grade: int) -> None:
    calls = [
        lambda: diameter_tolerance(0.030, 6.0, grade),
        lambda: squareness(0.050, grade),
        lambda: parallelism(0.034, grade),
        lambda: load_tolerance(0.004, 0.030, 5.0, 500.0, grade),
        lambda: length_tolerance(0.004, 0.030, 5.0, 2e4, grade),
    ]
    for call in calls:
        with pytest.raises(InputError, match="grade"):
            call()


@pytest.mark.parametrize("bad", [0.0, -1.0, float("nan")])
def test_nothing_is_refused(bad: float) -> None:
    calls = [
        lambda: diameter_tolerance(bad, 6.0, 1),
        lambda: diameter_tolerance(0.030, bad, 1),
        lambda: squareness(bad, 1),
        lambda: parallelism(bad, 1),
        lambda: coil_count_factor(bad),
        lambda: size_tolerance_load(bad, 0.030),
        lambda: size_tolerance_load(0.004, bad),
        lambda: length_tolerance(0.004, 0.030, 5.0, bad, 1),
        lambda: load_tolerance(0.004, 0.030, bad, 500.0, 1),
        lambda: load_tolerance(0.004, 0.030, 5.0, bad or -1.0, 1),
    ]
    for call in calls:
        with pytest.raises(InputError):
            call()
