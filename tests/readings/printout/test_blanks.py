"""Columns of blanks: cells are found by where they stand, and headers by what they stand over."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.readings.printout.cells import Row, Separator
from loadbench.readings.printout.splitting import grid_of_text


def rows_of(text: str) -> tuple[Row, ...]:
    grid = grid_of_text(text)
    assert grid.separator is Separator.BLANKS
    return grid.rows


def cells_of(text: str) -> list[tuple[str, ...]]:
    return [row.cells for row in rows_of(text)]


def test_words_of_a_header_stay_together_over_their_column() -> None:
    text = (
        "Spring no.   Installed height   Load\n"
        "                    in           lbf\n"
        "------------------------------------\n"
        "     1            1.900        120.5\n"
        "     2            1.900         98.2\n"
        "    10            1.300        355.0\n"
    )
    rows = rows_of(text)
    assert [row.number for row in rows] == [1, 2, 4, 5, 6]
    assert rows[0].cells == ("Spring no.", "Installed height", "Load")
    assert rows[1].cells == ("", "in", "lbf")
    assert rows[4].cells == ("10", "1.300", "355.0")
    assert rows[3].columns == (6, 19, 33)


def test_a_header_parted_by_single_blanks_goes_over_its_columns() -> None:
    assert cells_of("No Height  Load\n 1  1.900 120.5\n12  1.300 355.0\n")[0] == ("No", "Height", "Load")
    assert cells_of("Spring no. Height  Load\n 1         1.900  120.5\n 2         1.300  355.0\n")[0] == (
        "Spring no.",
        "Height",
        "Load",
    )


def test_missing_cells_are_empty_and_the_rest_keeps_its_column() -> None:
    text = (
        "Spring  Height   Load\n1       1.900   120.5\n        1.300   355.0\n2       1.900\n3                 350\n4\n"
    )
    assert cells_of(text)[1:] == [
        ("1", "1.900", "120.5"),
        ("", "1.300", "355.0"),
        ("2", "1.900", ""),
        ("3", "", "350"),
        ("4", "", ""),
    ]


@pytest.mark.parametrize(
    ("first", "second"),
    [("1.900 in", "120.5 lbf"), ("48.26 mm", "356 N"), ("1 7/8 in", "120 lb"), ("1 7/8", "54 kgf")],
)
def test_a_number_and_its_unit_are_one_cell(first: str, second: str) -> None:
    assert cells_of(f"No  Height     Load\n1   {first:9}  {second}\n2   {first:9}  {second}\n")[1] == (
        "1",
        first,
        second,
    )
    assert cells_of(f"No Height Load\n1 {first} {second}\n22 {first} {second}\n333 {first} {second}\n")[3] == (
        "333",
        first,
        second,
    )


def test_names_of_several_words_are_one_cell_where_the_header_shows_it() -> None:
    text = "Spring       Height   Load\nSpring 1     1.900    120.5\nSpring 2     1.900    120.5\n"
    assert cells_of(text)[1] == ("Spring 1", "1.900", "120.5")
    text = "No Part    Height    Load\n1  outer   1.900     120.5\n1  inner   1.800      60.5\n"
    assert cells_of(text)[1] == ("1", "outer", "1.900", "120.5")


def test_titles_notes_and_means_leave_the_columns_alone() -> None:
    text = (
        "Outer springs of a made-up engine, 16 in all\n"
        "Tester 3 Set 2\n\n"
        "No   Height   Load\n"
        "1    1.900    120.5\n"
        "2    1.900    121.5\n"
        "3    1.900     99.5   low, test again\n"
        "Mean of all 3 springs 113.8\n"
    )
    found = cells_of(text)
    assert found[0] == ("Outer springs of a made-up engine, 16 in all",)
    assert found[1] == ("Tester 3 Set 2",)
    assert found[2][:3] == ("No", "Height", "Load")
    assert found[5] == ("3", "1.900", "99.5", "low, test again")
    assert found[6] == ("Mean of all 3 springs 113.8",)


def test_a_header_again_on_the_next_page_is_split_as_the_first() -> None:
    page = "Spring no.   Load\n{}   120.5\n{}   121.5\n"
    found = cells_of(page.format("1         ", "2         ") + "\x0c" + page.format("3         ", "4         "))
    assert found[0] == found[3] == ("Spring no.", "Load")
    assert found[5] == ("4", "121.5")


def test_tabs_that_only_line_up_are_blanks() -> None:
    text = "Spring no.\tHeight\tLoad\n1\t\t1.900\t120\n2\t\t1.900\t121\n10\t\t1.900\t120\n"
    assert cells_of(text)[0] == ("Spring no.", "Height", "Load")
    assert cells_of(text)[3] == ("10", "1.900", "120")


def test_rows_not_lined_up_are_parted_at_two_blanks_or_one() -> None:
    assert cells_of("1  good one  1.900\n22  bad  1.85\n333  fair enough  1.3\n")[2] == ("333", "fair enough", "1.3")
    rows = rows_of("Spring Height Load\n1 1.9 120.5\n2 1.85 98.2\n10 1.300 355.0\n")
    assert rows[0].cells == ("Spring", "Height", "Load")
    assert (rows[3].cells, rows[3].columns) == (("10", "1.300", "355.0"), (1, 4, 10))
    rows = rows_of("Spring no. Height in Load (N)\n1 1.9 120.5\n2 1.85 98.2\n10 1.300 355.0\n")
    assert rows[0].cells == ("Spring no.", "Height in", "Load (N)")


WIDTHS = st.lists(st.integers(6, 12), min_size=2, max_size=6)


@given(st.data(), WIDTHS, st.integers(3, 12), st.booleans())
def test_any_lined_up_table_comes_back(data: st.DataObject, widths: list[int], count: int, left: bool) -> None:
    number = st.integers(1, 999).map(str) | st.decimals(1, 99, places=2).map(str)
    table = [[data.draw(number) for _ in widths] for _ in range(count)]
    rows = [[f"Name {place}"[: width - 2].strip() for place, width in enumerate(widths)], *table]
    text = "\n".join(
        "".join(f"{c:{'<' if left else '>'}{w}}" for c, w in zip(row, widths, strict=True)) for row in rows
    )
    assert cells_of(text) == [tuple(row) for row in rows]
