"""The Followers page: which follower, which axle? Match, contact, axle and plunger."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from PySide6.QtWidgets import QWidget
from typing_extensions import override

from ui.commands import Command, action_of
from ui.followers.needs import need_of
from ui.followers.views import made, views
from ui.followers.wording import tr
from ui.spring.chart_picture import ChartPicture
from ui.state import Pointing, State
from ui.view_page import ViewPage

if TYPE_CHECKING:
    from PySide6.QtGui import QShowEvent

    from ui.session import Session


class FollowersPage(ViewPage):
    """Shows one view at a time; nothing is worked out while the page is hidden."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        self.kinds = {kind.key: kind for kind in views()}
        self.made: dict[str, QWidget] = {}
        words = [(kind.key, kind.word, kind.tip) for kind in self.kinds.values()]
        super().__init__(session, "followers", words, parent)
        self.words.add(self.reset_button)
        self.foot = QWidget()  # no table of its own: the figures stand in the strip
        self.foot.hide()
        self.lay_out(self.foot, lines=2)
        self.say()
        copy = Command(
            name="copy_match",
            text=tr("Copy the match as a table"),
            tip=tr("Every follower family against every criterion, for a spreadsheet"),
            run=self.copy_match,
        )
        action_of(copy, self)
        for signal in (session.changed, session.styled, session.line_chosen):
            signal.connect(self._follow)
        session.loaded.connect(self.say_how_to_read)
        self.words.chosen.connect(self._view_chosen)
        self.waiting.wanted.connect(self._fill)

    # Showing

    def _follow(self, _what: object = None) -> None:
        if not self.isVisible():
            self._stale = True
            return
        self._show(self.session.state)

    def _show(self, state: State) -> None:
        self._stale = False
        key, need = self.words.key, need_of(self.words.key, self.line())
        self.reset_button.setVisible(need is None and self.kinds[key].picture)
        self.read_out.setVisible(need is None)
        if need is not None:
            self._missing = need.field
            self.waiting.tell(need.sentence.replace("{", "{{").replace("}", "}}"), need.field)
            self.show_only(self.waiting)
            return
        view = self._view(key)
        self.show_only(view)
        if isinstance(view, ChartPicture):
            view.show_state(state, self.session.line, None)
        else:
            view.show_state(state, self.session.line)

    def _view(self, key: str) -> Any:
        if key not in self.made:
            view: Any = made(key, self.session)
            self.made[key] = view
            self.stack.addWidget(view)
            before: QWidget = self.reset_button
            for each in getattr(view, "focus_chain", None) or (view.scale,):
                QWidget.setTabOrder(before, each)  # made last, it would come last in the window
                before = each
            view.said.connect(self._say_read)
            wanted = getattr(view, "field_wanted", None)
            if wanted is not None:
                wanted.connect(self.go_to)
        return self.made[key]

    def _say_read(self, text: str) -> None:
        if text:
            self.read_out.setText(text)
        else:
            self.say_how_to_read()

    @override
    def say_how_to_read(self) -> None:
        if self.words.key == "match":
            self.read_out.setText(
                tr("Arrow keys walk the cells; the reason of each stands beneath, Page Down scrolls it.")
            )
        else:
            super().say_how_to_read()

    def _view_chosen(self, _key: str) -> None:
        self.say_how_to_read()
        self._follow()

    @override
    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        if self._stale:
            self._show(self.session.state)

    # Going

    def _fill(self) -> None:
        self.go_to(self._missing)

    def go_to(self, field: str) -> None:
        """Put the focus into a field of the panel."""
        self.session.point_at(Pointing(fields=(field,)))
        self.lead_to_field(field)

    # What can be done

    def copy_match(self) -> None:
        """The match to the clipboard."""
        show_page = getattr(self.window(), "show_page", None)  # a window of its own has none
        if show_page is not None and not self.isVisible():
            show_page("followers")
        self.words.choose("match")
        view = self._view("match")
        view.show_state(self.session.state, self.session.line)
        view.copy_table()
