"""A lift over the turn of the cam: what every law and every smoothed table is to the rest of the physics."""

from __future__ import annotations

from typing import Protocol

from loadbench.arrays import Floats, Real


class Lift(Protocol):
    """Lift against the cam's angle from the nose."""

    def __call__(self, angle: Real, derivative: int = 0) -> Floats:
        """The lift or one of its derivatives.

        Args:
            angle: of the cam from the nose, rad, -pi to pi; below zero before the nose.
            derivative: 0 to 3.

        Returns:
            m per rad to that power, of the angle's shape.
        """
        ...
