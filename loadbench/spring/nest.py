"""Springs that work together: a nest side by side, each member at its own height, and springs in line.

Between two members may lie a flat damper, wound to press on both; its friction opposes all travel.
"""

from __future__ import annotations

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.spring.sizes import not_negative, positive


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


# Room between the members


def diametral_gap(outer_mean: Real, outer_radial: Real, inner_mean: Real, inner_radial: Real) -> Floats:
    """Gap between two nested coils, on the diameter: half of it lies on each side.

    Args:
        outer_mean: mean diameter of the outer coil, m, above zero.
        outer_radial: size of its wire across the coil, m, above zero.
        inner_mean: mean diameter of the inner coil, m, above zero.
        inner_radial: size of its wire across the coil, m, above zero.

    Returns:
        (D1 - d1) - (D2 + d2), m, of the broadcast shape; below zero where the coils overlap.

    Raises:
        InputError: an argument is zero or below.

    Source:
        own derivation: the bore of the outer coil less the outside of the inner one.
    """
    D1, d1, D2, d2 = positive("wire or coil", outer_mean, outer_radial, inner_mean, inner_radial)
    return np.asarray((D1 - d1) - (D2 + d2))


def load_split_by_wire(load: Real, outer_wire: Real, inner_wire: Real) -> tuple[Floats, Floats]:
    """How two concentric springs of one index, material, free and bind height share a load.

    Args:
        load: on both together, N.
        outer_wire: d1, m, above zero.
        inner_wire: d2, m, above zero.

    Returns:
        Load of the outer and of the inner spring, N, of the broadcast shape: F1/F2 = (d1/d2)^2.

    Raises:
        InputError: a wire is zero or below.

    Source:
        bhandari, ch. 10, concentric springs: equal stress at equal index.
    """
    d1, d2 = positive("a wire diameter", outer_wire, inner_wire)
    outer = np.asarray(load * d1**2 / (d1**2 + d2**2))
    return outer, np.asarray(load - outer)


# A flat damper's friction: the load line opens into a band


def loading_load(elastic: Real, friction: Real) -> Floats:
    """Load to press a damped nest further down.

    Args:
        elastic: load of the springs alone, N.
        friction: of the damper against the travel, N, zero or above.

    Returns:
        Upper edge of the band, N, of the broadcast shape.

    Raises:
        InputError: the friction is below zero.

    Source:
        own derivation: dry friction of one size opposes the travel.
    """
    (f,) = not_negative("friction", friction)
    return np.asarray(elastic + f)


def unloading_load(elastic: Real, friction: Real) -> Floats:
    """Load that a damped nest still gives on its way up.

    Args:
        elastic: load of the springs alone, N.
        friction: of the damper against the travel, N, zero or above.

    Returns:
        Lower edge of the band, N, of the broadcast shape; zero where friction holds the springs down.

    Raises:
        InputError: the friction is below zero.

    Source:
        own derivation: dry friction of one size opposes the travel, and a retainer is not pulled.
    """
    (f,) = not_negative("friction", friction)
    return np.asarray(np.maximum(elastic - f, 0.0))


def energy_per_cycle(friction: Real, travel: Real) -> Floats:
    """Energy that a damper takes out of one stroke down and up.

    Args:
        friction: against the travel, N, zero or above, nowhere more than the springs' own load.
        travel: of one stroke, m, zero or above.

    Returns:
        2 f s, J: the area of the band.

    Raises:
        InputError: an argument is below zero.

    Source:
        own derivation: the area between loading and unloading.
    """
    f, s = not_negative("friction or travel", friction, travel)
    return np.asarray(2 * f * s)
