"""What a user typed stays text in tool tips and boxes."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import Qt
from PySide6.QtGui import QTextDocumentFragment
from PySide6.QtWidgets import QLabel, QMessageBox

from loadbench.job.edits import replaced_all
from loadbench.job.model import Job
from ui import asks
from ui.plain_tip import plain_tip
from ui.session import Session
from ui.slip.slip_model import SlipModel
from ui.widgets.rows_model import RowsModel

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

MARKUP = '<img src="file:///etc/hostname"><b>S&amp;1</b>'


def read(tip: str) -> str:
    """What stands on the screen."""
    return QTextDocumentFragment.fromHtml(tip).toPlainText() if "<" in tip else tip


@given(st.text(st.characters(min_codepoint=32, max_codepoint=0x2FF, exclude_characters="\x7f\xa0\xad")))
def test_a_tip_shows_what_was_typed(text: str) -> None:
    assert read(plain_tip(text)).strip() == text.strip()


@pytest.mark.parametrize("text", [MARKUP, "a" * 300, "<b>x</b>" * 40])
def test_long_and_marked_up_tips_are_escaped(text: str) -> None:
    assert plain_tip(text).startswith("<p")
    assert read(plain_tip(text)) == text


def test_a_springs_name_is_no_markup_in_the_tables_tips(qtbot: QtBot) -> None:
    job = Job(title="A job", units="inch-pound")
    readings = ({"part": MARKUP, "height": "1.9 in", "load": "150 lbf"},)
    session = Session(
        replaced_all(job, {"springs": ({"id": MARKUP, "readings": readings},), "spring.readings": readings})
    )
    slip = SlipModel(session)
    assert read(slip.data(slip.index(0, 0), Qt.ItemDataRole.ToolTipRole)) == MARKUP
    rows = RowsModel(session, "spring.readings", ("part", "height", "load"))
    assert read(rows.data(rows.index(0, 0), Qt.ItemDataRole.ToolTipRole)) == MARKUP


def test_a_files_name_is_no_markup_in_a_box(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    shown: list[Qt.TextFormat] = []
    monkeypatch.setattr(
        QMessageBox, "exec", lambda box: shown.extend(label.textFormat() for label in box.findChildren(QLabel))
    )
    asks.about_existing(None, MARKUP)  # type: ignore[arg-type]
    assert shown.count(Qt.TextFormat.PlainText) >= 2
