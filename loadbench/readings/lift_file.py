"""A lift table from a file or pasted text, as a job keeps it: what was read, what was guessed, what is wrong where."""

from __future__ import annotations

import math
import os
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from loadbench.arrays import Floats
from loadbench.errors import InputError, Place, Problem, UnreadableFileError
from loadbench.motion.lift_table import FEWEST, lift_table, table_faults
from loadbench.readings import lift_columns as c
from loadbench.readings.lift_cells import quantity, short, turn_in
from loadbench.readings.lift_opening import Progress, lobe_grid, pasted_lobe_grid
from loadbench.readings.lift_tidy import moved, share_of, with_minus, without_remarks
from loadbench.readings.printout.cells import Decimal, Grid, Row
from loadbench.readings.printout.decimals import Numbers, decide
from loadbench.readings.printout.numbers_in import plain_number
from loadbench.units import Kind, Style, display_unit

MOST = 15_000
"""Rows; a turn of the crank twice round by 0.05 degrees has 14,401."""
MOST_TOLD = 20
LONGEST_NAME = 80
TURN = 360.0
TURN_SLACK = 1e-3
WANTED = "two columns of numbers: angles and lifts"
LIFT_UNITS = ("in", "thou", "mm")
FINE_STEP = math.radians(1.02)
"""Coarser readings show a kink and a plain bend alike: none is named."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wishes:
    """What the user says of a table beforehand; None: as the table itself says.

    `lift_unit` is for cells without a unit of their own, `style` the job's units, for a table that states none.
    """

    style: Style | None = None
    lift_unit: str | None = None
    angle_column: int | None = None
    lift_column: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LiftFile:
    """A lift table as it was read.

    `rows` are (angle, lift) as cam.profile keeps them, `places` where each stood in the file, `angles` rad as stated
    and `lifts` m, both (rows,). `profile_angle` "cam" or "crank" and `profile_side` "lobe" or "valve" are None where
    the table does not say. `columns` are all columns of numbers; `angle_column` and `lift_column` those read, from 0.
    `unit_stated`: the table itself says the lifts' unit. `told` says what was guessed and left out, `problems` what
    cannot be read.
    """

    grid: Grid
    rows: tuple[tuple[str, str], ...] = ()
    places: tuple[int, ...] = ()
    angles: Floats
    lifts: Floats
    profile_angle: str | None = None
    profile_side: str | None = None
    profile_name: str = ""
    headers: tuple[Row, ...] = ()
    columns: tuple[c.Column, ...] = ()
    angle_column: int = 0
    lift_column: int = 1
    lift_unit: str | None = None
    unit_stated: bool = False
    told: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()

    @property
    def usable(self) -> bool:
        """Whether every row was read."""
        return bool(self.rows) and not self.problems

    def faults(self, profile_angle: str | None = None) -> tuple[Problem, ...]:
        """What is wrong with the values, each with its row in the file.

        Args:
            profile_angle: "cam" or "crank"; None: as the table says, else the cam's unless they cover over a turn.

        Returns:
            The faults that a job tells at these rows; none while rows cannot be read.
        """
        if not self.usable:
            return ()
        found = table_faults(self._of_cam(profile_angle), self.lifts, self.places.__getitem__)
        rows = {row.number: row for row in self.grid.rows} if found else {}
        return tuple(replace(each, place=self._cell(each, rows.get(each.place.row or 0))) for each in found)

    def _of_cam(self, profile_angle: str | None) -> Floats:
        return self.angles * (0.5 if (profile_angle or self.profile_angle) == "crank" else 1.0)

    def _cell(self, fault: Problem, row: Row | None) -> Place:
        place = self.angle_column if "angle" in fault.what or "covers" in fault.what else self.lift_column
        column = None if row is None or place >= len(row.columns) else row.columns[place]
        return Place(file=self.grid.name or None, row=fault.place.row, column=column)

    def outcome(self, profile_angle: str | None = None) -> Outcome | None:
        """What a job makes of the table.

        Args:
            profile_angle: as for faults().

        Returns:
            What is done to it, and what the smoothing leaves; None for a table with faults.
        """
        if not self.usable or self.faults(profile_angle):
            return None
        from loadbench.motion.smoothing import smooth

        table = lift_table(self._of_cam(profile_angle), self.lifts, self.places.__getitem__)
        smoothed = smooth(table.angles, table.lifts)
        rows = [self.places[int(place)] for place in table.places]
        worst = int(np.argmax(np.abs(smoothed.residuals)))
        fine = float(np.median(np.diff(table.angles))) <= FINE_STEP
        return Outcome(
            # that the angles fall is told of the file already
            told=tuple(line for line in table.told if "turned round" not in line),
            rms=smoothed.rms,
            greatest=float(abs(smoothed.residuals[worst])),
            row=rows[worst],
            kinks=tuple(sorted(rows[place] for place in smoothed.kinks)) if fine else (),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What a job makes of a lift table: what is done to it in words, and what smoothing leaves of the readings.

    `rms` and `greatest` m are those of reading less spline, `row` where the greatest stands in the file; `kinks` are
    rows at which the lift bends sharply or a reading stands off.
    """

    told: tuple[str, ...]
    rms: float
    greatest: float
    row: int
    kinks: tuple[int, ...]


def read_lift_file(
    path: str | os.PathLike[str],
    wishes: Wishes | None = None,
    *,
    sheet: str | None = None,
    progress: Progress | None = None,
) -> LiftFile:
    """Read a lift table from a file: text in any usual encoding and with any usual separator, or an .xlsx workbook.

    Args:
        path: the file; what it holds decides how it is read, not its name.
        wishes: what is said beforehand.
        sheet: of a workbook; None: the first whose headers name angles and lifts, else the first with rows of numbers.
        progress: told the share done; it may raise Cancelled.

    Returns:
        The table, with everything that was guessed, left out or cannot be read.

    Raises:
        UnreadableFileError: missing, empty, too large, no text and no workbook, or without a table of angles and lifts.
        Cancelled: by `progress`.
    """
    return lift_table_in(lobe_grid(path, sheet=sheet, progress=progress), wishes)


def read_lift_text(text: str, wishes: Wishes | None = None) -> LiftFile:
    """Read a pasted lift table; otherwise as `read_lift_file`."""
    return lift_table_in(pasted_lobe_grid(text), wishes)


def lift_table_in(grid: Grid, wishes: Wishes | None = None) -> LiftFile:
    """Read a lift table from cells.

    Args:
        grid: the cells.
        wishes: what is said beforehand.

    Returns:
        The table.

    Raises:
        UnreadableFileError: there is no table of angles and lifts in it, or it has far too many rows.
    """
    said, grid = wishes or Wishes(), with_minus(grid)
    parts = without_remarks(c.parted(grid))
    columns = c.columns_of(parts)
    formula = next((row for row in grid.rows if any(cell.startswith("=") for cell in row.cells)), None)
    if len(columns) < 2 and formula is not None:
        what, wanted = "A formula has no stored result.", "numbers; the workbook saved by a program that reckons them"
        raise _refused(what, wanted, grid, formula.number)
    if len(columns) < 2:
        what = "There is one column of numbers only." if columns else "There is no table of numbers."
        row = parts.body[0].number if parts.body else None
        raise _refused(what, WANTED, grid, row)
    if len(parts.body) > MOST:
        raise _refused(f"There are {len(parts.body):,} rows.", f"at most {MOST:,}", grid, parts.body[MOST].number)
    return _Reading(grid, parts, columns, said).done()


def _refused(what: str, expected: str, grid: Grid, row: int | None) -> UnreadableFileError:
    return UnreadableFileError((Problem(what=what, expected=expected, place=Place(file=grid.name or None, row=row)),))


class _Reading:
    """One table on its way from cells to quantities."""

    def __init__(self, grid: Grid, parts: c.Parts, columns: Sequence[c.Column], wishes: Wishes) -> None:
        self.grid, self.parts, self.columns, self.wishes = grid, parts, tuple(columns), wishes
        self.told: list[str] = []
        self.problems: list[Problem] = []
        self.decimal = self._decimal()
        self.angle, self.lift = self._chosen()
        self.titles = c.titles_of(parts.headers)
        self.no_unit = ""  # told once, not for each row
        self.moved = 0  # decimal places, for lifts in a share of a unit

    def done(self) -> LiftFile:
        angle_unit, (lift_unit, stated) = self._angle_unit(), self._lift_unit()
        kept: list[tuple[int, str, float, str, float]] = []
        for row in self.parts.body:
            angle = self._quantity(row, self.angle, Kind.ANGLE, angle_unit)
            lift = self._quantity(row, self.lift, Kind.LENGTH, lift_unit)
            if angle is not None and lift is not None:
                kept.append((row.number, *angle, *lift))
        self._count(kept)
        angles = np.array([each[2] for each in kept], dtype=np.float64)
        turn = self._turn(angles)
        self._tell_rows(angles)
        side = c.side_of(self.lift.header, self.titles)
        return LiftFile(
            grid=self.grid,
            rows=tuple((each[1], each[3]) for each in kept),
            places=tuple(each[0] for each in kept),
            angles=angles,
            lifts=np.array([each[4] for each in kept], dtype=np.float64),
            profile_angle=turn,
            profile_side=side,
            profile_name=Path(self.grid.name).stem[:LONGEST_NAME],
            headers=self.parts.headers,
            columns=self.columns,
            angle_column=self.angle.place,
            lift_column=self.lift.place,
            lift_unit=lift_unit,
            unit_stated=stated,
            told=tuple(self.told),
            problems=tuple(self._shortened()),
        )

    # Columns

    def _decimal(self) -> Decimal:
        numbers = []
        for column in self.columns:
            cells = tuple({c.cell_of(row, column.place) for row in self.parts.body} - {""})
            # An angle is heard like a height in a header: only where no lift is sure.
            weak = column.role in ("angle", "other")
            numbers.append(Numbers(place=column.place, kind=Kind.LENGTH, unit=None, cells=cells, printed_over=weak))
        decided = decide(numbers, self.grid.separator)
        for place, doubt in decided.doubts.items():
            self.told.append(f"Column {place + 1}: {doubt}")
        return decided.decimal

    def _chosen(self) -> tuple[c.Column, c.Column]:
        by_place = {column.place: column for column in self.columns}
        angle = by_place.get(-1 if self.wishes.angle_column is None else self.wishes.angle_column)
        lift = by_place.get(-1 if self.wishes.lift_column is None else self.wishes.lift_column)
        angle = angle or self._angle_column(lift)
        lift = lift or self._lift_column(angle)
        return angle, lift

    def _angle_column(self, lift: c.Column | None) -> c.Column:
        open_ = [column for column in self.columns if column is not lift]
        named = [column for column in open_ if column.role == "angle"]
        if named:
            # beside each other, each lobe has its angles to its left
            left = [column for column in named if lift is not None and column.place < lift.place]
            found = left[-1] if left else named[0]
            if len(named) > 1:
                self._tell_several("angles", [found, *(column for column in named if column is not found)])
            return found
        unnamed = [column for column in open_ if not column.role] or open_
        one_way = [column for column in unnamed if self._runs_one_way(column.place)] or unnamed
        found = one_way[0]
        if len(one_way) > 1 and len(open_) > 2 - bool(lift) and self._counts_rows(found.place):
            self.told.append(f"Column {found.place + 1} counts the rows.")
            found = one_way[1]
        self.told.append(f"No header names the angles; column {found.place + 1} is read as the angle.")
        return found

    def _lift_column(self, angle: c.Column) -> c.Column:
        open_ = [column for column in self.columns if column is not angle]
        named = [column for column in open_ if column.role == "lift"]
        if named:
            if len(named) > 1:
                self._tell_several("lifts", named)
            return named[0]
        unnamed = [column for column in open_ if not column.role] or open_
        found = next((column for column in unnamed if column.place > angle.place), unnamed[0])
        self.told.append(f"No header names the lifts; column {found.place + 1} is read as the lift.")
        return found

    def _tell_several(self, what: str, named: Sequence[c.Column]) -> None:
        names = ", ".join(f'"{column.header}"' for column in named[1:4])
        self.told.append(f'Several columns hold {what}; "{named[0].header}" is read, not {names}.')

    def _numbers(self, place: int) -> Floats:
        found = (plain_number(c.cell_of(row, place), self.decimal) for row in self.parts.body)
        return np.array([float(number[0]) for number in found if number is not None], dtype=np.float64)

    def _runs_one_way(self, place: int) -> bool:
        steps = np.diff(self._numbers(place))
        return bool(steps.size) and bool((steps > 0).all() or (steps < 0).all())

    def _counts_rows(self, place: int) -> bool:
        numbers = self._numbers(place)
        return numbers[0] in (0.0, 1.0) and bool((np.diff(numbers) == 1).all())

    # Units

    def _angle_unit(self) -> str:
        words = c.words_in(self.angle.header)
        unit = c.angle_unit(words)
        if unit is None and not all(c.word_of(c.cell_of(row, self.angle.place)) for row in self.parts.body):
            self.told.append("No unit of the angles is stated; they are read as degrees.")
        return unit or "deg"

    def _lift_unit(self) -> tuple[str | None, bool]:
        """The unit of bare lifts, and whether the table states it."""
        share = share_of(self.lift.header)
        if share is not None and self.wishes.lift_unit is None:
            unit, self.moved = share
            if self.moved:
                self.told.append(f"The lifts stand in {10.0**-self.moved:g} {unit}; they are kept in plain {unit}.")
            return unit, True
        header = c.length_unit(self.lift.header)
        bare = not all(c.word_of(c.cell_of(row, self.lift.place)) for row in self.parts.body)
        stated = header is not None or not bare
        if self.wishes.lift_unit is not None:
            return self.wishes.lift_unit, stated
        if header is not None or not bare:
            return header, stated
        if found := c.length_unit(self.titles):
            self.told.append(f"The lifts are read as {found}, the unit that stands above the table.")
            return found, False
        if self.wishes.style is None:
            return None, False
        unit = display_unit(Kind.LENGTH, self.wishes.style)
        self.told.append(f"No unit of the lifts is stated; they are read as {unit}, the job's unit.")
        return unit, False

    # Rows

    def _quantity(self, row: Row, column: c.Column, kind: Kind, unit: str | None) -> tuple[str, float] | None:
        """A cell's text with its unit and its value; None where it cannot be read, which is a problem of its row."""
        text = c.cell_of(row, column.place)
        try:
            return quantity(
                moved(text, self.decimal, self.moved if kind is Kind.LENGTH else 0), self.decimal, kind, unit
            )
        except InputError as error:
            at = row.columns[column.place] if column.place < len(row.columns) else column.place + 1
            place = Place(file=self.grid.name or None, row=row.number, column=at)
            problem = Problem(what=error.what, expected=error.expected, place=place)
        if not (self.no_unit and problem.what == self.no_unit):
            self.problems.append(problem)
        if unit is None:
            self.no_unit = problem.what
        return None

    def _count(self, kept: Sequence[object]) -> None:
        if not self.problems and len(kept) < FEWEST:
            place = Place(file=self.grid.name or None, row=self.parts.body[-1].number)
            what = f"The table ends after {len(kept)} rows of lift."
            self.problems.append(Problem(what=what, expected=f"{FEWEST} rows or more", place=place))

    def _shortened(self) -> list[Problem]:
        if len(self.problems) <= MOST_TOLD:
            return self.problems
        more = Problem(what=f"{len(self.problems) - MOST_TOLD} more cells cannot be read.", expected=WANTED)
        return [*self.problems[:MOST_TOLD], more]

    # What the table says of itself

    def _turn(self, angles: Floats) -> str | None:
        said = c.turn_of(self.angle.header, self.titles)
        in_cells = {turn_in(c.cell_of(row, self.angle.place)) for row in self.parts.body}
        if said is None and len(in_cells) == 1:
            said = next(iter(in_cells))
        if said is not None or angles.size < 2:
            return said
        covered = float(np.degrees(np.ptp(angles)))
        if covered <= TURN + TURN_SLACK:
            return None
        self.told.append(
            f"The angles cover {covered:.6g} deg, more than a turn of the cam; they are read as the crank's."
        )
        return "crank"

    def _tell_rows(self, angles: Floats) -> None:
        if self.grid.sheet is not None and len(self.grid.sheets) > 1:
            others = [f'"{short(name)}"' for name in self.grid.sheets if name != self.grid.sheet]
            more = " and more" if len(others) > 3 else ""
            self.told.append(f'The sheet "{short(self.grid.sheet)}" is read, not {", ".join(others[:3])}{more}.')
        if angles.size > 1 and float(np.median(np.diff(angles))) < 0:
            self.told.append(
                "The angles fall from row to row; the rows are kept so, and turned round where they are used."
            )
        if self.parts.aside:
            shown = ", ".join(f'{row.number} "{short(" ".join(row.cells))}"' for row in self.parts.aside[:3])
            more = " and more" if len(self.parts.aside) > 3 else ""
            self.told.append(f"Left out, as they are no readings: row {shown}{more}.")
