"""Workbooks: guarded before they are opened, read in a program of its own, told in words where they cannot be."""

from __future__ import annotations

import subprocess
import time
import zipfile
from collections.abc import Callable
from contextlib import suppress
from datetime import date, datetime
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from loadbench.errors import Cancelled, Problem, UnreadableFileError
from loadbench.readings.printout import workbook_in
from loadbench.readings.printout.cells import Separator
from loadbench.readings.printout.opening import read_grid
from loadbench.readings.printout.sheet_values import text_of
from loadbench.readings.printout.splitting import grid_of_text
from loadbench.readings.printout.workbook_in import grid_of_workbook

TABLE: list[list[Any]] = [["Spring", "Height\nin", "Load"], [1, 1.9, 120.0], [], [2, 1.9, 0.1 + 0.2]]


def saved(path: Path, sheets: dict[str, list[list[Any]]]) -> Path:
    import openpyxl

    book = openpyxl.Workbook()
    book.remove(book.worksheets[0])
    for name, rows in sheets.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append(row)
    book.save(path)
    return path


def with_entries(path: Path, entries: dict[str, bytes]) -> Path:
    with zipfile.ZipFile(path, "a", zipfile.ZIP_DEFLATED) as archive:
        for name, data in entries.items():
            archive.writestr(name, data)
    return path


def refusal(path: Path, sheet: str | None = None) -> Problem:
    with pytest.raises(UnreadableFileError) as told:
        read_grid(path, sheet=sheet)
    (problem,) = told.value.problems
    assert problem.place.file == path.name
    return problem


# What is read


def test_a_sheet_becomes_cells_with_their_places(tmp_path: Path) -> None:
    grid = read_grid(saved(tmp_path / "set.xlsx", {"Set 1": TABLE}))
    assert [(row.number, row.cells) for row in grid.rows] == [
        (1, ("Spring", "Height in", "Load")),
        (2, ("1", "1.9", "120")),
        (4, ("2", "1.9", "0.3")),
    ]
    assert grid.rows[1].columns == (1, 2, 3)
    assert (grid.name, grid.sheet, grid.sheets, grid.separator, grid.encoding) == (
        "set.xlsx",
        "Set 1",
        ("Set 1",),
        None,
        "",
    )


def test_the_text_kept_reads_again_to_the_same_rows(tmp_path: Path) -> None:
    rows: list[list[Any]] = [[None, 'a "b"', "c\td"], [None, None, 1.5], [], ["x", '"', 2], [3]]
    grid = read_grid(saved(tmp_path / "set.xlsx", {"Set": rows}))
    assert grid_of_text(grid.text, separator=Separator.TAB).rows == grid.rows


def test_the_first_sheet_with_rows_of_numbers_is_read_unless_one_is_asked_for(tmp_path: Path) -> None:
    cover: list[list[Any]] = [["A made-up set"], ["Springs", 16]]
    path = saved(tmp_path / "set.xlsx", {"Cover": cover, "Notes": [["none"]], "Set": TABLE, "Later": TABLE})
    assert read_grid(path).sheet == "Set"
    assert read_grid(path).sheets == ("Cover", "Notes", "Set", "Later")
    assert read_grid(path, sheet="Cover").rows[1].cells == ("Springs", "16")
    assert read_grid(saved(tmp_path / "two.xlsx", {"Notes": [["none"]], "Cover": cover})).sheet == "Cover"


def test_a_sheet_that_is_not_there_is_told_with_those_that_are(tmp_path: Path) -> None:
    problem = refusal(saved(tmp_path / "set.xlsx", {"Set 1": TABLE, "Set 2": TABLE}), sheet="Set 3")
    assert "'Set 3'" in problem.what
    assert "'Set 1', 'Set 2'" in problem.expected


def test_nothing_in_a_workbook_is_told(tmp_path: Path) -> None:
    path = saved(tmp_path / "set.xlsx", {"Set 1": [], "Set 2": TABLE})
    assert "'Set 1' holds no cells" in refusal(path, sheet="Set 1").what
    assert "workbook holds no cells" in refusal(saved(path, {"Set 1": [], "Set 2": []})).what


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (None, ""),
        (True, "TRUE"),
        (12, "12"),
        (120.0, "120"),
        (48.26, "48.26"),
        (120.30000000000001, "120.3"),
        (0.00000123, "0.00000123"),
        (-1e300, "-1e+300"),
        (datetime(2024, 5, 1), "2024-05-01"),
        (datetime(2024, 5, 1, 10, 22), "2024-05-01T10:22:00"),
        (date(2024, 5, 1), "2024-05-01"),
        (" =SUM(\x01A1) \n b", "=SUM(A1) b"),
    ],
)
def test_a_value_becomes_its_shortest_text(value: object, text: str) -> None:
    assert text_of(value) == text


def test_stored_results_are_read_and_formulas_without_one_are_not_lost(tmp_path: Path) -> None:
    import xlsxwriter

    with xlsxwriter.Workbook(str(tmp_path / "set.xlsx")) as book:
        sheet = book.add_worksheet("Set")
        sheet.write_row(0, 0, [1, 1.9])
        sheet.write_formula(0, 2, "=B1*100", None, 190)
        sheet.write_formula(0, 3, '=IF(A1>5,1,"")', None, "")
        sheet.write_string(0, 4, "=B1+1")
    assert read_grid(tmp_path / "set.xlsx").rows[0].cells == ("1", "1.9", "190", "", "=B1+1")
    path = saved(tmp_path / "unsolved.xlsx", {"Set": [[1, 1.9, "=B1*100", 2.5], [2, 1.9, 3, "=B2 & C2"]]})
    assert [row.cells for row in read_grid(path).rows] == [
        ("1", "1.9", "=B1*100", "2.5"),
        ("2", "1.9", "3", "=B2 & C2"),
    ]


def test_a_sheet_that_lies_about_its_size_is_read_whole(tmp_path: Path) -> None:
    path = saved(tmp_path / "set.xlsx", {"Set": TABLE})
    rewritten = tmp_path / "lies.xlsx"
    with zipfile.ZipFile(path) as old, zipfile.ZipFile(rewritten, "w", zipfile.ZIP_DEFLATED) as new:
        for entry in old.infolist():
            data = old.read(entry)
            new.writestr(entry, data.replace(b'ref="A1:C4"', b'ref="A1:A1"'))
            assert entry.filename != "xl/worksheets/sheet1.xml" or b'ref="A1:C4"' in data
    assert read_grid(rewritten).rows == read_grid(path).rows


# What is refused


def test_a_bomb_is_refused_unopened(tmp_path: Path) -> None:
    path = saved(tmp_path / "set.xlsx", {"Set": TABLE})
    row = b"<c><v>1</v></c>" * 3_000_000
    with_entries(
        path, {"xl/worksheets/sheet2.xml": b"<worksheet><sheetData><row>" + row + b"</row></sheetData></worksheet>"}
    )
    assert path.stat().st_size < 200_000
    start = time.perf_counter()
    problem = refusal(path)
    assert time.perf_counter() - start < 0.5
    assert "unpack to 45 MB" in problem.what


def test_many_entries_are_refused(tmp_path: Path) -> None:
    path = with_entries(saved(tmp_path / "set.xlsx", {"Set": TABLE}), {f"x/{n}": b"" for n in range(600)})
    assert "entries" in refusal(path).what
    with_entries(path, {f"y/{n:0200}": b"" for n in range(6000)})
    assert "entries" in refusal(path).what


@pytest.mark.parametrize(
    ("name", "entries", "words"),
    [
        ("set.xlsm", {}, "macros"),
        ("set.xlsx", {"xl/vbaProject.bin": b"x"}, "macros"),
        ("set.xlsx", {"XL/VBAPROJECT.BIN": b"x"}, "macros"),
        ("set.xlsx", {"xl/macrosheets/sheet1.xml": b"x"}, "macros"),
        ("set.xlsx", {"xl/workbook.bin": b"x"}, ".xlsb"),
        ("set.xlsx", {"mimetype": b"application/vnd.oasis.opendocument.spreadsheet"}, "OpenDocument"),
    ],
)
def test_other_kinds_of_book_are_refused_with_what_to_do(
    tmp_path: Path, name: str, entries: dict[str, bytes], words: str
) -> None:
    problem = refusal(with_entries(saved(tmp_path / name, {"Set": TABLE}), entries))
    assert words in problem.what
    assert "saved as .xlsx" in problem.expected


def test_other_archives_are_refused(tmp_path: Path) -> None:
    assert "archive" in refusal(with_entries(tmp_path / "slips.zip", {"slip.csv": b"1,2"})).what
    assert "text document" in refusal(with_entries(tmp_path / "a.docx", {"word/document.xml": b"x"})).what
    book = with_entries(tmp_path / "types.xlsx", {"[Content_Types].xml": b"<x ContentType='a.macroEnabled.main+xml'/>"})
    assert "macros" in refusal(book).what


def test_a_damaged_workbook_is_refused(tmp_path: Path) -> None:
    path = saved(tmp_path / "set.xlsx", {"Set": TABLE})
    data = path.read_bytes()
    path.write_bytes(data[: len(data) // 2])
    assert "damaged" in refusal(path).what
    path.write_bytes(data[:-1])
    assert "damaged" in refusal(path).what
    assert "damaged" in refusal(with_entries(tmp_path / "hollow.xlsx", {"xl/workbook.xml": b"<no"})).what


def test_rows_and_columns_beyond_the_cap_are_refused(tmp_path: Path) -> None:
    problem = refusal(saved(tmp_path / "wide.xlsx", {"Set": [[1, 2], list(range(300))]}))
    assert "columns" in problem.what
    assert problem.place.row == 2
    import openpyxl

    book = openpyxl.Workbook()
    book.worksheets[0].cell(200_000, 1, "far away")
    book.save(tmp_path / "long.xlsx")
    assert "rows" in refusal(tmp_path / "long.xlsx").what


@given(st.data())
@settings(max_examples=15)
def test_a_workbook_with_any_byte_changed_is_read_or_refused(
    tmp_path_factory: pytest.TempPathFactory, data: st.DataObject
) -> None:
    path = tmp_path_factory.getbasetemp() / "changed.xlsx"
    content = bytearray(saved(path, {"Set": TABLE}).read_bytes())
    for share in data.draw(st.lists(st.floats(0, 1, exclude_max=True), min_size=1, max_size=6)):
        content[int(share * len(content))] = data.draw(st.integers(0, 255))
    path.write_bytes(content)
    with suppress(UnreadableFileError):
        assert read_grid(path).rows


# The program that reads


def test_it_can_be_stopped_at_once(tmp_path: Path, started: list[Any]) -> None:
    path = saved(tmp_path / "set.xlsx", {"Set": [[n, 1.9, 120.5] for n in range(20_000)]})
    shares = []

    def progress(share: float) -> None:
        shares.append(share)
        if len(shares) == 2:
            raise Cancelled

    start = time.perf_counter()
    with pytest.raises(Cancelled):
        grid_of_workbook(path, progress=progress)
    assert time.perf_counter() - start < 1
    assert [process.returncode is not None for process in started] == [True]


def test_it_is_ended_at_the_time_limit(tmp_path: Path, started: list[Any], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(workbook_in, "TIME_LIMIT", 0.0)
    assert "within 0 s" in refusal(saved(tmp_path / "set.xlsx", {"Set": TABLE})).what
    assert [process.returncode is not None for process in started] == [True]


def test_progress_rises_to_the_end(tmp_path: Path) -> None:
    shares: list[float] = []
    grid = grid_of_workbook(
        saved(tmp_path / "set.xlsx", {"Set": [[n, 1.9, 120.5] for n in range(5000)]}), progress=shares.append
    )
    assert len(grid.rows) == 5000
    assert shares == sorted(shares)
    assert shares[-1] > 0


@pytest.fixture
def started(monkeypatch: pytest.MonkeyPatch) -> list[Any]:
    """The programs that are started."""
    processes: list[Any] = []
    start: Callable[..., Any] = subprocess.Popen

    def noted(*args: Any, **named: Any) -> Any:
        processes.append(start(*args, **named))
        return processes[-1]

    monkeypatch.setattr(subprocess, "Popen", noted)
    return processes
