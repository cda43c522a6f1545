"""Sizes of a spring as arrays, refused where no spring can have them."""

from __future__ import annotations

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError


def positive(what: str, *values: Real) -> list[Floats]:
    """Values as arrays that are above zero everywhere.

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
    arrays = [np.asarray(value, dtype=np.float64) for value in values]
    if not all((array > 0).all() for array in arrays):
        raise InputError(f"{what} at zero or below", expected="values above zero")
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
    arrays = [np.asarray(value, dtype=np.float64) for value in values]
    if not all((array >= 0).all() for array in arrays):
        raise InputError(f"{what} below zero", expected="zero or above")
    return arrays
