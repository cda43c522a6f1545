"""Cam and follower in space, against worked values, against circles and straight flanks, and against the bare curve."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError
from loadbench.motion import geometry
from loadbench.motion.laws import rise
from loadbench.motion.lift import Lift
from loadbench.motion.lobe import LawLobe, PowerLobe
from loadbench.motion.lobe_shape import flat_shape, roller_shape

MM = 1e-3
POWERS = (2.0, 10.0, 18.0, 26.0, 34.0)
RPM = math.pi / 30
near = pytest.approx


class Rise:
    """A rise alone, from 0 to beta: the worked examples count their angles from its start."""

    def __init__(self, law: str, lift: float, degrees: float) -> None:
        self.law, self.lift, self.beta = law, lift, math.radians(degrees)
        self.angles = np.linspace(0.0, self.beta, 90_001)

    def __call__(self, angle: Real, derivative: int = 0) -> Floats:
        value = rise(self.law, np.asarray(angle) / self.beta, derivative)
        return np.asarray(self.lift / self.beta**derivative * value)


def power_lobe(lift: float, degrees: float) -> PowerLobe:
    half = math.radians(degrees)
    return PowerLobe(powers=POWERS, lift=lift, half_opening=half, half_closing=half)


FINE = np.linspace(0.0, math.radians(70), 140_001)


# Flat face


@pytest.mark.reference("shigley-uicker")
@pytest.mark.parametrize(
    ("lobe", "least", "place", "base", "half_face"),
    [
        pytest.param(Rise("3-4-5", 10 * MM, 90), -14.113850, 70.01, 17.113850, 11.936621, id="M27"),
        pytest.param(Rise("cycloidal", 8 * MM, 75), -22.091089, 55.71, 25.091089, 12.223100, id="M28"),
    ],
)
def test_flat_face(lobe: Rise, least: float, place: float, base: float, half_face: float) -> None:
    at = lobe.angles
    shape = flat_shape(lobe, 0.0, at)
    assert shape.least_radius.value / MM == near(least, rel=1e-5)
    assert math.degrees(shape.least_radius.angle) == near(place, abs=0.05)
    found = geometry.least_base_radius(lobe(at), lobe(at, 2), 3 * MM)
    assert found / MM == near(base, rel=1e-5)
    assert geometry.face_width_needed(lobe(at, 1)) / MM == near(2 * half_face, rel=1e-5)
    # On the base circle found the cam is as sharp as was asked, not undercut; 4 mm less is.
    assert flat_shape(lobe, found, at).least_radius.value == near(3 * MM, rel=1e-9)
    assert not flat_shape(lobe, found, at).undercut
    assert flat_shape(lobe, found - 4 * MM, at).undercut


@pytest.mark.reference("shigley-uicker")
def test_m29_flat_face_on_a_power_polynomial() -> None:
    shape = flat_shape(power_lobe(9 * MM, 62), 0.0, FINE)
    assert shape.least_radius.value / MM == near(-17.625853, rel=1e-5)
    assert math.degrees(shape.least_radius.angle) == near(24.77, abs=0.05)
    assert abs(shape.farthest_contact.value) / MM == near(15.377543, rel=1e-5)


@pytest.mark.reference("cam-problems")
def test_m30_a_harmonic_over_the_whole_turn_is_a_circle() -> None:
    e = 25 * MM
    turn = np.linspace(-math.pi, math.pi, 721)
    lobe = LawLobe(law="harmonic", lift=2 * e, opening=math.pi, closing=math.pi)
    radius = geometry.cam_radius_flat(e, lobe(turn), lobe(turn, 2))
    assert radius == near(np.full(721, 50 * MM), rel=1e-12)
    assert geometry.face_width_needed(lobe(turn, 1)) == near(50 * MM, rel=1e-12)
    assert geometry.face_width_needed(lobe(turn, 1), 1 * MM) == near(51 * MM, rel=1e-12)


@pytest.mark.reference("cam-problems")
def test_m89_circular_flank() -> None:
    r1, R, theta, w = 20 * MM, 80 * MM, math.radians(15), 600 * RPM
    s, s1, s2 = (R - r1) * (1 - math.cos(theta)), (R - r1) * math.sin(theta), (R - r1) * math.cos(theta)
    assert (s, w * s1, w**2 * s2) == near((2.0444504 * MM, 0.9757248, 228.79934), rel=1e-6)
    assert float(geometry.cam_radius_flat(r1, s, s2)) == near(80 * MM, rel=1e-12)


# Roller


@pytest.mark.reference("shigley-uicker")
def test_m31_roller_at_a_point() -> None:
    lobe = Rise("3-4-5", 20 * MM, 90)
    s, s1, s2 = (lobe(math.radians(30), order) for order in range(3))
    assert (float(s / MM), float(s1 / MM), float(s2 / MM)) == near((4.197531, 18.862808, 36.025310), rel=1e-6)
    rho = geometry.pitch_radius(40 * MM, s, s1, s2)
    assert float(rho) / MM == near(103.43798, rel=1e-6)
    assert float(geometry.cam_radius_roller(rho, 10 * MM)) / MM == near(93.43798, rel=1e-6)
    assert math.degrees(geometry.pressure_angle(40 * MM, s, s1)) == near(23.11202, rel=1e-6)


@pytest.mark.reference("shigley-uicker")
def test_m32_roller_extremes() -> None:
    lobe = Rise("3-4-5", 20 * MM, 90)
    shape = roller_shape(lobe, 30 * MM, 10 * MM, angles=lobe.angles)
    assert shape.least_pitch_radius.value / MM == near(32.97835, rel=1e-5)
    assert shape.least_radius.value / MM == near(22.97835, rel=1e-5)
    assert math.degrees(shape.least_radius.angle) == near(69.45, abs=0.05)
    assert shape.sharpest_hollow is not None
    assert shape.sharpest_hollow.value / MM - 10 == near(1019.10, rel=1e-3)
    assert math.degrees(shape.sharpest_hollow.angle) == near(15.57, abs=0.05)
    assert math.degrees(shape.greatest_pressure_angle.value) == near(25.92434, rel=1e-5)
    assert math.degrees(shape.greatest_pressure_angle.angle) == near(40.74, abs=0.05)


@pytest.mark.reference("shigley-uicker")
def test_m33_roller_with_offset() -> None:
    lobe = Rise("3-4-5", 20 * MM, 90)
    at = lobe.angles
    phi = np.degrees(geometry.pressure_angle(40 * MM, lobe(at), lobe(at, 1), 8 * MM))
    assert phi.max() == near(18.09013, rel=1e-5)
    assert math.degrees(at[phi.argmax()]) == near(42.13, abs=0.05)
    assert phi.min() == near(-11.53696, rel=1e-5)
    assert phi[0] == near(-math.degrees(math.atan(8 / math.sqrt(1536))), rel=1e-12)


@pytest.mark.reference("shigley-uicker")
def test_m34_m35_roller_on_a_cycloid() -> None:
    lobe = Rise("cycloidal", 15 * MM, 60)
    s, s1, s2 = (lobe(math.radians(40), order) for order in range(3))
    assert float(geometry.pitch_radius(35 * MM, s, s1, s2)) / MM == near(20.85366, rel=1e-6)
    assert math.degrees(geometry.pressure_angle(35 * MM, s, s1)) == near(24.53631, rel=1e-6)
    shape = roller_shape(lobe, 26 * MM, 9 * MM, angles=lobe.angles)
    assert shape.least_pitch_radius.value / MM == near(18.70452, rel=1e-5)
    assert math.degrees(shape.least_pitch_radius.angle) == near(45.70, abs=0.05)
    assert shape.sharpest_hollow is not None
    assert shape.sharpest_hollow.value / MM == near(44.10793, rel=1e-5)
    assert math.degrees(shape.sharpest_hollow.angle) == near(11.62, abs=0.05)
    assert math.degrees(shape.greatest_pressure_angle.value) == near(34.32366, rel=1e-5)
    assert math.degrees(shape.greatest_pressure_angle.angle) == near(27.84, abs=0.05)


@pytest.mark.reference("shigley-uicker")
def test_m36_hollow_flank_of_a_power_polynomial() -> None:
    lobe = power_lobe(8.5 * MM, 60)
    shape = roller_shape(lobe, 19 * MM, 9 * MM, angles=FINE)
    assert shape.least_pitch_radius.value / MM == near(20.59664, rel=1e-5)
    assert math.degrees(shape.least_pitch_radius.angle) == near(25.77, abs=0.05)
    assert shape.sharpest_hollow is not None
    assert shape.sharpest_hollow.value / MM == near(27.16724, rel=1e-5)
    assert math.degrees(shape.sharpest_hollow.angle) == near(51.75, abs=0.05)
    assert math.degrees(abs(shape.greatest_pressure_angle.value)) == near(26.04699, rel=1e-5)
    # A wheel of 27 mm still grinds that flank; one of 28 mm doesn't.
    rho = geometry.pitch_radius(28 * MM, *(lobe(FINE, order) for order in range(3)))
    assert not geometry.too_hollow(rho, 9 * MM, 27 * MM).any()
    assert geometry.too_hollow(rho, 9 * MM, 28 * MM).any()


@pytest.mark.reference("cam-problems")
def test_m43_start_of_lift_on_a_tangent_flank() -> None:
    # Printed 187.6. The path of the roller's centre is straight, which at the start of lift leaves one acceleration.
    Rp, w = 47.5 * MM, 600 * RPM
    found = 187.522 / w**2
    assert float(geometry.pitch_curvature(Rp, 0.0, 0.0, found)) * Rp == near(0.0, abs=1e-5)


@pytest.mark.reference("cam-problems")
def test_m90_tangent_flank() -> None:
    Rp, theta, w = 47.5 * MM, math.radians(20), 600 * RPM
    c = math.cos(theta)
    s, s1, s2 = Rp * (1 / c - 1), Rp * math.sin(theta) / c**2, Rp * (2 - c**2) / c**3
    assert (s, w * s1, w**2 * s2) == near((3.0484442 * MM, 1.1559885, 252.42969), rel=1e-6)
    assert float(geometry.pitch_curvature(Rp, s, s1, s2)) * Rp == near(0.0, abs=1e-12)
    assert math.degrees(geometry.pressure_angle(Rp, s, s1)) == near(20.0, rel=1e-12)
    assert math.isinf(geometry.pitch_radius(1.0, 0.0, 0.0, 1.0))


def eccentric(theta: Floats) -> tuple[Floats, Floats, Floats]:
    """Lift of a roller of 10 mm on a disc of 30 mm that turns 6 mm off its middle, and its derivatives."""
    L, e = 40 * MM, 6 * MM
    sin, cos = np.sin(theta), np.cos(theta)
    root = np.sqrt(L**2 - e**2 * sin**2)
    s = root - e * cos - (L - e)
    s1 = -(e**2) * sin * cos / root + e * sin
    s2 = -(e**2) * (cos**2 - sin**2) / root - e**4 * sin**2 * cos**2 / root**3 + e * cos
    return s, s1, s2


@pytest.mark.reference("cam-problems")
def test_m91_eccentric_disc() -> None:
    theta = np.linspace(-math.pi, math.pi, 721)
    s, s1, s2 = eccentric(theta)
    rho = geometry.pitch_radius(34 * MM, s, s1, s2)
    assert rho == near(np.full(721, 40 * MM), rel=1e-9)
    assert geometry.cam_radius_roller(rho, 10 * MM) == near(np.full(721, 30 * MM), rel=1e-9)
    phi = np.degrees(geometry.pressure_angle(34 * MM, s, s1))
    assert phi.max() == near(8.62692656, rel=1e-9)
    assert math.degrees(theta[phi.argmax()]) == near(90.0, abs=1e-9)
    assert np.isinf(geometry.hollow_radius(rho, 10 * MM)).all()


# Against the bare curve


def path(lift: Lift, Rp: float, e: float, theta: Floats) -> Floats:
    """The roller's centre seen from the cam, as points of the complex plane."""
    X = math.sqrt(Rp**2 - e**2) + lift(theta)
    return np.asarray((X + 1j * e) * np.exp(1j * theta))


@given(st.floats(-1.0, 1.0), st.floats(-0.012, 0.012), st.floats(0.02, 0.05))
def test_curvature_and_pressure_angle_of_the_bare_path(theta: float, e: float, Rp: float) -> None:
    lobe = PowerLobe(powers=(2, 6, 8, 10, 12), lift=9 * MM, half_opening=1.2, half_closing=1.2)
    step = 1e-4
    before, here, after = path(lobe, Rp, e, theta + step * np.array([-1.0, 0.0, 1.0]))
    first, second = (after - before) / (2 * step), (after - 2 * here + before) / step**2
    curvature = float((first.conjugate() * second).imag / abs(first) ** 3)
    s, s1, s2 = (lobe(theta, order) for order in range(3))
    assert float(geometry.pitch_curvature(Rp, s, s1, s2, e)) * Rp == near(curvature * Rp, abs=1e-4)
    # The normal stands a quarter turn off the path; the follower's line lies along the angle itself.
    normal = first / 1j * np.exp(-1j * theta)
    angle = -math.atan2(normal.imag, normal.real)
    assert float(geometry.pressure_angle(Rp, s, s1, e)) == near(angle, abs=1e-6)


def test_a_roller_on_a_round_cam_turns_as_one_gear_on_another() -> None:
    speeds = geometry.roller_speeds(0.030, 0.0, 0.0, 0.0, 0.010, 100.0)
    assert float(speeds.spin) == near(200.0)
    assert float(speeds.surface) == near(2.0)
    assert float(speeds.over_cam) == near(2.0)


def test_a_roller_goes_round_its_cam_by_the_cams_own_length() -> None:
    # Eccentric disc of 30 mm: over one turn the contact has gone once around it.
    theta = np.linspace(-math.pi, math.pi, 721)
    over = geometry.roller_speeds(34 * MM, *eccentric(theta), 10 * MM, 1.0).over_cam
    assert float(np.trapezoid(over, theta)) == near(2 * math.pi * 30 * MM, rel=1e-9)


def test_a_flat_face_slides_and_its_contact_goes_round_the_cam() -> None:
    lobe = power_lobe(9 * MM, 62)
    turn = np.linspace(-math.pi, math.pi, 14_401)
    speeds = geometry.flat_speeds(20 * MM, lobe(turn), lobe(turn, 2), 2.0)
    assert speeds.sliding[0] == near(2 * 20 * MM)
    assert speeds.over_cam - speeds.over_face == near(speeds.sliding, rel=1e-12)
    # Over the face the contact comes back to where it was; s1 says where it lies.
    there = np.concatenate(([0.0], np.cumsum((speeds.over_face[1:] + speeds.over_face[:-1]) / 2 * np.diff(turn))))
    assert there == near(2 * lobe(turn, 1), abs=1e-7)


@given(st.floats(0.5, 2.0), st.floats(-1.0, 1.0))
def test_a_cam_twice_the_size_is_twice_as_round(scale: float, theta: float) -> None:
    lobe = power_lobe(9 * MM, 62)
    s, s1, s2 = (lobe(theta, order) for order in range(3))
    small = geometry.pitch_curvature(28 * MM, s, s1, s2, 3 * MM)
    large = geometry.pitch_curvature(28 * MM * scale, s * scale, s1 * scale, s2 * scale, 3 * MM * scale)
    assert float(large) * scale == near(float(small), rel=1e-9, abs=1e-9)


def test_undercut_is_seen_on_both_sides_of_the_limit() -> None:
    lobe = Rise("3-4-5", 20 * MM, 90)
    sharpest = roller_shape(lobe, 30 * MM, 10 * MM, angles=lobe.angles).least_pitch_radius.value
    rho = np.array([sharpest, -1.0, np.inf])
    assert geometry.undercut_roller(rho, sharpest * 0.999).tolist() == [False, False, False]
    assert geometry.undercut_roller(rho, sharpest * 1.001).tolist() == [True, False, False]
    assert geometry.undercut_flat(np.array([1e-6, 0.0, -1e-6])).tolist() == [False, True, True]


def test_a_roller_beside_its_cam_is_refused() -> None:
    with pytest.raises(InputError, match="offset"):
        geometry.pressure_angle(0.03, 0.0, 0.0, 0.03)
    with pytest.raises(InputError, match="radius"):
        geometry.roller_speeds(0.03, 0.0, 0.0, 0.0, 0.0, 100.0)
