"""Any springs and heights, printed in any layout, separator, decimal mark and place of the units, come back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.readings.printout.cells import Decimal, Separator
from loadbench.readings.printout.meaning import Understood
from loadbench.readings.printout.reading import understood
from loadbench.readings.printout.recipes import corrected, recipe_of
from loadbench.readings.printout.splitting import grid_of_text
from loadbench.units import Kind, Style, parse

Cells = list[list[str]]
SIGNS = {Separator.COMMA: ",", Separator.SEMICOLON: ";", Separator.TAB: "\t", Separator.BAR: " | "}
UNITS = {Style.INCH_POUND: ("in", "lbf"), Style.METRIC: ("mm", "N")}


@dataclass(frozen=True)
class Slip:
    """What is printed: loads by spring and height, all as text with a point."""

    heights: tuple[str, ...]
    loads: dict[str, tuple[str, ...]]
    style: Style
    placed: str  # header, row, cells, style

    @property
    def units(self) -> tuple[str, str]:
        return UNITS[self.style]

    def head(self, word: str, which: int) -> str:
        return f"{word} ({self.units[which]})" if self.placed == "header" else word

    def cell(self, number: str, which: int) -> str:
        return f"{number} {self.units[which]}" if self.placed == "cells" else number

    def unit_row(self, *kinds: int | None) -> Cells:
        if self.placed != "row":
            return []
        return [["" if kind is None else self.units[kind] for kind in kinds]]


@st.composite
def slips(draw: st.DrawFn) -> Slip:
    style = draw(st.sampled_from(Style))
    low, high, places = (1200, 2200, 3) if style is Style.INCH_POUND else (3000, 6000, 2)
    ticks = draw(st.lists(st.integers(low, high), min_size=2, max_size=4, unique=True))
    heights = tuple(f"{tick / 10**places:.{places}f}" for tick in sorted(ticks, reverse=True))
    decimals = draw(st.integers(0, 2))
    names = draw(st.lists(st.from_regex(r"S[0-9]{2}|[1-9][0-9]?", fullmatch=True), min_size=2, max_size=6, unique=True))
    tick = st.integers(60 * 10**decimals, 4000 * 10**decimals)
    loads = {name: tuple(f"{draw(tick) / 10**decimals:.{decimals}f}" for _ in heights) for name in names}
    return Slip(heights, loads, style, draw(st.sampled_from(["header", "row", "cells", "style"])))


def heights_in_header(slip: Slip) -> Cells:
    unit = "" if slip.placed == "style" else f" {slip.units[0]}"
    load = slip.units[1] if slip.placed == "header" else "Load"
    header = ["Spring", *(f"{load} @ {height}{unit}" for height in slip.heights)]
    rows = [[name, *(slip.cell(load, 1) for load in loads)] for name, loads in slip.loads.items()]
    return [header, *slip.unit_row(None, *[1] * len(slip.heights)), *rows]


def side_by_side(slip: Slip) -> Cells:
    count = range(1, len(slip.heights) + 1)
    header = ["Spring", *(word for n in count for word in (slip.head(f"H{n}", 0), slip.head(f"F{n}", 1)))]
    rows = [
        [
            name,
            *(
                cell
                for at, load in zip(slip.heights, loads, strict=True)
                for cell in (slip.cell(at, 0), slip.cell(load, 1))
            ),
        ]
        for name, loads in slip.loads.items()
    ]
    return [header, *slip.unit_row(None, *[0, 1] * len(slip.heights)), *rows]


def a_row_a_reading(slip: Slip) -> Cells:
    rows = [
        [slip.cell(load, 1), name, slip.cell(at, 0)]
        for name, loads in slip.loads.items()
        for at, load in zip(slip.heights, loads, strict=True)
    ]
    return [[slip.head("Load", 1), "Spring no", slip.head("Height", 0)], *slip.unit_row(1, None, 0), *rows]


def blank_below(slip: Slip) -> Cells:
    rows = [
        ["" if n else name, slip.cell(at, 0), slip.cell(load, 1)]
        for name, loads in slip.loads.items()
        for n, (at, load) in enumerate(zip(slip.heights, loads, strict=True))
    ]
    return [["Spring", slip.head("Height", 0), slip.head("Load", 1)], *slip.unit_row(None, 0, 1), *rows]


def headings(slip: Slip) -> Cells:
    rows = [[slip.head("Height", 0), slip.head("Load", 1)], *slip.unit_row(0, 1)]
    for name, loads in slip.loads.items():
        rows.append([f"Spring {name}", ""])
        rows += [[slip.cell(at, 0), slip.cell(load, 1)] for at, load in zip(slip.heights, loads, strict=True)]
    return rows


LAYOUTS = (heights_in_header, side_by_side, a_row_a_reading, blank_below, headings)


def printed(cells: Cells, separator: Separator, decimal: Decimal) -> str:
    if decimal is Decimal.COMMA:
        cells = [[cell.replace(".", ",") for cell in row] for row in cells]
    if separator is Separator.BLANKS:
        widths = [max(len(row[place]) for row in cells) + 3 for place in range(len(cells[0]))]
        return "\n".join("".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)) for row in cells)
    lines = [SIGNS[separator].join(row) for row in cells]
    if separator is Separator.BAR:
        lines = [f"| {line} |" for line in lines]
    return "\n".join(lines)


def flat(found: Understood) -> list[tuple[str, float, float]]:
    return [(spring.id, each.height, each.load) for spring in found.springs for each in spring.readings]


def wanted(slip: Slip) -> list[tuple[str, float, float]]:
    def si(text: str, kind: Kind, unit: str) -> float:
        return parse(f"{text} {unit}", kind, None).value

    return [
        (name, si(at, Kind.LENGTH, slip.units[0]), si(load, Kind.FORCE, slip.units[1]))
        for name, loads in slip.loads.items()
        for at, load in zip(slip.heights, loads, strict=True)
    ]


def same(got: Sequence[tuple[str, float, float]], want: Sequence[tuple[str, float, float]]) -> bool:
    assert [name for name, *_ in got] == [name for name, *_ in want]
    for one, other in zip(got, want, strict=True):
        assert one[1:] == pytest.approx(other[1:], rel=1e-12)
    return True


@given(
    slip=slips(),
    layout=st.sampled_from(LAYOUTS),
    separator=st.sampled_from(Separator),
    decimal=st.sampled_from(Decimal),
)
def test_what_was_printed_comes_back(slip: Slip, layout: object, separator: Separator, decimal: Decimal) -> None:
    assert callable(layout)
    decimal = Decimal.POINT if separator is Separator.COMMA else decimal
    grid = grid_of_text(printed(layout(slip), separator, decimal), separator=separator)
    found = understood(grid, style=slip.style if slip.placed == "style" else None)
    assert same(flat(found), wanted(slip))
    assert found.problems == ()


@given(slip=slips(), layout=st.sampled_from(LAYOUTS), decimal=st.sampled_from(Decimal))
def test_a_recipe_of_it_reads_it_the_same(slip: Slip, layout: object, decimal: Decimal) -> None:
    assert callable(layout)
    grid = grid_of_text(printed(layout(slip), Separator.SEMICOLON, decimal), separator=Separator.SEMICOLON)
    found = understood(grid, style=slip.style)
    again = understood(grid, recipe=recipe_of(found, "bench"))
    assert again.springs == found.springs
    assert again.problems == ()
    assert [column.meaning for column in again.columns] == [column.meaning for column in found.columns]


WORDS = st.sampled_from(
    [
        "",
        "-",
        "Spring",
        "Height",
        "Load (lbf)",
        "1.900 in",
        "lbf",
        "mm",
        "outer",
        "Spring 7",
        "Average",
        "1,250",
        "150",
        "x",
        "Unit",
    ]
)


@given(
    cells=st.lists(st.lists(st.one_of(WORDS, st.text(max_size=6)), max_size=5), max_size=9),
    style=st.sampled_from([None, *Style]),
    separator=st.sampled_from([None, *Separator]),
)
def test_anything_printed_is_understood_or_told(cells: Cells, style: Style | None, separator: Separator | None) -> None:
    grid = grid_of_text("\n".join(";".join(row) for row in cells), separator=separator)
    found = understood(grid, style=style)
    for spring in found.springs:
        for each in spring.readings:
            assert 0 < each.height <= 1.0
            assert 0 <= each.load <= 1e5
            assert parse(each.height_text, Kind.LENGTH, None).value == pytest.approx(each.height, rel=1e-12)
            assert parse(each.load_text, Kind.FORCE, None).value == pytest.approx(each.load, rel=1e-12)
    assert found.count or found.problems
    again = understood(grid, style=style, recipe=recipe_of(found, "any"))
    assert again.layout is found.layout
    assert corrected(found, found.columns).count == found.count
