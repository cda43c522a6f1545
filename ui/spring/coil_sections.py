"""The drawing: half sections of the coils at each height side by side, two to a centre line, seat and retainer thin."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainter, QPainterPath, QPolygonF
from typing_extensions import override

from ui.plots.ink import CHAIN, THICK, THIN, em
from ui.plots.painted import Painted
from ui.plots.stamp import stamped
from ui.spring.wording import state_word, tr

if TYPE_CHECKING:
    from ui.spring.stands import Profile, Stand, StandingCoil, Stands, Strip

PLATE = 0.045  # thickness of seat and retainer, in the tallest height
RIM = 0.014  # how far they stand out beyond the coil, in the tallest height
GAP = 0.68  # between two pairs, in the radius with its rim
WORDS = 0.86


class Layout:
    """Where each half stands: pairs about a centre line, all about zero; m."""

    def __init__(self, stands: Stands) -> None:
        self.tall = stands.tallest
        self.radius = stands.radius + 2 * RIM * self.tall
        self.pairs = (len(stands.stands) + 1) // 2
        self.pitch = (2 + GAP) * self.radius

    def centre(self, place: int) -> float:
        """The centre line of a half."""
        return (place // 2 - (self.pairs - 1) / 2) * self.pitch

    def side(self, place: int) -> float:
        """Left of its centre line or right."""
        return -1.0 if place % 2 == 0 else 1.0

    @property
    def half_width(self) -> float:
        """Half of the whole drawing."""
        return (self.pairs - 1) / 2 * self.pitch + self.radius


class CoilSections(Painted):
    """Draws the coils as they stand; `scale` turns metres into the unit on show."""

    def __init__(self) -> None:
        super().__init__(z=0)
        self.stands: Stands | None = None
        self.layout: Layout | None = None
        self.note = ""
        self._scale = 1.0
        self._halves: list[_Half] = []

    def show_stands(self, stands: Stands, scale: float, note: str) -> None:
        """Draw these from now on, with a note beneath."""
        self.stands, self._scale, self.note = stands, scale, note
        self.layout = Layout(stands) if stands.stands else None
        self._halves = []
        if self.layout is not None:
            self._halves = [_Half(self.layout, place, stand, scale) for place, stand in enumerate(stands.stands)]
        self.update()

    @override
    def draw(self, painter: QPainter) -> None:
        if self.layout is None:
            return
        for half in self._halves:
            self._draw_half(painter, half)
        tall, s = self.layout.tall, self._scale
        for pair in range(self.layout.pairs):
            x = self.layout.centre(2 * pair) * s
            self.line(painter, self.ink.dashed("ink", CHAIN), (x, -1.6 * PLATE * tall * s), (x, 1.04 * tall * s))
        self._names(painter)

    def _draw_half(self, painter: QPainter, half: _Half) -> None:
        ink = self.ink
        painter.setPen(ink.pen("ink", THIN))
        painter.setBrush(ink.tint("lines", 0.35))
        for path in half.plates:
            painter.drawPath(path)
        if half.strips:
            painter.setBrush(ink.tint("watch", 0.5))
            painter.drawRects(half.strips)
        painter.setPen(ink.pen("ink", THICK))
        painter.setBrush(ink.tint("accent", 0.2))
        for shape, boxes, clip in half.wires:
            painter.save()
            painter.setClipRect(clip)  # ground ends
            self._draw_wire(painter, shape, boxes)
            painter.restore()
        painter.setPen(ink.pen("ink", THICK))  # the ground faces, where the wire is cut off
        for left, right in half.lands:
            painter.drawLine(left, right)

    def _draw_wire(self, painter: QPainter, shape: str, boxes: list[QRectF]) -> None:
        if shape == "round" and stamped(painter, boxes, self.ink.scale):
            return
        draw = painter.drawRect if shape == "rectangular" else painter.drawEllipse
        for box in boxes:
            draw(box)

    def _names(self, painter: QPainter) -> None:
        if self.layout is None:
            return
        low = -PLATE * self._scale * self.layout.tall - 3 * self.py
        for half in self._halves:
            at = (half.middle, low)
            self.text(painter, at, state_word(half.state), role="quiet", anchor=(0.5, 0.0), share=WORDS)
        below = (0.0, low - 17 * em() * self.py)
        rect = self.viewRect()
        texts = (self.note, tr("to scale"))
        text = next((each for each in texts if self.width_of(each, 0.82) * self.px < rect.width()), "")
        if below[1] - 16 * em() * self.py >= rect.top():
            self.text(painter, (rect.center().x(), below[1]), text, role="quiet", anchor=(0.5, 0.0), share=0.82)


class _Half:
    """One half in the unit on show: made once for a state, not at every painting."""

    def __init__(self, layout: Layout, place: int, stand: Stand, scale: float) -> None:
        self.state = stand.state
        self._centre, self._side, self._scale = layout.centre(place), layout.side(place), scale
        tall = layout.tall
        self.middle = (self._centre + self._side * 0.55 * layout.radius) * scale
        inner = max(min((coil.profile.inner for coil in stand.coils), default=0.3 * layout.radius) - RIM * tall, 0.0)
        profiles = [coil.profile for coil in stand.coils]
        self.plates = [self._seat(profiles, inner, layout)]
        if stand.capped:
            self.plates.append(self._retainer(profiles, inner, stand.height, layout))
        self.wires = [(coil.profile.shape, self._cuts(coil), self._room(coil, stand, layout)) for coil in stand.coils]
        self.strips = [] if stand.strip is None else self._strips(stand.strip)
        self.lands = [land for coil in stand.coils for land in self._lands(coil, stand)]

    def _x(self, radius: float) -> float:
        return (self._centre + self._side * radius) * self._scale

    def _box(self, inner: float, outer: float, low: float, high: float) -> QRectF:
        left, right = sorted((self._x(inner), self._x(outer)))
        return QRectF(left, low * self._scale, right - left, (high - low) * self._scale)

    def _path(self, points: list[tuple[float, float]]) -> QPainterPath:
        path = QPainterPath()
        path.addPolygon(QPolygonF([QPointF(self._x(radius), level * self._scale) for radius, level in points]))
        path.closeSubpath()
        return path

    def _seat(self, profiles: list[Profile], inner: float, layout: Layout) -> QPainterPath:
        """The seat, raised where a coil's own stands higher."""
        rim = RIM * layout.tall
        steps = sorted({each.outer + rim / 2: each.seat_step for each in profiles}.items(), reverse=True)
        points, level = [(layout.radius, -PLATE * layout.tall), (layout.radius, 0.0)], 0.0
        for radius, step in steps:
            if step > level:
                points += [(radius, level), (radius, step)]
                level = step
        return self._path([*points, (inner, level), (inner, -PLATE * layout.tall)])

    def _retainer(self, profiles: list[Profile], inner: float, height: float, layout: Layout) -> QPainterPath:
        """The retainer's land, stepped down towards the inner coils."""
        rim, thick = RIM * layout.tall, PLATE * layout.tall
        steps = sorted({each.top + rim / 2: each.retainer_step for each in profiles}.items(), reverse=True)
        outer = (steps[0][0] if steps else layout.radius) + rim / 2
        points, level = [(outer, height + thick), (outer, height)], 0.0
        for radius, step in steps:
            if step > level:
                points += [(radius, height - level), (radius, height - step)]
                level = step
        return self._path([*points, (inner, height - level), (inner, height + thick)])

    def _cuts(self, coil: StandingCoil) -> list[QRectF]:
        s, of = self._scale, coil.profile
        wide, high = of.across * s, of.along * s
        return [QRectF(self._x(radius) - wide / 2, level * s - high / 2, wide, high) for radius, level in coil.cuts]

    def _room(self, coil: StandingCoil, stand: Stand, layout: Layout) -> QRectF:
        """From the coil's seat to its other end: what would stand out is ground away."""
        of = coil.profile
        top = max(stand.height - of.retainer_step, of.seat_step + of.along) if stand.capped else _top(coil)
        return self._box(0.0, layout.radius, of.seat_step, top)

    def _strips(self, strip: Strip) -> list[QRectF]:
        thick, wide = strip.thickness / 2, strip.width / 2
        return [
            self._box(strip.radius - thick, strip.radius + thick, level - wide, level + wide) for level in strip.levels
        ]

    def _lands(self, coil: StandingCoil, stand: Stand) -> list[tuple[QPointF, QPointF]]:
        """The ground face of a free coil, where no retainer draws the line."""
        if stand.capped or not coil.cuts:
            return []
        radius, level = coil.cuts[-1]
        half, top = coil.profile.across / 2, _top(coil) * self._scale
        if level + coil.profile.along / 2 <= _top(coil) + 1e-9:
            return []
        return [(QPointF(self._x(radius - half), top), QPointF(self._x(radius + half), top))]


def _top(coil: StandingCoil) -> float:
    """Where a free coil ends, m above the machined seat."""
    return coil.profile.seat_step + coil.height
