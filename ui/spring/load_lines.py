"""The load lines of the coils in SI, over one height: each coil's own, the whole nest's, the damper's friction."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from loadbench.spring.nest import loading_load, unloading_load
from ui.plots.section import bound_height
from ui.spring.stands import offset_of

if TYPE_CHECKING:
    from loadbench.analysis import LineAnalysis
    from loadbench.analysis.coils.result import CoilAnalysis
    from loadbench.arrays import Floats

POINTS = 41


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class CoilLine:
    """Load over height of one coil, SI: heights falling from free to bind; `landings` where turns land."""

    name: str
    place: int
    heights: Floats
    loads: Floats
    landings: tuple[tuple[float, float], ...] = ()

    def at(self, height: float) -> float | None:
        """Its load at a height; none above free, None below bind."""
        if height < self.heights[-1] - 1e-9:
            return None
        return float(np.interp(height, self.heights[::-1], self.loads[::-1], right=0.0))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LoadLines:
    """The coils' lines and that of all together; `friction` is half the width of the damper's band, N."""

    coils: tuple[CoilLine, ...]
    whole: CoilLine | None
    friction: float = 0.0

    def whole_at(self, height: float) -> float | None:
        """The load of all together at a height, m."""
        return None if self.whole is None else self.whole.at(height)

    def band_at(self, height: float) -> tuple[float, float] | None:
        """Load on the way down and on the way up at a height; None without friction."""
        load = self.whole_at(height)
        if load is None or not self.friction:
            return None
        return float(loading_load(load, self.friction)), float(unloading_load(load, self.friction))

    @property
    def greatest(self) -> float:
        """The greatest load drawn, N."""
        drawn = [*self.coils, *((self.whole,) if self.whole is not None else ())]
        return max((float(each.loads.max()) for each in drawn), default=0.0) + self.friction


def load_lines_of(line: LineAnalysis, member: str | None) -> LoadLines:
    """The load lines of a coil alone over its own height, or of all over the installed height.

    Args:
        line: the line on show.
        member: a coil by name; None for all.
    """
    shown = [(place, coil) for place, coil in enumerate(line.coils) if member in (None, coil.name)]
    offsets = {coil.name: 0.0 if member is not None else offset_of(line, coil.name) for _, coil in shown}
    coils = tuple(found for place, coil in shown if (found := _coil_line(coil, place, offsets[coil.name])) is not None)
    if not coils:
        return LoadLines(coils=(), whole=None)
    single = len(line.coils) == 1
    if member is not None or single:
        friction = (line.surge.friction or 0.0) if single else 0.0  # the damper's is shared by the nest
        return LoadLines(coils=coils, whole=coils[0], friction=friction)
    whole = _whole(line, coils) if len(coils) == len(line.coils) else None
    return LoadLines(coils=coils, whole=whole, friction=(line.surge.friction or 0.0) if whole is not None else 0.0)


def _coil_line(coil: CoilAnalysis, place: int, offset: float) -> CoilLine | None:
    curve = coil.curve
    if curve is None or curve.heights.size < 2:
        return None
    loads, own = _down_to(curve.loads, curve.heights, coil.heights.get("bind"))
    heights = own + offset
    landed = np.array([load for load in curve.landing_loads if load <= loads[-1]])
    levels = np.interp(landed, loads, heights) if landed.size else landed
    landings = tuple(zip(map(float, levels), map(float, landed), strict=True))
    return CoilLine(name=coil.name, place=place, heights=heights, loads=loads, landings=landings)


def _down_to(loads: Floats, heights: Floats, bind: float | None) -> tuple[Floats, Floats]:
    """The curve down to the bind height: one that was measured ends it above that of the wire."""
    if bind is None or heights[-1] >= bind - 1e-9 or heights[0] <= bind:
        return loads, heights
    above = heights > bind
    last = float(np.interp(bind, heights[::-1], loads[::-1]))
    return np.append(loads[above], last), np.append(heights[above], bind)


def _whole(line: LineAnalysis, coils: tuple[CoilLine, ...]) -> CoilLine | None:
    """All together: the line that was measured of them where there is one, else the coils' sum."""
    low = bound_height(line) or max(float(each.heights[-1]) for each in coils)
    high = max(float(each.heights[0]) for each in coils)
    if low >= high:
        return None
    kinks = [each.heights for each in coils if each.heights.size <= POINTS]
    heights = np.unique(np.concatenate([np.linspace(low, high, POINTS), *kinks]))[::-1]
    heights = heights[heights >= low - 1e-12]
    if line.load_line is not None and (len(line.load_line.strands) == 1):
        loads = np.maximum(line.load_line.load(heights), 0.0)
    else:
        loads = sum(
            (np.interp(heights, each.heights[::-1], each.loads[::-1], right=0.0) for each in coils),
            start=np.zeros_like(heights),
        )
    return CoilLine(name="", place=-1, heights=heights, loads=loads)
