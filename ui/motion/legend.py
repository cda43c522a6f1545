"""A row of samples of lines with their names, in a chart whose curves lie too close for names beside them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ui.spring.chart import Mark, Name, Shape, straight

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ui.spring.chart import Look, Stroke

DOWN, SAMPLE = 0.17, 5.0  # of a chart's height, beneath its title; a sample is as wide as so many letters
WIDE = 1.15  # so much wider than the usual letter some are
LETTERS = 80.0  # in a chart's width: fewer entries than these do not spread over all of it

SIDES = ((0.0, 0.5), (0.0, 0.3), (0.0, 0.1))
"""A name stands beside its sample, or somewhat lower where the chart's top is near."""

Entry = tuple["Look", tuple[str, ...]]
"""How a line looks and what it is called, the longest name first."""


def legend(
    entries: Sequence[Entry],
    x_range: tuple[float, float],
    y_range: tuple[float, float],
    *,
    down: float = DOWN,
    start: float = 0.0,
) -> tuple[tuple[Stroke, ...], tuple[Mark, ...]]:
    """Samples and names side by side, each with room for its name.

    Args:
        entries: in their order.
        x_range: of the chart.
        y_range: of the chart.
        down: how far beneath the chart's top they stand, share of its height.
        start: how far from the chart's left side they begin, share of its width.
    """
    wide, y = x_range[1] - x_range[0], y_range[1] - down * (y_range[1] - y_range[0])
    letters = [WIDE * len(texts[0]) + 1.6 * SAMPLE for _, texts in entries]
    one = (1 - start) * wide / max(sum(letters), (1 - start) * LETTERS)
    strokes, marks, x = [], [], x_range[0] + start * wide + 0.5 * SAMPLE * one
    for (look, texts), room in zip(entries, letters, strict=True):
        end = x + SAMPLE * one
        strokes.append(straight((x, y), (end, y), look))
        name = Name(texts=texts, role="ink", rank=1, must=True, sides=SIDES)
        marks.append(Mark(x=end, y=y, shape=Shape.NONE, name=name))
        x += room * one
    return tuple(strokes), tuple(marks)
