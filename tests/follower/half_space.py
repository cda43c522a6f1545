"""Stresses under a pressed ellipse, and its dip, by adding up point loads: what the closed forms are held to.

Symbols: lengths over the short half axis, stresses over the greatest pressure; k the longer half axis over the shorter.
"""

from __future__ import annotations

import numpy as np

from loadbench.arrays import Floats


def _spots(k: float, nodes: int) -> tuple[Floats, Floats, Floats]:
    """Places on a quarter of the ellipse and the load on each, four times over for the other quarters.

    The radius goes as sin t, so that the pressure, cos t, ends smoothly at the rim.
    """
    at, weight = np.polynomial.legendre.leggauss(nodes)
    quarter, share = np.pi / 4 * (at + 1), np.pi / 4 * weight
    t, around = np.meshgrid(quarter, quarter, indexing="ij")
    load = 4 * np.outer(share, share) * k * np.sin(t) * np.cos(t) ** 2
    return np.sin(t) * np.cos(around), k * np.sin(t) * np.sin(around), load


def axis_stresses(k: float, depth: float, poisson: float, nodes: int = 120) -> tuple[float, float, float]:
    """Stress along the short axis, along the long one and downwards, under the middle.

    Source: johnson-contact, sec. 3.2: Boussinesq's point load.
    """
    x, y, load = _spots(k, nodes)
    near = x**2 + y**2
    far = np.sqrt(near + depth**2)

    def sideways(along: Floats, beside: Floats) -> float:
        spread = ((1 - depth / far) * (along**2 - beside**2) / near + depth * beside**2 / far**3) / near
        return float(np.sum(load * ((1 - 2 * poisson) * spread - 3 * depth * along**2 / far**5)) / (2 * np.pi))

    down = -3 * depth**3 * float(np.sum(load / far**5)) / (2 * np.pi)
    return sideways(x, y), sideways(y, x), down


def greatest_shear(k: float, poisson: float, nodes: int = 120) -> tuple[float, float]:
    """Greatest shear stress under the middle, and its depth."""
    from scipy.optimize import minimize_scalar

    def shear(depth: float) -> float:
        stresses = axis_stresses(k, depth, poisson, nodes)
        return (max(stresses) - min(stresses)) / 2

    found = minimize_scalar(lambda depth: -shear(depth), bounds=(0.3, 1.0), method="bounded", options={"xatol": 1e-7})
    return -float(found.fun), float(found.x)


def dip(k: float, x: float, y: float, nodes: int = 60) -> float:
    """How far the surface goes down at a place within the ellipse, over p0 b/E*.

    Source: johnson-contact, sec. 3.2: the dip of a point load goes as 1/distance. Added up in rings around the place,
    where the distance cancels.
    """
    at, weight = np.polynomial.legendre.leggauss(nodes)
    half, share = np.pi / 2 * (at + 1), np.pi / 2 * weight  # half a turn: chords through the place
    c, s = np.cos(half), np.sin(half)
    # Along a chord the pressure is an ellipse again: p^2 = 1 - (x + r c)^2 - ((y + r s)/k)^2.
    a2, a1, a0 = c**2 + (s / k) ** 2, x * c + y * s / k**2, 1 - x**2 - (y / k) ** 2
    return float(np.sum(share * np.pi / 2 * (a1**2 / a2 + a0) / np.sqrt(a2)) / np.pi)
