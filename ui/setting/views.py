"""Which views the Setting page has: their words, and how each is made when wanted."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

from ui.setting.wording import tr

if TYPE_CHECKING:
    from PySide6.QtCore import SignalInstance
    from PySide6.QtWidgets import QWidget

    from ui.session import Session
    from ui.setting.sheets import Sheets
    from ui.state import State


class SettingView(Protocol):
    """What the page asks of a view, besides being a widget."""

    said: SignalInstance

    def show_state(self, state: State, line_name: str, /) -> None:
        """Show a line of a state."""
        ...


@dataclass(frozen=True, slots=True, kw_only=True)
class ViewKind:
    """A view: its word, what it shows."""

    key: str
    word: str
    tip: str


def views() -> tuple[ViewKind, ...]:
    """The views, with their words in the user's language."""
    return (
        ViewKind(key="sheet", word=tr("Worksheet"), tip=tr("What to do on each valve, turn by turn")),
        ViewKind(key="gauge", word=tr("Gauge"), tip=tr("The plunger in its travel, or the lash, cold and warm")),
        ViewKind(key="ways", word=tr("Ways"), tip=tr("Three ways of setting preload, the lever, cold to warm")),
        ViewKind(key="checks", word=tr("Before it goes in"), tip=tr("The check list of the chosen follower")),
    )


def made(key: str, session: Session, sheets: Sheets) -> QWidget:
    """A view, made now.

    Args:
        key: of its kind.
        session: the session.
        sheets: the worksheet that views share.
    """
    if key == "gauge":
        from ui.setting.gauge_view import GaugeView

        return GaugeView(session)
    if key == "ways":
        from ui.setting.ways_view import WaysView

        return WaysView(session, sheets)
    if key == "checks":
        from ui.setting.check_view import CheckView

        return CheckView(session)
    from ui.setting.sheet_view import SheetView

    return SheetView(session, sheets)
