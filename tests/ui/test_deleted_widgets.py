"""What was deleted hears nothing any more: the session and the theme outlive every widget."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QCoreApplication, QEvent

import ui
from loadbench.units import Style
from ui.app import demo_job
from ui.inverse import InversePanel
from ui.pages.bench_page import BenchPage
from ui.pages.readings_page import ReadingsPage
from ui.rule_book.dialog import RuleBookDialog
from ui.session import Session
from ui.slip.slip_model import SlipModel
from ui.theme import Choice, theme
from ui.variants import VariantsPanel
from ui.widgets.card import Card
from ui.widgets.figures_strip import FiguresStrip
from ui.widgets.findings_panel import FindingsPanel
from ui.widgets.stated_panel import StatedPanel

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtCore import QObject
    from pytestqt.qtbot import QtBot

MADE: tuple[Callable[[Session], QObject], ...] = (
    StatedPanel,
    ReadingsPage,
    BenchPage,
    FindingsPanel,
    FiguresStrip,
    VariantsPanel,
    InversePanel,
    RuleBookDialog,
    SlipModel,
)


def _open_all(made: QObject) -> int:
    """Open every card, also those within: fields are built with their card."""
    opened: set[Card] = set()
    while closed := [card for card in made.findChildren(Card) if card not in opened]:
        for card in closed:
            card.set_open(True)
            opened.add(card)
    return len(opened)


@pytest.mark.parametrize("make", MADE, ids=lambda kind: kind.__name__)
def test_what_is_deleted_hears_no_more(qtbot: QtBot, make: Callable[[Session], QObject]) -> None:
    job = demo_job()
    assert job is not None
    session = Session(job)
    made = make(session)
    opened = _open_all(made)
    assert opened > 5 or not isinstance(made, StatedPanel)
    kept = [made, *made.children()]  # Python still holds them, as a closure would
    made.deleteLater()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    with qtbot.captureExceptions() as raised:
        session.set_style(Style.METRIC)
        session.set_field("spring.installed_height", "47 mm")
        session.set_fields("intake apart", {"lines.intake": {"spring": {"installed_height": "46 mm"}}})
        session.choose_line("exhaust")
        session.undo_stack.undo()
        session.reload(job, None)
        theme().choose(Choice.DARK)
        theme().choose(Choice.LIGHT)
    assert raised == []
    assert len(kept) > 0


def test_no_closure_waits_on_the_session() -> None:
    """A bound method of a QObject is let go with it; a closure is not."""
    for file in Path(ui.__file__).parent.rglob("*.py"):
        text = file.read_text(encoding="utf-8")
        assert not re.search(r"(session\.\w+|theme\(\)\.changed|undo_stack\.\w+)\.connect\(lambda", text), file
