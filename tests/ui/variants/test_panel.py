"""Candidates side by side: differing cells in words, edits, one taken over as one undo step."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QApplication, QLineEdit, QScrollArea

from loadbench.findings.finding import Level
from loadbench.job.model import Job
from loadbench.units import Style
from ui.session import Session
from ui.variants import VariantsPanel
from ui.variants.column import VariantColumn
from ui.variants.comparison import candidates, cell, worst_findings
from ui.variants.edits import MOST
from ui.variants.findings import FIRST, LEVELS
from ui.widgets.wrapped_label import WrappedLabel

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pytestqt.qtbot import QtBot

READINGS = ({"height": "1.9 in", "load": "150 lbf"}, {"height": "1.3 in", "load": "402 lbf"})
STIFFER = ({"height": "1.9 in", "load": "160 lbf"}, {"height": "1.3 in", "load": "520 lbf"})
JOB = Job.model_validate(
    {
        "title": "invented",
        "units": "inch-pound",
        "spring": {"name": "own", "installed_height": "1.900 in", "bind_height": "1.100 in", "readings": READINGS},
        "valve_gear": {"rocker_ratio": 1.6, "measured_net_lift": "0.560 in", "retainer_to_seal": "0.780 in"},
        "follower": {"family": "roller-hydraulic", "travel": "short", "axle": "needle"},
        "variants": (
            {"name": "stiffer", "spring": {"readings": STIFFER}},
            {"name": "by rate", "spring": {"rate": "400 lbf/in"}},
        ),
    }
)


@pytest.fixture
def panel(qtbot: QtBot) -> Iterator[VariantsPanel]:
    made = VariantsPanel(Session(JOB))
    qtbot.addWidget(made)
    made.show()
    return made


def texts(panel: VariantsPanel, place: int, name: str) -> tuple[str, str]:
    value, mark = panel.columns[place].figures.cells[name]
    return value.text().replace("\u2009", " "), mark.text()


def variant(panel: VariantsPanel, index: int) -> VariantColumn:
    column = panel.columns[index + 1]
    assert isinstance(column, VariantColumn)
    return column


def test_d18_differing_cells_are_marked_in_words(panel: VariantsPanel) -> None:
    assert texts(panel, 0, "seat_load") == ("150 lbf", "")
    assert texts(panel, 1, "seat_load") == ("160 lbf", "\u25b2 higher")
    assert texts(panel, 1, "retainer_margin") == ("0.220 in", "")
    assert texts(panel, 2, "rate") == ("400 lbf/in", "\u25bc lower")
    assert texts(panel, 2, "seat_load") == ("\u2013", "unknown")


def test_findings_that_differ_are_said_to() -> None:
    session = Session(JOB)
    own, stiffer, _ = candidates(session.state, None)
    told = worst_findings(stiffer, own, Style.INCH_POUND)
    # by hand: 160 lbf + 0.560 in x 600 lbf/in = 496 lbf at full lift; 500 is the watch of short travel
    assert cell(stiffer, own, "common", "open_load", Style.INCH_POUND).text.startswith("496")
    assert all(each.level is not Level.CLEAR for each in told)
    assert worst_findings(own, own, Style.INCH_POUND) == tuple(
        each for each in worst_findings(own, own, Style.INCH_POUND) if not each.differs
    )


def test_findings_stand_by_level_the_first_few_and_the_rest_on_demand(panel: VariantsPanel, qtbot: QtBot) -> None:
    column = variant(panel, 1)
    found = candidates(panel.session.state, None)[2].verdicts
    blocks = {block.level: block for block in column.findings.blocks}
    assert list(blocks) == [level for level in LEVELS if found.count(level)]
    block = blocks[Level.UNKNOWN]
    count = found.count(Level.UNKNOWN)
    assert count > FIRST + 1
    labels = [label for label in block.findChildren(WrappedLabel) if label.text()]
    assert len(labels) == count  # nothing is left out for good
    assert [label for label in labels if label.isVisible()] == labels[:FIRST]
    assert block.more.text() == f"and {count - FIRST} more"
    assert "by rate" in block.more.accessibleName()
    block.more.setFocus()
    qtbot.keyClick(block.more, Qt.Key.Key_Space)
    assert all(label.isVisible() for label in labels)
    assert block.more.hasFocus()
    panel.session.set_style(Style.METRIC)  # other sentences: what was opened stays open
    again = next(each for each in column.findings.blocks if each.level is Level.UNKNOWN)
    assert again.rest.isVisible()
    again.more.click()
    assert not again.rest.isVisible()
    assert again.more.text() == block.more.text().replace("Show fewer", f"and {count - FIRST} more")


def test_d20_four_candidates_fit_side_by_side_at_1280(qtbot: QtBot) -> None:
    made = VariantsPanel(Session(JOB.model_copy(update={"variants": (*JOB.variants, JOB.variants[0])})))
    qtbot.addWidget(made)
    made.resize(1198, 690)  # as its dialog gives it
    made.show()
    QApplication.processEvents()
    scroller = made.findChild(QScrollArea)
    assert scroller is not None
    assert not scroller.horizontalScrollBar().isVisible()
    tops = {column.findings.mapTo(made, QPoint(0, 0)).y() for column in made.columns}
    assert len(tops) == 1  # the findings begin level


def test_a_variant_starts_from_the_jobs_spring(panel: VariantsPanel) -> None:
    panel.add_button.click()
    assert panel.session.job.variants[2].spring.readings == JOB.spring.readings
    assert panel.session.job.variants[2].spring.installed_height is None
    assert [mark for _, mark in (texts(panel, 3, name) for name in panel._names)] == [""] * len(panel._names)
    assert len(panel.session.job.variants) == MOST
    assert not panel.add_button.isEnabled()
    panel.session.undo_stack.undo()
    assert panel.session.job == JOB
    assert panel.columns[3].isHidden()


def test_a_variants_fields_are_edited_in_place(panel: VariantsPanel, qtbot: QtBot) -> None:
    edit = variant(panel, 0).findChild(QLineEdit, "variants__0__spring__installed_height")
    assert isinstance(edit, QLineEdit)
    edit.setFocus()
    qtbot.keyClicks(edit, "1.850")
    qtbot.keyClick(edit, Qt.Key.Key_Return)
    assert panel.session.job.variants[0].spring.installed_height == "1.850 in"
    # by hand: 160 lbf + 0.050 in x 600 lbf/in
    assert texts(panel, 1, "seat_load") == ("190 lbf", "\u25b2 higher")
    assert panel.session.undo_stack.count() == 1


def test_taking_over_is_one_step(panel: VariantsPanel) -> None:
    variant(panel, 0).take_button.click()
    job = panel.session.job
    assert [reading.load for reading in job.spring.readings] == ["160 lbf", "520 lbf"]
    assert job.spring.installed_height == "1.900 in"
    assert [each.name for each in job.variants] == ["by rate"]
    assert panel.session.undo_stack.count() == 1
    panel.session.undo_stack.undo()
    assert panel.session.job == JOB


def test_removing_takes_only_that_variant(panel: VariantsPanel) -> None:
    variant(panel, 0).remove_button.click()
    assert [each.name for each in panel.session.job.variants] == ["by rate"]
    assert panel.columns[1].name.text() == "by rate"
    assert panel.columns[2].isHidden()


def test_the_columns_follow_the_job_and_the_units(panel: VariantsPanel) -> None:
    panel.session.set_field("follower.family", "roller-solid")
    assert "bind_margin_zero_lash" in panel.columns[1].figures.cells
    panel.session.set_style(Style.METRIC)
    assert texts(panel, 0, "installed_height")[0].endswith("mm")


def test_nothing_is_computed_while_the_panel_is_hidden(panel: VariantsPanel, monkeypatch: pytest.MonkeyPatch) -> None:
    panel.hide()
    monkeypatch.setattr("ui.variants.panel.candidates", lambda *_args: pytest.fail("computed"))
    panel.session.set_field("spring.bind_height", "1.110 in")


def test_an_empty_job_says_what_to_do(qtbot: QtBot) -> None:
    made = VariantsPanel(Session(Job(title="empty", units="inch-pound")))
    qtbot.addWidget(made)
    assert "No variant yet" in made.note.text()
    assert made.add_button.isEnabled()


@pytest.mark.parametrize("width", [700, 1400])
def test_a_long_name_keeps_to_its_two_lines(panel: VariantsPanel, width: int) -> None:
    name = "<b>the one with the</b> longest name of all " * 7
    panel.session.set_field("variants.0.name", name)
    panel.resize(width, 600)
    QApplication.processEvents()
    shown = variant(panel, 0).name
    assert shown.heightForWidth(shown.width()) <= shown.height()
    assert shown.text().startswith("<b>the one with")
    assert shown.text().endswith("\u2026")
    assert "&lt;b&gt;" in shown.toolTip()


def test_d23_the_focus_stays_with_who_took_a_variant_over(panel: VariantsPanel, qtbot: QtBot) -> None:
    qtbot.waitExposed(panel)
    for left in (1, 0):
        variant(panel, 0).take_button.setFocus()
        qtbot.keyClick(variant(panel, 0).take_button, Qt.Key.Key_Space)
        assert len(panel.session.job.variants) == left
        assert panel.focusWidget() is (variant(panel, 0).take_button if left else panel.add_button)
