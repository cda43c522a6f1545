"""Printouts as a builder or a spreadsheet makes them: groups over columns, slips of blocks, columns that mislead."""

from __future__ import annotations

import pytest

from loadbench.readings.printout.meaning import Meaning, Understood
from loadbench.readings.printout.reading import understood
from loadbench.readings.printout.splitting import grid_of_text

INCH, LBF = 0.0254, 4.4482216152605
Readings = dict[str, list[tuple[str, float, float]]]


def read(text: str) -> Understood:
    return understood(grid_of_text(text, name="slip.txt"))


def readings(found: Understood) -> Readings:
    """In inches and pounds, rounded to what is printed."""
    return {
        spring.id: [(each.part, round(each.height / INCH, 6), round(each.load / LBF, 6)) for each in spring.readings]
        for spring in found.springs
    }


def inches(*pairs: tuple[float, float], part: str = "") -> list[tuple[str, float, float]]:
    return [(part, height, load) for height, load in pairs]


PLAIN = {"1": inches((1.9, 150.1), (1.3, 350.2)), "2": inches((1.9, 151.3), (1.3, 352.4))}


def test_the_travel_of_a_spring_is_not_its_height() -> None:
    found = read("Spring,Height (in),Travel (in),Load (lbf)\n1,1.900,0.300,150.1\n1,1.300,0.900,350.2\n")
    assert [column.meaning for column in found.columns] == [
        Meaning.SPRING,
        Meaning.HEIGHT,
        Meaning.NOTHING,
        Meaning.LOAD,
    ]
    assert readings(found) == {"1": PLAIN["1"]}
    for word in ("Deflection", "Weg", "Federweg", "Travel", "Flèche"):
        found = read(f"Spring;{word} (mm);Load (N)\n1;5;150\n1;10;300\n2;5;151\n2;10;301\n")
        assert found.count == 0, word
        assert "height" in found.problems[0].what, word


def test_loads_called_trials_are_loads() -> None:
    found = read("Spring\tHeight in\tTrial 1 lbf\tTrial 2 lbf\n1\t1.900\t150.1\t150.3\n2\t1.900\t151.3\t151.2\n")
    assert readings(found) == {"1": inches((1.9, 150.1), (1.9, 150.3)), "2": inches((1.9, 151.3), (1.9, 151.2))}
    assert not found.problems


@pytest.mark.parametrize("header", ["Typ", "Outer/Inner", "", "Remarks"])
def test_a_column_of_parts_is_known_by_its_cells(header: str) -> None:
    rows = "1,outer,1.900,150.1\n1,inner,1.900,70.2\n2,outer,1.900,151.3\n2,inner,1.900,71.4\n"
    found = read(f"No,{header},Height in,Load lbf\n{rows}")
    wanted = {
        "1": inches((1.9, 150.1), part="outer") + inches((1.9, 70.2), part="inner"),
        "2": inches((1.9, 151.3), part="outer") + inches((1.9, 71.4), part="inner"),
    }
    assert readings(found) == wanted
    assert not found.problems
    assert not found.columns[1].sure
    assert "parts" in found.columns[1].why


def test_a_second_table_to_the_right_is_told_and_not_mixed_in() -> None:
    found = read(
        "Spring,Height in,Load lbf,,Spring,Height in,Load lbf\n"
        "1,1.900,150.1,,3,1.900,149.9\n1,1.300,350.2,,3,1.300,349.8\n"
        "2,1.900,151.3,,4,1.900,148.9\n2,1.300,352.4,,4,1.300,348.1\n"
    )
    assert readings(found) == PLAIN
    (problem,) = found.problems
    assert "second table" in problem.what
    assert problem.place is not None
    assert (problem.place.row, problem.place.column) == (1, 5)
    assert all(not column.sure for column in found.columns[4:])


def test_the_same_numbers_again_to_the_right_are_no_second_table() -> None:
    found = read(
        "Spring,Outer 1.900 in,Spring,Inner 1.900 in\n,lbf,,lbf\n1,150.1,1,70.2\n2,151.3,2,71.4\n3,152.0,3,72.0\n"
    )
    assert not found.problems
    assert readings(found)["2"] == [("outer", 1.9, 151.3), ("inner", 1.9, 71.4)]


@pytest.mark.parametrize("over", ["Load (lbf)", "Load (lbf) at height (in)", "lbf"])
def test_a_group_over_a_row_of_heights(over: str) -> None:
    found = read(f"Spring,{over},\n,1.900 in,1.300 in\n1,150.1,350.2\n2,151.3,352.4\n")
    assert readings(found) == PLAIN
    assert not found.problems


def test_parts_over_rows_of_heights_and_units() -> None:
    found = read(
        "Spring,Outer,,Inner,\n,1.900 in,1.300 in,1.850 in,1.250 in\n,lbf,lbf,lbf,lbf\n"
        "1,150.1,350.2,70.2,170.1\n2,151.3,352.4,71.4,171.8\n"
    )
    assert readings(found) == {
        "1": inches((1.9, 150.1), (1.3, 350.2), part="outer") + inches((1.85, 70.2), (1.25, 170.1), part="inner"),
        "2": inches((1.9, 151.3), (1.3, 352.4), part="outer") + inches((1.85, 71.4), (1.25, 171.8), part="inner"),
    }
    assert not found.problems


def test_heights_over_counted_repeats() -> None:
    found = read(
        "Spring,1.900 in,,1.300 in,\n,1,2,1,2\n,lbf,lbf,lbf,lbf\n1,150.1,150.3,350.2,350.0\n2,151.3,151.2,352.4,352.9\n"
    )
    assert readings(found) == {
        "1": inches((1.9, 150.1), (1.9, 150.3), (1.3, 350.2), (1.3, 350.0)),
        "2": inches((1.9, 151.3), (1.9, 151.2), (1.3, 352.4), (1.3, 352.9)),
    }
    assert not found.problems


def test_a_slip_of_blocks_with_a_header_in_each() -> None:
    block = "SPRING #{}\n  HEIGHT   LOAD\n   {} in   {} lbf\n   {} in   {} lbf\n\n"
    found = read(
        block.format(1, "1.900", "150.1", "1.300", "350.2") + block.format(2, "1.900", "151.3", "1.300", 352.4)
    )
    assert readings(found) == PLAIN
    assert not found.problems


def test_a_slip_of_blocks_without_a_header() -> None:
    block = "Spring {}\n   {} in   {} lbf\n   {} in   {} lbf\n\n"
    found = read(
        block.format(1, "1.900", "150.1", "1.300", "350.2") + block.format(2, "1.900", "151.3", "1.300", 352.4)
    )
    assert readings(found) == PLAIN
    assert not found.problems
    assert all("no header" in column.why for column in found.columns)


def test_a_narrow_slip_with_single_blanks() -> None:
    found = read(' No 1.900" 1.300"\n       lbs    lbs\n  1  150.1  350.2\n  2  151.3  352.4\n')
    assert readings(found) == PLAIN
    assert not found.problems


def test_rows_under_another_header_are_not_read_by_the_first() -> None:
    found = read(
        "Spring,1.900 in,1.300 in\n,lbf,lbf\n1,150.1,350.2\n2,151.3,352.4\n"
        "Spring,1.850 in,1.250 in\n,lbf,lbf\n3,160.1,360.2\n4,161.3,362.4\n"
        "Spring,1.900 in,1.300 in\n,lbf,lbf\n5,150.1,350.2\n"
    )
    assert readings(found) == {**PLAIN, "5": PLAIN["1"]}
    (problem,) = found.problems
    assert problem.place is not None
    assert problem.place.row == 5
    assert "not read" in problem.what


def test_a_header_that_says_the_same_in_other_words_goes_on() -> None:
    found = read(
        "Spring,1.900 in,1.300 in\n,lbf,lbf\n1,150.1,350.2\nSprings,1.900 in,1.300 in\n,lbf,lbf\n2,151.3,352.4\n"
    )
    assert readings(found) == PLAIN
    assert not found.problems


def test_a_header_alone_has_no_readings_beneath() -> None:
    (problem,) = read("Spring,Height (in),Load (lbf)\n").problems
    assert problem.what == "There is no reading in this printout."


def test_a_number_typed_twice_is_told() -> None:
    rows = "".join(f"{number},{150 + number}.1,{350 + number}.2\n" for number in (1, 2, 3, 4, 4, 6))
    found = read(f"Spring,1.900 in,1.300 in\n,lbf,lbf\n{rows}")
    assert not found.columns[0].sure
    assert "4 (row 7)" in found.columns[0].why
    every = "".join(f"{number},{150 + number}.1,{350 + number}.2\n" for number in (1, 2, 1, 2))
    assert read(f"Spring,1.900 in,1.300 in\n,lbf,lbf\n{every}").columns[0].sure


@pytest.mark.parametrize("headers", ["Cylinder,Valve", "Cyl,Intake or exhaust", "Valve,Cylinder"])
def test_cylinder_and_valve_name_a_spring_together(headers: str) -> None:
    found = read(
        f"{headers},Load at 1.900 in (lbf),Load at 1.300 in (lbf)\n"
        "1,I,150.1,350.2\n1,E,151.1,351.2\n2,I,149.1,349.2\n2,E,152.1,353.2\n"
    )
    assert list(readings(found)) == ["1 I", "1 E", "2 I", "2 E"]
    assert readings(found)["2 E"] == inches((1.9, 152.1), (1.3, 353.2))
    assert [column.sure for column in found.columns[:2]] == [False, False]


def test_cylinder_and_valve_name_a_spring_in_rows_of_readings_too() -> None:
    found = read(
        "Cylinder,Valve,Height in,Load lbf\n"
        "1,I,1.900,150.1\n,,1.300,350.2\n,E,1.900,151.3\n,,1.300,352.4\n2,I,1.900,150.1\n,,1.300,350.2\n"
        "2,E,1.900,151.3\n,,1.300,352.4\n"
    )
    assert readings(found) == {"1 I": PLAIN["1"], "1 E": PLAIN["2"], "2 I": PLAIN["1"], "2 E": PLAIN["2"]}
    rows = "".join(
        f"{cylinder},{valve},{height},{run},{load}\n"
        for cylinder in (1, 2)
        for valve in "IE"
        for height, load in ((1.9, 150.1), (1.3, 350.2))
        for run in (1, 2)
    )
    found = read(f"Cylinder,Valve,Height in,Run,Load lbf\n{rows}")
    assert list(readings(found)) == ["1 I", "1 E", "2 I", "2 E"]
    assert readings(found)["1 E"] == inches((1.9, 150.1), (1.9, 150.1), (1.3, 350.2), (1.3, 350.2))


def test_a_cylinder_told_once_goes_on() -> None:
    found = read(
        "Cylinder,Valve,Load at 1.900 in (lbf)\n1,I,150.1\n,E,151.3\n2,I,150.2\n,E,151.4\n3,I,150.3\n3,E,151.5\n"
    )
    assert list(readings(found)) == ["1 I", "1 E", "2 I", "2 E", "3 I", "3 E"]
