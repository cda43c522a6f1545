"""Springs that work together: a nest side by side, each member at its own height, and springs in line."""

from __future__ import annotations

import numpy as np

from loadbench.arrays import Floats, Real


def member_height(installed_height: Real, seat_step: Real = 0.0, retainer_step: Real = 0.0) -> Floats:
    """Height of one member of a nest.

    Args:
        installed_height: H, m, of the member whose steps are zero.
        seat_step: how much higher this member's seat stands, m.
        retainer_step: how much nearer the head its retainer land is, m.

    Returns:
        The member's own height, m.

    Source:
        own derivation: both steps shorten the room between seat and retainer.
    """
    return np.asarray(installed_height - np.asarray(seat_step) - retainer_step)


def deflection_of_nest(load: Real, rates: Floats, lengths: Floats) -> Floats:
    """Deflection of the tallest of several linear springs side by side under a common load.

    Args:
        load: total load, N, high enough that every member carries some.
        rates: rate of each member, N/m, shape (members,).
        lengths: free height of each member, m, shape (members,).

    Returns:
        Deflection of the tallest member, m, of the load's shape.

    Source:
        own derivation: loads add, F = sum R_i (x - (L_max - L_i)).
    """
    gaps = np.max(lengths) - lengths
    return np.asarray((np.asarray(load) + np.sum(rates * gaps)) / np.sum(rates))


def rate_in_line(rates: Floats) -> Floats:
    """Rate of springs one on top of the other.

    Args:
        rates: rate of each, N/m, shape (springs,).

    Returns:
        Rate of the column, N/m.

    Source:
        own derivation: deflections add under one load.
    """
    return np.asarray(1 / np.sum(1 / rates))
