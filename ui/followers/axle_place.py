"""One place of the change-over picture, an open load and a share of idling: what both axles carry there."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from loadbench.analysis.changeover import ChangeOverShown, changeover_of
from loadbench.follower.changeover import crossing

if TYPE_CHECKING:
    from loadbench.analysis import LineAnalysis
    from loadbench.arrays import Floats


@dataclass(frozen=True, slots=True, kw_only=True)
class AxlePlace:
    """SI. Margins are limit over value, or value over limit: above 1 it holds."""

    load: float
    share: float
    life: float
    safety: float
    pressure: float
    pv: float
    needle_margin: float
    bush_margin: float
    change: float | None
    """Open load from which on the bush is nearer to its list than the needles to theirs, N; None off the grid."""


class _Last:
    """The last line and its grid: the page asks whether there is one, then draws it."""

    line: LineAnalysis | None = None
    shown: ChangeOverShown | None = None


def shown_of(line: LineAnalysis) -> ChangeOverShown | None:
    """The grid of a line; None while something is missing."""
    if _Last.line is not line:
        _Last.line, _Last.shown = line, changeover_of(line)
    return _Last.shown


def changes_at(shown: ChangeOverShown) -> Floats:
    """Where both axles are equally far from what they bear: N, for each share; NaN off the grid."""
    grid = shown.grid
    return crossing(grid.needle_margin / grid.bush_margin, grid.loads)


def place_at(shown: ChangeOverShown, load: float, share: float) -> AxlePlace:
    """What both axles carry at a place.

    Args:
        shown: the grid.
        load: open load, N; what is beyond the grid counts as its edge.
        share: of time idling, 0 to 1.
    """
    grid = shown.grid
    across = _weights(grid.shares, share)
    up = _weights(np.log(grid.loads), float(np.log(load)))

    def value(of: Floats) -> float:
        """Straight in the logarithms, as powers of the load are."""
        total = sum(a * b * float(np.log(max(float(of[row, column]), 1e-300))) for row, a in up for column, b in across)
        return float(np.exp(total))

    change = float(np.interp(share, grid.shares, changes_at(shown)))
    return AxlePlace(
        load=load, share=share, life=value(grid.needle_life), safety=value(grid.needle_safety),
        pressure=value(grid.bush_pressure), pv=value(grid.bush_pv), needle_margin=value(grid.needle_margin),
        bush_margin=value(grid.bush_margin), change=change if np.isfinite(change) else None,
    )  # fmt: skip


def _weights(marks: Floats, at: float) -> tuple[tuple[int, float], ...]:
    """The two neighbours on a rising axis, each with its weight."""
    row = int(np.clip(np.searchsorted(marks, at) - 1, 0, marks.size - 2))
    part = float(np.clip((at - marks[row]) / (marks[row + 1] - marks[row]), 0.0, 1.0))
    return (row, 1 - part), (row + 1, part)
