"""The Spring page: will the wire last? Views of the coil, their figures beneath, and the read-out."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, cast

from PySide6.QtCore import QSize, Qt, QTimer
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QSplitter,
    QStackedWidget,
    QToolButton,
    QVBoxLayout,
    QWidget,
)
from typing_extensions import override

from ui.icons import icon
from ui.spring.coil_table import CoilTable
from ui.spring.first_wanting import first_wanting
from ui.spring.table_place import TablePlace
from ui.spring.views import SpringView, ViewKind, views
from ui.state import Pointing, State
from ui.theme import theme
from ui.trust.word_row import WordRow
from ui.widgets.waiting_page import WaitingPage

if TYPE_CHECKING:
    from PySide6.QtGui import QHideEvent, QShowEvent

    from loadbench.analysis import LineAnalysis
    from ui.session import Session


class _Views(QStackedWidget):
    """Only the one on show says how much room is needed."""

    @override
    def minimumSizeHint(self) -> QSize:
        page = self.currentWidget()
        return page.minimumSizeHint() if page is not None else QSize()


class SpringPage(QWidget):
    """Shows one view at a time; nothing is worked out while the page is hidden."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("spring_page")
        self.session = session
        self.kinds: dict[str, ViewKind] = {kind.key: kind for kind in views()}
        self.made: dict[str, QWidget] = {}
        words = [(kind.key, kind.word, kind.tip) for kind in self.kinds.values()]
        self.words = WordRow("spring_view", words, last_right=True)
        self.members, self.reset_button, self.read_out = QComboBox(), QToolButton(), QLabel()
        self.waiting = WaitingPage("spring_fill_first")
        self.stack, self.table = _Views(), CoilTable(session)
        self._member: str | None = None  # as chosen last; None for all
        self._missing = ""
        self._listed: tuple[str, ...] = ()
        self._stale = True
        self._lay_out()
        self._say()
        self._connect()

    # Making

    def _lay_out(self) -> None:
        self.splitter = QSplitter(Qt.Orientation.Vertical)
        self.splitter.setObjectName("spring_splitter")
        for place, part in enumerate((self.stack, self.table)):
            self.splitter.addWidget(part)
            self.splitter.setCollapsible(place, False)
            self.splitter.setStretchFactor(place, 1 - place)  # a taller window gives its room to the picture
        self.table_place = TablePlace(self.splitter, self.table)
        self.stack.addWidget(self.waiting)
        self.read_out.setObjectName("spring_read_out")
        self.read_out.setTextFormat(Qt.TextFormat.PlainText)
        self.read_out.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.read_out.setContentsMargins(8, 0, 8, 2)
        self.read_out.setWordWrap(True)
        self.read_out.setMinimumHeight(self.read_out.fontMetrics().height() + 4)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        self._fill_head()
        column.addWidget(self.words)
        column.addWidget(self.splitter, 1)
        column.addWidget(self.read_out)

    def _fill_head(self) -> None:
        """What stands beside the words: which coil, and the whole picture again."""
        self.words.setContentsMargins(8, 4, 8, 0)
        self._chooser, self._members_label = QWidget(), QLabel()
        self._members_label.setBuddy(self.members)
        self.members.setObjectName("spring_member")
        self.members.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        row = QHBoxLayout(self._chooser)
        row.setContentsMargins(8, 0, 0, 0)
        row.addWidget(self._members_label)
        row.addWidget(self.members)
        self.reset_button.setObjectName("spring_reset_view")
        self.reset_button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        self.reset_button.setMinimumSize(24, 24)
        for tool in (self._chooser, self.reset_button):
            self.words.add(tool)

    def _say(self) -> None:
        self._members_label.setText(self.tr("Spring"))
        self.members.setAccessibleName(self.tr("Spring of the nest"))
        self.members.setToolTip(self.tr("Which spring of the nest the picture shows."))
        self.reset_button.setText(self.tr("Reset view"))
        self.reset_button.setToolTip(self.tr("The whole picture again: Home, or a double click in it."))
        self.read_out.setAccessibleName(self.tr("Read-out"))
        self._say_how_to_read()
        self._say_icon()

    def _say_how_to_read(self) -> None:
        self.read_out.setText(self.tr("Point at the picture, or press the arrow keys in it, to read it."))

    def _say_icon(self) -> None:
        self.reset_button.setIcon(icon("reset-view"))

    def _connect(self) -> None:
        session = self.session
        session.changed.connect(self._show)
        session.styled.connect(self._follow)
        session.line_chosen.connect(self._follow)
        session.loaded.connect(self._say_how_to_read)  # what stands there was read from the job before
        self.words.chosen.connect(self._view_chosen)
        self.members.activated.connect(self._member_chosen)
        self.reset_button.clicked.connect(self.reset_view)
        self.waiting.wanted.connect(self._fill)
        self.table.field_wanted.connect(self._go_to_field)
        theme().changed.connect(self._say_icon)

    # Showing

    @property
    def view(self) -> QWidget | None:
        """The view on show; None where the page waits for an entry."""
        shown = self.stack.currentWidget()
        return shown if shown in self.made.values() else None

    def _line(self) -> LineAnalysis:
        return self.session.state.analysis.line(self.session.line)

    def _follow(self, _what: object) -> None:
        self._show(self.session.state)

    def _show(self, state: State) -> None:
        if not self.isVisible():
            self._stale = True
            return
        self._stale = False
        line, kind = self._line(), self.kinds[self.words.key]
        self._list_members(line, kind)
        member = self._shown_member(line, kind)
        self._missing = first_wanting(line, member) if kind.needs_wire else ""
        self._show_parts(kind)
        if self._missing:
            self._tell_need(self._missing)
            return
        if kind.groups:
            self.table.show_coils(line.coils, kind.groups)
            if self.table_place.placed != kind.key:
                self.table_place.placed = kind.key
                # once the page has its size
                QTimer.singleShot(0, self, lambda: self.table_place.place(self.words.key))
        cast("SpringView", self.made[kind.key]).show_state(state, self.session.line, member)

    def _show_parts(self, kind: ViewKind) -> None:
        empty = bool(self._missing)
        if not empty and kind.key not in self.made:
            self._make(kind)
        shown = self.waiting if empty else self.made[kind.key]
        if self.stack.currentWidget() is not shown:
            self.stack.setCurrentWidget(shown)
            self.stack.updateGeometry()
        self.table.setVisible(not empty and bool(kind.groups))
        self.reset_button.setVisible(not empty and hasattr(self.made.get(kind.key), "reset_view"))
        self.read_out.setVisible(not empty)

    def _make(self, kind: ViewKind) -> None:
        view = self.made[kind.key] = kind.make(self.session)
        self.stack.addWidget(view)
        before: QWidget = self.reset_button  # made last, it would come last in the whole window
        for widget in _focusable(view):
            QWidget.setTabOrder(before, widget)
            before = widget
        cast("SpringView", view).said.connect(self.read_out.setText)

    def _list_members(self, line: LineAnalysis, kind: ViewKind) -> None:
        names = tuple(coil.name for coil in line.coils)
        several = len(names) > 1
        self._chooser.setVisible(several and kind.needs_wire)
        wanted = (*(("",) if kind.takes_all else ()), *names)
        if wanted != self._listed:
            self._listed = wanted
            self.members.clear()
            for name in wanted:
                self.members.addItem(name or self.tr("all"), name)
        member = self._shown_member(line, kind)
        place = self.members.findData(member or "")
        if place >= 0 and place != self.members.currentIndex():
            self.members.setCurrentIndex(place)

    def _shown_member(self, line: LineAnalysis, kind: ViewKind) -> str | None:
        """The coil that the view shows: as chosen; the first where all are chosen and the view takes one."""
        names = [coil.name for coil in line.coils]
        if self._member in names:
            return self._member
        return None if kind.takes_all or not names else names[0]

    def _tell_need(self, field: str) -> None:
        sentence = self.tr(
            "What a wire bears follows from its section, the coil's diameter and its turns.\n"
            "The page waits for: {name}."
        )
        self.waiting.tell(sentence, field)

    def _fill(self) -> None:
        """Put the focus into the field that the page waits for; a spring without any coil gets its first."""
        field = self._missing
        if not any(coil.path for coil in self._line().coils):
            self.session.set_fields(self.tr("add member"), {self.session.own_field("spring.coils"): ({},)})
        self.session.point_at(Pointing(fields=(field,)))
        self._go_to_field(field)

    def _go_to_field(self, field: str) -> None:
        go = getattr(self.window(), "go_to_field", None)  # a window of its own has none
        if go is not None:
            go(field)

    # Choosing

    def _view_chosen(self, _key: str) -> None:
        self._say_how_to_read()
        self._show(self.session.state)

    def _member_chosen(self, _place: int) -> None:
        self._member = self.members.currentData() or None
        self._show(self.session.state)

    @override
    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self.table_place.recall()
        if self._stale:
            self._show(self.session.state)

    @override
    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        if self.table.pane is not None:
            self.table.pane.close()

    @override
    def minimumSizeHint(self) -> QSize:
        """For the width of now: Qt would reckon with the tools wrapped as in the narrowest page."""
        least, layout = super().minimumSizeHint(), self.layout()
        height = least.height() if layout is None else layout.minimumHeightForWidth(max(self.width(), least.width()))
        return QSize(least.width(), height)

    # What the commands of the window ask of the page

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


def _focusable(view: QWidget) -> list[QWidget]:
    """What takes the focus in a view, in its own order."""
    found: list[QWidget] = []
    widget: QWidget | None = view
    while widget is not None and (widget is view or view.isAncestorOf(widget)):
        if widget.focusPolicy() & Qt.FocusPolicy.TabFocus:
            found.append(widget)
        widget = widget.nextInFocusChain()
        if widget is view:
            break
    return found
