"""Which views the Spring page has: their words, the figures that belong to each, and how each is made when wanted."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from importlib import import_module
from typing import TYPE_CHECKING, Protocol, cast

from ui.spring.wording import tr

if TYPE_CHECKING:
    from PySide6.QtCore import SignalInstance
    from PySide6.QtWidgets import QWidget

    from ui.session import Session
    from ui.state import State


class SpringView(Protocol):
    """What the page asks of a view, besides being a widget."""

    said: SignalInstance

    def show_state(self, state: State, line: str, member: str | None) -> None:
        """Draw a line of a state: a coil by name, or all."""
        ...

    def copy_picture(self) -> None:
        """Copy the picture."""
        ...

    def save_picture(self) -> None:
        """Ask where, and save the picture."""
        ...


@dataclass(frozen=True, slots=True, kw_only=True)
class ViewKind:
    """A view: its word, what it shows, the groups of figures beneath; `takes_all`: the whole nest at once."""

    key: str
    word: str
    tip: str
    groups: tuple[str, ...]
    takes_all: bool
    needs_wire: bool
    place: str

    def make(self, session: Session) -> QWidget:
        """The view, made now."""
        module, _, name = self.place.partition(":")
        make = cast("Callable[[Session], QWidget]", getattr(import_module(module), name))
        return make(session)


def views() -> tuple[ViewKind, ...]:
    """The views, with their words in the user's language."""
    return (
        ViewKind(
            key="coil",
            word=tr("Coil"),
            tip=tr("The coil to scale at its four heights, and its load line"),
            groups=("geometry",),
            takes_all=True,
            needs_wire=True,
            place="ui.spring.coil_view:CoilView",
        ),
        ViewKind(
            key="stress",
            word=tr("Stress"),
            tip=tr("The wire's stress at its heights against what it bears, once and a million times"),
            groups=("stress", "fatigue"),
            takes_all=False,
            needs_wire=True,
            place="ui.spring.stress_view:StressView",
        ),
        ViewKind(
            key="surge",
            word=tr("Surge"),
            tip=tr("The coil's own frequencies against those that the cam sends into it"),
            groups=("surge",),
            takes_all=False,
            needs_wire=True,
            place="ui.spring.surge_view:SurgeView",
        ),
        ViewKind(
            key="search",
            word=tr("Search"),
            tip=tr("Which wire, coil and turns give the loads that are wanted"),
            groups=(),
            takes_all=False,
            needs_wire=False,
            place="ui.spring.search_view:SearchView",
        ),
    )
