"""The questions asked the other way round: which height, which shims, how much lift, which rate.

Plain numbers in and out, in SI; limits come as arguments.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from loadbench.errors import InputError

THOU = 2.54e-5
STOCK_SHIMS = (15 * THOU, 30 * THOU, 60 * THOU)
"""Shims that every shop keeps: 0.015, 0.030 and 0.060 in (common practice)."""

MOST_SHIMS = 3
TALLEST_STACK = 90 * THOU
"""At most three shims and 0.090 in under one spring (common practice)."""

SLACK = 1e-9


def height_for_load(load_at: Callable[[float], float], wanted: float, shortest: float, tallest: float) -> float | None:
    """Height at which a spring carries a load.

    Args:
        load_at: load, N, at a height, m; never growing with the height.
        wanted: load, N.
        shortest: height to start from, m, such as the bind height.
        tallest: height to end at, m.

    Returns:
        Height, m; None where the load is not reached between the two.
    """
    if shortest > tallest or not load_at(tallest) <= wanted <= load_at(shortest):
        return None
    low, high = shortest, tallest
    for _ in range(60):  # 60 halvings of a metre end below the spacing of floats
        middle = 0.5 * (low + high)
        low, high = (middle, high) if load_at(middle) > wanted else (low, middle)
    return 0.5 * (low + high)


@dataclass(frozen=True, slots=True, kw_only=True)
class ShimPlan:
    """A stack of shims and what it leaves, all in m.

    `height` is reached with the shims; `miss` is how far it stands above the wanted height (below zero: under it).
    `gain` is the height that must be gained before any shim: more height is wanted than the bare one gives.
    `pack` is the height that must be lost by other means because the stack may not be taller.
    """

    shims: tuple[float, ...]
    height: float
    miss: float
    gain: float = 0.0
    pack: float = 0.0

    @property
    def stack(self) -> float:
        """Thickness of all shims together, m."""
        return sum(self.shims)


def nearest_stack(
    bare_height: float,
    wanted_height: float,
    stock: Sequence[float] = STOCK_SHIMS,
    most_shims: int = MOST_SHIMS,
    tallest_stack: float = TALLEST_STACK,
) -> ShimPlan:
    """The stack of stock shims that comes nearest to a wanted installed height; of equals the one with fewest shims.

    Args:
        bare_height: retainer land to machined seat without shims, m, above zero.
        wanted_height: installed height wanted, m, above zero.
        stock: thicknesses on the shelf, m; each may be used again.
        most_shims: how many may lie under one spring.
        tallest_stack: how thick they may be together, m.

    Returns:
        The stack. Shims only shorten: with more height wanted than the bare one the stack is empty and `gain` says
        how much must be cut at the seat or won at the retainer. `pack` says what the tallest stack still leaves.

    Raises:
        InputError: a height or a thickness at zero or below.
    """
    if bare_height <= 0 or wanted_height <= 0 or any(size <= 0 for size in stock):
        raise InputError("A height or a shim at zero or below.", expected="heights and shims above zero")
    wanted = bare_height - wanted_height
    stacks = [
        stack
        for count in range(most_shims + 1)
        for stack in itertools.combinations_with_replacement(sorted(set(stock), reverse=True), count)
        if sum(stack) <= tallest_stack * (1 + SLACK)
    ]
    best = min(stacks, key=lambda stack: (round(abs(sum(stack) - wanted), 9), len(stack)))
    tallest = sum(max(stacks, key=sum))
    height = bare_height - sum(best)
    return ShimPlan(
        shims=best,
        height=height,
        miss=height - wanted_height,
        gain=_above(-wanted),
        pack=_above(wanted - tallest),
    )


def _above(value: float) -> float:
    """The part above zero; what float arithmetic leaves of nothing is nothing."""
    return value if value > SLACK else 0.0


class LiftStop(StrEnum):
    """What ends the lift."""

    COILS = "coils"
    SEAL = "seal"


@dataclass(frozen=True, slots=True, kw_only=True)
class MostLift:
    """The most net valve lift, m, what stops it there, and which member where it is a coil."""

    lift: float
    stop: LiftStop
    member: int | None = None


def most_lift(
    member_rooms: Sequence[float],
    retainer_room: float | None,
    least_bind_margin: float,
    least_retainer_margin: float,
) -> MostLift | None:
    """The most net lift that leaves the margins asked for.

    Args:
        member_rooms: own installed height less own bind height of each member, m.
        retainer_room: retainer to seal with the valve closed, m; None leaves the seal out.
        least_bind_margin: clearance of the coils to keep, m.
        least_retainer_margin: clearance of retainer and seal to keep, m.

    Returns:
        The lift, zero where there is none left, with what stops it; None where no room is known.
    """
    stops = [(room - least_bind_margin, LiftStop.COILS, place) for place, room in enumerate(member_rooms)]
    if retainer_room is not None:
        stops.append((retainer_room - least_retainer_margin, LiftStop.SEAL, -1))
    if not stops:
        return None
    lift, stop, place = min(stops, key=lambda each: each[0])
    return MostLift(lift=max(lift, 0.0), stop=stop, member=place if stop is LiftStop.COILS else None)


def rate_wanted(seat_load: float, open_load: float, lift: float) -> float:
    """Rate that gives two loads at the two ends of the lift.

    Args:
        seat_load: wanted closed, N.
        open_load: wanted at full lift, N, above the seat load.
        lift: net valve lift, m, above zero.

    Returns:
        Rate, N/m.

    Raises:
        InputError: no lift, or an open load that is not above the seat load.
    """
    if lift <= 0 or open_load <= seat_load:
        raise InputError(
            "These loads and this lift give no rate.", expected="a lift above zero and an open load above the seat load"
        )
    return (open_load - seat_load) / lift
