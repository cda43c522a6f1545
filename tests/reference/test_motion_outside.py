"""Motion against what others would find: a second solver of the two contacts, and the cam's own outline.

The solver's cases spread over laws, lash, masses, stiffnesses, modes and speeds; each settles in 15 turns from rest.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from loadbench.arrays import Floats
from loadbench.errors import InputError
from loadbench.motion import geometry
from loadbench.motion.force_balance import balance, open_valve, separation_speed
from loadbench.motion.force_inverse import Wanted, greatest_mass, needed_open_load, needed_seat_load
from loadbench.motion.gear import Gear
from loadbench.motion.laws import rise
from loadbench.motion.lift import Lift
from loadbench.motion.lobe import LawLobe, PowerLobe, solid_ramp
from loadbench.motion.polydyne import MadeFor, Polydyne
from loadbench.motion.sweep import Sweep, sweep
from tests.motion.two_contact_solver import LEAST, PEAK, SEATING, SURGE, TOP, solved

RPM = math.pi / 30
POWERS = (2, 10, 18, 26, 34)
rad = math.radians


def law(name: str, lift: float, opening: float, closing: float) -> LawLobe:
    return LawLobe(law=name, lift=lift, opening=rad(opening), closing=rad(closing))


def power(lift: float, opening: float, closing: float) -> PowerLobe:
    return PowerLobe(powers=POWERS, lift=lift, half_opening=rad(opening), half_closing=rad(closing))


def gear(  # noqa: PLR0917 - in the order of the text of the equations
    m: float, K: float, C: float, S0: float, k: float, Ks: float, Cs: float, ms: float = 0.0, modes: int = 6,
    z: float = 0.02,
) -> Gear:  # fmt: skip
    return Gear(
        mass=m, stiffness=K, damping=C, preload=S0, spring_rate=k, seat_stiffness=Ks, seat_damping=Cs,
        surging_mass=ms, modes=modes, modal_damping=z,
    )  # fmt: skip


RAMPED = LawLobe(
    law="modified-sine", lift=0.0112, opening=rad(68), closing=rad(74), opening_ramp=solid_ramp(3e-4, 0.35),
    closing_ramp=solid_ramp(4e-4, 0.4),
)  # fmt: skip

CASES = [
    # id, lift, lash mm, rpm, window deg, gear
    ("4-5-6-7", law("4-5-6-7", 0.0125, 62, 68), 0.2, 5200, 48, gear(0.15, 8e6, 300, 650, 62e3, 6e7, 2400, 0.09)),
    ("3-4-5", law("3-4-5", 0.0108, 60, 66), 0.1, 4500, 44, gear(0.16, 9e6, 420, 600, 52e3, 5.5e7, 2200, 0.08, 4, 0.01)),
    ("cycloid", law("cycloidal", 0.0098, 70, 64), 0.0, 5600, 40, gear(0.12, 1.4e7, 350, 480, 45e3, 7e7, 3000)),
    ("harmonic", law("harmonic", 0.0095, 72, 72), 0.15, 5000, 45, gear(0.13, 5e6, 500, 700, 80e3, 4e7, 1500, 0.05)),
    ("ramped", RAMPED, 0.3, 5400, 46, gear(0.14, 7e6, 260, 560, 58e3, 5e7, 1800, 0.07)),
    ("trapezoid", law("modified-trapezoid", 0.01, 66, 70), 0.0, 5000, 45, gear(0.11, 2e7, 600, 400, 38e3, 8e7, 4000)),
    ("power", power(0.0115, 63, 69), 0.25, 5800, 47, gear(0.1, 1.6e7, 520, 450, 44e3, 4.5e7, 1800, 0.06)),
    ("lash", law("4-5-6-7", 0.013, 66, 66), 0.6, 4800, 50, gear(0.17, 6e6, 250, 700, 70e3, 5e7, 2000)),
    ("one-mode", power(0.0102, 62, 62), 0.15, 4000, 45, gear(0.1, 1.6e7, 500, 310, 42e3, 4.5e7, 1800, 0.062, 1, 0.05)),
    ("twelve", law("4-5-6-7", 0.0137, 65, 65), 0.2, 4600, 50, gear(0.133, 6e6, 250, 700, 7e4, 5e7, 2000, 0.11, 12)),
    ("stiff", law("4-5-6-7", 0.0105, 60, 60), 0.0, 9000, 45, gear(0.07, 3e7, 700, 800, 12e4, 1e8, 3500, 0.05, 6, 0.08)),
    ("soft", law("3-4-5", 0.0085, 75, 70), 0.1, 2500, 50, gear(0.2, 2e6, 240, 300, 18e3, 2e7, 1500, 0.06, 3, 0.1)),
    ("lost", law("4-5-6-7", 0.0137, 65, 65), 0.2, 6400, 50, gear(0.17, 6e6, 250, 700, 70e3, 5e7, 2000)),
    ("slow", power(0.009, 70, 66), 0.2, 1000, 50, gear(0.15, 7e6, 300, 500, 50e3, 5e7, 2000, 0.08)),
]  # fmt: skip


def agrees(found: Sweep, turns: Floats) -> None:
    """Within what the check cases allow, where the last two turns from rest are alike."""
    last, before = turns[-1], turns[-2]
    peak = float(last[PEAK])
    assert abs(last[PEAK] - before[PEAK]) < 1e-3 * peak, "the case does not settle from rest"
    assert found.peak_force[0] == pytest.approx(peak, rel=0.005)
    assert found.least_force[0] == pytest.approx(last[LEAST], abs=0.005 * peak)
    assert bool(found.lost[0]) == bool(last[LEAST] <= 0)
    assert found.greatest_lift[0] == pytest.approx(last[TOP], rel=0.002)
    assert found.seating_speed[0] == pytest.approx(last[SEATING], rel=0.02)
    assert found.surge_load[0] == pytest.approx(last[SURGE], rel=0.01, abs=1e-9)


@pytest.mark.reference("two-contact")
@pytest.mark.parametrize("case", CASES, ids=[case[0] for case in CASES])
def test_two_contacts_by_a_second_solver(case: tuple[str, Lift, float, float, float, Gear]) -> None:
    _id, lift, lash, rpm, window, gear = case
    lash, window = lash * 1e-3, rad(window)
    found = sweep(gear, lift, rpm * RPM, lash=lash, window=window)
    assert bool(found.periodic[0])
    agrees(found, solved(gear, lift, rpm, lash=lash, window=window))


@pytest.mark.reference("two-contact")
def test_a_gear_that_rings_long_comes_out_with_steps_enough() -> None:
    lift, ringing = law("cycloidal", 0.0128, 47, 47), gear(0.163, 1.66e7, 5, 1090, 116e3, 2.8e7, 1900)
    found = sweep(ringing, lift, 1400 * RPM, lash=0.6e-3, window=rad(42), steps=43_200)
    agrees(found, solved(ringing, lift, 1400, lash=0.6e-3, window=rad(42), steps=144_000, turns=4))


# The cam's own outline


class Outline:
    """A cam cut by its follower, point by point: where the follower is, seen from the turning cam."""

    def __init__(self, lift: Lift, pitch_base: float, offset: float) -> None:
        self.angles = np.arange(-math.pi, math.pi, 2e-4)
        turned, height = self.angles, np.sqrt(pitch_base**2 - offset**2) + np.asarray(lift(self.angles))
        # the cam turns to the left under a follower above it, so its right side comes up to the follower
        self.x = offset * np.cos(turned) + height * np.sin(turned)
        self.y = -offset * np.sin(turned) + height * np.cos(turned)

    def slopes(self) -> tuple[Floats, Floats]:
        return np.gradient(self.x, self.angles), np.gradient(self.y, self.angles)

    def curvature(self) -> Floats:
        x1, y1 = self.slopes()
        x2, y2 = np.gradient(x1, self.angles), np.gradient(y1, self.angles)
        return np.asarray((y1 * x2 - x1 * y2) / (x1**2 + y1**2) ** 1.5)


LOBES = [
    # lobe, base mm, roller mm, offset mm; the hollow ones have small rollers on short flanks
    (power(0.0085, 60, 60), 19.0, 9.0, 0.0),
    (law("4-5-6-7", 0.0095, 70, 62), 17.0, 9.5, 3.0),
    (law("modified-sine", 0.008, 66, 74), 21.0, 8.0, -4.0),
    (law("4-5-6-7", 0.011, 55, 80), 12.0, 6.0, 5.0),
]


@pytest.mark.reference("shigley-uicker")
@pytest.mark.parametrize(("lobe", "base", "roller", "offset"), LOBES)
def test_the_outline_of_a_rollers_cam(lobe: Lift, base: float, roller: float, offset: float) -> None:
    Rr, e = roller * 1e-3, offset * 1e-3
    Rp = base * 1e-3 + Rr
    path = Outline(lobe, Rp, e)
    at = path.angles
    s, s1, s2 = (np.asarray(lobe(at, order)) for order in range(3))
    # a jerk that steps spoils the differences in a few places
    away = np.abs(path.curvature() - geometry.pitch_curvature(Rp, s, s1, s2, e))[10:-10]
    assert np.quantile(away, 0.98) * Rp < 1e-4
    x1, y1 = path.slopes()
    across = (-y1 * np.sin(at) - -x1 * np.cos(at)) / np.hypot(x1, y1)
    phi = np.arccos(np.clip(np.abs(across), 0, 1))[10:-10]
    assert np.abs(phi - np.abs(geometry.pressure_angle(Rp, s, s1, e))[10:-10]).max() < 2e-4
    # the roller inside its path cuts the cam; where the cut runs backwards the lobe is gone
    outline = Outline.__new__(Outline)
    outline.angles = at
    outline.x, outline.y = path.x + Rr * y1 / np.hypot(x1, y1), path.y - Rr * x1 / np.hypot(x1, y1)
    cx, cy = outline.slopes()
    rho = geometry.pitch_radius(Rp, s, s1, s2, e)
    sure = (np.abs(rho - Rr) > 1e-3)[20:-20]
    back = (cx * x1 + cy * y1 < 0)[20:-20]
    assert np.array_equal(back[sure], geometry.undercut_roller(rho, Rr)[20:-20][sure])


@pytest.mark.reference("shigley-uicker")
def test_an_offset_to_the_side_that_comes_up_takes_from_the_pressure_angle() -> None:
    lobe = law("4-5-6-7", 0.0095, 65, 65)
    at = np.linspace(-rad(65), 0, 2001)
    slants = [
        float(np.abs(geometry.pressure_angle(0.028, lobe(at), lobe(at, 1), e)).max()) for e in (0.004, 0.0, -0.004)
    ]
    assert slants[0] < slants[1] < slants[2]


# Laws in their authors' own words, from memory


@pytest.mark.reference("norton-cam")
def test_modified_trapezoid_as_printed() -> None:
    x = np.linspace(0, 0.5, 2001)
    printed = np.where(
        x < 1 / 8,
        0.38898448 * x - 0.0309544 * np.sin(4 * np.pi * x),
        np.where(
            x < 3 / 8,
            2.44406184 * x**2 - 0.22203097 * x + 0.00723407,
            1.6110154 * x - 0.0309544 * np.sin(4 * np.pi * x - np.pi) - 0.3055077,
        ),
    )
    assert np.abs(rise("modified-trapezoid", x) - printed).max() < 5e-8


@pytest.mark.reference("stoddart")
def test_a_polydyne_lobe_that_would_step_is_refused() -> None:
    given = MadeFor(mass=0.16, spring_rate=6e4, stiffness=4e6, preload=500.0, cam_speed=314.0)
    even = Polydyne(valve=power(0.0105, 62, 62), made_for=given)
    assert float(even(np.array(-1e-9))) == pytest.approx(float(even(np.array(1e-9))), abs=1e-9)
    for uneven in (power(0.0105, 62, 70), law("harmonic", 0.01, 60, 60), law("constant-acceleration", 0.01, 60, 60)):
        with pytest.raises(InputError, match="steps"):
            Polydyne(valve=uneven, made_for=given)


# The balance of forces turned round and back


@pytest.mark.reference("shigley-uicker")
@pytest.mark.parametrize("lash", [0.0, 4e-4])
@pytest.mark.parametrize("margin", [0.0, 150.0])
def test_an_inverse_answer_fed_back_leaves_just_the_margin(lash: float, margin: float) -> None:
    lift, mass, spring, speed = power(0.0115, 63, 69), 0.14, (520.0, 52e3), 7400 * RPM

    def closing(angles: Floats) -> Floats:
        return 60 * np.cos(angles)

    def left(mass: float, spring: tuple[float, float]) -> float:
        return float(balance(lift, mass, spring, speed, lash=lash, closing=closing, window=0.9).least_force[0])

    wanted = Wanted(speed=speed, margin=margin)
    seat = needed_seat_load(lift, mass, spring, wanted, lash=lash, closing=closing, window=0.9)
    assert left(mass, (seat.seat_load, spring[1])) == pytest.approx(margin, abs=1e-6)
    full = needed_open_load(lift, mass, spring, wanted, lash=lash, closing=closing, window=0.9)
    top = float(open_valve(lift, spring, lash=lash).lift.max())
    assert left(mass, (spring[0], (full.open_load - spring[0]) / top)) == pytest.approx(margin, abs=1e-6)
    most = greatest_mass(lift, spring, wanted, lash=lash, closing=closing, window=0.9)
    assert left(most, spring) == pytest.approx(margin, abs=1e-6)
    apart = separation_speed(lift, mass, spring, lash=lash, closing=closing, window=0.9)
    assert greatest_mass(
        lift, spring, Wanted(speed=float(apart.speed)), lash=lash, closing=closing, window=0.9
    ) == pytest.approx(mass, rel=1e-4)  # fmt: skip
