"""What is told where a printout can be read in two ways, and the rows and columns that do not line up."""

from __future__ import annotations

from loadbench.readings.printout.cells import Decimal, Grid, Row, Separator
from loadbench.readings.printout.decimals import Numbers, decide
from loadbench.readings.printout.meaning import Meaning, Understood
from loadbench.readings.printout.reading import understood
from loadbench.readings.printout.splitting import grid_of_text
from loadbench.units import Kind, Style


def read(text: str, style: Style | None = Style.METRIC) -> Understood:
    return understood(grid_of_text(text, name="slip.txt", separator=Separator.SEMICOLON), style=style)


def blanks(*lines: str) -> Grid:
    """A grid of columns of blanks whose rows hold only the cells that stand there."""
    rows = []
    for number, line in enumerate(lines, 1):
        cells = line.split()
        starts, at = [], 0
        for cell in cells:
            at = line.index(cell, at)
            starts.append(at + 1)
            at += len(cell)
        rows.append(Row(number=number, cells=tuple(cells), columns=tuple(starts)))
    return Grid(rows=tuple(rows), text="\n".join(lines), separator=Separator.BLANKS)


def loads(found: Understood) -> list[tuple[str, float, float]]:
    return [
        (spring.id, round(each.height, 9), round(each.load, 6)) for spring in found.springs for each in spring.readings
    ]


def test_short_rows_of_blanks_stand_under_their_columns() -> None:
    grid = blanks(
        "Spring   Height   Load",
        "             mm      N",
        "1           40    500",
        "            30    900",
        "2           40    501",
    )
    found = understood(grid)
    assert loads(found) == [("1", 0.04, 500.0), ("1", 0.03, 900.0), ("2", 0.04, 501.0)]
    assert found.unit_row == 2
    assert found.springs[0].readings[1].column == 19


def test_a_unit_word_beside_its_header_goes_with_it() -> None:
    found = understood(
        Grid(
            rows=(
                Row(number=1, cells=("Height", "(mm)", "Load (N)"), columns=(1, 8, 15)),
                Row(number=2, cells=("Spring", "7", ""), columns=(1, 8, 15)),
                Row(number=3, cells=("40", "", "500"), columns=(1, 8, 15)),
                Row(number=4, cells=("30", "", "900"), columns=(1, 8, 15)),
            ),
            text="",
            separator=Separator.BLANKS,
        )
    )
    assert loads(found) == [("7", 0.04, 500.0), ("7", 0.03, 900.0)]


def test_most_numbers_decide_a_mixed_file_and_the_others_are_told() -> None:
    columns = [
        Numbers(place=0, kind=Kind.LENGTH, unit="mm", cells=("40.5", "30.5", "20.5")),
        Numbers(place=1, kind=Kind.FORCE, unit="N", cells=("500,5", "600.5")),
    ]
    decided = decide(columns, None)
    assert decided.decimal is Decimal.POINT
    assert list(decided.doubts) == [1]
    assert "500,5" in decided.doubts[1]
    assert decide([Numbers(place=0, kind=Kind.FORCE, unit="N", cells=("1,250,000",))], None).decimal is Decimal.POINT
    assert decide([Numbers(place=0, kind=Kind.FORCE, unit="N", cells=("1.250,5",))], None).decimal is Decimal.COMMA
    assert decide([], Separator.SEMICOLON).decimal is Decimal.COMMA


def test_where_nothing_decides_it_is_told() -> None:
    columns = [Numbers(place=2, kind=Kind.FORCE, unit="N", cells=("1,250",))]
    decided = decide(columns, Separator.COMMA)
    assert list(decided.doubts) == [2]
    assert "1250" in decided.doubts[2]
    usual = decide([Numbers(place=0, kind=Kind.LENGTH, unit=None, cells=("1.900",))], None)
    assert (usual.decimal, usual.doubts) == (Decimal.POINT, {})


def test_loads_between_heights_take_the_one_beside_them_unsure() -> None:
    found = read("Spring;Height a;Load a;Load b;Height b;Load c\n1;40;500;501;30;900\n")
    assert loads(found) == [("1", 0.04, 500.0), ("1", 0.04, 501.0), ("1", 0.03, 900.0)]
    found = read("Spring;Height;Other height;Load;Load\n1;40;30;500;900\n")
    assert [column.sure for column in found.columns[3:]] == [False, False]


def test_a_second_column_of_the_same_is_not_read() -> None:
    found = read("No;Spring number;Height (mm);Load (N);Mark;Colour;Rate (N/mm);Rate (N/mm)\n1;S7;40;500;a;b;50;51\n")
    assert [spring.id for spring in found.springs] == ["S7"]
    assert found.springs[0].printed_rate == 50_000
    meanings = [column.meaning for column in found.columns]
    assert (meanings[0], meanings[5], meanings[7]) == (Meaning.NOTHING, Meaning.NOTHING, Meaning.NOTHING)
    assert not found.columns[0].sure


def test_bare_counts_as_headers_are_unsure() -> None:
    found = read("Spring;1;2\na;500;900\nb;501;901\n", Style.INCH_POUND)
    assert [column.sure for column in found.columns[1:]] == [False, False]
    assert "count" in found.columns[1].why


def test_a_target_is_taken_only_where_there_is_nothing_else() -> None:
    found = read("Spring;Nominal height (mm);Mean load (N)\n1;40;500\n")
    assert loads(found) == [("1", 0.04, 500.0)]
    assert [column.sure for column in found.columns[1:]] == [False, False]


def test_faults_beside_the_loads_are_told_with_their_place() -> None:
    rows = "1;sideways;40;500;50\n2;loading;40;500;fast\n3;;x;500;\n4;-;40;5;\n"
    found = read(f"Spring;Dir;Height (mm);Load (N);Rate (N/mm)\n{rows}")
    assert [(problem.place.row, problem.place.column) for problem in found.problems] == [(2, 2), (3, 5), (4, 3)]
    assert [spring.id for spring in found.springs if spring.readings] == ["2", "4"]


def test_valves_name_the_springs_where_nothing_else_does() -> None:
    found = read("Valve;40 mm;30 mm\n1I;500;900\n1E;501;901\n")
    assert [spring.id for spring in found.springs] == ["1I", "1E"]
    assert not found.columns[0].sure


def test_a_row_of_heights_with_other_words_in_it() -> None:
    found = read("Spring;Seat;Open;Rate\nNo.;150;120;N/mm\n;N;N;\nS1;500;900;40\n", None)
    assert found.count == 0
    assert any("no unit for the height" in problem.what for problem in found.problems)
    found = read("Spring;Seat;Open;Rate\nNo.;40 mm;30 mm;N/mm\n;N;N;\nS1;500;900;40\n", None)
    assert loads(found) == [("S1", 0.04, 500.0), ("S1", 0.03, 900.0)]
    assert found.springs[0].printed_rate == 40_000


def test_loads_by_direction_in_two_columns() -> None:
    found = read("Spring;Loading 40 mm (N);Unloading 40 mm (N)\n1;500;495\n")
    assert [(each.direction, each.repeat) for each in found.springs[0].readings] == [("loading", 1), ("unloading", 1)]
