"""The Followers page: every view for every kind of follower, the match by keys alone, what leads to a field."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any, cast

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from loadbench.findings.match.result import Criterion, Kit
from loadbench.job.files import open_job
from loadbench.job.reading_in import job_from_text
from loadbench.units import Style
from ui.followers.axle_view import AxleView
from ui.followers.contact_view import ContactView
from ui.followers.match_view import MatchView
from ui.followers.plunger_view import PlungerView
from ui.pages.followers_page import FollowersPage
from ui.session import Session
from ui.theme import Choice, theme

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from loadbench.job.model import Job

SAMPLES = Path(__file__).parents[3] / "samples"
VIEWS = ("match", "contact", "axle", "plunger")


def sample(name: str) -> Job:
    return open_job(SAMPLES / f"{name}.loadbench.json")


@pytest.fixture
def page(qtbot: QtBot) -> Iterator[FollowersPage]:
    made = FollowersPage(Session(sample("short-travel-hydraulic-roller")))
    qtbot.addWidget(made)
    made.resize(640, 620)
    made.show()
    qtbot.waitExposed(made)
    yield made
    made.hide()


def of(page: FollowersPage, key: str) -> Any:
    page.words.choose(key)
    QApplication.processEvents()
    return page.made[key]


def settled(qtbot: QtBot, view: MatchView) -> None:
    qtbot.waitUntil(lambda: view._shown is view.session.state, timeout=3000)


@pytest.mark.parametrize(
    "name",
    ["short-travel-hydraulic-roller", "solid-roller-1000-lbf", "mild-street-flat-hydraulic", "bucket-head-with-shims",
     "printout-and-fit", "deliberately-bad"],
)  # fmt: skip
def test_every_view_opens_for_every_kind_of_follower(qtbot: QtBot, name: str) -> None:
    page = FollowersPage(Session(sample(name)))
    qtbot.addWidget(page)
    page.resize(640, 620)
    page.show()
    for key in VIEWS:
        view = of(page, key)
        assert page.stack.currentWidget() is view
        told = getattr(getattr(view, "picture", view), "told", None)
        if told is not None:
            assert bool(told.charts) is not bool(told.empty)
            assert "{" not in told.empty + told.description
    page.hide()


def test_the_match_shows_a_level_in_every_cell_that_concerns(page: FollowersPage) -> None:
    view = cast("MatchView", of(page, "match"))
    rows = view.model.as_rows()
    assert (len(rows), len(rows[0])) == (len(Criterion) + 1, len(Kit) + 1)
    words = {word.removesuffix(" *") for row in rows[1:] for word in row[1:]}
    assert words <= {"Clear", "Watch", "Stop", "Unknown", "\u2013"}
    assert {"Clear", "Stop"} <= words
    assert view.advice.text().startswith("Hydraulic roller, short travel")


def press(view: MatchView, key: Qt.Key) -> None:
    QTest.keyClick(view.grid, key)


def test_a_cell_tells_its_reason_and_walks_by_keys(page: FollowersPage) -> None:
    view = cast("MatchView", of(page, "match"))
    view.reset_view()
    before = view.reason.text()
    assert before.startswith("Flat tappet, solid, open load: ")
    press(view, Qt.Key.Key_Right)
    assert view.reason.text().startswith("Flat tappet, hydraulic, open load: ")
    press(view, Qt.Key.Key_Down)
    assert view.reason.text().startswith("Flat tappet, hydraulic, speed: ")
    assert "Source: " in view.more.text()
    assert "to suit:" in view.changes.text()


def test_what_is_missing_leads_to_its_field(page: FollowersPage, qtbot: QtBot) -> None:
    view = cast("MatchView", of(page, "match"))
    match = view.model.held
    assert match is not None
    cell = next(each for each in match.cells if each.missing)
    place = view.model.index(list(Criterion).index(cell.criterion), list(Kit).index(cell.kit))
    view.grid.setCurrentIndex(place)
    assert not view.links[0].isHidden()
    with qtbot.waitSignal(view.field_wanted) as wanted:
        view.links[0].click()
    assert wanted.args == [cell.missing[0]]


def test_an_edit_is_followed_a_moment_later(page: FollowersPage, qtbot: QtBot) -> None:
    view = cast("MatchView", of(page, "match"))
    first = view.model.held
    page.session.set_fields("feed", {"follower.oil_feed": "splash"})
    settled(qtbot, view)
    match = view.model.held
    assert match is not first
    assert match is not None
    assert match.cell(Kit.ROLLER_HYDRAULIC_SHORT, Criterion.OIL_TO_AXLE).level is not None


def test_nothing_is_worked_out_while_the_page_is_hidden(page: FollowersPage) -> None:
    view = cast("MatchView", of(page, "match"))
    page.hide()
    before = view.model.held
    page.session.set_fields("use", {"duty.use": "drag"})
    QApplication.processEvents()
    assert view.model.held is before
    page.show()
    QApplication.processEvents()


def test_copies_come_as_a_table_and_pictures_are_saved(page: FollowersPage, tmp_path: Path) -> None:
    page.copy_match()
    lines = QGuiApplication.clipboard().text().splitlines()
    assert len(lines) == len(Criterion) + 1
    assert lines[0].split("\t")[1] == "Flat tappet, solid"
    view = cast("MatchView", of(page, "match"))
    for name in ("match.png", "match.csv"):
        view.save_picture_as(tmp_path / name)
        assert (tmp_path / name).stat().st_size > 100
    for key in ("contact", "axle", "plunger"):
        of(page, key).save_picture_as(tmp_path / f"{key}.csv")
        rows = (tmp_path / f"{key}.csv").read_text(encoding="utf-8").splitlines()
        assert len(rows) > 2


def test_units_and_theme_follow(page: FollowersPage) -> None:
    view = cast("MatchView", of(page, "match"))
    page.session.set_style(Style.METRIC)
    assert "lbf" not in view.advice.text()
    contact = cast("ContactView", of(page, "contact"))
    assert "MPa" in contact.told.charts[0].up
    theme().choose(Choice.DARK)
    theme().choose(Choice.LIGHT)
    page.session.set_style(Style.INCH_POUND)
    assert "kpsi" in contact.told.charts[0].up


def test_pictures_are_read_out(page: FollowersPage) -> None:
    contact = cast("ContactView", of(page, "contact"))
    assert "idling: " in contact.read_at(0.0)
    assert "from the nose" in contact.read_at(-40.0)
    axle = cast("AxleView", of(page, "axle"))
    assert axle.shown is not None
    assert "static safety" in axle.read_at(20.0)
    assert "This job: " in axle.told.description
    plunger = cast("PlungerView", of(page, "plunger"))
    assert plunger.picture.read_at(1.0).startswith("Standard travel: ")
    assert plunger.picture.read_at(2.0).startswith("Short travel: ")
    assert plunger.table.model.rowCount() == 8


def test_what_an_empty_view_waits_for_is_named(qtbot: QtBot) -> None:
    tree = {"format": "loadbench-job", "version": 4, "title": "t", "units": "metric"}
    page = FollowersPage(Session(job_from_text(json.dumps(tree))))
    qtbot.addWidget(page)
    page.show()
    assert of(page, "contact").told.empty
    assert "waits for" in of(page, "axle").told.empty
    assert of(page, "plunger").picture.told.empty == "This follower has no plunger."
    match = cast("MatchView", of(page, "match")).model.held
    assert match is not None
    page.hide()
