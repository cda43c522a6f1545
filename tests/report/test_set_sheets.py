"""The sheets and tables of a set: which are there, that texts stay texts, that they print, and what the tables hold."""

from __future__ import annotations

import csv
import io
from pathlib import Path
from typing import Any

import pytest

from loadbench.analysis import analyse
from loadbench.cli import main
from loadbench.errors import InputError
from loadbench.job.edits import replaced
from loadbench.job.files import save_job
from loadbench.report.kept_plan import kept_plan
from loadbench.report.plain_text import MOST_UNITS
from loadbench.report.plan_table import FOUND, KEPT, plan_table_csv
from loadbench.report.set_table import set_table_csv
from loadbench.report.table import PLAN_HEAD, SET_HEAD, is_ours
from loadbench.units import Style
from tests.report.cases import CASES
from tests.report.recalculated import book_of, opened
from tests.report.set_cases import PRINTED, SETS

PLANNED = SETS["sixteen with a plan"][0]
OF_SET = ["Springs", "Doubts", "Valves", "Plan", "Order list", "History", "Set loads", "Printout"]


@pytest.fixture(scope="module")
def book() -> Any:
    return opened(book_of(PLANNED, Style.INCH_POUND))


def rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text.removeprefix("\ufeff"))))


def test_a_sheet_is_there_when_it_has_something_to_say(book: Any) -> None:
    assert [name for name in book.sheetnames if name in OF_SET] == [each for each in OF_SET if each != "History"]
    bare = opened(book_of(CASES["two readings"][0], Style.METRIC)).sheetnames
    assert not set(OF_SET) & set(bare)
    history = opened(book_of(SETS["lines and a history"][0], Style.METRIC)).sheetnames
    assert "History" in history


def test_every_printout_stands_there_line_by_line(book: Any) -> None:
    found: dict[int, str] = {}
    for _, number, *cells in book["Printout"].iter_rows(min_row=2, values_only=True):
        if number is not None:
            found[number] = found.get(number, "") + "\t".join(cell or "" for cell in cells).rstrip("\t")
            assert all(len(cell or "") <= MOST_UNITS for cell in cells)
    assert "\n".join(found.values()) + "\n" == PRINTED


def test_no_text_of_a_set_becomes_a_formula(book: Any) -> None:
    texts = [cell for cell in book["Printout"]["C"] if str(cell.value or "")[:1] in ("=", "+", "-")]
    assert [cell.data_type for cell in texts] == ["s"] * 3
    assert all(cell.quotePrefix for cell in texts)
    marks = [book["Springs"].cell(row, 2) for row in range(2, 20)]
    assert [(cell.value, cell.data_type) for cell in marks] == [(f"={place}", "s") for place in range(18)]
    job = replaced(PLANNED, "springs.0.id", "=1+1")
    job = replaced(replaced(job, "valves.0.spring", "=1+1"), "plan.placed.0.spring", "=1+1")
    for sheet in opened(book_of(job, Style.METRIC)):
        assert all("=1+1" not in str(c.value) or c.data_type == "s" for row in sheet.iter_rows() for c in row)


@pytest.mark.parametrize("name", ["Springs", "Doubts", "Valves", "Plan"])
def test_what_people_read_prints_at_eight_points(book: Any, name: str) -> None:
    groups = list(book[name].column_dimensions.values())
    inches = sum(7 * each.width * (each.max - each.min + 1) for each in groups) / 96
    assert book[name].page_setup.orientation == "landscape"
    assert 10 * (11 - 2 * 0.5) / inches >= 7.9


def test_the_order_list_is_one_page_with_boxes_in_cylinder_order(book: Any) -> None:
    sheet = book["Order list"]
    ticked = [row for row in sheet.iter_rows(values_only=True) if row[0] == "\u2610"]
    assert [row[1] for row in ticked] == [f"{cylinder}{valve}" for cylinder in range(1, 9) for valve in "IE"]
    planned = {each.name: each.spring for each in kept_plan(analyse(PLANNED))}
    assert [row[2] for row in ticked] == list(planned.values())
    assert (sheet.page_setup.fitToHeight or 1) == 1
    assert any("Shims to fetch" in str(row[0]) for row in sheet.iter_rows(values_only=True))
    assert "eye protection" in " ".join(str(row[0]) for row in sheet.iter_rows(values_only=True))


def test_without_a_plan_the_order_list_is_as_the_valves_name_them() -> None:
    job = PLANNED.model_copy(update={"plan": type(PLANNED.plan)()})
    sheets = opened(book_of(job, Style.METRIC))
    assert "Plan" not in sheets.sheetnames
    named = [row[2] for row in sheets["Order list"].iter_rows(values_only=True) if row[0] == "\u2610"]
    assert named == [valve.spring for valve in job.valves]


def test_a_photo_and_a_printout_do_not_stand_on_the_sheet_job() -> None:
    job = replaced(PLANNED, "photos", ({"name": "a", "media": "image/png", "data": "QUJD" * 20_000},))
    typed = [str(row[0]) for row in opened(book_of(job, Style.METRIC))["Job"].iter_rows(values_only=True)]
    assert not [entry for entry in typed if entry.startswith(("Photos", "Printouts", "Plan"))]


def test_the_table_of_the_set() -> None:
    found = rows(set_table_csv(analyse(PLANNED)))
    assert list(found[0]) == list(SET_HEAD)
    assert [row["verdict"] for row in found].count("fail") == 1
    weak = next(row for row in found if row["verdict"] == "fail")
    assert (weak["spring"], weak["valve"]) == ("S04", "2E")
    assert float(weak["off_window_N"]) < 0
    assert found[0]["mark"] == "'=0"
    seat = analyse(PLANNED).set.springs[0].seat_load
    assert float(found[0]["seat_load_N"]) == pytest.approx(seat, rel=1e-8)


def test_the_table_of_the_plan_is_the_kept_one_else_the_best() -> None:
    kept = rows(plan_table_csv(analyse(PLANNED)))
    assert list(kept[0]) == list(PLAN_HEAD)
    assert {row["plan"] for row in kept} == {KEPT}
    job = PLANNED.model_copy(update={"plan": type(PLANNED.plan)()})
    found = rows(plan_table_csv(analyse(job)))
    assert {row["plan"] for row in found} == {FOUND}
    assert [{**row, "plan": ""} for row in found] == [{**row, "plan": ""} for row in kept]
    with pytest.raises(InputError, match="keeps no plan"):
        plan_table_csv(analyse(CASES["two readings"][0]))
    with pytest.raises(InputError, match="none holds every limit"):
        plan_table_csv(analyse(replaced(job, "targets.seat_load", "300 lbf")))


def test_from_the_command_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job, of_set, plan = tmp_path / "a.loadbench.json", tmp_path / "s.csv", tmp_path / "p.csv"
    save_job(PLANNED, job)
    assert main(["report", str(job), "--csv-set", str(of_set), "--csv-plan", str(plan)]) in (0, 1)
    assert of_set.read_text("utf-8") == set_table_csv(analyse(PLANNED)).replace("\r\n", "\n")
    assert plan.read_text("utf-8") == plan_table_csv(analyse(PLANNED)).replace("\r\n", "\n")
    assert is_ours(of_set)
    assert is_ours(plan)
    other = tmp_path / "b.loadbench.json"
    save_job(CASES["two readings"][0], other)
    book = tmp_path / "b.xlsx"
    assert main(["report", str(other), "--csv-plan", str(plan), "--xlsx", str(book)]) == 2
    assert "keeps no plan" in capsys.readouterr().err
    assert not book.exists()
    assert main(["report", str(other)]) == 2


def test_a_valve_that_the_plan_names_no_more_is_left_out() -> None:
    job = replaced(PLANNED, "valves.0.id", "9I")
    assert [each.name for each in kept_plan(analyse(job))] == [v.id for v in PLANNED.valves][1:]
    assert "Plan" in opened(book_of(job, Style.METRIC)).sheetnames
    faulty = replaced(PLANNED, "plan.placed.1.shims", ("a thin one",))
    place = next(each for each in kept_plan(analyse(faulty)) if each.place == 1)
    assert (place.installed_height, place.seat_load) == (None, None)
    assert "Plan" in opened(book_of(faulty, Style.METRIC)).sheetnames
