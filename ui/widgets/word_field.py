"""Fields of words from a closed list, and of yes or no."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ui.widgets.choice_edit import CheckEdit, ChoiceEdit
from ui.widgets.field import Field

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from ui.session import Session


class WordField(Field):
    """One word of a closed list, or not stated."""

    def __init__(self, session: Session, field: str, parent: QWidget | None = None) -> None:
        super().__init__(ChoiceEdit(session, field), session, field, parent)


class CheckField(Field):
    """Yes, no, or not stated."""

    def __init__(self, session: Session, field: str, parent: QWidget | None = None) -> None:
        super().__init__(CheckEdit(session, field), session, field, parent)
