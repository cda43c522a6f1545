"""What is doubtful in a set of readings, told with the rule that found it; the readings as the statistics take them."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from loadbench.units import Kind, Style, tell


class FlagKind(StrEnum):
    """What is doubtful."""

    OUTLIER = "outlier"
    HEIGHT_TYPED_WRONG = "height-typed-wrong"
    TESTER_ZERO = "tester-zero"
    TESTER_SCALE = "tester-scale"
    NOT_RISING = "not-rising"
    REPEAT_DISAGREES = "repeat-disagrees"
    CURVED = "curved"


@dataclass(frozen=True, slots=True, kw_only=True)
class TestedReading:
    """One reading, SI. `row` and `column` are its place in a printout, `path` its place in a job ("" where none)."""

    __test__ = False  # not a test case, whatever pytest makes of the name

    part: str
    height: float
    load: float
    repeat: int = 1
    direction: str = ""
    row: int | None = None
    column: int | None = None
    path: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class TestedSpring:
    """One numbered spring as the tester saw it. `path` is its place in a job, such as "springs.3"."""

    __test__ = False

    id: str
    readings: tuple[TestedReading, ...]
    path: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Flag:
    """One doubt. `template` is a sentence with {names} for `amounts`, (SI value, kind), that follow the units on show.

    `rule` says how it was found, with its threshold. `spring` is None where it speaks of the whole set. `value` and
    `limit` are the figure that was judged and its threshold, without a dimension unless the rule says otherwise.
    """

    kind: FlagKind
    template: str
    rule: str
    amounts: dict[str, tuple[float, Kind]] = field(default_factory=dict)
    spring: str | None = None
    part: str = ""
    height: float | None = None
    value: float | None = None
    limit: float | None = None
    row: int | None = None
    column: int | None = None
    path: str = ""

    def told(self, style: Style) -> str:
        """The sentence in one unit style."""
        texts = {name: str(tell(value, kind, style)) for name, (value, kind) in self.amounts.items()}
        return self.template.format_map(texts)
