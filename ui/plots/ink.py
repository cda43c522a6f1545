"""Pens, brushes and fonts of the picture, by the palette's roles; one place to make them thicker for print."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from PySide6.QtCore import Qt
from PySide6.QtGui import QBrush, QColor, QFont, QFontInfo, QGuiApplication, QPen

from ui.palette import Colours, colours

THICK = 1.6  # outlines (ISO 128)
THIN = 0.8  # centre lines, dimensions
CURVE = 2.0


@dataclass(frozen=True, slots=True)
class Ink:
    """What everything is drawn with. `scale` is 1 on screen; print pictures have more pixels to a millimetre."""

    colours: Colours
    scale: float = 1.0

    def pen(
        self, role: str, width: float = THIN, style: Qt.PenStyle = Qt.PenStyle.SolidLine, alpha: float = 1.0
    ) -> QPen:
        """A pen of a role that keeps its width at any zoom."""
        pen = QPen(self.colours.colour(role, alpha), width * self.scale, style)
        pen.setCosmetic(True)
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
        return pen

    def dashed(self, role: str, pattern: tuple[float, ...], width: float = THIN) -> QPen:
        """A pen with a dash pattern of its own, in line widths."""
        pen = self.pen(role, width)
        pen.setDashPattern(list(pattern))
        return pen

    def series(self, place: int, pattern: tuple[float, ...], width: float = THIN) -> QPen:
        """The pen of one of several series: colour and dash differ."""
        pen = self.dashed("ink", pattern, width)
        pen.setColor(self.colours.series[place % len(self.colours.series)])
        return pen

    def brush(self, role: str, alpha: float = 1.0) -> QBrush:
        """A fill of a role."""
        return QBrush(self.colours.colour(role, alpha))

    def tint(self, role: str, share: float) -> QBrush:
        """A role mixed into the panel's colour: a fill that nothing shows through."""
        mine, ground = self.colours.colour(role), self.colours.colour("panel")
        ends = ((mine.redF(), ground.redF()), (mine.greenF(), ground.greenF()), (mine.blueF(), ground.blueF()))
        return QBrush(QColor.fromRgbF(*(share * a + (1 - share) * b for a, b in ends)))


CHAIN = (12.0, 3.0, 2.0, 3.0)
"""The long-dash dot line of a centre line (ISO 128)."""

DASHES = ((6.0, 3.0), (2.0, 2.0), (8.0, 3.0, 2.0, 3.0))


def screen_ink() -> Ink:
    """The ink of the theme on show."""
    return Ink(colours())


USUAL_FONT = 12.0  # px


def em() -> float:
    """How much larger than usual the window's font is: what stands beside text grows with it."""
    return max(_pixels(QGuiApplication.font().toString()) / USUAL_FONT, 0.8)


_FONTS: dict[tuple[float, bool], tuple[QFont, QFont]] = {}
"""The last font made for each share, beside the window's font that it was made from."""


def font(share: float = 1.0, *, bold: bool = False) -> QFont:
    """The window's font in pixels, so that print does not scale it twice."""
    window = QGuiApplication.font()
    kept = _FONTS.get((share, bold))
    if kept is None or kept[0] != window:
        made = QFont(window)
        made.setPixelSize(max(9, round(_pixels(window.toString()) * share)))
        made.setBold(bold)
        kept = _FONTS[share, bold] = (QFont(window), made)
    return kept[1]


@lru_cache(maxsize=8)
def _pixels(described: str) -> int:
    """The size of a font in pixels; asking Qt anew for every text takes longer than drawing it."""
    base = QFont()
    base.fromString(described)
    return QFontInfo(base).pixelSize()
