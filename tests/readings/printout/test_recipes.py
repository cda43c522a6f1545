"""A recipe reads the tester's next printout the same way; corrections are taken at their word and stay."""

from __future__ import annotations

from dataclasses import replace

import pytest

from loadbench.job.kept_parts import PrintoutColumn, Recipe
from loadbench.readings.printout.cells import Decimal, Separator
from loadbench.readings.printout.meaning import Layout, Meaning, Understood
from loadbench.readings.printout.reading import understood
from loadbench.readings.printout.recipes import corrected, height_text, recipe_of
from loadbench.readings.printout.splitting import grid_of_text
from loadbench.units import Kind, Style, parse

IP, METRIC = Style.INCH_POUND, Style.METRIC
ODD = "Zrk;Qa;Qb;Note\n1;150;420;x\n2;151;421;y\n"


def read(text: str, style: Style | None = None, recipe: Recipe | None = None) -> Understood:
    return understood(grid_of_text(text, separator=Separator.SEMICOLON), style=style, recipe=recipe)


def told(found: Understood) -> list[tuple[str, str, float, float]]:
    return [
        (spring.id, each.part, round(each.height, 9), round(each.load, 6))
        for spring in found.springs
        for each in spring.readings
    ]


def taught() -> Understood:
    """A printout whose headers say nothing, corrected by hand."""
    found = read(ODD)
    spring, one, other, _ = found.columns
    return corrected(
        found,
        [
            replace(spring, meaning=Meaning.SPRING, sure=True),
            replace(one, meaning=Meaning.LOAD, height=0.04826, unit="lbf", part="outer", sure=True),
            replace(other, meaning=Meaning.LOAD, height=0.03175, unit="lbf", part="outer", sure=True),
        ],
        header_row=1,
    )


def test_corrections_are_taken_at_their_word() -> None:
    assert read(ODD).count == 0
    found = taught()
    assert told(found)[0] == ("1", "outer", 0.04826, round(150 * 4.4482216152605, 6))
    assert found.count == 4
    assert [column.sure for column in found.columns[:3]] == [True, True, True]
    assert found.springs[0].readings[0].height_text == "1.9 in"
    assert [problem.what for problem in found.problems] == []


def test_a_second_correction_keeps_the_first() -> None:
    found = taught()
    again = corrected(found, [replace(found.columns[2], part="inner")])
    assert [(part, height) for _, part, height, _ in told(again)[:2]] == [("outer", 0.04826), ("inner", 0.03175)]
    assert corrected(again, []) == again


def test_a_recipe_reads_the_next_printout_with_columns_in_another_order() -> None:
    recipe = recipe_of(taught(), "bench two", tester="T2")
    assert (recipe.name, recipe.tester, recipe.layout, recipe.separator) == (
        "bench two",
        "T2",
        "row-a-spring",
        "semicolon",
    )
    found = read("Made on 5 June\n\nQb;Note;Qa;Zrk\n430;z;155;S9\n", recipe=recipe)
    assert found.recipe == "bench two"
    assert found.header_row == 3
    assert [column.meaning for column in found.columns] == [Meaning.LOAD, Meaning.NOTHING, Meaning.LOAD, Meaning.SPRING]
    assert [(name, part, height) for name, part, height, _ in told(found)] == [
        ("S9", "outer", 0.03175),
        ("S9", "outer", 0.04826),
    ]
    assert found.problems == ()


def test_heights_in_the_header_follow_the_new_header() -> None:
    recipe = recipe_of(read("Spring;Load @ 1.900;Load @ 1.250\n1;150;420\n", IP), "r")
    found = read("Spring;Load @ 1.850;Load @ 1.200\n1;150;420\n", None, recipe)
    assert found.columns[1].unit == "lbf"
    assert [problem.what for problem in found.problems if "not in this" in problem.what] == []
    assert [reading.height_text for spring in found.springs for reading in spring.readings] == ["1.850 in", "1.200 in"]
    assert not found.columns[1].sure  # the heights' unit was the job's, and no job is here: inches by their size
    found = read("Spring;Load @ 1.850;Load @ 1.200\n1;150;420\n", IP, recipe)
    assert [round(height / 0.0254, 6) for _, _, height, _ in told(found)] == [1.85, 1.2]


def test_columns_that_are_not_there_are_told_and_the_rest_is_read() -> None:
    recipe = recipe_of(read("Spring;Load @ 1.900 in;Load @ 1.250 in;Bin\n1;150;420;a\n", IP), "r")
    found = read("Spring;Load @ 1.900 in\n1;150\n", recipe=recipe)
    assert found.count == 1
    (problem,) = found.problems
    assert '"Load @ 1.250 in"' in problem.what
    assert '"Bin"' in problem.what
    other = read("Date;Text\n1 May;hello\n", recipe=recipe)
    assert any("not in this printout" in problem.what for problem in other.problems)


def test_a_recipe_overrides_and_a_contradiction_is_told() -> None:
    recipe = recipe_of(read("Spring;Height (mm);Load\n1;40;500\n", METRIC), "r")
    again = read("Spring;Height (mm);Load\n;mm;lbf\n1;40;500\n", recipe=recipe)
    assert again.columns[2].unit == "N"
    assert not again.columns[2].sure
    assert "lbf" in again.columns[2].why


def test_a_printout_without_headers_is_read_by_place() -> None:
    found = read("a;1,900;150\na;1,250;420\n", IP)
    sure = [replace(column, sure=True) for column in found.columns]
    recipe = recipe_of(corrected(found, sure), "plain")
    again = read("b;1,900;151\nc;1,250;421\n", recipe=recipe)
    assert [(name, round(height, 6)) for name, _, height, _ in told(again)] == [("b", 0.04826), ("c", 0.03175)]
    assert again.unsure == ()
    assert again.problems == ()


def test_layout_decimal_and_rows_can_be_corrected() -> None:
    found = read("Spring;Height (mm);Load (N)\nnominal one;40;500\n1;40;1.250\n2;40;1.300\n")
    assert (found.decimal, found.columns[2].sure) == (Decimal.COMMA, False)
    point = corrected(found, [], decimal=Decimal.POINT)
    assert point.springs[-1].readings[0].load == pytest.approx(1.3)
    assert corrected(point, []).decimal is Decimal.POINT
    later = corrected(found, [], first_row=3)
    assert later.first_row == 3
    assert [spring.id for spring in later.springs] == ["1", "2"]
    kept = corrected(later, [replace(later.columns[2], unit="lbf")])
    assert kept.first_row == 3
    assert kept.springs[0].readings[0].load == pytest.approx(1250 * 4.4482216152605)
    bare = corrected(found, [], header_row=None)
    assert (bare.header_row, bare.first_row) == (None, 1) or bare.header_row is None
    assert corrected(found, [], layout=Layout.ROW_A_SPRING).layout is Layout.ROW_A_SPRING


def test_a_unit_can_be_given_where_there_was_none() -> None:
    found = read("Spring;Height;Load\n1;40,5;500\n")
    assert found.count == 0
    height, load = found.columns[1:]
    after = corrected(found, [replace(height, unit="mm", sure=True), replace(load, unit="kp", sure=True)])
    assert told(after) == [("1", "", 0.0405, 4903.325)]
    assert after.problems == ()


def test_a_recipe_with_faults_is_told_and_used_as_far_as_it_goes() -> None:
    recipe = Recipe(
        name="bad",
        layout="sideways",
        decimal="point",
        columns=(
            PrintoutColumn(header="Spring", meaning="spring"),
            PrintoutColumn(header="Qa", meaning="load", height="tall", unit="furlong"),
            PrintoutColumn(header="Qb", meaning="magic"),
        ),
    )
    found = read("Spring;Qa;Height (mm)\n1;500 N;40\n", recipe=recipe)
    assert sum("bad" in problem.what for problem in found.problems) == 4
    assert told(found) == [("1", "", 0.04, 500.0)]


@pytest.mark.parametrize("style", Style)
@pytest.mark.parametrize("height", [0.04826, 0.0483, 0.0317499999, 0.1])
def test_a_height_that_nobody_typed_comes_back(height: float, style: Style) -> None:
    assert parse(height_text(height, style), Kind.LENGTH, None).value == pytest.approx(height, rel=1e-15)
