"""One key figure as a button: label, value with its unit and uncertainty, a mark for the worse line."""

from __future__ import annotations

from typing import NamedTuple

from PySide6.QtCore import QEvent, QPoint, QRect, QSize, Qt, Signal
from PySide6.QtGui import QEnterEvent, QFocusEvent, QFont, QFontMetrics, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget
from typing_extensions import override

from ui.palette import colours
from ui.theme import theme
from ui.widgets.key_figures import DASH, KeyFigure

SIDE, GAP = 7, 4
VALUE_SCALE, SMALL_SCALE = 1.25, 0.88
LABEL_FLAGS = Qt.TextFlag.TextWordWrap.value | Qt.AlignmentFlag.AlignLeft.value
NOTE_FLAGS = Qt.AlignmentFlag.AlignLeft.value | Qt.AlignmentFlag.AlignBottom.value


class Places(NamedTuple):
    """What is painted, for one size: the box of label and note, the line of the value, the value's pieces."""

    size: QSize
    inner: QRect
    value: QRect
    note: str
    pieces: list[tuple[QPoint, str, QFont, str]]


class FigureButton(QAbstractButton):
    """Shows one figure; pressed, it opens its formula."""

    pointed = Signal(bool)

    def __init__(self, figure: KeyFigure, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.figure = figure
        self._lit = False
        self._fonts: dict[float, QFont] = {}
        self._usual = self._value_width = 0
        self._placed: Places | None = None
        self._ends: dict[tuple[str, int], int] = {}  # where the label ends, px, for the one of now
        self.setObjectName(f"figure_{figure.name}")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)  # what lies beneath need not be painted first
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        theme().changed.connect(self.update)
        self._say()

    def show_figure(self, figure: KeyFigure) -> None:
        """Show this figure as it stands now."""
        if figure == self.figure:
            return
        before, self.figure = self.figure, figure
        if figure.label != before.label:
            self._usual = 0
        self.setObjectName(f"figure_{figure.name}")
        self._say()
        if bool(figure.note) != bool(before.note):
            self.updateGeometry()
        self._placed, self._value_width = None, 0
        alike = (figure.label, figure.note) == (before.label, before.note)
        self.update(self._places().value if alike else self.rect())

    def light(self, lit: bool) -> None:
        """Show whether it is pointed at anywhere."""
        if lit != self._lit:
            self._lit = lit
            self.update()

    def _say(self) -> None:
        shown = self.figure
        opens = self.tr("Opens the formula")
        text = ". ".join(part for part in (shown.waits_for, shown.line_note, opens) if part)
        self.setAccessibleName(shown.spoken)
        tip = f"{shown.label}: {text}"
        if tip != self.toolTip():  # each is an event of its own, and the value is in neither
            self.setAccessibleDescription(text)
            self.setToolTip(tip)

    # Size: the label may take two lines, the value never breaks

    def _scaled(self, scale: float) -> QFont:
        if scale not in self._fonts:
            font = QFont(self.font())
            font.setPointSizeF(self.font().pointSizeF() * scale)
            self._fonts[scale] = font
        return self._fonts[scale]

    @override
    def changeEvent(self, event: QEvent) -> None:
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.StyleChange):
            self._fonts.clear()
            self._usual = self._value_width = 0
            self._placed = None
            self._ends.clear()
        super().changeEvent(event)

    def _parts(self) -> list[tuple[str, QFont, str]]:
        """Number, uncertainty and unit, each with font and role."""
        big, small = self._scaled(VALUE_SCALE), self._scaled(SMALL_SCALE)
        value = self.figure.told
        if value is None:
            return [(DASH, big, "unknown")]
        parts = [(value.number, big, "ink")]
        if value.uncertainty:
            parts.append((f"\u00b1\u2009{value.uncertainty}", small, "quiet"))
        return [*parts, (value.unit, small, "quiet")]

    def needed_width(self) -> int:
        """The width that the widest usual value and the longest word of a label take."""
        if not self._value_width:
            parts = self._parts()
            self._value_width = sum(QFontMetrics(font).horizontalAdvance(text) + GAP for text, font, _ in parts)
        return max(self._value_width, self._usual_width()) + 2 * SIDE

    def _usual_width(self) -> int:
        """The widest of the usual value and the label's words: measured once for a font."""
        if not self._usual:
            big, small = QFontMetrics(self._scaled(VALUE_SCALE)), QFontMetrics(self._scaled(SMALL_SCALE))
            usual = big.horizontalAdvance("000.0") + small.horizontalAdvance("\u00b1\u20090.00 lbf/in") + 2 * GAP
            words = max(self.fontMetrics().horizontalAdvance(word) for word in self.figure.label.split())
            self._usual = max(usual, words)
        return self._usual

    @override
    def sizeHint(self) -> QSize:
        lines = 2 * self.fontMetrics().lineSpacing() + QFontMetrics(self._scaled(VALUE_SCALE)).lineSpacing()
        note = QFontMetrics(self._scaled(SMALL_SCALE)).lineSpacing() if self.figure.note else 0
        return QSize(self.needed_width(), lines + note + 10)

    @override
    def minimumSizeHint(self) -> QSize:
        return QSize(self.needed_width(), self.sizeHint().height())

    def _places(self) -> Places:
        """Where everything stands; worked out once for a figure and a size, not at every painting."""
        if self._placed is None or self._placed.size != self.size():
            self._placed = self._place(self.rect().adjusted(SIDE, 4, -SIDE, -5))
        return self._placed

    def _place(self, inner: QRect) -> Places:
        big, small = QFontMetrics(self._scaled(VALUE_SCALE)), QFontMetrics(self._scaled(SMALL_SCALE))
        bottom, note = inner.bottom(), self.figure.note
        if note:
            note = small.elidedText(note, Qt.TextElideMode.ElideRight, inner.width())
            bottom -= small.lineSpacing()
        x, pieces = inner.left(), []
        for text, font, role in self._parts():
            pieces.append((QPoint(x, bottom - big.descent()), text, font, role))
            x += (big if font is self._scaled(VALUE_SCALE) else small).horizontalAdvance(text) + GAP
        value = QRect(0, bottom - big.height(), self.width(), big.height() + 2)
        if self._label_end(inner) >= value.top():
            value = self.rect()  # squeezed: label and value touch, and are painted together
        return Places(self.size(), inner, value, note, pieces)

    def _label_end(self, inner: QRect) -> int:
        key = (self.figure.label, inner.width())
        if key not in self._ends:
            self._ends = {key: self.fontMetrics().boundingRect(inner, LABEL_FLAGS, self.figure.label).bottom()}
        return self._ends[key]

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        of, places = colours(), self._places()
        painter.fillRect(event.rect(), of.colour("hover" if self._lit or self.underMouse() else "panel"))
        painter.setPen(QPen(of.colour("accent" if self.hasFocus() else "hairline"), 2 if self.hasFocus() else 1))
        edge = 1 if self.hasFocus() else 0
        painter.drawRect(self.rect().adjusted(edge, edge, -1, -1))
        # at nearly every edit the value alone is painted anew
        if places.value == self.rect() or not places.value.contains(event.rect()):
            painter.setPen(of.colour("quiet"))
            painter.drawText(places.inner, LABEL_FLAGS, self.figure.label)
            painter.setFont(self._scaled(SMALL_SCALE))
            painter.drawText(places.inner, NOTE_FLAGS, places.note)
        for at, text, font, role in places.pieces:
            painter.setFont(font)
            painter.setPen(of.colour(role))
            painter.drawText(at, text)

    # Pointing

    @override
    def enterEvent(self, event: QEnterEvent) -> None:
        super().enterEvent(event)
        self.pointed.emit(True)

    @override
    def leaveEvent(self, event: QEvent) -> None:
        super().leaveEvent(event)
        self.pointed.emit(False)

    @override
    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.pointed.emit(True)

    @override
    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.pointed.emit(False)
