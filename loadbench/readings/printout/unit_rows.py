"""The unit of each column: its header's, the unit row's, a unit column's, its cells', a line's above, the job's."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from loadbench.errors import InputError, Place, Problem
from loadbench.readings.printout.cells import Decimal, Row
from loadbench.readings.printout.drafts import Draft
from loadbench.readings.printout.headers import KIND_OF, note_of_word, read_header, unit_of_word
from loadbench.readings.printout.layout import Table
from loadbench.readings.printout.meaning import Meaning
from loadbench.readings.printout.numbers_in import Cell, Converter, is_missing, plain_number
from loadbench.readings.printout.words import UNIT, folded
from loadbench.units import Kind, Style, everyday_unit, example

SAMPLED = 400
_NOUNS = {Kind.LENGTH: "heights", Kind.FORCE: "loads", Kind.RATE: "rates"}
_USUAL = {Kind.LENGTH: (0.005, 0.2), Kind.FORCE: (2.0, 2e4)}  # m and N at a valve (common practice)
_PLAIN_NUMBER = re.compile(r"\d+(?:[.,]\d+)?|[.,]\d+")
SIZES = {"in": (0.4, 4.0), "mm": (10.0, 100.0)}
_CLAUSES = re.compile(r"[,;|\t]| and | und ")


@dataclass(frozen=True, slots=True, kw_only=True)
class Stated:
    """A unit named once for the printout: its text, and where."""

    unit: str
    why: str


def units_above(rows: Sequence[Row]) -> dict[Kind, Stated]:
    """The units that lines above the table state, such as "Heights in mm, loads in N" or "Units: in, lbf".

    Args:
        rows: above the table.

    Returns:
        One for each kind that is stated, and only once.
    """
    found: dict[Kind, set[str]] = {}
    where: dict[Kind, int] = {}
    for row in rows:
        line = " , ".join(cell for cell in row.cells if cell)
        clauses = [read_header(clause.strip(" :.")) for clause in _CLAUSES.split(line)]
        of_units = any(folded(word.strip(" :=.,")) in UNIT for word in line.split()[:3])
        for clause in clauses:
            fits = KIND_OF.get(clause.meaning) if clause.meaning else None
            for kind, unit in clause.units.items():
                if not clause.unknown and not clause.number and (of_units or kind is fits):
                    found.setdefault(kind, set()).add(unit)
                    where[kind] = row.number
    return {
        kind: Stated(unit=next(iter(units)), why=f"The unit stands in row {where[kind]}.")
        for kind, units in found.items()
        if len(units) == 1
    }


def _stated(table: Table) -> dict[Kind, Stated]:
    """The units stated once for the table: above it, or by the label of its row of heights."""
    stated = units_above(table.above)
    if (label := table.label.units.get(Kind.LENGTH)) is not None:
        stated[Kind.LENGTH] = Stated(unit=label, why="")
    return stated


def set_units(table: Table, drafts: Sequence[Draft], style: Style | None) -> None:
    """Find the unit of each column of heights, loads and rates.

    Args:
        table: the printout's table.
        drafts: its columns; their units and doubts are set.
        style: units to assume where none is stated; None: none is assumed.
    """
    stated = _stated(table)
    for draft in drafts:
        kind = KIND_OF.get(draft.meaning)
        if kind is not None:
            _column_unit(table, draft, kind, stated)
    for draft in drafts:
        kind = KIND_OF.get(draft.meaning)
        if kind is not None and draft.unit is None:
            _missing_unit(table, drafts, draft, kind, style)


def set_heights(table: Table, drafts: Sequence[Draft], style: Style | None, decimal: Decimal) -> None:
    """Read the heights that stand in headers, with their units.

    Args:
        table: the printout's table.
        drafts: its columns; the heights of loads are set.
        style: units to assume where none is stated; None: none is assumed.
        decimal: the mark before decimals.
    """
    stated = _stated(table)
    for draft in drafts:
        if draft.meaning is Meaning.LOAD and draft.heights is None and draft.height is None and draft.number:
            _own_height(table, drafts, draft, stated, style, decimal)


def _column_unit(table: Table, draft: Draft, kind: Kind, stated: dict[Kind, Stated]) -> None:
    """What the file states for a column; a recipe's unit stays, a contradiction is told."""
    above = table.units[draft.place]
    row = unit_of_word(above) if above else None
    file = draft.cell.units.get(kind) or (row[1] if row and row[0] is kind else None)
    if draft.unit is not None:
        if file is not None and file != draft.unit and draft.by_recipe:
            draft.doubt(f"The printout says {file} here; it is read as {draft.unit}, as the recipe says.")
        return
    if row and row[0] is not kind and file is None:
        draft.doubt(f'The unit row says "{above}", which measures something else.')
    draft.unit = file
    if file is not None:
        if row and (note := note_of_word(above, kind)) and not draft.cell.note:
            draft.doubt(f"{note}.")
    elif kind in stated:
        draft.unit = stated[kind].unit
        draft.doubts += [stated[kind].why] if stated[kind].why else []


def _cells(table: Table, draft: Draft) -> list[str]:
    cells = (row.cells for row in table.body[:SAMPLED] if sum(map(bool, row.cells)) > 1)
    return [each[draft.place] for each in cells if draft.place < len(each) and not is_missing(each[draft.place])]


def _units_in_cells(cells: Sequence[str], kind: Kind) -> tuple[Counter[str], int]:
    """The units that cells carry themselves, and how many cells are bare numbers."""
    units: Counter[str] = Counter()
    bare = 0
    for cell in cells:
        word = _word(cell)
        known = unit_of_word(word) if word else None
        if known and known[0] is kind:
            units[known[1]] += 1
        elif word == "":
            bare += 1
    return units, bare


def _missing_unit(table: Table, drafts: Sequence[Draft], draft: Draft, kind: Kind, style: Style | None) -> None:
    """No unit is stated for a column: its cells' own, a column of units, the other columns', the style's."""
    units, bare = _units_in_cells(_cells(table, draft), kind)
    if units and not bare:
        draft.unit = units.most_common(1)[0][0]
        return
    if _in_a_column(table, drafts, kind):
        return
    others = {each.unit for each in drafts if KIND_OF.get(each.meaning) is kind and each.unit and not each.assumed}
    if len(others) == 1:
        draft.unit = others.pop()
        draft.doubt(f"Its unit is not stated; {draft.unit} is taken from the other {_NOUNS[kind]}.")
    elif style is not None:
        draft.unit, draft.assumed = everyday_unit(kind, style), True
        draft.doubt(f"Its unit is not stated; {draft.unit} is assumed from the job's units.")
    elif kind is Kind.LENGTH and (unit := unit_by_size(_cells(table, draft))) is not None:
        draft.unit = unit
        draft.doubt(f"Its unit is not stated; numbers of this size can be heights in {unit} only.")


def unit_by_size(numbers: Sequence[str]) -> str | None:
    """The only unit in which all of some numbers can be heights of valve springs; None where none or both can.

    Args:
        numbers: as printed.

    Source:
        common practice: valve springs stand between 0.4 and 4 in, 10 and 100 mm, loaded or free.
    """
    sizes = [float(text.replace(",", ".")) for text in numbers if _PLAIN_NUMBER.fullmatch(text)]
    if not sizes or len(sizes) < len(numbers):
        return None
    return next((unit for unit, (least, most) in SIZES.items() if all(least <= size <= most for size in sizes)), None)


def _in_a_column(table: Table, drafts: Sequence[Draft], kind: Kind) -> bool:
    """Whether a column of units states units of a kind."""
    columns = [draft for draft in drafts if draft.meaning is Meaning.UNIT]
    known = [unit_of_word(cell) for column in columns for cell in _cells(table, column)]
    return any(unit is not None and unit[0] is kind for unit in known)


def _own_height(
    table: Table,
    drafts: Sequence[Draft],
    draft: Draft,
    stated: dict[Kind, Stated],
    style: Style | None,
    decimal: Decimal,
) -> None:
    """The height in a header, with its unit."""
    unit = draft.number_unit
    others = {each.number_unit for each in drafts if each.number_unit}
    others |= {each.unit for each in drafts if each.meaning is Meaning.HEIGHT and each.unit and not each.assumed}
    row = unit_of_word(table.units[draft.place]) if table.units[draft.place] else None
    if unit is None and Kind.LENGTH in stated:
        unit = stated[Kind.LENGTH].unit
    elif unit is None and row and row[0] is Kind.LENGTH:
        unit = row[1]
    elif unit is None and len(others) == 1:
        unit = others.pop()
        draft.doubt(f"The unit of its height is not stated; {unit} is taken from the other heights.")
    elif unit is None and style is not None:
        unit, draft.assumed = everyday_unit(Kind.LENGTH, style), True
        draft.doubt(f"The unit of its height is not stated; {unit} is assumed from the job's units.")
    elif unit is None:
        unit = unit_by_size([each.number for each in drafts if each.number])
        if unit is not None:
            draft.doubt(f"The unit of its height is not stated; a number of this size can be a height in {unit} only.")
    read = Converter(Kind.LENGTH, unit, decimal).read(draft.number)
    other = Decimal.COMMA if decimal is Decimal.POINT else Decimal.POINT
    if isinstance(read, InputError) and unit is not None:
        turned = Converter(Kind.LENGTH, unit, other).read(
            draft.number
        )  # headers keep their mark when a tester's is set
        read = turned if isinstance(turned, Cell) else read
    if isinstance(read, Cell):
        draft.height, draft.height_text = read.value, read.text
    elif isinstance(read, InputError) and unit is not None:
        draft.doubt(read.what)


def unit_problems(table: Table, drafts: Sequence[Draft], file: str | None) -> list[Problem]:
    """What keeps whole columns from being read: no unit, no height.

    Args:
        table: the printout's table.
        drafts: its columns.
        file: for the places.

    Returns:
        A problem for each such column.
    """
    found = []
    for draft in drafts:
        place = Place(file=file, row=table.header_row, column=draft.place + 1)
        kind = KIND_OF.get(draft.meaning)
        name = f'"{draft.header}"' if draft.header else f"number {draft.place + 1}"
        without = kind is not None and draft.unit is None and not _in_a_column(table, drafts, kind)
        if kind is not None and without and any(_word(cell) == "" for cell in _cells(table, draft)):
            what = f"There is no unit for the {_NOUNS[kind]} in column {name}."
            expected = f"{_NOUNS[kind]} with their unit, such as {example(kind, None)}, or the job's units"
            found.append(Problem(what=what, expected=expected, place=place))
        if draft.meaning is Meaning.LOAD and draft.heights is None and draft.height is None:
            found.append(_no_height(draft, name, place))
    return found


def _word(cell: str) -> str | None:
    """What follows the number in a cell, "" for a bare one; None where the cell is no number."""
    number = plain_number(cell, Decimal.POINT) or plain_number(cell, Decimal.COMMA)
    return None if number is None else number[1]


def _no_height(draft: Draft, name: str, place: Place) -> Problem:
    if draft.number and draft.number_unit is None and not draft.doubts:
        what = f"There is no unit for the height {draft.number} in the header of column {name}."
        return Problem(what=what, expected=f"a height such as {example(Kind.LENGTH, None)}", place=place)
    why = f" {draft.doubts[-1]}" if draft.number and draft.doubts else ""
    return Problem(
        what=f"The height of the loads in column {name} is not known.{why}",
        expected="the height in its header, a row of heights, or a column of heights",
        place=place,
    )


def doubt_sizes(drafts: Sequence[Draft], values: dict[int, list[float]]) -> None:
    """Note columns whose numbers are no usual ones of a valve spring in their unit; nothing is converted.

    Args:
        drafts: the columns; their doubts are set.
        values: what was read in each column, SI, by place.
    """
    for draft in drafts:
        kind = KIND_OF.get(draft.meaning)
        own = [draft.height] if draft.height is not None else []
        for held, numbers in ((kind, values.get(draft.place, [])), (Kind.LENGTH, own)):
            if held in _USUAL and numbers:
                middle = sorted(numbers)[len(numbers) // 2]
                least, most = _USUAL[held]
                if not least <= middle <= most:
                    unit = draft.unit if held is kind else "its unit"
                    draft.doubt(f"These would be unusual {_NOUNS[held]} for valve springs in {unit}.")
