"""The change-over picture: how long needles last and how far a bush is from its list, over load and idling."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from loadbench.follower.changeover import Better, crossing
from loadbench.units import Kind, to_display
from ui.followers.axle_place import changes_at
from ui.followers.axle_words import force, job_sentence, notes_of
from ui.followers.wording import axis, tr
from ui.plots.ink import DASHES
from ui.spring.chart import Chart, Look, Mark, Name, Shade, Shape, Stroke, Told, straight

if TYPE_CHECKING:
    from collections.abc import Callable

    from loadbench.analysis.changeover import ChangeOverShown
    from loadbench.arrays import Floats
    from loadbench.findings.rulebook import Limit
    from loadbench.units import Style

CHANGE = Look(role="ink", width=2.2)
NEEDLE, NEEDLE_HOLDS = Look(role="accent", width=1.0, faint=True), Look(role="accent", width=2.0)
BUSH = Look(series=0, pattern=DASHES[0], width=1.0, faint=True)
BUSH_HOLDS = Look(series=0, pattern=DASHES[0], width=2.0)
TRADE = Look(role="watch", pattern=DASHES[1], width=1.4)
JOB = Look(role="ink", width=1.6)
LIVES = (10.0, 100.0, 1000.0, 10000.0)
"""Needle lives that have a line, h."""
SAME = 0.05
OVER = (2.0, 5.0, 10.0, 20.0)
"""Multiples of the bush's list that have a line."""


def axle_picture(shown: ChangeOverShown, trade: Limit, style: Style) -> Told:
    """The chart.

    Args:
        shown: the grid of both axles.
        trade: the trade's limits on open load.
        style: the units on show.
    """
    grid = shown.grid
    right, top = 100 * float(grid.shares[-1]), float(to_display(float(grid.loads[-1]), Kind.FORCE, style))
    strokes = [*_change(shown, style), *_holding(shown, style), *_trade(trade, right, style)]
    strokes += [*_lives(shown, style), *_lists(shown, style)]
    marks, own = _job(shown, right, style)
    chart = Chart(
        across=tr("Share of time idling, %"), up=axis(tr("Spring load at full lift"), Kind.FORCE, style),
        x_range=(0.0, right), y_range=(0.0, top), shades=_fields(shown, style), strokes=(*strokes, *own), marks=marks,
    )  # fmt: skip
    says: dict[str, Callable[[], str]] = {mark.key: partial(job_sentence, shown, style) for mark in marks}
    return Told(charts=(chart,), says=says, notes=notes_of(shown, trade, style), description=job_sentence(shown, style))


def _up(loads: Floats, style: Style) -> Floats:
    return np.asarray(to_display(loads, Kind.FORCE, style))


def _line(shown: ChangeOverShown, loads: Floats, look: Look, name: Name, style: Style) -> list[Stroke]:
    """A line over the shares; none where it is off the grid everywhere."""
    if np.count_nonzero(np.isfinite(loads)) < 2:
        return []
    return [Stroke(xs=100 * shown.grid.shares, ys=_up(loads, style), look=look, name=name)]


def _change(shown: ChangeOverShown, style: Style) -> list[Stroke]:
    """Where both are equally far from what they bear: this follower's own change-over."""
    texts = (tr("these parts change over here"), tr("change over"))
    name = Name(texts=texts, role="ink", bold=True, along=(0.15, 0.85), rank=0, must=True)
    return _line(shown, changes_at(shown), CHANGE, name, style)


def _holding(shown: ChangeOverShown, style: Style) -> list[Stroke]:
    """Up to where each holds all that is asked of it."""
    needles = Name(texts=(tr("needles hold life and safety"),), role="ink", along=(0.3, 0.9), rank=1)
    bush = Name(texts=(tr("the bush keeps its list"),), role="ink", along=(0.3, 0.9), rank=1)
    return [
        *_line(shown, shown.needle_limit, NEEDLE_HOLDS, needles, style),
        *_line(shown, shown.bush_limit, BUSH_HOLDS, bush, style),
    ]


def _trade(trade: Limit, right: float, style: Style) -> list[Stroke]:
    found = []
    for value, words in (
        (trade.watch, tr("trade: a bush in some uses from {load}")),
        (trade.stop, tr("trade: a bush from {load}")),
    ):
        if value is not None:
            y = float(to_display(value, Kind.FORCE, style))
            texts = (words.format(load=force(value, style)),)
            name = Name(texts=texts, role="watch", along=(0.98, 0.3), rank=1, must=True)
            found.append(straight((0.0, y), (right, y), TRADE, name))
    return found


def _lives(shown: ChangeOverShown, style: Style) -> list[Stroke]:
    found: list[Stroke] = []
    for each in LIVES:
        if abs(each * 3600 - shown.wanted_life) < SAME * shown.wanted_life:
            continue  # that one is drawn already
        name = Name(texts=(tr("needles {hours}\u2009h").format(hours=f"{each:.0f}"),), along=(0.75, 0.1), rank=3)
        found += _line(shown, crossing(shown.grid.needle_life, shown.grid.loads, each * 3600), NEEDLE, name, style)
    return found


def _lists(shown: ChangeOverShown, style: Style) -> list[Stroke]:
    found: list[Stroke] = []
    for each in OVER:
        texts = (tr("bush at {times} times its list").format(times=f"{each:.0f}"),)
        name = Name(texts=texts, along=(0.9, 0.2), rank=3)
        found += _line(shown, crossing(shown.grid.bush_margin, shown.grid.loads, 1 / each), BUSH, name, style)
    return found


def _fields(shown: ChangeOverShown, style: Style) -> tuple[Shade, ...]:
    """Tinted: where an axle holds all that is asked of it."""
    grid, found = shown.grid, []
    shares = 100 * grid.shares
    rows = ((shown.needle_limit, Better.NEEDLE, "accent"), (shown.bush_limit, Better.BUSH, "watch"))
    for limit, which, role in rows:
        edge = _up(_edge(limit, shown, which), style)
        if edge.any():
            ys = np.concatenate([np.zeros_like(edge), edge[::-1]])
            found.append(Shade(xs=np.concatenate([shares, shares[::-1]]), ys=ys, role=role, share=0.09))
    return tuple(found)


def _edge(limit: Floats, shown: ChangeOverShown, which: Better) -> Floats:
    """Up to which load an axle holds at each share: the crossing, all of the grid, or nothing of it."""
    grid = shown.grid
    holds = (grid.better.astype(int) & int(which)) > 0
    whole, none = holds.all(axis=0), ~holds.any(axis=0)
    return np.where(whole, grid.loads[-1], np.where(none, 0.0, np.where(np.isfinite(limit), limit, 0.0)))


def _job(shown: ChangeOverShown, right: float, style: Style) -> tuple[tuple[Mark, ...], tuple[Stroke, ...]]:
    """A mark where the job stands; a level line where its share of idling is not stated."""
    y = float(to_display(shown.job_load, Kind.FORCE, style))
    name = Name(texts=(tr("this job"),), role="ink", bold=True, rank=0, must=True)
    if shown.job_share is None:
        return (), (straight((0.0, y), (right, y), JOB, name),)
    mark = Mark(x=100 * shown.job_share, y=y, shape=Shape.DIAMOND, look=JOB, key="job", filled=True, name=name)
    return (mark,), ()
