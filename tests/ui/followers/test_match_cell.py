"""The reason of a cell: level, trade beside physics, what they rest on, ways to what is missing."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from loadbench.findings.finding import Level, Sentence
from loadbench.findings.match.result import Cell, Criterion, Kit
from loadbench.units import Kind, Style
from tests.ui.followers.follower_jobs import FLAT, SHORT, SOLID, match_of_sample
from ui.followers.match_cell import CellReason, beyond, facts_of, head_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pytestqt.qtbot import QtBot

TRADE, PHYSICS = Sentence("The trade runs it."), Sentence("The film is thin.")
BOTH = Cell(
    kit=Kit.FLAT_SOLID, criterion=Criterion.CONTACT, level=Level.WATCH, practice=TRADE, physics=PHYSICS, disagree=True,
    sentence=Sentence("The film is thin. A crown was taken as is usual."), value=0.5e9, value_kind=Kind.STRESS,
    limit=0.4e9, source="machinerys-handbook", line="exhaust",
)  # fmt: skip


@pytest.fixture
def reason(qtbot: QtBot) -> Iterator[CellReason]:
    made = CellReason()
    qtbot.addWidget(made)
    made.resize(600, 300)
    made.show()
    yield made
    made.hide()


def test_the_head_names_family_criterion_level_and_line() -> None:
    assert head_of(BOTH) == "Flat tappet, solid, contact of lobe and follower: watch (exhaust)"
    assert head_of(replace(BOTH, level=None, line=None)).endswith("does not concern it")


def test_what_stands_in_a_column_is_not_said_again() -> None:
    assert beyond(BOTH, Style.METRIC) == "A crown was taken as is usual."
    assert beyond(replace(BOTH, sentence=PHYSICS), Style.METRIC) == ""
    assert beyond(replace(BOTH, practice=None), Style.METRIC).startswith("The film is thin.")
    assert beyond(replace(BOTH, sentence=Sentence("Another.")), Style.METRIC) == "Another."


def test_facts_are_value_limit_and_the_source_in_words() -> None:
    assert facts_of(BOTH, Style.METRIC).startswith(
        "Value 500\u2009MPa, limit 400\u2009MPa. Source: Machinery's Handbook"
    )
    assert "limit \u2013" in facts_of(replace(BOTH, limit=None), Style.METRIC)
    assert facts_of(replace(BOTH, level=None, value=None), Style.METRIC) == ""


def test_both_sides_stand_side_by_side_and_say_that_they_disagree(reason: CellReason) -> None:
    match = match_of_sample(SHORT)
    reason.show_cell(BOTH, match, Style.METRIC)
    assert reason.trade.said.text() == "The trade runs it."
    assert reason.physics.said.text() == "The film is thin."
    assert reason.trade.y() == reason.physics.y() or not reason.layout().activate()
    assert reason.disagreement.isVisible()
    assert reason.disagreement.word.text() == "They disagree"
    reason.show_cell(replace(BOTH, physics=None, disagree=False), match, Style.METRIC)
    assert not reason.sides.isVisible()
    assert not reason.disagreement.isVisible()
    assert reason.reason.text().startswith("The film is thin.")


def test_every_cell_that_disagrees_shows_two_sides(reason: CellReason) -> None:
    seen = 0
    for name in (SHORT, SOLID, FLAT):
        match = match_of_sample(name)
        for cell in match.cells:
            reason.show_cell(cell, match, Style.INCH_POUND)
            assert reason.head.text().startswith(str(head_of(cell).split(":")[0]))
            if cell.disagree:
                seen += 1
                assert reason.sides.isVisible()
                assert reason.trade.said.text()
                assert reason.physics.said.text()
            text = "".join(label.text() for label in (reason.head, reason.reason, reason.facts, reason.changes))
            assert "{" not in text
    assert seen


def test_links_lead_to_fields_and_fields_called_alike_are_one(reason: CellReason, qtbot: QtBot) -> None:
    match = match_of_sample(SHORT)
    fields = ("spring.readings.0.load", "spring.readings.1.load", "spring.rate")
    cell = replace(BOTH, missing=fields)
    reason.show_cell(cell, match, Style.METRIC)
    shown = reason.links.shown
    assert len({link.text() for link in shown}) == len(shown)
    assert shown[0].property("leads_to") == "spring.readings.0.load"
    with qtbot.waitSignal(reason.links.wanted) as wanted:
        shown[-1].click()
    assert wanted.args == ["spring.rate"]
    assert all(link.accessibleName().startswith("Go to ") for link in shown)
    reason.show_cell(BOTH, match, Style.METRIC)
    assert reason.links.shown == []
    assert not reason.links.isVisible()


def test_what_would_have_to_change_stands_beneath(reason: CellReason) -> None:
    match = match_of_sample(SHORT)
    kit = next(iter(kit for kit, sentences in match.changes.items() if sentences))
    reason.show_cell(match.cell(kit, Criterion.DUTY), match, Style.METRIC)
    lines = reason.changes.text().splitlines()
    assert lines[0].startswith("For ")
    assert len(lines) == len(match.changes[kit]) + 1
