"""The sheets of the motion: what stands on them, that live cells follow their entries, and that nothing goes stale."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from loadbench.analysis import Analysis, analyse
from loadbench.analysis.dynamic_runs import fully_analysed
from loadbench.findings import judge
from loadbench.job.model import Job
from loadbench.report.book.coils_sheet import KEPT, LIVE
from loadbench.report.book.summary_speeds import HELD, LABELS, LIMIT, NOT_RUN, ONSET
from loadbench.report.motion_words import MOTION_FIGURES
from loadbench.report.workbook import workbook_bytes
from loadbench.units import Kind, Style, to_display
from tests.report.cases import CASES
from tests.report.motion_cases import COIL, moving, of_lines
from tests.report.recalculated import (
    Calculated,
    by_formulas,
    cached_differences,
    changed_job,
    differences,
    opened,
    same,
    stored,
)

QUIET = pytest.mark.filterwarnings("ignore::DeprecationWarning", "ignore::FutureWarning", "ignore::RuntimeWarning")
LIVE_FIGURES = {
    "valve_side_mass", "referred_mass", "float_margin", "pushrod_buckling_load", "pushrod_factor", "pushrod_stress",
}  # fmt: skip
DASH = "\u2013"


def book_of(subject: Job, style: Style) -> tuple[Analysis, bytes]:
    analysis = fully_analysed(analyse(subject))
    return analysis, workbook_bytes(analysis, judge(analysis), style)


def motion_differences(analysis: Analysis, calculated: Calculated, book: bytes, style: Style) -> dict[str, Any]:
    """What stands in cells of the motion and is not the program's, by the figure."""
    names, wrong = opened(book).defined_names, {}
    for line in analysis.lines:
        for name in MOTION_FIGURES:
            figure = line.figures.get(name)
            if figure is None:
                continue
            want = figure.value
            if want is not None and isinstance(figure.kind, Kind):
                want = to_display(want, figure.kind, style)
            got = calculated.at(*next(iter(names[f"{line.name}_{name}"].destinations)))
            if not same(want, got):
                wrong[name] = got
    return wrong


@pytest.mark.parametrize("style", list(Style))
def test_every_figure_stands_there_as_the_program_gives_it(style: Style) -> None:
    analysis, book = book_of(of_lines(), style)
    assert motion_differences(analysis, stored(book), book, style) == {}
    sheets = opened(book).sheetnames
    assert [name for name in sheets if name.startswith("Motion")] == [
        "Motion intake", "Motion intake sweep", "Motion intake lift",
        "Motion exhaust", "Motion exhaust sweep", "Motion exhaust lift",
    ]  # fmt: skip


def test_without_a_lift_there_is_no_such_sheet_and_without_a_run_no_sweep() -> None:
    bare = analyse(CASES["two readings"][0])
    assert not [name for name in opened(workbook_bytes(bare, judge(bare), Style.METRIC)).sheetnames if "Motion" in name]
    quick = analyse(moving())
    names = opened(workbook_bytes(quick, judge(quick), Style.METRIC)).sheetnames
    assert [name for name in names if "Motion" in name] == ["Motion", "Motion lift"]


def test_what_is_live_and_what_is_as_at_export_is_marked() -> None:
    _, book = book_of(moving(), Style.INCH_POUND)
    rows = {row[8]: row for row in opened(book, values=True)["Motion"].iter_rows(min_row=2, values_only=True) if row[8]}
    live = {name for name in MOTION_FIGURES if (row := rows.get(f"common_{name}")) and row[3] == LIVE}
    assert live == LIVE_FIGURES
    assert rows["common_separation_speed"][3] == KEPT
    assert rows["common_separation_speed"][2] == "rpm"
    assert rows["common_pushrod_stress"][2] == "kpsi"


@QUIET
@pytest.mark.strength
@pytest.mark.parametrize("style", list(Style))
def test_it_recalculates_as_it_is_and_the_live_cells_follow(style: Style, tmp_path: Path) -> None:
    subject = moving()
    changes = {
        "valve_gear.pushrod.diameter": "0.3125 in",
        "valve_gear.pushrod.wall": "0.070 in",
        "valve_gear.pushrod.length": "7.9 in",
    }
    before, book = book_of(subject, style)
    as_it_is, changed = by_formulas(book, subject, changes, style, tmp_path)
    assert cached_differences(as_it_is, book) == []
    assert motion_differences(before, as_it_is, book, style) == {}
    assert differences(before, as_it_is, book, style) == []
    after = fully_analysed(analyse(changed_job(subject, changes)))
    assert before.value("pushrod_stress") != after.value("pushrod_stress")
    assert motion_differences(after, changed, book, style) == {}


@QUIET
@pytest.mark.strength
def test_another_speed_limit_moves_the_margin_and_unsays_what_rests_on_it(tmp_path: Path) -> None:
    subject, changes = moving({"coils": [COIL]}), {"duty.speed_limit": "6800 rpm"}
    _, book = book_of(subject, Style.METRIC)
    changed = by_formulas(book, subject, changes, Style.METRIC, tmp_path)[1]
    after = fully_analysed(analyse(changed_job(subject, changes)))
    wrong = motion_differences(after, changed, book, Style.METRIC)
    assert set(wrong.values()) == {DASH}
    assert {"least_contact_force", "surge_load", "pushrod_load"} <= wrong.keys()
    assert not {"separation_speed", "float_margin", "referred_mass", "pushrod_buckling_load"} & wrong.keys()
    lift = opened(book)["Motion lift"]
    heads = [cell.value for cell in lift[1]]
    column = next(place for place, head in enumerate(heads) if str(head).startswith("Velocity at the speed limit"))
    cell = lift.cell(40, column + 1)
    assert changed.at("Motion lift", cell.coordinate) == pytest.approx(
        stored(book).at("Motion lift", cell.coordinate) * 6800 / 6500, rel=1e-9
    )


@QUIET
@pytest.mark.strength
def test_another_mass_moves_the_masses_and_unsays_the_rest(tmp_path: Path) -> None:
    subject = moving(gear={"masses": {"valve": "108 g", "follower": "120 g"}})
    changes = {"valve_gear.masses.valve": "95 g", "valve_gear.masses.rocker_inertia": "0.0001 kg m2"}
    before, book = book_of(subject, Style.INCH_POUND)
    changed = by_formulas(book, subject, changes, Style.INCH_POUND, tmp_path)[1]
    after = fully_analysed(analyse(changed_job(subject, changes)))
    assert before.value("referred_mass") != after.value("referred_mass")
    wrong = motion_differences(after, changed, book, Style.INCH_POUND)
    assert set(wrong.values()) == {DASH}
    assert {"separation_speed", "float_margin", "least_contact_force"} <= wrong.keys()
    assert not {"referred_mass", "valve_side_mass", "pushrod_buckling_load"} & wrong.keys()


def test_the_sweep_has_its_chart_and_the_lift_its_degrees() -> None:
    analysis, book = book_of(moving(), Style.METRIC)
    workbook = opened(book)
    dynamics, shown = analysis.lines[0].dynamics, analysis.lines[0].motion.shown
    assert dynamics is not None
    assert shown is not None
    sweep = workbook["Motion sweep"]
    assert len(sweep._charts) == 1
    speeds = [
        row[0] for row in sweep.iter_rows(min_row=2, max_col=1, values_only=True) if isinstance(row[0], float | int)
    ]
    assert len(speeds) == dynamics.found.speeds.size
    assert speeds[0] == pytest.approx(2000)
    rows = list(opened(book, values=True)["Motion lift"].iter_rows(min_row=2, values_only=True))
    nose = next(row for row in rows if row[0] == 0)
    assert nose[1] == 0
    assert nose[2] == pytest.approx(1000 * float(shown.valve[0].max()), rel=1e-6)
    assert nose[4] == pytest.approx(0, abs=1e-6)
    assert nose[5] < 0
    degrees = [row[0] for row in rows if isinstance(row[0], float | int)]
    assert degrees == list(range(int(degrees[0]), int(degrees[-1]) + 1))


def test_each_sheet_prints_on_the_width_of_a_page_with_heads_of_its_own() -> None:
    _, book = book_of(moving(), Style.INCH_POUND)
    for sheet in (each for each in opened(book) if each.title.startswith("Motion")):
        heads = [cell.value for cell in sheet[1]]
        assert all(isinstance(head, str) for head in heads)
        assert len(set(heads)) == len(heads)
        assert sheet.print_title_rows == "$1:$1"
        assert sheet.sheet_properties.pageSetUpPr.fitToPage


def summary_speeds(analysis: Analysis) -> dict[str, list[Any]]:
    """The rows of the speeds on the page for the wall."""
    page = opened(workbook_bytes(analysis, judge(analysis), Style.INCH_POUND), values=True)["Summary"]
    return {row[0].value: [cell.value for cell in row] for row in page.iter_rows() if row[0].value in LABELS.values()}


def test_the_summary_says_where_contact_is_lost() -> None:
    analysis = fully_analysed(analyse(moving()))
    (line,) = analysis.lines
    assert line.dynamics is not None
    at, unit, came = 4, 6, 7
    speeds = summary_speeds(analysis)
    limit, onset = (speeds[LABELS[name]] for name in (LIMIT, ONSET))
    assert limit[at] == pytest.approx(6500)
    assert (limit[unit], onset[unit]) == ("rpm", "rpm")
    assert onset[came].startswith("dynamic run to ")
    for value, told in ((600.0, to_display(600.0, Kind.SPEED, Style.INCH_POUND)), (None, HELD)):
        figures = {**line.figures, ONSET: replace(line.figures[ONSET], value=value)}
        lines = (replace(line, figures=figures),)
        assert summary_speeds(replace(analysis, lines=lines))[LABELS[ONSET]][at] == (
            told if value is None else pytest.approx(told)
        )
    unswept = summary_speeds(analyse(moving()))[LABELS[ONSET]]
    assert (unswept[at], unswept[came]) == (DASH, NOT_RUN)
