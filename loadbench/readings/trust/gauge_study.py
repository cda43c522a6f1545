"""How much of what a tester shows is its own: a study of parts, trials and appraisers, by ranges and by variances."""

from __future__ import annotations

import functools
import math
from dataclasses import dataclass

import numpy as np

from loadbench.arrays import Floats
from loadbench.errors import InputError

POOLED_FROM = 0.05
"""An interaction less likely than this to be chance is kept; else it is pooled with the repeatability (msa)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shares:
    """Standard deviations, in the unit of the readings: the tester's, the appraisers', theirs together, the parts'."""

    repeatability: float
    reproducibility: float
    parts: float

    @property
    def gauge(self) -> float:
        """Repeatability and reproducibility together."""
        return math.hypot(self.repeatability, self.reproducibility)

    @property
    def total(self) -> float:
        """Everything together."""
        return math.hypot(self.gauge, self.parts)

    @property
    def gauge_percent(self) -> float:
        """The gauge's share of the total, percent of the deviation."""
        return 100 * self.gauge / self.total if self.total > 0 else 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class ByRanges:
    """Average and range: the mean range of a part's trials, the range of the appraisers' means and of the parts'."""

    mean_range: float
    range_of_appraisers: float
    range_of_parts: float
    shares: Shares


@dataclass(frozen=True, slots=True, kw_only=True)
class ByVariances:
    """Two-way analysis of variance with interaction: sums of squares, and whether the interaction was pooled.

    `interaction_chance` is the chance that an interaction as large comes about by itself; None where there is none.
    """

    parts: float
    appraisers: float
    interaction: float
    equipment: float
    interaction_chance: float | None
    pooled: bool
    shares: Shares


@dataclass(frozen=True, slots=True, kw_only=True)
class GaugeStudy:
    """A study told both ways."""

    ranges: ByRanges
    variances: ByVariances


def gauge_study(values: Floats) -> GaugeStudy:
    """A gauge study of springs tested several times, by one appraiser or several.

    Args:
        values: readings, any unit, shape (appraisers, trials, parts): one appraiser or more, two trials or more, two
            parts or more, none missing.

    Returns:
        The study by average and range and by analysis of variance.

    Raises:
        InputError: too few of something, or a missing reading.

    Source:
        msa.
    """
    x = np.asarray(values, dtype=np.float64)
    if x.ndim != 3 or x.shape[0] < 1 or x.shape[1] < 2 or x.shape[2] < 2:
        told = " x ".join(map(str, x.shape))
        raise InputError(f"a study of {told}", expected="appraisers x 2 or more trials x 2 or more parts")
    if not np.all(np.isfinite(x)):
        raise InputError("a study with a missing reading", expected="every part tested in every trial")
    return GaugeStudy(ranges=_by_ranges(x), variances=_by_variances(x))


def _by_ranges(x: Floats) -> ByRanges:
    appraisers, trials, parts = x.shape
    mean_range = float(np.mean(np.ptp(x, axis=1)))
    between = float(np.ptp(np.mean(x, axis=(1, 2))))
    of_parts = float(np.ptp(np.mean(x, axis=(0, 1))))
    own = mean_range / expected_range(trials)
    theirs = 0.0
    if appraisers > 1:
        theirs = math.sqrt(max(0.0, (between / root_mean_square_range(appraisers)) ** 2 - own**2 / (parts * trials)))
    spread = of_parts / root_mean_square_range(parts)
    return ByRanges(
        mean_range=mean_range,
        range_of_appraisers=between,
        range_of_parts=of_parts,
        shares=Shares(repeatability=own, reproducibility=theirs, parts=spread),
    )


def _by_variances(x: Floats) -> ByVariances:
    appraisers, trials, parts = x.shape
    mean = np.mean(x)
    by_part, by_appraiser, by_both = np.mean(x, axis=(0, 1)), np.mean(x, axis=(1, 2)), np.mean(x, axis=1)
    of_parts = appraisers * trials * float(np.sum((by_part - mean) ** 2))
    of_appraisers = parts * trials * float(np.sum((by_appraiser - mean) ** 2))
    crossed = trials * float(np.sum((by_both - by_part - by_appraiser[:, None] + mean) ** 2))
    equipment = float(np.sum((x - by_both[:, None, :]) ** 2))
    freedom, own_freedom = (appraisers - 1) * (parts - 1), appraisers * parts * (trials - 1)
    chance = _chance(crossed, freedom, equipment, own_freedom)
    pooled = chance is None or chance > POOLED_FROM
    own = (equipment + crossed) / (own_freedom + freedom) if pooled else equipment / own_freedom
    error = own if pooled else crossed / freedom
    interaction = 0.0 if pooled else max(0.0, (error - own) / trials)
    between = 0.0
    if appraisers > 1:
        between = max(0.0, (of_appraisers / (appraisers - 1) - error) / (parts * trials))
    spread = max(0.0, (of_parts / (parts - 1) - error) / (appraisers * trials))
    return ByVariances(
        parts=of_parts,
        appraisers=of_appraisers,
        interaction=crossed,
        equipment=equipment,
        interaction_chance=chance,
        pooled=pooled,
        shares=Shares(
            repeatability=math.sqrt(own), reproducibility=math.sqrt(between + interaction), parts=math.sqrt(spread)
        ),
    )


def _chance(crossed: float, freedom: int, equipment: float, own_freedom: int) -> float | None:
    """Chance that an interaction as large comes about by itself; None without one."""
    from scipy.special import fdtrc

    if freedom == 0:
        return None
    if equipment <= 0:
        return float(crossed <= 0)
    return float(fdtrc(freedom, own_freedom, crossed / freedom / (equipment / own_freedom)))


@functools.lru_cache(maxsize=128)
def expected_range(count: int) -> float:
    """Mean range of a sample of unit normal values (d2): 1.6926 for three.

    Args:
        count: size of the sample, 2 or more.

    Returns:
        d2, in standard deviations.

    Source:
        msa (its K1 is 1/d2); own derivation, the integral of 1 - P^n - (1 - P)^n.
    """
    x, below = _normal()
    return float(np.trapezoid(1 - below**count - (1 - below) ** count, x))


@functools.lru_cache(maxsize=128)
def root_mean_square_range(count: int) -> float:
    """Root mean square range of a sample of unit normal values (d2* of a single range): 1.9116 for three.

    Args:
        count: size of the sample, 2 or more.

    Returns:
        d2*, in standard deviations.

    Source:
        msa (its K2 and K3 are 1/d2*); own derivation: the mean square is twice the integral of the chance that the
        range spans x to y.
    """
    x, below = _normal()
    low, high = below[:, None], below[None, :]
    spans = 1 - high**count - (1 - low) ** count + np.maximum(high - low, 0.0) ** count
    spans = np.where(high >= low, spans, 0.0)
    diagonal = np.diag(np.diag(spans)) / 2  # the half-plane's edge counts half
    return math.sqrt(2 * float(np.sum(spans - diagonal)) * (x[1] - x[0]) ** 2)


@functools.cache
def _normal() -> tuple[Floats, Floats]:
    from scipy.special import ndtr

    x = np.linspace(-8.0, 8.0, 801)
    return x, np.asarray(ndtr(x), dtype=np.float64)
