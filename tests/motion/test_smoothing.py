"""A measured lift differentiated: against the true acceleration of invented measurements, and what is named as odd."""

from __future__ import annotations

import math
import timeit
from pathlib import Path

import numpy as np
import pytest

from loadbench.arrays import Floats
from loadbench.errors import InputError
from loadbench.motion.laws import rise
from loadbench.motion.lobe import LawLobe
from loadbench.motion.penalty import cross_validated, spline_values
from loadbench.motion.smoothing import SmoothLift, rows_of, smooth

MM = 1e-3
INCH = 0.0254
DATA = Path(__file__).parent.parent / "reference" / "data"


def table(name: str) -> Floats:
    """Rows of degrees, inches measured, true inches, speed and acceleration per radian, as columns."""
    return np.loadtxt(DATA / f"lobe_{name}.csv", delimiter=",", skiprows=3).T


def smoothed(name: str, penalty: float | None = None) -> SmoothLift:
    degrees, measured, *_ = table(name)
    return smooth(np.radians(degrees), measured * INCH, penalty)


def errors(name: str, penalty: float | None = None) -> tuple[float, float, float]:
    """Rms error of the acceleration over its greatest, and the errors of its two peaks, within 75 deg of the nose."""
    degrees, _, _, _, true = table(name)
    near = np.abs(degrees) <= 75
    found = smoothed(name, penalty)(np.radians(degrees), 2)[near] / INCH
    true = true[near]
    rms = math.sqrt(np.mean((found - true) ** 2)) / true.max()
    return rms, found.max() / true.max() - 1, found.min() / true.min() - 1


@pytest.mark.reference("kim-gu")
@pytest.mark.parametrize(
    ("name", "rms", "highest", "lowest"),
    [
        pytest.param("A_rounded", 0.025, 0.03, 0.16, id="M82"),
        pytest.param("A_noisy", 0.05, 0.08, 0.16, id="M83"),
        pytest.param("B_rounded", 0.025, 0.03, 0.03, id="M84"),
        pytest.param("B_noisy", 0.06, 0.10, 0.10, id="M85"),
    ],
)
def test_acceleration_of_a_measured_table(name: str, rms: float, highest: float, lowest: float) -> None:
    found = errors(name)
    assert found[0] < rms
    assert abs(found[1]) < highest
    assert abs(found[2]) < lowest


def test_the_penalty_found_is_near_the_best_there_is() -> None:
    for name in ("A_rounded", "A_noisy", "B_rounded", "B_noisy"):
        best = min(errors(name, 10.0**power)[0] for power in np.arange(-7, -2, 0.5))
        assert best < errors(name)[0] < 2.2 * best


def test_the_residuals_tell_the_instrument() -> None:
    # Noise of 0.0002 in; rounding to 0.0001 in has a deviation of 0.000029 in.
    assert smoothed("A_noisy").rms / INCH == pytest.approx(0.0002, rel=0.25)
    assert smoothed("B_noisy").rms / INCH == pytest.approx(0.0002, rel=0.25)
    assert 0.000010 < smoothed("A_rounded").rms / INCH < 0.000029
    found = smoothed("B_noisy")
    assert found.residuals == pytest.approx(found.lifts - found(found.angles), abs=1e-15)
    assert [smoothed(name).kinks for name in ("A_rounded", "A_noisy", "B_rounded", "B_noisy")] == [()] * 4


def test_the_spline_is_that_of_scipy() -> None:
    from scipy.interpolate import make_smoothing_spline

    rng = np.random.default_rng(3)
    x = np.cumsum(rng.uniform(0.005, 0.03, 150))
    y = np.sin(3 * x) + 0.01 * rng.normal(size=150)
    for penalty in (0.0, 1e-7, 1e-4, 1e-1):
        expected = make_smoothing_spline(x, y, lam=penalty)(x)
        assert spline_values(x, y, penalty) == pytest.approx(expected, abs=1e-9)


def test_the_degrees_of_freedom_are_the_trace_of_the_hat_matrix() -> None:
    from loadbench.motion.penalty import _banded

    x = np.cumsum(np.random.default_rng(4).uniform(0.5, 1.5, 40))
    for penalty in (1e-3, 1.0, 1e3):
        hat = np.array([spline_values(x, one, penalty * np.median(np.diff(x)) ** 3) for one in np.eye(40)])
        assert _banded(x / np.median(np.diff(x))).freedom(penalty) == pytest.approx(np.trace(hat), rel=1e-5)


def test_the_penalty_goes_with_the_cube_of_the_angle_and_not_with_the_unit() -> None:
    degrees, measured, *_ = table("B_noisy")
    x, y = np.radians(degrees), measured * INCH
    found = cross_validated(x, y)
    assert cross_validated(x, y * 1000) == pytest.approx(found, rel=1e-6)
    assert cross_validated(2 * x, y) == pytest.approx(8 * found, rel=1e-6)


def test_exact_readings_are_hardly_touched() -> None:
    lobe = LawLobe(law="4-5-6-7", lift=10 * MM, opening=1.1, closing=1.2)
    x = np.radians(np.arange(-100.0, 101.0))
    found, at = smooth(x, lobe(x)), np.radians(np.linspace(-100, 100, 1001))
    assert found.rms < 0.1e-6
    for order, within in ((0, 1e-5), (1, 2e-4), (2, 0.01)):
        expected = lobe(at, order)
        assert found(at, order) == pytest.approx(expected, abs=within * float(np.abs(expected).max()))


def test_derivatives_are_slopes() -> None:
    found, at = smoothed("A_noisy"), np.radians(np.linspace(-80, 80, 161) + 0.3)
    for order in range(3):
        slope = (found(at + 1e-5, order) - found(at - 1e-5, order)) / 2e-5
        assert slope == pytest.approx(found(at, order + 1), rel=1e-6, abs=1e-6)


@pytest.mark.parametrize("name", ["A_rounded", "A_noisy", "B_rounded", "B_noisy"])
def test_the_lift_is_at_rest_at_both_ends_and_outside(name: str) -> None:
    found = smoothed(name)
    ends = np.array(found.span)
    assert found(ends) == pytest.approx([0, 0], abs=1e-12)
    assert found(ends, 1) == pytest.approx([0, 0], abs=1e-12)
    assert found(ends, 2) == pytest.approx([0, 0], abs=1e-3 * float(found(found.angles, 2).max()))
    outside = np.array([-math.pi, -1.6, 1.6, math.pi])
    for order in range(4):
        assert found(outside, order).tolist() == [0, 0, 0, 0]


def test_kinks_of_the_lobe_itself_are_named() -> None:
    # Constant acceleration steps at the start, the middle and the end of each flank.
    lobe = LawLobe(law="constant-acceleration", lift=10 * MM, opening=math.radians(60), closing=math.radians(70))
    degrees = np.arange(-110.0, 110.01, 0.5)
    found = smooth(np.radians(degrees), lobe(np.radians(degrees)))
    named = {degrees[place] for place in found.kinks}
    for joint in (-60.0, -30.0, 35.0, 70.0):
        assert any(abs(at - joint) <= 1.0 for at in named)
    assert all(min(abs(at - joint) for joint in (-60.0, -30.0, 0.0, 35.0, 70.0)) <= 2.0 for at in named)


def test_a_smooth_law_has_no_kinks() -> None:
    degrees = np.arange(-110.0, 110.01, 1.0)
    lobe = LawLobe(law="cycloidal", lift=10 * MM, opening=math.radians(60), closing=math.radians(70))
    exact = lobe(np.radians(degrees))
    assert smooth(np.radians(degrees), exact).kinks == ()
    assert smooth(np.radians(degrees), np.round(exact / 1e-5) * 1e-5).kinks == ()


def test_a_slip_of_one_reading_is_named_by_its_row() -> None:
    degrees, measured, *_ = table("A_rounded")
    slipped = measured.copy()
    slipped[60] += 0.002
    found = smooth(np.radians(degrees), slipped * INCH)
    assert 60 in found.kinks
    assert all(57 <= place <= 63 for place in found.kinks)
    assert 64 in rows_of(found.kinks, np.arange(degrees.size) + 4)


@pytest.mark.parametrize("step", [0.1, 0.5, 1.0, 2.0, 5.0])
def test_any_step_of_a_degree_wheel(step: float) -> None:
    degrees = np.arange(-100.0, 100.01, step)
    x = np.radians(degrees)
    lobe = LawLobe(law="cycloidal", lift=10 * MM, opening=1.1, closing=1.1)
    noisy = lobe(x) + 5e-6 * np.random.default_rng(7).normal(size=x.size)
    found = smooth(x, noisy)
    true = lobe(x, 2)
    assert math.sqrt(np.mean((found(x, 2) - true) ** 2)) < 0.06 * true.max()
    assert found.rms == pytest.approx(5e-6, rel=0.35)


def test_a_turn_of_7200_angles_takes_less_than_a_millisecond() -> None:
    found, at = smoothed("A_noisy"), np.linspace(-math.pi, math.pi, 7200)
    for order in range(4):
        assert min(timeit.repeat(lambda order=order: found(at, order), number=1, repeat=20)) < 1e-3  # type: ignore[misc]


def test_what_cannot_be_smoothed_is_refused() -> None:
    x, y = np.linspace(-1, 1, 30), np.ones(30)
    for angles, lifts, penalty, told in (
        (x[:19], y[:19], None, "to be smoothed"),
        (x, y[:-1], None, "to be smoothed"),
        (x[::-1], y, None, "do not rise"),
        (x, np.where(x > 0.9, np.nan, y), None, "not numbers"),
        (x, y, -1.0, "penalty"),
    ):
        with pytest.raises(InputError, match=told):
            smooth(angles, lifts, penalty)
    with pytest.raises(InputError, match="derivative 4"):
        smoothed("A_noisy")(0.0, 4)


def test_rise_is_the_true_curve_of_the_data() -> None:
    # The columns beside the measurements are what the laws of the project say.
    degrees, _, lift, speed, acceleration = table("B_noisy")
    u = np.clip(1 - np.abs(degrees) / 70, 0, 1)
    half = math.radians(70)
    assert 0.32 * rise("4-5-6-7", u) == pytest.approx(lift, abs=1e-9)
    assert -np.sign(degrees) * 0.32 / half * rise("4-5-6-7", u, 1) == pytest.approx(speed, abs=1e-7)
    assert 0.32 / half**2 * rise("4-5-6-7", u, 2) == pytest.approx(acceleration, abs=1e-6)


def peaks(found: SmoothLift, lobe: LawLobe) -> tuple[float, float]:
    """Errors of the greatest and of the least acceleration over the whole turn, over the true ones."""
    at = np.linspace(-math.pi, math.pi, 7201)
    return tuple(pick(found(at, 2)) / pick(lobe(at, 2)) - 1 for pick in (np.max, np.min))  # type: ignore[return-value]


@pytest.mark.parametrize("law", ["4-5-6-7", "cycloidal", "modified-sine"])
@pytest.mark.parametrize("step", [0.1, 0.5, 1.0, 2.0])
@pytest.mark.parametrize("inches", [0.0005, 0.001])
def test_noise_on_the_base_circle_makes_no_acceleration_at_the_ends(law: str, step: float, inches: float) -> None:
    lobe = LawLobe(law=law, lift=0.36 * INCH, opening=math.radians(64), closing=math.radians(68))
    x = np.radians(np.arange(-110.0, 110.01, step))
    for seed in range(6):
        noisy = lobe(x) + inches * INCH * np.random.default_rng(seed).normal(size=x.size)
        found = smooth(x, noisy)
        assert peaks(found, lobe) == pytest.approx((0, 0), abs=0.15)
        assert found.rms == pytest.approx(inches * INCH, rel=0.3)


@pytest.mark.parametrize("half", [67.0, 64.0, 61.0])
def test_a_table_without_base_circle_is_led_on_to_it(half: float) -> None:
    lobe = LawLobe(law="cycloidal", lift=0.3 * INCH, opening=math.radians(68), closing=math.radians(68))
    x = np.radians(np.arange(-half, half + 0.5))
    found = smooth(x, np.round(lobe(x) / INCH, 4) * INCH)
    assert peaks(found, lobe) == pytest.approx((0, 0), abs=0.08)
    assert found.residuals.shape == x.shape
    assert np.abs(found.residuals).max() < 0.0002 * INCH
    assert found.kinks == ()
    assert found.span[0] < x[0]
    assert x[-1] < found.span[1]
    assert found(np.array(found.span)) == pytest.approx([0, 0], abs=1e-12)
    assert found(np.array(found.span), 1) == pytest.approx([0, 0], abs=1e-12)
    outside = np.radians(np.linspace(half, 75, 40))
    assert found(outside) == pytest.approx(lobe(outside), abs=0.0001 * INCH)
    told = np.degrees(found.run_outs)
    # What is left at the end is the lift of the last few degrees of a cycloid: it falls as their cube.
    left = 68 - half
    assert told == pytest.approx((0, 0) if left == 1 else (left, left), abs=1.0)


def test_a_table_with_its_base_circle_ends_where_it_ends() -> None:
    found = smoothed("A_noisy")
    assert found.span == (float(found.angles[0]), float(found.angles[-1]))
    assert found.run_outs == (0.0, 0.0)


def test_a_table_that_stands_off_zero_at_its_ends_bends_gently() -> None:
    lobe = LawLobe(law="cycloidal", lift=0.3 * INCH, opening=math.radians(68), closing=math.radians(68))
    x = np.radians(np.arange(-110.0, 111.0))
    found = smooth(x, lobe(x) + 0.002 * INCH)
    assert peaks(found, lobe) == pytest.approx((0, 0), abs=0.05)
    assert np.degrees(found.run_outs) == pytest.approx((25, 25), abs=1)
