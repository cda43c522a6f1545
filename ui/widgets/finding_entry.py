"""One entry of the findings: sign, word and sentence; it opens, and pointing at it lights up what it speaks of."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QEnterEvent, QFocusEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QFrame, QGridLayout, QLabel, QWidget
from typing_extensions import override

from ui.icons import level_pixmap
from ui.level_words import level_word
from ui.palette import colours
from ui.state import Pointing
from ui.theme import theme
from ui.widgets.finding_detail import FindingDetail
from ui.widgets.finding_groups import Group, place_of
from ui.widgets.wrapped_label import WrappedLabel

if TYPE_CHECKING:
    from loadbench.units import Style


class FindingEntry(QFrame):
    """One group of findings."""

    pointed = Signal(object)  # Pointing; an empty one when the pointer leaves
    field_wanted = Signal(str)
    rule_wanted = Signal(str)
    stepped = Signal(int)  # +1 or -1: the entry below or above
    entered = Signal()  # has the focus now

    def __init__(self, group: Group, style: Style, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.group, self._style = group, style
        self._lit = self._under = False
        self._detail: FindingDetail | None = None
        self.setObjectName(f"finding_{group.key[0]}")
        self.setProperty("rule", group.key[0])
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._sign = QLabel()
        self._sign.setFixedWidth(18)
        self.head = WrappedLabel(role="quiet")
        self.sentence = WrappedLabel()
        self._rows = QGridLayout(self)
        self._rows.setContentsMargins(6, 5, 6, 5)
        self._rows.setHorizontalSpacing(6)
        self._rows.setVerticalSpacing(1)
        self._rows.addWidget(self._sign, 0, 0, Qt.AlignmentFlag.AlignTop)
        self._rows.addWidget(self.head, 0, 1)
        self._rows.addWidget(self.sentence, 1, 1)
        self._rows.setColumnStretch(1, 1)
        theme().changed.connect(self._draw)
        self._tell()
        self._say_state()
        self._draw()

    def show_group(self, group: Group, style: Style) -> None:
        """Show this group as it stands now; nothing is done where it stands as before."""
        if group == self.group and style is self._style:
            return
        leveled = group.level is not self.group.level
        self.group, self._style = group, style
        self._tell()
        if leveled:
            self._draw()

    def _tell(self) -> None:
        worst = self.group.worst
        place = place_of(worst)
        count = len(self.group.findings)
        if count > 1:
            place = self.tr("{place}, worst of {count}").format(place=place or self.tr("here"), count=count)
        word = level_word(worst.level)
        head = self.tr("{word}: {title}").format(word=word, title=worst.title)
        self.head.tell(self.tr("{head} \u00b7 {place}").format(head=head, place=place) if place else head)
        self.sentence.tell(worst.sentence.told(self._style))
        self.setAccessibleName(f"{self.head.text()}. {self.sentence.text()}")
        if self.opened and self._detail is not None:
            self._detail.show_findings(self.group.findings, self._style)

    def _say_state(self) -> None:
        opened = (
            self.tr("Open; Enter closes it.")
            if self.opened
            else self.tr("Enter opens limit, margin, chance and source.")
        )
        self.setAccessibleDescription(opened)

    def _draw(self) -> None:
        self._sign.setPixmap(level_pixmap(self.group.level, 16))
        self.update()

    # Opening

    @property
    def opened(self) -> bool:
        """Whether the detail is on show."""
        return self._detail is not None and not self._detail.isHidden()

    def set_open(self, opened: bool) -> None:
        """Open or close the detail."""
        if opened and self._detail is None:
            self._detail = FindingDetail(self.field_wanted.emit, self.rule_wanted.emit)
            self._rows.addWidget(self._detail, 2, 1)
        if self._detail is not None:
            self._detail.setVisible(opened)
            if opened:
                self._detail.show_findings(self.group.findings, self._style)
        self._say_state()

    # Pointing

    def pointing(self) -> Pointing:
        """What this entry speaks of."""
        worst = self.group.worst
        figures = (worst.figure.name,) if worst.figure is not None else ()
        fields = tuple(dict.fromkeys((*worst.about, *worst.missing)))
        return Pointing(fields=fields, figures=figures, rule=worst.id, line=worst.line, member=worst.member)

    def light(self, pointing: Pointing) -> None:
        """Show whether what is pointed at anywhere concerns this entry."""
        figures = {finding.figure.name for finding in self.group.findings if finding.figure is not None}
        lit = pointing.rule == self.group.key[0] or (pointing.rule is None and bool(figures & set(pointing.figures)))
        if lit != self._lit:
            self._lit = lit
            self.update()

    @override
    def enterEvent(self, event: QEnterEvent) -> None:
        self._under = True
        self.pointed.emit(self.pointing())
        super().enterEvent(event)

    @override
    def leaveEvent(self, event: QEvent) -> None:
        self._under = False
        self.pointed.emit(Pointing())
        super().leaveEvent(event)

    @override
    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.entered.emit()
        self.pointed.emit(self.pointing())
        self.update()

    @override
    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.pointed.emit(Pointing())
        self.update()

    @override
    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() is Qt.MouseButton.LeftButton:
            self.set_open(not self.opened)
        super().mousePressEvent(event)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self.set_open(not self.opened)
        elif key in (Qt.Key.Key_Right, Qt.Key.Key_Left):
            self.set_open(key is Qt.Key.Key_Right)
        elif key in (Qt.Key.Key_Down, Qt.Key.Key_Up):
            self.stepped.emit(1 if key is Qt.Key.Key_Down else -1)
        else:
            super().keyPressEvent(event)

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        of = colours()
        if self._lit or self._under:
            painter.fillRect(self.rect(), of.colour("hover"))
        painter.setPen(QPen(of.colour("hairline"), 1))
        painter.drawLine(0, self.height() - 1, self.width(), self.height() - 1)
        if self.hasFocus():
            painter.setPen(QPen(of.colour("accent"), 2))
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))
