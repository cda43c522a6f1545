"""Workbooks changed as in a spreadsheet, and engines that calculate them anew."""

from __future__ import annotations

import io
import math
import re
import shutil
import subprocess
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from loadbench.analysis import Analysis, Figure, analyse
from loadbench.findings import judge
from loadbench.job.edits import replaced
from loadbench.job.model import Job
from loadbench.job.stated import mark_of
from loadbench.report.book.coil_cells import coil_cell
from loadbench.report.book.coils_sheet import KEPT
from loadbench.report.book.figures import ELSEWHERE
from loadbench.report.book.formulas import member_cell
from loadbench.report.book.inputs import cell_name
from loadbench.report.workbook import workbook_bytes
from loadbench.units import Kind, Style, parse, to_display

REL = 1e-9
Engine = Callable[[bytes, Job, Mapping[str, Any], Style, Path], "list[Calculated]"]


def opened(book: bytes, *, values: bool = False) -> Any:
    """A workbook as openpyxl reads it: its formulas, or the values stored beside them."""
    import openpyxl

    return openpyxl.load_workbook(io.BytesIO(book), data_only=values)


def book_of(subject: Job, style: Style) -> bytes:
    analysis = analyse(subject)
    return workbook_bytes(analysis, judge(analysis), style)


def changed_job(subject: Job, changes: Mapping[str, Any]) -> Job:
    for path, entry in changes.items():
        subject = replaced(subject, path, entry)
    return subject


def changed_cells(workbook: Any, changes: Mapping[str, Any], style: Style) -> dict[tuple[str, str], Any]:
    """The cells to type into for some changes of the job, with their values in the workbook's units."""
    cells = {}
    for path, entry in changes.items():
        steps = path.split(".")
        name = cell_name(".".join(steps[:-1]) if steps[-2] == "shims" else path)
        sheet, where = next(iter(workbook.defined_names[name].destinations))
        kind = getattr(mark_of(path), "kind", None)
        value = to_display(parse(entry, kind, None).value, kind, style) if isinstance(kind, Kind) else entry
        cells[sheet, where.replace("$", "").split(":")[0]] = value
    return cells


def changed_book(book: bytes, changes: Mapping[str, Any], style: Style) -> bytes:
    """The workbook with the changes typed into its cells, and no result left beside any formula."""
    workbook = opened(book)
    for (sheet, cell), value in changed_cells(workbook, changes, style).items():
        workbook[sheet][cell] = value
    stream = io.BytesIO()
    workbook.save(stream)
    return stream.getvalue()


@dataclass(frozen=True)
class Calculated:
    """The values of a calculated workbook, by sheet and cell."""

    values: Mapping[tuple[str, str], Any]

    def at(self, sheet: str, cell: str) -> Any:
        return self.values.get((sheet.upper(), cell.replace("$", "")))


def by_formulas(book: bytes, subject: Job, changes: Mapping[str, Any], style: Style, folder: Path) -> list[Calculated]:
    """Calculate a workbook with the formulas package: as it is, and with the changes as inputs."""
    import formulas

    (folder / "book.xlsx").write_bytes(book)
    model = formulas.ExcelModel().loads(str(folder / "book.xlsx")).finish()
    cells = changed_cells(opened(book), changes, style)
    inputs = {f"'[book.xlsx]{sheet.upper()}'!{cell}": value for (sheet, cell), value in cells.items()}
    found = []
    for given in ({}, inputs):
        solution = model.calculate(inputs=given) if given else model.calculate()
        values = {}
        for key, ranges in solution.items():
            if isinstance(key, str) and (place := re.fullmatch(r"'\[book\.xlsx\](.+)'!([A-Z]+\d+)", key)):
                value = ranges.value[0][0]
                values[place.group(1), place.group(2)] = float(value) if isinstance(value, int | float) else value
        found.append(Calculated(values))
    return found


def by_office(book: bytes, subject: Job, changes: Mapping[str, Any], style: Style, folder: Path) -> list[Calculated]:
    """Calculate a workbook with LibreOffice: as it is, and with the changes typed into its cells."""
    profile = f"-env:UserInstallation={(folder / 'profile').as_uri()}"
    office = shutil.which("soffice") or "soffice"
    files = [folder / "as_it_is.xlsx", folder / "changed.xlsx"]
    for file, given in zip(files, ({}, changes), strict=True):
        file.write_bytes(changed_book(book, given, style))
    command = [office, "--headless", profile, "--convert-to", "xlsx", "--outdir", str(folder / "out"), *map(str, files)]
    subprocess.run(command, check=True, capture_output=True, timeout=120)
    return [_read(folder / "out" / file.name) for file in files]


def _read(file: Path) -> Calculated:
    return stored(file.read_bytes())


def stored(book: bytes) -> Calculated:
    """The values as they stand in a workbook."""
    workbook = opened(book, values=True)
    cells = ((sheet.title.upper(), cell) for sheet in workbook for row in sheet.iter_rows() for cell in row)
    return Calculated({(sheet, cell.coordinate): cell.value for sheet, cell in cells})


def named_figures(analysis: Analysis) -> dict[str, Figure]:
    """Every figure of an analysis by the name of its cell, but for those of the motion."""
    found = {
        f"{line.name}_{name}": figure
        for line in analysis.lines
        for name, figure in line.figures.items()
        if name not in ELSEWHERE
    }
    for line in analysis.lines:
        for place, member in enumerate(line.members):
            found |= {member_cell(line, place, name): figure for name, figure in member.figures.items()}
    if analysis.has_lines:
        found |= {f"worst_{name}": each for name, each in analysis.figures.items() if name not in ELSEWHERE}
    return found


def differences(analysis: Analysis, calculated: Calculated, book: bytes, style: Style) -> list[str]:
    """Where a calculated workbook and the program disagree by more than 1e-9, U included."""
    names, page = opened(book).defined_names, page_cells(book)
    wrong = []
    for name, figure in named_figures(analysis).items():
        for cell, value in ((name, figure.value), (f"{name}_U", figure.expanded if figure.known else None)):
            want = (
                to_display(value, figure.kind, style) if value is not None and isinstance(figure.kind, Kind) else value
            )
            got = calculated.at(*next(iter(names[cell].destinations))) if cell in names else "no such name"
            if not same(want, got):
                wrong.append(f"{cell}: {want} here, {got!r} there")
            wrong += [
                f"Summary {at}: {want} here, {calculated.at('Summary', at)!r} there"
                for at in page.pop(cell, ())
                if not same(want, calculated.at("Summary", at))
            ]
    return wrong + [f"Summary {at}: {name} is no figure" for name in page for at in page[name]]


def coil_differences(analysis: Analysis, calculated: Calculated, book: bytes, style: Style) -> list[str]:
    """Where the sheet Coils and the program disagree; what stands as at export may be a dash, and nothing else."""
    names, wrong = opened(book).defined_names, []
    marks = opened(book)["Coils"] if "Coils" in opened(book).sheetnames else None
    for line in analysis.lines:
        for place, coil in enumerate(line.coils):
            for figure in coil.figures.values() if coil.concerned else ():
                cell, want = coil_cell(line, place, figure.name), figure.value
                if want is not None and isinstance(figure.kind, Kind):
                    want = to_display(want, figure.kind, style)
                if cell not in names or marks is None:
                    wrong.append(f"{cell}: no such name")
                    continue
                sheet, where = next(iter(names[cell].destinations))
                got = calculated.at(sheet, where)
                kept = marks[f"F{where.rsplit('$', 1)[1]}"].value == KEPT
                if not same(want, got) and not (kept and got == "\u2013"):
                    wrong.append(f"{cell}: {want} here, {got!r} there, {marks[where.replace('$', '')].value}")
    return wrong


def page_cells(book: bytes) -> dict[str, list[str]]:
    """The cells of the Summary that show a figure or a U, by its name."""
    found: dict[str, list[str]] = {}
    for cell in (cell for row in opened(book)["Summary"].iter_rows() for cell in row if cell.data_type == "f"):
        if re.fullmatch(r"=\w+_\w+", str(cell.value)):
            found.setdefault(str(cell.value).removeprefix("="), []).append(cell.coordinate)
    assert len(found) > 15
    return found


def same(want: float | None, got: Any) -> bool:
    if want is None or not isinstance(got, int | float):
        return want is None and got == "\u2013"
    return math.isclose(want, got, rel_tol=REL, abs_tol=1e-12)


def cached_differences(calculated: Calculated, book: bytes) -> list[str]:
    """Formulas whose value as written differs from the value as calculated."""
    formulas, values = (opened(book, values=only) for only in (False, True))
    wrong, count = [], 0
    for sheet in formulas:
        for cell in (cell for row in sheet.iter_rows() for cell in row if cell.data_type == "f"):
            count += 1
            written, got = values[sheet.title][cell.coordinate].value, calculated.at(sheet.title, cell.coordinate)
            close = isinstance(written, int | float) and isinstance(got, int | float)
            empty = written is None and got == ""  # a formula whose text is empty is read as no value
            if not (math.isclose(written, got, rel_tol=REL, abs_tol=1e-9) if close else written == got or empty):
                wrong.append(f"{sheet.title} {cell.coordinate}: {written!r} written, {got!r} calculated, {cell.value}")
    assert count > 20
    return wrong
