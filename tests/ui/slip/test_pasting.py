"""A block from a spreadsheet read as a slip."""

from __future__ import annotations

import pytest

from loadbench.units import Style
from ui.slip.columns import Column, column_in
from ui.slip.pasting import block_of


def heads(cells: list[list[str]], style: Style = Style.INCH_POUND) -> list[object] | None:
    found = block_of(cells, style)
    if found.targets is None:
        return None
    return [target.entered if isinstance(target, Column) else target for target in found.targets]


@pytest.mark.parametrize(
    ("first", "told"),
    [
        (["No", "1.900 in", "1.250 in"], ["id", "1.900 in", "1.250 in"]),
        (["Spring", "1.900", "1.250"], ["id", "1.900 in", "1.250 in"]),
        (["Anything", "1.900", "1.250"], ["id", "1.900 in", "1.250 in"]),
        (["1.900", "1.250"], ["1.900 in", "1.250 in"]),
        (["150", "423"], None),
        (["S01", "150", "423"], None),
    ],
)
def test_d43_heights_come_from_the_first_row_where_it_holds_them(first: list[str], told: list[str] | None) -> None:
    row = ["S01", "150", "423"][-len(first) :] if len(first) == 3 else ["150", "423"]
    assert heads([first, row]) == told


def test_bare_metric_heights_are_told_from_loads() -> None:
    assert heads([["48,26", "31,75"], ["667", "1881"]], Style.METRIC) == ["48,26 mm", "31,75 mm"]
    assert heads([["667", "1881"], ["670", "1880"]], Style.METRIC) is None


def test_one_row_alone_is_never_a_row_of_heights() -> None:
    assert heads([["1.900 in", "1.250 in"]]) is None


def test_columns_that_nobody_knows_are_named_as_left_out() -> None:
    found = block_of([["Spring", "1.900 in", "Colour"], ["S01", "150", "red"]], Style.INCH_POUND)
    assert found.left_out == ("Colour",)


def test_a_height_told_twice_is_a_repeat() -> None:
    found = block_of([["1.900 in", "1.900 in"], ["150", "151"]], Style.INCH_POUND)
    assert found.targets is not None
    assert [target.repeat for target in found.targets if isinstance(target, Column)] == [0, 1]


@pytest.mark.parametrize(
    ("text", "part", "direction"),
    [
        ("outer 1.900 in lbf", "outer", ""),
        ("1.900 in", "", ""),
        ("inner 1.900 in unloading lbf", "inner", "unloading"),
        ("Load at 1.900 in", "", ""),
        ("pair 48.26 mm N", "pair", ""),
    ],
)
def test_a_head_names_part_height_and_direction(text: str, part: str, direction: str) -> None:
    column = column_in(text, Style.INCH_POUND)
    assert column is not None
    assert (column.part, column.direction) == (part, direction)
    assert column.height == pytest.approx(1.9 * 0.0254)


@pytest.mark.parametrize("text", ["", "Spring", "Rate lbf/in", "S01", "1.900 kg", "nan"])
def test_what_names_no_height_is_no_column(text: str) -> None:
    assert column_in(text, Style.INCH_POUND) is None
