"""A recipe as it stands in a document, read: its words, its heights, its units, and what of it cannot be used."""

from __future__ import annotations

from loadbench.errors import InputError, Place, Problem
from loadbench.job.kept_parts import PrintoutColumn, Recipe
from loadbench.job.kinds import DECIMALS, LAYOUTS, MEANINGS, Words
from loadbench.readings.printout.cells import Decimal
from loadbench.readings.printout.guidance import FOUND, ColumnGuide, Guidance, RowNumber
from loadbench.readings.printout.headers import KIND_OF
from loadbench.readings.printout.meaning import Layout, Meaning
from loadbench.units import Kind, parse
from loadbench.units.table import WORDS, unit_key


class _Faults:
    """What of a recipe cannot be used."""

    def __init__(self, recipe: Recipe) -> None:
        self.name = recipe.name or ""
        self.problems: list[Problem] = []

    def tell(self, field: str, what: str, expected: str) -> None:
        said = f'Recipe "{self.name}": {what}' if self.name else f"The recipe: {what}"
        self.problems.append(Problem(what=said, expected=expected, place=Place(field=field)))


def guidance_of(recipe: Recipe) -> Guidance:
    """What a recipe says.

    Args:
        recipe: as it stands in a job or on the shelf.

    Returns:
        The guidance; what cannot be used of the recipe is told in it and left to be found.
    """
    faults = _Faults(recipe)
    layout, decimal = (
        _word(recipe.layout, LAYOUTS, "layout", faults),
        _word(recipe.decimal, DECIMALS, "decimal", faults),
    )
    columns = [_column(column, place, faults) for place, column in enumerate(recipe.columns)]
    by_header = any(column.header for column in recipe.columns)
    header: RowNumber = FOUND if recipe.header_row is None else recipe.header_row
    unit: RowNumber = FOUND if recipe.unit_row is None else recipe.unit_row
    first: RowNumber = FOUND if recipe.first_row is None else recipe.first_row
    if not by_header and recipe.header_row is None and recipe.columns:
        header = None  # made from a printout without headers
    if by_header and recipe.header_row is None:
        unit = first = FOUND  # they count from the header
    return Guidance(
        layout=None if layout is None else Layout(layout),
        decimal=None if decimal is None else Decimal(decimal),
        header_row=header,
        unit_row=unit,
        first_row=first,
        columns=tuple(column for column in columns if column is not None),
        by_header=by_header,
        problems=tuple(faults.problems),
    )


def _word(text: str | None, words: Words, field: str, faults: _Faults) -> str | None:
    if text is None:
        return None
    word = words.read(text)
    if word is None:
        faults.tell(field, f'"{text}" is not one of the words here.', ", ".join(words.words))
    return word


def _column(column: PrintoutColumn, index: int, faults: _Faults) -> ColumnGuide | None:
    field = f"columns.{index}"
    word = _word(column.meaning, MEANINGS, f"{field}.meaning", faults)
    place = column.place if column.place is not None and column.place >= 0 else None
    if word is None or (place is None and not column.header):
        return None
    meaning, height = Meaning(word), None
    if column.height is not None:
        try:
            height = parse(column.height, Kind.LENGTH, None).value
        except InputError as error:
            faults.tell(f"{field}.height", f"{error.what}.", error.expected)
    return ColumnGuide(
        place=place,
        header=column.header or "",
        meaning=meaning,
        part=(column.part or "").strip(),
        height=height,
        height_text=column.height if height is not None and column.height else "",
        unit=_unit(column.unit, KIND_OF.get(meaning), f"{field}.unit", faults),
    )


def _unit(text: str | None, kind: Kind | None, field: str, faults: _Faults) -> str | None:
    if text is None or kind is None:
        return None
    known = WORDS[kind].get(unit_key(text))
    if known is None:
        faults.tell(field, f'the unit "{text}" is not known here.', "a unit such as mm, in, N or lbf")
        return None
    return known.text
