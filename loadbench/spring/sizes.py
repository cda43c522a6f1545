"""Sizes of a spring as arrays, refused where no spring can have them."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError


def above(what: str, least: float, *values: Real) -> list[Floats]:
    """Values as arrays that are above a least value everywhere; NaN passes: unknown in, unknown out.

    Args:
        what: what they are, for the message.
        least: what each must be above.
        values: any unit, any shapes.

    Returns:
        The same values, an array each.

    Raises:
        InputError: one is at the least value or below.

    Source:
        own derivation: the range of the formulas that ask for it.
    """
    arrays = _arrays(values)
    if any((array <= least).any() for array in arrays):
        raise _too_small(what, least)
    return arrays


def _arrays(values: Iterable[Real]) -> list[Floats]:
    return [np.asarray(value, dtype=np.float64) for value in values]


def _too_small(what: str, least: float) -> InputError:
    told = f"{least:g}" if least else "zero"
    return InputError(f"{what} at {told} or below", expected=f"values above {told}")


def positive(what: str, *values: Real) -> list[Floats]:
    """Values as arrays that are above zero everywhere; unlike `above` it lets no NaN pass.

    Args:
        what: what they are, for the message.
        values: any unit, any shapes.

    Returns:
        The same values, an array each.

    Raises:
        InputError: one is zero, below, or not a number.

    Source:
        own derivation: no wire, coil or modulus is nothing or less.
    """
    arrays = _arrays(values)
    if not all((array > 0).all() for array in arrays):  # NaN is above nothing
        raise _too_small(what, 0.0)
    return arrays


def not_negative(what: str, *values: Real) -> list[Floats]:
    """Values as arrays that are zero or above everywhere.

    Args:
        what: what they are, for the message.
        values: any unit, any shapes.

    Returns:
        The same values, an array each.

    Raises:
        InputError: one is below zero or not a number.

    Source:
        own derivation: a friction or a travel may be nothing, never less.
    """
    arrays = _arrays(values)
    if not all((array >= 0).all() for array in arrays):
        raise InputError(f"{what} below zero", expected="zero or above")
    return arrays
