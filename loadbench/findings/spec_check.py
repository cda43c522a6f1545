"""Whether a numbered spring's loads lie in the windows of its spec, or of the targets where no spec is stated."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from loadbench.findings.finding import Level
from loadbench.job.checks import SAME_HEIGHT

if TYPE_CHECKING:
    from collections.abc import Mapping

    from loadbench.analysis import Analysis
    from loadbench.analysis.line import LineAnalysis
    from loadbench.analysis.springs import NumberedSpringAnalysis

SLACK = 1e-9  # of the load: the rounding of floats fails no spring


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """The least and the greatest load at a height, SI; None leaves that side open."""

    height: float
    least: float | None
    greatest: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Miss:
    """How far a load lies outside its window, N: below zero where it is low."""

    height: float
    off: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SpecVerdict:
    """Clear: every window is met. Stop: one is missed. Unknown: no window, or a load that cannot be had."""

    level: Level
    misses: tuple[Miss, ...] = ()


def windows_of(line: LineAnalysis) -> tuple[Window, ...]:
    """The windows that a line's springs are held against.

    Args:
        line: the line analysed.

    Returns:
        Those of the spec, with the targets' tolerance where a side is not stated; without a spec, the wanted seat and
        open loads with their tolerance. A point without any window is left out.
    """
    stated = line.stated
    percent = stated.value("targets.tolerance_percent")
    share = None if percent is None else percent / 100
    path, count = stated.rows("spring.spec")
    values = stated.stated.values
    found = []
    for point in range(count):
        own = f"{path}.{point}."
        height, load = values.get(f"{own}height"), values.get(f"{own}load")
        minus, plus = values.get(f"{own}minus"), values.get(f"{own}plus")
        faulty = any(f"{own}{name}" in stated.stated.problems for name in ("height", "load", "minus", "plus"))
        if height is not None and load is not None and not faulty:
            found.append(_window(height, load, minus, plus, share))
    if not count:
        pairs = (("targets.seat_load", "installed_height"), ("targets.open_load", "open_height"))
        for target, at in pairs:
            load, height = stated.value(target), line.value(at)
            if load is not None and height is not None:
                found.append(_window(height, load, None, None, share))
    return tuple(window for window in found if window is not None)


def _window(height: float, load: float, minus: float | None, plus: float | None, share: float | None) -> Window | None:
    usual = None if share is None else load * share
    low, high = usual if minus is None else minus, usual if plus is None else plus
    if low is None and high is None:
        return None
    least = None if low is None else load - low
    greatest = None if high is None else load + high
    return Window(height=height, least=least, greatest=greatest)


def judged(spring: NumberedSpringAnalysis, direct: Mapping[float, float], windows: tuple[Window, ...]) -> SpecVerdict:
    """Hold one spring against the windows.

    Args:
        spring: analysed.
        direct: its measured loads at heights, m -> N; a reading at the window's own height comes before the fit.
        windows: from `windows_of`.

    Returns:
        Unknown without windows; a miss is a stop even where another load cannot be had.
    """
    loads = [_load_at(spring, direct, window.height) for window in windows]
    misses = tuple(
        Miss(height=window.height, off=off)
        for window, load in zip(windows, loads, strict=True)
        if load is not None and (off := _off(load, window))
    )
    if misses:
        return SpecVerdict(level=Level.STOP, misses=misses)
    known = bool(windows) and all(load is not None for load in loads)
    return SpecVerdict(level=Level.CLEAR if known else Level.UNKNOWN)


def _load_at(spring: NumberedSpringAnalysis, direct: Mapping[float, float], height: float) -> float | None:
    near = next((load for at, load in direct.items() if abs(at - height) <= SAME_HEIGHT), None)
    if near is not None:
        return near
    return None if spring.load_line is None else float(spring.load_line.load(height))


def _off(load: float, window: Window) -> float:
    if window.least is not None and load < window.least * (1 - SLACK):
        return load - window.least
    if window.greatest is not None and load > window.greatest * (1 + SLACK):
        return load - window.greatest
    return 0.0


def direct_loads(analysis: Analysis, index: int, *, whole: bool) -> dict[float, float]:
    """Measured loads of the whole set of one numbered spring, m -> N, the mean of repeats.

    Args:
        analysis: of the job.
        index: of the spring.
        whole: whether every reading is of the whole; of a nest only those of the pair are.
    """
    values = analysis.stated.values
    found: dict[float, list[float]] = {}
    for place in range(values.get(f"springs.{index}.readings#", 0)):
        own = f"springs.{index}.readings.{place}."
        height, load = values.get(f"{own}height"), values.get(f"{own}load")
        part = str(values.get(f"{own}part", "")).strip().lower()
        of_whole = whole or part in ("", "pair")
        if height is None or load is None or not of_whole or values.get(f"{own}direction") == "unloading":
            continue
        at = next((known for known in found if abs(known - height) <= SAME_HEIGHT), height)
        found.setdefault(at, []).append(load)
    return {height: sum(loads) / len(loads) for height, loads in found.items()}
