"""Loads on the follower and on the seat while nothing moves."""

from __future__ import annotations

import numpy as np

from loadbench.arrays import Floats, Real


def static_follower_load(valve_load: Real, ratio: Real) -> Floats:
    """Load on the follower along its travel, without inertia.

    Args:
        valve_load: spring load at the valve, N.
        ratio: R, valve travel over follower travel.

    Returns:
        Load at the follower, N.

    Source:
        own derivation: work at both ends of the rocker is equal, friction left out.
    """
    return np.asarray(np.asarray(valve_load) * ratio)


def effective_seat_load(seat_load: Real, pressure: Real, head_diameter: Real) -> Floats:
    """Load that holds the valve on its seat against a pressure behind its head.

    Args:
        seat_load: spring load at the installed height, N.
        pressure: pressure in the port over that in the cylinder, Pa.
        head_diameter: of the valve head, m.

    Returns:
        What is left of the seat load, N; below zero the pressure opens the valve.

    Source:
        own derivation: pressure times the head's area, stem and seat angle left out.
    """
    area = np.pi / 4 * np.square(np.asarray(head_diameter, dtype=np.float64))
    return np.asarray(np.asarray(seat_load) - np.asarray(pressure) * area)
