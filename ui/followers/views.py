"""Which views the Followers page has: their words, and how each is made when wanted."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ui.followers.wording import tr

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from ui.session import Session


@dataclass(frozen=True, slots=True, kw_only=True)
class ViewKind:
    """A view: its word, what it shows, whether it is a picture that can be zoomed."""

    key: str
    word: str
    tip: str
    picture: bool = True


def views() -> tuple[ViewKind, ...]:
    """The views, with their words in the user's language."""
    return (
        ViewKind(key="match", word=tr("Match"), tip=tr("Every follower family against every criterion"), picture=False),
        ViewKind(key="contact", word=tr("Contact"), tip=tr("Contact pressure and oil film over the cam\u2019s angle")),
        ViewKind(key="axle", word=tr("Axle"), tip=tr("Where needles must give way to a bush")),
        ViewKind(key="plunger", word=tr("Plunger"), tip=tr("Standard and short travel at this load and speed")),
    )


def made(key: str, session: Session) -> QWidget:
    """A view, made now."""
    if key == "contact":
        from ui.followers.contact_view import ContactView

        return ContactView(session)
    if key == "axle":
        from ui.followers.axle_view import AxleView

        return AxleView(session)
    if key == "plunger":
        from ui.followers.plunger_view import PlungerView

        return PlungerView(session)
    from ui.followers.match_view import MatchView

    return MatchView(session)
