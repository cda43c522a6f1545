"""The workbook as it is written: sheets with one header row, plain text, formulas with their values, named cells."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any, BinaryIO

from loadbench.analysis.figure import FigureKind, Plain
from loadbench.report.book.letters import BODY, FONT, height_of, lines_of
from loadbench.report.book.looks import INDENTED, INK, INPUT_FILL, LINE, LOOKS, UNWRAPPED
from loadbench.report.plain_text import ACTIVE_STARTS, cell_text
from loadbench.units import Kind, Style, display_unit, to_display

DASH = "\u2013"
MARK = ("LoadBench", "workbook 1")
"""The custom property by which a workbook of ours is known again."""

PLACES = {
    Kind.LENGTH: ("0.0000", "0.000"), Kind.FORCE: ("0.0", "0.0"), Kind.RATE: ("0.0", "0.00"),
    Kind.STRESS: ("0.0", "0"), Kind.FREQUENCY: ("0.0", "0.0"), Kind.MASS: ("0.0", "0.0"),
}  # fmt: skip

ROW_PIXELS = 18
ROW_POINTS = ROW_PIXELS * 0.75
MARGINS = {"left": 0.5, "right": 0.5, "top": 0.6, "bottom": 0.7}
INDENT, PADDING = 1.5, 0.7
"""What an indent takes of a column's width, and what two columns made one gain."""
MOST_DECIMALS, DIGITS = 9, 6
MOST_IN_A_CORNER = 48
"""Letters of a footer's corner; a format holds 255 of all three, and a doubled & counts twice."""


def tidy(value: float | None) -> str:
    """The number pattern that shows a value with six digits or so, without idle zeros; "" for a whole number."""
    if value is None or not math.isfinite(value) or value == round(value):
        return ""
    decimals = DIGITS - 1 - math.floor(math.log10(abs(value)))
    return "0.0" + "#" * (min(max(decimals, 1), MOST_DECIMALS) - 1)


def footer(title: str, date: str) -> str:
    """The foot of every printed page: the job, the sheet, the day of its record and the page, so that none goes astray.

    Args:
        title: of the job.
        date: of its record as typed; never the clock's, so that a job printed twice is the same twice.

    Returns:
        Text with the spreadsheet's own codes, in which a plain & is doubled.
    """
    of, day = (" ".join(cell_text(each).split()).replace("&", "&&") for each in (shortened(title), shortened(date)))
    stood = f"{day}, page" if day else "Page"
    name = f"LoadBench: {of}" if of else "LoadBench"
    return f"&L{name}&C&A&R{stood} &P of &N"


def shortened(text: str) -> str:
    """A text that finds room in a corner of a page."""
    return text if len(text) <= MOST_IN_A_CORNER else f"{text[: MOST_IN_A_CORNER - 1]}\u2026"


class Book:
    """A workbook on its way to a stream. Numbers stand in the everyday units of one style."""

    def __init__(self, stream: BinaryIO, style: Style, *, title: str = "", date: str = "") -> None:
        import xlsxwriter

        options = {
            "in_memory": True,
            "strings_to_formulas": False,
            "strings_to_urls": False,
            "strings_to_numbers": False,
            "nan_inf_to_errors": False,
            "default_format_properties": {"font_name": FONT, "font_size": BODY, "font_scheme": False},
            "default_row_height": ROW_PIXELS,
        }
        self.style = style
        self.footer = footer(title, date)
        self.workbook: Any = xlsxwriter.Workbook(stream, options)
        self.workbook.set_custom_property(*MARK)
        self.workbook.set_properties({"title": "LoadBench workbook"})
        self.workbook.set_calc_mode("auto")
        self._formats: dict[tuple[str, str, bool], Any] = {}
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
        made = self._added(name, [width for _, width in columns])
        for column, (head, _) in enumerate(columns):
            made.heads[column] = head
            made.text(0, column, head, "head")
        made.at.freeze_panes(1, 0)
        made.at.repeat_rows(0)
        made.at.fit_to_pages(1, 0)
        if not upright:
            made.at.set_landscape()
        made.row = 1
        return made

    def page(self, name: str, widths: Sequence[float]) -> Sheet:
        """A new sheet that is one upright page and no table.

        Args:
            name: of the sheet.
            widths: of its columns, in characters.

        Returns:
            The sheet, its next row the first.
        """
        made = self._added(name, widths)
        made.at.hide_gridlines(2)
        made.at.fit_to_pages(1, 1)
        made.at.center_horizontally()
        return made

    def _added(self, name: str, widths: Sequence[float]) -> Sheet:
        made = Sheet(self, self.workbook.add_worksheet(name), name)
        for column, width in enumerate(widths):
            made.at.set_column(column, column, width)
            made.widths[column] = width
        made.at.set_paper(1 if self.style is Style.INCH_POUND else 9)
        made.at.set_margins(**MARGINS)
        made.at.set_footer(self.footer)
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

    def format(self, look: str, places: str = "", *, quoted: bool = False) -> Any:
        """A cell's format: its look, the pattern of its number, whether it stays a text when it is typed over."""
        key = (look, places, quoted)
        if key not in self._formats:
            own = {"valign": "top", "font_color": INK, "font_size": BODY} | LOOKS.get(look, {})
            if look == "input":
                own |= {"bg_color": INPUT_FILL, "border": 1, "border_color": LINE}
            if places:
                own |= {"num_format": places}
            if quoted:
                own |= {"quote_prefix": True}
            self._formats[key] = self.workbook.add_format(own)
        return self._formats[key]

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
        self.heads: dict[int, str] = {}
        self._heights: dict[int, float] = {}

    def text(self, row: int, column: int, text: str | None, look: str = "text") -> None:
        """Write plain text; nothing in it is taken for a formula, a number or a link."""
        clean = cell_text(text or "")
        if not clean:
            return
        self.at.write_string(row, column, clean, self.book.format(look, quoted=clean.startswith(ACTIVE_STARTS)))
        if look in INDENTED:
            self._head_as(column, "head indented")
        if look not in UNWRAPPED:
            self.make_room(row, self.height_for(clean, self.widths.get(column, 8.0), look))

    def across(self, row: int, first: int, last: int, text: str | None, look: str = "text") -> None:
        """Write plain text over several cells of a row, made one; only on a page that is no table."""
        clean = cell_text(text or "")
        if first == last or not clean:
            self.text(row, first, clean, look)
            return
        made = self.book.format(look, quoted=clean.startswith(ACTIVE_STARTS))
        self.at.merge_range(row, first, row, last, "", made)
        self.at.write_string(row, first, clean, made)
        self.make_room(row, self.height_for(clean, self.width_of(first, last), look))

    def width_of(self, first: int, last: int) -> float:
        """The width of some columns together, the padding between them too."""
        return sum(self.widths[column] for column in range(first, last + 1)) + (last - first) * PADDING

    def height_for(self, text: str, width: float, look: str = "text") -> float:
        """The height of a row with such a text, points."""
        own = LOOKS.get(look, {})
        size, bold = own.get("font_size", BODY), own.get("bold", False)
        inner = width - (INDENT if look in INDENTED else 0.0)
        lines = lines_of(text, inner, size, bold=bold)
        return ROW_POINTS if lines == 1 and size == BODY else height_of(lines, size)

    def gap(self, points: float) -> None:
        """Leave an empty row of some points, and go on below it."""
        self._heights[self.row] = points
        self.at.set_row(self.row, points)
        self.row += 1

    def blanks(self, row: int, first: int, last: int, look: str) -> None:
        """Give empty cells of a row a look."""
        for column in range(first, last + 1):
            self.at.write_blank(row, column, None, self.book.format(look))

    def make_room(self, row: int, height: float) -> None:
        """Make a row at least so tall, points."""
        if height > self._heights.get(row, ROW_POINTS):
            self._heights[row] = height
            self.at.set_row(row, height)

    @property
    def height(self) -> float:
        """The height of all rows so far, points."""
        return sum(self._heights.get(row, ROW_POINTS) for row in range(self.row))

    def _head_as(self, column: int, look: str) -> None:
        """Set a column's head as its cells are: the first that is written says how."""
        head = self.heads.pop(column, None)
        if head is not None:
            self.text(0, column, head, look)

    def texts(self, row: int, texts: Sequence[str | None], first: int = 0, look: str = "text") -> None:
        """Write plain texts side by side."""
        for place, text in enumerate(texts):
            self.text(row, first + place, text, look)

    def number(self, row: int, column: int, value: float | None, places: str = "", look: str = "number") -> None:
        """Write a number; nothing for None (an input), a dash where a result cannot be had."""
        self._head_as(column, "head number")
        if value is not None and math.isfinite(value):
            self.at.write_number(row, column, value, self.book.format(look, places))
        elif look == "input":
            self.at.write_blank(row, column, None, self.book.format(look, places))
        else:
            self.at.write_string(row, column, DASH, self.book.format(look, places))

    def formula(
        self, row: int, column: int, formula: str, value: float | str | None, places: str = "", look: str = ""
    ) -> None:
        """Write a formula with its value; a dash where it has none, a text as a note unless a look is given."""
        self._head_as(column, "head indented" if look in INDENTED else "head number")
        known = isinstance(value, str) or (value is not None and math.isfinite(value))
        look = look or ("aside" if isinstance(value, str) else "number")
        self.at.write_formula(row, column, f"={formula}", self.book.format(look, places), value if known else DASH)

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
