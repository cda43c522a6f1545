"""What a wanted speed and margin need: put back, each need gives just the margin, and no more."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from loadbench.analysis import analyse
from loadbench.analysis.motion.result import Dynamic
from loadbench.analysis.motion.wanted_duty import wanted_duty
from loadbench.errors import InputError
from loadbench.motion.force_balance import balance
from tests.analysis.test_motion import job

RPM = math.pi / 30


def found(**changes: object) -> tuple[Dynamic, float, float]:
    line = analyse(job(**changes)).lines[0]
    mass, apart = line.value("referred_mass"), line.value("separation_speed")
    assert line.motion.dynamic is not None
    assert mass is not None
    assert apart is not None
    return line.motion.dynamic, mass, apart


def least(dynamic: Dynamic, mass: float, speed: float, seat: float, rate: float) -> float:
    """The least force of the force balance with other loads."""
    told = balance(
        dynamic.lift, mass, (seat, rate), np.array([speed]), lash=dynamic.lash, closing=dynamic.closing,
        window=dynamic.window,
    )  # fmt: skip
    return float(told.least_force[0])


@pytest.mark.parametrize("margin", [0.0, 150.0])
@pytest.mark.parametrize("factor", [0.8, 1.0, 1.2])
def test_each_need_put_back_leaves_the_margin(margin: float, factor: float) -> None:
    dynamic, mass, apart = found()
    speed = factor * apart
    told = wanted_duty(dynamic, mass, speed, margin)
    scale = max(told.open_now, 1.0)
    assert least(dynamic, mass, speed, told.seat_load, told.rate_now) == pytest.approx(margin, abs=1e-6 * scale)
    assert least(dynamic, mass, speed, told.seat_now, told.rate) == pytest.approx(margin, abs=1e-3 * scale)
    assert least(dynamic, told.mass, speed, told.seat_now, told.rate_now) == pytest.approx(margin, abs=1e-3 * scale)
    assert least(dynamic, mass, speed, told.seat_now, told.rate_now) == pytest.approx(
        told.least_force, abs=1e-6 * scale
    )
    assert told.held == (told.least_force >= margin)
    lift = (told.open_now - told.seat_now) / told.rate_now
    assert told.seat_open - told.seat_load == pytest.approx(told.open_now - told.seat_now)
    assert told.open_load == pytest.approx(told.seat_now + told.rate * lift)


def test_at_separation_what_is_there_just_does() -> None:
    dynamic, mass, apart = found()
    told = wanted_duty(dynamic, mass, apart)
    assert told.least_force == pytest.approx(0.0, abs=2e-3 * told.open_now)
    assert told.mass == pytest.approx(mass, rel=2e-3)
    assert told.seat_load == pytest.approx(told.seat_now, rel=5e-3)


def test_a_seat_load_that_falls_short_at_the_start_is_infinite() -> None:
    dynamic, mass, _ = found()
    weak = replace(dynamic, gear=replace(dynamic.gear, preload=1.0), window=math.pi)
    told = wanted_duty(weak, mass, 300 * RPM, margin=200.0)
    assert math.isinf(told.open_load)
    assert math.isinf(told.rate)


def test_a_margin_above_the_load_leaves_no_mass() -> None:
    dynamic, mass, _ = found()
    assert wanted_duty(dynamic, mass, 3000 * RPM, margin=1e4).mass == 0.0


@pytest.mark.parametrize(("speed", "margin"), [(0.0, 0.0), (-100.0, 0.0), (700.0, -1.0)])
def test_a_duty_that_cannot_be_is_refused(speed: float, margin: float) -> None:
    dynamic, mass, _ = found()
    with pytest.raises(InputError):
        wanted_duty(dynamic, mass, speed, margin)
