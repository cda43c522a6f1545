"""Flat tappets and buckets: crown against the lobe's taper, the spin that both make, room of the face, and wear load.

A crown is a sphere of radius R on the face; a lobe whose surface leans by the taper angle touches it off its axis.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError
from loadbench.spring.sizes import not_negative, positive


def contact_offset(crown_radius: Real, taper: Real) -> Floats:
    """How far from the tappet's axis a tapered lobe touches its crown.

    Args:
        crown_radius: R, m.
        taper: angle of the lobe's surface to its shaft, rad.

    Returns:
        m, of the broadcast shape.

    Raises:
        InputError: a radius at zero or below.

    Source:
        own derivation: where the sphere's normal leans by the taper, R sin(taper).
    """
    (R,) = positive("a crown radius", crown_radius)
    return np.asarray(R * np.sin(np.asarray(taper)))


def crown_drop(crown_radius: Real, radius: Real) -> Floats:
    """How far a crown falls away from its middle.

    Args:
        crown_radius: R, m.
        radius: where, from the axis, m, up to R.

    Returns:
        m, of the broadcast shape.

    Raises:
        InputError: a radius beyond the sphere.

    Source:
        own derivation: R - sqrt(R^2 - r^2).
    """
    (R,) = positive("a crown radius", crown_radius)
    (r,) = not_negative("a radius on the face", radius)
    if np.any(r > R):
        raise InputError("a face larger than the sphere of its crown", expected="a crown radius above the face's")
    return np.asarray(r**2 / (R + np.sqrt(R**2 - r**2)))  # the same without the loss of digits


def least_face(reach: Real, lobe_width: Real = 0.0, lobe_offset: Real = 0.0) -> Floats:
    """Least diameter of a flat face that keeps the whole contact line on it.

    Args:
        reach: greatest distance of the contact from the axis across the shaft, |dh/dtheta|, m a rad.
        lobe_width: along the shaft, m.
        lobe_offset: of the lobe's middle from the tappet's axis, m.

    Returns:
        m, of the broadcast shape.

    Raises:
        InputError: a size below zero.

    Source:
        norton-cam, extended by the width: own derivation.
    """
    v, w, e = not_negative("a reach, width or offset", reach, lobe_width, np.abs(np.asarray(lobe_offset)))
    return np.asarray(2 * np.hypot(v, w / 2 + e))


class Spin(NamedTuple):
    """Turns of the tappet per turn of the cam, mean over the cycle, and the offset that makes them, m."""

    ratio: float
    offset: float

    @property
    def turns(self) -> bool:
        """Whether anything turns the tappet at all."""
        return self.ratio != 0


def spin(reach: Floats, surface: Floats, load: Floats, offset: float) -> Spin:
    """How fast a tappet would turn if its contact did not slip around it.

    Args:
        reach: of the contact across the shaft, dh/dtheta, m a rad, over the turn, shape (angles,).
        surface: speed of the lobe's surface along the face at one rad/s of the cam, m, likewise.
        load: on the contact, N, likewise: what presses more turns more.
        offset: of the contact from the axis along the shaft, m.

    Returns:
        The mean spin, weighted by the load. An upper bound: the bore's friction holds a tappet back.

    Raises:
        InputError: arrays of different lengths, or no load at all.

    Source:
        own derivation: friction turns the tappet until, on the mean, its surface moves along with the lobe's at the
        contact: sum of F (v e - W (e^2 + s^2)) over the turn is zero.
    """
    if not reach.shape == surface.shape == load.shape:
        raise InputError("a turn of unequal arrays", expected="reach, speed and load at the same angles")
    if not float(np.sum(load)) > 0:
        raise InputError("a tappet that nothing presses on", expected="a load over the lobe")
    drive = float(np.sum(load * surface * offset))
    drag = float(np.sum(load * (offset**2 + reach**2)))
    return Spin(ratio=drive / drag if drag > 0 else 0.0, offset=offset)


BORE_FRICTION = 0.1
"""Of an oiled tappet in its bore. Source: common practice, from memory."""


def least_offset(body_radius: Real, friction: float = BORE_FRICTION) -> Floats:
    """Offset of the contact below which the bore's friction surely holds a tappet at rest.

    Args:
        body_radius: r of the tappet's body, m.
        friction: of the body in its bore, share.

    Returns:
        m, of the radius' shape. A tappet may need more: its tilt, too, presses it against the bore.

    Raises:
        InputError: a radius at zero or below, friction below zero.

    Source:
        own derivation: the lobe's friction T turns with T e; the bore takes T sideways and holds with at least mu T r.
    """
    (r,) = positive("a body radius", body_radius)
    (mu,) = not_negative("a friction", friction)
    return np.asarray(mu * r)


def wear_load(force: Real, sliding: Real) -> Floats:
    """Load times sliding speed: what a flat contact has to carry off as heat, but for the friction's share.

    Args:
        force: on the contact, N, or on each metre of its line, N/m.
        sliding: speed of one surface over the other, m/s.

    Returns:
        W, or W/m, of the broadcast shape.

    Source:
        common practice: a group by which flat tappets are compared, not a limit.
    """
    return np.asarray(np.asarray(force) * np.abs(np.asarray(sliding)))
