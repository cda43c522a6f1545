"""The errors of LoadBench: everything a user can be told derives from LoadBenchError.

LoadBenchError
  InputError              one wrong entry: what, what was expected, where
    UnfinishedEntry       not wrong yet: the user is still typing
    AmbiguousEntry        two readings are possible; the user chooses
  UnreadableFileError     a file is refused, with all its problems at once
  SaveError               a file could not be written; the old one is untouched
  Cancelled               the user stopped a piece of work
"""

from __future__ import annotations

from dataclasses import dataclass

from typing_extensions import override


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where an entry stands. Rows and columns count from 1; field is a dotted path of the job."""

    file: str | None = None
    row: int | None = None
    column: int | None = None
    field: str | None = None

    @override
    def __str__(self) -> str:
        parts = [self.file or "", f"row {self.row}" if self.row else "", f"column {self.column}" if self.column else ""]
        return ", ".join(part for part in [*parts, self.field or ""] if part)


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One fault in what was stated: what is wrong, what was expected, and where."""

    what: str
    expected: str = ""
    place: Place = Place()

    @override
    def __str__(self) -> str:
        where = f"{self.place}: " if str(self.place) else ""
        return f"{where}{self.what}" + (f" (expected: {self.expected})" if self.expected else "")


class LoadBenchError(Exception):
    """The base of all errors that may reach a user as text."""


class InputError(LoadBenchError):
    """One entry is wrong."""

    def __init__(self, what: str, *, expected: str = "", place: Place | None = None) -> None:
        super().__init__(what)
        self.what = what
        self.expected = expected
        self.place = place or Place()

    @property
    def problem(self) -> Problem:
        """The same as a Problem, for lists of faults."""
        return Problem(what=self.what, expected=self.expected, place=self.place)

    @override
    def __str__(self) -> str:
        return str(self.problem)


class UnfinishedEntry(InputError):
    """An entry that may become right with more typing, such as "1.9 i"."""


class AmbiguousEntry(InputError):
    """An entry with two readings, such as "1,250"; `choices` holds both, each typed unambiguously."""

    def __init__(self, what: str, *, choices: tuple[str, ...], expected: str = "", place: Place | None = None) -> None:
        super().__init__(what, expected=expected, place=place)
        self.choices = choices


class UnreadableFileError(LoadBenchError):
    """A file is refused as a whole; nothing was opened and nothing overwritten."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        super().__init__("\n".join(str(problem) for problem in problems))
        self.problems = problems


class SaveError(LoadBenchError):
    """A file could not be written; what stood there before is untouched."""


class Cancelled(LoadBenchError):
    """The user stopped the work, or newer work replaced it."""
