"""The workbook as it is written: sheets with one header row, plain text, formulas with their values, named cells."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any, BinaryIO

from loadbench.analysis.figure import FigureKind, Plain
from loadbench.report.plain_text import ACTIVE_STARTS, cell_text
from loadbench.units import Kind, Style, display_unit, to_display

DASH = "\u2013"
MARK = ("LoadBench", "workbook 1")
"""The custom property by which a workbook of ours is known again."""

INK, QUIET, INPUT_FILL, HEAD_FILL, LINE = "#20262C", "#5A636C", "#E8F0F6", "#F4F2EE", "#8A9097"
LEVEL_INKS = {"clear": "#1D6F52", "watch": "#8A5A00", "stop": "#B02A1A", "unknown": "#5B6573"}
PLACES = {Kind.LENGTH: ("0.0000", "0.000"), Kind.FORCE: ("0.0", "0.0"), Kind.RATE: ("0.0", "0.00")}

LINE_HEIGHT = 15.0
MOST_LINES = 27
"""A row can't be taller than 409 points."""
LETTERS_PER_WIDTH = 1.0
"""Letters that fit one unit of a column's width, with words kept whole."""

_FORMATS: dict[str, dict[str, Any]] = {
    "text": {"text_wrap": True},
    "quoted": {"text_wrap": True, "quote_prefix": True},
    "head": {"bold": True, "text_wrap": True, "bg_color": HEAD_FILL, "bottom": 1, "bottom_color": LINE},
    "quiet": {"font_color": QUIET, "text_wrap": True, "align": "left", "indent": 1},
    "unit": {"font_color": QUIET, "align": "left", "indent": 1},
    "note": {"font_color": QUIET},
    "number": {"align": "right"},
}


class Book:
    """A workbook on its way to a stream. Numbers stand in the everyday units of one style."""

    def __init__(self, stream: BinaryIO, style: Style) -> None:
        import xlsxwriter

        options = {
            "in_memory": True,
            "strings_to_formulas": False,
            "strings_to_urls": False,
            "strings_to_numbers": False,
            "nan_inf_to_errors": False,
        }
        self.style = style
        self.workbook: Any = xlsxwriter.Workbook(stream, options)
        self.workbook.set_custom_property(*MARK)
        self.workbook.set_properties({"title": "LoadBench workbook"})
        self.workbook.set_calc_mode("auto")
        self._formats: dict[tuple[str, str], Any] = {}
        self._names: dict[str, str] = {}

    def sheet(self, name: str, columns: Sequence[tuple[str, float]], *, upright: bool = False) -> Sheet:
        """A new sheet with its header row: frozen, repeated in print, fitted to the page's width.

        Args:
            name: of the sheet.
            columns: header and width, in characters, of each column.
            upright: portrait instead of landscape.

        Returns:
            The sheet, its next row the first under the header.
        """
        made = Sheet(self, self.workbook.add_worksheet(name), name)
        for column, (head, width) in enumerate(columns):
            made.at.set_column(column, column, width)
            made.widths[column] = width
            made.text(0, column, head, "head")
        made.at.freeze_panes(1, 0)
        made.at.repeat_rows(0)
        made.at.fit_to_pages(1, 0)
        made.at.set_paper(1 if self.style is Style.INCH_POUND else 9)
        if not upright:
            made.at.set_landscape()
        made.at.set_footer("&LLoadBench: &A&RPage &P of &N")
        made.row = 1
        return made

    def define(self, name: str, where: str) -> str:
        """Name a cell or range; the same name twice is a defect of ours.

        Args:
            name: letters, digits and underscores, with an underscore in it so that it is no cell address.
            where: such as "'Job'!$D$4".

        Returns:
            The name.
        """
        key = name.lower()
        if key in self._names:
            raise ValueError(f"two cells named {name}")
        self._names[key] = where
        self.workbook.define_name(name, f"={where}")
        return name

    def named(self, name: str) -> bool:
        """Whether a name is taken."""
        return name.lower() in self._names

    def where(self, name: str) -> str:
        """The address that a name stands for."""
        return self._names[name.lower()]

    def format(self, look: str, places: str = "") -> Any:
        """A cell's format: its look ("text", "head", "number", "input", ...) and the pattern of its number."""
        if (look, places) not in self._formats:
            own = {"valign": "top", "font_color": INK, "font_size": 10} | _FORMATS.get(look, {})
            if look == "input":
                own |= {"bg_color": INPUT_FILL, "border": 1, "border_color": LINE}
            if places:
                own |= {"num_format": places}
            self._formats[look, places] = self.workbook.add_format(own)
        return self._formats[look, places]

    def shown(self, value: float | None, kind: FigureKind) -> float | None:
        """An SI value as it stands in a cell; None where it is unknown or no finite number."""
        if value is None or not math.isfinite(value):
            return None
        return to_display(value, kind, self.style) if isinstance(kind, Kind) else float(value)

    def unit(self, kind: FigureKind | None) -> str:
        """The unit of the cells that hold such values."""
        return display_unit(kind, self.style) if isinstance(kind, Kind) else ""

    def places(self, kind: FigureKind | None) -> str:
        """The number pattern for such values."""
        if kind is Plain.SHARE:
            return "0.0 %"
        if not isinstance(kind, Kind):
            return "0.0###"
        return PLACES.get(kind, ("0.0###", "0.0###"))[self.style is Style.METRIC]

    def per_metre(self) -> float:
        """How many of a cell's lengths make a metre."""
        return to_display(1.0, Kind.LENGTH, self.style)


class Sheet:
    """One sheet; `row` is the next row to write."""

    def __init__(self, book: Book, at: Any, name: str) -> None:
        self.book = book
        self.at = at
        self.name = name
        self.row = 0
        self.widths: dict[int, float] = {}
        self._lines: dict[int, int] = {}

    def text(self, row: int, column: int, text: str | None, look: str = "text") -> None:
        """Write plain text; nothing in it is taken for a formula, a number or a link."""
        clean = cell_text(text or "")
        if not clean:
            return
        look = "quoted" if look == "text" and clean.startswith(ACTIVE_STARTS) else look
        self.at.write_string(row, column, clean, self.book.format(look))
        if look not in ("unit", "note"):
            self._make_room(row, column, clean)

    def _make_room(self, row: int, column: int, text: str) -> None:
        """Make a row as tall as its wrapped text: not every spreadsheet does so by itself."""
        width = max(4.0, self.widths.get(column, 8.0) * LETTERS_PER_WIDTH)
        lines = sum(max(1, math.ceil(len(part) / width)) for part in text.split("\n"))
        lines = min(lines, MOST_LINES)
        if lines > self._lines.get(row, 1):
            self._lines[row] = lines
            self.at.set_row(row, LINE_HEIGHT * lines)

    def texts(self, row: int, texts: Sequence[str | None], first: int = 0, look: str = "text") -> None:
        """Write plain texts side by side."""
        for place, text in enumerate(texts):
            self.text(row, first + place, text, look)

    def number(self, row: int, column: int, value: float | None, places: str = "", look: str = "number") -> None:
        """Write a number; nothing for None (an input), a dash where a result cannot be had."""
        if value is not None and math.isfinite(value):
            self.at.write_number(row, column, value, self.book.format(look, places))
        elif look == "input":
            self.at.write_blank(row, column, None, self.book.format(look, places))
        else:
            self.at.write_string(row, column, DASH, self.book.format(look, places))

    def formula(self, row: int, column: int, formula: str, value: float | None, places: str = "") -> None:
        """Write a formula with its value; a dash where it has none."""
        known = value is not None and math.isfinite(value)
        cached = value if known else DASH
        self.at.write_formula(row, column, f"={formula}", self.book.format("number", places), cached)

    def cell(self, row: int, column: int) -> str:
        """The absolute address of a cell of this sheet, with the sheet."""
        from xlsxwriter.utility import xl_rowcol_to_cell

        return f"'{self.name}'!{xl_rowcol_to_cell(row, column, row_abs=True, col_abs=True)}"

    def span(self, first: int, last: int, column: int) -> str:
        """The absolute address of part of a column of this sheet, with the sheet."""
        return f"{self.cell(first, column)}:{self.cell(last, column).split('!')[1]}"

    def define(self, name: str, row: int, column: int) -> str:
        """Name a cell of this sheet."""
        return self.book.define(name, self.cell(row, column))
