"""Whether what the follower's figures rest on still stands as at export, as formulas on the workbook's cells."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from pydantic import BaseModel

from loadbench.analysis import Analysis, LineAnalysis
from loadbench.job.follower_parts import Follower
from loadbench.job.kinds import Number, Quantity, Words
from loadbench.job.parts import Adjuster, Duty, Warming
from loadbench.job.stated import mark_of, marks_of
from loadbench.report.book.coil_stress_formulas import unchanged
from loadbench.report.book.formulas import DASH
from loadbench.report.book.inputs import cell_name
from loadbench.report.book.paper import Book
from loadbench.report.follower_words import FOLLOWER_FIGURES

OF_CAM = ("cam.kind", "cam.base_radius", "cam.face_width", "cam.taper", "cam.roughness")
OF_LOADS = ("ratio", "seat_load", "effective_seat_load", "open_load", "net_valve_lift", "follower_open_load")
"""Figures that the loads on the follower rest on."""


@cache
def entries() -> tuple[str, ...]:
    """The entries with a cell on which figures of the follower can rest, but for those of loads and lift."""
    parts: dict[str, type[BaseModel]] = {
        "follower": Follower,
        "duty": Duty,
        "valve_gear.warming": Warming,
        "valve_gear.adjuster": Adjuster,
    }
    found = [path for above, part in parts.items() for path in _leaves(part, above)]
    return tuple(path for path in (*found, *OF_CAM) if ".maker_limits." not in path)


def _leaves(part: type[BaseModel], above: str) -> Iterator[str]:
    for name, info in part.model_fields.items():
        inner = info.annotation
        if isinstance(inner, type) and issubclass(inner, BaseModel):
            yield from _leaves(inner, f"{above}.{name}")
        elif isinstance(marks_of(part)[name], Quantity | Number | Words):
            yield f"{above}.{name}"


def told_lines(analysis: Analysis) -> tuple[LineAnalysis, ...]:
    """The lines that have figures of a follower."""
    return tuple(line for line in analysis.lines if any(name in line.figures for name in FOLLOWER_FIGURES))


def follower_entries(analysis: Analysis) -> tuple[str, ...]:
    """The paths of the entries that the sheet's formulas read."""
    return tuple(dict.fromkeys(line.stated.path(field) for line in told_lines(analysis) for field in entries()))


@dataclass(frozen=True, slots=True)
class FollowerCells:
    """The cells of one line's follower."""

    book: Book
    line: LineAnalysis

    def own(self, name: str) -> str:
        """The name of a cell of this line."""
        return f"{self.line.name}_{name}"

    def entry(self, field: str) -> str:
        """The name of the cell of an entry that holds for this line."""
        return cell_name(self.line.stated.path(field))

    def kept(self, value: float) -> str:
        """A figure as it was; a dash once something that it rests on has changed."""
        return f"IF({self.own('follower_as_exported')}=1,{value!r},{DASH})"

    def as_exported(self) -> Iterator[tuple[str, str, str]]:
        """Whether all is as it was.

        Yields:
            The name of a cell without the line's, its label, and its formula, which gives 1 or 0.
        """
        fields = entries()
        half = len(fields) // 2
        parts = (("follower_sizes_as_exported", fields[:half]), ("follower_duty_as_exported", fields[half:]))
        for name, some in parts:
            yield name, f"{_word(name)} as at export (1 yes)", _all([self._same(field) for field in some])
        loads = [self._figure(name) for name in OF_LOADS if name in self.line.figures]
        yield "follower_loads_as_exported", "Loads and lift are as at export (1 yes)", _all(loads)
        cells = [self.own(name) for name, _ in parts] + [self.own("follower_loads_as_exported")]
        if self.line.motion.shown is not None:
            cells.append(self.own("motion_at_speed_as_exported"))
        same = ",".join(f"{cell}=1" for cell in cells)
        yield "follower_as_exported", "All of it is as at export (1 yes)", f"IF(AND({same}),1,0)"

    def _same(self, field: str) -> str:
        """Whether one entry is as it was, empty ones too."""
        cell, mark, value = self.entry(field), mark_of(field), self.line.stated.value(field)
        if isinstance(mark, Words):
            return f'{cell}="{value or ""}"'
        if value is None:
            return f"COUNT({cell})=0"
        kind = mark.kind if isinstance(mark, Quantity) else None
        shown = float(value) if kind is None else self.book.shown(float(value), kind)
        return f"IF(COUNT({cell})=1,{unchanged(cell, shown or 0.0)},FALSE)"

    def _figure(self, name: str) -> str:
        figure = self.line.figures[name]
        value, cell = self.book.shown(figure.value, figure.kind), self.own(name)
        return f"COUNT({cell})=0" if value is None else f"IF(COUNT({cell})=1,{unchanged(cell, value)},FALSE)"


def _word(name: str) -> str:
    return "Sizes of the follower" if "sizes" in name else "Duty, oil, warming and cam"


def _all(tests: list[str]) -> str:
    return f"IF(AND({','.join(tests)}),1,0)" if tests else "1"
