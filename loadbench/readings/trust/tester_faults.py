"""The tester's own zero and scale: all springs off by the same load, or by the same share, against the stated spec."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from loadbench.arrays import Floats
from loadbench.readings.accuracy import Accuracy
from loadbench.readings.trust.flag import Flag, FlagKind
from loadbench.readings.trust.moments import MODIFIED_Z, modified_z
from loadbench.readings.trust.outliers import percent
from loadbench.readings.trust.set_table import LEAST_LOAD, LOAD_FLOOR, MOST, SAME_HEIGHT, SetTable
from loadbench.units import Kind

ERRORS = 3.0
"""A fault is told from this many of its standard errors on; for few springs by the Student's t of the same chance."""

CONFIDENCE = 0.9973
EXPLAINED = 0.5
"""A fault must explain more than this share of the springs' squared deviations from the spec."""

BEYOND = 2.0
"""How many of its standard errors a fault must be past what the stated accuracy allows (k = 2)."""

ALIKE = 1.05
"""Spec loads within this ratio are too alike to tell a zero from a scale."""

FEWEST_SPRINGS = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Shift:
    """A figure common to the springs, with its standard error over its Student's t: (value, error, threshold)."""

    value: float
    error: float
    threshold: float

    @property
    def sure(self) -> bool:
        """Whether it is larger than its own uncertainty."""
        return abs(self.value) > self.threshold


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Against:
    """The springs held against the spec: loads N, shape (springs, spec points), NaN where out of their readings."""

    spec: Floats
    loads: Floats
    resolution: float

    @property
    def off(self) -> Floats:
        """Measured less stated, N."""
        return self.loads - self.spec


def against_spec(table: SetTable, spec: Sequence[tuple[float, float]]) -> Against | None:
    """The springs' loads at the heights of the spec, inside their readings.

    Args:
        table: of the set, repeats settled.
        spec: (height m, load N) points.

    Returns:
        What has all the spec points it can have; None where fewer than four springs can be held against it.
    """
    points = sorted({(height, load) for height, load in spec if LEAST_LOAD < load < MOST and math.isfinite(height)})
    heights = np.array([height for height, _ in points])
    loads = np.full((len(table.springs), len(points)), np.nan)
    for row, own in enumerate(table.loads):
        known = np.isfinite(own)
        at = table.heights[known]
        if len(at) and points:
            found = np.interp(heights, at, own[known])
            inside = (heights >= at[0] - SAME_HEIGHT) & (heights <= at[-1] + SAME_HEIGHT)
            loads[row] = np.where(inside, found, np.nan)
    kept = np.sum(np.isfinite(loads), axis=0) >= FEWEST_SPRINGS
    loads, stated = loads[:, kept], np.array([load for _, load in points])[kept]
    whole = np.isfinite(loads).all(axis=1)
    if not len(stated) or whole.sum() < FEWEST_SPRINGS:
        return None
    return Against(spec=stated, loads=loads[whole], resolution=table.resolution)


def shift_of(values: Floats) -> Shift:
    """What the springs have in common.

    Args:
        values: one figure a spring, shape (n,), n at least four.

    Returns:
        The mean without those whose modified z is over 3.5, its standard error, and the size from which it is more
        than chance.

    Source:
        iglewicz-hoaglin for what is left out; gum 4.2.3 and annex G for the error of a mean and Student's t.
    """
    from scipy.special import stdtrit

    kept = values[np.abs(modified_z(values[:, None])[:, 0]) <= MODIFIED_Z]
    error = float(np.std(kept, ddof=1)) / math.sqrt(len(kept)) if len(kept) > 1 else math.inf
    factor = max(ERRORS, float(stdtrit(max(1, len(kept) - 1), 0.5 + CONFIDENCE / 2)))
    return Shift(value=float(np.mean(kept)), error=error, threshold=factor * error)


def tester_faults(table: SetTable, spec: Sequence[tuple[float, float]], accuracy: Accuracy) -> tuple[Flag, ...]:
    """A zero or a scale error of the tester, told against the spec.

    Args:
        table: of the set, repeats settled.
        spec: (height m, load N) points of the part's sheet.
        accuracy: of the tester: what it may be off by is not told.

    Returns:
        One flag or none: the zero alone, the scale alone, or both where both are clearly needed. A set that lost load
        looks the same, and the sentence says so.

    Source:
        own derivation: load = zero + scale x spec by least squares of the relative deviations (springs differ by a
        share of their load), each spring one observation.
    """
    held = against_spec(table, spec)
    if held is None:
        return ()
    off, stated = held.off, held.spec
    zeros = shift_of(off @ stated**-2 / float(np.sum(stated**-2)))
    scales = shift_of(np.mean(off / stated, axis=1))
    told = [
        (_explained(off, stated, np.full_like(stated, zeros.value)), FlagKind.TESTER_ZERO, zeros),
        (_explained(off, stated, scales.value * stated), FlagKind.TESTER_SCALE, scales),
    ]
    alike = float(np.max(stated) / np.min(stated)) < ALIKE
    best = told[0] if alike or told[0][0] >= told[1][0] else told[1]
    unclear = alike
    if not alike:
        zero, scale = _both(off, stated)
        if zero.sure and scale.sure:
            both = _explained(off, stated, zero.value + scale.value * stated)
            if both - best[0] > (1 - best[0]) / 2:  # halves what the simpler one leaves
                return _told_both(held, zero, scale, both, accuracy)
        unclear = not zero.sure and not scale.sure
        if unclear:
            best = told[0]
    share, kind, shift = best
    limit = _limit(kind, held, accuracy)
    if not shift.sure or share <= EXPLAINED or abs(shift.value) <= limit + BEYOND * shift.error:
        return ()
    return (_flag(held, kind, shift, max(limit, shift.threshold), unclear=unclear),)


def _both(off: Floats, stated: Floats) -> tuple[Shift, Shift]:
    """Zero and scale together, each spring by its own straight line against the spec."""
    model = np.column_stack((1 / stated, np.ones_like(stated)))
    zeros, scales = np.linalg.lstsq(model, (off / stated).T, rcond=None)[0]
    return shift_of(zeros), shift_of(scales)


def _explained(off: Floats, stated: Floats, model: Floats) -> float:
    """Share of the springs' squared relative deviations that a common shift explains, outliers left out."""
    worst = np.max(np.abs(modified_z(off / stated)), axis=1)
    kept = (off / stated)[worst <= MODIFIED_Z]
    before = float(np.sum(kept**2))
    return 1 - float(np.sum((kept - model / stated) ** 2)) / before if before > 0 else 0.0


def _limit(kind: FlagKind, held: Against, accuracy: Accuracy) -> float:
    """What the tester may be off by and half a step of what it shows: N, or a share of the load.

    The first is its stated accuracy, else half a percent.
    """
    least, most, step = float(np.min(held.spec)), float(np.max(held.spec)), held.resolution / 2
    zero, gain = accuracy.zero or 0.0, accuracy.gain or 0.0
    if accuracy.zero is None and accuracy.gain is None:
        zero, gain = (
            (LOAD_FLOOR * float(np.median(held.spec)), 0.0) if kind is FlagKind.TESTER_ZERO else (0, LOAD_FLOOR)
        )
    if kind is FlagKind.TESTER_ZERO:
        return zero + gain * least + step
    return gain + zero / most + step / least


def _who(held: Against, direction: float) -> str:
    count = len(held.off)
    with_it = int(np.sum(np.mean(held.off, axis=1) * direction > 0))
    return f"All {count} springs stand" if with_it == count else f"{with_it} of {count} springs stand"


def _rule(limit: str) -> str:
    return f"common to the set by over {ERRORS:g} standard errors, over half of the deviation explained, over {limit}"


def _flag(held: Against, kind: FlagKind, shift: Shift, limit: float, *, unclear: bool) -> Flag:
    way = "low" if shift.value < 0 else "high"
    lost = "all springs lost load" if shift.value < 0 else "all springs are stronger than the sheet says"
    who, rule = _who(held, shift.value), _rule("the stated accuracy (0.5 % of the load where none is stated)")
    if kind is FlagKind.TESTER_SCALE:
        sentence = (
            f"{percent(shift.value)} {way} against the sheet: the tester's scale, or {lost}; test a known weight."
        )
        return Flag(kind=kind, template=f"{who} {sentence}", rule=rule, value=shift.value, limit=limit)
    what = "the tester's zero or scale (loads too alike to tell which)" if unclear else "the tester's zero"
    free = "free height" if shift.value < 0 else "free height beyond the sheet's"
    same = lost if unclear else lost.replace("lost load", f"lost {free} alike")
    return Flag(
        kind=kind,
        template=f"{who} {{zero}} {way} against the sheet: {what}, or {same}; test a known weight and no weight.",
        rule=rule,
        amounts={"zero": (abs(shift.value), Kind.FORCE)},
        value=shift.value,
        limit=limit,
    )


def _told_both(held: Against, zero: Shift, scale: Shift, share: float, accuracy: Accuracy) -> tuple[Flag, ...]:
    stated = held.spec
    by_zero, by_scale = (_limit(kind, held, accuracy) for kind in (FlagKind.TESTER_ZERO, FlagKind.TESTER_SCALE))
    beyond = (
        abs(zero.value) > by_zero + BEYOND * zero.error,
        abs(scale.value) > by_scale + BEYOND * scale.error,
    )
    if share <= EXPLAINED or not any(beyond):
        return ()
    larger = abs(scale.value) * float(np.mean(stated)) > abs(zero.value)
    ways = ["low" if each.value < 0 else "high" for each in (zero, scale)]
    return (
        Flag(
            kind=FlagKind.TESTER_SCALE if larger else FlagKind.TESTER_ZERO,
            template=f"All {len(held.off)} springs stand {{zero}} {ways[0]} and {percent(scale.value)} {ways[1]} "
            "against the sheet: the tester's zero and scale, or the springs differ from it; test known weights.",
            rule=_rule("the stated accuracy; both are needed to explain it"),
            amounts={"zero": (abs(zero.value), Kind.FORCE)},
            value=scale.value if larger else zero.value,
            limit=by_scale if larger else by_zero,
        ),
    )
