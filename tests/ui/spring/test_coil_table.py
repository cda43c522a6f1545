"""The table of the coils' figures: every figure in one group, values told, dashes that say why, formulas, copying."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from loadbench.analysis.coils.result import FIGURES
from loadbench.job.model import Job
from loadbench.units import Style
from tests.ui.spring.spring_jobs import pair, single
from ui.session import Session
from ui.spring.coil_rows import GROUPS
from ui.spring.coil_table import CoilTable
from ui.widgets.key_figures import DASH

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

Role, Key = Qt.ItemDataRole, Qt.Key
Show = Callable[..., CoilTable]


@pytest.fixture
def shown(qtbot: QtBot) -> Show:
    def show(job: Job, *groups: str) -> CoilTable:
        session = Session(job)
        table = CoilTable(session)
        qtbot.addWidget(table)
        table.resize(620, 400)
        table.show()
        show_in(table, *groups)
        return table

    return show


def show_in(table: CoilTable, *groups: str) -> None:
    line = table.session.state.analysis.line(table.session.line)
    table.show_coils(line.coils, groups or ("geometry",))
    QApplication.processEvents()


def place_of(table: CoilTable, name: str) -> int:
    return next(place for place, row in enumerate(table.figures.figures.rows) if row.name == name)


def cell(table: CoilTable, name: str, column: int = 1, role: int = Role.DisplayRole) -> str:
    return str(table.figures.index(place_of(table, name), column).data(role) or "")


def test_every_figure_stands_in_one_group() -> None:
    grouped = [name for names in GROUPS.values() for name in names]
    assert sorted(grouped) == sorted(FIGURES)


def test_the_group_comes_first_and_a_column_for_each_spring(shown: Show) -> None:
    table = shown(pair(), "stress", "fatigue")
    heads = [table.figures.headerData(column, Qt.Orientation.Horizontal) for column in range(4)]
    assert heads == ["Figure", "outer", "inner", "Note"]
    headings = [row.label for row in table.figures.figures.rows if row.heading]
    assert headings == ["Stress", "Fatigue"]
    assert table.columnSpan(0, 0) == 4
    assert not table.figures.index(0, 0).flags() & Qt.ItemFlag.ItemIsSelectable


def test_values_have_unit_and_follow_the_style(shown: Show) -> None:
    table = shown(single())
    assert cell(table, "spring_index") == "6.615"  # 1.270 / 0.192
    assert cell(table, "outer_diameter").endswith("in")
    assert cell(table, "outer_diameter").startswith("1.462")
    table.session.set_style(Style.METRIC)
    show_in(table)
    assert cell(table, "outer_diameter").startswith("37.13")
    assert cell(table, "outer_diameter").endswith("mm")


def test_an_unknown_figure_is_a_dash_that_says_what_it_waits_for(shown: Show) -> None:
    table = shown(single(spring__coils__0__wire__diameter=None))
    assert cell(table, "spring_index") == DASH
    for role in (Role.ToolTipRole, Role.AccessibleTextRole):
        assert "wire diameter" in cell(table, "spring_index", 1, role)
    assert "wire diameter" in cell(table, "spring_index", 2)
    assert cell(table, "spring_index", 1, Role.AccessibleTextRole).startswith("Spring index, outer: unknown")


def test_a_known_cell_is_read_out_with_its_spring(shown: Show) -> None:
    table = shown(pair())
    told = cell(table, "spring_index", 1, Role.AccessibleTextRole)
    assert told == f"Spring index, outer: {cell(table, 'spring_index')}"


def test_d22_enter_opens_the_formula_with_this_springs_numbers(shown: Show) -> None:
    table = shown(pair())
    table.setFocus()
    for name in ("outer", "inner"):
        column = 1 if name == "outer" else 2
        table.setCurrentIndex(table.figures.index(place_of(table, "spring_index"), column))
        QTest.keyClick(table, Key.Key_Return)
        assert table.pane is not None
        assert table.pane.isVisible()
        assert table.pane.windowTitle() == f"Spring index, {name}"
        assert cell(table, "spring_index", column) in table.pane.text()
    table.pane.close()


def test_the_formula_follows_the_job(shown: Show) -> None:
    table = shown(single())
    pane = table.open_formula("outer", "spring_index")
    before = pane.text()
    table.session.set_field("spring.coils.0.mean_diameter", "1.300 in")
    assert pane.text() != before
    assert "6.771" in pane.text()
    pane.close()


def test_an_input_of_a_formula_leads_to_the_springs_own_field(shown: Show) -> None:
    table = shown(pair())
    pane = table.open_formula("inner", "spring_index")
    fields = [each.field for each in pane._reason.inputs] if pane._reason else []
    assert any(field.startswith("spring.coils.1.") for field in fields)
    pane.close()


def test_a_heading_opens_nothing(shown: Show) -> None:
    table = shown(single())
    table.open_at(table.figures.index(0, 0))
    assert table.pane is None


def test_d43_rows_are_copied_with_their_heads(shown: Show) -> None:
    table = shown(pair())
    table.setFocus()
    table.selectRow(place_of(table, "spring_index"))
    QTest.keyClick(table, Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    lines = QGuiApplication.clipboard().text().splitlines()
    assert lines[0].split("\t") == ["Figure", "outer", "inner", "Note"]
    assert len(lines) == 2
    assert lines[1].startswith("Spring index\t6.615\t")
    table.clearSelection()
    table.copy()
    text = QGuiApplication.clipboard().text()
    assert len(text.splitlines()) == 1 + table.figures.rowCount()
    assert all(line.count("\t") == 3 for line in text.splitlines())


def test_an_edit_tells_only_the_rows_that_changed(shown: Show) -> None:
    table = shown(single())
    resets: list[int] = []
    rows: set[int] = set()
    table.figures.modelReset.connect(lambda: resets.append(1))
    table.figures.dataChanged.connect(lambda top, _bottom, _roles: rows.add(top.row()))
    table.session.set_field("spring.coils.0.retainer_step_diameter", "0.800 in")
    show_in(table)
    assert resets == []
    assert rows == {place_of(table, "retainer_step_gap")}


def test_the_place_in_the_table_is_kept_when_the_group_changes(shown: Show) -> None:
    table = shown(pair())
    table.setCurrentIndex(table.figures.index(4, 2))
    show_in(table, "stress", "fatigue")
    assert (table.currentIndex().row(), table.currentIndex().column()) == (4, 2)


def test_values_are_not_cut(shown: Show) -> None:
    table = shown(pair(), *GROUPS)
    metrics = table.fontMetrics()
    for place, row in enumerate(table.figures.figures.rows):
        assert table.columnWidth(0) >= metrics.horizontalAdvance(row.label)
        for column, each in enumerate(row.cells, 1):
            assert table.columnWidth(column) >= metrics.horizontalAdvance(each.text) * 0.9, (place, each.text)
