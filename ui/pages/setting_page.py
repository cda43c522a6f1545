"""The Setting page: how is it set, valve by valve? Worksheet, gauge, ways and check list over the figures of it."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget
from typing_extensions import override

from loadbench.report.cautions import RUNNING
from ui.commands import action_of
from ui.setting.page_commands import commands_for
from ui.setting.sheets import Sheets
from ui.setting.views import SettingView, made, views
from ui.state import Pointing, State
from ui.view_page import ViewPage
from ui.widgets.caution_row import CautionRow

if TYPE_CHECKING:
    from PySide6.QtGui import QShowEvent

    from ui.session import Session
    from ui.setting.check_view import CheckView
    from ui.setting.sheet_view import SheetView

FAMILY = "follower.family"
PICTURES = ("gauge", "ways")
NEEDS_FAMILY = ("gauge", "ways")
"""Views that have nothing to show before the follower's family is known."""


class SettingPage(ViewPage):
    """Shows one view at a time; nothing is worked out while the page is hidden."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        self.kinds = {kind.key: kind for kind in views()}
        self.made: dict[str, QWidget] = {}
        self.sheets = Sheets()
        words = [(kind.key, kind.word, kind.tip) for kind in self.kinds.values()]
        super().__init__(session, "setting", words, parent)
        self.words.add(self.reset_button)
        self.foot = QWidget()  # no table of its own: the figures stand in the strip
        self.foot.hide()
        self.caution = CautionRow(RUNNING)
        self.lay_out(self.foot, self.caution)
        self.say()
        for command in commands_for(self):
            action_of(command, self)
        self._connect()

    def _connect(self) -> None:
        session = self.session
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
        key = self.words.key
        family = state.analysis.stated.values.get(FAMILY)
        self._missing = FAMILY if family is None and key in NEEDS_FAMILY else ""
        if not self._missing and key not in self.made:
            self._make(key)
        self.show_only(self.waiting if self._missing else self.made[key])
        self.caution.setVisible(not self._missing and self._beside_a_running_engine(key))
        self.read_out.setVisible(not self._missing)
        self.reset_button.hide()
        if self._missing:
            sentence = self.tr(
                "How it is set follows from the kind of follower: lash, or a plunger\u2019s depth.\n"
                "The page waits for: {name}."
            )
            self.waiting.tell(sentence, FAMILY)
            return
        view = cast("SettingView", self.made[key])
        view.show_state(state, self.session.line)
        self.reset_button.setVisible(key in PICTURES and getattr(view, "has_picture", True))

    def _beside_a_running_engine(self, key: str) -> bool:
        """Whether a view leads to a warm engine: lash that is set hot, or the first start."""
        return key == "checks" or (key in ("sheet", "ways") and self.line().stated.value("valve_gear.lash_at") == "hot")

    def _make(self, key: str) -> None:
        view = self.made[key] = made(key, self.session, self.sheets)
        self.stack.addWidget(view)
        cast("SettingView", view).said.connect(self._say_read)
        wanted = getattr(view, "field_wanted", None)
        if wanted is not None:
            wanted.connect(self.go_to)
        before: QWidget = self.reset_button  # made last, it would come last in the whole window
        for widget in _focusable(view):
            QWidget.setTabOrder(before, widget)
            before = widget

    def _say_read(self, text: str) -> None:
        if text:
            self.read_out.setText(text)
        else:
            self.say_how_to_read()

    @override
    def say_how_to_read(self) -> None:
        hints = {
            "sheet": self.tr("Go to a valve: what to do on it is told here."),
            "checks": self.tr("Type initials where an item is done; today\u2019s date is added."),
        }
        if self.words.key in hints:
            self.read_out.setText(hints[self.words.key])
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
        """Put the focus into a field: a valve's measurement here, anything else in the panel."""
        self.session.point_at(Pointing(fields=(field,)))
        steps = field.split(".")
        if steps[0] == "valves":
            index = int(steps[1]) if len(steps) > 1 and steps[1].isdigit() else 0
            self.sheet_view().go_to_valve(index, steps[2] if len(steps) > 2 else "")
            return
        self.lead_to_field(field)

    # What can be done

    def _come_forward(self, key: str) -> None:
        """The page and one of its views on show: what is done here from a menu elsewhere is seen."""
        show_page = getattr(self.window(), "show_page", None)  # a window of its own has none
        if show_page is not None and not self.isVisible():
            show_page("setting")
        self.words.choose(key)
        if key not in self.made:
            self._make(key)

    def sheet_view(self) -> SheetView:
        """The worksheet, brought on show."""
        self._come_forward("sheet")
        return cast("SheetView", self.made["sheet"])

    def lay_out_valves(self) -> None:
        """Add the valves that the engine has."""
        self.sheet_view().lay_out_valves()

    def turn_order(self) -> None:
        """Show the worksheet in the other order."""
        orders = self.sheet_view().orders
        orders.choose("firing" if orders.key == "cylinder" else "cylinder")

    def copy_worksheet(self) -> None:
        """The worksheet to the clipboard."""
        self.sheet_view().copy_table()

    def copy_check_list(self) -> None:
        """The check list to the clipboard."""
        self._come_forward("checks")
        cast("CheckView", self.made["checks"]).copy_table()


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
