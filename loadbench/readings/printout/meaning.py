"""What was understood of a printout: its layout, the meaning of each column, and the readings, each with its place."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from loadbench.errors import Problem
from loadbench.readings.printout.cells import Decimal, Grid
from loadbench.units import Style


class Layout(StrEnum):
    """What one row of the printout holds."""

    ROW_A_SPRING = "row-a-spring"
    ROW_A_READING = "row-a-reading"


class Meaning(StrEnum):
    """What a column holds."""

    SPRING = "spring"
    PART = "part"
    HEIGHT = "height"
    LOAD = "load"
    RATE = "rate"
    REPEAT = "repeat"
    DIRECTION = "direction"
    MARK = "mark"
    UNIT = "unit"
    NOTHING = "nothing"


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column as it was understood.

    `place` counts from 0. `header` is what stands over it. `height`, m, is the height that a load column of a
    row-a-spring table is for. `unit` is a unit that the grammar knows, such as "lbf"; None where none was found
    (`assumed` then says which was taken, from the job's style). `sure` is False where it was guessed; `why` says what
    is doubtful, as a sentence.
    """

    place: int
    header: str
    meaning: Meaning
    part: str = ""
    height: float | None = None
    unit: str | None = None
    assumed: bool = False
    sure: bool = True
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedReading:
    """One reading as it was printed: SI values, the words it came from, and its place (row and column from 1).

    `height_text` and `load_text` are what goes into the job: the cell as printed with its unit, "1.900 in".
    `repeat` counts from 1 among the readings of one spring, part, direction and height.
    """

    part: str
    height: float
    load: float
    height_text: str
    load_text: str
    repeat: int
    row: int
    column: int
    direction: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedSpring:
    """One spring of the printout. `printed_rate`, N/m, where the tester printed one."""

    id: str
    readings: tuple[PrintedReading, ...]
    mark: str = ""
    printed_rate: float | None = None
    row: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Understood:
    """A printout read. Problems name file, row and column; a bad cell costs its reading only.

    `header_row`, `unit_row` and `first_row` are row numbers as in Grid (from 1), None where there is none.
    """

    grid: Grid
    layout: Layout
    decimal: Decimal
    style: Style
    columns: tuple[Column, ...]
    springs: tuple[PrintedSpring, ...]
    problems: tuple[Problem, ...] = ()
    header_row: int | None = None
    unit_row: int | None = None
    first_row: int | None = None
    recipe: str | None = None

    @property
    def unsure(self) -> tuple[Column, ...]:
        """The columns to look at."""
        return tuple(column for column in self.columns if not column.sure)

    @property
    def count(self) -> int:
        """How many readings there are."""
        return sum(len(spring.readings) for spring in self.springs)
