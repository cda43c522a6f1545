"""From turns of the adjuster or the pushrod's length to plunger depth, and from cold to hot."""

from __future__ import annotations

from typing import Literal, NamedTuple

import numpy as np

from loadbench.arrays import Floats, Indices, Real
from loadbench.errors import InputError, Place
from loadbench.spring.sizes import positive

Adjuster = Literal["pivot", "pushrod", "valve-tip"]


def depth_per_turn(pitch: Real, at: Adjuster, ratio: Real) -> Floats:
    """How far one turn of the adjuster moves the plunger.

    Args:
        pitch: of the adjuster's thread, m.
        at: where it sits: the rocker's pivot, its pushrod end, or its valve tip.
        ratio: R, valve arm over pushrod arm.

    Returns:
        Depth at the plunger, m a turn.

    Source:
        own derivation: small turns of a lever. A pivot that sinks by p with the valve tip held moves the pushrod
        end by p (1 + R)/R; a screw at the pushrod end by p; at the valve tip by p/R.
    """
    R = np.asarray(ratio, dtype=np.float64)
    factor = {"pivot": (1 + R) / R, "pushrod": np.ones_like(R), "valve-tip": 1 / R}[at]
    return np.asarray(np.asarray(pitch) * factor)


def hot_depth(cold_depth: Real, correction: Real, ratio: Real) -> Floats:
    """Plunger depth of a warm engine.

    Args:
        cold_depth: depth as set on the cold engine, m.
        correction: c, cold lash less hot lash at the valve, m; below zero where the engine outgrows its pushrods.
        ratio: R.

    Returns:
        Depth hot, m.

    Source:
        own derivation: lash that grows by -c at the valve takes -c/R off the plunger's depth.
    """
    return np.asarray(np.asarray(cold_depth) + np.asarray(correction) / ratio)


def cold_lash(hot_lash: Real, correction: Real) -> Floats:
    """Lash to set on the cold engine for a wanted hot lash.

    Args:
        hot_lash: at the valve tip, m.
        correction: c, cold lash less hot lash, m.

    Returns:
        Cold lash at the valve tip, m.

    Source:
        common practice.
    """
    return np.asarray(np.asarray(hot_lash) + correction)


def pushrod_length(old: Real, found: Real, wanted: Real, lean: Real = 0.0) -> Floats:
    """Length of the pushrod that sets a plunger to a depth where nothing can be turned.

    Args:
        old: length of the pushrod that was measured with, m, above zero.
        found: depth of the plunger with it, m.
        wanted: depth, m.
        lean: of the pushrod against the follower's bore, rad.

    Returns:
        m, of the broadcast shape.

    Raises:
        InputError: a length at zero or below, a pushrod that leans by a right angle or more.

    Source:
        own derivation: its foot goes along the bore and its cup stays, so the square of its length is the sum of those
        of (L cos(lean) + wanted - found) and of L sin(lean).
    """
    upright, aside = _leaning(old, lean)
    new = upright + np.asarray(wanted, dtype=np.float64) - found
    if np.any(new <= 0):
        what = "a depth that no pushrod gives"
        raise InputError(what, expected="a depth far less than the pushrod's length", place=Place(field="depth_found"))
    return np.asarray(np.hypot(new, aside))


def depth_with_pushrod(new: Real, old: Real, found: Real, lean: Real = 0.0) -> Floats:
    """Depth of the plunger with another pushrod.

    Args:
        new: its length, m.
        old: length of the pushrod that was measured with, m.
        found: depth with that, m.
        lean: of the old pushrod against the follower's bore, rad.

    Returns:
        m, of the broadcast shape; below zero the pushrod has play.

    Raises:
        InputError: a length at zero or below, one too short to reach, a lean of a right angle or more.

    Source:
        own derivation: `pushrod_length` the other way round.
    """
    upright, aside = _leaning(old, lean)
    (length,) = positive("a length of a pushrod", new)
    if np.any(length <= np.abs(aside)):
        raise InputError("a pushrod too short to reach", expected="about the old one's length")
    return np.asarray(np.asarray(found) + np.sqrt(length**2 - aside**2) - upright)


class PushrodChoice(NamedTuple):
    """Per valve: ideal length, the one chosen, the depth that gives, m; its place in the stock, -1 where bought."""

    ideal: Floats
    length: Floats
    depth: Floats
    place: Indices


def choose_pushrods(
    old: Floats, found: Floats, wanted: Floats, stock: Floats, *, tolerance: float, lean: Real = 0.0
) -> PushrodChoice:
    """The pushrod from stock that comes nearest to each valve's depth.

    Args:
        old: length measured with, m, shape (valves,).
        found: depth with it, m, likewise.
        wanted: depth, m, likewise.
        stock: lengths there are, m, shape (lengths,), as many of each as are wanted.
        tolerance: how far from the depth wanted a length may leave it, m; else the ideal length is to be bought.
        lean: of the old pushrods, rad.

    Returns:
        A choice a valve.

    Raises:
        InputError: as `pushrod_length`; a tolerance below zero.

    Source:
        own derivation: the least deviation in depth.
    """
    if not tolerance >= 0:
        raise InputError("a tolerance below zero", expected="zero or above", place=Place(field="tolerance"))
    ideal = pushrod_length(old, found, wanted, lean)
    lengths, depths = ideal.copy(), np.broadcast_to(np.asarray(wanted, dtype=np.float64), ideal.shape).copy()
    places = np.full(ideal.shape, -1, dtype=np.intp)
    if stock.size:
        given = depth_with_pushrod(stock[None, :], *(np.broadcast_to(each, ideal.shape)[:, None] for each in (
            np.asarray(old), np.asarray(found), np.asarray(lean))))  # fmt: skip
        nearest = np.argmin(np.abs(given - depths[:, None]), axis=1)
        depth = given[np.arange(ideal.size), nearest]
        near = np.abs(depth - depths) <= tolerance + 1e-9
        lengths[near], depths[near], places[near] = stock[nearest][near], depth[near], nearest[near]
    return PushrodChoice(ideal, lengths, depths, places)


def _leaning(old: Real, lean: Real) -> tuple[Floats, Floats]:
    """A pushrod's parts along and across the follower's bore."""
    (L,) = positive("a length of a pushrod", old)
    gamma = np.asarray(lean, dtype=np.float64)
    if not np.all(np.abs(gamma) < np.pi / 2):
        what = "a pushrod that lies across its follower"
        raise InputError(what, expected="a lean of less than 90 degrees", place=Place(field="pushrod_lean"))
    return np.asarray(L * np.cos(gamma)), np.asarray(L * np.sin(gamma))
