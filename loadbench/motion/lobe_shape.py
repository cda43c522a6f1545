"""The extremes of a lobe against its follower, each with the angle where it lies."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from loadbench.arrays import Floats
from loadbench.motion import geometry
from loadbench.motion.lift import Lift

SEARCHED = 14_401
"""Angles looked at in one turn, 0.025 deg apart."""


class Extreme(NamedTuple):
    """A value and the angle of the cam from the nose where it lies, rad."""

    value: float
    angle: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FlatShape:
    """A lobe under a flat face: least radius of the cam, m; farthest contact off the axis, m; undercut or not."""

    least_radius: Extreme
    farthest_contact: Extreme
    undercut: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class RollerShape:
    """A lobe under a roller: m, rad; `undercut` or not.

    `least_radius` is the sharpest bulge of the cam, `least_pitch_radius` that of the roller centre's path,
    `sharpest_hollow` the least radius of a hollow flank, None without one; `greatest_pressure_angle` has the sign of
    the side it lies on.
    """

    least_radius: Extreme
    least_pitch_radius: Extreme
    sharpest_hollow: Extreme | None
    greatest_pressure_angle: Extreme
    undercut: bool


def turn() -> Floats:
    """Angles of one turn of the cam from the nose, rad, shape (14401,)."""
    return np.linspace(-math.pi, math.pi, SEARCHED)


def flat_shape(lift: Lift, base_radius: float, angles: Floats | None = None) -> FlatShape:
    """The extremes under a flat face or a bucket.

    Args:
        lift: of the lobe.
        base_radius: m.
        angles: to look at, rad; a whole turn by default.

    Returns:
        The extremes.

    Source:
        shigley-uicker; searched along the lobe.
    """
    at = turn() if angles is None else angles
    radius = geometry.cam_radius_flat(base_radius, lift(at), lift(at, 2))
    reach = lift(at, 1)
    return FlatShape(
        least_radius=_at(radius, at, int(np.argmin(radius))),
        farthest_contact=_at(reach, at, int(np.argmax(np.abs(reach)))),
        undercut=bool(geometry.undercut_flat(radius).any()),
    )


def roller_shape(
    lift: Lift, base_radius: float, roller_radius: float, offset: float = 0.0, angles: Floats | None = None
) -> RollerShape:
    """The extremes under a roller.

    Args:
        lift: of the lobe.
        base_radius: m.
        roller_radius: m.
        offset: e, m.
        angles: to look at, rad; a whole turn by default.

    Returns:
        The extremes.

    Raises:
        InputError: an offset as large as base and roller radius together.

    Source:
        shigley-uicker; searched along the lobe.
    """
    at = turn() if angles is None else angles
    s, s1, s2 = (lift(at, order) for order in range(3))
    pitch_base = base_radius + roller_radius
    curvature = geometry.pitch_curvature(pitch_base, s, s1, s2, offset)
    pitch = geometry.pitch_radius(pitch_base, s, s1, s2, offset)
    phi = geometry.pressure_angle(pitch_base, s, s1, offset)
    bulge, dip = int(np.argmax(curvature)), int(np.argmin(curvature))
    hollow = _at(geometry.hollow_radius(pitch, roller_radius), at, dip)
    return RollerShape(
        least_radius=_at(geometry.cam_radius_roller(pitch, roller_radius), at, bulge),
        least_pitch_radius=_at(pitch, at, bulge),
        sharpest_hollow=hollow if math.isfinite(hollow.value) else None,
        greatest_pressure_angle=_at(phi, at, int(np.argmax(np.abs(phi)))),
        undercut=bool(geometry.undercut_roller(pitch, roller_radius).any()),
    )


def _at(values: Floats, angles: Floats, place: int) -> Extreme:
    return Extreme(float(values[place]), float(angles[place]))
