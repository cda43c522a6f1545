"""How lash and plunger depth change as the engine warms: heads and blocks outgrow pushrods, stems outgrow heads.

A change above zero opens lash.
"""

from __future__ import annotations

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError

EXPANSION = {
    "cast aluminium": (21.5e-6, "read"),
    "wrought aluminium": (23.6e-6, "read"),
    "grey iron": (11.4e-6, "read"),
    "ductile iron": (11.2e-6, "read"),
    "pearlitic ductile iron": (10.6e-6, "read"),
    "carbon steel": (11.7e-6, "memory"),
    "medium carbon steel": (11.3e-6, "memory"),
    "alloy steel": (12.3e-6, "memory"),
    "titanium": (8.6e-6, "read"),
}
"""Mean linear coefficient near room temperature, 1/K, and how it was seen. Source: callister."""

MEAN_TO_100 = {"carbon steel": 10.8e-6, "cast iron": 10.6e-6, "aluminium": 23.9e-6}
"""Mean from 0 to 100 degrees, 1/K: a second list. Source: shigley-contact (memory)."""

OF_WORD = {
    "aluminium": "cast aluminium",
    "iron": "grey iron",
    "steel": "carbon steel",
    "chrome-moly": "alloy steel",
    "titanium": "titanium",
}


def coefficient(material: str | None) -> tuple[str, float] | None:
    """Expansion of a material from its text.

    Args:
        material: as typed, such as "aluminium", "iron", "4130 chrome-moly steel".

    Returns:
        The name that was understood and its coefficient, 1/K; None where nothing is known.
    """
    plain = (material or "").strip().lower().replace("aluminum", "aluminium").replace("gray", "grey")
    if plain in EXPANSION:
        return plain, EXPANSION[plain][0]
    for word, name in OF_WORD.items():
        if word in plain:
            named = "alloy steel" if name == "carbon steel" and any(c in plain for c in ("41", "43", "moly")) else name
            return named, EXPANSION[named][0]
    return None


def growth(length: Real, expansion: Real, rise: Real) -> Floats:
    """How much a length grows.

    Args:
        length: m.
        expansion: coefficient, 1/K.
        rise: of temperature, K.

    Returns:
        m, of the broadcast shape.

    Source:
        callister.
    """
    return np.asarray(np.asarray(length) * expansion * np.asarray(rise))


def pushrod_change(
    head: tuple[float, float], block: tuple[float, float], pushrod: tuple[float, float], follower: tuple[float, float],
    rise: Real,
) -> Floats:  # fmt: skip
    """How much lash at the pushrod opens as a pushrod engine warms through.

    Args:
        head: height from deck to rocker pivot, m, and its coefficient, 1/K.
        block: height from the lobe to the deck, likewise.
        pushrod: length and coefficient.
        follower: length between lobe and pushrod and coefficient.
        rise: of all of them, K.

    Returns:
        m at the pushrod, of the rise's shape; times R at the valve. Below zero it closes.

    Raises:
        InputError: a length below zero.

    Source:
        own derivation: the stack's growth less that of what stands in it, all equally warm.
    """
    for length, _ in (head, block, pushrod, follower):
        if length < 0:
            raise InputError("a length below zero", expected="zero or more")
    opens = head[0] * head[1] + block[0] * block[1]
    closes = pushrod[0] * pushrod[1] + follower[0] * follower[1]
    return np.asarray((opens - closes) * np.asarray(rise))


def stem_change(stem: tuple[float, float], stem_rise: Real, head: tuple[float, float], head_rise: Real) -> Floats:
    """How much lash a valve's hot stem takes.

    Args:
        stem: length in the head, m, and its coefficient, 1/K.
        stem_rise: its mean rise of temperature, K.
        head: the same length of the head and its coefficient.
        head_rise: its rise, K.

    Returns:
        m at the valve, below zero where lash is lost.

    Source:
        own derivation: the head's growth less the stem's.
    """
    return np.asarray(growth(head[0], head[1], head_rise) - growth(stem[0], stem[1], stem_rise))


def depth_change(lash_change: Real, ratio: Real) -> Floats:
    """How a plunger's depth changes with lash at the valve.

    Args:
        lash_change: at the valve, m, above zero opens.
        ratio: R.

    Returns:
        m at the plunger; below zero it stands less deep.

    Source:
        own derivation: lash that opens by x at the valve takes x/R off the depth.
    """
    return np.asarray(-np.asarray(lash_change) / np.asarray(ratio))
