"""The drawing: left of the centre line the spring closed, right at full lift, the bound stack as a thin outline."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QPainter, QPainterPath, QPen, QPolygonF
from typing_extensions import override

from ui.plots.ink import CHAIN, DASHES, THICK, THIN
from ui.plots.painted import Painted
from ui.plots.section import Coil, Section
from ui.plots.stamp import stamped

LEFT, RIGHT = -1.0, 1.0
FLANGE, HUB, TIP = 0.045, 0.10, 0.17  # heights of the retainer's parts and the stem's tip above the land, in heights
SEAT = 0.055  # thickness of the head below the seat, in installed heights
RIM = 0.02  # how far retainer and seat stand out beyond the coil, in installed heights


class HalfSection(Painted):
    """Draws a section; `scale` turns metres into the unit on show."""

    def __init__(self) -> None:
        super().__init__(z=0)
        self.section: Section | None = None
        self.scale_to_show = 1.0
        self._paths: dict[str, QPainterPath] = {}
        self._cuts: list[list[QRectF]] = []

    def show_section(self, section: Section | None, scale: float) -> None:
        """Draw this from now on."""
        self.section, self.scale_to_show = section, scale
        self._paths = {} if section is None else _paths(section, scale)
        self._cuts = [] if section is None else [_wires(coil, scale) for coil in section.coils]
        self.update()

    @override
    def draw(self, painter: QPainter) -> None:
        if self.section is None:
            return
        ink = self.ink
        head = ink.tint("lines", 0.35)
        plain = ink.pen("ink", THICK)
        self._fill(painter, "head", plain, head)
        self._fill(painter, "shims", ink.pen("ink", THIN), ink.tint("watch", 0.45))
        self._fill(painter, "guide", ink.pen("lines", 1.0), ink.tint("lines", 0.2))
        if self.section.seal is not None:
            self._fill(painter, "seal", ink.pen("ink", THIN), ink.tint("accent", 0.35))
        self._fill(painter, "stem", ink.pen("ink", THIN), ink.brush("panel"))
        self._bound(painter)
        for place, coil in enumerate(self.section.coils):
            pen = ink.dashed("quiet", DASHES[0], 1.0) if coil.typical else plain
            painter.setPen(pen)
            painter.setBrush(ink.tint("accent", 0.14 if coil.typical else 0.2))
            if coil.wire.shape == "round" and stamped(painter, self._cuts[place], ink.scale):
                continue
            # one by one: the drawing as a whole then takes 1.4 ms, with one path of them all 2.3
            draw = painter.drawRect if coil.wire.shape == "rectangular" else painter.drawEllipse
            for box in self._cuts[place]:
                draw(box)
        self._fill(painter, "retainer", plain, ink.tint("lines", 0.45))
        self._fill(painter, "locks", ink.pen("ink", THIN), ink.brush("panel"))
        self._centre_line(painter)

    def _fill(self, painter: QPainter, name: str, pen: QPen, brush: QBrush) -> None:
        path = self._paths.get(name)
        if path is not None:
            painter.setPen(pen)
            painter.setBrush(brush)
            painter.drawPath(path)

    def _bound(self, painter: QPainter) -> None:
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(self.ink.pen("stop", THIN))
        path = self._paths.get("bound")
        if path is not None:
            painter.drawPath(path)

    def _centre_line(self, painter: QPainter) -> None:
        section = self.section
        if section is None:
            return
        top, low = section.height * (1 + TIP + 0.03), -section.height * (SEAT + 0.03)
        s = self.scale_to_show
        self.line(painter, self.ink.dashed("ink", CHAIN), (0, low * s), (0, top * s))


def _paths(section: Section, scale: float) -> dict[str, QPainterPath]:
    """Every part as one path in the unit on show."""
    opened = section.open_height
    sides = [(LEFT, section.height)] + ([] if opened is None else [(RIGHT, opened)])
    parts: dict[str, list[QPainterPath]] = {
        "retainer": [],
        "locks": [],
        "stem": [],
        "guide": [],
        "seal": [],
        "head": [],
        "shims": [],
    }
    for side, height in sides:
        parts["retainer"].append(_polygon(_retainer(section, height), side, scale))
        parts["locks"].append(_polygon(_lock(section, height), side, scale))
    for side in (LEFT, RIGHT):
        height = section.height if side == LEFT or opened is None else opened
        parts["stem"].append(
            _polygon(_box(0, section.stem, -SEAT * section.height, height + TIP * section.height), side, scale)
        )
        parts["guide"].append(
            _polygon(_box(section.stem, section.guide, -SEAT * section.height, _guide_top(section)), side, scale)
        )
        parts["head"].append(_polygon(_head(section), side, scale))
        if section.seal is not None:
            parts["seal"].append(
                _polygon(
                    _box(section.stem, section.guide * 1.15, section.seal - _seal_tall(section), section.seal),
                    side,
                    scale,
                )
            )
        if section.shims > 0:
            parts["shims"].append(_polygon(_box(section.guide * 1.2, section.radius, -section.shims, 0.0), side, scale))
    paths = {name: _joined(each) for name, each in parts.items() if each}
    paths["bound"] = _joined(
        [_bound_outline(coil, scale) for coil in section.coils if coil.bind and opened is not None]
    )
    return paths


def _joined(paths: list[QPainterPath]) -> QPainterPath:
    joined = QPainterPath()
    for path in paths:
        joined.addPath(path)
    return joined


Points = list[tuple[float, float]]


def _polygon(points: Points, side: float, scale: float) -> QPainterPath:
    path = QPainterPath()
    path.addPolygon(QPolygonF([QPointF(side * radius * scale, level * scale) for radius, level in points]))
    path.closeSubpath()
    return path


def _box(inner: float, outer: float, low: float, high: float) -> Points:
    return [(inner, low), (outer, low), (outer, high), (inner, high)]


def _seal_tall(section: Section) -> float:
    return min(0.09 * section.height, section.seal or 0.0)


def _guide_top(section: Section) -> float:
    return 0.42 * section.height if section.seal is None else section.seal - _seal_tall(section)


def _retainer(section: Section, height: float) -> Points:
    """Half of the retainer: its lands step down towards the inner springs, its hub ends at the stem."""
    rim, tall = RIM * section.height, section.height
    rims = sorted({_top_radius(coil) + rim / 2: coil.retainer_step for coil in section.coils}.items(), reverse=True)
    points: Points = [(rims[0][0] + rim / 2, height + FLANGE * tall), (rims[0][0] + rim / 2, height)]
    level = 0.0
    for radius, step in rims:
        if step > level:
            points += [(radius, height - level), (radius, height - step)]
            level = step
    hub = max(section.stem * 2.1, 0.5 * section.guide)
    return [*points, (section.stem, height - level), (section.stem, height + HUB * tall), (hub, height + HUB * tall)]


def _top_radius(coil: Coil) -> float:
    return (coil.small + coil.wire.across) / 2


def _lock(section: Section, height: float) -> Points:
    """Half of the split lock between stem and retainer."""
    wide, tall = section.stem * 0.55, section.height
    low, high = height - section.retainer_drop + 0.01 * tall, height + HUB * tall
    return [(section.stem, low), (section.stem + 0.4 * wide, low), (section.stem + wide, high), (section.stem, high)]


def _head(section: Section) -> Points:
    """Half of the head below the spring, raised where a member's seat stands higher."""
    rim, base = RIM * section.height, -section.shims
    steps = sorted({coil.outer + rim / 2: coil.seat for coil in section.coils}.items(), reverse=True)
    outer = section.radius + 2 * rim
    points: Points = [
        (section.guide, base - SEAT * section.height),
        (outer, base - SEAT * section.height),
        (outer, base),
    ]
    level = base
    for radius, seat in steps:
        if seat > level and seat > 0:
            points += [(radius, level), (radius, seat)]
            level = seat
    return [*points, (section.guide, level)]


def _wires(coil: Coil, scale: float) -> list[QRectF]:
    """The boxes of the wire's cuts on both sides."""
    wide, tall = coil.wire.across * scale, coil.wire.along * scale
    return [
        QRectF(side * radius * scale - wide / 2, (coil.seat + level) * scale - tall / 2, wide, tall)
        for side, points in ((LEFT, coil.closed), (RIGHT, coil.opened))
        for radius, level in points
    ]


def _bound_outline(coil: Coil, scale: float) -> QPainterPath:
    """The envelope of the bound stack on the side of full lift."""
    path = QPainterPath()
    bind = coil.bind or 0.0
    top = _top_radius(coil), (coil.small - coil.wire.across) / 2
    points = [
        ((coil.mean - coil.wire.across) / 2, coil.seat),
        (coil.outer, coil.seat),
        (top[0], coil.seat + bind),
        (top[1], coil.seat + bind),
    ]
    path.addPath(_polygon(points, RIGHT, scale))
    return path
