"""The Spring page: will the wire last? Views of the coil, their figures beneath, and the read-out."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QWidget,
)
from typing_extensions import override

from ui.spring.coil_table import CoilTable
from ui.spring.first_wanting import first_wanting
from ui.spring.table_place import TablePlace
from ui.spring.views import SpringView, ViewKind, views
from ui.state import Pointing, State
from ui.view_page import Pane, ViewPage

if TYPE_CHECKING:
    from PySide6.QtGui import QShowEvent

    from loadbench.analysis import LineAnalysis
    from ui.session import Session


class SpringPage(ViewPage):
    """Shows one view at a time; nothing is worked out while the page is hidden."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        self.kinds: dict[str, ViewKind] = {kind.key: kind for kind in views()}
        self.made: dict[str, QWidget] = {}
        words = [(kind.key, kind.word, kind.tip) for kind in self.kinds.values()]
        super().__init__(session, "spring", words, parent)
        self.members, self.table = QComboBox(), CoilTable(session)
        self._member: str | None = None  # as chosen last; None for all
        self._listed: tuple[str, ...] = ()
        self._fill_head()
        self.lay_out(self.table)
        self.table_place = TablePlace(self.splitter, self.table)
        self._say()
        self._connect()

    # Making

    def _fill_head(self) -> None:
        """What stands beside the words: which coil, and the whole picture again."""
        self._chooser, self._members_label = QWidget(), QLabel()
        self._members_label.setBuddy(self.members)
        self.members.setObjectName("spring_member")
        self.members.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        row = QHBoxLayout(self._chooser)
        row.setContentsMargins(8, 0, 0, 0)
        row.addWidget(self._members_label)
        row.addWidget(self.members)
        for tool in (self._chooser, self.reset_button):
            self.words.add(tool)

    def _say(self) -> None:
        self._members_label.setText(self.tr("Spring"))
        self.members.setAccessibleName(self.tr("Spring of the nest"))
        self.members.setToolTip(self.tr("Which spring of the nest the picture shows."))
        self.say()

    def _connect(self) -> None:
        session = self.session
        session.changed.connect(self._show)
        session.styled.connect(self._follow)
        session.line_chosen.connect(self._follow)
        session.loaded.connect(self.say_how_to_read)  # what stands there was read from the job before
        self.words.chosen.connect(self._view_chosen)
        self.members.activated.connect(self._member_chosen)
        self.waiting.wanted.connect(self._fill)
        self.table.field_wanted.connect(self.lead_to_field)

    # Showing

    def _follow(self, _what: object) -> None:
        self._show(self.session.state)

    def _show(self, state: State) -> None:
        if not self.isVisible():
            self._stale = True
            return
        self._stale = False
        line, kind = self.line(), self.kinds[self.words.key]
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
        self.show_only(shown)
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
        if not any(coil.path for coil in self.line().coils):
            self.session.set_fields(self.tr("add member"), {self.session.own_field("spring.coils"): ({},)})
        self.session.point_at(Pointing(fields=(field,)))
        self.lead_to_field(field)

    # Choosing

    def _view_chosen(self, _key: str) -> None:
        self.say_how_to_read()
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
    def open_pane(self) -> Pane | None:
        """The formula's pane, where one is open."""
        return self.table.pane


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
