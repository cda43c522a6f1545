"""Pens, brushes and fonts of the picture, by the palette's roles; one place to make them thicker for print."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from PySide6.QtCore import Qt
from PySide6.QtGui import QBrush, QColor, QFont, QFontInfo, QFontMetricsF, QGuiApplication, QPen

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
        """A pen of a role that keeps its width at any zoom; a copy, so that the caller may change it."""
        return QPen(_pen(self, role, width, style, alpha))

    def dashed(self, role: str, pattern: tuple[float, ...], width: float = THIN) -> QPen:
        """A pen with a dash pattern of its own, in line widths."""
        return QPen(_dashed(self, role, pattern, width))

    def series(self, place: int, pattern: tuple[float, ...], width: float = THIN) -> QPen:
        """The pen of one of several series: colour and dash differ."""
        pen = self.dashed("ink", pattern, width)
        pen.setColor(self.colours.series[place % len(self.colours.series)])
        return pen

    def brush(self, role: str, alpha: float = 1.0) -> QBrush:
        """A fill of a role."""
        return _brush(self, role, alpha)

    def tint(self, role: str, share: float) -> QBrush:
        """A role mixed into the panel's colour: a fill that nothing shows through."""
        return _tint(self, role, share)


# The picture is drawn anew at every keystroke with some hundred of these: each is made once for an ink.


@lru_cache(maxsize=128)
def _pen(ink: Ink, role: str, width: float, style: Qt.PenStyle, alpha: float) -> QPen:
    pen = QPen(ink.colours.colour(role, alpha), width * ink.scale, style)
    pen.setCosmetic(True)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    return pen


@lru_cache(maxsize=128)
def _dashed(ink: Ink, role: str, pattern: tuple[float, ...], width: float) -> QPen:
    pen = ink.pen(role, width)
    pen.setDashPattern(list(pattern))
    return pen


@lru_cache(maxsize=128)
def _brush(ink: Ink, role: str, alpha: float) -> QBrush:
    return QBrush(ink.colours.colour(role, alpha))


@lru_cache(maxsize=128)
def _tint(ink: Ink, role: str, share: float) -> QBrush:
    mine, ground = ink.colours.colour(role), ink.colours.colour("panel")
    ends = ((mine.redF(), ground.redF()), (mine.greenF(), ground.greenF()), (mine.blueF(), ground.blueF()))
    return QBrush(QColor.fromRgbF(*(share * a + (1 - share) * b for a, b in ends)))


CHAIN = (12.0, 3.0, 2.0, 3.0)
"""The long-dash dot line of a centre line (ISO 128)."""

DASHES = ((6.0, 3.0), (2.0, 2.0), (8.0, 3.0, 2.0, 3.0))


def screen_ink() -> Ink:
    """The ink of the theme on show."""
    return Ink(colours())


USUAL_FONT = 12.0  # px


class Face:
    """A font of the picture and what it measures, px; a width is measured once, which takes as long as drawing it."""

    MOST = 512  # widths kept; texts with figures come and go

    def __init__(self, font: QFont) -> None:
        self.font = font
        self._metrics = QFontMetricsF(font)
        self.ascent, self.tall = self._metrics.ascent(), self._metrics.height()
        self._widths: dict[str, float] = {}

    def width(self, text: str) -> float:
        """How wide a text is."""
        found = self._widths.get(text)
        if found is None:
            if len(self._widths) >= self.MOST:
                self._widths.clear()
            found = self._widths[text] = self._metrics.horizontalAdvance(text)
        return found


class _Faces:
    """What was made from the window's font as it is now; another font, and all is made anew."""

    def __init__(self) -> None:
        self.window: QFont | None = None
        self.pixels = USUAL_FONT
        self.made: dict[tuple[float, bool], Face] = {}

    def follow(self) -> _Faces:
        """Itself, after a look whether the window's font is still the same."""
        window = QGuiApplication.font()
        if window != self.window:
            self.window, self.pixels = QFont(window), QFontInfo(window).pixelSize()
            self.made.clear()
        return self


_FACES = _Faces()


def em() -> float:
    """How much larger than usual the window's font is: what stands beside text grows with it."""
    return max(_FACES.follow().pixels / USUAL_FONT, 0.8)


def face(share: float = 1.0, *, bold: bool = False) -> Face:
    """The window's font in pixels, so that print does not scale it twice, with its measures."""
    faces = _FACES.follow()
    kept = faces.made.get((share, bold))
    if kept is None:
        made = QFont(QGuiApplication.font())
        made.setPixelSize(max(9, round(faces.pixels * share)))
        made.setBold(bold)
        kept = faces.made[share, bold] = Face(made)
    return kept


def font(share: float = 1.0, *, bold: bool = False) -> QFont:
    """The font alone of a `face`."""
    return face(share, bold=bold).font
