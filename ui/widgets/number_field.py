"""Fields of plain numbers: a ratio, a percentage, a share, a count."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ui.widgets.field import Field
from ui.widgets.list_edit import OrderEdit
from ui.widgets.quantity_edit import NumberEdit, WholeEdit

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from ui.session import Session


class NumberField(Field):
    """A number without a dimension."""

    def __init__(self, session: Session, field: str, parent: QWidget | None = None) -> None:
        super().__init__(NumberEdit(session, field), session, field, parent)


class WholeField(Field):
    """A whole number."""

    def __init__(self, session: Session, field: str, parent: QWidget | None = None) -> None:
        super().__init__(WholeEdit(session, field), session, field, parent)


class OrderField(Field):
    """The firing order."""

    def __init__(self, session: Session, field: str, parent: QWidget | None = None) -> None:
        super().__init__(OrderEdit(session, field), session, field, parent)
