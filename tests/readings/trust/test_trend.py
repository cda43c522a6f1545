"""Loss of load over time: the line, its uncertainty by simulation, and when it is let alone."""

from __future__ import annotations

import numpy as np
import pytest

from loadbench.readings.trust.trend import loss_trend


def test_a_line_by_hand() -> None:
    # 700 N, then 1 N less an hour: 1/700 of the start load an hour; residuals 1, -2, 1: s^2 = 6
    found = loss_trend(np.array([0.0, 10.0, 20.0]), np.array([701.0, 688.0, 681.0]))
    assert found is not None
    assert found.start_load == pytest.approx(700.0)
    assert found.loss_per_unit == pytest.approx(1 / 700)
    # slope: s/sqrt(200), Student's t 13.97 with one degree of freedom; the start load adds a little
    assert found.loss_per_unit_U == pytest.approx(13.97 * np.sqrt(6 / 200) / 700, rel=0.02)
    assert not found.significant
    assert found.reaches(0.1) is None
    assert found.share_lost(20.0) == pytest.approx(20 / 700)


def test_a_clear_loss_is_forecast() -> None:
    at = np.array([30.0, 5.0, 10.0, 20.0, 15.0])
    found = loss_trend(at, 700 * (1 - 0.003 * (at - 5)))
    assert found is not None
    assert (found.count, found.start, found.last) == (5, 5.0, 30.0)
    assert found.significant
    assert found.reaches(0.10) == pytest.approx(5 + 0.10 / 0.003)


def test_two_checks_have_no_uncertainty_and_one_no_trend() -> None:
    found = loss_trend(np.array([0.0, 10.0]), np.array([700.0, 650.0]), np.array([2.0, 2.0]))
    assert found is not None
    assert found.loss_per_unit == pytest.approx(50 / 700 / 10)
    assert found.loss_per_unit_U is None
    assert found.reaches(0.1) is None
    assert loss_trend(np.array([0.0]), np.array([700.0])) is None
    assert loss_trend(np.array([3.0, 3.0]), np.array([700.0, 690.0])) is None
    assert loss_trend(np.array([0.0, np.nan]), np.array([700.0, 690.0])) is None
    assert loss_trend(np.array([0.0, 1.0]), np.array([0.0, -5.0])) is None


def test_a_gain_is_never_forecast() -> None:
    at = np.arange(6.0)
    found = loss_trend(at, 700 + at)
    assert found is not None
    assert found.loss_per_unit < 0
    assert found.reaches(0.1) is None


def test_stated_deviations_weigh_and_hold_the_uncertainty_up() -> None:
    at, loads = np.array([0.0, 10.0, 20.0, 30.0]), np.array([700.0, 690.0, 680.0, 600.0])
    found = loss_trend(at, loads, np.array([2.0, 2.0, 2.0, 2000.0]))
    assert found is not None
    assert found.loss_per_unit == pytest.approx(1 / 700, rel=1e-3)
    exact = loss_trend(at, 700 - at, np.full(4, 2.0))
    assert exact is not None
    assert exact.loss_per_unit_U == pytest.approx(2 * 2.0 / np.sqrt(500) / 700, rel=0.05)


def test_the_uncertainty_holds_in_95_of_100() -> None:
    rng, at = np.random.default_rng(4), np.array([0.0, 10.0, 25.0, 40.0, 60.0])
    held = 0
    for _ in range(400):
        found = loss_trend(at, 700 * (1 - 0.002 * at) + rng.normal(0, 3, 5))
        assert found is not None
        assert found.loss_per_unit_U is not None
        held += abs(found.loss_per_unit - 0.002) < found.loss_per_unit_U
    assert held / 400 == pytest.approx(0.9545, abs=0.03)
