"""What the pictures of the Setting page share: one scale, a read-out, paper, and the rules in force."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from PySide6.QtCore import Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QWidget
from typing_extensions import override

from loadbench.errors import SaveError
from loadbench.findings.rows import rows_in_force
from loadbench.findings.rulebook import RuleBook, rule_book
from loadbench.units import Kind, from_display, step, to_display
from ui.plots.ink import Ink, screen_ink
from ui.plots.paper import asked_path
from ui.setting.gauge_scale import GaugeScale
from ui.setting.wording import tr
from ui.spring.chart import Told
from ui.spring.chart_export import copy_picture, save_picture
from ui.theme import theme

if TYPE_CHECKING:
    from pathlib import Path

    from PySide6.QtGui import QHideEvent

    from loadbench.analysis import LineAnalysis
    from loadbench.units import Style
    from ui.session import Session
    from ui.spring.chart_picture import ChartPicture
    from ui.state import State


class SettingPicture(QWidget):
    """A kind of picture says what it draws, what its read-out says and which data lie behind."""

    said = Signal(str)

    def __init__(self, session: Session, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.setObjectName(f"{name}_view")
        self.scale = GaugeScale(name)
        self.told = Told()
        self.key, self.across = "", None  # what the export puts back
        self.read_height: float | None = None  # m, upwards
        self.last_said = ""
        self._books: tuple[object, RuleBook] | None = None
        self.scale.hovered.connect(self._hovered)
        self.scale.moved.connect(self._move)
        self.scale.copied.connect(self.copy)
        session.styled.connect(self._restyled)
        theme().changed.connect(self._themed)
        self.scale.restyle(screen_ink())

    # What a kind of picture says

    def read_at(self, height: float) -> str:
        """What the read-out says at a height, m upwards from zero."""
        raise NotImplementedError

    def start(self) -> float:
        """Where the arrow keys start, m upwards."""
        return 0.0

    def rows(self) -> list[list[str]]:
        """The data behind the picture, a header first."""
        raise NotImplementedError

    # Showing

    def line(self) -> LineAnalysis:
        """The line on show."""
        return self.session.state.analysis.line(self.session.line)

    def book(self, state: State, line: LineAnalysis) -> RuleBook:
        """The rules in force; kept while nobody changes them."""
        rows, style = rows_in_force(line.stated), state.analysis.stated.style
        token = (self.session.shop, state.job.rules, style, rows)
        if self._books is None or self._books[0] != token:
            self._books = (token, rule_book(self.session.shop, state.job.rules, style, rows))
        return self._books[1]

    def describe(self, title: str, description: str) -> None:
        """Name the picture and say what it shows, for screen readers and on paper."""
        for widget in (self.scale, self.scale.viewport()):
            widget.setAccessibleName(title)
        self.scale.setAccessibleDescription(description)

    def _themed(self) -> None:
        self.restyle(screen_ink())

    def restyle(self, ink: Ink) -> None:
        """Draw with another ink from now on."""
        self.scale.restyle(ink)

    def _restyled(self, _style: Style) -> None:
        self.scale.zoomed = False  # the numbers are others
        self._put_line()

    def reset_view(self) -> None:
        """The whole picture again."""
        self.scale.reset()

    # Read-out

    def _hovered(self, height: float) -> None:
        self._read(from_display(height, Kind.LENGTH, self.session.style))

    def _move(self, steps: int) -> None:
        by = step(Kind.LENGTH, self.session.style)
        start = self.start() if self.read_height is None else self.read_height
        self._read(round(start / by) * by + steps * by)

    def _read(self, height: float) -> None:
        self.read_height = height
        self._put_line()
        text = self.read_at(height)
        if text:
            self.last_said = text
            self.said.emit(text)

    def _put_line(self) -> None:
        height = self.read_height
        self.scale.point_out("", None if height is None else to_display(height, Kind.LENGTH, self.session.style))

    @override
    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        self.read_height = None
        self._put_line()

    # Taking it away

    def copy(self) -> None:
        """Copy the read-out as text."""
        QGuiApplication.clipboard().setText(self.last_said)
        self.session.announce(tr("Read-out copied."))

    def copy_picture(self) -> None:
        """Copy the picture."""
        copy_picture(cast("ChartPicture", self))
        self.session.announce(tr("Picture copied."))

    def save_picture(self) -> None:
        """Ask where, and save the picture or the data behind it."""
        kinds = tr("PNG, 300 dpi (*.png);;SVG (*.svg);;PDF (*.pdf);;CSV, the data behind (*.csv)")
        path = asked_path(self, tr("Save picture"), kinds)
        if path is not None:
            self.save_picture_as(path)

    def save_picture_as(self, path: Path) -> None:
        """Save in the format of the file's name; a failure is told and leaves the old file."""
        try:
            save_picture(cast("ChartPicture", self), path, self.session.state.job.title)
        except SaveError as error:
            self.session.failed.emit(str(error))
            return
        self.session.announce(tr("Picture saved as {name}.").format(name=path.name))
