"""The words of the window that reads a printout: meanings, layouts, decimals, counts, columns and places."""

from __future__ import annotations

from enum import Enum
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication

from loadbench.readings.printout.cells import Decimal, Separator
from loadbench.readings.printout.headers import KIND_OF
from loadbench.readings.printout.meaning import Layout, Meaning
from loadbench.units import Kind, Style, tell
from loadbench.units.entry import unit_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from loadbench.readings.printout.cells import Grid
    from loadbench.readings.printout.meaning import Column, PrintedReading, Understood

_CONTEXT = "Printout"
SAME_HEIGHT = 6
"""Heights that agree to this many places of a metre are one."""
LONGEST_TITLE = 40


def _tr(text: str) -> str:
    return QCoreApplication.translate(_CONTEXT, text)


def meaning_word(meaning: Meaning) -> str:
    """What a column holds, as a choice."""
    words = {
        Meaning.SPRING: _tr("Spring number"),
        Meaning.PART: _tr("Part"),
        Meaning.HEIGHT: _tr("Height"),
        Meaning.LOAD: _tr("Load"),
        Meaning.RATE: _tr("Rate"),
        Meaning.REPEAT: _tr("Repeat"),
        Meaning.DIRECTION: _tr("Direction"),
        Meaning.MARK: _tr("Mark or bin"),
        Meaning.UNIT: _tr("Unit"),
        Meaning.NOTHING: _tr("Not read"),
    }
    return words[meaning]


def layout_word(layout: Layout) -> str:
    """What one row of the printout holds."""
    return _tr("a spring") if layout is Layout.ROW_A_SPRING else _tr("a reading")


def decimal_word(decimal: Decimal) -> str:
    """What stands before the decimals."""
    return _tr("point, 1.900") if decimal is Decimal.POINT else _tr("comma, 1,900")


def separator_word(separator: Separator) -> str:
    """What stands between the columns."""
    words = {
        Separator.COMMA: _tr("commas"),
        Separator.SEMICOLON: _tr("semicolons"),
        Separator.TAB: _tr("tabs"),
        Separator.BAR: _tr("bars"),
        Separator.BLANKS: _tr("blanks"),
    }
    return words[separator]


def part_word(part: str) -> str:
    """A part of a nest, as a choice."""
    words = {"": _tr("No part"), "outer": _tr("Outer"), "inner": _tr("Inner"), "pair": _tr("Pair")}
    return words.get(part, part)


def counted(count: int, one: str, many: str) -> str:
    """A count with its word: "1 spring", "16 springs"."""
    return (one if count == 1 else many).format(count=count)


def springs_word(count: int) -> str:
    """How many springs."""
    return counted(count, _tr("{count} spring"), _tr("{count} springs"))


def counts_told(understood: Understood) -> str:
    """What was understood, in numbers: "16 springs, 2 heights, 32 readings"."""
    heights = counted(len(heights_of(understood)), _tr("{count} height"), _tr("{count} heights"))
    readings = counted(understood.count, _tr("{count} reading"), _tr("{count} readings"))
    return ", ".join((springs_word(len(understood.springs)), heights, readings))


def heights_of(understood: Understood) -> tuple[float, ...]:
    """The heights that springs were read at, m, the tallest first."""
    found = {round(reading.height, SAME_HEIGHT) for spring in understood.springs for reading in spring.readings}
    return tuple(sorted(found, reverse=True))


def heights_told(understood: Understood, style: Style, most: int = 10) -> str:
    """The heights in the units on show."""
    heights = heights_of(understood)
    told = [quantity(height, Kind.LENGTH, style) for height in heights[:most]]
    if len(heights) > most:
        told.append(_tr("{count} more").format(count=len(heights) - most))
    if not told:
        return ""
    return _tr("Heights: {heights}.").format(heights=", ".join(told))


def first_told(understood: Understood, most: int = 4) -> str:
    """The first spring in the words of the printout, so that one look at the slip shows whether it is right."""
    spring = next((spring for spring in understood.springs if spring.readings), None)
    if spring is None:
        return ""
    told = [_reading_told(reading) for reading in spring.readings[:most]]
    if len(spring.readings) > most:
        told.append(_tr("{count} more").format(count=len(spring.readings) - most))
    return _tr("The first is spring {spring}: {readings}.").format(spring=spring.id, readings="; ".join(told))


def _reading_told(reading: PrintedReading) -> str:
    load, height = (text.replace(" ", "\u00a0") for text in (reading.load_text, reading.height_text))
    told = _tr("{load} at {height}").format(load=load, height=height)
    return " ".join(filter(None, (reading.part, told, reading.direction)))


def style_of(column: Column, otherwise: Style) -> Style:
    """The family of units that a column is printed in, by its unit."""
    kind = KIND_OF.get(column.meaning)
    return otherwise if kind is None or column.unit is None else unit_of(kind, column.unit).style


def quantity(value: float, kind: Kind, style: Style) -> str:
    """A value with its unit, in the units on show."""
    told = tell(value, kind, style)
    return f"{told.number}\u00a0{told.unit}"


def form_told(understood: Understood) -> str:
    """How the printout is written: separator, decimals, encoding."""
    grid = understood.grid
    told = [_tr("decimal point") if understood.decimal is Decimal.POINT else _tr("decimal comma")]
    if grid.separator is not None:
        told.insert(0, _tr("columns parted by {signs}").format(signs=separator_word(grid.separator)))
    if grid.encoding:
        told.append(grid.encoding.upper().removesuffix("-SIG"))
    text = ", ".join(told)
    return f"{text[:1].upper()}{text[1:]}."


def column_title(column: Column) -> str:
    """A column by its number and header: "Column 3, F (lbf)"."""
    title = _tr("Column {number}").format(number=column.place + 1)
    header = " ".join(column.header.split())
    if len(header) > LONGEST_TITLE:
        header = f"{header[: LONGEST_TITLE - 1]}…"
    return f"{title}, {header}" if header else title


def columns_title(columns: Sequence[Column]) -> str:
    """Several columns by their numbers: "Columns 2 to 11", "Columns 2, 5"; one by its header too."""
    if len(columns) == 1:
        return column_title(columns[0])
    numbers = [column.place + 1 for column in columns]
    if numbers == list(range(numbers[0], numbers[-1] + 1)) and len(numbers) > 2:
        return _tr("Columns {first} to {last}").format(first=numbers[0], last=numbers[-1])
    return _tr("Columns {numbers}").format(numbers=", ".join(map(str, numbers)))


class Lack(Enum):
    """What a column needs before its numbers can be read."""

    HEIGHT = "height"
    UNIT = "unit"


def lacking(column: Column, *, one_height: bool) -> Lack | None:
    """What a column lacks.

    Args:
        column: as it is understood.
        one_height: whether each column of loads has a height of its own: a row is a spring.
    """
    if column.meaning in KIND_OF and column.unit is None:
        return Lack.UNIT
    return Lack.HEIGHT if one_height and column.meaning is Meaning.LOAD and column.height is None else None


def lack_told(lacks: Lack) -> str:
    """What to do about it."""
    if lacks is Lack.UNIT:
        return _tr("Choose the unit of these numbers above the column.")
    return _tr("Type the height of these loads above the column.")


def column_told(column: Column, style: Style) -> str:
    """What a column is read as, as a sentence; "" where its doubt says so."""
    if column.meaning is Meaning.NOTHING:
        return "" if column.why else _tr("This column is not read.")
    told = meaning_word(column.meaning).lower()
    told = f"{column.part} {told}".strip() if column.part else told
    if column.unit:
        told = _tr("{what} ({unit})").format(what=told, unit=column.unit)
    if column.height is not None:
        told = _tr("{what} at {height}").format(
            what=told, height=quantity(column.height, Kind.LENGTH, style_of(column, style))
        )
    return _tr("Read as {what}.").format(what=told)


def problems_place(places: Sequence[tuple[int | None, int | None]]) -> str:
    """Where one and the same problem stands: "row 12, column 3 and 19 rows more"."""
    told = place_told(*places[0])
    if len(places) == 1:
        return told
    return _tr("{place} and {more} more like it").format(place=told, more=len(places) - 1)


def place_told(row: int | None, column: int | None) -> str:
    """Where something stands: "row 12, column 3"."""
    told = [_tr("row {row}").format(row=row)] if row else []
    return ", ".join([*told, _tr("column {column}").format(column=column)] if column else told)


def name_of(grid: Grid) -> str:
    """What a printout is called: its file, or that it was pasted."""
    return grid.name or _tr("Pasted text")
