"""Text fields that offer the words they know: by typing, by keys, by the mouse; free text stays free."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QVBoxLayout, QWidget

from loadbench.analysis import analyse
from loadbench.job.edits import replaced_all
from loadbench.spring.ends import Ends, ends_of
from loadbench.spring.materials import material, materials
from ui.field_words import words_known
from ui.palette import colours
from ui.theme import Choice, theme
from ui.widgets.field_maker import field_for
from ui.widgets.known_word_edit import KnownWordEdit
from ui.widgets.text_field import TextField

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pytestqt.qtbot import QtBot

    from ui.session import Session

MATERIAL, ENDS = "spring.coils.0.material", "spring.coils.0.ends"
KEPT: list[QWidget] = []
# What the offscreen platform says of any list that pops up.
pytestmark = pytest.mark.qt_log_ignore("This plugin does not support grabbing the keyboard", extend=True)


@pytest.fixture(autouse=True)
def _let_go() -> Iterator[None]:
    yield
    KEPT.clear()


def shown_edit(qtbot: QtBot, session: Session, field: str = MATERIAL) -> KnownWordEdit:
    """The editor of a field on show and focused, with another field to leave for."""
    session.set_fields("add member", {"spring.coils": ({},)})
    desk = QWidget()
    rows = QVBoxLayout(desk)
    made = field_for(session, field)
    rows.addWidget(made)
    rows.addWidget(TextField(session, "customer"))
    qtbot.addWidget(desk)
    desk.resize(320, 140)
    desk.show()
    desk.activateWindow()
    edit = made.findChild(KnownWordEdit)
    assert edit is not None
    edit.setFocus(Qt.FocusReason.TabFocusReason)
    qtbot.waitUntil(edit.hasFocus)
    KEPT.append(desk)
    return edit


def press(qtbot: QtBot, edit: KnownWordEdit, *keys: Qt.Key) -> None:
    """Keys where they go: to the list while it stands open."""
    for key in keys:
        qtbot.keyClick(edit.word_list if edit.offering else edit, key)


def offered(edit: KnownWordEdit) -> list[str]:
    model = edit.offer.completionModel()
    return [str(model.data(model.index(row, 0))) for row in range(model.rowCount())]


def stated(session: Session) -> tuple[str | None, str | None]:
    coil = session.job.spring.coils[0]
    return coil.material, coil.ends


# Which words


def test_every_word_of_wire_is_one_that_the_job_understands() -> None:
    known = words_known(MATERIAL)
    assert {word.text for word in known} >= set(materials())
    for word in known:
        found = material(word.text)
        assert found is not None
        assert word.meaning == found.label
    texts = [word.text.lower() for word in known]
    assert len(texts) == len(set(texts))


def test_every_word_of_ends_is_read_as_itself() -> None:
    assert [ends_of(word.text) for word in words_known(ENDS)] == list(Ends)


@pytest.mark.parametrize("above", ["lines.exhaust.", "variants.1.", ""])
def test_a_lines_own_field_and_a_variants_know_the_same_words(above: str) -> None:
    assert words_known(f"{above}spring.coils.2.ends") == words_known(ENDS) != ()


@pytest.mark.parametrize("field", ["cam.material", "follower.material", "customer", "spring.coils.0.name", "title"])
def test_other_text_fields_offer_nothing(session: Session, field: str) -> None:
    assert words_known(field) == ()
    made = TextField(session, field)
    KEPT.append(made)
    assert not isinstance(made.editor, KnownWordEdit)


# Typing


def test_typing_offers_what_contains_it_whatever_its_case(qtbot: QtBot, session: Session) -> None:
    edit = shown_edit(qtbot, session, ENDS)
    qtbot.keyClicks(edit, "GROUND")
    assert edit.offering
    assert offered(edit) == ["plain and ground", "closed and ground"]
    press(qtbot, edit, Qt.Key.Key_Down, Qt.Key.Key_Down, Qt.Key.Key_Return)
    assert not edit.offering
    assert edit.text() == "closed and ground"
    assert stated(session) == (None, "closed and ground")


def test_a_word_taken_is_one_step_of_undo(qtbot: QtBot, session: Session) -> None:
    edit = shown_edit(qtbot, session)
    before = session.undo_stack.count()
    qtbot.keyClicks(edit, "a4")
    press(qtbot, edit, Qt.Key.Key_Down, Qt.Key.Key_Return)
    assert stated(session)[0] == "ASTM A401"
    assert session.undo_stack.count() == before + 1
    session.undo_stack.undo()
    assert stated(session)[0] is None


def test_passing_over_a_word_writes_nothing(qtbot: QtBot, session: Session) -> None:
    edit = shown_edit(qtbot, session)
    qtbot.keyClicks(edit, "chrome")
    press(qtbot, edit, Qt.Key.Key_Down, Qt.Key.Key_Down)
    assert edit.text() == "chrome"
    press(qtbot, edit, Qt.Key.Key_Escape)
    assert not edit.offering
    assert edit.text() == "chrome"
    press(qtbot, edit, Qt.Key.Key_Escape)  # with no list open, Escape restores as in every field
    assert edit.text() == ""
    assert stated(session)[0] is None


def test_free_text_is_taken_by_enter_under_an_open_list_and_told_as_unknown(qtbot: QtBot, session: Session) -> None:
    edit = shown_edit(qtbot, session)
    qtbot.keyClicks(edit, "chrome")
    assert edit.offering
    press(qtbot, edit, Qt.Key.Key_Return)
    assert not edit.offering
    assert stated(session)[0] == "chrome"
    plain = analyse(replaced_all(session.job, {MATERIAL: "chrome"})).stated.problems.get(MATERIAL)
    assert edit.judgement.what == ("" if plain is None else plain.what)


def test_text_that_no_word_contains_closes_the_list(qtbot: QtBot, session: Session) -> None:
    edit = shown_edit(qtbot, session)
    qtbot.keyClicks(edit, "musi")
    assert edit.offering
    qtbot.keyClicks(edit.word_list, "x")
    assert edit.text() == "musix"
    assert not edit.offering
    press(qtbot, edit, Qt.Key.Key_Return)
    assert stated(session)[0] == "musix"


def test_a_word_typed_whole_needs_no_list(qtbot: QtBot, session: Session) -> None:
    edit = shown_edit(qtbot, session)
    qtbot.keyClicks(edit, "Piano wir")
    assert offered(edit) == ["piano wire"]
    assert edit.offering
    qtbot.keyClicks(edit.word_list, "e")
    assert not edit.offering
    press(qtbot, edit, Qt.Key.Key_Return)
    assert stated(session)[0] == "Piano wire"


def test_leaving_keeps_what_is_typed(qtbot: QtBot, session: Session) -> None:
    edit = shown_edit(qtbot, session)
    qtbot.keyClicks(edit, "music")
    press(qtbot, edit, Qt.Key.Key_Tab)
    assert not edit.offering
    assert not edit.hasFocus()
    assert stated(session)[0] == "music"


# Keys and mouse


def test_down_opens_all_and_enter_takes_the_first(qtbot: QtBot, session: Session) -> None:
    edit = shown_edit(qtbot, session, ENDS)
    press(qtbot, edit, Qt.Key.Key_Down)
    assert offered(edit) == [str(each) for each in Ends]
    press(qtbot, edit, Qt.Key.Key_Return)
    assert stated(session)[1] == "plain"


def test_down_starts_at_the_word_that_stands_there(qtbot: QtBot, session: Session) -> None:
    edit = shown_edit(qtbot, session, ENDS)
    session.set_fields("set ends", {ENDS: "Closed"})
    press(qtbot, edit, Qt.Key.Key_Down)
    assert len(offered(edit)) == len(Ends)
    assert edit.word_list.currentIndex().data() == "closed"
    press(qtbot, edit, Qt.Key.Key_Down, Qt.Key.Key_Enter)
    assert stated(session)[1] == "closed and ground"


def test_down_and_escape_change_nothing(qtbot: QtBot, session: Session) -> None:
    edit = shown_edit(qtbot, session, ENDS)
    session.set_fields("set ends", {ENDS: "squared"})
    before = session.undo_stack.count()
    press(qtbot, edit, Qt.Key.Key_Down, Qt.Key.Key_Down, Qt.Key.Key_Escape)
    assert not edit.offering
    assert edit.text() == "squared"
    assert stated(session)[1] == "squared"
    assert session.undo_stack.count() == before


def test_a_click_takes_a_word(qtbot: QtBot, session: Session) -> None:
    edit = shown_edit(qtbot, session)
    press(qtbot, edit, Qt.Key.Key_Down)
    popup = edit.word_list
    index = edit.offer.completionModel().index(2, 0)
    assert index.data(Qt.ItemDataRole.ToolTipRole) == "Oil-tempered wire"
    QTest.mouseClick(popup.viewport(), Qt.MouseButton.LeftButton, pos=popup.visualRect(index).center())
    assert not edit.offering
    assert stated(session)[0] == "oil-tempered"


def test_no_word_is_cut_by_a_narrow_field(qtbot: QtBot, session: Session) -> None:
    edit = shown_edit(qtbot, session)
    press(qtbot, edit, Qt.Key.Key_Down)
    popup = edit.word_list
    assert edit.width() < popup.sizeHintForColumn(0) <= popup.viewport().width()


@pytest.mark.parametrize("choice", [Choice.LIGHT, Choice.DARK])
def test_the_list_wears_the_theme(qtbot: QtBot, session: Session, choice: Choice) -> None:
    theme().choose(choice)
    try:
        edit = shown_edit(qtbot, session)
        press(qtbot, edit, Qt.Key.Key_Down)
        popup = edit.word_list
        picture = popup.grab().toImage()
        panel, accent = colours().colour("panel"), colours().colour("accent")
        selected = popup.visualRect(popup.currentIndex())
        assert picture.pixelColor(selected.right() - 3, selected.center().y() + 1) == accent
        assert picture.pixelColor(selected.right() - 3, selected.center().y() + 2 * selected.height()) == panel
    finally:
        theme().choose(Choice.LIGHT)
