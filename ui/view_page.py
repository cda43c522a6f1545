"""What pages with a row of views share: the row of words, one view on show above its figures, and the read-out."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Protocol

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QLabel, QSplitter, QStackedWidget, QToolButton, QVBoxLayout, QWidget
from typing_extensions import override

from ui.icons import icon
from ui.theme import theme
from ui.trust.word_row import WordRow
from ui.widgets.waiting_page import WaitingPage

if TYPE_CHECKING:
    from PySide6.QtGui import QHideEvent

    from loadbench.analysis import LineAnalysis
    from ui.session import Session


class Pane(Protocol):
    """A formula's pane that is open."""

    def close(self) -> bool:
        """Close it."""
        ...


class ShownStack(QStackedWidget):
    """Only the one on show says how much room is needed."""

    @override
    def minimumSizeHint(self) -> QSize:
        page = self.currentWidget()
        return page.minimumSizeHint() if page is not None else QSize()


class ViewPage(QWidget):
    """A page of views; `made` holds those that were wanted so far, by their key."""

    def __init__(
        self, session: Session, name: str, words: list[tuple[str, str, str]], parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.setObjectName(f"{name}_page")
        self.session, self.name = session, name
        self.words = WordRow(f"{name}_view", words, last_right=True)
        self.reset_button, self.read_out = QToolButton(), QLabel()
        self.waiting = WaitingPage(f"{name}_fill_first")
        self.stack, self.splitter = ShownStack(), QSplitter(Qt.Orientation.Vertical)
        self._missing = ""  # the field that the page waits for
        self._stale = True

    # Making

    def lay_out(self, table: QWidget, *above: QWidget, lines: int = 1) -> None:
        """Words, what stands above the views, the views over their table, and the read-out of so many lines."""
        self.splitter.setObjectName(f"{self.name}_splitter")
        for place, part in enumerate((self.stack, table)):
            self.splitter.addWidget(part)
            self.splitter.setCollapsible(place, False)
            self.splitter.setStretchFactor(place, 1 - place)  # a taller window gives its room to the picture
        self.stack.addWidget(self.waiting)
        self.read_out.setObjectName(f"{self.name}_read_out")
        self.read_out.setTextFormat(Qt.TextFormat.PlainText)
        self.read_out.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.read_out.setContentsMargins(8, 0, 8, 2)
        self.read_out.setWordWrap(True)
        self.read_out.setMinimumHeight(lines * self.read_out.fontMetrics().height() + 4)
        self.words.setContentsMargins(8, 4, 8, 0)
        self.reset_button.setObjectName(f"{self.name}_reset_view")
        self.reset_button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        self.reset_button.setMinimumSize(24, 24)
        self.reset_button.clicked.connect(self.reset_view)
        theme().changed.connect(self._say_icon)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        for part in (self.words, *above):
            column.addWidget(part)
        column.addWidget(self.splitter, 1)
        column.addWidget(self.read_out)

    def say(self) -> None:
        """The words of what all such pages have."""
        self.reset_button.setText(self.tr("Reset view"))
        self.reset_button.setToolTip(self.tr("The whole picture again: Home, or a double click in it."))
        self.read_out.setAccessibleName(self.tr("Read-out"))
        self.say_how_to_read()
        self._say_icon()

    def say_how_to_read(self) -> None:
        """What stands in the read-out until a picture is read."""
        self.read_out.setText(self.tr("Point at the picture, or press the arrow keys in it, to read it."))

    def _say_icon(self) -> None:
        self.reset_button.setIcon(icon("reset-view"))

    # Showing

    def line(self) -> LineAnalysis:
        """The line on show."""
        return self.session.state.analysis.line(self.session.line)

    def show_only(self, shown: QWidget) -> None:
        """Put a view, or what is waited for, on show."""
        if self.stack.currentWidget() is not shown:
            self.stack.setCurrentWidget(shown)
            self.stack.updateGeometry()

    def lead_to_field(self, field: str) -> None:
        """Put the focus into a field of the panel."""
        go = getattr(self.window(), "go_to_field", None)  # a window of its own has none
        if go is not None:
            go(field)

    def open_pane(self) -> Pane | None:
        """The formula's pane, where one is open."""
        return None

    @override
    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        if (pane := self.open_pane()) is not None:
            pane.close()

    @override
    def minimumSizeHint(self) -> QSize:
        """For the width of now: Qt would reckon with the tools wrapped as in the narrowest page."""
        least, layout = super().minimumSizeHint(), self.layout()
        height = least.height() if layout is None else layout.minimumHeightForWidth(max(self.width(), least.width()))
        return QSize(least.width(), height)

    # What the commands of the window ask of the page

    @property
    def view(self) -> QWidget | None:
        """The view on show; None where the page waits for an entry."""
        shown = self.stack.currentWidget()
        return None if shown is self.waiting else shown

    def _ask(self, name: str, *given: object) -> None:
        ask = getattr(self.view, name, None)
        if ask is None:
            self.session.announce(self.tr("There is no picture on show."))
            return
        ask(*given)

    def reset_view(self) -> None:
        """The whole picture again."""
        self._ask("reset_view")

    def copy(self) -> None:
        """Copy the read-out as text."""
        QGuiApplication.clipboard().setText(self.read_out.text())
        self.session.announce(self.tr("Read-out copied."))

    def copy_picture(self) -> None:
        """Copy the picture on show."""
        self._ask("copy_picture")

    def save_picture(self) -> None:
        """Ask where, and save the picture on show or the data behind it."""
        self._ask("save_picture")

    def save_picture_as(self, path: Path) -> None:
        """Save the picture on show in the format of the file's name."""
        self._ask("save_picture_as", path)
