"""A grid of cells understood: layout, header rows, decimals, what each column holds, and the readings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from loadbench.errors import Place, Problem
from loadbench.job.kept_parts import Recipe
from loadbench.readings.printout.cells import Decimal, Grid
from loadbench.readings.printout.decimals import Numbers, decide
from loadbench.readings.printout.drafts import Draft, drafts_of, layout_of
from loadbench.readings.printout.guidance import ColumnGuide, Guidance, matched
from loadbench.readings.printout.headers import KIND_OF
from loadbench.readings.printout.layout import Table, table_of
from loadbench.readings.printout.meaning import Column, Layout, Meaning, Understood
from loadbench.readings.printout.numbers_in import is_missing
from loadbench.readings.printout.recipe_words import guidance_of
from loadbench.readings.printout.spring_names import heading
from loadbench.readings.printout.springs_in import Reader, SpringsIn
from loadbench.readings.printout.unit_rows import doubt_sizes, set_heights, set_units, unit_problems
from loadbench.units import Kind, Style
from loadbench.units.entry import unit_of

MOST_KEPT = 2_000_000
"""The most bytes of a printout's text that a job keeps."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Outline:
    """All that is understood of a printout but its rows."""

    table: Table
    drafts: list[Draft]
    decimal: Decimal
    layout: Layout
    missing: tuple[ColumnGuide, ...]


def understood(grid: Grid, *, style: Style | None = None, recipe: Recipe | None = None) -> Understood:
    """Understand a printout.

    Args:
        grid: its cells.
        style: the job's units, assumed where the printout states none; None: what has no unit is told, not read.
        recipe: how this tester's printouts are read; overrides what it states.

    Returns:
        What was understood, with everything that is doubtful or wrong and its place. Never raises for what is printed.
    """
    guidance = Guidance() if recipe is None else guidance_of(recipe)
    return understood_with(grid, style, guidance, None if recipe is None else recipe.name)


def outline(grid: Grid, style: Style | None, guidance: Guidance) -> Outline:
    """Understand a printout's columns.

    Args:
        grid: its cells.
        style: units to assume; None for none.
        guidance: what is said beforehand.

    Returns:
        The table and its columns.
    """
    table = table_of(grid, guidance)
    guides = matched(guidance.columns, table.headers, by_header=guidance.by_header)
    drafts = drafts_of(table, guides, guidance.layout)
    set_units(table, drafts, style)
    decided = decide(_numbers(table, drafts), grid.separator)
    if guidance.decimal is None:
        for draft in drafts:
            if draft.place in decided.doubts and not draft.said:
                draft.doubt(decided.doubts[draft.place])
    decimal = guidance.decimal or decided.decimal
    set_heights(table, drafts, style, decimal)
    layout = guidance.layout or layout_of(drafts)
    return Outline(table=table, drafts=drafts, decimal=decimal, layout=layout, missing=guides.missing)


def _numbers(table: Table, drafts: Sequence[Draft]) -> list[Numbers]:
    """The distinct numbers of the columns that hold quantities, and the heights in the headers."""
    found = []
    for draft in drafts:
        kind, place = KIND_OF.get(draft.meaning), draft.place
        if kind is not None:
            cells = {row.cells[place] for row in table.body if place < len(row.cells)}
            kept = tuple(cell for cell in cells if not is_missing(cell))
            found.append(Numbers(place=place, kind=kind, unit=draft.unit, cells=kept))
        if draft.number:
            over = (draft.number,)
            found.append(Numbers(place=place, kind=Kind.LENGTH, unit=draft.number_unit, cells=over, printed_over=True))
    return found


def understood_with(grid: Grid, style: Style | None, guidance: Guidance, recipe: str | None) -> Understood:
    """Understand a printout with what is said of it beforehand; otherwise as `understood`.

    Args:
        grid: its cells.
        style: units to assume; None for none.
        guidance: what is said.
        recipe: the name of the recipe that says it.

    Returns:
        What was understood.
    """
    found = outline(grid, style, guidance)
    file = grid.name or None
    table, drafts = found.table, found.drafts
    rows = Reader(table, drafts, found.decimal, file).read()
    doubt_sizes(drafts, rows.values)
    _tell_rows(drafts, rows)
    problems = [
        *guidance.problems,
        *_not_found(found.missing, table, file),
        *_no_table(grid, table, drafts, file),
        *_beside(drafts, table, file),
        *unit_problems(table, drafts, file),
        *rows.problems,
        *_too_long(grid, file),
    ]
    if not problems and not any(spring.readings for spring in rows.springs):
        place = Place(file=file, row=table.header_row)
        expected = "springs with heights and loads"
        problems.append(Problem(what="There is no reading in this printout.", expected=expected, place=place))
    return Understood(
        grid=grid,
        layout=found.layout,
        decimal=found.decimal,
        style=style or _style_of(drafts),
        columns=tuple(column_of(draft) for draft in drafts),
        springs=rows.springs,
        problems=tuple(problems),
        header_row=table.header_row,
        unit_row=table.unit_row,
        first_row=table.first_row,
        recipe=recipe,
    )


def column_of(draft: Draft) -> Column:
    """A column as it is shown.

    Args:
        draft: the column, finished.

    Returns:
        What was understood of it.
    """
    return Column(
        place=draft.place,
        header=draft.header,
        meaning=draft.meaning,
        part=draft.part,
        height=draft.height if draft.meaning is Meaning.LOAD else None,
        unit=draft.unit if draft.meaning in KIND_OF else None,
        assumed=draft.assumed,
        sure=draft.sure,
        why=" ".join(dict.fromkeys(draft.doubts)),
    )


def _tell_rows(drafts: Sequence[Draft], rows: SpringsIn) -> None:
    """Say beside the columns which rows were left out, and which directions were guessed."""
    if rows.summed_up:
        numbers = [number for number, _ in rows.summed_up]
        words = ", ".join(dict.fromkeys(word for _, word in rows.summed_up))
        shown = ", ".join(map(str, numbers[:8])) + (" and more" if len(numbers) > 8 else "")
        told = next((draft for draft in drafts if draft.meaning is Meaning.SPRING), drafts[0])
        told.doubts.append(f"Left out, as no springs: {words} (row {shown}).")
    _tell_twice(drafts, rows)
    ways = next((draft for draft in drafts if draft.meaning is Meaning.DIRECTION), None)
    if rows.unsure_directions and ways is not None:
        said = " and ".join(f'"{word}"' for word in rows.unsure_directions)
        ways.doubt(f"{said}: down is read as loading, up as unloading.")


def _tell_twice(drafts: Sequence[Draft], rows: SpringsIn) -> None:
    """Say beside the springs' column which few of them come again: a number may have been typed twice."""
    named = next((draft for draft in drafts if draft.meaning is Meaning.SPRING), None)
    again = {spring.id: next((each.row for each in spring.readings if each.repeat > 1), 0) for spring in rows.springs}
    twice = {name: row for name, row in again.items() if row}
    if named is None or not twice or 2 * len(twice) > len(again) or any(d.meaning is Meaning.REPEAT for d in drafts):
        return
    shown = ", ".join(f"{name} (row {row})" for name, row in list(twice.items())[:5])
    more = " and more" if len(twice) > 5 else ""
    named.doubt(f"Only some springs come again: {shown}{more}. They count as repeats; is a number typed twice?")


def _style_of(drafts: Sequence[Draft]) -> Style:
    """The style of most of the printout's own units."""
    units = [unit_of(kind, draft.unit) for draft in drafts if draft.unit and (kind := KIND_OF.get(draft.meaning))]
    metric = sum(unit.style is Style.METRIC for unit in units)
    return Style.METRIC if 2 * metric > len(units) else Style.INCH_POUND


def _not_found(missing: Sequence[ColumnGuide], table: Table, file: str | None) -> list[Problem]:
    """The columns of a recipe that this printout does not have."""
    names = [f'"{guide.header}"' if guide.header else f"number {(guide.place or 0) + 1}" for guide in missing]
    if not names:
        return []
    what = f"The recipe's column {names[0]} is" if len(names) == 1 else f"The recipe's columns {', '.join(names)} are"
    place = Place(file=file, row=table.header_row)
    return [Problem(what=f"{what} not in this printout.", expected="the headers that the recipe names", place=place)]


def _beside(drafts: Sequence[Draft], table: Table, file: str | None) -> list[Problem]:
    """That a second table to the right is not read."""
    first = next((draft for draft in drafts if draft.beside), None)
    if first is None:
        return []
    place = Place(file=file, row=table.header_row, column=first.place + 1)
    what = f'A second table begins with the column "{first.header}"; its springs are not read.'
    return [Problem(what=what, expected="one table, the springs one under the other", place=place)]


def _no_table(grid: Grid, table: Table, drafts: Sequence[Draft], file: str | None) -> list[Problem]:
    """Why there are no readings at all, where the table itself says so."""
    place = Place(file=file, row=table.header_row)
    if not grid.rows:
        return [Problem(what="The printout is empty.", expected="springs with heights and loads", place=place)]
    across = [draft for draft in drafts if draft.header and heading(draft.header)]
    if len(across) > 1:
        what = "Each column holds one spring here."
        return [Problem(what=what, expected="a row for each spring or each reading: turn the table", place=place)]
    if not any(draft.meaning is Meaning.LOAD for draft in drafts):
        what = "No column holds loads, by its header." if any(table.headers) else "The table has no header."
        return [Problem(what=what, expected="headers such as Spring, Height (in), Load (lbf)", place=place)]
    return []


def _too_long(grid: Grid, file: str | None) -> list[Problem]:
    """That the job will not keep all of the text."""
    if len(grid.text) <= MOST_KEPT // 4:
        return []
    size = len(grid.text.encode("utf-8", "replace"))
    if size <= MOST_KEPT:
        return []
    what = f"The printout has {size / 1e6:.1f} MB of text; a job keeps the first 2 MB of it. All readings are read."
    return [Problem(what=what, expected="a printout of at most 2 MB", place=Place(file=file))]
