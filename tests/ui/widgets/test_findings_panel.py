"""What it means: entries, levels, pointing, keys, links; no colour alone, a name for everything."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QWidget

from loadbench.errors import Place, Problem
from loadbench.findings.finding import Level
from loadbench.job.edits import replaced, replaced_all
from loadbench.job.model import Job
from loadbench.units import Style
from ui.session import Session
from ui.state import Pointing
from ui.widgets.finding_groups import chance_words, grouped, place_of
from ui.widgets.findings_panel import FindingsPanel
from ui.widgets.link import Link
from ui.widgets.problem_list import ProblemList

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pytestqt.qtbot import QtBot

    from ui.widgets.finding_entry import FindingEntry

JOB = Job.model_validate(
    {
        "title": "invented",
        "units": "inch-pound",
        "instruments": {"installed_height": "0.002 in", "bind_height": "0.003 in", "lift": "0.003 in"},
        "spring": {
            "installed_height": "1.800 in",
            "bind_height": "1.200 in",
            "readings": ({"height": "1.8 in", "load": "150 lbf"}, {"height": "1.3 in", "load": "350 lbf"}),
        },
        "valve_gear": {"rocker_ratio": 1.6, "measured_net_lift": "0.560 in", "retainer_to_seal": "0.700 in"},
        "follower": {"family": "roller-hydraulic", "axle": "needle", "travel": "short"},
        "lines": {"exhaust": {"valve_gear": {"measured_net_lift": "0.580 in"}}},
    }
)


@pytest.fixture
def panel(qtbot: QtBot) -> Iterator[FindingsPanel]:
    made = FindingsPanel(Session(JOB))
    qtbot.addWidget(made)
    made.resize(320, 600)
    made.show()
    return made


def entry_of(panel: FindingsPanel, rule: str) -> FindingEntry:
    return next(entry for entry in panel.entries() if entry.group.key[0] == rule)


def test_worst_come_first(panel: FindingsPanel) -> None:
    ranks = [entry.group.level.rank for entry in panel.entries()]
    assert ranks == sorted(ranks, reverse=True)
    assert ranks[0] == Level.STOP.rank


def test_a_rule_on_two_lines_is_one_entry_that_shows_the_worst(panel: FindingsPanel) -> None:
    entry = entry_of(panel, "bind-margin-min")
    assert len(entry.group.findings) == 2
    assert "Exhaust, worst of 2" in entry.head.text()
    assert "0.020" in entry.sentence.text()
    entry.set_open(True)
    assert "0.040" in all_text(entry)


def test_a_makers_limits_stand_apart() -> None:
    job = replaced_all(JOB, {"spring.maker_limits.lift_max": "0.6 in", "spring.maker_limits.seat_load_max": "200 lbf"})
    keys = [group.key for group in grouped(Session(job).state.verdicts.findings) if group.key[0] == "maker-limits"]
    assert len(keys) == 2


def all_text(widget: QWidget) -> str:
    text = "\n".join(str(child.property("text")) for child in widget.findChildren(QWidget) if child.property("text"))
    return text.replace("\u202f", " ")


def test_d18_each_level_has_a_sign_and_its_word(panel: FindingsPanel) -> None:
    for entry in panel.entries():
        assert entry.head.text().startswith(entry.group.level.value.capitalize())
    for level, chip in panel.chips.chips.items():
        assert level.value in chip.text()
        assert not chip.icon().isNull()
    signs = {
        level: chip.icon().pixmap(16, 16).toImage().convertToFormat(QImage.Format.Format_Alpha8)
        for level, chip in panel.chips.chips.items()
    }
    shapes = [bytes(sign.constBits()) for sign in signs.values()]
    assert len(set(shapes)) == 4  # told apart without any colour


def test_an_opened_finding_tells_limit_house_margin_chance_fix_and_source(panel: FindingsPanel) -> None:
    entry = entry_of(panel, "bind-margin-min")
    entry.set_open(True)
    text = all_text(entry)
    for said in (
        "0.030",
        "rule book",
        "past it by 0.010",
        "of being past this limit",
        "0.010 in more installed height",
        "common practice",
    ):
        assert said in text
    panel.session.set_field("spring.installed_height", "1.830 in")
    assert "0.050" in entry_of(panel, "bind-margin-min").sentence.text()


def test_a_house_value_is_said_to_be_one(panel: FindingsPanel) -> None:
    job = replaced(JOB, "rules", {"bind-margin-min": {"watch": "0.300 in"}})
    panel.session.edit("rules", lambda _job: job)
    entry = entry_of(panel, "bind-margin-min")
    entry.set_open(True)
    panel.session.set_field("spring.bind_height", "1.000 in")
    entry = entry_of(panel, "bind-margin-min")
    assert entry.group.level is Level.WATCH
    assert "house value of this job" in all_text(entry)


def test_d28_what_a_finding_waits_for_leads_to_its_field(panel: FindingsPanel, qtbot: QtBot) -> None:
    panel.session.set_field("spring.bind_height", None)
    entry = entry_of(panel, "bind-margin-min")
    assert entry.group.level is Level.UNKNOWN
    entry.set_open(True)
    link = next(link for link in entry.findChildren(Link) if link.property("field") == "spring.bind_height")
    assert "Bind height" in link.toolTip()
    with qtbot.waitSignal(panel.field_wanted) as wanted:
        link.click()
    assert wanted.args == ["spring.bind_height"]
    assert panel.session.pointing.fields == ("spring.bind_height",)


def test_d31_a_wrong_entry_is_listed_with_what_is_accepted(panel: FindingsPanel, qtbot: QtBot) -> None:
    assert panel.problems.isHidden()
    panel.session.set_field("spring.bind_height", "12 parsec")
    assert panel.problems.isVisible()
    assert "1.900 in" in all_text(panel.problems)
    link = panel.problems.findChild(Link)
    assert link is not None
    with qtbot.waitSignal(panel.field_wanted) as wanted:
        link.click()
    assert wanted.args == ["spring.bind_height"]


def test_pointing_at_an_entry_lights_up_what_it_speaks_of(panel: FindingsPanel) -> None:
    entry = entry_of(panel, "bind-margin-min")
    entry.setFocus()
    pointing = panel.session.pointing
    assert (pointing.rule, pointing.line, pointing.figures) == ("bind-margin-min", "exhaust", ("bind_margin",))
    assert "spring.bind_height" in pointing.fields
    panel.session.point_at(Pointing(figures=("retainer_margin",)))
    assert entry_of(panel, "retainer-margin-min")._lit
    assert not entry._lit


def test_arrow_keys_walk_and_enter_opens(panel: FindingsPanel, qtbot: QtBot) -> None:
    first, second = panel.entries()[:2]
    first.setFocus()
    qtbot.waitUntil(first.hasFocus)
    qtbot.keyClick(first, Qt.Key.Key_Down)
    assert second.hasFocus()
    qtbot.keyClick(second, Qt.Key.Key_Return)
    assert second.opened
    qtbot.keyClick(second, Qt.Key.Key_Left)
    assert not second.opened
    qtbot.keyClick(second, Qt.Key.Key_Up)
    assert first.hasFocus()
    tabbed = [entry for entry in panel.entries() if entry.focusPolicy() is Qt.FocusPolicy.StrongFocus]
    assert tabbed == [first]


def test_a_level_that_is_off_is_left_out(panel: FindingsPanel) -> None:
    for chip in panel.chips.chips.values():
        chip.setChecked(False)
    assert panel.entries() == []
    assert panel.empty.isVisible()
    panel.chips.chips[Level.STOP].setChecked(True)
    assert {entry.group.level for entry in panel.entries()} == {Level.STOP}
    assert panel.empty.isHidden()


def test_sentences_and_advice_follow_the_units(panel: FindingsPanel) -> None:
    assert "lbf" in panel.advice.rows["axle"][1].text()
    before = panel.session.job
    panel.session.set_style(Style.METRIC)
    assert "mm" in entry_of(panel, "bind-margin-min").sentence.text()
    assert panel.advice.rows["axle"][0].text() == "Axle: needle"
    assert " N" in panel.advice.rows["axle"][1].text().replace("\u202f", " ")
    assert panel.session.job == before


def test_a_rule_that_no_longer_speaks_loses_its_entry(panel: FindingsPanel) -> None:
    assert entry_of(panel, "short-travel-max")
    panel.session.set_field("follower.family", "flat-tappet-solid")
    assert all(entry.group.key[0] != "short-travel-max" for entry in panel.entries())
    assert panel.advice.isHidden()


def test_d26_everything_that_takes_the_focus_has_a_name(panel: FindingsPanel) -> None:
    for entry in panel.entries():
        entry.set_open(True)
    focusable = [child for child in panel.findChildren(QWidget) if child.focusPolicy() & Qt.FocusPolicy.TabFocus]
    assert len(focusable) > 20
    assert [child.objectName() for child in focusable if not child.accessibleName()] == []


def test_folded_to_counts_it_is_narrow(panel: FindingsPanel) -> None:
    panel.set_folded(True)
    assert panel.maximumWidth() < 150
    assert panel.chips.isVisible()
    assert panel.scroller.isHidden()
    panel.set_folded(False)
    assert panel.scroller.isVisible()


def test_markup_in_a_name_stays_text(panel: FindingsPanel) -> None:
    panel.session.set_field("spring.name", "<b>{x}</b>")
    label = entry_of(panel, "bind-margin-min").sentence
    assert label.textFormat() is Qt.TextFormat.PlainText


@pytest.mark.parametrize(
    ("chance", "said"), [(0.0, "under 0.1 %"), (0.031, "3.1 %"), (0.31, "31 %"), (1.0, "over 99.9 %")]
)
def test_a_chance_has_no_false_digits(chance: float, said: str) -> None:
    assert chance_words(chance) == said


def test_where_a_finding_holds_is_said_in_words() -> None:
    finding = replace(Session(JOB).state.verdicts.findings[0], line="intake", member="inner", valve="3")
    assert place_of(finding) == "Intake, inner spring, valve 3"


def test_a_faulty_entry_in_a_list_is_called_by_its_number(qtbot: QtBot) -> None:
    listed = ProblemList()
    qtbot.addWidget(listed)
    fields = ("spring.readings.1.load", "springs.2.readings.0.load", "spring.rate", "rules.set-spread.watch")
    listed.show_problems(tuple(Problem(what="x", place=Place(field=field)) for field in fields))
    names = [link.text() for link in listed.findChildren(Link)]
    assert names == [
        "Reading 2, load",
        "Spring 3, reading 1, load",
        "Rate",
        "Changed limit, spread across the set, watch",
    ]


def test_a_question_about_an_entry_stands_as_a_question(qtbot: QtBot) -> None:
    listed = ProblemList()
    qtbot.addWidget(listed)
    listed.show_problems(
        (
            Problem(what="no such rule", expected='did you mean "a"?', place=Place(field="rules.b")),
            Problem(what="no number", expected="a length", place=Place(field="spring.rate")),
        )
    )
    said = [link.accessibleDescription() for link in listed.findChildren(Link)]
    assert said == ['Wrong: No such rule. Did you mean "a"?', "Wrong: No number. Wanted: a length."]
