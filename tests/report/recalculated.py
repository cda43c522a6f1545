"""Jobs of every shape, their workbooks changed as in a spreadsheet, and engines that calculate them anew."""

from __future__ import annotations

import copy
import io
import json
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
from loadbench.job.reading_in import job_from_text
from loadbench.job.stated import mark_of
from loadbench.report.book.formulas import member_cell
from loadbench.report.book.inputs import cell_name
from loadbench.report.workbook import workbook_bytes
from loadbench.units import Kind, Style, parse, to_display

REL = 1e-9
Engine = Callable[[bytes, Job, Mapping[str, Any], Style, Path], "list[Calculated]"]

TESTER = {
    "load_accuracy_percent": 1.0,
    "load_accuracy_fixed": "1 lbf",
    "load_repeatability": "0.5 lbf",
    "height_accuracy": "0.002 in",
}
INSTRUMENTS = {"installed_height": "0.002 in", "bind_height": "0.003 in", "lift": "0.003 in", "seal": "0.005 in"}
GEAR = {
    "rocker_ratio": 1.6,
    "lobe_lift": "0.210 in",
    "lash": "0.016 in",
    "retainer_to_seal": "0.640 in",
    "head_diameter": "2.02 in",
}
SOLID = {"family": "roller-solid"}
HYDRAULIC = {"family": "roller-hydraulic", "travel": "standard", "preload": {"turns": 0.75}}


def readings(*pairs: tuple[float, float], part: str | None = None) -> list[dict[str, Any]]:
    own = {} if part is None else {"part": part}
    return [{**own, "height": f"{height} in", "load": f"{load} lbf"} for height, load in pairs]


def job(spring: dict[str, Any], follower: dict[str, Any], **more: Any) -> Job:
    gear = copy.deepcopy(GEAR) | more.pop("gear", {})
    document = {
        "format": "loadbench-job",
        "version": 1,
        "title": "Invented",
        "units": "inch-pound",
        "spring": {"bare_height": "1.915 in", "shims": ["0.015 in"], "bind_height": "1.080 in"} | spring,
        "valve_gear": gear,
        "follower": follower,
        "duty": {"boost": "10 psi"},
    } | more
    return job_from_text(json.dumps(document), "invented")


STATED = {"tester": TESTER, "instruments": INSTRUMENTS}
FIVE = readings((1.95, 131.2), (1.9, 150.4), (1.6, 278.1), (1.4, 361.0), (1.25, 424.7))
PROGRESSIVE = readings((1.95, 120), (1.8, 180), (1.6, 275), (1.45, 365), (1.3, 480))
REPEATED = readings((1.95, 120), (1.8, 180), (1.8, 182), (1.6, 275), (1.3, 480))
REPEATS = readings((1.9, 120), (1.8, 160), (1.8, 162), (1.65, 238), (1.5, 330), (1.36, 440))
OUTER = readings((1.9, 120), (1.25, 340))
INNER = readings((1.83, 45), (1.2, 150), (1.5, 99))
NEST = {
    "coils": [
        {"name": "outer", "bind_height": "1.080 in", "readings": OUTER},
        {
            "name": "inner",
            "seat_step": "0.060 in",
            "retainer_step": "0.010 in",
            "bind_height": "0.990 in",
            "readings": INNER,
        },
    ]
}
LOOSE_INNER = {
    "coils": [
        {"name": "outer", "bind_height": "1.080 in", "readings": OUTER},
        {
            "name": "inner",
            "seat_step": "0.010 in",
            "bind_height": "0.990 in",
            "readings": readings((1.5, 40), (1.2, 150)),
        },
    ]
}
GEOMETRY = {
    "wire": {"shape": "round", "diameter": "0.207 in"},
    "mean_diameter": "1.243 in",
    "active_coils": 4.2,
    "free_height": "2.257 in",
    "material": "chrome-silicon",
}
CHANGES: dict[str, Any] = {
    "spring.installed_height": "1.885 in",
    "valve_gear.lash": "0.020 in",
    "valve_gear.rocker_ratio": 1.7,
    "spring.shims.0": "0.030 in",
    "instruments.bind_height": "0.004 in",
}
PIVOT = {"adjuster": {"at": "pivot", "thread": "7/16-20"}}

PAIR = {
    "readings_on": "retainer",
    "readings": readings((1.9, 150), (1.3, 420)),
    "coils": [
        {"name": "outer", "bind_height": "1.080 in", "rate": "300 lbf/in", "readings": readings((1.9, 100))},
        {"name": "inner", "seat_step": "0.050 in", "rate": "120 lbf/in"},
    ],
}
THREE = {
    "coils": [
        {"name": "outer", "bind_height": "1.080 in", "rate": "300 lbf/in", "readings": readings((1.9, 100))},
        {"name": "inner", "seat_step": "0.050 in", "rate": "120 lbf/in", "readings": readings((1.85, 40))},
        {"name": "third", "bind_height": "1.0 in", "readings": readings((1.9, 10), (1.3, 40))},
    ],
}
OWN_SPRINGS = {
    "intake": {"spring": {"rate": "400 lbf/in", "bind_height": "1.2 in"}},
    "exhaust": {"spring": {"shims": ["0.03 in"], "readings": readings((1.8, 180), (1.3, 420), (1.2, 500))}},
}

CASES: dict[str, tuple[Job, dict[str, Any]]] = {
    "two readings": (
        job({"readings": readings((1.9, 150), (1.25, 423))}, SOLID, **STATED),
        {**CHANGES, "spring.readings.1.load": "431 lbf"},
    ),
    "five readings": (job({"readings": FIVE}, SOLID), {**CHANGES, "spring.readings.2.load": "280.5 lbf"}),
    "progressive": (
        job({"readings": PROGRESSIVE}, SOLID, **STATED),
        {**CHANGES, "spring.installed_height": "1.97 in", "spring.readings.4.load": "500 lbf"},
    ),
    "progressive with repeats, beyond its ends": (
        job({"readings": REPEATS, "installed_height": "1.95 in"}, SOLID, **STATED),
        {
            **CHANGES,
            "spring.installed_height": "1.88 in",
            "valve_gear.lobe_lift": "0.40 in",
            "tester.load_repeatability": "1.2 lbf",
            "tester.height_accuracy": "0.004 in",
            "tester.load_accuracy_percent": 0.5,
            "spring.readings.5.load": "455 lbf",
        },
    ),
    "loose": (
        job({"readings": readings((1.9, 150), (1.25, 423)), "installed_height": "2.4 in"}, SOLID, **STATED),
        {**CHANGES, "spring.installed_height": "1.9 in"},
    ),
    "loose inner": (
        job(LOOSE_INNER, SOLID, **STATED),
        {**CHANGES, "spring.coils.1.readings.1.load": "158 lbf", "spring.installed_height": "1.85 in"},
    ),
    "progressive becomes straight": (
        job({"readings": REPEATED}, HYDRAULIC, gear=PIVOT),
        {
            **CHANGES,
            "spring.readings.4.load": "395 lbf",
            "spring.readings.3.load": "268 lbf",
            "follower.preload.turns": 0.5,
        },
    ),
    "straight becomes progressive": (
        job({"readings": FIVE}, SOLID, **STATED),
        {"spring.readings.4.load": "520 lbf", "spring.readings.3.load": "390 lbf", "valve_gear.lobe_lift": "0.40 in"},
    ),
    "nest": (
        job(NEST, SOLID, **STATED),
        {**CHANGES, "spring.coils.1.seat_step": "0.080 in", "spring.coils.1.readings.1.load": "158 lbf"},
    ),
    "stated rate": (
        job({"rate": "420 lbf/in", "readings": readings((1.9, 150))}, HYDRAULIC, gear=PIVOT, **STATED),
        {**CHANGES, "spring.rate": "405 lbf/in", "spring.readings.0.load": "148 lbf", "duty.boost": "0 psi"},
    ),
    "geometry": (
        job({"coils": [{"name": "outer", **GEOMETRY}]}, {"family": "bucket"}, gear={"rocker_ratio": None}),
        {
            "spring.coils.0.wire.diameter": "0.210 in",
            "spring.coils.0.free_height": "2.3 in",
            "valve_gear.lash": "0.01 in",
        },
    ),
    "lines": (
        job(
            {"readings": FIVE, "rate": "420 lbf/in"},
            HYDRAULIC,
            gear=PIVOT,
            lines={"exhaust": {"valve_gear": {"lobe_lift": "0.365 in"}, "spring": {"installed_height": "1.88 in"}}},
            **STATED,
        ),
        {
            **CHANGES,
            "lines.exhaust.valve_gear.lobe_lift": "0.300 in",
            "duty.exhaust_back_pressure": "6 psi",
            "spring.readings.0.height": "1.96 in",
        },
    ),
    "pair": (job(PAIR, SOLID, **STATED), {**CHANGES, "spring.readings.1.load": "431 lbf"}),
    "three springs": (job(THREE, SOLID, **STATED), {**CHANGES, "spring.coils.0.rate": "280 lbf/in"}),
    "own springs": (
        job(
            {"readings": readings((1.9, 150), (1.3, 420))},
            SOLID,
            gear={"measured_net_lift": "0.5 in"},
            lines=OWN_SPRINGS,
        ),
        {
            "spring.readings.0.load": "160 lbf",
            "lines.exhaust.spring.readings.1.load": "400 lbf",
            "valve_gear.lash": "0.02 in",
        },
    ),
    "free height": (
        job({"rate": "400 lbf/in", "coils": [{"free_height": "2.3 in"}]}, SOLID, **STATED),
        {**CHANGES, "spring.coils.0.free_height": "2.25 in", "spring.rate": "410 lbf/in"},
    ),
    "what is missing": (
        job({"readings": readings((1.9, 150)), "bind_height": None, "shims": []}, {}, gear={"lash": None}),
        {
            "spring.rate": "400 lbf/in",
            "spring.bind_height": "1.1 in",
            "follower.family": "roller-solid",
            "valve_gear.lash": "0.01 in",
        },
    ),
}
"""Each job with a change to it. The loads are invented."""


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
    """Every figure of an analysis by the name of its cell."""
    found = {f"{line.name}_{name}": figure for line in analysis.lines for name, figure in line.figures.items()}
    for line in analysis.lines:
        for place, member in enumerate(line.members):
            found |= {member_cell(line, place, name): figure for name, figure in member.figures.items()}
    if analysis.has_lines:
        found |= {f"worst_{name}": figure for name, figure in analysis.figures.items()}
    return found


def differences(analysis: Analysis, calculated: Calculated, book: bytes, style: Style) -> list[str]:
    """Where a calculated workbook and the program disagree by more than 1e-9, U included."""
    names = opened(book).defined_names
    wrong = []
    for name, figure in named_figures(analysis).items():
        for cell, value in ((name, figure.value), (f"{name}_U", figure.expanded if figure.known else None)):
            want = (
                to_display(value, figure.kind, style) if value is not None and isinstance(figure.kind, Kind) else value
            )
            got = calculated.at(*next(iter(names[cell].destinations))) if cell in names else "no such name"
            if not same(want, got):
                wrong.append(f"{cell}: {want} here, {got!r} there")
    return wrong


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
            if not (math.isclose(written, got, rel_tol=REL, abs_tol=1e-9) if close else written == got):
                wrong.append(f"{sheet.title} {cell.coordinate}: {written!r} written, {got!r} calculated, {cell.value}")
    assert count > 20
    return wrong
