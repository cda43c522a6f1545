"""Statistics of one set of values: mean, deviation, drift in their order, groups, medians, extreme deviates."""

from __future__ import annotations

import functools
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from loadbench.arrays import Floats
from loadbench.errors import InputError

Mask = NDArray[np.bool_]

NORMAL_MAD = 0.6745
"""The median absolute deviation of a normal distribution of unit deviation (iglewicz-hoaglin)."""

MODIFIED_Z = 3.5
"""A modified z over this is a candidate outlier (iglewicz-hoaglin)."""

FEWEST = 5
"""Below this count of values a robust spread says nothing (common practice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Moments:
    """Mean, standard deviation (n - 1) and lag-1 autocorrelation of values in the order they were taken."""

    count: int
    mean: float
    deviation: float
    autocorrelation: float


def moments(values: Floats) -> Moments:
    """The sample moments of values in their order.

    Args:
        values: any unit, shape (n,), n at least two.

    Returns:
        The moments; the autocorrelation is 0 where all values are equal.

    Raises:
        InputError: fewer than two values.

    Source:
        shown against nist-univariate; sums rounded once, deviations from the mean.
    """
    x = np.asarray(values, dtype=np.float64)
    if len(x) < 2:
        raise InputError(f"{len(x)} values", expected="at least 2")
    mean = math.fsum(x) / len(x)
    off = x - mean
    squares = math.fsum(off**2)
    along = math.fsum(off[1:] * off[:-1])
    return Moments(
        count=len(x),
        mean=mean,
        deviation=math.sqrt(squares / (len(x) - 1)),
        autocorrelation=along / squares if squares > 0 else 0.0,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Groups:
    """Sums of squares between groups and within them; `deviation` is the pooled one within, `ratio` is F."""

    between: float
    within: float
    between_freedom: int
    within_freedom: int

    @property
    def deviation(self) -> float:
        """Pooled standard deviation within the groups: the repeatability."""
        return math.sqrt(self.within / self.within_freedom)

    @property
    def ratio(self) -> float:
        """F: mean square between over mean square within; infinite where nothing differs within."""
        within = self.within / self.within_freedom
        return self.between / self.between_freedom / within if within > 0 else math.inf


def compared_groups(groups: Sequence[Floats]) -> Groups:
    """One-way analysis of variance.

    Args:
        groups: the values of each, any unit; two groups or more, one of them with a repeat.

    Returns:
        The sums of squares.

    Raises:
        InputError: too few groups or no repeat.

    Source:
        shown against nist-anova.
    """
    kept = [np.asarray(each, dtype=np.float64) for each in groups if len(each)]
    count = sum(map(len, kept))
    if len(kept) < 2 or count == len(kept):
        raise InputError(f"{count} values in {len(kept)} groups", expected="two groups or more, one with a repeat")
    means = [math.fsum(each) / len(each) for each in kept]
    whole = math.fsum(value for each in kept for value in each) / count
    return Groups(
        between=math.fsum(len(each) * (mean - whole) ** 2 for each, mean in zip(kept, means, strict=True)),
        within=math.fsum(((each - mean) ** 2).sum() for each, mean in zip(kept, means, strict=True)),
        between_freedom=len(kept) - 1,
        within_freedom=count - len(kept),
    )


def column_median(values: Floats) -> Floats:
    """Median of each column, missing values (NaN) left out.

    Args:
        values: any unit, shape (n, m).

    Returns:
        Medians, shape (m,); NaN for a column without a value.
    """
    if not len(values):
        return np.full(values.shape[1:], np.nan)
    ordered = np.sort(values, axis=0)
    count = np.sum(np.isfinite(values), axis=0)
    columns = np.arange(values.shape[1])
    low, high = np.maximum(count - 1, 0) // 2, np.minimum(count // 2, len(values) - 1)
    return np.where(count > 0, (ordered[low, columns] + ordered[high, columns]) / 2, np.nan)


def modified_z(values: Floats, floor: Floats | float = 0.0) -> Floats:
    """Modified z-score of each value within its column.

    Args:
        values: any unit, shape (n, m); NaN where missing.
        floor: a deviation, in the same unit, shape (m,), that is never past the limit: where the springs are equal to
            within what a tester can tell, the spread counts as at least that over 3.5.

    Returns:
        0.6745 (x - median)/MAD, shape (n, m); NaN where missing.

    Source:
        iglewicz-hoaglin; the floor is common practice.
    """
    off = values - column_median(values)
    spread = np.maximum(column_median(np.abs(off)), NORMAL_MAD * np.asarray(floor) / MODIFIED_Z)
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(off == 0, 0.0, NORMAL_MAD * off / spread)


def robust_deviation(values: Floats) -> Floats:
    """Standard deviation of each column from its median absolute deviation.

    Args:
        values: any unit, shape (n, m); NaN where missing.

    Returns:
        Deviations, shape (m,).

    Source:
        iglewicz-hoaglin.
    """
    return np.asarray(column_median(np.abs(values - column_median(values))) / NORMAL_MAD)


@functools.lru_cache(maxsize=512)
def _critical(count: int, most: int, chance: float) -> tuple[float, ...]:
    """The largest deviate that chance allows after 0, 1, ... values are taken away."""
    from scipy.special import stdtrit

    left = count - np.arange(most, dtype=np.float64)
    t = stdtrit(left - 2, 1 - chance / (2 * left))
    return tuple(((left - 1) * t / np.sqrt((left - 2 + t**2) * left)).tolist())


def extreme_deviates(values: Floats, chance: float, most: int | None = None) -> Mask:
    """Which values stand further out than a normal set of this size has any.

    The furthest from the mean is taken away, then the furthest of the rest, and so on: two that hide each other are
    found, as they would not be one at a time.

    Args:
        values: any unit, shape (n,), finite.
        chance: of flagging any in a clean normal set.
        most: how many are looked for; a quarter of the set when None.

    Returns:
        True for those that stand out, shape (n,).

    Source:
        rosner, generalized extreme studentized deviate.
    """
    out = np.zeros(len(values), dtype=np.bool_)
    if (count := len(values)) < FEWEST:
        return out
    limits = _critical(count, max(1, count // 4) if most is None else most, chance)
    taken, found = [], 0
    left = np.ones(count, dtype=np.bool_)
    for step, limit in enumerate(limits, 1):
        rest = values[left]
        off = np.where(left, np.abs(values - np.mean(rest)), -1.0)
        worst, deviation = int(np.argmax(off)), float(np.std(rest, ddof=1))
        taken.append(worst)
        left[worst] = False
        if off[worst] > limit * deviation:
            found = step
    out[taken[:found]] = True
    return out


def strays(values: Floats, floor: Floats | float, chance: float) -> tuple[Floats, Mask]:
    """Which values stand out of their column: both rules must say so.

    Args:
        values: any unit, shape (n, m); NaN where missing.
        floor: a deviation that is never told, in the same unit, shape (m,).
        chance: of flagging any value of a clean normal column.

    Returns:
        Modified z-scores, and True for those over 3.5 that are also extreme studentized deviates; columns of fewer
        than five values have none.

    Source:
        iglewicz-hoaglin for what stands out, rosner for what chance alone does in a set of this size.
    """
    scores = modified_z(values, floor)
    known = np.isfinite(values)
    with np.errstate(invalid="ignore"):
        out = (np.abs(scores) > MODIFIED_Z) & (np.sum(known, axis=0) >= FEWEST)
    for column in np.flatnonzero(out.any(axis=0)):
        rows = np.flatnonzero(known[:, column])
        # past the candidates, and two that one of them may hide, no further ones matter
        most = min(max(1, len(rows) // 4), int(np.sum(out[:, column])) + 2)
        out[rows, column] &= extreme_deviates(values[rows, column], chance, most)
    return scores, out
