"""What is known of a set of numbered springs: spring by spring, height by height, and against an earlier check."""

from __future__ import annotations

from dataclasses import dataclass

from loadbench.findings.finding import Level
from loadbench.findings.rulebook import Limit
from loadbench.findings.spec_check import SpecVerdict, Window
from loadbench.readings.trust.flag import Flag
from loadbench.readings.trust.trend import Trend


@dataclass(frozen=True, slots=True, kw_only=True)
class Residual:
    """One reading against its spring's own line, SI; `place` is its path in the job."""

    part: str
    height: float
    load: float
    off: float
    place: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadLoss:
    """Load lost, as a share of the load before; `basis` says against what: an earlier check or the sheet."""

    share: float
    now: float
    then: float
    height: float
    basis: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SpringCheck:
    """One numbered spring, SI. `..._expanded` is U (k = 2), None where it cannot be had."""

    id: str
    index: int
    mark: str
    verdict: SpecVerdict
    height: float | None = None
    open_height: float | None = None
    rate: float | None = None
    rate_expanded: float | None = None
    seat_load: float | None = None
    seat_expanded: float | None = None
    open_load: float | None = None
    open_expanded: float | None = None
    extrapolated: bool = False
    residuals: tuple[Residual, ...] = ()
    flags: tuple[Flag, ...] = ()
    loss: LoadLoss | None = None
    bin: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class StripLoad:
    """One spring's load at a tested height: the mean of its repeats, N."""

    spring: str
    load: float


@dataclass(frozen=True, slots=True, kw_only=True)
class HeightStrip:
    """The loads of all springs at one tested height of one part, SI; `window` is what the spec or target allows."""

    part: str
    height: float
    loads: tuple[StripLoad, ...]
    window: Window | None = None

    @property
    def mean(self) -> float:
        """Mean load, N."""
        return sum(each.load for each in self.loads) / len(self.loads)

    @property
    def spread(self) -> float:
        """Greatest less least load, N."""
        return max(each.load for each in self.loads) - min(each.load for each in self.loads)


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidOut:
    """One place of the strip list: the valve in cylinder order, and the spring for it with its loads."""

    valve: str
    spring: str
    mark: str
    bin: str
    seat_load: float | None
    open_load: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Compared:
    """One spring before and now at one height, SI; None on a side where it was not tested."""

    spring: str
    height: float
    before: float | None
    now: float | None

    @property
    def lost(self) -> float | None:
        """Share of the earlier load that is lost."""
        return None if self.before is None or self.now is None or self.before <= 0 else 1 - self.now / self.before


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckPoint:
    """One check in the springs' life: its date, hours or passes, and the mean and worst share lost since the first."""

    name: str
    date: str | None
    hours: float | None
    passes: float | None
    mean_lost: float | None
    worst_lost: float | None
    worst_spring: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Past:
    """The history: the checks from the first to the present one, each spring now against the last check, the trend."""

    checks: tuple[CheckPoint, ...]
    compared: tuple[Compared, ...]
    unit: str | None = None
    """What the trend runs over: hours, passes or days; None where fewer than two checks state one of them."""
    trend: Trend | None = None
    """Of what is left of the first load, as a share, so its `start_load` is near 1."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SetCheck:
    """The whole set. `order_more` counts the springs still lacking for the valves, after those that fail."""

    springs: tuple[SpringCheck, ...]
    strips: tuple[HeightStrip, ...]
    flags: tuple[Flag, ...]
    windows: tuple[Window, ...]
    passed: int
    failed: int
    unknown: int
    needed: int | None
    order_more: int
    test_again: tuple[str, ...]
    laid_out: tuple[LaidOut, ...]
    spread: float | None
    spread_limit: Limit
    spread_level: Level
    loss_limit: Limit
    repeatability: float | None
    past: Past | None
