"""The modes of each spring of a set, one end held and the other moved by the valve.

g(s)    how far a place of the spring moves for each metre of its moving end, slowly
phi_n   how it moves in mode n, both ends held
c_n     share of the mode that a movement of the end sets going; phi is scaled so that the sum of m phi^2 is half the
        spring's mass M, and then c_n = (sum of m g phi_n) / M stands for both what drives and what pushes back:
            q_n'' + 2 z w_n q_n' + w_n^2 q_n = -2 c_n x'',   push on the valve: -M c_n q_n''
carried sum of m g^2 over M: what moves with the valve while it moves slowly, a third of a spring alike along its wire
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

import numpy as np

from loadbench.arrays import Floats, Indices
from loadbench.errors import InputError
from loadbench.spring.surge_chain import chain_modes

MODES = 6
"""How many modes of a spring are taken where nothing else is asked."""

UNIFORM_CARRIED = 1 / 3


@dataclass(frozen=True, slots=True, kw_only=True)
class WaveShape:
    """How a spring swings, whatever its mass and rate.

    `numbers` are the modes' frequencies over half the root of rate over mass: 1, 2, ... of a spring that is alike along
    its wire. `shares` are the c_n, `carried` is the share of its mass that moves with its end.
    """

    numbers: tuple[float, ...]
    shares: tuple[float, ...]
    carried: float = UNIFORM_CARRIED


@dataclass(frozen=True, slots=True, kw_only=True)
class SpringWaves:
    """One spring of the set: its shape, the share of the set's rate that is its own, and its swinging mass, kg."""

    shape: WaveShape
    mass: float
    rate_share: float = 1.0
    name: str = ""

    def __post_init__(self) -> None:
        if not (math.isfinite(self.mass) and self.mass > 0):
            raise InputError(f"a swinging mass of {self.mass:g} kg", expected="more than zero")
        if not (math.isfinite(self.rate_share) and self.rate_share > 0):
            raise InputError(f"a share of the rate of {self.rate_share:g}", expected="more than zero")

    def speeds(self, rate: float) -> Floats:
        """The modes in a set of a rate.

        Args:
            rate: of the whole set, N/m.

        Returns:
            w_n, rad/s, shape (modes,).

        Source:
            shigley eq. 10-25, for each mode.
        """
        first = math.pi * math.sqrt(self.rate_share * rate / self.mass)
        return np.asarray(first * np.asarray(self.shape.numbers))


@cache
def uniform_shape(modes: int = MODES) -> WaveShape:
    """A spring that is alike along its wire.

    Args:
        modes: how many.

    Returns:
        c_n = (-1)^(n+1)/(n pi), whole numbers.

    Source:
        own derivation: phi_n = sin(n pi s), g = s.
    """
    number = np.arange(1, modes + 1)
    shares = np.where(number % 2 == 1, 1.0, -1.0) / (np.pi * number)
    return WaveShape(numbers=tuple(number.astype(float).tolist()), shares=tuple(shares.tolist()))


def chain_shape(
    compliances: Floats, masses: Floats, free: Indices | None = None, modes: int = MODES
) -> WaveShape | None:
    """A spring cut into a chain of elements, such as a cone or a beehive, with those that have landed rigid.

    Args:
        compliances: m/N, shape (elements,), seat to retainer.
        masses: kg, likewise.
        free: places of the free elements, all by default.
        modes: how many.

    Returns:
        The shape, its numbers against the rate of what is free and the mass of all; None where too few are free.

    Source:
        own derivation: chain_modes(); the elements above the last free one move with the retainer.
    """
    open_ = np.arange(compliances.size) if free is None else free
    frequencies, shapes = chain_modes(compliances, masses, modes, open_)
    if not np.all(np.isfinite(frequencies)):
        return None
    give = np.zeros(compliances.size)
    give[open_] = compliances[open_]
    moved = np.concatenate(([0.0], np.cumsum(give))) / give.sum()
    at = np.zeros(compliances.size + 1)
    at[:-1] += masses / 2
    at[1:] += masses / 2
    whole = float(masses.sum())
    # a rigid element halves its mass between two bounds that move alike
    scale = np.sqrt(2 * (shapes**2 @ at) / whole)
    shares = (shapes / scale[:, None]) @ (at * moved) / whole
    unit = 0.5 / math.sqrt(float(give.sum()) * whole)
    carried = float(at @ moved**2) / whole
    return WaveShape(
        numbers=tuple((frequencies / unit).tolist()), shares=tuple(shares.tolist()), carried=carried
    )  # fmt: skip
