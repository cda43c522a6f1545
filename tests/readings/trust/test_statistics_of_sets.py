"""Medians, scores, deviates, groups and the gauge study against scipy and by hand."""

from __future__ import annotations

import math

import numpy as np
import pytest

from loadbench.errors import InputError
from loadbench.readings.trust.gauge_study import gauge_study
from loadbench.readings.trust.moments import (
    column_median,
    compared_groups,
    extreme_deviates,
    modified_z,
    moments,
    robust_deviation,
    strays,
)


def some(*shape: int) -> np.ndarray:
    return np.random.default_rng(11).standard_normal(shape)


def test_medians_leave_out_what_is_missing() -> None:
    values = some(9, 4)
    values[[0, 3, 5], [1, 1, 2]] = np.nan
    values[:, 3] = np.nan
    assert column_median(values)[:3] == pytest.approx(np.nanmedian(values[:, :3], axis=0))
    assert math.isnan(column_median(values)[3])
    from scipy import stats

    whole = values[:, [0]]
    assert robust_deviation(whole) == pytest.approx(stats.median_abs_deviation(whole) / 0.6745)


def test_modified_z_by_hand() -> None:
    # median 10, deviations 2 1 0 1 10: MAD 1; 0.6745 x 10/1
    assert modified_z(np.array([[8.0], [9], [10], [11], [20]]))[4, 0] == pytest.approx(6.745)


def test_no_spread_at_all_has_no_score_but_for_what_differs() -> None:
    same = np.array([[5.0]] * 7 + [[5.2]])
    assert np.isinf(modified_z(same)[7, 0])
    assert modified_z(same, 0.2)[7, 0] == pytest.approx(3.5)
    assert modified_z(same)[0, 0] == 0


def test_a_stray_must_be_past_both_rules_and_the_floor() -> None:
    values = np.array([100.0, 101, 99, 100.5, 99.5, 100, 101.5, 98.5, 90])[:, None]
    assert strays(values, 0.5, 0.01)[1][:, 0].tolist() == [False] * 8 + [True]
    assert not strays(values, 11.0, 0.01)[1].any()
    assert not strays(values[-4:], 0.5, 0.01)[1].any()


def test_chance_flags_no_more_normal_sets_than_it_is_given() -> None:
    rng = np.random.default_rng(2)
    flagged = np.mean([extreme_deviates(rng.standard_normal(20), 0.05).any() for _ in range(2000)])
    assert flagged == pytest.approx(0.055, abs=0.025)


def test_groups_as_scipy_has_them() -> None:
    from scipy import stats

    groups = [some(4) + 1, some(6), some(3) - 1]
    assert compared_groups(groups).ratio == pytest.approx(stats.f_oneway(*groups).statistic)


def test_too_few_values_are_refused() -> None:
    with pytest.raises(InputError):
        moments(np.array([1.0]))
    with pytest.raises(InputError):
        compared_groups([np.array([1.0]), np.array([2.0])])
    assert moments(np.array([3.0, 3.0])).autocorrelation == 0


def study(appraisers: int, *, interaction: float = 0.0) -> np.ndarray:
    rng = np.random.default_rng(8)
    parts, own = rng.normal(0, 10, 40), rng.normal(0, 2, (appraisers, 1, 1))
    crossed = rng.normal(0, interaction, (appraisers, 1, 40))
    return np.asarray(parts + own + crossed + rng.normal(0, 1, (appraisers, 3, 40)))


def test_a_study_gives_back_what_was_put_in() -> None:
    found = gauge_study(study(6))
    for shares in (found.ranges.shares, found.variances.shares):
        assert shares.repeatability == pytest.approx(1.0, rel=0.1)
        assert shares.parts == pytest.approx(10.0, rel=0.35)
        assert 1.0 < shares.reproducibility < 4.0
        assert shares.gauge_percent == pytest.approx(100 * shares.gauge / shares.total)


def test_the_sums_of_squares_add_up() -> None:
    values = study(3)
    found = gauge_study(values).variances
    whole = float(np.sum((values - values.mean()) ** 2))
    assert found.parts + found.appraisers + found.interaction + found.equipment == pytest.approx(whole)


def test_an_interaction_is_kept_apart() -> None:
    found = gauge_study(study(3, interaction=3.0)).variances
    assert not found.pooled
    assert found.shares.repeatability == pytest.approx(1.0, rel=0.1)
    assert found.shares.reproducibility > 2.5


def test_one_appraiser_has_no_reproducibility() -> None:
    found = gauge_study(study(1))
    assert found.variances.interaction_chance is None
    assert found.ranges.shares.reproducibility == found.variances.shares.reproducibility == 0


def test_a_study_without_trials_or_with_a_gap_is_refused() -> None:
    for wrong in (np.ones((1, 1, 5)), np.ones((3, 4)), np.array([[[1.0, np.nan], [2.0, 3.0]]])):
        with pytest.raises(InputError):
            gauge_study(wrong)
