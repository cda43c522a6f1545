"""Where names find room: beside their own line or mark, off all others and inside the view. In pixels of the screen."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from loadbench.arrays import Floats
from ui.spring.chart import Name as Wish

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

CELL = 4.0  # px of the grid on which lines are counted
EDGE = 3  # cells beyond the view, so that a name at its edge may look around
STEP = 6.0  # px between the points of a line that a name must keep off
GAP = 3.0  # px between a name and what it belongs to
CORNERS = range(4)  # of the view, from the upper left
SIDES = ((0.5, 1.0), (0.0, 1.0), (1.0, 1.0), (0.5, 0.0), (0.0, 0.0), (1.0, 0.0))
"""Which point of the name's box lies at its line: above first, y counts downwards."""
Sides = tuple[tuple[float, float], ...]
Size = tuple[float, float]
Found = tuple[float, float, int]
"""The upper left corner of a name, px, and which of its choices that is."""
Box = tuple[float, float, float, float]
"""Left, top, right, bottom, px."""
FEW = 12  # places that are tried one by one
APART = 3.0  # px between two names side by side
STOPS = 13  # places along a line that are tried
CROSSED = 1.0  # what each point of a line under a name costs
CLOSE, NEARBY = 0.3, 6.0  # what each point of another line costs that is so near, px, that the name might be its own
LATER = 0.002  # what each later choice costs


def points_along(xs: Floats, ys: Floats) -> Floats:
    """Points close together along a line.

    Args:
        xs: px, shape (points,); gaps are NaN.
        ys: likewise.

    Returns:
        Shape (n, 2); empty where the line is.
    """
    if xs.size == 2:  # as most are
        far = float(np.hypot(xs[1] - xs[0], ys[1] - ys[0]))
        share = np.arange(0.0, 1.0 + 1e-9, 1 / min(max(1, int(far / STEP)), 2000)) if far < np.inf else np.empty(0)
        return np.column_stack((xs[0] + share * (xs[1] - xs[0]), ys[0] + share * (ys[1] - ys[0])))
    whole = np.isfinite(xs) & np.isfinite(ys)
    xs, ys = xs[whole], ys[whole]
    if xs.size == 0:
        return np.empty((0, 2))
    run = np.concatenate(([0.0], np.cumsum(np.hypot(np.diff(xs), np.diff(ys)))))
    places = np.linspace(0.0, run[-1], min(max(2, int(run[-1] / STEP) + 1), 2000))
    return np.column_stack((np.interp(places, run, xs), np.interp(places, run, ys)))


@dataclass(frozen=True, slots=True)
class Choices:
    """The places that a name of a size may take: each side of each stop, `gap` px away."""

    at: Callable[[int], tuple[float, float]]
    stops: int
    sides: Sides
    size: Size
    gap: float

    @property
    def count(self) -> int:
        """How many there are."""
        return self.stops * len(self.sides)

    def corner(self, choice: int) -> tuple[float, float]:
        """The upper left corner of one; no gap on the way along which the name is centred."""
        stop, side = divmod(choice, len(self.sides))
        (x, y), (across, down) = self.at(stop), self.sides[side]
        left = x + self.gap * (1 - 2 * across) - across * self.size[0]
        return left, y + self.gap * (1 - 2 * down) - down * self.size[1]


class Room:
    """The view with what already stands in it; lines are counted on a grid, which takes but microseconds a name."""

    def __init__(self, width: float, height: float, lines: list[Floats]) -> None:
        self.width, self.height = width, height
        self.lines = [line[self._inside(line)] for line in lines]  # points of each, (n, 2), px
        self._columns, self._rows = (int(size / CELL) + 2 * EDGE + 2 for size in (width, height))
        self._counts = self._counted(np.concatenate(self.lines) if lines else np.empty((0, 2)))
        self._taken: list[Box] = []

    def _inside(self, line: Floats) -> NDArray[np.bool_]:
        xs, ys = line[:, 0], line[:, 1]
        return np.asarray((xs >= 0) & (xs <= self.width) & (ys >= 0) & (ys <= self.height))

    def _counted(self, points: Floats) -> NDArray[np.int64]:
        """How many points lie left of and above each corner of the grid."""
        cells = (points / CELL).astype(np.int64) + EDGE
        flat = np.bincount(cells[:, 1] * self._columns + cells[:, 0], minlength=self._rows * self._columns)
        counts = np.zeros((self._rows + 1, self._columns + 1), dtype=np.int64)
        np.cumsum(np.cumsum(flat.reshape(self._rows, self._columns), axis=0), axis=1, out=counts[1:, 1:])
        return counts

    def take(self, box: Box) -> None:
        """Let nothing be written in this box."""
        self._taken.append(box)

    def beside_line(self, place: int, size: Size, name: Wish, before: int | None = None) -> Found | None:
        """Where a name stands at a line; None where there is no room.

        Args:
            place: of the line among those given.
            size: of the name, px.
            name: its wishes.
            before: the choice of the last time, which is kept while it costs nothing.
        """
        line, (start, end) = self.lines[place], name.along
        last = line.shape[0] - 1
        if last < 1:
            return None

        def at(stop: int) -> tuple[float, float]:
            x, y = line[round((start + (end - start) * stop / (STOPS - 1)) * last)]
            return float(x), float(y)

        return self._cheapest(Choices(at, STOPS, SIDES, size, GAP), name.must, before, line)

    def at_mark(
        self, spot: tuple[float, float, float], size: Size, name: Wish, before: int | None = None
    ) -> Found | None:
        """The same at a mark, given where it stands and how far it reaches."""
        return self._cheapest(Choices(lambda _: spot[:2], 1, name.sides, size, spot[2] + GAP), name.must, before)

    def in_a_corner(self, size: Size, _name: Wish, before: int | None = None) -> Found | None:
        """The same of a title, in a corner of the view."""
        for choice in CORNERS if before is None else (before, *CORNERS):
            side = (float(choice % 2), float(choice // 2))
            spot = (side[0] * self.width, side[1] * self.height)
            corner = Choices(lambda _, spot=spot: spot, 1, (side,), size, GAP).corner(0)  # type: ignore[misc]
            if self._is_clean(*corner, size, None):
                return self._taken_at(*corner, size, choice)
        return None

    def _cheapest(self, choices: Choices, must: bool, before: int | None, own: Floats | None = None) -> Found | None:
        """The place that costs least, the earlier one of equals; mostly it is one of the first."""
        size, few = choices.size, range(min(FEW, choices.count))
        for choice in few if before is None else (before, *few):
            if self._is_clean(*choices.corner(choice), size, own):
                return self._taken_at(*choices.corner(choice), size, choice)
        corners = np.array([choices.corner(choice) for choice in range(choices.count)])
        free = np.flatnonzero(self._free(corners, size))
        if free.size == 0:
            return None
        corners = corners[free]
        cost = LATER * free + CROSSED * self._crossed(corners, size, -1.0)
        if own is not None:
            near = self._crossed(corners, size, NEARBY) - _count(own, corners, size, NEARBY)
            cost += CLOSE * np.maximum(near, 0.0)
        best = int(np.argmin(cost))
        if cost[best] >= CROSSED and not must:
            return None
        return self._taken_at(float(corners[best, 0]), float(corners[best, 1]), size, int(free[best]))

    def _taken_at(self, left: float, top: float, size: Size, choice: int) -> Found:
        self.take((left - APART, top, left + size[0] + APART, top + size[1]))
        return left, top, choice

    def _is_clean(self, left: float, top: float, size: Size, own: Floats | None) -> bool:
        """Whether a place costs nothing, so that no later one can be better: mostly one of the first does."""
        right, low = left + size[0], top + size[1]
        if left < 0 or top < 0 or right > self.width or low > self.height:
            return False
        margin = -1.0 if own is None else NEARBY
        within = self._within(left - margin, top - margin, right + margin, low + margin)
        if within and (own is None or self._within(left + 1, top + 1, right - 1, low - 1)):
            return False
        if any(left < x1 and right > x0 and top < y1 and low > y0 for x0, y0, x1, y1 in self._taken):
            return False
        return own is None or not within or bool(within <= _count(own, np.array([[left, top]]), size, NEARBY)[0])

    def _within(self, left: float, top: float, right: float, low: float) -> int:
        counts, half = self._counts, EDGE + 0.5
        x0, y0 = int(left / CELL + half), int(top / CELL + half)
        x1, y1 = int(right / CELL + half), int(low / CELL + half)
        return int(counts[y1, x1] - counts[y0, x1] - counts[y1, x0] + counts[y0, x0])

    def _free(self, corners: Floats, size: Size) -> NDArray[np.bool_]:
        """Whether each place is inside the view and off what is taken."""
        left, top = corners.T
        right, low = left + size[0], top + size[1]
        inside = (left >= 0) & (top >= 0) & (right <= self.width) & (low <= self.height)
        x0, y0, x1, y1 = np.array(self._taken).reshape(-1, 4).T
        left, top, right, low = (each[:, None] for each in (left, top, right, low))
        hit = (left < x1) & (right > x0) & (top < y1) & (low > y0)
        return np.asarray(inside & ~hit.any(axis=1))

    def _crossed(self, corners: Floats, size: Size, margin: float) -> Floats:
        """How many points of lines lie in each box, made larger by a margin all round; to a cell of the grid."""
        left, top = ((corners - margin) / CELL + (EDGE + 0.5)).astype(np.int64).T
        right, low = ((corners + np.array(size) + margin) / CELL + (EDGE + 0.5)).astype(np.int64).T
        counts = self._counts
        return np.asarray(counts[low, right] - counts[top, right] - counts[low, left] + counts[top, left], np.float64)


def _count(points: Floats, corners: Floats, size: Size, margin: float) -> Floats:
    """How many points lie in each box, made larger by a margin all round."""
    (xs, ys), (left, top) = points.T, corners.T[:, :, None]
    across = (xs > left - margin) & (xs < left + size[0] + margin)
    down = (ys > top - margin) & (ys < top + size[1] + margin)
    return np.asarray((across & down).sum(axis=1), dtype=np.float64)
