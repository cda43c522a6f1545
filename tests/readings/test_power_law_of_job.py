"""The power law as a job states it: flanks of its own, ramps, and two durations with unequal flanks."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from loadbench.analysis import LineAnalysis, analyse
from loadbench.motion.lobe import PowerLobe
from loadbench.motion.ramped_fit import duration_at, fitted_lobe
from loadbench.readings.cam_lift import How
from tests.analysis.test_motion import job

INCH = 0.0254
POWER: dict[str, Any] = {"cam.law.name": "power", "cam.law.opening": "140 deg", "cam.law.closing": "154 deg"}
RAMPS: dict[str, Any] = {"cam.ramps.height": "0.012 in", "cam.ramps.opening": "40 deg", "cam.ramps.closing": "60 deg"}


def line(**changes: Any) -> LineAnalysis:
    return analyse(job(**changes)).lines[0]


def lobe(**changes: Any) -> PowerLobe:
    found = line(**changes).motion.lobe
    assert isinstance(found, PowerLobe)
    return found


@pytest.mark.parametrize("ramps", [{}, RAMPS], ids=["bare", "ramps"])
def test_without_durations_it_is_2_10_18_26_34(ramps: dict[str, Any]) -> None:
    made = lobe(**POWER, **ramps, **{"cam.durations": ()})
    assert made.powers == (2, 10, 18, 26, 34)
    assert (made.half_opening, made.half_closing) == pytest.approx((math.radians(70), math.radians(77)))
    assert float(made(0.0)) == pytest.approx(0.370 * INCH, rel=1e-12)
    before, after = (float(made(np.float64(side * 1e-9), 2)) for side in (-1, 1))
    assert before == pytest.approx(after, rel=1e-6)
    assert (made.opening_ramp is None) == (not ramps)
    shown = line(**POWER, **{"cam.durations": ()}).motion.shown
    assert shown is not None
    assert shown.how == How.LAW.value


@pytest.mark.parametrize("ramps", [{}, RAMPS], ids=["bare", "ramps"])
def test_durations_are_met_with_the_flanks_as_unequal_as_stated(ramps: dict[str, Any]) -> None:
    made = lobe(**POWER, **ramps)
    assert made.half_closing / made.half_opening == pytest.approx(154 / 140, rel=1e-12)
    for lift, crank in ((0.050, 242), (0.200, 160)):
        assert math.degrees(2 * duration_at(made, lift * INCH)) == pytest.approx(crank, abs=1e-4)
    shown = line(**POWER, **ramps).motion.shown
    assert shown is not None
    assert shown.how == How.DURATIONS.value


def test_the_flanks_change_the_sides_and_not_the_durations() -> None:
    even = lobe(**{"cam.law.name": "power"})
    assert even.half_opening == even.half_closing
    uneven = lobe(**POWER)
    assert uneven.half_closing > even.half_closing > uneven.half_opening
    assert lobe(**POWER | {"cam.law.closing": None}).half_opening == even.half_opening
    assert lobe().half_opening == even.half_opening


def test_flanks_too_unequal_say_so() -> None:
    found = line(**POWER | {"cam.law.opening": "60 deg", "cam.law.closing": "300 deg"})
    assert found.motion.lobe is None
    assert "times the other" in found.figures["separation_speed"].note


def test_a_fit_of_the_same_is_the_same() -> None:
    durations = math.radians(121), math.radians(80)
    again = fitted_lobe((0.050 * INCH, 0.200 * INCH), durations, 0.370 * INCH, share=154 / 140)
    at = np.linspace(-1.5, 1.5, 301)
    assert lobe(**POWER)(at) == pytest.approx(again(at), abs=1e-9)
