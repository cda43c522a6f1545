"""The right field for any key of the document."""

from __future__ import annotations

from typing import TYPE_CHECKING

from loadbench.job.kinds import Number, Quantity
from ui.field_types import annotation_of, holds, is_list
from ui.labels import mark_for
from ui.widgets.notes_edit import NotesField
from ui.widgets.number_field import NumberField, OrderField, WholeField
from ui.widgets.quantity_field import QuantityField, ShimsField
from ui.widgets.text_field import TextField
from ui.widgets.word_field import CheckField, WordField

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtWidgets import QWidget

    from ui.session import Session


def field_for(session: Session, field: str) -> QWidget:
    """A field for one leaf of the document.

    Args:
        session: the session.
        field: dotted path in the common part.

    Returns:
        A widget with `label`, `editor` and `field`.
    """
    return _kind_of(field)(session, field)


def _kind_of(field: str) -> Callable[[Session, str], QWidget]:
    mark, annotation = mark_for(field), annotation_of(field)
    if isinstance(mark, Quantity):
        return ShimsField if is_list(annotation) else QuantityField
    if mark is not None:
        return NumberField if isinstance(mark, Number) else WordField
    if field == "notes":
        return NotesField
    if is_list(annotation):
        return OrderField
    kinds: dict[type, Callable[[Session, str], QWidget]] = {bool: CheckField, int: WholeField}
    return next((kind for plain, kind in kinds.items() if holds(annotation, plain)), TextField)
