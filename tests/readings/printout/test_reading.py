"""Printouts in many layouts: each is understood, or what is wrong with it is told with its place."""

from __future__ import annotations

import pytest

from loadbench.readings.printout.cells import Decimal, Grid, Separator
from loadbench.readings.printout.meaning import Layout, Meaning, Understood
from loadbench.readings.printout.reading import understood
from loadbench.readings.printout.splitting import grid_of_text
from loadbench.units import Style, parse
from loadbench.units.kinds import Kind

IP, METRIC = Style.INCH_POUND, Style.METRIC
INCH, LBF, KGF = 0.0254, 4.4482216152605, 9.80665
Readings = dict[str, list[tuple[str, float, float]]]


def read(text: str, style: Style | None = None, separator: Separator | None = None) -> Understood:
    return understood(grid_of_text(text, name="slip.txt", separator=separator), style=style)


def readings(found: Understood) -> Readings:
    return {spring.id: [(each.part, each.height, each.load) for each in spring.readings] for spring in found.springs}


def close(found: Readings, wanted: Readings) -> bool:
    assert list(found) == list(wanted)
    for name, rows in wanted.items():
        assert [row[0] for row in found[name]] == [row[0] for row in rows], name
        for got, want in zip(found[name], rows, strict=True):
            assert got[1:] == pytest.approx(want[1:], rel=1e-12), (name, found[name])
    return True


def inches(*pairs: tuple[float, float], part: str = "") -> list[tuple[str, float, float]]:
    return [(part, height * INCH, load * LBF) for height, load in pairs]


def metric(*pairs: tuple[float, float], part: str = "") -> list[tuple[str, float, float]]:
    return [(part, height / 1000, load) for height, load in pairs]


TWO = {"1": inches((1.9, 150), (1.25, 420)), "2": inches((1.9, 151.5), (1.25, 422))}
TWO_METRIC = {"1": metric((48.3, 667.5), (32.1, 1850)), "2": metric((48.3, 668), (32.1, 1855.5))}
NEST = {
    "1": inches((1.9, 150), part="outer") + inches((1.75, 80), part="inner"),
    "2": inches((1.9, 151), part="outer") + inches((1.75, 81), part="inner"),
}

CASES: dict[str, tuple[str, Style | None, Readings]] = {
    "heights with units, loads by the job": ("Spring,1.900 in,1.250 in\n1,150,420\n2,151.5,422\n", IP, TWO),
    "bare heights, all by the job": ("Spring,1.900,1.250\n1,150,420\n2,151.5,422\n", IP, TWO),
    "load unit at height": ("Spring,lbf @ 1.900 in,lbf @ 1.250 in\n1,150,420\n2,151.5,422\n", None, TWO),
    "load at height (unit)": (
        "Spring;Load at 48.3 mm (N);Load at 32.1 mm (N)\n1;667.5;1850\n2;668;1855.5\n",
        None,
        TWO_METRIC,
    ),
    "heights below the header": (
        "Spring\tF1 [N]\tF2 [N]\n\t48.3 mm\t32.1 mm\n1\t667.5\t1850\n2\t668\t1855.5\n",
        None,
        TWO_METRIC,
    ),
    "heights above the header": (
        ",1.900 in,1.250 in\nSpring,lbf,lbf\n1,150,420\n2,151.5,422\n",
        None,
        TWO,
    ),
    "a labelled row of heights above units": (
        "Height (in),1.900,1.250\nSpring,lbf,lbf\n1,150,420\n2,151.5,422\n",
        None,
        TWO,
    ),
    "height and load side by side, a unit row": (
        "Spring,H1,F1,H2,F2\n,in,lbf,in,lbf\n1,1.900,150,1.250,420\n2,1.900,151.5,1.250,422\n",
        None,
        TWO,
    ),
    "loads before heights": (
        "No,F1 (lbf),H1 (in),F2 (lbf),H2 (in)\n1,150,1.900,420,1.250\n2,151.5,1.900,422,1.250\n",
        None,
        TWO,
    ),
    "all heights, then all loads": (
        "No,Seat height (in),Open height (in),Seat load (lbs),Open load (lbs)\n"
        "1,1.900,1.250,150,420\n2,1.900,1.250,151.5,422\n",
        None,
        TWO,
    ),
    "seat and open with heights": (
        "Spring,Seat 1.900 in,Open 1.250 in\n1,150 lbf,420 lbf\n2,151.5 lbf,422 lbf\n",
        None,
        TWO,
    ),
    "parts in headers": ("Spring,outer 1.900,inner 1.750\n1,150,80\n2,151,81\n", IP, NEST),
    "parts over heights": (
        ",Outer,Inner\nSpring,1.900 in,1.750 in\n,lbf,lbf\n1,150,80\n2,151,81\n",
        None,
        NEST,
    ),
    "groups over several columns": (
        ",Outer,,Inner,\nSpring,1.900 in,1.250 in,1.800 in,1.150 in\n1,150,420,80,200\n",
        IP,
        {"1": inches((1.9, 150), (1.25, 420), part="outer") + inches((1.8, 80), (1.15, 200), part="inner")},
    ),
    "units in a line above": (
        "Heights in inches, loads in lbf\nSpring,1.900,1.250,Mark\n1,150,420,blue\n2,151.5,422,red\n",
        None,
        TWO,
    ),
    "units in a line of units": ("Units: mm, N\nSpring;48.3;32.1\n1;667.5;1850\n2;668;1855.5\n", None, TWO_METRIC),
    "semicolons and decimal commas": (
        "Feder;Kraft bei 48,3 mm [N];Kraft bei 32,1 mm [N]\n1;667,5;1850\n2;668;1855,5\n",
        None,
        TWO_METRIC,
    ),
    "a row a reading": (
        "spring,height (in),load (lbf)\n1,1.900,150\n1,1.250,420\n2,1.900,151.5\n2,1.250,422\n",
        None,
        TWO,
    ),
    "a row a reading, other order, words": (
        "Load in lbs,Spring no.,Height in inches\n150,1,1.900\n420,1,1.250\n151.5,2,1.900\n422,2,1.250\n",
        None,
        TWO,
    ),
    "number only in the first row of its block": (
        "Spring;Height [mm];Force [N]\n1;48.3;667.5\n;32.1;1850\n2;48.3;668\n;32.1;1855.5\n",
        None,
        TWO_METRIC,
    ),
    "a unit row under a reading's header": (
        "Spring,Height,Load\n,mm,N\n1,48.3,667.5\n,32.1,1850\n2,48.3,668\n,32.1,1855.5\n",
        None,
        TWO_METRIC,
    ),
    "columns of units": (
        "Spring,Height,Unit,Load,Unit\n1,48.3,mm,667.5,N\n1,32.1,mm,1850,N\n2,48.3,mm,668,N\n2,32.1,mm,1855.5,N\n",
        None,
        TWO_METRIC,
    ),
    "values with their own units": (
        "Spring,Height,Load\n1,1.900 in,150 lbf\n1,1.250 in,420 lbf\n2,1.900 in,151.5 lbf\n2,1.250 in,422 lbf\n",
        METRIC,
        TWO,
    ),
    "springs as headings, headers repeated": (
        "Spring 1\nHeight (in)   Load (lbf)\n1.900   150\n1.250   420\n\n"
        "Spring 2\nHeight (in)   Load (lbf)\n1.900   151.5\n1.250   422\n",
        None,
        TWO,
    ),
    "springs as headings under one header": (
        "Height (mm),Load (N)\nSpring no. 1,\n48.3,667.5\n32.1,1850\nSpring no. 2,\n48.3,668\n32.1,1855.5\n",
        None,
        TWO_METRIC,
    ),
    "parts in a column, blank below": (
        "Spring,Part,Height (in),Load (lbf)\n1,outer,1.900,150\n,inner,1.750,80\n2,outer,1.900,151\n,inner,1.750,81\n",
        None,
        NEST,
    ),
    "parts as columns of a reading": (
        "Spring,Height (in),Outer (lbf),Inner (lbf)\n1,1.900,150,80\n2,1.900,151,81\n",
        None,
        {
            "1": [*inches((1.9, 150), part="outer"), *inches((1.9, 80), part="inner")],
            "2": [*inches((1.9, 151), part="outer"), *inches((1.9, 81), part="inner")],
        },
    ),
    "repeats as columns": (
        "Spring,Height (mm),Load 1 (N),Load 2 (N)\n7,40,500,502\n7,30,900,901\n",
        None,
        {"7": metric((40, 500), (40, 502), (30, 900), (30, 901))},
    ),
    "kilograms": (
        "Ressort;Hauteur (mm);Charge (kg)\nA1;40;50,5\nA1;30;92\n",
        None,
        {"A1": [("", 0.04, 50.5 * KGF), ("", 0.03, 92 * KGF)]},
    ),
    "Spanish, tabs, thousands": (
        "Muelle\tAltura (mm)\tCarga (N)\n1\t48,3\t667,5\n1\t32,1\t1.850\n2\t48,3\t668\n2\t32,1\t1.855,5\n",
        None,
        TWO_METRIC,
    ),
    "thousands with points for decimals": (
        'Spring,Height (mm),Load (N)\n1,48.3,667.5\n1,32.1,"1,850"\n2,48.3,668\n2,32.1,"1,855.5"\n',
        None,
        TWO_METRIC,
    ),
    "fractions of an inch": (
        "Spring,Height (in),Load (lbf)\n1,1 7/8,150\n1,1 1/4,420\n",
        None,
        {"1": inches((1.875, 150), (1.25, 420))},
    ),
    "rate, mark, date and operator columns": (
        "Date,Mark,Rate (lbf/in),Spring,1.900 in,1.250 in,Operator\n"
        "4 May,blue,415,1,150,420,B\n4 May,red,416,2,151.5,422,B\n",
        IP,
        TWO,
    ),
    "a slip of columns of blanks with titles": (
        "VALVE SPRING TEST\nDate: 2024-05-01      Operator: B\nTester serial 4711\n\n"
        "  No     1.900 in   1.250 in\n          lbf        lbf\n"
        "  1       150        420\n  2       151.5      422\n",
        None,
        TWO,
    ),
    "a table with bars": (
        "| Spring | 1.900 in | 1.250 in |\n|---|---|---|\n| 1 | 150 | 420 |\n| 2 | 151.5 | 422 |\n",
        IP,
        TWO,
    ),
}


@pytest.mark.parametrize("name", CASES)
def test_a_layout_is_understood(name: str) -> None:
    text, style, wanted = CASES[name]
    found = read(text, style)
    assert close(readings(found), wanted)
    assert found.problems == ()


@pytest.mark.parametrize("name", CASES)
def test_what_goes_into_a_job_reads_as_the_printout_was_read(name: str) -> None:
    text, style, _ = CASES[name]
    for spring in read(text, style).springs:
        for each in spring.readings:
            assert parse(each.height_text, Kind.LENGTH, None).value == each.height
            assert parse(each.load_text, Kind.FORCE, None).value == each.load


def test_layouts_and_rows_are_told() -> None:
    found = read("A title\nSpring,F1 [N],F2 [N],Mark\n,48.3 mm,32.1 mm,\n1,667,1850,blue\n")
    assert (found.layout, found.header_row, found.unit_row, found.first_row) == (Layout.ROW_A_SPRING, 2, None, 4)
    assert [column.meaning for column in found.columns] == [Meaning.SPRING, Meaning.LOAD, Meaning.LOAD, Meaning.MARK]
    assert found.columns[1].height == pytest.approx(0.0483)
    assert found.columns[1].unit == "N"
    assert found.springs[0].mark == "blue"
    assert found.unsure == ()
    found = read("Height,Spring,Load\nmm,,N\n40,1,500\n")
    assert (found.layout, found.header_row, found.unit_row, found.first_row) == (Layout.ROW_A_READING, 1, 2, 3)


def test_texts_keep_what_was_printed() -> None:
    found = read("Spring,Height (in),Load (lbs)\n1,1.900,150.0\n1,1.250 in,420 lb\n")
    one, two = found.springs[0].readings
    assert (one.height_text, one.load_text) == ("1.900 in", "150.0 lbf")
    assert (two.height_text, two.load_text) == ("1.250 in", "420 lb")
    assert (one.row, one.column, two.row) == (2, 3, 3)


def test_repeats_are_counted_by_part_direction_and_height() -> None:
    text = (
        "Spring,Part,Direction,Repeat,Height (mm),Load (N)\n"
        "1,outer,loading,1,40,500\n1,outer,loading,2,40.01,501\n1,outer,unloading,1,40,495\n1,inner,loading,1,40,200\n"
        "1,outer,loading,3,40,502\n1,outer,loading,1,30,900\n"
    )
    found = read(text).springs[0].readings
    assert [each.repeat for each in found] == [1, 2, 1, 1, 3, 1]
    assert [each.direction for each in found[:3]] == ["loading", "loading", "unloading"]


def test_summary_rows_are_left_out_and_told() -> None:
    text = (
        "Spring,1.900 in,1.250 in\nSpec,145,410\n1,150,420\n2,151,421\n"
        "Average,150.5,420.5\nStd dev,0.7,0.7\nMax,151,421\nMin,150,420\n"
    )
    found = read(text, IP)
    assert [spring.id for spring in found.springs] == ["1", "2"]
    assert found.problems == ()
    assert "Average" in found.columns[0].why
    assert "row 2, 5, 6, 7, 8" in found.columns[0].why
    by_repeat = read("Spring,Repeat,Height (mm),Load (N)\n1,1,40,500\n,2,40,502\n,Mean,40,501\n")
    assert by_repeat.count == 2


def test_headers_come_again_on_each_page() -> None:
    found = read("Spring,1.900 in,1.250 in\n1,150,420\nPage 2,,\nSpring,1.900 in,1.250 in\n2,151,421\n", IP)
    assert [spring.id for spring in found.springs] == ["1", "2"]
    assert found.problems == ()


def test_another_header_on_the_next_page_is_told() -> None:
    found = read("Spring,1.900 in,1.250 in\n1,150,420\nSpring,1.850 in,1.200 in\n2,151,421\n", IP)
    assert [(problem.place.row, "header" in problem.what) for problem in found.problems] == [(3, True)]


@pytest.mark.parametrize("missing", ["", "-", "--", "n/a", "N/A", "*", "***", "—"])
def test_missing_cells_are_no_faults(missing: str) -> None:
    found = read(f"Spring,1.900 in,1.250 in\n1,{missing},420\n2,151,{missing}\n3,{missing},{missing}\n4,150,421\n", IP)
    assert [len(spring.readings) for spring in found.springs] == [1, 1, 0, 2] or missing == ""
    assert found.count == 4
    assert found.problems == ()


@pytest.mark.parametrize(("height", "unit"), [("48.3", "mm"), ("1.900", "in"), ("7", None), ("250", None)])
def test_a_height_that_can_have_one_unit_only_is_read_so_and_said_to_be_unsure(height: str, unit: str | None) -> None:
    column = read(f"Spring,Height,Load (N)\n1,{height},500\n").columns[1]
    assert column.unit == unit
    assert column.sure is False or unit is None
    header = read(f"Spring;Load @ {height} (N)\n1;500\n2;501\n")
    assert header.columns[1].sure is False or unit is None
    assert header.count == (2 if unit else 0)


@pytest.mark.parametrize(
    ("cell", "said"),
    [
        ("1o3", "1o3"),
        ("#REF!", "#REF!"),
        ("see note", "see note"),
        ("-150", "cannot be"),
        ("150*", "150*"),
        ("9e9", "so large"),
    ],
)
def test_a_bad_load_costs_its_reading_and_is_told_with_its_place(cell: str, said: str) -> None:
    found = read(f"Spring,1.900 in,1.250 in\n1,150,420\n2,{cell},421\n3,151,422\n", IP)
    assert found.count == 5
    (problem,) = found.problems
    assert said in problem.what
    assert (problem.place.file, problem.place.row, problem.place.column) == ("slip.txt", 3, 2)
    assert problem.expected


def test_a_height_below_zero_or_missing_costs_its_reading() -> None:
    found = read("Spring,Height (mm),Load (N)\n1,-40,500\n1,30,900\n2,,500\n2,30,901\n2,1250,3\n")
    assert close(readings(found), {"1": metric((30, 900)), "2": metric((30, 901))})
    assert [(problem.place.row, problem.place.column) for problem in found.problems] == [(2, 2), (4, 2), (6, 2)]


def test_no_unit_is_a_problem_and_not_a_guess() -> None:
    found = read("Spring,Height (mm),Load\n1,48.3,500\n2,48.3,501\n")
    assert found.count == 0
    (problem,) = found.problems
    assert "no unit" in problem.what
    assert problem.place.column == 3
    assert found.columns[2].unit is None
    header = read("Spring,lbf @ 1.900,lbf @ 1.250 in\n1,150,420\n", None, Separator.COMMA)
    assert close(readings(header), {"1": inches((1.9, 150), (1.25, 420))})
    assert not header.columns[1].sure
    bare = read("Spring,lbf @ 7,lbf @ 6\n1,150,420\n", None, Separator.COMMA)
    assert bare.count == 0
    assert ["no unit" in problem.what for problem in bare.problems] == [True, True]


def test_an_assumed_unit_is_marked() -> None:
    found = read("Spring,Height,Load\n1,48.3,667\n", METRIC)
    height, load = found.columns[1:]
    assert (height.unit, height.assumed, height.sure, load.unit, load.assumed) == ("mm", True, False, "N", True)
    assert "assumed" in height.why
    assert found.style is METRIC


def test_sizes_that_no_spring_has_make_unsure_but_convert_nothing() -> None:
    found = read("Spring,Height (in),Load (lbf)\n1,48.3,150\n2,42.1,420\n")
    assert found.count == 0
    assert ["so large" in problem.what for problem in found.problems] == [True, True]
    found = read("Spring,Height (mm),Load (N)\n1,1.900,150\n2,1.900,151\n")
    assert found.springs[0].readings[0].height == pytest.approx(0.0019)
    assert not found.columns[1].sure
    assert "unusual" in found.columns[1].why


def test_kilograms_and_directions_by_up_and_down_are_unsure() -> None:
    found = read("Spring,Dir,Height (mm),Load [kg]\n1,down,40,50\n1,up,40,49\n")
    assert [each.direction for each in found.springs[0].readings] == ["loading", "unloading"]
    assert not found.columns[1].sure
    assert not found.columns[3].sure
    assert "kilogram-force" in found.columns[3].why


@pytest.mark.parametrize(
    ("text", "decimal", "load", "sure"),
    [
        ('Spring,Height (mm),Load (N)\n1,48.3,"1,250"\n', Decimal.POINT, 1250.0, True),
        ("Spring;Height (mm);Load (N)\n1;48;1,250\n", Decimal.COMMA, 1.25, True),
        ('Spring,Height (in),Load (N)\n1,"1,900","1,250"\n', Decimal.COMMA, 1.25, True),
        ('Spring,Height (in),Load (N)\n1,1.900,"1,250"\n', Decimal.POINT, 1250.0, True),
        ('Spring,Height (mm),Load (N)\n1,48,"1,250"\n', Decimal.POINT, 1250.0, False),
        ("Spring\tHeight (mm)\tLoad (N)\n1\t48,3\t1.250\n", Decimal.COMMA, 1250.0, True),
    ],
)
def test_the_decimal_mark_is_decided_for_the_file(text: str, decimal: Decimal, load: float, *, sure: bool) -> None:
    found = read(text)
    assert found.decimal is decimal
    assert found.springs[0].readings[0].load == pytest.approx(load, rel=1e-12)
    doubted = [column for column in found.columns if "can be" in column.why]
    assert bool(doubted) is not sure


def test_ragged_rows_are_told_and_read() -> None:
    found = read("Spring,1.900 in,1.250 in\n1,150,420\n2,151\n3,152,422,999\n4,153,423,\n", IP, Separator.COMMA)
    assert [len(spring.readings) for spring in found.springs] == [2, 1, 2, 2]
    assert [(problem.place.row, "cells" in problem.what) for problem in found.problems] == [(3, True), (4, True)]
    assert "not read" in found.problems[1].what


def test_a_row_without_a_spring_is_told() -> None:
    found = read("Spring,1.900 in,1.250 in\n1,150,420\n,151,421\n", IP)
    assert found.count == 2
    assert [(problem.place.row, problem.place.column) for problem in found.problems] == [(3, 1)]


def test_springs_without_numbers_are_numbered_and_told() -> None:
    found = read("1.900 in,1.250 in,Mark\n150,420,a\n151,421,b\n", IP)
    assert [spring.id for spring in found.springs] == ["1", "2"]
    assert "numbered in their order" in found.problems[0].what
    one = read("Height (mm),Load (N)\n40,500\n30,900\n")
    assert [spring.id for spring in one.springs] == ["1"]
    assert "one spring" in one.problems[0].what


def test_no_header_is_guessed_as_unsure_or_told() -> None:
    found = read("S1,1.900,150\nS1,1.250,420\nS2,1.900,151\n", IP)
    assert close(readings(found), {"S1": inches((1.9, 150), (1.25, 420)), "S2": inches((1.9, 151))})
    assert not any(column.sure for column in found.columns)
    found = read("1,2,3,4,5\n6,7,8,9,10\n", IP)
    assert found.count == 0
    assert found.problems


def test_what_is_no_table_of_springs_is_told() -> None:
    across = read("Height (mm),Spring 1,Spring 2\n40,500,501\n30,900,901\n")
    assert any("Each column holds one spring" in problem.what for problem in across.problems)
    empty = understood(Grid(rows=(), text=""))
    assert [problem.what for problem in empty.problems] == ["The printout is empty."]
    prose = read("Dear customer\nthe springs are ready\n")
    assert prose.count == 0
    assert prose.problems


def test_limits_targets_and_means_are_not_taken_for_loads() -> None:
    found = read("Spring,Height (mm),Load (N),Min load (N),Max load (N),Deviation (N)\n1,40,500,480,520,3\n")
    assert found.count == 1
    assert [column.meaning for column in found.columns[3:]] == [Meaning.NOTHING] * 3
    assert not found.columns[3].sure


def test_a_column_that_nobody_knows_is_unsure_and_not_read() -> None:
    found = read("Spring,Height (mm),Load (N),Zxq\n1,40,500,12\n")
    assert (found.columns[3].meaning, found.columns[3].sure) == (Meaning.NOTHING, False)


def test_faults_of_a_column_are_counted_beyond_fifty() -> None:
    rows = "".join(f"{n},1.900,bad\n" for n in range(200))
    found = read(f"Spring,Height (in),Load (lbf)\n0,1.9,150\n{rows}")
    assert len(found.problems) == 51
    assert "150 more" in found.problems[-1].what


def test_a_long_text_is_told() -> None:
    text = "Spring,Height (mm),Load (N)\n1,40,500\n" + "# " + "x" * 2_000_001
    found = understood(Grid(rows=grid_of_text("Spring,Height (mm),Load (N)\n1,40,500\n").rows, text=text))
    assert found.count == 1
    assert any("2 MB" in problem.what for problem in found.problems)


@pytest.mark.parametrize("layout", ["spring", "reading"])
def test_ten_thousand_rows_are_read_whole(layout: str) -> None:
    if layout == "spring":
        rows = [f"{n},{140 + n % 97 * 0.1:.1f},{410 + n % 89 * 0.1:.1f}" for n in range(10_000)]
        text = "\n".join(["Spring,1.900 in,1.250 in", *rows])
    else:
        rows = [f"{n // 4},{1.9 - n % 4 * 0.1:.3f},{140 + n * 0.037:.2f},1" for n in range(10_000)]
        text = "\n".join(["Spring,Height (in),Load (lbf),Repeat", *rows])
    grid = grid_of_text(text, separator=Separator.COMMA)
    found = understood(grid, style=IP)
    assert found.count == (20_000 if layout == "spring" else 10_000)
