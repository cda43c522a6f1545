"""The sheet Job: every entry as typed, beside its value in the units of the workbook, in a cell with a name."""

from __future__ import annotations

from typing import Any

from loadbench.analysis import Analysis, LineAnalysis
from loadbench.errors import InputError
from loadbench.job.kinds import Number, Quantity, Words
from loadbench.job.model import Job
from loadbench.job.stated import LineStated, mark_of
from loadbench.readings.coil_geometry import CoilGeometry, coil_geometry
from loadbench.report.book.paper import Book, Sheet, tidy
from loadbench.report.entries import fault
from loadbench.spring.materials import material
from loadbench.spring.section import Shape
from loadbench.units import Kind, Style, parse_thread, to_display

COLUMNS = (("Entry", 38), ("As typed", 30), ("Value", 13), ("Unit", 9), ("Name of the cell", 40), ("Note", 32))
VALUE = 2
LIVE = (
    "spring.bare_height",
    "spring.installed_height",
    "spring.bind_height",
    "spring.rate",
    "valve_gear.rocker_ratio",
    "valve_gear.lobe_lift",
    "valve_gear.valve_lift",
    "valve_gear.measured_net_lift",
    "valve_gear.lash",
    "valve_gear.retainer_to_seal",
    "valve_gear.head_diameter",
    "valve_gear.adjuster.at",
    "cam.lash_kind",
    "follower.family",
    "follower.preload.depth",
    "follower.preload.turns",
    "duty.boost",
    "duty.exhaust_back_pressure",
    "tester.load_accuracy_percent",
    "tester.load_accuracy_fixed",
    "tester.load_repeatability",
    "tester.height_accuracy",
    "instruments.installed_height",
    "instruments.bind_height",
    "instruments.lift",
    "instruments.seal",
)
"""The entries that formulas read; each has a cell, empty where it is not stated."""

LIVE_OF_COIL = ("seat_step", "retainer_step", "bind_height", "rate")
NAMELESS = ("variants.", "history.", "springs.", "valves.", "cam.profile.", "rules.", "valve_gear.ratio_curve.")
ELSEWHERE = ("rules", "printouts.", "photos.", "plan.", "check_list.")
"""Parts that stand on sheets of their own, or are kept in the job alone."""
SPARE_SHIMS = 2


def cell_name(path: str) -> str:
    """The name of an entry's cell: its path, items counted from one, a line's name in place of "lines.<line>"."""
    steps = path.removeprefix("lines.").split(".")
    name = "_".join(str(int(step) + 1) if step.isdigit() else step for step in steps)
    return name if "_" in name else f"job_{name}"


def modulus_name(coil: str) -> str:
    """The name of the cell with the shear modulus of a coil's wire."""
    return cell_name(f"{coil}.shear_modulus")


def pitch_name(line: LineStated) -> str:
    """The name of the cell with the pitch of a line's adjuster."""
    return cell_name(line.path("valve_gear.adjuster.thread") + "_pitch")


def words(path: str) -> str:
    """An entry's path in words: "Spring, coils 1, bind height"."""
    text = ""
    for step in path.split("."):
        text += f" {int(step) + 1}" if step.isdigit() else f", {step.replace('_', ' ')}"
    return text.removeprefix(", ").capitalize()


def entry_at(job: Job, path: str) -> Any:
    """What was typed at a path; None where nothing was."""
    found: Any = job
    for step in path.split("."):
        if found is None:
            return None
        if not step.isdigit():
            found = getattr(found, step, None)
            continue
        found = found[int(step)] if int(step) < len(found) else None
    return found


def write_inputs(book: Book, analysis: Analysis, elsewhere: set[str], wanted: tuple[str, ...] = ()) -> Sheet:
    """Write the sheet Job.

    Args:
        book: the workbook.
        analysis: of the job.
        elsewhere: paths whose values stand on other sheets, such as Readings.
        wanted: further paths that formulas read.

    Returns:
        The sheet.
    """
    sheet = book.sheet("Job", COLUMNS)
    shim_lists = tuple(dict.fromkeys(line.stated.rows("spring.shims")[0] for line in analysis.lines))
    done: set[str] = set(elsewhere)
    live = live_paths(analysis) | dict.fromkeys(wanted)
    for path in _ordered(analysis, live, shim_lists):
        if path in done:
            continue
        done.add(path)
        if path in shim_lists:
            done |= _write_shims(sheet, analysis, path)
        else:
            _write_entry(sheet, analysis, path, live=path in live)
    for line in analysis.lines:
        _write_pitch(sheet, line)
        for coil in dict.fromkeys((*geometric_coils(line), *concerned_coils(line))):
            _write_modulus(sheet, analysis, coil)
    return sheet


def live_paths(analysis: Analysis) -> dict[str, None]:
    """The paths of the entries that formulas of this workbook read, in order."""
    paths: list[str] = []
    for line in analysis.lines:
        paths += [line.stated.path(path) for path in LIVE]
        for coil in coils(line):
            paths += [f"{coil}.{name}" for name in LIVE_OF_COIL]
            if coil in geometric_coils(line):
                paths += geometry_paths(coil_geometry(line.stated, coil))
            paths += [f"{coil}.free_height"]
    return dict.fromkeys(paths)


def _ordered(analysis: Analysis, live: dict[str, None], shim_lists: tuple[str, ...]) -> list[str]:
    """The paths of all entries, stated or faulty or read by a formula, in the document's order of parts."""
    stated = analysis.stated
    paths = [path for path in (*stated.values, *stated.problems) if not path.endswith("#")]
    paths = [path for path in paths if not path.startswith(ELSEWHERE) and path not in ("format", "version")]
    paths = [path for path in dict.fromkeys((*paths, *live)) if path.rsplit(".", 1)[0] not in shim_lists]
    paths += list(shim_lists)
    parts = list(Job.model_fields)
    return sorted(paths, key=lambda path: parts.index(path.split(".")[0]))


def coils(line: LineAnalysis) -> tuple[str, ...]:
    """The paths of a line's coils."""
    return tuple(member.path for member in line.nest.members if member.path)


def geometric_coils(line: LineAnalysis) -> tuple[str, ...]:
    """The paths of the coils whose rate can be had from their geometry."""
    return tuple(
        member.path for member in line.nest.members if member.path and member.evidence.geometric_rate is not None
    )


def concerned_coils(line: LineAnalysis) -> tuple[str, ...]:
    """The paths of the coils of whose wire or turns anything is stated."""
    return tuple(coil.path for coil in line.coils if coil.concerned)


def geometry_paths(geometry: CoilGeometry) -> tuple[str, ...]:
    """The entries that the rate of a coil rests on, but for its material.

    Args:
        geometry: of a coil whose rate is known.

    Returns:
        Their paths.
    """
    round_wire = geometry.section is None or geometry.section.shape is Shape.ROUND
    names = ["wire.diameter"] if round_wire else ["wire.width", "wire.thickness"]
    names += ["mean_diameter", *(["small_mean_diameter"] if geometry.tapers else [])]
    names += ["total_coils" if geometry.active_by_ends else "active_coils"]
    names += ["tapered_coils"] if geometry.beehive else []
    return tuple(f"{geometry.path}.{name}" for name in names)


def _write_entry(sheet: Sheet, analysis: Analysis, path: str, name: str | None = None, *, live: bool = True) -> None:
    row, sheet.row = sheet.row, sheet.row + 1
    job, stated, book = analysis.job, analysis.stated, sheet.book
    mark = mark_of(path)
    value = stated.values.get(path)
    name = cell_name(path) if name is None else name
    sheet.texts(row, (words(path), _typed(entry_at(job, path))))
    sheet.text(row, 5, _note(analysis, path), "quiet")
    if isinstance(mark, Quantity | Number):
        kind = mark.kind if isinstance(mark, Quantity) else None
        shown = None if value is None else (to_display(value, kind, book.style) if kind else float(value))
        if live or shown is not None:
            sheet.number(row, VALUE, shown, tidy(shown), look="input" if live else "number")
        sheet.text(row, 3, book.unit(kind) or ("%" if path.endswith("_percent") else ""), "unit")
    elif isinstance(mark, Words):
        sheet.at.write_string(row, VALUE, str(value or ""), book.format("input" if live else "text"))
    else:
        return
    if name and not path.startswith(NAMELESS):
        sheet.define(name, row, VALUE)
        sheet.text(row, 4, name, "quiet")


def _typed(entry: Any) -> str:
    if isinstance(entry, bool):
        return "yes" if entry else "no"
    return "" if entry is None else str(entry)


def _note(analysis: Analysis, path: str) -> str:
    problem = analysis.stated.problems.get(path)
    if problem is not None:
        said = "Cannot be used" if analysis.stated.faulty(path) else "To look at"
        what, wanted = fault(problem)
        asked = wanted if wanted.endswith("?") or not wanted else f"Wanted: {wanted}."
        return f"{said}: {what} {asked}".rstrip()
    return analysis.stated.notes.get(path, "")


def _write_shims(sheet: Sheet, analysis: Analysis, path: str) -> set[str]:
    """The shims of a list one under the other, with room for more, as one named range."""
    count = analysis.stated.values.get(f"{path}#", 0)
    first = sheet.row
    for index in range(count):
        _write_entry(sheet, analysis, f"{path}.{index}", "")
    for index in range(count, count + SPARE_SHIMS):
        sheet.text(sheet.row, 0, words(f"{path}.{index}"))
        sheet.number(sheet.row, VALUE, None, look="input")
        sheet.text(sheet.row, 3, sheet.book.unit(Kind.LENGTH), "unit")
        sheet.row += 1
    name = sheet.book.define(cell_name(path), sheet.span(first, sheet.row - 1, VALUE))
    for row in range(first, sheet.row):
        sheet.text(row, 4, name, "quiet")
    return {f"{path}.{index}" for index in range(count)}


def _derived(sheet: Sheet, name: str, label: str, note: str, value: float | None, unit: str) -> None:
    row, sheet.row = sheet.row, sheet.row + 1
    sheet.text(row, 0, label)
    sheet.number(row, VALUE, value, tidy(value), look="input")
    sheet.text(row, 3, unit, "unit")
    sheet.texts(row, (sheet.define(name, row, VALUE), note), 4, "quiet")


def _write_pitch(sheet: Sheet, line: LineAnalysis) -> None:
    """The pitch of the adjuster's thread, which is typed as a thread."""
    name = pitch_name(line.stated)
    if sheet.book.named(name):
        return
    thread = line.stated.value("valve_gear.adjuster.thread")
    try:
        pitch = None if thread is None else sheet.book.shown(parse_thread(thread), Kind.LENGTH)
    except InputError:
        pitch = None
    _derived(
        sheet, name, "Pitch of the adjuster's thread", "from the thread as typed", pitch, sheet.book.unit(Kind.LENGTH)
    )


def _write_modulus(sheet: Sheet, analysis: Analysis, coil: str) -> None:
    name = modulus_name(coil)
    wire = material(analysis.stated.values.get(f"{coil}.material"))
    if sheet.book.named(name) or wire is None:
        return
    modulus, unit = modulus_shown(sheet.book, wire.shear_modulus_Pa)
    _derived(sheet, name, f"Shear modulus, {words(coil).lower()}", f"of the wire; source: {wire.source}", modulus, unit)


def modulus_shown(book: Book, modulus: float) -> tuple[float, str]:
    """A modulus, Pa, in the unit that goes with the workbook's forces and lengths, and that unit."""
    if book.style is Style.METRIC:
        return modulus / 1e6, "N/mm\u00b2"
    return to_display(modulus, Kind.PRESSURE, book.style), "psi"
