"""The valve gear as the dynamics see it: one mass at the valve between linkage and seat, and the spring's own waves."""

from __future__ import annotations

import math
from dataclasses import dataclass, fields

import numpy as np

from loadbench.arrays import Floats
from loadbench.errors import InputError, Place

MODES = 6
"""How many modes of the spring are taken where nothing else is asked."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Gear:
    """A valve with its linkage, seat and spring, all as felt at the valve; m, N, kg, s.

    With `surging_mass` (of the spring's active coils) the spring swings in `modes` modes, each damped by the share
    `modal_damping` of its critical damping, and `mass` is without the spring's share. Without it the spring is a rate
    alone, and `mass` holds all of the referred mass.
    """

    mass: float
    stiffness: float
    damping: float
    preload: float
    spring_rate: float
    seat_stiffness: float
    seat_damping: float
    surging_mass: float = 0.0
    modes: int = MODES
    modal_damping: float = 0.02

    def __post_init__(self) -> None:
        free = ("damping", "seat_damping", "surging_mass", "modes", "modal_damping", "preload")
        for each in fields(self):
            value = getattr(self, each.name)
            if not math.isfinite(value) or value < 0 or (value == 0 and each.name not in free):
                what = f"{each.name.replace('_', ' ')} is {value:g}"
                least = "zero or more" if each.name in free else "more than zero"
                raise InputError(what, expected=least, place=Place(field=each.name))

    @property
    def surging(self) -> bool:
        """Whether the spring's own waves are taken."""
        return self.surging_mass > 0 and self.modes > 0

    @property
    def referred_mass(self) -> float:
        """All that moves with the valve when it moves slowly, kg: a third of the spring is in it."""
        return self.mass + self.surging_mass / 3

    @property
    def first_mode(self) -> float:
        """First surge mode, Hz; infinite where the spring is a rate alone."""
        return 0.5 * math.sqrt(self.spring_rate / self.surging_mass) if self.surging else math.inf

    @property
    def numbers(self) -> Floats:
        """1, 2, ... of the modes, shape (modes,)."""
        return np.arange(1.0, (self.modes if self.surging else 0) + 1)

    @property
    def shares(self) -> Floats:
        """c_n: how much of each mode a movement of the end sets going, shape (modes,)."""
        number = self.numbers
        return np.asarray(np.where(number % 2 == 1, 1.0, -1.0) / (np.pi * number))

    @property
    def mode_speeds(self) -> Floats:
        """w_n, rad/s, shape (modes,)."""
        return np.asarray(2 * np.pi * self.first_mode * self.numbers if self.surging else self.numbers)

    @property
    def end_loads(self) -> Floats:
        """Load at the moving end for each metre of each mode's amplitude, N/m, shape (modes,)."""
        return np.asarray(-self.spring_rate * np.pi**2 * self.numbers**2 * self.shares)

    @property
    def moved_mass(self) -> float:
        """What the net force on the valve accelerates at once, kg: the coils' share goes into their modes."""
        return self.referred_mass - 2 * self.surging_mass * float((self.shares**2).sum())
