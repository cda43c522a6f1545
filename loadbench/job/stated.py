"""What the job states, read: every entry as an SI value or a word, and every fault of value with its place."""

from __future__ import annotations

import functools
import math
from dataclasses import dataclass, field
from typing import Any, get_args

from pydantic import BaseModel

from loadbench.errors import InputError, Place, Problem
from loadbench.job.kinds import UNITS, Number, Quantity, Sense, Words
from loadbench.job.model import Job
from loadbench.units import Kind, Style, parse

Mark = Quantity | Number | Words
LINES = ("intake", "exhaust")
OWN_TO_LINES = ("spring.", "valve_gear.", "cam.", "targets.")


@dataclass(frozen=True, slots=True)
class Stated:
    """The values of a job by dotted path; a faulty entry has no value and a Problem instead.

    An entry with a value and a Problem is told, and used all the same: it is right in itself, but something that would
    rest on it cannot be had.
    """

    job: Job
    style: Style | None
    values: dict[str, Any] = field(default_factory=dict)
    problems: dict[str, Problem] = field(default_factory=dict)
    notes: dict[str, str] = field(default_factory=dict)
    made: dict[str, LineStated] = field(default_factory=dict, init=False, repr=False, compare=False)

    @property
    def lines(self) -> tuple[str, ...]:
        """The names of the lines, or ("common",) where the job has none."""
        return LINES if any(getattr(self.job.lines, name) is not None for name in LINES) else ("common",)

    def line(self, name: str) -> LineStated:
        """The job as one line has it; of what stands at this moment, so ask once everything is read."""
        found = self.made.get(name)
        if found is None:
            found = self.made[name] = LineStated(self, name, _own_paths(self, name))
        return found

    def without(self, faults: dict[str, Problem]) -> Stated:
        """The same with further fields found faulty."""
        values = {path: value for path, value in self.values.items() if path not in faults}
        return Stated(self.job, self.style, values, {**faults, **self.problems}, self.notes)

    def telling(self, beside: dict[str, Problem]) -> Stated:
        """The same with problems told beside entries whose values are kept; a fault that stands already wins."""
        return Stated(self.job, self.style, self.values, {**beside, **self.problems}, self.notes)

    def noting(self, beside: dict[str, str]) -> Stated:
        """The same with further notes beside entries; a note that stands already wins."""
        if not beside:
            return self
        return Stated(self.job, self.style, self.values, self.problems, {**beside, **self.notes})

    def faulty(self, path: str) -> bool:
        """Whether something was entered at a path that cannot be used; one that is only told of can."""
        return path in self.problems and path not in self.values


@dataclass(frozen=True, slots=True)
class LineStated:
    """One line's view: what it overrides comes first, then the common part."""

    stated: Stated
    name: str
    own: dict[str, str] = field(repr=False, compare=False)

    def path(self, field: str) -> str:
        """Where the entry that holds for this line stands.

        Args:
            field: dotted path in the common part, such as "spring.bind_height".

        Returns:
            The path itself, or the line's own, "lines.exhaust.spring.bind_height".
        """
        return self.own.get(field, field)

    def value(self, field: str) -> Any:
        """The SI value, number, word or text that holds for this line; None where it is not stated or faulty."""
        return self.stated.values.get(self.own.get(field, field))

    def faulty(self, field: str) -> bool:
        """Whether something was entered here that cannot be used."""
        return self.stated.faulty(self.path(field))

    def entered(self, field: str) -> bool:
        """Whether anything was entered here, usable or faulty."""
        path = self.path(field)
        return path in self.stated.values or path in self.stated.problems

    def rows(self, field: str) -> tuple[str, int]:
        """Where a list that holds for this line stands, and how many items it has.

        Args:
            field: dotted path of the list in the common part, such as "spring.readings".

        Returns:
            The path of the list and its length; a line's own list replaces the common one whole.
        """
        own = f"lines.{self.name}.{field}"
        if self.name != "common" and self.stated.values.get(f"{own}#", 0):
            return own, self.stated.values[f"{own}#"]
        return field, self.stated.values.get(f"{field}#", 0)


def _own_paths(stated: Stated, name: str) -> dict[str, str]:
    """What a line states of its own: the path in the common part, and where the line has it."""
    above = f"lines.{name}."
    paths = (path for kept in (stated.values, stated.problems) for path in kept if path.startswith(above))
    own = {path.removeprefix(above): path for path in paths}
    return {field: path for field, path in own.items() if field.startswith(OWN_TO_LINES)}


@functools.cache
def marks_of(model: type[BaseModel]) -> dict[str, Mark | None]:
    """The mark of each field of a part; None for text, truth values, parts and lists of parts."""
    marks: dict[str, Mark | None] = {}
    for name, info in model.model_fields.items():
        found = [mark for mark in info.metadata if isinstance(mark, Mark)]
        found += [
            mark
            for inner in get_args(info.annotation)
            for mark in getattr(inner, "__metadata__", ())
            if isinstance(mark, Mark)
        ]
        marks[name] = found[0] if found else None
    return marks


@functools.cache
def mark_of(field: str) -> Mark | None:
    """The mark of a field by its dotted path, list items by number: what kind of entry it takes.

    Args:
        field: dotted path, such as "spring.readings.0.load" or "lines.exhaust.cam.kind".

    Returns:
        Its mark; None for plain text, truth values and whole parts.

    Raises:
        KeyError: the document has no such field.
    """
    model: type[BaseModel] = Job
    mark: Mark | None = None
    steps = field.split(".")
    for place, step in enumerate(steps):
        if step.isdigit():
            if steps[place - 1] in ("profile", "ratio_curve"):
                continue
            mark = marks_of(model)[steps[place - 1]] if steps[place - 1] in model.model_fields else mark
            continue
        info = model.model_fields[step]
        mark = marks_of(model)[step]
        inner = next(_models_in(info.annotation), None)
        if inner is not None:
            model = inner
    return mark


def _models_in(annotation: object) -> Any:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield annotation
    for inner in get_args(annotation):
        yield from _models_in(inner)


def read_stated(job: Job) -> Stated:
    """Read every entry of a job.

    Args:
        job: the job as typed.

    Returns:
        Its values in SI, its faults and its notes, each by dotted path. Lists also give their length at "path#".
    """
    word = UNITS.read(job.units) if job.units is not None else None
    style = Style(word) if word else None
    stated = Stated(job, style)
    marks = marks_of(Job)
    for name, entry in job.__dict__.items():
        if entry is None or entry == () or name == "rules":
            continue
        if isinstance(entry, BaseModel | tuple):
            _read_kept(stated, name, entry, marks[name])
        else:
            _read_entry(stated, entry, name, marks[name])
    return stated


@dataclass(frozen=True, slots=True)
class _Kept:
    """A part of the job as it was read the last time."""

    entry: BaseModel | tuple[Any, ...]
    read: Stated


_KEPT: dict[str, _Kept] = {}
"""The last reading of each part: an edit makes anew only the parts above its field, so all others are known."""


def _read_kept(stated: Stated, name: str, entry: BaseModel | tuple[Any, ...], mark: Mark | None) -> None:
    """Read a part, or take it as it was read before where it is the same object and the units are the same."""
    kept = _KEPT.get(name)
    if kept is None or kept.read.style is not stated.style or not _same(kept.entry, entry):
        own = Stated(stated.job, stated.style)
        if isinstance(entry, BaseModel):
            _read_part(own, entry, f"{name}.")
        else:
            own.values[f"{name}#"] = len(entry)
            _read_items(own, entry, name, mark)
        kept = _KEPT[name] = _Kept(entry, own)
    stated.values.update(kept.read.values)
    stated.problems.update(kept.read.problems)
    stated.notes.update(kept.read.notes)


def _same(one: BaseModel | tuple[Any, ...], other: BaseModel | tuple[Any, ...]) -> bool:
    if isinstance(one, tuple) and isinstance(other, tuple):
        return len(one) == len(other) and all(a is b for a, b in zip(one, other, strict=True))
    return one is other


def _read_part(stated: Stated, part: BaseModel, above: str) -> None:
    marks = marks_of(type(part))
    for name, entry in part.__dict__.items():
        if entry is None or entry == () or name == "rules":
            continue
        path = f"{above}{name}"
        if isinstance(entry, BaseModel):
            _read_part(stated, entry, f"{path}.")
        elif isinstance(entry, tuple):
            stated.values[f"{path}#"] = len(entry)
            _read_items(stated, entry, path, marks[name])
        else:
            _read_entry(stated, entry, path, marks[name])


def _read_items(stated: Stated, entries: tuple[Any, ...], path: str, mark: Mark | None) -> None:
    for index, entry in enumerate(entries):
        here = f"{path}.{index}"
        if isinstance(entry, BaseModel):
            _read_part(stated, entry, f"{here}.")
        elif isinstance(entry, tuple):
            for column, (cell, kind) in enumerate(zip(entry, _row_marks(path.rsplit(".", 1)[-1]), strict=True)):
                if cell is not None:
                    _read_entry(stated, cell, f"{here}.{column}", kind)
        else:
            _read_entry(stated, entry, here, mark)


@functools.cache
def _row_marks(name: str) -> tuple[Mark, Mark]:
    """The marks of the columns of `profile` and `ratio_curve`."""
    if name == "profile":
        return Quantity(Kind.ANGLE, Sense.ANY), Quantity(Kind.LENGTH, Sense.ANY, 1.0)
    return Quantity(Kind.LENGTH, Sense.NOT_NEGATIVE, 1.0), Number(Sense.POSITIVE, 5.0)


def _read_entry(stated: Stated, entry: Any, path: str, mark: Mark | None) -> None:
    if isinstance(entry, str) and not entry.strip():
        return
    try:
        stated.values[path] = _value(stated, entry, path, mark)
    except InputError as error:
        place = Place(field=path)
        stated.problems[path] = Problem(what=error.what, expected=error.expected, place=place)


def _value(stated: Stated, entry: Any, path: str, mark: Mark | None) -> Any:
    if mark is None:
        return entry
    if isinstance(mark, Words):
        word = mark.read(entry)
        if word is None:
            raise InputError(f'"{entry}" is not one of the words here.', expected=", ".join(mark.words))
        return word
    if isinstance(mark, Number):
        return _in_sense(entry, mark, f"{entry:g}")
    parsed = parse(entry, mark.kind, stated.style)
    if parsed.note:
        stated.notes[path] = parsed.note
    if parsed.bare and mark.kind is Kind.MASS and parsed.value > mark.most:
        number = entry.strip()
        what = f"{number} reads as {number} {parsed.unit} = {parsed.value:.3g} kg, more than such a part weighs."
        raise InputError(what, expected=f"its unit, such as {number} g, and at most {mark.most:g} kg")
    return _in_sense(parsed.value, mark, entry.strip())


def _in_sense(value: float, mark: Quantity | Number, shown: str) -> float:
    """The value, if it stands where such a value can stand."""
    if not math.isfinite(value):
        raise InputError(f"{shown} is not a finite number.", expected="a finite number")
    if (mark.sense is Sense.POSITIVE and value <= 0) or (mark.sense is Sense.NOT_NEGATIVE and value < 0):
        raise InputError(f"{shown} cannot be: a value here is {mark.sense}.", expected=f"a value {mark.sense}")
    if value > mark.most:
        raise InputError(
            f"{shown} is larger than any such value.", expected="the point in its place, and the right unit"
        )
    return value
