"""The plunger: both travels side by side at this job's load and speed, the oil beneath them drawn to one scale."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from PySide6.QtWidgets import QVBoxLayout, QWidget
from typing_extensions import override

from ui.followers.plunger_chart import plunger_picture, plunger_rows, travel_sentence, travels_listed
from ui.followers.wording import tr
from ui.motion.stacked import StackedScale
from ui.plots.axes import PlainAxis, SidesAxis
from ui.spring.chart_picture import ChartPicture
from ui.trust.list_table import ListTable

if TYPE_CHECKING:
    from pathlib import Path

    from loadbench.analysis import LineAnalysis
    from loadbench.units import Style
    from ui.session import Session
    from ui.spring.chart import Told
    from ui.state import State


class DepthAxis(PlainAxis):
    """Depth counts down from the stop; above it there is nothing to be read."""

    @override
    def tickStrings(self, values: list[float], scale: float, spacing: float) -> list[str]:
        strings: list[str] = super().tickStrings([abs(value) for value in values], scale, spacing)
        return [text if value <= 1e-9 else "" for value, text in zip(values, strings, strict=True)]


class BoreScale(StackedScale):
    """One chart: depth up its side, no numbers beneath."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(name, 1, parent)
        axes: dict[str, Any] = {"left": DepthAxis("left"), "bottom": SidesAxis("bottom")}
        self.plots[0].setAxisItems(axes)
        self.axes[:] = axes.values()


class PlungerPicture(ChartPicture):
    """Two plungers in their bores, to one scale."""

    scale: BoreScale

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        self.line: LineAnalysis | None = None
        super().__init__(session, BoreScale("plunger_picture"), "plunger", parent)

    @override
    def build(self, state: State, line: str, member: str | None, style: Style) -> Told:
        self.line = state.analysis.line(line)
        return plunger_picture(self.line, style)

    @override
    def read_at(self, place: float) -> str:
        if self.line is None or not self.line.follower.travels:
            return ""
        travels = self.line.follower.travels
        return travel_sentence(travels[0 if place < 1.5 else len(travels) - 1], self.session.style)

    @override
    def _move(self, steps: int) -> None:
        """From bore to bore: there is nothing between them."""
        self._walk(steps)

    @override
    def stride(self) -> float:
        return 1.0

    @override
    def rows(self) -> list[list[str]]:
        return [] if self.line is None else plunger_rows(self.line, self.session.style)

    @override
    def title(self) -> str:
        return tr("Standard and short travel side by side")


class PlungerView(QWidget):
    """The picture over a table of what each plunger does."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.setObjectName("plunger_page_view")
        self.picture, self.table = PlungerPicture(session), ListTable("plunger_table", tr("What each plunger does"))
        self.said = self.picture.said
        self._shown: tuple[State, str] | None = None
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(self.picture, 1)
        column.addWidget(self.table)
        session.styled.connect(self._restyled)

    @property
    def focus_chain(self) -> tuple[QWidget, ...]:
        """Where the focus goes, in this order."""
        return self.picture.scale, self.table.view

    def show_state(self, state: State, line: str) -> None:
        """Show a line of a state."""
        self._shown = (state, line)
        self.picture.show_state(state, line, None)
        travels = state.analysis.line(line).follower.travels
        self.table.show_list(travels_listed(travels, self.session.style))
        view = self.table.view
        rows = sum(view.rowHeight(row) for row in range(self.table.model.rowCount()))
        view.setFixedHeight(rows + view.horizontalHeader().sizeHint().height() + 2 * view.frameWidth() + 2)
        self.table.setVisible(bool(travels))

    def _restyled(self, _style: Style) -> None:
        if self._shown is not None:
            self.show_state(*self._shown)

    def reset_view(self) -> None:
        """The whole picture again."""
        self.picture.reset_view()

    def copy_picture(self) -> None:
        """Copy the picture."""
        self.picture.copy_picture()

    def save_picture(self) -> None:
        """Ask where, and save the picture or the data behind it."""
        self.picture.save_picture()

    def save_picture_as(self, path: Path) -> None:
        """Save in the format of the file's name."""
        self.picture.save_picture_as(path)
