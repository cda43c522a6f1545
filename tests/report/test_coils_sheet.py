"""The sheet Coils: what stands on it, what it says of itself, and that nothing on it outlives what it rests on."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from loadbench.analysis import analyse
from loadbench.analysis.coils.result import FIGURES
from loadbench.job.edits import replaced
from loadbench.job.files import open_job
from loadbench.job.model import Job
from loadbench.report.book.coil_stress_formulas import ON_LOADS
from loadbench.report.book.coils_sheet import KEPT, LIVE
from loadbench.units import Style
from tests.report.cases import CASES, GEOMETRY, SOLID, STATED, job
from tests.report.recalculated import (
    Calculated,
    book_of,
    by_formulas,
    changed_job,
    coil_differences,
    opened,
    stored,
)

ROOT = Path(__file__).parents[2]
SAMPLES = sorted((ROOT / "samples").glob("*.loadbench.json"))
NEST, CONE, DASH = "nest by its wires", "cone of round wire by its curve", "\u2013"
QUIET = pytest.mark.filterwarnings("ignore::DeprecationWarning", "ignore::FutureWarning", "ignore::RuntimeWarning")


def rows_of(subject: Job, style: Style = Style.INCH_POUND) -> dict[str, tuple[Any, ...]]:
    """The rows of the sheet as written, by the name of their cell."""
    sheet = opened(book_of(subject, style), values=True)["Coils"]
    return {str(row[10]): row for row in sheet.iter_rows(min_row=2, values_only=True) if row[10]}


def changed(subject: Job, changes: dict[str, Any], folder: Path) -> tuple[Calculated, bytes]:
    book = book_of(subject, Style.INCH_POUND)
    return by_formulas(book, subject, changes, Style.INCH_POUND, folder)[1], book


def value_at(calculated: Calculated, book: bytes, name: str) -> Any:
    sheet, where = next(iter(opened(book).defined_names[name].destinations))
    return calculated.at(sheet, where)


def test_every_figure_of_every_coil_stands_in_order() -> None:
    sheet = opened(book_of(CASES[NEST][0], Style.METRIC), values=True)["Coils"]
    labels = [row[2] for row in sheet.iter_rows(min_row=2, values_only=True)]
    wanted = [label for label, _ in FIGURES.values()]
    first, second = (index for index, label in enumerate(labels) if label == wanted[0])
    assert labels[first : first + len(wanted)] == labels[second : second + len(wanted)] == wanted


def test_a_job_without_coil_data_has_no_such_sheet() -> None:
    assert "Coils" not in opened(book_of(CASES["two readings"][0], Style.METRIC)).sheetnames


@pytest.mark.parametrize("style", [Style.INCH_POUND, pytest.param(Style.METRIC, marks=pytest.mark.strength)])
@pytest.mark.parametrize("file", SAMPLES, ids=lambda file: file.name.split(".")[0])
def test_samples_show_the_figures_of_the_program(file: Path, style: Style) -> None:
    subject = open_job(file)
    book = book_of(subject, style)
    assert coil_differences(analyse(subject), stored(book), book, style) == []


def test_a_cylinder_is_live_throughout() -> None:
    rows = rows_of(CASES[NEST][0])
    of_figures = {name: rows[f"common_coil_1_{name}"] for name in FIGURES}
    assert {name for name, row in of_figures.items() if row[3] == DASH} == set()
    assert {row[5] for row in of_figures.values()} == {LIVE}
    assert {str(row[4]) for row in of_figures.values()} >= {"in", "lbf", "lbf/in", "kpsi", "Hz", "g"}


def test_what_goes_turn_by_turn_says_that_it_stands_as_at_export() -> None:
    rows = rows_of(CASES[CONE][0])
    for name in FIGURES:
        row = rows[f"common_coil_1_{name}"]
        if row[3] != DASH:
            assert row[5] == (KEPT if name in {*ON_LOADS, "bind_load", "surge_frequency_open"} else LIVE), name
    told = [row[0] for row in opened(book_of(CASES[CONE][0], Style.METRIC))["Coils"].iter_rows(values_only=True)]
    assert sum("turns into a dash" in str(text) for text in told) == 1


@QUIET
@pytest.mark.parametrize(
    ("path", "entry"),
    [
        ("spring.coils.0.total_coils", 6.25),
        ("spring.coils.0.small_mean_diameter", "0.910 in"),
        ("spring.coils.0.wire.diameter", "0.178 in"),
        ("spring.coils.0.free_height", "2.26 in"),
        ("valve_gear.lobe_lift", "0.45 in"),
    ],
)
@pytest.mark.strength
def test_a_taper_keeps_no_figure_of_another_coil_or_load(path: str, entry: Any, tmp_path: Path) -> None:
    subject = CASES[CONE][0]
    after, book = changed(subject, {path: entry}, tmp_path)
    analysis = analyse(replaced(subject, path, entry))
    assert coil_differences(analysis, after, book, Style.INCH_POUND) == []
    assert value_at(after, book, "common_coil_1_shear_stress_open") == DASH
    seat = value_at(after, book, "common_coil_1_shear_stress_seat")
    assert (seat == DASH) == path.startswith("spring.coils"), "only the open load follows the lift"
    if path.startswith("spring.coils"):
        assert value_at(after, book, "common_open_load") == DASH


@QUIET
@pytest.mark.parametrize(
    ("changes", "unknown"),
    [
        ({"spring.coils.0.wire.diameter": "0.380 in", "spring.coils.0.mean_diameter": "1.9 in"}, "tensile_strength"),
        ({"spring.coils.0.mean_diameter": "0.400 in"}, "spring_index"),
        ({"spring.coils.0.active_coils": 7.0}, "active_coils"),
        ({"spring.coils.0.free_height": "0.9 in"}, "pitch"),
    ],
)
@pytest.mark.strength
def test_what_cannot_be_is_a_dash_here_as_there(changes: dict[str, Any], unknown: str, tmp_path: Path) -> None:
    coil = {**GEOMETRY, "total_coils": 6.2, "ends": "closed and ground"}
    subject = job({"coils": [coil], "bind_height": None}, SOLID, **STATED)
    after, book = changed(subject, changes, tmp_path)
    analysis = analyse(changed_job(subject, changes))
    assert analysis.lines[0].coils[0].value(unknown) is None
    assert value_at(after, book, f"common_coil_1_{unknown}") == DASH
    assert coil_differences(analysis, after, book, Style.INCH_POUND) == []


@QUIET
def test_an_entry_that_was_missing_can_be_filled_in(tmp_path: Path) -> None:
    coil = {**GEOMETRY, "active_coils": None, "free_height": None, "ends": "closed and ground"}
    subject = job({"coils": [coil]}, SOLID, duty={}, **STATED)
    rows = rows_of(subject)
    assert rows["common_coil_1_spring_index"][3] != DASH
    for name, waits in (("pitch", "free height"), ("moving_mass", "active coils"), ("surge_ratio", "speed limit")):
        assert rows[f"common_coil_1_{name}"][3] == DASH
        assert waits in str(rows[f"common_coil_1_{name}"][8])
    filled = {"spring.coils.0.total_coils": 6.2, "spring.coils.0.free_height": "2.257 in"}
    after, book = changed(subject, filled | {"duty.speed_limit": "7000 rpm"}, tmp_path)
    for name in ("pitch", "moving_mass", "surge_ratio", "geometric_rate", "geometric_bind_height"):
        assert isinstance(value_at(after, book, f"common_coil_1_{name}"), float)


def test_steps_of_a_standard_are_looked_up_and_a_wrong_formula_is_seen() -> None:
    subject, changes = CASES[NEST]
    before, after = (analyse(each).lines[0].coils[0] for each in (subject, changed_job(subject, changes)))
    assert rows_of(subject)["common_coil_1_tensile_strength"][6] == "R_m = R_low"
    assert before.value("tensile_strength") != after.value("tensile_strength")
    book = book_of(subject, Style.METRIC)
    other = analyse(changed_job(subject, changes))
    assert len(coil_differences(other, stored(book), book, Style.METRIC)) > 30


def test_the_sheet_prints_at_eight_points_and_keeps_its_head() -> None:
    sheet = opened(book_of(CASES[NEST][0], Style.INCH_POUND))["Coils"]
    printed = [each for each in sheet.column_dimensions.values() if each.min <= 10]
    inches = sum(7 * each.width * (min(each.max, 10) - each.min + 1) for each in printed) / 96
    assert 10 * (11 - 2 * 0.5) / inches >= 7.9
    assert sheet.page_setup.orientation == "landscape"
    assert sheet.freeze_panes == "D2"
    assert sheet.print_title_rows == "$1:$1"
    assert len(sheet.row_breaks.brk) == 1
