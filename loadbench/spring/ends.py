"""Ends of a compression spring: what they take from the turns and add to the lengths.

Symbols: b axial size of the wire (its diameter where it is round), n active and nt total coils, p pitch of the active
coils, L0 free and Lc bind height.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError
from loadbench.spring.sizes import positive


class Ends(StrEnum):
    """How both ends of a spring are made."""

    PLAIN = "plain"
    PLAIN_GROUND = "plain and ground"
    CLOSED = "closed"
    CLOSED_GROUND = "closed and ground"


@dataclass(frozen=True, slots=True, kw_only=True)
class _End:
    """nt = n + dead; Lc = b (nt + stacked); L0 = p (n + pitched) + b wires."""

    dead: float
    stacked: float
    pitched: float
    wires: float


_ENDS = {
    Ends.PLAIN: _End(dead=0, stacked=1, pitched=0, wires=1),
    Ends.PLAIN_GROUND: _End(dead=1, stacked=0, pitched=1, wires=0),
    Ends.CLOSED: _End(dead=2, stacked=1, pitched=0, wires=3),
    Ends.CLOSED_GROUND: _End(dead=2, stacked=0, pitched=0, wires=2),
}

_CLOSED = {"closed", "close", "squared", "square", "sq", "sqd"}
_PLAIN = {"plain", "open"}
_GROUND = {"ground", "grd", "gnd"}
_UNGROUND = {"unground"}
_NOT = {"not", "un", "non", "no"}
_FILLING = {"and", "but", "both", "end", "ends", "ended", "coil", "coils", "flat"}


def ends_of(text: str | None) -> Ends | None:
    """The ends that a person typed; None where the text does not say them beyond doubt.

    Squared means closed and open means plain; "ground" alone is not enough. Case, order and hyphens do not matter.
    """
    words = re.findall(
        r"[a-z]+|\d+", re.sub(r"\b(not|un|non|no)\W*(ground|grd|gnd)\b", "unground", (text or "").lower())
    )
    told = set(words) - _FILLING
    closed, plain = bool(told & _CLOSED), bool(told & _PLAIN)
    ground, unground = bool(told & _GROUND), bool(told & _UNGROUND)
    if told - _CLOSED - _PLAIN - _GROUND - _UNGROUND or closed == plain or (ground and unground):
        return None
    if closed:
        return Ends.CLOSED_GROUND if ground else Ends.CLOSED
    return Ends.PLAIN_GROUND if ground else Ends.PLAIN


def dead_coils(ends: Ends) -> float:
    """Coils that carry load but do not work, both ends together."""
    return _ENDS[ends].dead


def total_coils(ends: Ends, active: Real) -> Floats:
    """Total coils of a spring.

    Args:
        ends: how both ends are made.
        active: n, above zero; any shape.

    Returns:
        nt, of the same shape.

    Raises:
        InputError: the active coils are zero or below.

    Source:
        shigley, Table 10-1.
    """
    (n,) = positive("active coils", active)
    return np.asarray(n + _ENDS[ends].dead)


def active_coils_of_total(ends: Ends, total: Real) -> Floats:
    """Active coils of a spring of which the total was counted.

    Args:
        ends: how both ends are made.
        total: nt, above the coils that the ends take; any shape.

    Returns:
        n, of the same shape.

    Raises:
        InputError: no active coil is left.

    Source:
        shigley, Table 10-1.
    """
    active = np.asarray(np.asarray(total, dtype=np.float64) - _ENDS[ends].dead)
    if np.any(~(active > 0)):
        raise InputError("no active coil is left", expected=f"more than {_ENDS[ends].dead:g} total coils: ends {ends}")
    return active


def bind_height(ends: Ends, axial: Real, total: Real) -> Floats:
    """Height of a cylindrical spring when all its coils touch.

    Args:
        ends: how both ends are made.
        axial: b, size of the wire along the spring's axis, m, above zero.
        total: nt, above zero; broadcasts with `axial`.

    Returns:
        Lc, m, of the broadcast shape.

    Raises:
        InputError: an argument is zero or below.

    Source:
        shigley, Table 10-1.
    """
    b, nt = positive("wire or turns", axial, total)
    return np.asarray(b * (nt + _ENDS[ends].stacked))


def free_height(ends: Ends, axial: Real, active: Real, pitch: Real) -> Floats:
    """Free height of a spring of even pitch.

    Args:
        ends: how both ends are made.
        axial: b, size of the wire along the spring's axis, m, above zero.
        active: n, above zero.
        pitch: p, from coil to coil, m, above zero; all broadcast.

    Returns:
        L0, m, of the broadcast shape.

    Raises:
        InputError: an argument is zero or below.

    Source:
        shigley, Table 10-1.
    """
    b, n, p = positive("wire, turns or pitch", axial, active, pitch)
    return np.asarray(p * (n + _ENDS[ends].pitched) + b * _ENDS[ends].wires)


def pitch(ends: Ends, axial: Real, active: Real, free_height: Real) -> Floats:
    """Pitch of the active coils, from the free height.

    Args:
        ends: how both ends are made.
        axial: b, size of the wire along the spring's axis, m, above zero.
        active: n, above zero.
        free_height: L0, m, above zero; all broadcast.

    Returns:
        p, m, from the middle of one coil to that of the next; below the wire's size where the height cannot be.

    Raises:
        InputError: an argument is zero or below.

    Source:
        shigley, Table 10-1, solved for the pitch.
    """
    b, n, L0 = positive("wire, turns or free height", axial, active, free_height)
    return np.asarray((L0 - b * _ENDS[ends].wires) / (n + _ENDS[ends].pitched))


def mean_pitch_over_all(free_height: Real, total: Real) -> Floats:
    """Free height shared among all turns: one book's pitch, which is not that of the active coils.

    Args:
        free_height: L0, m, above zero.
        total: nt, above 1; broadcasts.

    Returns:
        L0/(nt - 1), m. Use `pitch` for what lies between two active coils.

    Raises:
        InputError: the free height is zero or below, or there is one coil or less.

    Source:
        bhandari, ch. 10.
    """
    L0, gaps = positive("free height or turns less one", free_height, np.asarray(total) - 1.0)
    return np.asarray(L0 / gaps)
