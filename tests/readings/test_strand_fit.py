"""The load line of one spring: straight or along its readings, and its uncertainty worked out by hand."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.errors import InputError
from loadbench.readings.accuracy import Accuracy
from loadbench.readings.load_line import LoadLine
from loadbench.readings.strand import Evidence, Strand
from loadbench.readings.strand_fit import fitted_strand, line_from_rate

NONE = Accuracy()
FULL = Accuracy(gain=0.01, zero=4.0, repeatability=2.0, height=5e-5)


def fitted(heights: list[float], loads: list[float], accuracy: Accuracy = NONE) -> LoadLine:
    strand = fitted_strand(np.array(heights), np.array(loads), accuracy)
    return LoadLine(strands=((0.0, strand),), accuracy=accuracy)


def growing(share: float) -> tuple[list[float], list[float]]:
    """Five even readings of a spring whose rate grows by a share of its mean, 50 N/mm, over 16 mm."""
    reach, rate = 0.016, 50e3
    heights = np.linspace(0.048, 0.048 - reach, 5)
    travel = 0.048 - heights
    # dF/ds = k (1 - share/2) + k share s/reach: it grows by the share, and its mean is k.
    loads = 500 + rate * (1 - share / 2) * travel + rate * share / (2 * reach) * travel**2
    return heights.tolist(), loads.tolist()


def test_two_readings_by_hand() -> None:
    line = fitted([0.04826, 0.03175], [667.0, 1881.0], FULL)
    k = (1881 - 667) / (0.04826 - 0.03175)
    assert line.rate == pytest.approx(k, rel=1e-12)
    one = (2.0**2 + (k * 5e-5) ** 2) / 3  # a reading's own: repeatability and height
    of_rate = 2 * one / (0.04826 - 0.03175) ** 2 + (0.01 * k) ** 2 / 3  # zero cancels, gain does not
    assert line.rate_uncertainty() == pytest.approx(2 * math.sqrt(of_rate), rel=1e-9)
    # On the taller reading: its own, the gain of its load, the zero, and the height's own +-0.05 mm.
    at_seat = one + (0.01 * 667) ** 2 / 3 + 4.0**2 / 3 + (k * 5e-5) ** 2 / 3
    assert line.uncertainty(0.04826, 5e-5 / math.sqrt(3)) == pytest.approx(2 * math.sqrt(at_seat), rel=1e-9)
    # Half way between: half of the two readings' variance, the gain of the mean load.
    middle = one / 2 + (0.01 * (667 + 1881) / 2) ** 2 / 3 + 4.0**2 / 3
    assert line.uncertainty((0.04826 + 0.03175) / 2) == pytest.approx(2 * math.sqrt(middle), rel=1e-9)


def test_five_readings_by_hand() -> None:
    heights, loads = [0.048, 0.044, 0.040, 0.036, 0.032], [700.0, 996.0, 1303.0, 1602.0, 1899.0]
    line = fitted(heights, loads, FULL)
    # Sxx = 2 x (8^2 + 4^2) mm2 = 160 mm2; Sxy = 8 (700 - 1899) + 4 (996 - 1602) = -12016 N mm: k = 75.1 N/mm.
    k = 12016 / 160 * 1e3
    assert line.rate == pytest.approx(k, rel=1e-9)
    one = (2.0**2 + (k * 5e-5) ** 2) / 3
    assert line.rate_uncertainty() == pytest.approx(2 * math.sqrt(one / 160e-6 + (0.01 * k) ** 2 / 3), rel=1e-9)
    load = 1300 + k * 0.008  # the mean of the loads is 1300 N at 40 mm
    assert float(line.load(0.032)) == pytest.approx(load, rel=1e-9)
    variance = one / 5 + 0.008**2 * one / 160e-6 + (0.01 * load) ** 2 / 3 + 16 / 3
    assert line.uncertainty(0.032) == pytest.approx(2 * math.sqrt(variance), rel=1e-9)


def test_no_accuracy_and_four_readings_by_hand() -> None:
    line = fitted([0.040, 0.038, 0.036, 0.034], [100.0, 201.0, 299.0, 400.0])
    # Sxx = 2 x (3^2 + 1^2) = 20 mm2; Sxy = 3 (100 - 400) + (201 - 299) = -998: 49.9 N/mm.
    # The line is 250 + 49.9 s at s = -3, -1, 1, 3 mm, and leaves two degrees of freedom.
    k = 998 / 20
    residuals = [load - (250 + k * s) for load, s in zip([100, 201, 299, 400], [-3, -1, 1, 3], strict=True)]
    assert residuals == pytest.approx([-0.3, 0.9, -0.9, 0.3])
    deviation = math.sqrt((2 * 0.3**2 + 2 * 0.9**2) / 2)
    t = 4.5266  # Student, 95.45 %, 2 degrees of freedom (GUM table G.2: 4.53)
    assert line.rate == pytest.approx(k * 1e3, rel=1e-9)
    assert line.rate_uncertainty() == pytest.approx(t * deviation / math.sqrt(20) * 1e3, rel=1e-4)
    assert line.uncertainty(0.037) == pytest.approx(t * deviation / 2, rel=1e-4)
    at_end = t * deviation * math.sqrt(1 / 4 + 9 / 20)
    assert line.uncertainty(0.040) == pytest.approx(at_end, rel=1e-4)


def test_no_accuracy_and_three_readings_give_none() -> None:
    line = fitted([0.040, 0.038, 0.036], [100.0, 201.0, 299.0])
    assert (line.rate_uncertainty(), line.uncertainty(0.038)) == (None, None)


def test_gain_alone_is_a_share_and_zero_alone_cancels_in_the_rate() -> None:
    by_gain = fitted([0.048, 0.032], [700.0, 1900.0], Accuracy(gain=0.01))
    assert by_gain.rate_uncertainty() == pytest.approx(2 * 0.01 / math.sqrt(3) * 75e3, rel=1e-9)
    assert by_gain.uncertainty(0.048) == pytest.approx(2 * 0.01 / math.sqrt(3) * 700, rel=1e-9)
    by_zero = fitted([0.048, 0.032], [700.0, 1900.0], Accuracy(zero=4.0))
    assert by_zero.rate_uncertainty() == pytest.approx(0.0, abs=1e-9)
    assert by_zero.uncertainty(0.032) == pytest.approx(2 * 4.0 / math.sqrt(3), rel=1e-9)


def test_a_nest_shares_gain_and_zero_but_not_chance() -> None:
    outer = fitted_strand(np.array([0.048, 0.032]), np.array([700.0, 1900.0]), FULL)
    inner = fitted_strand(np.array([0.046, 0.030]), np.array([200.0, 600.0]), FULL)
    nest = LoadLine(strands=((0.0, outer), (0.002, inner)), accuracy=FULL)
    assert nest.rate == pytest.approx(75e3 + 25e3, rel=1e-9)
    assert float(nest.load(0.048)) == pytest.approx(900.0, rel=1e-9)  # each at its own height
    ones = [(2.0**2 + (k * 5e-5) ** 2) / 3 for k in (75e3, 25e3)]
    gain, zero = 0.01 * 900 / math.sqrt(3), 2 * 4.0 / math.sqrt(3)
    own = 100e3 * 3e-5  # the installed height's own moves both members at once
    assert nest.uncertainty(0.048, 3e-5) == pytest.approx(
        2 * math.sqrt(sum(ones) + gain**2 + zero**2 + own**2), rel=1e-9
    )
    of_rate = sum(2 * one / 0.016**2 for one in ones) + (0.01 * 100e3) ** 2 / 3
    assert nest.rate_uncertainty() == pytest.approx(2 * math.sqrt(of_rate), rel=1e-9)


def test_a_stated_member_leaves_the_nest_without_uncertainty() -> None:
    outer = fitted_strand(np.array([0.048, 0.032]), np.array([700.0, 1900.0]), FULL)
    inner = line_from_rate(25e3, np.array([0.046]), np.array([200.0]))
    nest = LoadLine(strands=((0.0, outer), (0.002, inner)), accuracy=FULL)
    assert (nest.uncertainty(0.048), nest.rate_uncertainty(), nest.evidence) == (None, None, Evidence.STATED)


def test_an_unusable_accuracy_leaves_no_uncertainty() -> None:
    line = fitted([0.048, 0.032], [700.0, 1900.0], Accuracy(gain=0.01, faulty=True))
    assert (line.uncertainty(0.048), line.rate_uncertainty()) == (None, None)


@pytest.mark.parametrize(("share", "progressive"), [(0.049, False), (0.051, True), (0.5, True), (-0.5, False)])
def test_progressive_above_five_percent(share: float, progressive: bool) -> None:
    line = fitted(*growing(share))
    assert line.progressive is progressive
    assert line.curvature == pytest.approx(share, rel=1e-6)
    assert line.rate == pytest.approx(50e3, rel=1e-6)


def test_growth_within_the_noise_is_not_progressive() -> None:
    heights, loads = growing(0.06)
    # Growth of 6 % bends the line by k share reach/8 = 6 N in its middle.
    assert fitted(heights, loads, Accuracy(repeatability=1.0)).progressive
    assert not fitted(heights, loads, Accuracy(repeatability=20.0)).progressive


def test_two_heights_cannot_bend() -> None:
    line = fitted([0.048, 0.048, 0.032], [500.0, 502.0, 1300.0])
    assert (line.progressive, line.curvature) == (False, None)


@given(
    st.lists(st.floats(5.0, 400.0), min_size=2, max_size=6),
    st.lists(st.floats(0.001, 0.01), min_size=6, max_size=6),
    st.floats(0, 1),
)
def test_the_interpolant_never_leaves_its_readings(steps: list[float], gaps: list[float], where: float) -> None:
    heights = [0.05 - sum(gaps[:place]) for place in range(len(steps) + 1)]
    loads = [100 + sum(steps[:place]) for place in range(len(steps) + 1)]
    strand = fitted_strand(np.array(heights), np.array(loads), NONE)
    at = heights[-1] + where * (heights[0] - heights[-1])
    load, rate = float(strand.load(at)), float(strand.rate_at(at))
    if strand.knots is None:
        return
    assert strand.load(np.array(heights)) == pytest.approx(loads, rel=1e-9)
    upper = min(load for load, height in zip(loads, heights, strict=True) if height <= at + 1e-12)
    lower = max(load for load, height in zip(loads, heights, strict=True) if height >= at - 1e-12)
    assert lower - 1e-6 <= load <= upper + 1e-6
    assert rate >= -1e-6


@given(st.floats(0.06, 1.5), st.floats(0.02, 0.07), st.floats(0.02, 0.07))
def test_taller_is_never_more_load(share: float, one: float, other: float) -> None:
    line = fitted(*growing(share))
    low, high = sorted((one, other))
    assert line.load_at(high) <= line.load_at(low) + 1e-9


def test_slope_and_load_agree_along_the_interpolant() -> None:
    line = fitted(*growing(0.6))
    for at in np.linspace(0.025, 0.055, 61):
        step = 1e-7
        slope = (line.load_at(at - step) - line.load_at(at + step)) / (2 * step)
        assert float(line.rate_at(at)) == pytest.approx(slope, rel=1e-4)


def test_beyond_the_readings_the_line_goes_straight_on_and_says_so() -> None:
    line = fitted(*growing(0.6))
    for end, other in ((0.032, 0.028), (0.048, 0.052)):
        expected = line.load_at(end) + float(line.rate_at(end)) * (end - other)
        assert line.load_at(other) == pytest.approx(expected, rel=1e-9)
        assert (line.extrapolated(end), line.extrapolated(other)) == (False, True)
    straight = fitted([0.048, 0.032], [700.0, 1900.0])
    assert straight.load_at(0.030) == pytest.approx(1900 + 75e3 * 0.002, rel=1e-9)
    assert (straight.extrapolated(0.0319), straight.extrapolated(0.0321)) == (True, False)


def test_repeats_are_taken_together_in_the_interpolant() -> None:
    heights, loads = growing(0.6)
    line = fitted([*heights, heights[2]], [*loads[:2], loads[2] - 3, *loads[3:], loads[2] + 3])
    assert line.load_at(heights[2]) == pytest.approx(loads[2], rel=1e-9)


@pytest.mark.parametrize("height", [0.030, 0.040, 0.050])
def test_one_load_is_the_same_as_many(height: float) -> None:
    for share in (0.0, 0.6):
        line = fitted(*growing(share))
        assert line.load_at(height) == pytest.approx(float(line.load(np.array([height]))[0]), rel=1e-12)


def test_a_stated_rate_goes_through_its_reading_without_uncertainty() -> None:
    strand = line_from_rate(75e3, np.array([0.048]), np.array([700.0]))
    line = LoadLine(strands=((0.0, strand),), accuracy=FULL)
    assert line.load_at(0.032) == pytest.approx(1900.0)
    assert (line.uncertainty(0.032), line.rate_uncertainty(), line.extrapolated(0.01)) == (None, None, False)


def test_one_height_gives_no_rate() -> None:
    with pytest.raises(InputError):
        fitted_strand(np.array([0.04, 0.04]), np.array([100.0, 101.0]), NONE)


@given(st.floats(0.5, 2.0), st.floats(0.5, 2.0))
def test_scaling_loads_and_heights(stronger: float, larger: float) -> None:
    heights, loads = growing(0.3)
    base: Strand = fitted_strand(np.array(heights), np.array(loads), NONE)
    scaled = fitted_strand(larger * np.array(heights), stronger * np.array(loads), NONE)
    assert scaled.rate == pytest.approx(base.rate * stronger / larger, rel=1e-9)
    assert float(scaled.load(0.035 * larger)) == pytest.approx(stronger * float(base.load(0.035)), rel=1e-6)
