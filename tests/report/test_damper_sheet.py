"""A damper's loads as they leave the program: terminal, JSON, CSV, and the live cells of the load line's sheet."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from loadbench.analysis import analyse
from loadbench.analysis.damper import DAMPER_FIGURES
from loadbench.findings import judge
from loadbench.job.edits import replaced
from loadbench.report.json_out import as_json
from loadbench.report.plain import as_text
from loadbench.report.table import figures_csv, is_ours, load_table_csv, write_csv
from loadbench.units import Kind, Style, to_display
from tests.report.cases import CASES, FIVE, NEST, SOLID, STATED, job
from tests.report.recalculated import (
    Calculated,
    book_of,
    by_formulas,
    cached_differences,
    changed_job,
    differences,
    opened,
)

if TYPE_CHECKING:
    from loadbench.analysis import Analysis, LineAnalysis
    from loadbench.job.model import Job

LBF, INCH = 4.4482216152605, 0.0254
SHEET = {"closed": "seat_load", "full_lift": "open_load"}
KEYS = ("seat_load_loading_N", "seat_load_unloading_N", "open_load_loading_N", "open_load_unloading_N",
        "damper_energy_J")  # fmt: skip
QUIET = pytest.mark.filterwarnings("ignore::DeprecationWarning", "ignore::FutureWarning", "ignore::RuntimeWarning")


def damped(load: str = "6 lbf", spring: dict[str, Any] = NEST, **more: Any) -> Job:
    return job({**spring, "damper": {"load": load}}, SOLID, **STATED, **more)


def named(calculated: Calculated, book: bytes, name: str) -> Any:
    return calculated.at(*next(iter(opened(book).defined_names[name].destinations)))


def sheet_differences(analysis: Analysis, calculated: Calculated, book: bytes, style: Style) -> list[str]:
    """Where the damper's cells of the load lines disagree with the figures by more than 1e-9."""
    wrong = []
    for line in analysis.lines:
        wanted = {f"{line.name}_{end}_{way}": (f"{figure}_{way}", Kind.FORCE)
                  for end, figure in SHEET.items() for way in ("loading", "unloading")}  # fmt: skip
        wanted[f"{line.name}_cycle_energy"] = ("damper_energy", Kind.ENERGY)
        for cell, (figure, kind) in wanted.items():
            value, got = line.value(figure), named(calculated, book, cell)
            want = "\u2013" if value is None else pytest.approx(to_display(value, kind, style), rel=1e-9, abs=1e-12)
            wrong += [] if got == want else [f"{cell}: {want} here, {got!r} there"]
    return wrong


CHANGED: dict[str, dict[str, Any]] = {
    "more friction": {"spring.damper.load": "9.5 lbf"},
    "another height and lift": {"spring.installed_height": "1.860 in", "valve_gear.lobe_lift": "0.300 in"},
    "more friction than seat load": {"spring.damper.load": "210 lbf"},
}


@QUIET
@pytest.mark.parametrize(
    ("name", "style"),
    [
        pytest.param("more friction", Style.INCH_POUND, marks=pytest.mark.strength),
        pytest.param("another height and lift", Style.METRIC, marks=pytest.mark.strength),
        pytest.param("more friction than seat load", Style.METRIC, marks=pytest.mark.strength),
    ],
)
def test_the_cells_recalculate(name: str, style: Style, tmp_path: Path) -> None:
    subject, changes = damped(), CHANGED[name]
    before, after = analyse(subject), analyse(changed_job(subject, changes))
    assert before.value("open_load_loading") != after.value("open_load_loading")
    book = book_of(subject, style)
    as_it_is, changed = by_formulas(book, subject, changes, style, tmp_path)
    assert cached_differences(as_it_is, book) == []
    for analysis, calculated in ((before, as_it_is), (after, changed)):
        assert sheet_differences(analysis, calculated, book, style) == []
        assert differences(analysis, calculated, book, style) == []


@QUIET
@pytest.mark.strength
def test_a_line_of_its_own_and_a_faulty_entry_mended(tmp_path: Path) -> None:
    subject = damped("six pounds", {"readings": FIVE}, lines={"exhaust": {"spring": {"damper": {"load": "14 lbf"}}}})
    mended = {"spring.damper.load": "6 lbf"}
    before, after = analyse(subject), analyse(changed_job(subject, mended))
    assert before.line("intake").value("damper_energy") is None
    assert before.line("exhaust").value("damper_energy") is not None
    book = book_of(subject, Style.INCH_POUND)
    as_it_is, changed = by_formulas(book, subject, mended, Style.INCH_POUND, tmp_path)
    assert cached_differences(as_it_is, book) == []
    for analysis, calculated in ((before, as_it_is), (after, changed)):
        assert sheet_differences(analysis, calculated, book, Style.INCH_POUND) == []
        assert differences(analysis, calculated, book, Style.INCH_POUND) == []


def rows_of_sheet(subject: Job, title: str) -> list[list[Any]]:
    return [[cell.value for cell in row] for row in opened(book_of(subject, Style.INCH_POUND), values=True)[title].rows]


def test_every_row_of_the_sheet_has_its_band() -> None:
    head, *rows = rows_of_sheet(damped(), "Load line")
    load, more, less = (head.index(f"{name}, lbf") for name in ("Load", "Valve opens", "Valve closes"))
    count = 0
    for row in rows:
        if isinstance(row[load], float) and isinstance(row[more], float):
            assert (row[more] - row[load], row[load] - row[less]) == pytest.approx((6.0, 6.0), abs=1e-9)
            count += 1
    assert count > 8


def test_without_a_damper_the_sheet_is_as_it_was() -> None:
    head, *rows = rows_of_sheet(job(NEST, SOLID, **STATED), "Load line")
    assert "Valve opens, lbf" not in head
    assert not any("damper" in str(row[0]) for row in rows)
    assert head[8].endswith("own height, in")


def line_of(subject: Job) -> LineAnalysis:
    return analyse(subject).lines[0]


def test_json_keys() -> None:
    analysis = analyse(damped())
    figures = json.loads(json.dumps(as_json(analysis, judge(analysis)), allow_nan=False))["figures"]
    assert {key for each in KEYS for key in (each, f"{each}_U")} <= figures.keys()
    assert figures["open_load_loading_N"] - figures["open_load_N"] == pytest.approx(6 * LBF)
    assert figures["seat_load_N"] - figures["seat_load_unloading_N"] == pytest.approx(6 * LBF)
    # 2 x 6 lbf x (1.6 x 0.210 - 0.016) in
    assert figures["damper_energy_J"] == pytest.approx(12 * LBF * 0.320 * INCH, rel=1e-9)
    plain = analyse(CASES["nest"][0])
    assert all(as_json(plain, judge(plain))["figures"][key] is None for key in KEYS)


def text_of(subject: Job) -> str:
    analysis = analyse(subject)
    return as_text(analysis, judge(analysis)).replace("\u2009", " ")


def test_the_terminal_tells_them_only_with_a_damper() -> None:
    labels = [line_of(damped()).figures[name].label for name in DAMPER_FIGURES]
    told, plain = text_of(damped()), text_of(CASES["nest"][0])
    assert all(f"  {label} " in told for label in labels)
    assert not any(label in plain for label in labels)
    assert "3.840 \u00b1" in told  # 2 x 6 lbf x 0.320 in, in in lbf


def test_the_terminal_tells_what_they_wait_for_and_why_springs_would_stick() -> None:
    waiting = next(row for row in text_of(damped("six")).splitlines() if "Seat load, valve opens" in row)
    assert waiting.endswith("waits for damper load")
    stuck = next(row for row in text_of(damped("300 lbf")).splitlines() if "Energy the damper takes" in row)
    assert stuck.endswith("the springs would not close the valve by themselves.")


def csv_rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text.removeprefix("\ufeff"), newline="")))


def test_tables(tmp_path: Path) -> None:
    analysis = analyse(damped())
    for row in csv_rows(load_table_csv(analysis)):
        assert float(row["loading_N"]) == pytest.approx(float(row["load_N"]) + 6 * LBF)
        assert float(row["unloading_N"]) == pytest.approx(float(row["load_N"]) - 6 * LBF)
    energy = next(row for row in csv_rows(figures_csv(analysis)) if row["key"] == "damper_energy_J")
    assert energy["unit"] == "J"
    for place, subject in enumerate((damped(), CASES["nest"][0])):
        file = tmp_path / f"{place}.csv"
        write_csv(file, load_table_csv(analyse(subject)))
        assert is_ours(file)
    assert "loading_N" not in csv_rows(load_table_csv(analyse(CASES["nest"][0])))[0]


def test_a_table_of_two_lines_leaves_the_undamped_one_blank() -> None:
    subject = replaced(CASES["own springs"][0], "lines.exhaust.spring.damper.load", "6 lbf")
    rows = csv_rows(load_table_csv(analyse(subject)))
    assert {row["loading_N"] == "" for row in rows if row["line"] == "intake"} == {True}
    assert {row["loading_N"] == "" for row in rows if row["line"] == "exhaust"} == {False}
