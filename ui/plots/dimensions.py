"""The dimensions in the drawing (ISO 129): installed height, coils to bind for each member, retainer to seal."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainter, QPen, QPolygonF
from typing_extensions import override

from ui.plots.half_section import RIM
from ui.plots.ink import THIN, em
from ui.plots.painted import Painted
from ui.plots.section import Section

ARROW, WING = 8.0, 2.6  # length and half-width of an arrow head, px
OUT = 12.0  # how far outside a first dimension stands, px
APART = 18.0  # further ones beside it, px


@dataclass(frozen=True, slots=True, kw_only=True)
class Dimension:
    """One vertical dimension, m: between two heights, beside radius `start`, `place` px further out."""

    figure: str
    member: str | None
    low: float
    high: float
    start: float
    side: float
    place: float
    text: str
    level: str = "ink"
    extend: bool = True


def dimensions_of(section: Section, texts: dict[tuple[str, str | None], tuple[str, str]]) -> tuple[Dimension, ...]:
    """The dimensions of a section.

    Args:
        section: what is drawn.
        texts: by figure and member: the value as told, and the role of its colour. What is missing isn't dimensioned.

    Returns:
        The dimensions, installed height first.
    """
    found: list[Dimension] = []
    rim = section.radius + 2 * RIM * section.height

    def add(
        figure: str, member: str | None, levels: tuple[float, float], start: float, side: float, place: float
    ) -> None:
        text = texts.get((figure, member))
        if text is not None:
            low, high = levels
            found.append(
                Dimension(
                    figure=figure, member=member, low=low, high=high, start=start, side=side, place=place,
                    text=text[0], level=text[1], extend=start > 0,
                )
            )  # fmt: skip

    add("installed_height", None, (0.0, section.height), rim, -1.0, OUT)
    if section.open_height is None:
        return tuple(found)
    place = OUT
    for coil in section.coils:
        if coil.bind is not None and coil.open_height is not None:
            levels = (coil.seat + coil.bind, coil.seat + coil.open_height)
            add("bind_margin", coil.name, levels, rim, 1.0, place)
            place += APART
    if section.seal is not None:
        levels = (section.seal, section.open_height - section.retainer_drop)
        add("retainer_margin", None, levels, section.guide * 1.3, 1.0, 0.0)
    return tuple(found)


class Dimensions(Painted):
    """Draws the dimensions and knows which one is under a point."""

    def __init__(self) -> None:
        super().__init__(z=20)
        self.dimensions: tuple[Dimension, ...] = ()
        self.scale_to_show = 1.0
        self.lit: frozenset[tuple[str, str | None]] = frozenset()
        self._boxes: list[tuple[QRectF, Dimension]] = []

    def show_dimensions(self, dimensions: tuple[Dimension, ...], scale: float) -> None:
        """Draw these from now on."""
        self.dimensions, self.scale_to_show = dimensions, scale
        self.update()

    def light(self, lit: frozenset[tuple[str, str | None]]) -> None:
        """Light up the dimensions of some figures; a member of None means every member."""
        if lit != self.lit:
            self.lit = lit
            self.update()

    def is_lit(self, dimension: Dimension) -> bool:
        """Whether a dimension is lit up."""
        return bool({(dimension.figure, dimension.member), (dimension.figure, None)} & self.lit)

    def at(self, x: float, y: float) -> Dimension | None:
        """The dimension at a point in the unit on show; None where there is none."""
        return next((each for box, each in self._boxes if box.contains(x, y)), None)

    @override
    def draw(self, painter: QPainter) -> None:
        self._boxes = [(self._draw_one(painter, each), each) for each in self.dimensions]

    def _draw_one(self, painter: QPainter, each: Dimension) -> QRectF:
        scale, lit = self.scale_to_show, self.is_lit(each)
        low, high = each.low * scale, each.high * scale
        edge = each.side * each.start * scale
        x = edge + each.side * each.place * em() * self.px
        pen = self.ink.pen("accent" if lit else each.level, 2.0 if lit else THIN)
        if each.place:
            beyond = x + each.side * 4 * self.px
            for level in (low, high):
                self.line(painter, pen, (edge + each.side * 2 * self.px, level), (beyond, level))
        room = (high - low) / self.py
        text_wide = self.width_of(each.text, 0.86)
        outside = abs(room) < 2.5 * ARROW
        self._arrows(painter, pen, x, low, high, outside=outside)
        inside = room > text_wide + 2 * ARROW + 4
        level = (low + high) / 2 if inside else max(low, high) + (ARROW * (2.2 if outside else 0.6)) * self.py
        role = "accent" if lit else each.level
        if each.place:  # outside the part: along its line, read from the right
            anchor = (0.5, 1.0) if inside else (0.0, 0.5)
            box = self.text(
                painter,
                (x - 1 * self.px, level),
                each.text,
                role=role,
                rotated=True,
                share=0.86,
                bold=lit,
                anchor=anchor,
                ground=None if inside else "panel",
            )
        else:
            box = self.text(
                painter, (x + 5 * self.px, (low + high) / 2), each.text, role=role, share=0.86, bold=lit, ground="panel"
            )
        return self._target(box, x, low, high)

    def _target(self, box: QRectF, x: float, low: float, high: float) -> QRectF:
        """Text and line together, at least 24 px each way."""
        line = QRectF(x - 4 * self.px, min(low, high), 8 * self.px, abs(high - low))
        both = box.united(line)
        wide, tall = max(0.0, 24 * self.px - both.width()), max(0.0, 24 * self.py - both.height())
        return both.adjusted(-wide / 2, -tall / 2, wide / 2, tall / 2)

    def _arrows(self, painter: QPainter, pen: QPen, x: float, low: float, high: float, *, outside: bool) -> None:
        painter.setPen(pen)
        painter.setBrush(pen.color())
        ends = ((max(low, high), 1.0), (min(low, high), -1.0))
        tail = 2.0 * ARROW * self.py if outside else 0.0
        painter.drawLine(QPointF(x, min(low, high) - tail), QPointF(x, max(low, high) + tail))
        for tip, away in ends:
            back = tip + (away if outside else -away) * ARROW * self.py
            painter.drawPolygon(
                QPolygonF([QPointF(x, tip), QPointF(x - WING * self.px, back), QPointF(x + WING * self.px, back)])
            )
