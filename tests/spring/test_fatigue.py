"""Fatigue: the lines and the factors measured on them, their order, their limits, what peening adds, refusals."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.errors import InputError
from loadbench.spring import fatigue, fatigue_elsewhere
from loadbench.spring.materials import materials

amplitudes = st.floats(1e6, 5e8)
means = st.floats(1e6, 8e8)
endurances = st.floats(1e8, 6e8)
ultimates = st.floats(9e8, 1.5e9)
scales = st.floats(0.5, 2.0)
PLAIN, PEENED = fatigue.zimmerli(peened=False), fatigue.zimmerli(peened=True)


@given(amplitudes, means, endurances, ultimates)
def test_goodman_puts_the_grown_stresses_on_its_line(a: float, m: float, Sse: float, Ssu: float) -> None:
    n = float(fatigue.factor_goodman(a, m, Sse, Ssu))
    assert fatigue.goodman_line(n * m, Sse, Ssu) == pytest.approx(n * a, rel=1e-9, abs=1.0)


@given(amplitudes, means, endurances, ultimates)
def test_gerber_puts_the_grown_stresses_on_its_parabola(a: float, m: float, Sse: float, Ssu: float) -> None:
    n = float(fatigue.factor_gerber(a, m, Sse, Ssu))
    assert fatigue.gerber_line(n * m, Sse, Ssu) == pytest.approx(n * a, rel=1e-9, abs=1.0)


@given(amplitudes, means, endurances, ultimates)
def test_goodman_is_never_above_gerber_from_one_endurance_limit(a: float, m: float, Sse: float, Ssu: float) -> None:
    assert fatigue.factor_goodman(a, m, Sse, Ssu) <= fatigue.factor_gerber(a, m, Sse, Ssu) * (1 + 1e-12)


@given(st.floats(0.05, 3.0), ultimates, st.sampled_from([PLAIN, PEENED]))
def test_through_zimmerlis_point_the_two_change_places_there(
    ratio: float, Ssu: float, data: tuple[float, float]
) -> None:
    # Both lines pass through the point, so their endurance limits differ; Goodman is the milder below that mean.
    goodman = fatigue.strength_amplitude_goodman(ratio, fatigue.goodman_endurance(*data, Ssu), Ssu)
    gerber = fatigue.strength_amplitude_gerber(ratio, fatigue.gerber_endurance(*data, Ssu), Ssu)
    if ratio < data[0] / data[1]:
        assert goodman <= gerber * (1 + 1e-12)
    else:
        assert gerber <= goodman * (1 + 1e-12)


@given(ultimates, st.sampled_from([PLAIN, PEENED]))
def test_both_lines_pass_through_zimmerlis_point(Ssu: float, data: tuple[float, float]) -> None:
    Ssa, Ssm = data
    assert fatigue.goodman_line(Ssm, fatigue.goodman_endurance(Ssa, Ssm, Ssu), Ssu) == pytest.approx(Ssa, rel=1e-12)
    assert fatigue.gerber_line(Ssm, fatigue.gerber_endurance(Ssa, Ssm, Ssu), Ssu) == pytest.approx(Ssa, rel=1e-12)


@given(amplitudes, means, endurances, ultimates, scales)
def test_factors_fall_as_the_stress_grows(a: float, m: float, Sse: float, Ssu: float, scale: float) -> None:
    for factor in (fatigue.factor_goodman, fatigue.factor_gerber):
        assert factor(scale * a, scale * m, Sse, Ssu) == pytest.approx(float(factor(a, m, Sse, Ssu)) / scale, rel=1e-12)
    assert fatigue.factor_sines(scale * a, Sse) == pytest.approx(float(fatigue.factor_sines(a, Sse)) / scale, rel=1e-12)


@given(amplitudes, means, ultimates)
def test_peening_helps_by_every_way(a: float, m: float, Ssu: float) -> None:
    for factor, endurance in (
        (fatigue.factor_goodman, fatigue.goodman_endurance),
        (fatigue.factor_gerber, fatigue.gerber_endurance),
    ):
        plain, peened = (float(factor(a, m, endurance(*data, Ssu), Ssu)) for data in (PLAIN, PEENED))
        assert plain < peened
    assert fatigue.factor_sines(a, PLAIN[0]) < fatigue.factor_sines(a, PEENED[0])


@given(amplitudes, means, endurances, ultimates)
def test_strength_amplitude_is_the_factor_times_the_amplitude(a: float, m: float, Sse: float, Ssu: float) -> None:
    goodman, gerber = (float(factor(a, m, Sse, Ssu)) * a for factor in (fatigue.factor_goodman, fatigue.factor_gerber))
    assert fatigue.strength_amplitude_goodman(a / m, Sse, Ssu) == pytest.approx(goodman, rel=1e-9)
    assert fatigue.strength_amplitude_gerber(a / m, Sse, Ssu) == pytest.approx(gerber, rel=1e-9)
    r = a / m
    as_printed = r**2 * Ssu**2 / (2 * Sse) * (-1 + np.sqrt(1 + (2 * Sse / (r * Ssu)) ** 2))
    assert fatigue.strength_amplitude_gerber(r, Sse, Ssu) == pytest.approx(as_printed, rel=1e-6)


def test_limits_of_the_factors() -> None:
    Sse, Ssu = 3e8, 1.2e9
    for factor in (fatigue.factor_goodman, fatigue.factor_gerber):
        assert factor(0.0, 0.0, Sse, Ssu) == np.inf
        assert factor(0.0, 4e8, Sse, Ssu) == pytest.approx(3.0, rel=1e-12)  # no range: the ultimate strength decides
        assert factor(1e8, 0.0, Sse, Ssu) == pytest.approx(3.0, rel=1e-12)  # no mean: the endurance limit does
    assert fatigue.factor_sines(np.array([0.0, 1e8]), Sse) == pytest.approx([np.inf, 3.0])
    assert fatigue.static_factor(np.array([0.0, 4e8]), 1e9) == pytest.approx([np.inf, 2.5])


def test_lines_end_at_the_ultimate_strength() -> None:
    mean = np.array([0.0, 6e8, 1.2e9, 2e9])
    assert fatigue.goodman_line(mean, 3e8, 1.2e9) == pytest.approx([3e8, 1.5e8, 0.0, 0.0])
    assert fatigue.gerber_line(mean, 3e8, 1.2e9) == pytest.approx([3e8, 2.25e8, 0.0, 0.0])


def test_amplitude_and_mean() -> None:
    alternating, mean = fatigue.alternating_and_mean(2e8, np.array([2e8, 8e8]))
    assert alternating == pytest.approx([0.0, 3e8])
    assert mean == pytest.approx([2e8, 5e8])


def test_what_is_unknown_stays_unknown_among_the_rest() -> None:
    Ssu = fatigue.ultimate_shear(np.array([1.8e9, np.nan, 5e8]))  # the last is weaker than the mean of the data
    for factor, endurance in (
        (fatigue.factor_goodman, fatigue.goodman_endurance),
        (fatigue.factor_gerber, fatigue.gerber_endurance),
    ):
        found = factor(1e8, 4e8, endurance(*PLAIN, Ssu), Ssu)
        assert np.isfinite(found).tolist() == [True, False, False]


@given(amplitudes, means, st.floats(2e8, 6e8), st.floats(4.5e8, 9e8))
def test_bhandaris_factor_as_he_writes_it(a: float, m: float, Se: float, Ssy: float) -> None:
    inverse = (a * (Ssy - Se / 2) / (Se / 2) + m) / Ssy
    assert fatigue_elsewhere.factor_bhandari(a, m, Se, Ssy) == pytest.approx(1 / inverse, rel=1e-9)


@given(endurances, ultimates)
def test_bhandaris_line_passes_through_the_pulsating_strength(Se: float, Ssy: float) -> None:
    assert fatigue_elsewhere.factor_bhandari(Se / 2, Se / 2, Se, Ssy) == pytest.approx(1.0, rel=1e-9)


@given(endurances, ultimates)
def test_nortons_reversed_limit_and_the_pulsating_one_lie_on_one_line(Sew: float, Sus: float) -> None:
    Ses = fatigue_elsewhere.norton_reversed_endurance(Sew, Sus)
    assert fatigue.goodman_line(Sew / 2, Ses, Sus) == pytest.approx(Sew / 2, rel=1e-9)


@given(amplitudes, means, endurances, ultimates)
def test_nortons_factor_from_no_initial_stress_is_goodmans(a: float, m: float, Sse: float, Ssu: float) -> None:
    goodman = float(fatigue.factor_goodman(a, m, Sse, Ssu))
    assert fatigue_elsewhere.factor_norton(a, m, 0.0, Sse, Ssu) == pytest.approx(goodman, rel=1e-12)
    assert fatigue_elsewhere.factor_norton(0.0, 2e8, 2e8, Sse, Ssu) == np.inf


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (fatigue.factor_goodman, (1e8, 1e8, 0.0, 1e9)),
        (fatigue.factor_gerber, (1e8, 1e8, 3e8, -1e9)),
        (fatigue.factor_sines, (1e8, 0.0)),
        (fatigue.static_factor, (1e8, 0.0)),
        (fatigue.goodman_line, (1e8, 3e8, 0.0)),
        (fatigue.gerber_line, (1e8, 3e8, 0.0)),
        (fatigue.strength_amplitude_goodman, (0.0, 3e8, 1e9)),
        (fatigue.strength_amplitude_gerber, (-1.0, 3e8, 1e9)),
        (fatigue_elsewhere.factor_bhandari, (1e8, 1e8, 6e8, 3e8)),
        (fatigue_elsewhere.norton_reversed_endurance, (6e8, 3e8)),
        (fatigue_elsewhere.factor_norton, (1e8, 1e9, 1e9, 3e8, 1e9)),
    ],
)
def test_strengths_that_cannot_be_are_refused(function: Callable[..., object], arguments: tuple[float, ...]) -> None:
    with pytest.raises(InputError, match="or below"):
        function(*arguments)


def test_zimmerlis_data_hold_strictly_below_their_diameter_and_for_their_wires_only() -> None:
    wire, other = materials()["chrome-silicon"], replace(materials()["chrome-silicon"], zimmerli=False)
    diameters = np.array([[0.004, fatigue.ZIMMERLI_MOST_DIAMETER], [np.nextafter(0.010, 0.0), 0.012]])
    found = fatigue.fatigue_known(wire, diameters)
    assert np.array_equal(found, [[1.0, np.nan], [1.0, np.nan]], equal_nan=True)
    assert fatigue.fatigue_known(wire, 0.005).shape == ()
    assert np.isnan(fatigue.fatigue_known(other, diameters)).all()
