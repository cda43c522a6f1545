"""One key figure as a button: label, value with its unit and uncertainty, a mark for the worse line."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QRect, QSize, Qt, Signal
from PySide6.QtGui import QEnterEvent, QFocusEvent, QFont, QFontMetrics, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget
from typing_extensions import override

from ui.palette import colours
from ui.theme import theme
from ui.widgets.key_figures import DASH, KeyFigure

SIDE, GAP = 7, 4
VALUE_SCALE, SMALL_SCALE = 1.25, 0.88


class FigureButton(QAbstractButton):
    """Shows one figure; pressed, it opens its formula."""

    pointed = Signal(bool)

    def __init__(self, figure: KeyFigure, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.figure = figure
        self._lit = False
        self._fonts: dict[float, QFont] = {}
        self._usual = 0
        self.setObjectName(f"figure_{figure.name}")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        theme().changed.connect(self.update)
        self._say()

    def show_figure(self, figure: KeyFigure) -> None:
        """Show this figure as it stands now."""
        if figure == self.figure:
            return
        noted = bool(figure.note) != bool(self.figure.note)
        if figure.label != self.figure.label:
            self._usual = 0
        self.figure = figure
        self.setObjectName(f"figure_{figure.name}")
        self._say()
        if noted:
            self.updateGeometry()
        self.update()

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
        self.setAccessibleDescription(text)
        self.setToolTip(f"{shown.label}: {text}")

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
            self._usual = 0
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
        value = sum(QFontMetrics(font).horizontalAdvance(text) + GAP for text, font, _ in self._parts())
        return max(value, self._usual_width()) + 2 * SIDE

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

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        of = colours()
        painter.fillRect(self.rect(), of.colour("hover" if self._lit or self.underMouse() else "panel"))
        painter.setPen(QPen(of.colour("accent" if self.hasFocus() else "hairline"), 2 if self.hasFocus() else 1))
        edge = 1 if self.hasFocus() else 0
        painter.drawRect(self.rect().adjusted(edge, edge, -1, -1))
        inner = self.rect().adjusted(SIDE, 4, -SIDE, -5)
        painter.setPen(of.colour("quiet"))
        painter.drawText(inner, Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignLeft, self.figure.label)
        if self.figure.note:
            painter.setFont(self._scaled(SMALL_SCALE))
            note = painter.fontMetrics().elidedText(self.figure.note, Qt.TextElideMode.ElideRight, inner.width())
            painter.drawText(inner, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignBottom, note)
            inner.setBottom(inner.bottom() - painter.fontMetrics().lineSpacing())
        self._paint_value(painter, inner)

    def _paint_value(self, painter: QPainter, inner: QRect) -> None:
        x, base = inner.left(), inner.bottom() - QFontMetrics(self._scaled(VALUE_SCALE)).descent()
        for text, font, role in self._parts():
            painter.setFont(font)
            painter.setPen(colours().colour(role))
            painter.drawText(x, base, text)
            x += painter.fontMetrics().horizontalAdvance(text) + GAP

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
