"""What the load plot shows, in SI: the load line with its band, the members' lines, the readings."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from loadbench.analysis import LineAnalysis
from loadbench.arrays import Floats
from loadbench.readings.accuracy import standard
from loadbench.readings.load_line import LoadLine
from ui.plots.section import bound_height

POINTS = 161  # a straight line and its band need no more; a progressive one gets MOST
MOST = 601


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Member:
    """One member of a nest: its own load line over H and its readings."""

    name: str
    loads: Floats
    heights_read: Floats
    loads_read: Floats


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Curves:
    """The load line of one job line, SI: heights H rising; `inside` marks what lies within the readings."""

    heights: Floats
    loads: Floats
    rates: Floats
    band: Floats | None
    inside: Floats
    heights_read: Floats
    loads_read: Floats
    members: tuple[Member, ...]


def span_of(line: LineAnalysis) -> tuple[float, float] | None:
    """From bind to somewhat above the installed height and the readings, m; None without a load line or a height."""
    if line.load_line is None:
        return None
    height, opened, bound = line.value("installed_height"), line.value("open_height"), bound_height(line)
    read = [float(at + offset) for offset, strand in line.load_line.strands for at in strand.heights]
    tops = [each for each in (height, *read) if each is not None]
    lows = [each for each in (opened, *read) if each is not None]
    if not tops:
        return None
    low = bound if bound is not None else min(lows or tops) - 0.05 * max(tops)
    top = max(tops)
    return (low, top + 0.12 * max(top - low, 0.1 * top)) if low < top else None


def curves_of(line: LineAnalysis) -> Curves | None:
    """Sample the load line of one line; None where there is none to draw, the same object while nothing changed."""
    span, load_line = span_of(line), line.load_line
    if span is None or load_line is None:
        return None
    deviation = standard(line.stated.value("instruments.installed_height"))
    return _sampled(load_line, span, deviation, tuple(member.name for member in line.nest.members))


# A load line is kept by identity while its readings stand: most edits leave the samples of both lines as they are.
@lru_cache(maxsize=8)
def _sampled(load_line: LoadLine, span: tuple[float, float], deviation: float, names: tuple[str, ...]) -> Curves | None:
    heights = np.linspace(*span, MOST if load_line.progressive else POINTS)
    loads = load_line.load(heights)
    keep = loads >= 0
    if keep.sum() < 2:
        return None
    heights, loads = heights[keep], loads[keep]
    single = len(load_line.strands) == 1
    offset, strand = load_line.strands[0]
    return Curves(
        heights=heights,
        loads=loads,
        rates=load_line.rate_at(heights),
        band=load_line.uncertainty(heights, deviation),
        inside=_inside(load_line, heights),
        heights_read=strand.heights + offset if single else np.empty(0),
        loads_read=strand.loads if single else np.empty(0),
        members=() if single else _members(load_line, names, heights),
    )


def _inside(load_line: LoadLine, heights: Floats) -> Floats:
    """1 within the readings of every member, else 0; a line that rests on no several readings is inside throughout."""
    low, high = -np.inf, np.inf
    for offset, strand in load_line.strands:
        if len(strand.heights) > 1:
            low, high = max(low, strand.heights.min() + offset), min(high, strand.heights.max() + offset)
    return ((heights >= low - 1e-6) & (heights <= high + 1e-6)).astype(np.float64)


def _members(load_line: LoadLine, names: tuple[str, ...], heights: Floats) -> tuple[Member, ...]:
    return tuple(
        Member(
            name=name,
            loads=np.maximum(strand.load(heights - offset), 0.0),
            heights_read=strand.heights + offset,
            loads_read=strand.loads,
        )
        for name, (offset, strand) in zip(names, load_line.strands, strict=False)
    )
