"""Cam and follower in space: curvature, face, pressure angle, undercut, hollow flanks and the speeds at the contact.

Symbols: s, s1, s2 lift and its derivatives per rad of the cam; Rb base radius, Rr roller radius, Rp = Rb + Rr; e offset
of the follower's line from the cam's axis, above zero towards the side on which the cam's surface comes up to the
follower, which takes from the pressure angle of the rise; w cam speed. Translating followers; a bucket is a flat face.
A radius of curvature is positive where the cam bulges and negative where its flank is hollow.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError, Place

Flags = NDArray[np.bool_]


# Flat face and bucket


def cam_radius_flat(base_radius: Real, lift: Real, second: Real) -> Floats:
    """Radius of curvature of the cam under a flat face.

    Args:
        base_radius: Rb, m.
        lift: s, m.
        second: s2, m/rad2.

    Returns:
        Radius, m, of the broadcast shape; zero or less where the cam is undercut.

    Source:
        shigley-uicker: rho = Rb + s + s2.
    """
    return np.asarray(np.asarray(base_radius) + lift + second)


def least_base_radius(lift: Floats, second: Floats, least_radius: float = 0.0) -> float:
    """Smallest base circle on which a flat face keeps the cam's curvature.

    Args:
        lift: s, m, along the cam.
        second: s2, m/rad2, likewise.
        least_radius: that the cam must have everywhere, m.

    Returns:
        Base radius, m; zero or less where any will do.

    Source:
        shigley-uicker.
    """
    return least_radius - float(np.min(np.asarray(lift) + second))


def face_width_needed(first: Floats, contact_width: float = 0.0) -> float:
    """Smallest face, or tappet diameter, that keeps the contact on a flat follower centred on the cam's axis.

    Args:
        first: s1, m/rad, along the cam: it is where the contact lies off the axis.
        contact_width: room beside the contact line on both sides together, m.

    Returns:
        Face in all, m: twice the farther reach, since a tappet turns.

    Source:
        shigley-uicker.
    """
    return 2 * float(np.max(np.abs(first))) + contact_width


class FlatSpeeds(NamedTuple):
    """At a flat face, m/s: sliding of the cam along it, and the contact's own travel over the cam and over the face."""

    sliding: Floats
    over_cam: Floats
    over_face: Floats


def flat_speeds(base_radius: Real, lift: Real, second: Real, cam_speed: Real) -> FlatSpeeds:
    """Speeds at the contact of a flat face that does not turn.

    Args:
        base_radius: Rb, m.
        lift: s, m.
        second: s2, m/rad2.
        cam_speed: w, rad/s.

    Returns:
        The speeds, of the broadcast shape. What draws oil in is half the sum of the two travels.

    Source:
        own derivation: the cam's surface moves across the follower's line at w (Rb + s), the contact over the face
        at w s2 and over the cam at w rho, the sum of both.
    """
    across = np.asarray(cam_speed * (np.asarray(base_radius) + lift))
    face = np.asarray(np.asarray(cam_speed) * second)
    return FlatSpeeds(across, across + face, face)


# Roller


def _height(pitch_base: Real, lift: Real, offset: Real) -> Floats:
    """Roller centre over the cam's axis along the follower's line."""
    Rp, e = np.asarray(pitch_base, dtype=np.float64), np.asarray(offset, dtype=np.float64)
    if np.any(Rp <= 0) or np.any(np.abs(e) >= Rp):
        raise InputError("a roller beside its base circle", expected="an offset smaller than base plus roller radius")
    return np.asarray(np.sqrt(Rp**2 - e**2) + lift)


def pitch_curvature(pitch_base: Real, lift: Real, first: Real, second: Real, offset: Real = 0.0) -> Floats:
    """Curvature of the roller centre's path around the cam.

    Args:
        pitch_base: Rp, m.
        lift: s, m.
        first: s1, m/rad.
        second: s2, m/rad2.
        offset: e, m.

    Returns:
        1/m, of the broadcast shape; zero where the path is straight, below zero where it is hollow.

    Raises:
        InputError: an offset as large as Rp.

    Source:
        shigley-uicker: (R^2 + 2 s1^2 - R s2)/(R^2 + s1^2)^1.5 with R = Rp + s; own derivation for the offset.
    """
    X = _height(pitch_base, lift, offset)
    s1, e = np.asarray(first), np.asarray(offset)
    return np.asarray(((s1 - e) * (2 * s1 - e) + X * (X - second)) / ((s1 - e) ** 2 + X**2) ** 1.5)


def pitch_radius(pitch_base: Real, lift: Real, first: Real, second: Real, offset: Real = 0.0) -> Floats:
    """Radius of curvature of the roller centre's path around the cam.

    Args:
        pitch_base: Rp, m.
        lift: s, m.
        first: s1, m/rad.
        second: s2, m/rad2.
        offset: e, m.

    Returns:
        m, of the broadcast shape; infinite where the path is straight, below zero where it is hollow.

    Raises:
        InputError: an offset as large as Rp.

    Source:
        shigley-uicker: the inverse of pitch_curvature().
    """
    curvature = pitch_curvature(pitch_base, lift, first, second, offset)
    straight = curvature == 0
    return np.asarray(np.where(straight, np.inf, 1 / np.where(straight, 1.0, curvature)))


def cam_radius_roller(pitch_radius: Real, roller_radius: Real) -> Floats:
    """Radius of curvature of the cam under a roller.

    Args:
        pitch_radius: of the roller centre's path, m, with its sign.
        roller_radius: Rr, m.

    Returns:
        m, of the broadcast shape; below zero a hollow of that radius. Meaningless where undercut_roller() is true.

    Source:
        shigley-uicker: rho - Rr; in a hollow the two radii add up.
    """
    return np.asarray(np.asarray(pitch_radius) - roller_radius)


def hollow_radius(pitch_radius: Real, roller_radius: Real) -> Floats:
    """Radius of a hollow flank, which the roller and the grinding wheel must be smaller than.

    Args:
        pitch_radius: of the roller centre's path, m, with its sign.
        roller_radius: Rr, m.

    Returns:
        m, of the broadcast shape; infinite where the flank is not hollow.

    Source:
        own derivation: |rho| + Rr where rho is below zero.
    """
    rho = np.asarray(pitch_radius)
    return np.asarray(np.where(rho < 0, np.asarray(roller_radius) - rho, np.inf))


def pressure_angle(pitch_base: Real, lift: Real, first: Real, offset: Real = 0.0) -> Floats:
    """Angle between the follower's line and the force of the cam on the roller.

    Args:
        pitch_base: Rp, m.
        lift: s, m.
        first: s1, m/rad.
        offset: e, m.

    Returns:
        rad, of the broadcast shape, positive while the cam lifts and there is no offset.

    Raises:
        InputError: an offset as large as Rp.

    Source:
        shigley-uicker: tan phi = (s1 - e)/(s + sqrt(Rp^2 - e^2)).
    """
    return np.asarray(np.arctan((np.asarray(first) - offset) / _height(pitch_base, lift, offset)))


class RollerSpeeds(NamedTuple):
    """At a roller that does not slide: its spin, rad/s; its surface and the contact's travel over the cam, m/s."""

    spin: Floats
    surface: Floats
    over_cam: Floats


def roller_speeds(
    pitch_base: Real, lift: Real, first: Real, second: Real, roller_radius: Real, cam_speed: Real, offset: Real = 0.0
) -> RollerSpeeds:
    """Speeds of a rolling follower on a translating carrier.

    Args:
        pitch_base: Rp, m.
        lift: s, m.
        first: s1, m/rad.
        second: s2, m/rad2.
        roller_radius: Rr, m.
        cam_speed: w, rad/s.
        offset: e, m.

    Returns:
        The speeds, of the broadcast shape.

    Raises:
        InputError: a roller of no size or an offset as large as Rp.

    Source:
        own derivation: seen from the cam the roller's centre moves at v = w sqrt((s1 - e)^2 + X^2) around a roller at
        rest at the contact, so it turns at v/Rr there, and at v/Rr - w seen from its carrier.
    """
    Rr, w = np.asarray(roller_radius, dtype=np.float64), np.asarray(cam_speed, dtype=np.float64)
    if np.any(Rr <= 0):
        raise InputError("a roller of no size", expected="a radius above zero", place=Place(field="roller_radius"))
    X = _height(pitch_base, lift, offset)
    centre = w * np.hypot(np.asarray(first) - offset, X)
    spin = centre / Rr - w
    over = centre * (1 - Rr * pitch_curvature(pitch_base, lift, first, second, offset))
    return RollerSpeeds(np.asarray(spin), np.asarray(spin * Rr), np.asarray(over))


# What cannot be made


def undercut_flat(cam_radius: Real) -> Flags:
    """Where a flat face would cut away the lobe it should run on.

    Args:
        cam_radius: m, of cam_radius_flat().

    Returns:
        True there, of the same shape.

    Source:
        shigley-uicker.
    """
    return np.asarray(np.asarray(cam_radius) <= 0)


def undercut_roller(pitch_radius: Real, roller_radius: Real) -> Flags:
    """Where a roller would cut away the lobe it should run on.

    Args:
        pitch_radius: of the roller centre's path, m, with its sign.
        roller_radius: Rr, m.

    Returns:
        True there, of the broadcast shape: where the path bulges more sharply than the roller.

    Source:
        shigley-uicker.
    """
    rho = np.asarray(pitch_radius)
    return np.asarray((rho > 0) & (rho <= roller_radius))


def too_hollow(pitch_radius: Real, roller_radius: Real, tool_radius: Real) -> Flags:
    """Where a flank is too hollow for the roller, or for the wheel that should grind it.

    Args:
        pitch_radius: of the roller centre's path, m, with its sign.
        roller_radius: Rr, m.
        tool_radius: of the grinding wheel, m.

    Returns:
        True there, of the broadcast shape.

    Source:
        own derivation: the tool must be smaller than hollow_radius().
    """
    return np.asarray(hollow_radius(pitch_radius, roller_radius) <= np.asarray(tool_radius))
