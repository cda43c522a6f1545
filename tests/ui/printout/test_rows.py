"""The preview's rows: what each was taken for, where something is wrong, and what is shown of a long printout."""

from __future__ import annotations

from loadbench.readings.printout.cells import Row
from tests.ui.printout.slips import FAULTY, READINGS, SLIP, long_slip, read
from ui.printout.rows import SHOWN, RowKind, cell_index, levelled, shown_rows


def kinds(text: str) -> list[RowKind]:
    found = read(text)
    return [row.kind for row in shown_rows(found, levelled(found.grid))]


def test_each_row_says_what_it_was_taken_for() -> None:
    left, header, is_read = RowKind.LEFT_OUT, RowKind.HEADER, RowKind.READ
    assert kinds(FAULTY) == [left, header, is_read, is_read, is_read, is_read, left]
    assert kinds(READINGS) == [header, RowKind.UNITS, is_read, is_read, is_read, is_read]


def test_a_row_whose_one_reading_is_wrong_is_not_just_left_out() -> None:
    text = READINGS.replace("524", "52q")
    assert kinds(text)[-1] is RowKind.WRONG


def test_a_problem_stands_at_its_cell() -> None:
    found = read(FAULTY)
    rows = shown_rows(found, levelled(found.grid))
    wrong = {(row.number, cell) for row in rows for cell in row.problems}
    assert (4, 2) in wrong
    assert "4o5" in rows[3].problems[2].what


def test_columns_of_blanks_count_letters_and_cells_are_found_among_them() -> None:
    row = Row(number=3, cells=("1", "48,26", "636,0"), columns=(4, 9, 18))
    assert [cell_index(row, column) for column in (4, 9, 12, 18, 22, 1, None)] == [0, 1, 1, 2, 2, 0, 0]
    found = read(SLIP.replace("640,1", "64O,1"))
    rows = shown_rows(found, levelled(found.grid))
    assert list(rows[-1].problems) == [2]


def test_a_long_printout_shows_its_beginning_and_what_is_wrong_further_down() -> None:
    found = read(long_slip(1000, wrong=700))
    rows = shown_rows(found, levelled(found.grid))
    assert len(rows) == SHOWN + 1
    assert (rows[-1].number, rows[-1].kind) == (702, RowKind.WRONG)


def test_a_line_of_text_stands_alone() -> None:
    found = read(FAULTY)
    rows = shown_rows(found, levelled(found.grid))
    assert [row.alone for row in rows] == [True] + [False] * 6
