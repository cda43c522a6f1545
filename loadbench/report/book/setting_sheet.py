"""The sheet Setting: the worksheet valve by valve, shims and turns following what is typed over what was found."""

from __future__ import annotations

from loadbench.analysis.figure import Plain
from loadbench.assembly.setting_result import SettingSheet, ValveSetting, Way
from loadbench.report.book.formulas import DASH
from loadbench.report.book.paper import Book, Sheet
from loadbench.units import Kind

VALVE, LINE, FOUND, WANTED, OLD, NEW, TURNS, DO, AFTER, DONE = range(10)


def write_setting(book: Book, setting: SettingSheet) -> None:
    """Write the sheet; nothing without valves.

    Args:
        book: the workbook.
        setting: the worksheet of the job.
    """
    if not setting.rows or setting.way is None:
        return
    length = book.unit(Kind.LENGTH)
    what = "Lash" if setting.way in (Way.LASH, Way.BUCKET_SHIM) else "Plunger depth"
    own = {Way.BUCKET_SHIM: "Shim", Way.PUSHROD_LENGTH: "Pushrod"}.get(setting.way, "Travel")
    columns = (
        ("Valve", 9), ("Line", 9), (f"{what} found, {length}", 14), (f"{what} wanted, {length}", 14),
        (f"{own} as it is, {length}", 14), (f"{own} to fit, {length}", 14), ("Turns in (+) or out", 11),
        ("What to do, at export", 46), (f"{what} then, {length}", 14), ("Set by", 10),
    )  # fmt: skip
    sheet = book.sheet("Setting", columns)
    for column, used in ((OLD, setting.way is not Way.PUSHROD_LENGTH), (NEW, own != "Travel")):
        if not used:  # nothing is fitted where an adjuster sets it: the column stays for those who read it by letter
            sheet.at.set_column(column, column, columns[column][1], None, {"hidden": True})
    for row in setting.rows:
        _write_row(sheet, setting.way, row)
    sheet.row += 1
    for place, step in enumerate(setting.steps, 1):
        sheet.text(sheet.row, VALVE, f"{place}. {step.told(book.style)}", "note")
        sheet.row += 1
    if setting.lever is not None and setting.way is not Way.BUCKET_SHIM:
        _write_lever(sheet, setting)
    for label, value in (
        ("Lash opens as it warms, from lengths and materials", setting.hot_change_computed),
        ("Lash opens as it warms, by custom", setting.hot_change_custom),
    ):
        if value is not None:
            sheet.text(sheet.row, VALVE, f"{label}, {length}", "note")
            sheet.number(sheet.row, AFTER, book.shown(value, Kind.LENGTH), book.places(Kind.LENGTH), look="at export")
            sheet.row += 1
    if setting.to_buy:
        sizes = ", ".join(f"{book.shown(each, Kind.LENGTH):.3f}" for each in setting.to_buy)
        sheet.text(sheet.row, VALVE, f"To buy, {length}: {sizes}", "note")
        sheet.row += 1
    sheet.text(sheet.row, VALVE, "Measure again after setting. The part maker's sheet comes first.", "note")
    sheet.row += 1


def _write_row(sheet: Sheet, way: Way, row: ValveSetting) -> None:
    at, sheet.row, book = sheet.row, sheet.row + 1, sheet.book
    places = "0.000" if way is Way.BUCKET_SHIM else book.places(Kind.LENGTH)
    sheet.texts(at, (row.valve, row.line or ""))
    for column, value in ((FOUND, row.found), (WANTED, row.wanted)):
        sheet.number(at, column, book.shown(value, Kind.LENGTH), places, look="input")
    found, wanted = (sheet.cell(at, column).split("!")[1] for column in (FOUND, WANTED))
    as_it_is = {Way.BUCKET_SHIM: row.old_shim}.get(way, row.travel)
    old = sheet.cell(at, OLD).split("!")[1]
    if way is not Way.PUSHROD_LENGTH:
        sheet.number(at, OLD, book.shown(as_it_is, Kind.LENGTH), places, look="input")
    if way is Way.BUCKET_SHIM:
        ideal = None if None in (row.old_shim, row.found, row.wanted) else _ideal(row)
        formula = f"IF(COUNT({old},{found},{wanted})=3,{old}+{found}-{wanted},{DASH})"
        sheet.formula(at, NEW, formula, book.shown(ideal, Kind.LENGTH), places)
    elif way is Way.PUSHROD_LENGTH:
        sheet.number(at, NEW, book.shown(row.pushrod, Kind.LENGTH), places, look="at export")
    if row.turns is not None:
        sheet.number(at, TURNS, row.turns, "+0.00;\u22120.00;0", look="at export")
    sheet.text(at, DO, row.do.told(book.style))
    if row.after is not None:
        sheet.number(at, AFTER, book.shown(row.after, Kind.LENGTH), places, look="at export")
    sheet.text(at, DONE, row.set_by, "input")
    if not row.set_by:
        sheet.blanks(at, DONE, DONE, "input")


def _ideal(row: ValveSetting) -> float:
    """The shim that would give just the lash that is wanted."""
    return (row.old_shim or 0.0) + (row.found or 0.0) - (row.wanted or 0.0)


def _write_lever(sheet: Sheet, setting: SettingSheet) -> None:
    book, lever = sheet.book, setting.lever
    if lever is None:
        return
    unit = book.unit(Kind.LENGTH)
    for label, value in (
        (f"One turn moves the pushrod's end, exactly, {unit}", lever.exact),
        (f"the same to first order, {unit}", lever.first_order),
        (f"pitch times ratio, as is often said, {unit}", lever.pitch_times_ratio),
    ):
        sheet.text(sheet.row, VALVE, label, "note")
        sheet.number(sheet.row, AFTER, book.shown(value, Kind.LENGTH), book.places(Kind.LENGTH), look="at export")
        sheet.row += 1
    off = lever.pitch_times_ratio / lever.exact - 1
    sheet.text(sheet.row, VALVE, "which is off by", "note")
    sheet.number(sheet.row, AFTER, off, book.places(Plain.SHARE), look="at export")
    sheet.row += 1
