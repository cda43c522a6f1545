"""From turns of the adjuster to plunger depth, and from cold to hot."""

from __future__ import annotations

from typing import Literal

import numpy as np

from loadbench.arrays import Floats, Real

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
