"""The right field for any key of the document."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from loadbench.job.kinds import Number, Quantity, Words
from ui.field_types import annotation_of, holds, is_list
from ui.labels import mark_for
from ui.session import Session
from ui.widgets.notes_edit import NotesField
from ui.widgets.number_field import NumberField, OrderField, WholeField
from ui.widgets.quantity_field import QuantityField, ShimsField
from ui.widgets.text_field import TextField
from ui.widgets.word_field import CheckField, WordField


def field_for(session: Session, field: str) -> QWidget:
    """A field for one leaf of the document.

    Args:
        session: the session.
        field: dotted path in the common part.

    Returns:
        A widget with `label`, `editor` and `field`.
    """
    mark, annotation = mark_for(field), annotation_of(field)
    if isinstance(mark, Quantity):
        return ShimsField(session, field) if is_list(annotation) else QuantityField(session, field)
    if isinstance(mark, Number):
        return NumberField(session, field)
    if isinstance(mark, Words):
        return WordField(session, field)
    if is_list(annotation):
        return OrderField(session, field)
    if holds(annotation, bool):
        return CheckField(session, field)
    if holds(annotation, int):
        return WholeField(session, field)
    return NotesField(session, field) if field == "notes" else TextField(session, field)
