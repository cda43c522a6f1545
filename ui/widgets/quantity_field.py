"""The one quantity field: any unit of its kind, judged while typing, kept as typed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ui.widgets.field import Field
from ui.widgets.list_edit import ShimsEdit
from ui.widgets.quantity_edit import QuantityEdit

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from ui.session import Session


class QuantityField(Field):
    """A quantity of the job with its label, its unit in quiet and what is told about it."""

    def __init__(self, session: Session, field: str, parent: QWidget | None = None) -> None:
        super().__init__(QuantityEdit(session, field), session, field, parent)


class ShimsField(Field):
    """The shims of a stack, joined by a plus."""

    unit_in_label = True

    def __init__(self, session: Session, field: str, parent: QWidget | None = None) -> None:
        super().__init__(ShimsEdit(session, field), session, field, parent)
