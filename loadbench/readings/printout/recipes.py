"""A tester's recipe from a printout that was understood, and a printout read again with the user's corrections."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from types import EllipsisType

from loadbench.job.kept_parts import PrintoutColumn, Recipe
from loadbench.readings.printout.cells import Decimal
from loadbench.readings.printout.guidance import FOUND, ColumnGuide, Guidance, RowNumber
from loadbench.readings.printout.headers import KIND_OF, unit_of_word
from loadbench.readings.printout.layout import Table
from loadbench.readings.printout.meaning import Column, Layout, Meaning, Understood
from loadbench.readings.printout.reading import Outline, column_of, outline, understood_with
from loadbench.units import Kind, Style, everyday_unit, parse, to_display

_DIGITS = (6, 9, 12, 15, 17)


def recipe_of(understood: Understood, name: str, tester: str = "") -> Recipe:
    """Keep what was decided about a printout, for the next one of the same tester.

    Args:
        understood: the printout as it was understood and corrected.
        name: of the recipe.
        tester: which tester it is for.

    Returns:
        The recipe: each column by its header and its place, with its meaning, part, height and unit.
    """
    texts = _height_texts(understood)
    kept = [column for column in understood.columns if column.header or column.meaning is not Meaning.NOTHING]
    return Recipe(
        name=name,
        tester=tester or None,
        layout=understood.layout.value,
        separator=None if understood.grid.separator is None else understood.grid.separator.value,
        decimal=understood.decimal.value,
        header_row=understood.header_row,
        first_row=understood.first_row,
        unit_row=understood.unit_row,
        columns=tuple(
            PrintoutColumn(
                header=column.header or None,
                place=column.place,
                meaning=column.meaning.value,
                part=column.part or None,
                height=None if column.height is None else texts[column.place],
                unit=column.unit,
            )
            for column in kept
        ),
    )


def _height_texts(understood: Understood) -> dict[int, str]:
    """The heights of load columns by place: as printed where they are still those that were read."""
    style = _given_style(understood)
    own = outline(understood.grid, style, replace(_rows(understood, style), decimal=understood.decimal))
    read = {(draft.place, draft.height): draft.height_text for draft in own.drafts}
    heights = {column.place: column.height for column in understood.columns if column.height is not None}
    return {
        place: read.get((place, height)) or height_text(height, understood.style) for place, height in heights.items()
    }


def height_text(height: float, style: Style) -> str:
    """A height that nobody typed, as an entry: with as few digits as give it back exactly.

    Args:
        height: m.
        style: whose unit it takes.

    Returns:
        Text such as "1.9 in" or "48.26 mm".
    """
    unit = everyday_unit(Kind.LENGTH, style)
    shown = to_display(height, Kind.LENGTH, style)
    texts = [f"{shown:.{digits}g} {unit}" for digits in _DIGITS]
    return next((text for text in texts if parse(text, Kind.LENGTH, None).value == height), texts[-1])


def corrected(  # noqa: PLR0913 - each is one thing that a user can correct
    understood: Understood,
    columns: Sequence[Column],
    *,
    layout: Layout | None = None,
    decimal: Decimal | None = None,
    header_row: int | EllipsisType | None = ...,
    unit_row: int | EllipsisType | None = ...,
    first_row: int | EllipsisType | None = ...,
    style: Style | None = None,
) -> Understood:
    """Read the same printout again with the user's corrections; earlier corrections stay.

    Args:
        understood: as it was understood so far.
        columns: the columns as they should be; those that are not given stay as they were.
        layout: None: as it was corrected so far, else as the columns say.
        decimal: None: as it was.
        header_row: row number, None for no header; left out: as it was, and the rows beneath with it.
        unit_row: the same for the row of units.
        first_row: the same for the first row of data.
        style: the job's units, to assume where none is stated; None: those that were assumed so far, if any.

    Returns:
        The printout understood anew. A column that is given as sure is taken at its word.
    """
    grid, style = understood.grid, style or _given_style(understood)
    now = {column.place: column for column in understood.columns} | {column.place: column for column in columns}
    rows = _rows(understood, style)
    before = outline(grid, style, replace(rows, decimal=understood.decimal))
    guidance = Guidance(
        layout=layout or (None if understood.layout is _layout(understood) else understood.layout),
        decimal=decimal or (None if outline(grid, style, rows).decimal is understood.decimal else understood.decimal),
        header_row=rows.header_row if header_row is ... else header_row,
        unit_row=_row(unit_row, rows.unit_row, header_row),
        first_row=_row(first_row, rows.first_row, header_row),
        columns=tuple(_guides(now.values(), before, understood.style)),
    )
    return understood_with(grid, style, guidance, understood.recipe)


def _given_style(understood: Understood) -> Style | None:
    """The style that was assumed for some column; None where none was."""
    return understood.style if any(column.assumed for column in understood.columns) else None


def _rows(understood: Understood, style: Style | None) -> Guidance:
    """The rows that were corrected so far; those that are found by themselves are left to be found."""

    def table(rows: Guidance) -> Table:
        return outline(understood.grid, style, rows).table

    rows = Guidance()
    if table(rows).header_row != understood.header_row:
        rows = replace(rows, header_row=understood.header_row)
    if table(rows).unit_row != understood.unit_row:
        rows = replace(rows, unit_row=understood.unit_row)
    if table(rows).first_row != understood.first_row:
        rows = replace(rows, first_row=understood.first_row)
    return rows


def _row(said: int | EllipsisType | None, before: RowNumber, header: int | EllipsisType | None) -> RowNumber:
    if said is not ...:
        return said
    return before if header is ... else FOUND


def _layout(understood: Understood) -> Layout:
    """The layout that the columns say by themselves."""
    loads = [column for column in understood.columns if column.meaning is Meaning.LOAD]
    heights = [column for column in understood.columns if column.meaning is Meaning.HEIGHT]
    one = len(heights) == 1 and all(load.height is None for load in loads)
    return Layout.ROW_A_READING if one else Layout.ROW_A_SPRING


def _guides(columns: Iterable[Column], before: Outline, style: Style) -> Iterator[ColumnGuide]:
    """The columns that are not as they would be read without being told."""
    found = {draft.place: draft for draft in before.drafts}
    for column in columns:
        draft = found.get(column.place)
        if draft is None or column == column_of(draft) or (_same(column, column_of(draft)) and not column.sure):
            continue
        text = ""
        if column.height is not None:
            own = draft.height_text if draft.height == column.height else ""
            text = own or height_text(column.height, style)
        yield ColumnGuide(
            place=column.place,
            header=column.header,
            meaning=column.meaning,
            part=column.part,
            height=column.height,
            height_text=text,
            unit=_known_unit(column),
        )


def _same(one: Column, other: Column) -> bool:
    """Whether two columns hold the same, whatever is doubtful about them."""
    return (one.meaning, one.part, one.height, one.unit) == (other.meaning, other.part, other.height, other.unit)


def _known_unit(column: Column) -> str | None:
    """The unit of a column as the grammar writes it; None where it does not measure what the column holds."""
    known = unit_of_word(column.unit) if column.unit else None
    return known[1] if known and known[0] is KIND_OF.get(column.meaning) else None
