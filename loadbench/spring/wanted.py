"""What a spring is wanted to do, and what the design search answers: plain data.

SI throughout: m, N, Pa, Hz, kg. Stresses are corrected by Wahl, fatigue factors use Bergstraesser on both the
amplitude and the mean.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from loadbench.errors import Place, Problem
from loadbench.spring.ends import Ends

INDEX_RANGE = (2.0, 30.0)
"""The spring indices that are looked at; what lies outside is no spring that can be wound."""

ACTIVE_COILS_LEAST = 2.0
"""Fewest active coils, from the scope of EN 13906-1."""


class Reason(StrEnum):
    """A limit that turns a spring away; its value is the key by which it is told."""

    WIRE_RANGE = "wire-range"
    """The wire is outside the table of its strength: nothing can be judged."""
    FATIGUE_DATA = "fatigue-data"
    """A fatigue factor is wanted and the published data do not hold for this wire."""
    ACTIVE_COILS = "active-coils"
    INDEX_LOW = "index-low"
    INDEX_HIGH = "index-high"
    OUTER_DIAMETER = "outer-diameter"
    INNER_DIAMETER = "inner-diameter"
    BIND_HEIGHT = "bind-height"
    BIND_MARGIN = "bind-margin"
    STRESS_OPEN = "stress-open"
    STRESS_BIND = "stress-bind"
    FATIGUE = "fatigue"
    SURGE = "surge"


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """What the spring has to do and the limits it has to keep; a limit of None is none, unless said otherwise.

    `travel` is the net lift; `bind_margin` is wanted between the open height and bind. `stress_share_*_max` are shares
    of the tensile strength for the stress corrected by Wahl; None takes the material's published static share: not
    preset, against the stress corrected by Wahl; preset, the low end of its band against the stress with direct shear
    alone.
    """

    installed_height: float
    seat_load: float
    open_load: float
    travel: float
    bind_height_max: float | None = None
    bind_margin: float = 0.0
    outer_diameter_max: float | None = None
    inner_diameter_min: float | None = None
    index_low: float = 4.0
    index_high: float = 12.0
    stress_share_open_max: float | None = None
    stress_share_bind_max: float | None = None
    surge_frequency_min: float | None = None
    fatigue_factor_min: float | None = None
    preset: bool = False
    peened: bool = False
    ends: Ends = Ends.CLOSED_GROUND

    @property
    def rate(self) -> float:
        """The rate that the two loads and the travel ask for, N/m."""
        return (self.open_load - self.seat_load) / self.travel

    @property
    def open_height(self) -> float:
        """Height at full net lift, m."""
        return self.installed_height - self.travel

    @property
    def faults(self) -> tuple[Problem, ...]:
        """Everything in which the wants are no wants or contradict themselves, each at its field; empty where sound."""
        return tuple(
            Problem(what=what, expected=expected, place=Place(field=field))
            for field, broken, what, expected in _faults(self)
            if broken
        )


_ABOVE_ZERO = (
    "installed_height",
    "seat_load",
    "open_load",
    "travel",
    "bind_height_max",
    "outer_diameter_max",
    "inner_diameter_min",
    "stress_share_open_max",
    "stress_share_bind_max",
    "surge_frequency_min",
    "fatigue_factor_min",
)


def _over_zero(value: float | None) -> bool:
    return value is None or 0 < value < math.inf


def _faults(wanted: Wanted) -> list[tuple[str, bool, str, str]]:
    """Field, whether it is broken, what is wrong, what was expected; the relations come after the plain values."""
    faults = [
        (name, not _over_zero(getattr(wanted, name)), f"{name.replace('_', ' ')} not above zero", "a value above zero")
        for name in _ABOVE_ZERO
    ]
    low, high = INDEX_RANGE
    lower, outer, inner = wanted.index_low, wanted.outer_diameter_max, wanted.inner_diameter_min
    room = wanted.open_height
    faults += [
        (
            "open_load",
            not wanted.open_load > wanted.seat_load,
            "open load not above the seat load",
            "more than at the seat",
        ),
        ("travel", not room > 0, "travel takes the whole installed height", "less than the installed height"),
        ("bind_margin", not wanted.bind_margin >= 0, "bind margin below zero", "zero or more"),
        ("bind_margin", not wanted.bind_margin < room, "bind margin takes the whole open height", "less than it"),
        ("index_low", not low <= lower <= high, "spring index out of range", f"{low:g} to {high:g}"),
        ("index_high", not low <= wanted.index_high <= high, "spring index out of range", f"{low:g} to {high:g}"),
        ("index_high", not wanted.index_high >= lower, "highest index below the lowest", "at least the lowest"),
    ]
    if outer is not None and inner is not None:
        faults.append(
            ("inner_diameter_min", not inner < outer, "inside not below the outside", "less than the outside")
        )
    return faults


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """One spring of the search. `wire_diameter`, `mean_diameter`, `total_coils` and `free_height` say how to wind it.

    `bind_margin` is left at full net lift. The clearances are what is left to a limit, None where it is none; below
    zero only in a spring that does not fit. `edges` are the limits on which it stands. Fatigue factors are None where
    the published data do not hold.
    """

    wire_diameter: float
    mean_diameter: float
    outer_diameter: float
    inner_diameter: float
    active_coils: float
    total_coils: float
    free_height: float
    bind_height: float
    bind_margin: float
    rate: float
    bind_load: float
    spring_index: float
    wahl_factor: float
    bergstraesser_factor: float
    tensile_strength: float
    shear_stress_seat: float
    shear_stress_open: float
    shear_stress_bind: float
    stress_share_seat: float
    stress_share_open: float
    stress_share_bind: float
    stress_share_open_limit: float
    stress_share_bind_limit: float
    fatigue_factor_goodman: float | None
    fatigue_factor_gerber: float | None
    fatigue_factor_sines: float | None
    surge_frequency: float
    wire_mass: float
    moving_mass: float
    outer_clearance: float | None
    inner_clearance: float | None
    bind_clearance: float | None
    edges: tuple[Reason, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class TurnedAway:
    """How many springs a limit turned away, and how many of them it alone: those would fit without it."""

    reason: Reason
    count: int
    alone: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Give:
    """A limit that would have to give: from where it stands to where it had to be, in the limit's own unit.

    Shares and factors are plain numbers. Where the limit is a static share of a preset spring, both are the shares of
    the stress corrected by Wahl.
    """

    reason: Reason
    limit: float
    needed: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Nearest:
    """The spring whose greatest breach, as a share of the limit, is least; and every limit it breaks."""

    spring: Candidate
    breaks: tuple[Give, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SearchAnswer:
    """What the search found.

    `candidates` come best first. `tried` springs were looked at, `fits` of them keep every limit; a spring that breaks
    three limits counts three times in `turned_away`, which is sorted with the deadliest limit first. When nothing fits:
    `alone_enough` has each limit that would do if it alone gave, the least share first, and `nearest` the spring to
    start from; both are empty otherwise, and `nearest` is None too where no wire is inside the table or every spring
    would bind before full lift or have too few turns.
    """

    candidates: tuple[Candidate, ...]
    tried: int
    fits: int
    turned_away: tuple[TurnedAway, ...]
    alone_enough: tuple[Give, ...] = ()
    nearest: Nearest | None = None
