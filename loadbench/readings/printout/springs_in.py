"""From the rows of a table to springs with their readings; a bad cell costs its own reading and is told."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from loadbench.errors import InputError, Problem
from loadbench.readings.printout.cells import Decimal, Row
from loadbench.readings.printout.drafts import Draft
from loadbench.readings.printout.faults_in import Faults
from loadbench.readings.printout.headers import KIND_OF, read_header, unit_of_word
from loadbench.readings.printout.layout import Table
from loadbench.readings.printout.meaning import Meaning, PrintedReading, PrintedSpring
from loadbench.readings.printout.numbers_in import Cell, Converter, NoUnit, is_missing
from loadbench.readings.printout.spring_names import heading, is_name, names_column
from loadbench.readings.printout.words import direction_meant, part_meant, sums_up
from loadbench.units import Kind

SAME_HEIGHT = 2e-5
"""Two heights closer than this, m, are one height: below the step of any spring tester."""


@dataclass(slots=True)
class _Draft:
    """A spring on its way. `counts` holds how often a height was read, by part, direction and height."""

    id: str
    row: int
    readings: list[PrintedReading] = field(default_factory=list)
    counts: dict[tuple[str, str, int], int] = field(default_factory=dict)
    mark: str = ""
    rate: float | None = None

    def counted(self, part: str, direction: str, height: float) -> int:
        """The how-manieth reading at a height this is; heights that no tester tells apart are one."""
        step = round(height / SAME_HEIGHT)
        for near in (step, step - 1, step + 1):
            before = self.counts.get((part, direction, near))
            if before is not None:
                self.counts[part, direction, near] = before + 1
                return before + 1
        self.counts[part, direction, step] = 1
        return 1

    def finished(self) -> PrintedSpring:
        """The spring as it was printed."""
        return PrintedSpring(
            id=self.id, readings=tuple(self.readings), mark=self.mark, printed_rate=self.rate, row=self.row
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class SpringsIn:
    """What the rows held: the springs, the faults, the numbers of each column (SI), the rows that were no springs."""

    springs: tuple[PrintedSpring, ...]
    problems: tuple[Problem, ...]
    values: dict[int, list[float]]
    summed_up: tuple[tuple[int, str], ...]
    unsure_directions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Load:
    place: int
    part: str
    heights: int | None
    height: float | None
    height_text: str
    units: tuple[int, ...]
    height_units: tuple[int, ...]
    direction: str


class Reader:
    """Reads the rows of one table, once."""

    def __init__(self, table: Table, drafts: Sequence[Draft], decimal: Decimal, file: str | None) -> None:
        self._table, self._drafts, self._decimal = table, drafts, decimal
        one = {meaning: self._place_of(meaning) for meaning in Meaning}
        self._spring, self._part, self._repeat = one[Meaning.SPRING], one[Meaning.PART], one[Meaning.REPEAT]
        self._named_by = [draft.place for draft in drafts if draft.meaning is Meaning.SPRING]
        self._name_before = [""] * len(self._named_by)
        self._mark, self._direction, self._rate = one[Meaning.MARK], one[Meaning.DIRECTION], one[Meaning.RATE]
        self._loads = [self._load(draft) for draft in drafts if draft.meaning is Meaning.LOAD]
        self._converters = {
            draft.place: Converter(kind, draft.unit, decimal)
            for draft in drafts
            if (kind := KIND_OF.get(draft.meaning)) is not None
        }
        self._by_unit: dict[tuple[Kind, str], Converter] = {}
        in_columns = any(load.heights is not None for load in self._loads)
        self._carries = in_columns or self._part is not None or self._repeat is not None
        self._springs: dict[str, _Draft] = {}
        self._faults = Faults(file, drafts)
        self._values: dict[int, list[float]] = {draft.place: [] for draft in drafts}
        self._summed: list[tuple[int, str]] = []
        self._ways: dict[str, None] = {}
        self._current: _Draft | None = None
        self._current_part = self._heading_part = ""
        self._elsewhere = False

    def _place_of(self, meaning: Meaning) -> int | None:
        return next((draft.place for draft in self._drafts if draft.meaning is meaning), None)

    def _load(self, draft: Draft) -> _Load:
        heights = None if draft.height is not None else draft.heights
        own = () if heights is None else self._units_for(heights)
        return _Load(
            draft.place,
            draft.part,
            heights,
            draft.height,
            draft.height_text,
            self._units_for(draft.place),
            own,
            draft.cell.direction,
        )

    def _units_for(self, place: int) -> tuple[int, ...]:
        """The columns of units, the one right behind a column first; none for a column that states its own."""
        if self._drafts[place].unit is not None and not self._drafts[place].assumed:
            return ()
        columns = [draft.place for draft in self._drafts if draft.meaning is Meaning.UNIT]
        return tuple(sorted(columns, key=lambda each: (each < place, abs(each - place))))

    def read(self) -> SpringsIn:
        """Read all rows.

        Returns:
            The springs in the order in which they were printed, and what was not right.
        """
        if self._spring is None:
            missing = ("",) * self._table.width
            for row in self._table.above:
                self._heads(row, (*row.cells, *missing))
        width, printed = self._table.width, self._table.printed
        for row in self._table.body:
            cells = row.cells
            if cells in printed:
                self._elsewhere = self._elsewhere and not any(map(names_column, cells))
            else:
                self._row(row, cells if len(cells) == width else self._fitted(row))
        return SpringsIn(
            springs=tuple(spring.finished() for spring in self._springs.values()),
            problems=self._faults.told(),
            values=self._values,
            summed_up=tuple(self._summed),
            unsure_directions=tuple(self._ways),
        )

    def _fitted(self, row: Row) -> tuple[str, ...]:
        """A row that is longer or shorter than the header, made as long; told where it is a row of data."""
        cells, width = row.cells, self._table.width
        here, extra = len(cells), any(cells[width:])
        lacks = any(draft.meaning in KIND_OF for draft in self._drafts[here:width])
        if sum(map(bool, cells)) > 1 and (lacks or extra):
            what = f"This row has {here} cells where the header has {width}."
            what += " The cells beyond the header are not read." if extra else ""
            self._faults.tell(row, min(here, width), what, f"{width} cells in each row", None)
        return (*cells[:width], *("",) * (width - here))

    def _row(self, row: Row, cells: tuple[str, ...]) -> None:
        named = self._name_in(cells)
        if self._is_summary(row, cells, named):
            return
        if sum(map(bool, cells)) < 4 and self._heads(row, cells):
            return
        if named and named not in self._springs and names_column(named):
            self._heads_elsewhere(row, cells)
            return
        spring = None if self._elsewhere else self._spring_of(row, cells, named)
        if spring is None:
            return
        self._current = spring
        part = self._part_of(cells, carried=named == "")
        direction = "" if self._direction is None else self._direction_of(row, cells[self._direction])
        if direction is None:
            return
        if self._mark is not None and not spring.mark and not is_missing(cells[self._mark]):
            spring.mark = cells[self._mark]
        if self._rate is not None and spring.rate is None:
            self._rate_of(row, cells, spring)
        for load in self._loads:
            if cells[load.place]:
                self._reading(row, cells, spring, load, load.part or part, load.direction or direction)

    def _name_in(self, cells: tuple[str, ...]) -> str:
        """The spring's name in a row; of several columns that name it together a blank one goes on from above."""
        told = [cells[place] for place in self._named_by]
        if len(told) > 1 and any(told):
            told = [cell or before for cell, before in zip(told, self._name_before, strict=True)]
            self._name_before = told
        return " ".join(cell for cell in told if cell)

    def _is_summary(self, row: Row, cells: tuple[str, ...], named: str) -> bool:
        first = named or next((cell for cell in cells if cell), "")
        for cell in (first, *(cells[place] for place in (self._repeat, self._part) if place is not None)):
            if cell and not cell[0].isdigit() and sums_up(cell):
                self._summed.append((row.number, cell))
                return True
        return False

    def _heads(self, row: Row, cells: tuple[str, ...]) -> bool:
        """Whether a row is a heading or a remark, not readings; a heading begins a spring."""
        told = [cell for cell in cells if cell]
        found = heading(" ".join(told), bare=self._spring is None and self._carries and len(told) == 1)
        if found is not None and self._spring is None:
            self._current, self._heading_part = self._begun(found[0], row), found[1]
            return True
        if len(told) != 1:
            return False
        if self._spring is None or not cells[self._spring]:
            return not any(cells[load.place][:1].isdigit() for load in self._loads)
        name = found[0] if found is not None else told[0]
        if is_name(name) and (self._carries or name[-1].isdigit()):
            self._current = self._begun(name, row)
        return True

    def _begun(self, name: str, row: Row) -> _Draft:
        spring = self._springs.get(name)
        if spring is None:
            spring = self._springs[name] = _Draft(name, row.number)
        return spring

    def _spring_of(self, row: Row, cells: tuple[str, ...], named: str) -> _Draft | None:
        """The spring that a row belongs to; None where that is not known, and told."""
        if named and (known := self._springs.get(named)) is not None:
            return known
        if named and named != '"' and not is_missing(named):
            return self._begun(named, row)
        if (
            self._current is not None
            and (self._carries or named == '"')
            and (self._spring is not None or self._springs)
        ):
            return self._current
        if self._spring is not None:
            if any(not is_missing(cells[load.place]) for load in self._loads):
                what = "This row has no spring number."
                self._faults.tell(row, self._spring, what, "the number of the spring", None)
            return None
        return self._unnamed(row, cells)

    def _heads_elsewhere(self, row: Row, cells: tuple[str, ...]) -> None:
        """A header amid the rows: the rows beneath are read only where it says the same as the first."""
        said = [read_header(cell) for cell in cells]
        told = [(cell.meaning, cell.number, cell.number_unit, cell.part, cell.units) for cell in said]
        first = [(cell.meaning, cell.number, cell.number_unit, cell.part, cell.units) for cell in self._table.cells]
        self._elsewhere = told != first
        if self._elsewhere:
            what = "A header with other columns or heights stands here; the rows beneath are not read."
            self._faults.tell(row, self._spring or 0, what, "one header, or a printout for each", None)

    def _unnamed(self, row: Row, cells: tuple[str, ...]) -> _Draft | None:
        """A spring of a printout that does not number its springs."""
        if not any(cells[load.place][:1].isdigit() for load in self._loads):
            return None
        if not self._springs:
            way = "all readings count as one spring" if self._carries else "they are numbered in their order"
            what = f"Nothing says which spring a row belongs to; {way}."
            self._faults.tell(row, 0, what, "a column of spring numbers", None)
        return self._begun("1" if self._carries else str(len(self._springs) + 1), row)

    def _part_of(self, cells: tuple[str, ...], *, carried: bool) -> str:
        if self._part is None:
            return self._heading_part
        said = cells[self._part]
        if said and not is_missing(said):
            self._current_part = part_meant(said)
        elif not carried:
            self._current_part = ""
        return self._current_part

    def _direction_of(self, row: Row, said: str) -> str | None:
        """The direction of a row; None where the word is not known, which costs the row and is told."""
        if is_missing(said):
            return ""
        found = direction_meant(said)
        if found is None:
            what = f'"{said[:40]}" is no direction that is known; the row is not read.'
            self._faults.tell(row, self._direction or 0, what, "loading or unloading", self._direction)
            return None
        if not found[1]:
            self._ways[said] = None
        return found[0]

    def _rate_of(self, row: Row, cells: tuple[str, ...], spring: _Draft) -> None:
        place = self._rate or 0
        read = self._converters[place].read(cells[place])
        if isinstance(read, Cell):
            spring.rate = read.value
            self._values[place].append(read.value)
        elif isinstance(read, InputError) and not isinstance(read, NoUnit):
            self._faults.tell(row, place, read.what, read.expected, place)

    def _converter(self, place: int, kind: Kind, cells: tuple[str, ...], unit_places: tuple[int, ...]) -> Converter:
        for each in unit_places:
            known = unit_of_word(cells[each]) if cells[each] else None
            if known is not None and known[0] is kind:
                return self._by_unit.setdefault(known, Converter(kind, known[1], self._decimal))
        return self._converters[place]

    def _quantity(
        self, row: Row, cells: tuple[str, ...], place: int, units: tuple[int, ...], kind: Kind
    ) -> Cell | None:
        """A cell's quantity; None where there is none or it cannot be read, which is told."""
        converter = self._converter(place, kind, cells, units) if units else self._converters[place]
        read = converter.read(cells[place])
        if isinstance(read, InputError):
            if units or not isinstance(read, NoUnit):  # a column without a unit is told once, not here
                self._faults.tell(row, place, read.what, read.expected, place)
            return None
        return read

    def _reading(
        self, row: Row, cells: tuple[str, ...], spring: _Draft, load: _Load, part: str, direction: str
    ) -> None:
        carried = self._quantity(row, cells, load.place, load.units, Kind.FORCE)
        if carried is None:
            return
        height, text = load.height, load.height_text
        if load.heights is not None:
            if is_missing(cells[load.heights]):
                what = f"The load {carried.text} has no height."
                self._faults.tell(row, load.heights, what, "the height at which it was read", load.heights)
                return
            at = self._quantity(row, cells, load.heights, load.height_units, Kind.LENGTH)
            if at is None:
                return
            height, text = at
            self._values[load.heights].append(height)
        if height is None:
            return
        self._values[load.place].append(carried.value)
        spring.readings.append(
            PrintedReading(
                part=part,
                height=height,
                load=carried.value,
                height_text=text,
                load_text=carried.text,
                repeat=spring.counted(part, direction, height),
                row=row.number,
                column=row.columns[load.place] if load.place < len(row.columns) else load.place + 1,
                direction=direction,
            )
        )
