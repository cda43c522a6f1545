"""The adjuster's lever: exact motion against points turned one by one, its inverses, its shortcuts and their errors."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.errors import InputError
from loadbench.follower import lever
from loadbench.follower.setting import Adjuster

MM = 1e-3
PLACES: tuple[Adjuster, ...] = ("pivot", "pushrod", "valve-tip")
places = st.sampled_from(PLACES)
valve_arms = st.floats(30.0, 50.0)
ratios = st.floats(1.2, 2.0)
angles = st.floats(-20.0, 25.0)
leans = st.floats(-8.0, 8.0)
pitches = st.floats(0.75, 1.5)


def gear(valve: float, ratio: float, beta: float, gamma: float) -> dict[str, object]:
    arms = (valve * MM, valve / ratio * MM)
    return {"arms": arms, "cup_angle": math.radians(beta), "lean": math.radians(gamma)}


def turned(point: complex, by: float) -> complex:
    """A point of the lever after it has turned, valve end up; the valve lies to the right, up is up."""
    return point * complex(math.cos(by), math.sin(by))


def bisected(goes: object, low: float, high: float) -> float:
    for _ in range(200):
        middle = (low + high) / 2
        low, high = (low, middle) if goes(middle) > 0 else (middle, high)  # type: ignore[operator]
    return (low + high) / 2


def cup_along(at: Adjuster, x: float, arms: tuple[float, float], beta: float, gamma: float) -> float:
    """The cup's way along the pushrod, from points of a drawing and a bisection: nothing of the formulas."""
    cup = arms[1] * complex(-math.cos(beta), -math.sin(beta))
    tip = complex(arms[0], 0.0)
    pivot = 0j
    if at == "pivot":
        pivot = complex(0.0, -x)
    if at == "valve-tip":
        tip -= complex(0.0, x)
    theta = bisected(lambda a: (pivot + turned(tip, a)).imag, -0.5, 0.5)
    way = pivot + turned(cup, theta) - cup
    # Down the pushrod; its foot leans toward the pivot, which is to the right of the cup.
    axis = complex(math.sin(gamma), -math.cos(gamma))
    return (way * axis.conjugate()).real


@given(st.sampled_from(("pivot", "valve-tip")), valve_arms, ratios, angles, leans, st.floats(-2.0, 3.0))
def test_the_cup_goes_where_a_drawing_puts_it(
    at: Adjuster, valve: float, ratio: float, beta: float, gamma: float, x: float
) -> None:
    more = gear(valve, ratio, beta, gamma)
    moved = lever.pivot_lowered if at == "pivot" else lever.tip_advanced
    got = moved(x * MM, *more["arms"], more["cup_angle"], more["lean"])  # type: ignore[misc, arg-type]
    drawn = cup_along(at, x * MM, more["arms"], more["cup_angle"], more["lean"])  # type: ignore[arg-type]
    assert float(got.along) == pytest.approx(drawn, abs=1e-12)


@given(places, valve_arms, ratios, angles, leans, pitches, st.floats(0.0, 3.0))
def test_turns_for_a_depth_undo_depth_of_turns(
    at: Adjuster, valve: float, ratio: float, beta: float, gamma: float, pitch: float, turns: float
) -> None:
    for more in (gear(valve, ratio, beta, gamma), gear(valve, ratio, beta, gamma) | {"arms": None}):
        depth = lever.depth_of_turns(turns, pitch * MM, at, ratio, **more).exact  # type: ignore[arg-type]
        back = lever.turns_for(depth, pitch * MM, at, ratio, **more)  # type: ignore[arg-type]
        assert float(back) == pytest.approx(turns, abs=1e-9)


def lash_drawn(at: Adjuster, x: float, arms: tuple[float, float], beta: float, gamma: float) -> float:
    """The gap at the tip with the screw drawn back by x and the cup held along its pushrod: points and a bisection."""
    down = complex(math.sin(gamma), -math.cos(gamma))
    held = arms[1] * complex(-math.cos(beta), -math.sin(beta))
    cup = held - (x * down if at == "pushrod" else 0j)
    pivot = complex(0.0, x) if at == "pivot" else 0j
    theta = bisected(lambda a: ((pivot + turned(cup, a) - held) * down.conjugate()).real, -0.5, 0.5)
    return (pivot + turned(complex(arms[0], 0.0), theta)).imag


@given(st.sampled_from(("pivot", "pushrod")), valve_arms, ratios, angles, leans, st.floats(0.0, 1.0))
def test_turns_for_a_lash_leave_the_lash_that_a_drawing_shows(
    at: Adjuster, valve: float, ratio: float, beta: float, gamma: float, lash: float
) -> None:
    more = gear(valve, ratio, beta, gamma)
    turns = float(lever.turns_for_lash(lash * MM, MM, at, ratio, **more))  # type: ignore[arg-type]
    drawn = lash_drawn(at, turns * MM, more["arms"], more["cup_angle"], more["lean"])  # type: ignore[arg-type]
    assert drawn == pytest.approx(lash * MM, abs=1e-12)


@given(places, valve_arms, ratios, angles, leans)
def test_a_small_lash_is_first_order(at: Adjuster, valve: float, ratio: float, beta: float, gamma: float) -> None:
    more = gear(valve, ratio, beta, gamma)
    exact = float(lever.turns_for_lash(1e-9, MM, at, ratio, **more))  # type: ignore[arg-type]
    first = float(lever.turns_for_lash(1e-9, MM, at, ratio, **(more | {"arms": None})))  # type: ignore[arg-type]
    assert exact == pytest.approx(first, rel=1e-5)


@pytest.mark.parametrize(("at", "factor"), [("pivot", 2.5), ("pushrod", 1.5), ("valve-tip", 1.0)])
def test_lash_in_one_line_by_hand(at: Adjuster, factor: float) -> None:
    # R 1.5, pitch 1 mm: a pivot raised by 0.1 mm opens 0.1 (1 + R) = 0.25 mm, and so on.
    assert float(lever.turns_for_lash(0.1 * factor * MM, MM, at, 1.5)) == pytest.approx(0.1, rel=1e-12)


@given(places, valve_arms, ratios, angles, leans)
def test_one_small_turn_is_first_order(at: Adjuster, valve: float, ratio: float, beta: float, gamma: float) -> None:
    more = gear(valve, ratio, beta, gamma)
    small = lever.depth_of_turns(1e-6, MM, at, ratio, **more)  # type: ignore[arg-type]
    assert float(small.exact) == pytest.approx(float(small.first_order), rel=1e-5)


def test_the_shortcuts_and_their_errors() -> None:
    found = lever.turn_depth(1.27 * MM, "pivot", 1.6, arms=(40 * MM, 25 * MM), cup_angle=math.radians(12))
    assert found.pitch_times_ratio == pytest.approx(2.032 * MM, rel=1e-12)
    assert found.straight == pytest.approx(2.06375 * MM, rel=1e-12)
    assert found.shortcut_error == pytest.approx(2.032 * MM / found.exact - 1, rel=1e-12)
    assert 0 < found.first_order_error < found.straight_error < 0.02
    # Pitch times ratio is near at the pivot only where R (R - 1) = 1: R = (1 + sqrt(5))/2.
    golden = (1 + math.sqrt(5)) / 2
    assert lever.turn_depth(MM, "pivot", golden).shortcut_error == pytest.approx(0.0, abs=1e-12)
    assert lever.turn_depth(MM, "pushrod", 1.6).shortcut_error == pytest.approx(0.6, rel=1e-12)
    assert lever.turn_depth(MM, "valve-tip", 1.6).shortcut_error == pytest.approx(1.56, rel=1e-12)


def test_arrays_come_back_in_their_shape() -> None:
    turns = np.linspace(0.0, 1.5, 6).reshape(2, 3)
    found = lever.depth_of_turns(turns, MM, "pivot", 1.5, arms=(36 * MM, 24 * MM), cup_angle=0.2)
    assert all(each.shape == (2, 3) for each in found)
    assert lever.turns_for(found.exact, MM, "pivot", 1.5, arms=(36 * MM, 24 * MM), cup_angle=0.2).shape == (2, 3)


def test_what_cannot_be_is_told_with_its_place() -> None:
    arms = (36 * MM, 24 * MM)
    with pytest.raises(InputError, match="below zero lash") as turns:
        lever.depth_of_turns(np.array([0.5, -0.1]), MM, "pivot", 1.5)
    assert turns.value.place.field == "turns"
    with pytest.raises(InputError) as lash:
        lever.turns_for_lash(-0.1 * MM, MM, "pivot", 1.5)
    assert lash.value.place.field == "lash"
    for at in ("pivot", "valve-tip"):
        with pytest.raises(InputError, match="cannot reach") as depth:
            lever.turns_for(0.2, MM, at, 1.5, arms=arms)  # type: ignore[arg-type]
        assert depth.value.place.field == "depth"
    with pytest.raises(InputError, match="valve arm"):
        lever.turns_for_lash(0.04, MM, "pushrod", 1.5, arms=arms)
    with pytest.raises(InputError, match="valve arm"):
        lever.depth_of_turns(40.0, MM, "pivot", 1.5, arms=arms)
    for call in (lever.turn_depth, lambda *a, **k: lever.turns_for(MM, *a, **k)):
        with pytest.raises(InputError, match="ratio") as ratio:
            call(MM, "pivot", 1.8, arms=arms)
        assert ratio.value.place.field == "pushrod_arm"
