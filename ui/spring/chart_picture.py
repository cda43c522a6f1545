"""What the stress and the surge picture share: charts with a read-out, notes beneath, an empty state, and paper."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QStackedWidget, QVBoxLayout, QWidget
from typing_extensions import override

from loadbench.errors import SaveError
from ui.plots.ink import Ink, screen_ink
from ui.plots.paper import asked_path
from ui.spring.chart import Told
from ui.spring.chart_export import copy_picture, save_picture
from ui.theme import theme
from ui.widgets.wrapped_label import WrappedLabel

if TYPE_CHECKING:
    from pathlib import Path

    from PySide6.QtGui import QHideEvent, QShowEvent

    from loadbench.units import Style
    from ui.session import Session
    from ui.spring.chart_scale import ChartScale
    from ui.state import State


class ChartPicture(QWidget):
    """Draws what it was last told to show; hidden, it only remembers it. A kind of picture says how it is built."""

    said = Signal(str)  # the read-out

    def __init__(self, session: Session, scale: ChartScale, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session, self.scale = session, scale
        self.setObjectName(f"{name}_view")
        self.told = Told()
        self.key = ""  # of the mark that is read out
        self.across: float | None = None  # place across that is read out, in the unit on show
        self._wanted: tuple[State, str, str | None] | None = None
        self._stale = False
        self._style = session.style
        self.empty, self.notes = WrappedLabel(role="quiet"), WrappedLabel(role="quiet")
        self._lay_out(name)
        scale.hovered.connect(self._hovered)
        scale.walked.connect(self._walk)
        scale.moved.connect(self._move)
        scale.copied.connect(self.copy)
        session.styled.connect(self._restyled)
        theme().changed.connect(self._themed)
        self.restyle(screen_ink())

    def _lay_out(self, name: str) -> None:
        self.empty.setObjectName(f"{name}_empty")
        self.empty.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.empty.setContentsMargins(24, 8, 24, 8)
        self.notes.setObjectName(f"{name}_notes")
        self.notes.setContentsMargins(8, 0, 8, 0)
        drawn = QWidget()
        inside = QVBoxLayout(drawn)
        inside.setContentsMargins(0, 0, 0, 0)
        inside.setSpacing(2)
        inside.addWidget(self.scale, 1)
        inside.addWidget(self.notes)
        self._stack = QStackedWidget()
        self._stack.addWidget(drawn)
        self._stack.addWidget(self.empty)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.addWidget(self._stack)

    # What a kind of picture says

    def build(self, state: State, line: str, member: str | None, style: Style) -> Told:
        """The picture of a line of a state."""
        raise NotImplementedError

    def read_at(self, place: float) -> str:
        """What the read-out says at a place across, in the unit on show."""
        raise NotImplementedError

    def stride(self) -> float:
        """One step of the arrow keys across, in the unit on show."""
        raise NotImplementedError

    def rows(self) -> list[list[str]]:
        """The data behind the picture, a header first."""
        raise NotImplementedError

    def title(self) -> str:
        """What the picture is called."""
        raise NotImplementedError

    # Showing

    def show_state(self, state: State, line: str, member: str | None) -> None:
        """Draw one line's nest with one spring of it chosen; None: the first.

        Args:
            state: what holds now.
            line: "common", "intake" or "exhaust".
            member: name of the spring.
        """
        self._wanted = (state, line, member)
        self._stale = True
        if self.isVisible():
            self._draw()

    def _draw(self) -> None:
        if self._wanted is not None and self._stale:
            self._stale = False
            self.show_told(self.build(*self._wanted, self.session.style))

    def show_told(self, told: Told) -> None:
        """Draw a picture that is already built; the same one again costs nothing."""
        if told is self.told and told.charts:
            return
        self.told = told
        self._stack.setCurrentIndex(1 if told.empty else 0)
        self.empty.tell(told.empty)
        self.notes.tell(" ".join(told.notes))
        self._describe()
        if not told.empty:
            self.scale.show_charts(told.charts)
            self._read(self.key if self.key in told.says else "", self.across, say=bool(self.key))

    def _describe(self) -> None:
        for widget in (self.scale, self.scale.viewport()):
            widget.setAccessibleName(self.title())
        self.scale.setAccessibleDescription(self.told.description or self.told.empty)

    def _restyled(self, style: Style) -> None:
        """Other units: what the user zoomed to would be other stresses, so the whole is shown again."""
        if style is not self._style:
            self._style, self._stale, self.across = style, True, None
            self.scale.zoomed = False
            if self.isVisible():
                self._draw()

    def _themed(self) -> None:
        self.restyle(screen_ink())

    def restyle(self, ink: Ink) -> None:
        """Draw with another ink from now on."""
        self.scale.restyle(ink)

    def reset_view(self) -> None:
        """The whole picture again."""
        self.scale.reset()

    @override
    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._draw()

    @override
    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        self._read("", None, say=False)

    # Read-out

    def _hovered(self, key: str, place: float) -> None:
        self._read(key, None if key else place)

    def _walk(self, steps: int) -> None:
        keys = list(self.told.says)
        if keys:
            at = keys.index(self.key) + steps if self.key in keys else (0 if steps > 0 else len(keys) - 1)
            self._read(keys[min(max(at, 0), len(keys) - 1)], None)

    def _move(self, steps: int) -> None:
        if not self.told.charts:
            return
        by, (low, high) = self.stride(), self.told.charts[0].x_range
        start = self._start() if self.across is None else self.across
        self._read("", min(max(round(start / by) * by + steps * by, low), high))

    def _start(self) -> float:
        """Where the arrow keys start across: at the mark that is read out, else in the middle."""
        marks = {mark.key: mark.x for chart in self.told.charts for mark in chart.marks if mark.key}
        return marks.get(self.key, sum(self.told.charts[0].x_range) / 2)

    def _read(self, key: str, cursor: float | None, *, say: bool = True) -> None:
        self.key, self.across = key, cursor
        self.scale.point_out(key, cursor)
        if not say:
            return
        text = self.told.says[key]() if key else ("" if cursor is None else self.read_at(cursor))
        if text:
            self.said.emit(text)
            self.last_said = text

    last_said = ""

    # Taking it away

    def copy(self) -> None:
        """Copy the read-out as text."""
        QGuiApplication.clipboard().setText(self.last_said)
        self.session.announce(self.tr("Read-out copied."))

    def copy_picture(self) -> None:
        """Copy the picture."""
        copy_picture(self)
        self.session.announce(self.tr("Picture copied."))

    def save_picture(self) -> None:
        """Ask where, and save the picture or the data behind it."""
        kinds = self.tr("PNG, 300 dpi (*.png);;SVG (*.svg);;PDF (*.pdf);;CSV, the data behind (*.csv)")
        path = asked_path(self, self.tr("Save picture"), kinds)
        if path is not None:
            self.save_picture_as(path)

    def save_picture_as(self, path: Path) -> None:
        """Save in the format of the file's name; a failure is told and leaves the old file."""
        try:
            save_picture(self, path, self.session.state.job.title)
        except SaveError as error:
            self.session.failed.emit(str(error))
            return
        self.session.announce(self.tr("Picture saved as {name}.").format(name=path.name))
