"""The field of plain text; whatever was typed stays text."""

from __future__ import annotations

from typing import TYPE_CHECKING

from typing_extensions import override

from ui.widgets.entry_edit import EntryEdit
from ui.widgets.field import Field

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from ui.session import Session


class TitleEdit(EntryEdit):
    """The title: an empty one is a title too."""

    @override
    def as_value(self, text: str) -> object:
        return text.strip()


class TextField(Field):
    """One line of text."""

    def __init__(self, session: Session, field: str, parent: QWidget | None = None) -> None:
        editor = (TitleEdit if field == "title" else EntryEdit)(session, field)
        super().__init__(editor, session, field, parent)
