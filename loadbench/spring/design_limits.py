"""The limits of a design search: how far each spring breaks each, and the mean diameters where they are just kept.

For one wire under given loads every limit is kept on one side of one mean diameter: a wider coil has fewer turns, so
it is shorter at bind and surges higher, and it is stressed more. So the springs that keep all of them lie between
the largest of the lower edges and the smallest of the upper ones.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from loadbench.arrays import Floats
from loadbench.spring.design_grid import Springs, springs_of
from loadbench.spring.materials import Material
from loadbench.spring.wanted import ACTIVE_COILS_LEAST, INDEX_RANGE, Reason, Wanted

HARD = (Reason.ACTIVE_COILS,)
"""The limits that nobody can loosen; neither can a bind margin below zero."""

Truths = NDArray[np.bool_]

LOWER = (Reason.INDEX_LOW, Reason.INNER_DIAMETER, Reason.BIND_HEIGHT, Reason.BIND_MARGIN, Reason.SURGE)
"""The limits that a coil too narrow breaks; all others are broken by one too wide."""

SLACK = 1e-9
"""A limit counts as kept within this share of it."""

# Halvings of the whole range of indices: the edge is then known to 1e-13 of itself.
HALVINGS = 46


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Limit:
    """One limit over springs: what they have, what they may have, the share by which they break it (below 0: kept)."""

    reason: Reason
    value: Floats
    limit: Floats
    breach: Floats


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Edges:
    """The mean diameter at which each wire just keeps each limit, m, shape (limits, wires).

    `lower` has shape (limits, 1). A limit that a wire never keeps has its edge at infinity or at zero.
    """

    reasons: tuple[Reason, ...]
    lower: Truths
    mean_diameters: Floats

    def between(self, without: int | None = None) -> tuple[Floats, Floats]:
        """Least and most mean diameter of each wire that keep all limits, or all but one; none if least > most."""
        taken = np.ones_like(self.lower) if without is None else np.arange(len(self.reasons))[:, None] != without
        low = np.where(self.lower & taken, self.mean_diameters, 0.0).max(axis=0)
        return low, np.where(~self.lower & taken, self.mean_diameters, np.inf).min(axis=0)


def _most(reason: Reason, value: Floats, limit: float | Floats) -> Limit:
    most = np.asarray(limit, dtype=np.float64)
    return Limit(reason=reason, value=value, limit=most, breach=(value - most) / most)


def _least(reason: Reason, value: Floats, limit: float) -> Limit:
    return Limit(reason=reason, value=value, limit=np.asarray(limit), breach=(limit - value) / limit)


def limits(wanted: Wanted, springs: Springs) -> list[Limit]:
    """Every limit that is wanted, over all springs.

    Args:
        wanted: the limits.
        springs: what is judged.

    Returns:
        The limits, in a fixed order; a share of room for bind margin, which may be wanted as zero.
    """
    d, D, bind = springs.wire_diameter, springs.mean_diameter, springs.bind_height
    room = wanted.open_height - wanted.bind_margin
    margin = Limit(
        reason=Reason.BIND_MARGIN,
        value=wanted.open_height - bind,
        limit=np.asarray(wanted.bind_margin),
        breach=(bind - room) / room,
    )
    judged = [
        _least(Reason.INDEX_LOW, springs.spring_index, wanted.index_low),
        _most(Reason.INDEX_HIGH, springs.spring_index, wanted.index_high),
        _least(Reason.ACTIVE_COILS, springs.active_coils, ACTIVE_COILS_LEAST),
        margin,
        _most(
            Reason.STRESS_OPEN, springs.shear_stress_open / springs.tensile_strength, springs.stress_share_open_limit
        ),
        _most(
            Reason.STRESS_BIND, springs.shear_stress_bind / springs.tensile_strength, springs.stress_share_bind_limit
        ),
    ]
    if wanted.outer_diameter_max is not None:
        judged.append(_most(Reason.OUTER_DIAMETER, D + d, wanted.outer_diameter_max))
    if wanted.inner_diameter_min is not None:
        judged.append(_least(Reason.INNER_DIAMETER, D - d, wanted.inner_diameter_min))
    if wanted.bind_height_max is not None:
        judged.append(_most(Reason.BIND_HEIGHT, bind, wanted.bind_height_max))
    if wanted.fatigue_factor_min is not None:
        judged.append(_least(Reason.FATIGUE, springs.fatigue_factor_goodman, wanted.fatigue_factor_min))
    if wanted.surge_frequency_min is not None:
        judged.append(_least(Reason.SURGE, springs.surge_frequency, wanted.surge_frequency_min))
    return judged


def breaches(judged: list[Limit], shape: tuple[int, ...]) -> Floats:
    """The breaches of all limits side by side, shape (limits, *shape)."""
    return np.stack([np.broadcast_to(limit.breach, shape) for limit in judged])


def edges_of(wanted: Wanted, material: Material, wires: Floats) -> Edges:
    """Where each limit is just kept, for each wire, found by halving.

    Args:
        wanted: the loads and the limits.
        material: of the wire.
        wires: d, m, shape (wires,), in which the material's strength is known.

    Returns:
        The edges.
    """
    reasons = tuple(limit.reason for limit in limits(wanted, springs_of(wanted, material, wires, 5 * wires)))
    lower = np.array([reason in LOWER for reason in reasons])[:, None]
    narrow, wide = (index * wires for index in INDEX_RANGE)

    def kept(mean_diameter: Floats) -> Truths:
        judged = limits(wanted, springs_of(wanted, material, wires, mean_diameter))
        return np.stack([limit.breach[row] for row, limit in enumerate(judged)]) <= 0

    found = halved(np.where(lower, narrow, wide), np.where(lower, wide, narrow), kept)
    never = np.where(lower, np.inf, 0.0)
    return Edges(reasons=reasons, lower=lower, mean_diameters=np.where(np.isnan(found), never, found))


def least_broken(wanted: Wanted, material: Material, wires: Floats) -> Floats:
    """The mean diameter of each wire whose greatest breach is least: there both kinds of limit are broken alike.

    A coil so narrow that it binds before full net lift is not looked at, however little it breaks a limit.

    Args:
        wanted: the loads and the limits.
        material: of the wire.
        wires: d, m, shape (wires,), in which the material's strength is known.

    Returns:
        D, m, shape (wires,).
    """

    def kept(mean_diameter: Floats) -> Truths:
        springs = springs_of(wanted, material, wires, mean_diameter)
        judged = limits(wanted, springs)
        narrow = breaches([limit for limit in judged if limit.reason in LOWER], wires.shape).max(axis=0)
        wide = breaches([limit for limit in judged if limit.reason not in LOWER], wires.shape).max(axis=0)
        return np.asarray((narrow <= wide) & (springs.bind_height <= wanted.open_height))

    narrow, wide = (index * wires for index in INDEX_RANGE)
    found = halved(narrow, wide, kept)
    return np.where(np.isnan(found), wide, found)


def halved(bad: Floats, good: Floats, kept: Callable[[Floats], Truths]) -> Floats:
    """The value nearest to `bad` that is still kept, by halving the ratio between the two.

    Args:
        bad: the end where the limit is broken, if anywhere, above zero.
        good: the end where it is kept, if anywhere, of the same shape.
        kept: tells of values of that shape whether they keep their limit.

    Returns:
        The edge, of the same shape: `bad` itself where that is kept, NaN where not even `good` is.
    """
    hopeless = ~kept(good)
    edge = np.where(kept(bad), bad, good)
    for _ in range(HALVINGS):
        middle = np.sqrt(bad * edge)
        holds = kept(middle)
        edge, bad = np.where(holds, middle, edge), np.where(holds, bad, middle)
    return np.where(hopeless, np.nan, edge)
