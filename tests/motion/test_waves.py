"""Springs that swing each by itself: against continuous ones, a chain solved directly, one spring cut in two."""

from __future__ import annotations

import dataclasses
import math

import numpy as np
import pytest

from loadbench.arrays import Floats
from loadbench.errors import InputError
from loadbench.motion.bands import Cause, loss_bands
from loadbench.motion.gear import Gear
from loadbench.motion.periodic import strongest_order, surge_load, waves_at
from loadbench.motion.sweep import Sweep, sweep
from loadbench.motion.waves import SpringWaves, WaveShape, chain_shape, uniform_shape
from tests.motion.lifts import FOUR_FIVE_SIX_SEVEN

RPM = math.pi / 30
PLAIN = Gear(
    mass=0.133333, stiffness=6e6, damping=250.0, preload=700.0, spring_rate=70e3, seat_stiffness=5e7,
    seat_damping=2000.0,
)  # fmt: skip
ONE = dataclasses.replace(PLAIN, surging_mass=0.110)


def nest(*springs: tuple[float, float], modes: int = 6) -> Gear:
    """Springs by their share of the rate and their mass, kg."""
    shape = uniform_shape(modes)
    names = ("outer", "inner", "third")
    return dataclasses.replace(
        PLAIN,
        waves=tuple(
            SpringWaves(shape=shape, mass=mass, rate_share=share, name=name)
            for (share, mass), name in zip(springs, names, strict=False)
        ),
    )


def swept(gear: Gear, rpm: Floats | list[float], **given: object) -> Sweep:
    return sweep(gear, FOUR_FIVE_SIX_SEVEN, np.asarray(rpm, dtype=float) * RPM, lash=0.2e-3, **given)  # type: ignore[arg-type]


def cone(elements: int) -> tuple[Floats, Floats]:
    """Compliances, m/N, and masses, kg, of a cone that grows stiffer and lighter towards the retainer."""
    diameters = np.linspace(1.0, 0.6, elements)
    give, mass = diameters**3, diameters
    return give / give.sum() / 70e3, mass / mass.sum() * 0.090


def test_one_spring_cut_in_two_alike_is_the_same_spring() -> None:
    rpm = [3000.0, 5000.0, 6000.0]
    whole, halves = swept(ONE, rpm), swept(nest((0.5, 0.055), (0.5, 0.055)), rpm)
    for name in ("peak_force", "least_force", "greatest_lift", "seating_speed", "surge_load", "loft"):
        assert getattr(halves, name) == pytest.approx(getattr(whole, name), rel=1e-6), name


def test_springs_out_of_tune_surge_less_than_one_of_their_rate_and_mass() -> None:
    rpm = np.arange(4000.0, 7000.0, 50.0)
    apart = nest((0.7, 0.090), (0.3, 0.020))
    assert apart.springs[0].speeds(70e3)[0] < ONE.mode_speeds[0] < apart.springs[1].speeds(70e3)[0]
    assert swept(apart, rpm).surge_load.max() < 0.9 * swept(ONE, rpm).surge_load.max()


def test_two_springs_against_a_general_solver() -> None:
    from scipy.integrate import solve_ivp

    gear = nest((0.65, 0.070), (0.35, 0.030))
    rpm, steps = 5200.0, 7200 * 4
    cam = rpm * RPM / 2
    shares, own, pushes = gear.shares, gear.mode_speeds, gear.mode_pushes

    def rates(t: float, state: Floats) -> Floats:
        x, v = state[:2]
        q, p = state[2:14], state[14:]
        angle = math.remainder(cam * t - math.pi, 2 * math.pi)
        y = float(FOUR_FIVE_SIX_SEVEN(angle)) - 0.2e-3
        dy = float(FOUR_FIVE_SIX_SEVEN(angle, 1)) * cam
        F = max(0.0, gear.stiffness * (y - x) + gear.damping * (dy - v)) if y > x else 0.0
        G = max(0.0, -gear.seat_stiffness * x - gear.seat_damping * v) if x < 0 else 0.0
        back = 2 * gear.modal_damping * own * p + own**2 * q
        net = F + G - gear.preload - gear.spring_rate * x + float(pushes @ back)
        a = net / (gear.mass + 0.1 / 3 - 2 * float(shares @ pushes))
        return np.concatenate(([v, a], p, -2 * shares * a - back))

    turn = 2 * math.pi / cam
    start = np.zeros(26)
    start[0] = -gear.preload / gear.seat_stiffness
    times = np.linspace(0, 2 * turn, 14401)
    far = solve_ivp(rates, (0, 2 * turn), start, t_eval=times, rtol=1e-8, atol=1e-11, max_step=turn / 1440)
    second = times >= turn
    surge = np.abs(gear.end_loads @ far.y[2:14])[second].max()
    found = swept(gear, [rpm], turns=2, from_rest=True, steps=steps)
    assert found.greatest_lift[0] == pytest.approx(far.y[0][second].max(), rel=1e-4)
    assert found.surge_load[0] == pytest.approx(surge, rel=2e-3)


def test_end_load_of_two_driven_springs_is_that_of_continuous_ones() -> None:
    # wahl, surging: a spring whose end moves by x cos wt pushes back with k t cot t, t = w sqrt(m/k)
    gear = nest((0.65, 0.070), (0.35, 0.030), modes=400)
    for order, cam in ((4, 260.0), (7, 300.0)):
        steps = 2400
        angle = 2 * np.pi * np.arange(steps) / steps
        lift = 1e-3 * np.cos(order * angle)
        undamped = dataclasses.replace(gear, modal_damping=0.0)
        waves, _ = waves_at(undamped, lift, np.array([cam]), np.zeros(1))
        turning = order * cam
        exact = 0.0
        for share, mass in ((0.65, 0.070), (0.35, 0.030)):
            rate = share * 70e3
            theta = turning * math.sqrt(mass / rate)
            exact += rate * theta / math.tan(theta)
        assert 70e3 + surge_load(undamped, waves)[0, 0] / 1e-3 == pytest.approx(exact, abs=0.01 * 70e3)


def test_a_chain_alike_along_its_wire_is_the_uniform_spring() -> None:
    found, like = chain_shape(np.full(240, 1e-7), np.full(240, 4e-4)), uniform_shape()
    assert found is not None
    assert found.numbers == pytest.approx(like.numbers, rel=3e-4)
    assert np.abs(found.shares) == pytest.approx(np.abs(like.shares), rel=2e-3)
    assert found.carried == pytest.approx(1 / 3, rel=1e-4)


@pytest.mark.parametrize("landed", [0, 3])
def test_a_cone_pushes_back_as_its_chain_solved_directly(landed: int) -> None:
    elements = 24
    give, masses = cone(elements)
    free = np.arange(landed, elements)
    shape = chain_shape(give, masses, free, modes=elements - landed - 1)
    assert shape is not None
    rate = 1 / give[free].sum()
    spring = SpringWaves(shape=shape, mass=float(masses.sum()))
    own, share = spring.speeds(rate), np.asarray(shape.shares)
    for turning in (400.0, 1300.0, 2900.0, 9000.0):
        by_modes = rate - turning**2 * spring.mass * (
            shape.carried + float((2 * share**2 * turning**2 / (own**2 - turning**2)).sum())
        )
        assert by_modes == pytest.approx(_direct(give, masses, landed, turning), rel=1e-9, abs=1e-3)


def _direct(give: Floats, masses: Floats, landed: int, turning: float) -> float:
    """Force at the moving end for each metre of it, N/m: the nodes' balance solved as it stands."""
    stiff = 1 / give[landed:]
    nodes = stiff.size + 1
    at = np.zeros(nodes)
    at[:-1] += masses[landed:] / 2
    at[1:] += masses[landed:] / 2
    matrix = np.diag(-(turning**2) * at)
    for place, k in enumerate(stiff):
        matrix[place : place + 2, place : place + 2] += k * np.array([[1.0, -1.0], [-1.0, 1.0]])
    inner = slice(1, nodes - 1)
    moved = np.linalg.solve(matrix[inner, inner], -matrix[inner, -1])
    return float(matrix[-1, -1] + matrix[-1, inner] @ moved)


def test_all_modes_together_leave_only_the_mass_at_the_end() -> None:
    give, masses = cone(24)
    shape = chain_shape(give, masses, modes=23)
    assert shape is not None
    gear = dataclasses.replace(PLAIN, waves=(SpringWaves(shape=shape, mass=float(masses.sum())),))
    assert gear.moved_mass == pytest.approx(PLAIN.mass + masses[-1] / 2, rel=1e-12)


def test_too_few_free_turns_have_no_shape() -> None:
    give, masses = cone(10)
    assert chain_shape(give, masses, np.array([9])) is None
    assert chain_shape(give, masses, np.arange(6, 10)) is None


def test_which_spring_surges_is_told_by_its_name() -> None:
    for shares in (((0.7, 0.090), (0.3, 0.020)), ((0.7, 0.055), (0.3, 0.045))):
        gear = nest(*shares)
        speeds = [each.speeds(70e3)[0] for each in gear.springs]
        slow = int(np.argmin(speeds))
        at = strongest_order(gear, FOUR_FIVE_SIX_SEVEN, 0.2e-3, speeds[slow] / 8)
        assert at == (8, 1, ("outer", "inner")[slow])


def test_bands_of_a_nest_name_the_spring() -> None:
    gear = nest((0.7, 0.090), (0.3, 0.020))
    found = swept(gear, np.arange(4500.0, 6500.0, 25.0))

    def again(some: Gear, speeds: Floats) -> Sweep:
        return swept(some, speeds / RPM)

    bands = loss_bands(gear, FOUR_FIVE_SIX_SEVEN, found, again, lash=0.2e-3, window=math.radians(50))
    surging = [band for band in bands if band.cause is Cause.SURGE]
    assert surging
    assert all(band.spring in {"outer", "inner"} for band in surging)
    assert all(band.spring == "" for band in bands if band.cause is not Cause.SURGE)


def test_a_rate_alone_and_a_heavier_spring() -> None:
    gear = nest((0.7, 0.090), (0.3, 0.020))
    assert gear.as_rate().referred_mass == pytest.approx(gear.referred_mass)
    assert not gear.as_rate().surging
    heavy = gear.with_spring_mass(4.0)
    assert heavy.mode_speeds == pytest.approx(gear.mode_speeds / 2)
    assert heavy.referred_mass - gear.referred_mass == pytest.approx(0.110)
    stiff = dataclasses.replace(gear, spring_rate=4 * gear.spring_rate)
    assert stiff.mode_speeds == pytest.approx(2 * gear.mode_speeds)


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: SpringWaves(shape=uniform_shape(), mass=0.0),
        lambda: SpringWaves(shape=uniform_shape(), mass=0.1, rate_share=math.nan),
        lambda: dataclasses.replace(ONE, waves=nest((1.0, 0.1)).waves),
    ],
    ids=["no mass", "no rate", "both ways"],
)
def test_what_makes_no_sense_is_refused(wrong: object) -> None:
    with pytest.raises(InputError):
        wrong()  # type: ignore[operator]


def test_no_modes_are_no_waves() -> None:
    bare = dataclasses.replace(ONE, modes=0)
    assert not bare.surging
    assert bare.mode_count == bare.shares.size == 0
    assert bare.moved_mass == pytest.approx(ONE.referred_mass)
    assert WaveShape(numbers=(), shares=()).carried == pytest.approx(1 / 3)
