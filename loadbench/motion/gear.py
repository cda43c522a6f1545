"""The valve gear as the dynamics see it: the mass at the valve between linkage and seat, and the spring's own waves.

The follower may be a mass of its own between lobe and linkage, with oil in it; see `three_contacts.py`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, fields, replace

import numpy as np

from loadbench.arrays import Floats
from loadbench.errors import InputError, Place
from loadbench.motion.waves import MODES, SpringWaves, uniform_shape

OF_FOLLOWER = ("lobe_stiffness", "lobe_damping", "hold", "friction", "oil_stiffness", "leak", "refill", "travel")

POSITIVE = ("mass", "stiffness", "spring_rate", "seat_stiffness")


@dataclass(frozen=True, slots=True, kw_only=True)
class Gear:
    """A valve with its linkage, seat and spring, all as felt at the valve; m, N, kg, s.

    With `surging_mass` (of the spring's active coils) the spring swings in `modes` modes, each damped by the share
    `modal_damping` of its critical damping, and `mass` is without the spring's share. Without it the spring is a rate
    alone, and `mass` holds all of the referred mass. `waves` stand in its place where a set has more springs than one,
    or one that is not alike along its wire: each swings by itself, and `spring_rate` is that of all together.

    With `follower_mass` the follower (and what moves with it) is a mass of its own between the lobe, with stiffness and
    damping, and the linkage; `mass` is then without it. `hold` presses it on the lobe. Only with it count `friction` of
    a damper in the spring, N each way, and the oil of a hydraulic follower: `oil_stiffness` in series with the linkage
    (None: solid), `leak` by which its plunger sinks, m/s for each N on it, `refill` at which it takes up slack, m/s,
    and its `travel` with the `depth` below its stop at which it is set, m.
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
    waves: tuple[SpringWaves, ...] = ()
    follower_mass: float = 0.0
    lobe_stiffness: float = 0.0
    lobe_damping: float = 0.0
    hold: float = 0.0
    friction: float = 0.0
    oil_stiffness: float | None = None
    leak: float = 0.0
    refill: float = 0.0
    travel: float = 0.0
    depth: float = 0.0

    def __post_init__(self) -> None:
        for each in fields(self):
            value = getattr(self, each.name)
            if value is None or isinstance(value, tuple):
                continue
            if not math.isfinite(value) or value < 0 or (value == 0 and each.name in POSITIVE):
                what = f"{each.name.replace('_', ' ')} is {value:g}"
                least = "zero or more" if each.name not in POSITIVE else "more than zero"
                raise InputError(what, expected=least, place=Place(field=each.name))
        if self.waves and self.surging_mass:
            what, place = "a surging mass beside springs that swing each by itself", Place(field="surging_mass")
            raise InputError(what, expected="the one or the other", place=place)
        self._check_follower()

    def _check_follower(self) -> None:
        for name in () if self.own_follower else (each for each in OF_FOLLOWER if getattr(self, each)):
            what = f"{name.replace('_', ' ')} without a follower of its own mass"
            raise InputError(what, expected="a follower mass", place=Place(field=name))
        if self.own_follower and not self.lobe_stiffness > 0:
            what, place = "a follower with no stiffness at the lobe", Place(field="lobe_stiffness")
            raise InputError(what, expected="more than zero", place=place)
        if self.oil_stiffness == 0:
            raise InputError("oil stiffness is 0", expected="more than zero", place=Place(field="oil_stiffness"))
        if self.depth > self.travel:
            what = "a plunger set deeper than its travel"
            raise InputError(what, expected="0 up to the travel", place=Place(field="depth"))

    @property
    def own_follower(self) -> bool:
        """Whether the follower is a mass of its own."""
        return self.follower_mass > 0

    @property
    def springs(self) -> tuple[SpringWaves, ...]:
        """The springs whose own waves are taken."""
        if self.waves or not (self.surging_mass > 0 and self.modes > 0):
            return self.waves
        return (SpringWaves(shape=uniform_shape(self.modes), mass=self.surging_mass),)

    @property
    def surging(self) -> bool:
        """Whether the springs' own waves are taken."""
        return bool(self.springs)

    @property
    def referred_mass(self) -> float:
        """All that moves with the valve when it moves slowly, kg: a third of the spring is in it."""
        return self.valve_mass + self.follower_mass

    @property
    def valve_mass(self) -> float:
        """What of that is on the valve's side of the linkage, kg."""
        carried = sum(each.mass * each.shape.carried for each in self.springs)
        # without modes its third moves with the valve all the same
        return self.mass + (carried if self.springs else self.surging_mass / 3)

    @property
    def linkage(self) -> tuple[float, float]:
        """Stiffness, N/m, and damping, N s/m, between follower and valve: the oil is in series with the linkage.

        The damping is that of slow movement, C w far below K + K_o: no gear rings faster.
        """
        if self.oil_stiffness is None:
            return self.stiffness, self.damping
        share = self.oil_stiffness / (self.stiffness + self.oil_stiffness)
        return self.stiffness * share, self.damping * share**2

    @property
    def first_mode(self) -> float:
        """The lowest surge mode, Hz; infinite where the spring is a rate alone."""
        return float(self.mode_speeds.min()) / (2 * math.pi) if self.surging else math.inf

    @property
    def mode_count(self) -> int:
        """How many modes all springs have together."""
        return sum(len(each.shape.numbers) for each in self.springs)

    @property
    def shares(self) -> Floats:
        """c_n: how much of each mode a movement of the end sets going, spring by spring, shape (modes,)."""
        return _joined([np.asarray(each.shape.shares) for each in self.springs])

    @property
    def mode_speeds(self) -> Floats:
        """w_n, rad/s, shape (modes,)."""
        return _joined([each.speeds(self.spring_rate) for each in self.springs])

    @property
    def mode_pushes(self) -> Floats:
        """Mass by which each mode's acceleration pushes the valve, kg, shape (modes,)."""
        return _joined([each.mass * np.asarray(each.shape.shares) for each in self.springs])

    @property
    def end_loads(self) -> Floats:
        """Load at the moving end for each metre of each mode's amplitude, N/m, shape (modes,)."""
        return np.asarray(-(self.mode_speeds**2) * self.mode_pushes)

    @property
    def moved_mass(self) -> float:
        """What the net force on the valve accelerates at once, kg: the coils' share goes into their modes."""
        return self.valve_mass - 2 * float(self.shares @ self.mode_pushes)

    def as_rate(self) -> Gear:
        """The same gear with its springs as a rate alone."""
        return replace(self, mass=self.valve_mass, surging_mass=0.0, waves=())

    def with_spring_mass(self, factor: float) -> Gear:
        """The same gear with all that swings of its springs so many times as heavy."""
        waves = tuple(replace(each, mass=each.mass * factor) for each in self.waves)
        return replace(self, surging_mass=self.surging_mass * factor, waves=waves)


def _joined(arrays: list[Floats]) -> Floats:
    return np.concatenate(arrays) if arrays else np.zeros(0)
