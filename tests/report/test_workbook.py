"""The workbook as a file: its sheets, its plain text, its mark, and that it is written whole or not at all."""

from __future__ import annotations

import io
import json
import math
import zipfile
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

import loadbench
from loadbench.analysis import analyse
from loadbench.errors import Cancelled, SaveError
from loadbench.findings import judge
from loadbench.job.files import open_job
from loadbench.job.reading_in import job_from_text
from loadbench.report.book.inputs import cell_name, words
from loadbench.report.book.interpolation import BELOW
from loadbench.report.book.paper import Book, footer
from loadbench.report.cautions import CAUTIONS, NOT_COVERED
from loadbench.report.plain_text import CUT_MARK, cell_text
from loadbench.report.workbook import is_ours, workbook_bytes, write_workbook
from loadbench.units import Kind, Style
from tests.report.cases import CASES
from tests.report.recalculated import book_of, opened

ROOT = Path(__file__).parents[2]
FILES = [*sorted((ROOT / "samples").glob("*.loadbench.json")), ROOT / "tests/job/data/example.loadbench.json"]
SHEETS = ["Summary", "Job", "Figures", "Readings", "Fit", "Load line", "Followers"]
SHEETS += ["Before it goes in", "Interpolation", "Slopes"]
SHEETS += ["Findings", "Rules changed", "Cautions", "Sources"]


@pytest.fixture(scope="module")
def two() -> bytes:
    return book_of(CASES["two readings"][0], Style.INCH_POUND)


def cells(book: bytes, *, values: bool = False) -> list[Any]:
    return [cell for sheet in opened(book, values=values) for row in sheet.iter_rows() for cell in row]


def test_sheets_stand_in_the_order_of_the_work(two: bytes) -> None:
    assert opened(two).sheetnames == SHEETS
    lines = opened(book_of(CASES["lines"][0], Style.METRIC)).sheetnames
    assert [name for name in lines if name.startswith("Load line")] == ["Load line intake", "Load line exhaust"]


def test_every_sheet_is_made_to_be_read_and_printed(two: bytes) -> None:
    with zipfile.ZipFile(io.BytesIO(two)) as archive:
        written = [archive.read(name) for name in archive.namelist() if name.startswith("xl/worksheets/sheet")]
    assert len(written) == len(SHEETS)
    assert all(b"Page &amp;P of &amp;N" in sheet for sheet in written)
    for sheet in opened(two):
        setup, page = sheet.page_setup, sheet.title == "Summary"
        assert sheet.sheet_properties.pageSetUpPr.fitToPage
        one = page or sheet.title == "Load line"
        assert (setup.fitToWidth or 1, 1 if setup.fitToHeight is None else setup.fitToHeight) == (1, int(one))
        if page:
            continue
        assert sheet.freeze_panes == "A2"
        assert sheet.print_title_rows == "$1:$1"
        assert len(sheet.merged_cells.ranges) == 0
        heads = [cell.value for cell in sheet[1]]
        assert all(isinstance(head, str) for head in heads)
        assert len(set(heads)) == len(heads)


@pytest.mark.parametrize("name", ["Job", "Figures", "Load line", "Findings", "Rules changed"])
def test_what_people_read_prints_at_eight_points(two: bytes, name: str) -> None:
    sheet = opened(two)[name]
    last = sheet[sheet.print_area.split("!")[-1] if sheet.print_area else sheet.dimensions][0][-1].column
    groups = [each for each in sheet.column_dimensions.values() if each.min <= last]
    inches = sum(7 * each.width * (min(each.max, last) - each.min + 1) for each in groups) / 96
    assert sheet.page_setup.orientation == "landscape"
    assert 10 * (11 - 2 * 0.5) / inches >= 7.9


def test_formulas_carry_their_values_and_inputs_are_numbers(two: bytes) -> None:
    book, values = opened(two), opened(two, values=True)
    for name in ("common_installed_height", "common_open_load", "common_open_load_U", "common_bind_margin"):
        sheet, cell = next(iter(book.defined_names[name].destinations))
        assert book[sheet][cell.replace("$", "")].data_type == "f"
        assert isinstance(values[sheet][cell.replace("$", "")].value, float)
    sheet, cell = next(iter(book.defined_names["spring_bind_height"].destinations))
    assert book[sheet][cell.replace("$", "")].value == pytest.approx(1.08, rel=1e-12)
    assert book[sheet].cell(book[sheet][cell.replace("$", "")].row, 2).value == "1.080 in"


def test_an_unknown_figure_is_a_dash_and_says_what_it_waits_for() -> None:
    book = book_of(CASES["what is missing"][0], Style.INCH_POUND)
    rows = {row[2]: row for row in opened(book, values=True)["Figures"].iter_rows(values_only=True)}
    assert rows["Coil clearance at full lift"][3] == "\u2013"
    assert "Spring, bind height" in rows["Coil clearance at full lift"][8]


def test_a_value_that_was_typed_says_so_and_no_formula_tells_nothing() -> None:
    found = set()
    for job, _ in CASES.values():
        for row in opened(book_of(job, Style.METRIC))["Figures"].iter_rows(min_row=2, values_only=True):
            found.add((row[2], row[6]))
            left, equals, right = str(row[6] or "").partition(" = ")
            assert not equals or left != right
    assert ("Installed height", "as typed") in found
    assert ("Installed height", "H = H_bare \u2212 shims") in found
    assert ("Rate", "as typed") in found
    assert ("Net valve lift", "as typed") in found
    assert ("Rocker ratio", "as typed") in found


def test_findings_are_told_with_the_word_worst_first(two: bytes) -> None:
    analysis = analyse(CASES["two readings"][0])
    found = judge(analysis).findings
    rows = list(opened(two)["Findings"].iter_rows(min_row=2, values_only=True))
    assert [row[0] for row in rows[: len(found)]] == [str(each.level) for each in found]
    assert [row[3] for row in rows[: len(found)]] == [each.sentence.told(Style.INCH_POUND) for each in found]
    assert len(opened(two)["Findings"].conditional_formatting) == 1


def test_cautions_stand_on_their_sheet(two: bytes) -> None:
    told = [row[1] for row in opened(two)["Cautions"].iter_rows(min_row=2, values_only=True)]
    assert told == [*CAUTIONS, *NOT_COVERED]


def test_changed_rules_are_told() -> None:
    job = open_job(FILES[-1])
    rows = list(opened(book_of(job, Style.INCH_POUND))["Rules changed"].iter_rows(min_row=2, values_only=True))
    assert len(rows) == 1
    assert rows[0][-1] == "a soft seal in this head"
    assert [text.replace("\u2009", " ") for text in rows[0][2:6]] == ["0.070 in", "0.040 in", "0.060 in", "0.030 in"]


@pytest.mark.parametrize("style", [Style.INCH_POUND, pytest.param(Style.METRIC, marks=pytest.mark.strength)])
@pytest.mark.parametrize("file", FILES, ids=lambda file: file.name.split(".")[0])
def test_every_sample_makes_a_workbook_without_a_number_that_is_none(file: Path, style: Style) -> None:
    for cell in cells(book_of(open_job(file), style), values=True):
        assert not isinstance(cell.value, float) or math.isfinite(cell.value)
        assert cell.data_type != "e"


def test_an_empty_job_makes_a_workbook_with_cells_to_fill_in() -> None:
    book = opened(book_of(job_from_text('{"format": "loadbench-job", "version": 1, "title": ""}', ""), Style.METRIC))
    assert "spring_installed_height" in book.defined_names
    assert "common_seat_load" in book.defined_names


# Text of users


HOSTILE = st.one_of(
    st.sampled_from(["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "{=1}", "http://x.example", "mailto:a@b", "../../x"]),
    st.sampled_from(["<b>x</b>", "&amp;", '"', "'=1", "_x0041_", "%s", "{seat}", "\x00=1", "internal:A1", "=a|'b'!A0"]),
    st.text(max_size=40),
    st.tuples(st.sampled_from("=+-@\t\r"), st.text(max_size=20)).map("".join),
)


def hostile_job(texts: list[str]) -> Any:
    title, notes, name, spring, why = texts
    document = {
        "format": "loadbench-job", "version": 1, "title": title, "notes": notes, "customer": name, "units": "metric",
        "spring": {
            "name": name, "bind_height": "27 mm", "installed_height": "48 mm",
            "maker_limits": {"sheet": notes, "lift_max": "16 mm"},
            "coils": [{"name": name, "material": notes}, {"name": f"{name}2", "seat_step": "1 mm"}],
        },
        "valves": [{"id": name, "spring": spring}],
        "springs": [{"id": spring, "mark": notes, "readings": [{"part": name, "height": "48 mm", "load": "600 N"}]}],
        "record": {"measured_by": title},
        "valve_gear": {"valve_lift": "14 mm"},
        "rules": {"retainer-margin-min": {"watch": "2 mm", "why": why}},
    }  # fmt: skip
    return job_from_text(json.dumps(document), "hostile")


@pytest.fixture(scope="module")
def ours() -> set[str]:
    """The formulas of the same workbook without a user's text, and with harmless ones."""
    books = [book_of(hostile_job([text] * 5), Style.METRIC) for text in ("", "plain")]
    return {cell.value for book in books for cell in cells(book) if cell.data_type == "f"}


@given(st.lists(HOSTILE, min_size=5, max_size=5))
def test_text_of_users_stays_text(ours: set[str], texts: list[str]) -> None:
    job = hostile_job(texts)
    book = book_of(job, Style.METRIC)
    workbook = opened(book)
    for cell in (cell for sheet in workbook for row in sheet.iter_rows() for cell in row):
        assert cell.hyperlink is None
        assert cell.data_type != "f" or cell.value in ours
    assert workbook["Summary"]["A1"].data_type == "s"
    typed = [cell for cell in workbook["Job"]["B"] if cell.value is not None]
    assert {cell.data_type for cell in typed} == {"s"}
    wanted = cell_text(job.title)
    if wanted.strip():
        assert wanted in {cell.value for cell in typed}


@given(st.text(max_size=60))
def test_cell_text_keeps_what_can_be_kept(text: str) -> None:
    clean = cell_text(text)
    assert cell_text(clean) == clean
    assert all(letter in clean for letter in text if letter.isprintable())


def test_a_text_longer_than_a_cell_is_cut_with_a_mark() -> None:
    for letter in ("x", "\U0001f527"):
        cut = cell_text(letter * 40000)
        assert cut.endswith(CUT_MARK)
        assert len(cut.encode("utf-16-le")) // 2 <= 32767
    assert cell_text("a\x07b\x85c\ufffed") == "abcd"


# The file


def test_a_workbook_is_known_again(tmp_path: Path) -> None:
    analysis = analyse(CASES["two readings"][0])
    file = tmp_path / "a.xlsx"
    loadbench.write_workbook(analysis, judge(analysis), file)
    assert is_ours(file)
    assert [entry.name for entry in tmp_path.iterdir()] == ["a.xlsx"]


def test_another_file_is_not_taken_for_ours(tmp_path: Path) -> None:
    import openpyxl

    other, text, bomb = tmp_path / "o.xlsx", tmp_path / "t.xlsx", tmp_path / "b.xlsx"
    openpyxl.Workbook().save(other)
    text.write_text("workbook 1")
    with zipfile.ZipFile(bomb, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr(
            "docProps/custom.xml", '<property name="LoadBench"><vt:lpwstr>workbook 1</vt:lpwstr></property>'
        )
        archive.writestr("xl/sheet.xml", b" " * 5_000_000)
    assert [is_ours(file) for file in (other, text, bomb, tmp_path, tmp_path / "none")] == [False] * 5


def test_cancelled_work_leaves_what_was_there(tmp_path: Path) -> None:
    analysis = analyse(CASES["two readings"][0])
    file = tmp_path / "a.xlsx"
    file.write_bytes(b"before")
    shares: list[float] = []

    def stop(share: float) -> None:
        shares.append(share)
        if len(shares) > 3:
            raise Cancelled

    with pytest.raises(Cancelled):
        write_workbook(analysis, judge(analysis), file, progress=stop)
    assert file.read_bytes() == b"before"
    assert len(list(tmp_path.iterdir())) == 1
    assert shares == sorted(shares)


def test_progress_goes_from_none_to_all() -> None:
    analysis = analyse(CASES["two readings"][0])
    shares: list[float] = []
    workbook_bytes(analysis, judge(analysis), Style.METRIC, shares.append)
    assert (shares[0], shares[-1]) == (0.0, 1.0)
    assert shares == sorted(shares)


def test_a_folder_that_is_not_there_is_told(tmp_path: Path) -> None:
    analysis = analyse(CASES["two readings"][0])
    with pytest.raises(SaveError, match="cannot be saved"):
        write_workbook(analysis, judge(analysis), tmp_path / "no" / "a.xlsx")


def test_names_of_cells() -> None:
    assert cell_name("lines.exhaust.valve_gear.lobe_lift") == "exhaust_valve_gear_lobe_lift"
    assert cell_name("spring.coils.0.readings.2.load") == "spring_coils_1_readings_3_load"
    assert words("spring.coils.0.bind_height") == "Spring, coils 1, bind height"


def test_a_printed_page_says_of_which_job_sheet_and_day_it_is() -> None:
    assert footer("Cam & co", "2026-05-11") == "&LLoadBench: Cam && co&C&A&R2026-05-11, page &P of &N"
    assert footer("", "") == "&LLoadBench&C&A&RPage &P of &N"
    assert len(footer("&" * 500, "&" * 500)) < 255
    job = CASES["two readings"][0]
    job = job.model_copy(update={"record": job.record.model_copy(update={"date": "2026-05-11"})})
    with zipfile.ZipFile(io.BytesIO(book_of(job, Style.METRIC))) as archive:
        written = [archive.read(name) for name in archive.namelist() if name.startswith("xl/worksheets/sheet")]
    assert all(b"&amp;C&amp;A&amp;R2026-05-11, page &amp;P of &amp;N" in sheet for sheet in written)


def test_no_sentinel_of_the_look_up_is_seen() -> None:
    sheet = opened(book_of(CASES["progressive"][0], Style.INCH_POUND), values=True)["Interpolation"]
    found = [cell for row in sheet.iter_rows() for cell in row if cell.value == BELOW]
    assert found
    assert all(cell.number_format.startswith('[<=-1000000]"below";') for cell in found)
    assert "Key: whole \u00b5m" in [cell.value for cell in sheet[1]]


def test_two_cells_of_one_name_are_refused() -> None:
    book = Book(io.BytesIO(), Style.METRIC)
    sheet = book.sheet("Job", (("a", 5),))
    sheet.define("a_b", 1, 0)
    with pytest.raises(ValueError, match="two cells"):
        sheet.define("A_B", 2, 0)


def test_not_a_number_is_written_as_a_dash() -> None:
    stream = io.BytesIO()
    book = Book(stream, Style.METRIC)
    sheet = book.sheet("Job", (("a", 5),))
    for row, value in enumerate((math.nan, math.inf, None), 1):
        sheet.number(row, 0, value)
        sheet.formula(row, 1, "1", value)
        assert book.shown(value, Kind.LENGTH) is None
    book.workbook.close()
    assert [cell.value for cell in cells(stream.getvalue(), values=True)[2:]] == ["\u2013"] * 6
