"""The stock with counts on one line."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt

from loadbench.errors import InputError
from loadbench.units import Style
from ui.fitup.stock_edit import StockEdit, StockField, stock_in
from ui.widgets.entry_edit import Sign

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from ui.session import Session

INCH = Style.INCH_POUND


@pytest.mark.parametrize(
    ("typed", "sizes", "counts"),
    [
        ("0.015 in x 8 + 0.030 in", ("0.015 in", "0.030 in"), (8, None)),
        ("0.015x8 + .38 mm \u00d7 0", ("0.015 in", ".38 mm"), (8, 0)),
        ("0.015 + 0.030", ("0.015 in", "0.030 in"), ()),
        ("", (), ()),
    ],
)
def test_sizes_and_counts_are_read(typed: str, sizes: tuple[str, ...], counts: tuple[int | None, ...]) -> None:
    assert stock_in(typed, INCH) == (sizes, counts)


def test_a_count_that_is_none_is_refused() -> None:
    for typed in ("0.015 in x many", "0.015 in x 2.5", "0.015 in x -1", "0.015 in x"):
        with pytest.raises(InputError, match="is no count"):
            stock_in(typed, INCH)


@pytest.fixture
def field(session: Session, qtbot: QtBot) -> StockField:
    made = StockField(session)
    qtbot.addWidget(made)
    return made


def typed_into(field: StockField, qtbot: QtBot, text: str) -> StockEdit:
    edit = field.editor
    assert isinstance(edit, StockEdit)
    field.show()
    edit.setFocus()
    edit.selectAll()
    qtbot.keyClicks(edit, text)
    qtbot.keyClick(edit, Qt.Key.Key_Return)
    return edit


def test_one_step_sets_both_and_undo_brings_both_back(session: Session, field: StockField, qtbot: QtBot) -> None:
    edit = typed_into(field, qtbot, "0.015 x 8 + 0.030")
    assert (session.job.shims_in_stock, session.job.shim_counts) == (("0.015 in", "0.030 in"), (8, None))
    assert edit.text() == "0.015 in x 8 + 0.030 in"
    assert session.undo_stack.count() == 1
    edit.clearFocus()
    session.undo_stack.undo()
    assert (session.job.shims_in_stock, session.job.shim_counts, edit.text()) == ((), (), "")
    session.undo_stack.redo()
    session.set_fields("counts", {"shim_counts": (3, None)})
    assert edit.text() == "0.015 in x 3 + 0.030 in"  # the same sizes, other counts


def test_a_wrong_count_stays_in_the_field_and_is_told(session: Session, field: StockField, qtbot: QtBot) -> None:
    edit = typed_into(field, qtbot, "0.015 in x some")
    assert edit.text() == "0.015 in x some"
    assert edit.judgement.sign is Sign.WRONG
    assert "count" in edit.judgement.what
    assert session.job.shims_in_stock == ()
