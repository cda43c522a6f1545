"""Pasting into the grid of lift: headers and units are taken as the import of lift tables takes them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtGui import QGuiApplication

from loadbench.units import Style
from ui.widgets.lift_rows import LiftRowsModel, pasted_lift
from ui.widgets.readings_table import RowTable

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from ui.session import Session


@pytest.fixture
def table(qtbot: QtBot, session: Session) -> RowTable:
    made = RowTable(session, "cam.profile", ("angle", "lift"))
    qtbot.addWidget(made)
    assert isinstance(made.model, LiftRowsModel)
    return made


def paste(table: RowTable, text: str, row: int = 0, column: int = 0) -> None:
    QGuiApplication.clipboard().setText(text)
    table.grid.setCurrentIndex(table.model.index(row, column))
    table.grid.paste()


def profile(session: Session) -> tuple[tuple[str | None, str | None], ...]:
    return session.job.cam.profile


def test_a_header_line_is_no_row_and_its_units_hold(table: RowTable, session: Session) -> None:
    paste(table, "Crank angle, deg\tValve lift, mm\n-100\t2,50\n0\t11,00\n100\t2,50\n")
    assert profile(session) == (("-100 deg", "2.50 mm"), ("0 deg", "11.00 mm"), ("100 deg", "2.50 mm"))
    assert session.job.cam.profile_angle == "crank"
    assert session.job.cam.profile_side == "valve"
    assert session.undo_stack.count() == 1
    session.undo_stack.undo()
    assert profile(session) == ()
    assert session.job.cam.profile_angle is None


def test_what_the_headers_do_not_say_stays(table: RowTable, session: Session) -> None:
    session.set_fields("sides", {"cam.profile_angle": "cam", "cam.profile_side": "lobe"})
    paste(table, "angle\tlift\n-10\t0.300\n0\t0.350\n10\t0.300\n")
    assert profile(session)[1] == ("0 deg", "0.350 in")  # the job's own units
    assert (session.job.cam.profile_angle, session.job.cam.profile_side) == ("cam", "lobe")


def test_columns_that_are_no_angle_and_no_lift_are_passed_over(table: RowTable, session: Session) -> None:
    paste(table, "no,cam deg,remark,lobe lift mm\n1,-10,a,6.0\n2,0,b,8.0\n3,10,c,6.0\n")
    assert profile(session) == (("-10 deg", "6.0 mm"), ("0 deg", "8.0 mm"), ("10 deg", "6.0 mm"))
    assert session.job.cam.profile_angle == "cam"


def test_rows_are_put_from_the_current_one_on(table: RowTable, session: Session) -> None:
    paste(table, "angle deg\tlift mm\n-20\t4\n-10\t6\n0\t8\n10\t6\n")
    paste(table, "angle deg\tlift mm\n-9\t6.2\n1\t7.9\n", row=1)
    assert [angle for angle, _ in profile(session)] == ["-20 deg", "-9 deg", "1 deg", "10 deg"]


def test_a_row_that_cannot_be_read_is_marked_and_not_dropped(table: RowTable, session: Session) -> None:
    paste(table, "angle deg\tlift mm\n-10\t6\n0\t8..1\n10\t6\n")
    assert (profile(session)[1][1] or "").startswith("8..1")
    assert len(profile(session)) == 3
    assert table.model.problem(1, 1) is not None


def test_without_headers_cells_go_where_they_stand(table: RowTable, session: Session) -> None:
    paste(table, "-10\t0.300\n0\t0.350\n")
    assert profile(session) == (("-10 deg", "0.300 in"), ("0 deg", "0.350 in"))
    paste(table, "0.310\n0.355\n", column=1)
    assert profile(session) == (("-10 deg", "0.310 in"), ("0 deg", "0.355 in"))


def test_more_columns_than_the_grid_has_are_sorted_out_without_headers_too(table: RowTable, session: Session) -> None:
    paste(table, "1\t-10\t0.300\n2\t0\t0.350\n3\t10\t0.300\n")
    assert profile(session) == (("-10 deg", "0.300 in"), ("0 deg", "0.350 in"), ("10 deg", "0.300 in"))


def test_a_block_that_is_no_table_of_lift_is_none() -> None:
    assert pasted_lift([["angle"], ["1"], ["2"]], Style.METRIC) is None
    assert pasted_lift([["just words", "here"]], Style.METRIC) is None
