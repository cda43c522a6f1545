"""The field of plain text; whatever was typed stays text."""

from __future__ import annotations

from typing import TYPE_CHECKING

from typing_extensions import override

from ui.field_words import words_known
from ui.widgets.entry_edit import EntryEdit
from ui.widgets.field import Field
from ui.widgets.known_word_edit import KnownWordEdit

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from ui.session import Session


class TitleEdit(EntryEdit):
    """The title: an empty one is a title too."""

    @override
    def as_value(self, text: str) -> object:
        return text.strip()


class TextField(Field):
    """One line of text; words that the job knows are offered."""

    def __init__(self, session: Session, field: str, parent: QWidget | None = None) -> None:
        super().__init__(_editor_of(field)(session, field), session, field, parent)


def _editor_of(field: str) -> type[EntryEdit]:
    if field == "title":
        return TitleEdit
    return KnownWordEdit if words_known(field) else EntryEdit
