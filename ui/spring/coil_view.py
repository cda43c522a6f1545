"""The coil to scale at its four heights, and its load line, on one height scale; its read-out and its export."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QVBoxLayout, QWidget

from loadbench.units import Kind, Style, from_display, step, to_display
from ui.plots.export import copy_picture
from ui.plots.ink import Ink, screen_ink
from ui.spring import wording
from ui.spring.coil_export import ask_and_save, save_coil_picture
from ui.spring.coil_items import CoilItems
from ui.spring.coil_scale import CoilScale
from ui.state import Pointing
from ui.theme import theme

if TYPE_CHECKING:
    from pathlib import Path

    from loadbench.analysis import LineAnalysis
    from ui.session import Session
    from ui.state import State

LENGTH, FORCE = Kind.LENGTH, Kind.FORCE


class CoilView(QWidget):
    """Draws what it is shown; owns no value."""

    said = Signal(str)

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("coil_view")
        self.session = session
        self.view = CoilScale(self)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.addWidget(self.view)
        self.items = CoilItems(self.view)
        self.member: str | None = None
        self.read_height: float | None = None  # m
        self._line: LineAnalysis | None = None
        self._style = session.style
        self._connect()
        self.restyle(screen_ink())

    def _connect(self) -> None:
        self.view.hovered.connect(self._hovered)
        self.view.clicked.connect(self._clicked)
        self.view.keyed.connect(self._keyed)
        self.view.copied.connect(self.copy)
        theme().changed.connect(self._themed)
        self.session.pointed.connect(self._light)

    def _themed(self) -> None:
        self.restyle(screen_ink())

    def restyle(self, ink: Ink) -> None:
        """Draw everything with this ink."""
        self.items.restyle(ink)

    # Showing

    def show_state(self, state: State, line: str, member: str | None) -> None:
        """Draw a line of a state.

        Args:
            state: what holds now.
            line: the line on show.
            member: a coil of its nest by name; None for all.
        """
        self._line, style = state.analysis.line(line), self.session.style
        if member != self.member:
            self.member, self.read_height = member, None
            self.view.zoomed = False
        if style is not self._style:
            self._rescale(style)
        self.items.show_line(self._line, member, style)
        for widget in (self.view, self.view.viewport()):
            widget.setAccessibleName(self.tr("Coil picture"))
        self.view.setAccessibleDescription(wording.description(self.items.stands, self.items.lines, style))
        self._read()

    def _rescale(self, style: Style) -> None:
        heights = to_display(1.0, LENGTH, style) / to_display(1.0, LENGTH, self._style)
        loads = to_display(1.0, FORCE, style) / to_display(1.0, FORCE, self._style)
        self._style = style
        self.view.scale_ranges(heights, loads)

    # Read-out

    def _hovered(self, where: tuple[bool, float, float] | None) -> None:
        if where is None:
            return
        in_plot, x, height = where
        over = None if in_plot else self.items.dimensions.at(x, height)
        self.view.viewport().setCursor(Qt.CursorShape.PointingHandCursor if over else Qt.CursorShape.ArrowCursor)
        if in_plot:
            self.read_at(from_display(height, LENGTH, self.session.style))

    def _keyed(self, steps: int) -> None:
        stands = self.items.stands
        start = self.read_height if self.read_height is not None else stands.height("closed") or stands.tallest
        if start:
            by = step(LENGTH, self.session.style)
            self.read_at(round(start / by) * by + steps * by)

    def read_at(self, height: float | None) -> None:
        """Put the read-out at a height, m; None puts it away."""
        self.read_height = height
        self._read()

    def _read(self) -> None:
        height, style = self.read_height, self.session.style
        if height is None or height <= 0 or not self.items.stands.stands:
            self.items.cross.show_at(None)
            return
        load = self.items.lines.whole_at(height)
        at = None if load is None else (to_display(load, FORCE, style), to_display(height, LENGTH, style))
        self.items.cross.show_at(at)
        self.said.emit(wording.read_out(height, self.items.stands.height("closed"), self.items.lines, style))

    # Pointing

    def _clicked(self, in_plot: bool, x: float, height: float) -> None:
        found = None if in_plot else self.items.dimensions.at(x, height)
        if found is None:
            self.session.point_at(Pointing())
        else:
            self.session.point_at(Pointing(figures=(found.figure,), line=self.session.line, member=self.member))

    def _light(self, pointing: Pointing) -> None:
        self.items.dimensions.light(frozenset((name, None) for name in pointing.figures))

    # What the page is asked for

    def reset_view(self) -> None:
        """The whole picture again."""
        self.view.reset()

    def copy(self) -> None:
        """Copy the read-out as text."""
        stands = self.items.stands
        height = self.read_height if self.read_height is not None else stands.height("closed")
        if height is None:
            return
        text = wording.read_out(height, stands.height("closed"), self.items.lines, self.session.style)
        QGuiApplication.clipboard().setText(text)
        self.session.announce(self.tr("Read-out copied."))

    def copy_picture(self) -> None:
        """Copy the picture."""
        copy_picture(self)
        self.session.announce(self.tr("Picture copied."))

    def save_picture(self) -> None:
        """Ask where, and save the picture or the load lines behind it."""
        ask_and_save(self)

    def save_picture_as(self, path: Path) -> None:
        """Save the picture in the format of the file's name; a failure is told and leaves the old file."""
        save_coil_picture(self, path)
