"""How lash and plunger depth change as the engine warms: heads and blocks outgrow pushrods, stems outgrow heads.

A change above zero opens lash.
"""

from __future__ import annotations

import functools
import tomllib
from importlib import resources
from typing import NamedTuple

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError


class Expansion(NamedTuple):
    """How a material grows: mean linear coefficient, 1/K, its source, and whether that was read or is from memory."""

    name: str
    coefficient: float
    words: tuple[str, ...]
    source: str
    seen: str


@functools.cache
def _lists() -> dict[str, tuple[Expansion, ...]]:
    text = resources.files("loadbench.follower").joinpath("expansion.toml").read_text(encoding="utf-8")
    return {
        title: tuple(
            Expansion(row["name"], row["coefficient"] * 1e-6, tuple(row.get("words", ())), row["source"], row["seen"])
            for row in rows
        )
        for title, rows in tomllib.loads(text).items()
    }


def expansions() -> tuple[Expansion, ...]:
    """Every material that is known, near room temperature, the special before the general."""
    return _lists()["material"]


def mean_to_100() -> tuple[Expansion, ...]:
    """A second list, mean from 0 to 100 degrees Celsius, to compare."""
    return _lists()["mean-to-100"]


def expansion_of(material: str | None) -> Expansion | None:
    """What is known of a material from its text.

    Args:
        material: as typed, such as "aluminium", "iron", "4130 chrome-moly steel".

    Returns:
        Its row; None where nothing is known.
    """
    plain = " ".join((material or "").lower().replace("aluminum", "aluminium").replace("gray", "grey").split())
    exact = next((row for row in expansions() if row.name == plain), None)
    return exact or next((row for row in expansions() if any(word in plain for word in row.words)), None)


def coefficient(material: str | None) -> tuple[str, float] | None:
    """Expansion of a material from its text.

    Args:
        material: as typed, such as "aluminium", "iron", "4130 chrome-moly steel".

    Returns:
        The name that was understood and its coefficient, 1/K; None where nothing is known.
    """
    row = expansion_of(material)
    return None if row is None else (row.name, row.coefficient)


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
    head: tuple[Real, Real], block: tuple[Real, Real], pushrod: tuple[Real, Real], follower: tuple[Real, Real],
    rise: Real,
) -> Floats:  # fmt: skip
    """How much lash at the pushrod opens as a pushrod engine warms through.

    Args:
        head: height from deck to rocker pivot, m, and its coefficient, 1/K, any shapes.
        block: height from the lobe to the deck, likewise.
        pushrod: length and coefficient.
        follower: length between lobe and pushrod and coefficient.
        rise: of all of them, K.

    Returns:
        m at the pushrod, of the broadcast shape; times R at the valve. Above zero it opens, below it closes.

    Raises:
        InputError: a length below zero.

    Source:
        own derivation: the stack's growth less that of what stands in it, all equally warm.
    """
    if any(np.any(np.asarray(length) < 0) for length, _ in (head, block, pushrod, follower)):
        raise InputError("a length below zero", expected="zero or more")
    opens = growth(*head, rise) + growth(*block, rise)
    return np.asarray(opens - growth(*pushrod, rise) - growth(*follower, rise))


def stem_change(stem: tuple[Real, Real], stem_rise: Real, head: tuple[Real, Real], head_rise: Real) -> Floats:
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
