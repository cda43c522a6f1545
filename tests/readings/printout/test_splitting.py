"""Text of printouts becomes cells, whatever stands between the columns."""

from __future__ import annotations

import csv
import io
import random
import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.errors import UnreadableFileError
from loadbench.readings.printout.cells import Separator
from loadbench.readings.printout.sniffing import SIGNS
from loadbench.readings.printout.splitting import grid_of_text

EXPECTED = [("Spring", "Height", "Load"), ("1", "1.900", "120.5"), ("2", "1.300", "355")]
EXPECTED_COMMA = [("Spring", "Height", "Load"), ("1", "48,26", "356,2"), ("2", "33,0", "1580")]


def cells_of(text: str, separator: Separator | None = None) -> list[tuple[str, ...]]:
    return [row.cells for row in grid_of_text(text, separator=separator).rows]


@pytest.mark.parametrize(
    ("text", "separator"),
    [
        ("Spring,Height,Load\n1,1.900,120.5\n2,1.300,355\n", Separator.COMMA),
        ("Spring, Height, Load\n1,  1.900, 120.5\n2,  1.300, 355\n", Separator.COMMA),
        ("Spring,Height,Load,\n1,1.900,120.5,\n2,1.300,355,\n", Separator.COMMA),
        ('"Spring","Height","Load"\n"1","1.900","120.5"\n"2","1.300","355"\n', Separator.COMMA),
        ("Spring;Height;Load\n1;1.900;120.5\n2;1.300;355\n", Separator.SEMICOLON),
        ("Spring\tHeight\tLoad\n1\t1.900\t120.5\n2\t1.300\t355\n", Separator.TAB),
        ("Spring|Height|Load\n1|1.900|120.5\n2|1.300|355\n", Separator.BAR),
        ("| Spring | Height | Load |\n|---|:-:|--:|\n| 1 | 1.900 | 120.5 |\n| 2 | 1.300 | 355 |\n", Separator.BAR),
        ("Spring  Height   Load\n1       1.900   120.5\n2       1.300   355\n", Separator.BLANKS),
        ("Spring Height Load\n1 1.900 120.5\n2 1.300 355\n", Separator.BLANKS),
        ("Spring\tHeight\tLoad\r\n1\t1.900\t120.5\r\n2\t1.300\t355\r\n", Separator.TAB),
        ("Spring,Height,Load\r1,1.900,120.5\r2,1.300,355\r", Separator.COMMA),
        ("sep=;\nSpring;Height;Load\n1;1.900;120.5\n2;1.300;355\n", Separator.SEMICOLON),
    ],
)
def test_the_separator_is_found(text: str, separator: Separator) -> None:
    grid = grid_of_text(text)
    assert grid.separator is separator
    assert [row.cells for row in grid.rows] == EXPECTED
    assert grid.text == text


@pytest.mark.parametrize(
    ("text", "separator"),
    [
        ("Spring;Height;Load\n1;48,26;356,2\n2;33,0;1580\n", Separator.SEMICOLON),
        ("Spring\tHeight\tLoad\n1\t48,26\t356,2\n2\t33,0\t1580\n", Separator.TAB),
        ("Spring|Height|Load\n1|48,26|356,2\n2|33,0|1580\n", Separator.BAR),
        ("Spring   Height   Load\n1        48,26    356,2\n2        33,0    1580\n", Separator.BLANKS),
        ("Spring Height Load\n1 48,26 356,2\n2 33,0 1580\n", Separator.BLANKS),
        ('Spring,Height,Load\n1,"48,26","356,2"\n2,"33,0",1580\n', Separator.COMMA),
    ],
)
def test_a_decimal_comma_stays_in_its_cell(text: str, separator: Separator) -> None:
    assert grid_of_text(text).separator is separator
    assert cells_of(text) == EXPECTED_COMMA


@pytest.mark.parametrize(
    ("text", "separator"),
    [
        ("A1;48,26\nA2;33,0\n", Separator.SEMICOLON),
        ("Load, N;Height, mm\n356,2;48,26\n", Separator.SEMICOLON),
        ("Nr Kraft Höhe\n1 348,26 356,2\n2 348,26 355,2\n", Separator.BLANKS),
        ("Part   Height\nOuter  48,26\nInner  47,00\n", Separator.BLANKS),
        ("Nr\tKraft\n1\t1 580,5\n2\t1 590,0\n", Separator.TAB),
        ("Spring A,good part,12\nSpring B,good part,13\n", Separator.COMMA),
        ("Spring 1,120\nSpring 2,118\n", Separator.COMMA),
        ("1,1,250.5\n2,1,300.5\n", Separator.COMMA),
        ("120.5\n121\n119\n", Separator.BLANKS),
        ("Nr  Load lbf\n1   1,250.5\n2   1,300.5\n", Separator.BLANKS),
    ],
)
def test_doubtful_marks_are_taken_for_what_they_are(text: str, separator: Separator) -> None:
    grid = grid_of_text(text)
    assert grid.separator is separator
    assert len({len(row.cells) for row in grid.rows}) == 1


def test_lines_over_a_table_stay_and_are_counted() -> None:
    text = "# made-up springs; a set of 2\nTester 4, operator Q\n\nSpring,Load\n======,====\n1,120.5\n2,121,late\n"
    rows = grid_of_text(text).rows
    assert [(row.number, len(row.cells)) for row in rows] == [(1, 1), (2, 2), (4, 2), (6, 2), (7, 3)]
    assert rows[-1].columns == (1, 2, 3)


def test_a_quoted_cell_holds_separators_and_line_ends() -> None:
    text = 'Spring,"Load\nlbf","Note, if any"\n1,120.5,"two\n\nlines, ""quoted"""\n2,121,\n'
    grid = grid_of_text(text)
    assert [row.cells for row in grid.rows] == [
        ("Spring", "Load lbf", "Note, if any"),
        ("1", "120.5", 'two lines, "quoted"'),
        ("2", "121", ""),
    ]
    assert [row.number for row in grid.rows] == [1, 3, 6]


@pytest.mark.parametrize(
    ("text", "cells"),
    [
        ('"Springs, of 1.9\nNo,Height\n1,1.900\n2,1.8\n', ('"Springs', "of 1.9")),
        ('No,Height\n1,1.900"\n2,1.8"\n', ("No", "Height")),
        ('No,Height\n1,"1.900" in\n2,1.8\n', ("No", "Height")),
        ('No,Height\n1,1.9\n",1.9\n2,"1.8"\n', ("No", "Height")),
    ],
)
def test_a_quote_that_does_not_close_swallows_nothing(text: str, cells: tuple[str, ...]) -> None:
    grid = grid_of_text(text)
    assert grid.rows[0].cells == cells
    assert len(grid.rows) == text.count("\n")
    assert all(len(row.cells) == 2 for row in grid.rows)


def test_blank_rows_and_control_characters_are_left_out() -> None:
    assert cells_of("\x1b1,2\x02\n,,\n \t \n3,4\n\n") == [("1", "2"), ("3", "4")]
    assert cells_of("\n \n") == []
    assert cells_of("") == []


def test_too_many_rows_or_columns_are_refused_with_their_place() -> None:
    with pytest.raises(UnreadableFileError) as wide:
        grid_of_text("1,2\n" + "3," * 300, name="slip.csv")
    assert (wide.value.problems[0].place.file, wide.value.problems[0].place.row) == ("slip.csv", 2)
    with pytest.raises(UnreadableFileError, match="100,000 rows"):
        grid_of_text("1,2\n" * 100_001)
    with pytest.raises(UnreadableFileError, match="lines"):
        grid_of_text("\n" * 2_000_000)
    with pytest.raises(UnreadableFileError, match="60,000 characters in one line"):
        grid_of_text("1,2\n" + "3" * 60_000)


@pytest.mark.parametrize("bit", ["a ", "a  b ", "1 ", '"', "1'", "1.", "- -x", "1 1/", " "])
def test_long_lines_take_no_long_time(bit: str) -> None:
    line = bit * (40_000 // len(bit))
    start = time.process_time()
    grid = grid_of_text(f"{line}1\n" * 50 + "1 2 3\n")
    assert len(grid.rows) == 51
    assert time.process_time() - start < 2


def test_lines_of_blanks_alone_as_far_as_one_looks_are_no_trouble() -> None:
    assert [row.cells[-1] for row in grid_of_text((" " * 3000 + "1  2\n") * 3).rows] == ["1  2"] * 3


NUMBERS = st.decimals(0, 999, places=2).map(str) | st.integers(0, 99).map(str)
TABLES = st.integers(3, 6).flatmap(
    lambda width: st.lists(st.lists(NUMBERS, min_size=width, max_size=width), min_size=3)
)


@given(TABLES, st.sampled_from([*SIGNS]), st.booleans())
def test_any_table_of_numbers_comes_back(table: list[list[str]], separator: Separator, comma: bool) -> None:
    rows = [[cell.replace(".", "," if comma else ".") for cell in row] for row in table]
    rows.insert(0, ["Spring no.", *(f"Load {place}" for place in range(len(rows[0]) - 1))])
    assert cells_of(written(rows, SIGNS[separator])) == [tuple(row) for row in rows]


TEXTS = st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cs", "Zl", "Zp")) | st.just("\n"), max_size=12)


@given(st.lists(st.lists(TEXTS, min_size=1, max_size=5), max_size=6), st.sampled_from([*SIGNS]))
def test_any_table_of_texts_comes_back(table: list[list[str]], separator: Separator) -> None:
    # A first and last cell that is never empty nor a rule: such rows and columns are left out by intent.
    rows = [["a", *row, "z"] for row in table]
    expected = [
        tuple(" ".join(part.strip() for part in cell.split("\n") if part.strip()) for cell in row) for row in rows
    ]
    assert cells_of(written(rows, SIGNS[separator]), separator) == expected


@given(st.text(max_size=300))
def test_any_text_is_split(text: str) -> None:
    for row in grid_of_text(text).rows:
        assert len(row.cells) == len(row.columns)
        assert any(row.cells)
        assert all(cell == cell.strip() for cell in row.cells)


def written(rows: list[list[str]], sign: str) -> str:
    stream = io.StringIO()
    csv.writer(stream, delimiter=sign, lineterminator="\r\n").writerows(rows)
    return stream.getvalue()


@pytest.mark.parametrize("separator", [*SIGNS, Separator.BLANKS])
def test_ten_thousand_rows_are_split(separator: Separator) -> None:
    chance = random.Random(7)  # noqa: S311
    rows = [["Spring", "Height", "Load", "Repeat"]]
    rows += [[str(n), f"{chance.uniform(1, 2):.3f}", f"{chance.uniform(80, 400):.1f}", "1"] for n in range(10_000)]
    sign = SIGNS.get(separator)
    text = "\n".join(sign.join(row) if sign else "".join(f"{cell:>10}" for cell in row) for row in rows)
    grid = grid_of_text(text)
    assert (grid.separator, len(grid.rows)) == (separator, 10_001)
    assert [row.cells for row in grid.rows[-1:]] == [tuple(rows[-1])]
