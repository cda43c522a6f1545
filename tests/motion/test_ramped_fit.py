"""Durations of a lobe with ramps: both are met with the ramps in."""

from __future__ import annotations

import math

import numpy as np
import pytest

from loadbench.errors import InputError
from loadbench.motion.lobe import PowerLobe, Ramp, hydraulic_ramp, solid_ramp
from loadbench.motion.power_lift import family, fitted
from loadbench.motion.ramped_fit import duration_at, fitted_with_ramps

LIFTS, LIFT = (0.508e-3, 1.27e-3), 9.0e-3
SOLID = (solid_ramp(0.3e-3, math.radians(20)), solid_ramp(0.35e-3, math.radians(28)))
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
    found = fitted_with_ramps(LIFTS, durations, LIFT, up, down)
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
    met = fitted_with_ramps(LIFTS, durations, LIFT, *SOLID)
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
        fitted_with_ramps(LIFTS, durations, lift, ramp, ramp)
