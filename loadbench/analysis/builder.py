"""Gathers the figures of one line: values from the statement, inputs with their fields, and what is missing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from loadbench.analysis.figure import Figure, FigureKind, Input
from loadbench.job.stated import LineStated
from loadbench.readings.accuracy import standard


@dataclass(frozen=True, slots=True)
class Bench:
    """One line's statement and the figures found for it so far, by name."""

    line: LineStated
    figures: dict[str, Figure] = field(default_factory=dict)

    def value(self, name: str) -> float | None:
        """The value of a figure found so far; None where it is not there."""
        found = self.figures.get(name)
        return None if found is None else found.value

    def expanded(self, name: str) -> float | None:
        """U of a figure found so far."""
        found = self.figures.get(name)
        return None if found is None else found.expanded

    def deviation(self, field_name: str) -> float | None:
        """Standard uncertainty of an instrument, m; None where its accuracy is not stated."""
        half_width = self.line.value(field_name)
        return None if half_width is None else standard(half_width)

    def stated(self, symbol: str, label: str, field_name: str, kind: FigureKind) -> Input | None:
        """A stated entry as input of a formula; None where it is not stated."""
        value = self.line.value(field_name)
        if value is None:
            return None
        return Input(symbol=symbol, label=label, value=value, kind=kind, field=self.line.path(field_name))

    def found(self, symbol: str, name: str) -> Input | None:
        """A figure found so far as input of a formula; None where it cannot be had."""
        figure = self.figures[name]
        if figure.value is None:
            return None
        return Input(symbol=symbol, label=figure.label, value=figure.value, kind=figure.kind, field=f"figures.{name}")

    def add(self, figure: Figure) -> None:
        """Keep a figure."""
        self.figures[figure.name] = figure

    def lacking(self, *names: str) -> tuple[str, ...]:
        """What the named figures and fields still wait for; a dot or a known field tells the two apart."""
        missing: list[str] = []
        for name in names:
            figure = self.figures.get(name)
            if figure is not None:
                missing += [] if figure.known else figure.missing
            elif self.line.value(name) is None:
                missing.append(self.line.path(name))
        return tuple(dict.fromkeys(missing))


def inputs_of(*inputs: Input | None) -> tuple[Input, ...]:
    """The inputs that are there."""
    return tuple(each for each in inputs if each is not None)


def all_known(inputs: Sequence[Input | None]) -> bool:
    """Whether every input of a formula is there."""
    return all(each is not None for each in inputs)
