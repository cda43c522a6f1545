"""Durations of a lobe with ramps: both are met with the ramps in."""

from __future__ import annotations

import math

import numpy as np
import pytest

from loadbench.errors import InputError
from loadbench.motion.lobe import PowerLobe, Ramp, hydraulic_ramp, solid_ramp
from loadbench.motion.power_lift import even_at_nose, family, fitted, least_step
from loadbench.motion.ramped_fit import duration_at, fitted_lobe

LIFTS, LIFT = (0.508e-3, 1.27e-3), 9.0e-3
SOLID = (solid_ramp(0.3e-3, math.radians(20)), solid_ramp(0.35e-3, math.radians(28)))
LEVEL = (solid_ramp(0.3e-3, math.radians(20)), solid_ramp(0.3e-3, math.radians(28)))
HYDRAULIC = (hydraulic_ramp(0.1e-3, math.radians(12)), hydraulic_ramp(0.1e-3, math.radians(15)))


def _long(lobe: PowerLobe, lift: float) -> float:
    """Duration by counting fine steps, apart from the search under test."""
    angles = np.linspace(-math.pi, math.pi, 2_000_001)
    return float((lobe(angles) >= lift).sum() * (angles[1] - angles[0]))


@pytest.mark.parametrize("ramps", [SOLID, HYDRAULIC])
@pytest.mark.parametrize("step", [5.0, 9.0, 14.0])
def test_a_known_lobe_is_found_again_from_its_durations(ramps: tuple[Ramp, Ramp], step: float) -> None:
    up, down = ramps
    half = math.radians(70)
    known = PowerLobe(
        powers=family(step), lift=LIFT, half_opening=half, half_closing=half, opening_ramp=up, closing_ramp=down
    )
    durations = (_long(known, LIFTS[0]), _long(known, LIFTS[1]))
    found = fitted_lobe(LIFTS, durations, LIFT, (up, down))
    assert found.half_opening == pytest.approx(half, abs=1e-4)
    assert found.powers[1] - 2 == pytest.approx(step, rel=1e-3)
    for lift, duration in zip(LIFTS, durations, strict=True):
        assert _long(found, lift) == pytest.approx(duration, abs=1e-5)


def test_flanks_fitted_without_the_ramps_would_miss_both() -> None:
    durations = (math.radians(130), math.radians(115))
    bare = fitted(LIFTS, durations, LIFT)
    added = PowerLobe(
        powers=bare.powers, lift=LIFT, half_opening=bare.half_duration, half_closing=bare.half_duration,
        opening_ramp=SOLID[0], closing_ramp=SOLID[1],
    )  # fmt: skip
    assert abs(duration_at(added, LIFTS[0]) - durations[0]) > math.radians(1)
    met = fitted_lobe(LIFTS, durations, LIFT, SOLID)
    assert float(met(0.0)) == pytest.approx(LIFT)
    for lift, duration in zip(LIFTS, durations, strict=True):
        assert _long(met, lift) == pytest.approx(duration, abs=1e-5)


@pytest.mark.parametrize(
    ("durations", "lift", "ramp", "what"),
    [
        ((2.0, 2.1), LIFT, SOLID[0], "the two durations"),
        ((2.3, 0.2), LIFT, SOLID[0], "no power lobe"),
        ((2.3, 2.0), 1e-3, SOLID[0], "the lifts"),
        ((2.3, 2.0), LIFT, solid_ramp(LIFT, 0.3), "as high as the lobe"),
        ((2.3, 2.0), LIFT, hydraulic_ramp(0.1e-3, 2.0), "no room"),
    ],
)
def test_what_no_lobe_has_is_told(durations: tuple[float, float], lift: float, ramp: Ramp, what: str) -> None:
    with pytest.raises(InputError, match=what):
        fitted_lobe(LIFTS, durations, lift, (ramp, ramp))


@pytest.mark.parametrize("share", [0.7, 0.9, 1.15, 1.4])
@pytest.mark.parametrize("ramps", [None, LEVEL])
@pytest.mark.parametrize("step", [6.0, 10.0])
def test_a_lobe_of_unequal_flanks_is_found_again(ramps: tuple[Ramp, Ramp] | None, share: float, step: float) -> None:
    halves = math.radians(62), math.radians(62) * share
    powers = even_at_nose(*halves, step=step)
    up, down = ramps or (None, None)
    known = PowerLobe(
        powers=powers[0], closing_powers=powers[1], lift=LIFT, half_opening=halves[0], half_closing=halves[1],
        opening_ramp=up, closing_ramp=down,
    )  # fmt: skip
    durations = duration_at(known, LIFTS[0]), duration_at(known, LIFTS[1])
    found = fitted_lobe(LIFTS, durations, LIFT, ramps, share)
    assert (found.half_opening, found.half_closing) == pytest.approx(halves, abs=1e-6)
    assert found.powers == pytest.approx(powers[0], rel=1e-5)
    before, after = (float(found(np.float64(side * 1e-9), 2)) for side in (-1, 1))
    assert before == pytest.approx(after, rel=1e-6)


def test_equal_flanks_without_ramps_are_those_had_directly() -> None:
    durations = (math.radians(130), math.radians(115))
    bare, found = fitted(LIFTS, durations, LIFT), fitted_lobe(LIFTS, durations, LIFT)
    assert found.half_opening == found.half_closing == pytest.approx(bare.half_duration, abs=1e-8)
    assert found.powers == pytest.approx(bare.powers, rel=1e-7)


def test_flanks_too_unequal_are_refused() -> None:
    with pytest.raises(InputError, match="times the other"):
        fitted_lobe(LIFTS, (2.3, 2.0), LIFT, share=4.5)
    with pytest.raises(InputError, match="closing flank"):
        fitted_lobe(LIFTS, (2.3, 2.0), LIFT, share=0.0)
    assert least_step(1.0) == 1.0
    step = least_step(2.0)
    assert even_at_nose(1.0, 2.0, step=step * 1.0001)[1] == pytest.approx(family(1.0), rel=1e-3)
