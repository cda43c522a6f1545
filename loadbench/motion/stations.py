"""Forces at the named stations between spring and lobe, and what else than the spring presses on the valve.

tip       at the valve's tip: load + valve-side mass x acceleration of the valve
lobe      along the follower's travel: R x (load + referred mass x acceleration of the valve)
pushrod   lobe less follower mass x acceleration of the follower; with a bucket: what the bucket gives to the valve
contact   normal to the lobe's flank: lobe / cos(pressure angle)
axle      of a roller: contact less the roller's own inertia

Acceleration is positive where the flank pushes the valve open. All of it rigid and without friction. A force below
zero is one that the parts cannot give: they have parted.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError
from loadbench.motion.masses import ReferredMass
from loadbench.spring.sizes import not_negative, positive


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Stations:
    """Forces, N, all of one shape; `axle` is the same as `contact` where there is no roller."""

    tip: Floats
    pushrod: Floats
    lobe: Floats
    contact: Floats
    axle: Floats


def stations(
    load: Real,
    acceleration: Real,
    masses: ReferredMass,
    *,
    pressure_angle: Real = 0.0,
    roller_mass: Real = 0.0,
    follower_acceleration: Real | None = None,
) -> Stations:
    """Forces at every station.

    Args:
        load: all that closes the valve, N: spring and pressures.
        acceleration: of the valve, m/s2, any shape: (speeds, angles) over a cycle.
        masses: of the gear, with its ratio.
        pressure_angle: between the flank's normal and the follower's travel, rad; zero for a flat face.
        roller_mass: of a roller, kg, which is part of the follower.
        follower_acceleration: m/s2; the valve's over R unless given. A ratio that changes over the lift needs it.

    Returns:
        The forces, of the broadcast shape.

    Raises:
        InputError: a pressure angle of a right angle or more, a roller's mass below zero or above the follower's.

    Source:
        own derivation: balance of forces at each part.
    """
    S, a, phi = (np.asarray(value, dtype=np.float64) for value in (load, acceleration, pressure_angle))
    (roller,) = not_negative("a roller's mass", roller_mass)
    if np.any(np.abs(phi) >= np.pi / 2):
        raise InputError("a pressure angle of 90 degrees or more", expected="less than 90 degrees")
    if np.any(roller > masses.own_follower * (1 + 1e-9)):
        raise InputError("a roller heavier than the follower that holds it", expected="a part of the follower's mass")
    R = masses.ratio
    own = a / R if follower_acceleration is None else np.asarray(follower_acceleration, dtype=np.float64)
    tip = S + masses.valve_side * a
    pushrod = R * (tip + masses.rocker * a) + masses.own_pushrod * own
    lobe = pushrod + masses.own_follower * own
    contact = lobe / np.cos(phi)
    # The flank's push across the travel reaches the axle whole; along it the roller's inertia is taken off.
    along = lobe - roller * own
    axle = np.copysign(np.hypot(along, lobe * np.tan(phi)), along)
    forces = np.broadcast_arrays(tip, pushrod, lobe, contact, axle)
    return Stations(tip=forces[0], pushrod=forces[1], lobe=forces[2], contact=forces[3], axle=forces[4])


def cam_torque(force: Real, slope: Real) -> Floats:
    """Torque that a lobe asks of its shaft.

    Args:
        force: at the lobe along the follower's travel, N.
        slope: of the lobe's lift, m/rad.

    Returns:
        N m, of the broadcast shape; below zero where the follower drives the shaft.

    Source:
        own derivation: work of the shaft and of the follower are equal, friction left out.
    """
    return np.asarray(np.asarray(force) * slope)


# Pressures on the valve's head


def head_area(head_diameter: Real) -> Floats:
    """Area of a valve's head on which a pressure acts.

    Args:
        head_diameter: m, above zero.

    Returns:
        m2; stem and seat angle left out.

    Raises:
        InputError: a diameter at zero or below.

    Source:
        own derivation: area of a circle.
    """
    (diameter,) = positive("a head diameter", head_diameter)
    return np.asarray(np.pi / 4 * diameter**2)


def port_load(pressure: Real, head_diameter: Real) -> Floats:
    """What boost or back pressure adds to the load that closes the valve.

    Args:
        pressure: in the port over that in the cylinder, Pa.
        head_diameter: m, above zero.

    Returns:
        N, below zero for a pressure above zero. An open valve lets it equal out; kept on over the whole lift it never
        flatters.

    Raises:
        InputError: a diameter at zero or below.

    Source:
        own derivation: pressure times the head's area.
    """
    return np.asarray(-np.asarray(pressure) * head_area(head_diameter))


def gas_load(angle: Real, pressure: Real, head_diameter: Real, opening: Real, blow_down: Real) -> Floats:
    """What the gas in the cylinder adds to the load that closes an exhaust valve.

    Args:
        angle: of the cam from the nose, rad.
        pressure: in the cylinder over that in the port as the valve opens, Pa.
        head_diameter: m, above zero.
        opening: angle at which the valve opens, rad.
        blow_down: turn of the cam until the pressures are equal, rad, above zero.

    Returns:
        N, of the broadcast shape: zero before the valve opens, all of it at opening, falling in a straight line.

    Raises:
        InputError: a diameter or a blow-down at zero or below.

    Source:
        common practice: the real fall is steeper at first, so a straight line asks no less of the follower.
    """
    (turn,) = positive("a blow-down", blow_down)
    since = (np.asarray(angle, dtype=np.float64) - opening) / turn
    left = np.where(since >= 0, np.clip(1 - since, 0.0, 1.0), 0.0)
    return np.asarray(left * pressure * head_area(head_diameter))
