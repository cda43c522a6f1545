"""The dynamic run turned round: put back, the load holds the lobe at every speed, and a little less does not."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from loadbench.analysis import analyse
from loadbench.analysis.motion.result import Dynamic
from loadbench.analysis.motion.sensitivity import lowest_onset
from loadbench.analysis.motion.wanted_run import FINE, HOLDS, MOST, HeldByRun, for_ringing, held_by_run, speeds_up_to
from loadbench.errors import InputError
from loadbench.motion.sweep import sweep
from tests.analysis.test_motion import job

RPM = math.pi / 30
LIFT = 0.0145


def gear(**changes: object) -> Dynamic:
    dynamic = analyse(job(**changes)).lines[0].motion.dynamic
    assert dynamic is not None
    return dynamic


def least(dynamic: Dynamic, preload: float, speed: float) -> float:
    found = sweep(
        replace(dynamic.gear, preload=preload), dynamic.lift, np.arange(2000 * RPM, speed + 1e-9, 20 * RPM),
        lash=dynamic.lash, window=dynamic.window, closing=dynamic.closing,
    )  # fmt: skip
    return float(found.least_force.min())


@pytest.mark.parametrize("rpm", [5500, 7000, 7600])
@pytest.mark.parametrize("margin", [0.0, 120.0])
def test_the_load_put_back_holds_and_less_does_not(rpm: float, margin: float) -> None:
    dynamic = gear()
    told = held_by_run(dynamic, LIFT, rpm * RPM, margin)
    assert told.seat_load is not None
    assert told.open_load == pytest.approx(told.seat_load + dynamic.gear.spring_rate * LIFT)
    close = 3e-3 * told.open_now
    assert least(dynamic, told.seat_load, rpm * RPM) == pytest.approx(max(margin, HOLDS), abs=close)
    assert least(dynamic, max(told.seat_load - 2 * close, 0), rpm * RPM) < max(margin, HOLDS)
    assert told.needed_at is not None
    assert 2000 * RPM <= told.needed_at <= rpm * RPM


def test_what_is_left_now_and_where() -> None:
    dynamic = gear()
    told = held_by_run(dynamic, LIFT, 5000 * RPM)
    assert told.held
    assert told.least_force == pytest.approx(least(dynamic, dynamic.gear.preload, 5000 * RPM), rel=0.02)
    assert told.weakest == pytest.approx(5000 * RPM, rel=0.04)
    fast = held_by_run(dynamic, LIFT, 9000 * RPM)
    assert (fast.held, fast.least_force) == (False, 0.0)
    assert fast.weakest < 9000 * RPM
    onset = lowest_onset(dynamic, dynamic.gear, dynamic.lift, speeds_up_to(9000 * RPM))
    assert fast.weakest == onset
    assert onset not in speeds_up_to(9000 * RPM)


def test_a_slow_speed_needs_no_seat_load() -> None:
    told = held_by_run(gear(), LIFT, 2000 * RPM)
    assert told.seat_load is not None
    assert told.seat_load < 0.3 * told.seat_now


def test_what_no_load_holds() -> None:
    told = held_by_run(gear(), LIFT, 20000 * RPM)
    assert (told.seat_load, told.open_load, told.needed_at) == (None, None, None)
    assert MOST > 1


def test_speeds_are_close_together_and_end_at_the_wanted_one() -> None:
    for rpm in (2000.0, 3010.0, 7000.0, 1500.0):
        speeds = speeds_up_to(rpm * RPM)
        assert speeds[-1] == rpm * RPM
        assert np.all(np.diff(speeds) > 0)
        assert np.diff(speeds).max(initial=0) <= FINE * (1 + 1e-9) + FINE / 4


def test_progress_and_stopping() -> None:
    shares: list[float] = []
    held_by_run(gear(), LIFT, 5000 * RPM, progress=shares.append)
    assert shares
    assert 0 <= min(shares) <= max(shares) <= 1

    def stop(_share: float) -> None:
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        held_by_run(gear(), LIFT, 5000 * RPM, progress=stop)


@pytest.mark.parametrize(("speed", "margin"), [(0.0, 0.0), (math.nan, 0.0), (700.0, -1.0), (700.0, math.inf)])
def test_out_of_sense(speed: float, margin: float) -> None:
    with pytest.raises(InputError):
        held_by_run(gear(), LIFT, speed, margin)


@pytest.mark.parametrize(
    ("seat", "rigid", "least", "wanted"),
    [
        (None, 300.0, 0.0, True), (900.0, 300.0, 0.0, True), (900.0, 860.0, 0.0, False), (900.0, 300.0, 50.0, False),
        (650.0, 300.0, 0.0, False),
    ],
)  # fmt: skip
def test_load_is_the_wrong_cure_for_what_rings(seat: float | None, rigid: float, least: float, *, wanted: bool) -> None:
    run = HeldByRun(
        speed=700.0, margin=0.0, least_force=least, weakest=600.0, seat_load=seat, open_load=None, needed_at=None,
        seat_now=700.0, open_now=1800.0,
    )  # fmt: skip
    assert for_ringing(run, rigid) is wanted
