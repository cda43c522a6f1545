"""A printout judged by itself, before it stands in a job: each spring's rate, what is missing, what is doubtful."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from loadbench.job.checks import SAME_HEIGHT
from loadbench.readings.accuracy import Accuracy
from loadbench.readings.evidence import part_named
from loadbench.readings.load_line import LoadLine
from loadbench.readings.printout.meaning import PrintedReading, PrintedSpring, Understood
from loadbench.readings.strand_fit import fitted_strand
from loadbench.readings.trust.check_readings import flags_of
from loadbench.readings.trust.flag import Flag, TestedReading, TestedSpring
from loadbench.readings.trust.set_table import UNLOADING, tables_of

USUAL_SHARE = 0.5
"""A reading is missed where more than this share of the springs has one of that part at that height."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PartRate:
    """The rate of one part of a spring, N/m, with U (k = 2); "" is the whole. None where it cannot be had."""

    part: str
    count: int
    rate: float | None
    expanded: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedCheck:
    """One spring of the printout. `whole` is the rate of the spring as a whole: None for members apart."""

    spring: PrintedSpring
    parts: tuple[PartRate, ...]
    whole: PartRate | None
    flags: tuple[Flag, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Missed:
    """A reading that most other springs have: spring, part, height m, and the spring's first row."""

    spring: str
    part: str
    height: float
    row: int


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintoutCheck:
    """The printout as it was understood, its springs, what is missing and what is doubtful, most telling first."""

    understood: Understood
    springs: tuple[PrintedCheck, ...]
    flags: tuple[Flag, ...]
    missed: tuple[Missed, ...]


def check_printout(
    understood: Understood, *, accuracy: Accuracy, spec: Sequence[tuple[float, float]] = ()
) -> PrintoutCheck:
    """Judge a printout.

    Args:
        understood: as it was read.
        accuracy: of the tester.
        spec: (height m, load N) points of the springs' sheet.

    Returns:
        The check; rates by the same fit as in a job.
    """
    tested = tuple(_tested(spring) for spring in understood.springs)
    flags = flags_of(tested, accuracy=accuracy, spec=spec)
    by_spring: dict[str | None, list[Flag]] = {}
    for flag in flags:
        by_spring.setdefault(flag.spring, []).append(flag)
    return PrintoutCheck(
        understood=understood,
        springs=tuple(_checked(spring, accuracy, by_spring.get(spring.id, ())) for spring in understood.springs),
        flags=flags,
        missed=tuple(_missed(understood.springs, tested)),
    )


def _tested(spring: PrintedSpring) -> TestedSpring:
    readings = tuple(
        TestedReading(
            part=part_named(reading.part),
            height=reading.height,
            load=reading.load,
            repeat=reading.repeat,
            direction=reading.direction,
            row=reading.row,
            column=reading.column,
        )
        for reading in spring.readings
    )
    return TestedSpring(id=spring.id, readings=readings)


def _checked(spring: PrintedSpring, accuracy: Accuracy, flags: Sequence[Flag]) -> PrintedCheck:
    names = dict.fromkeys(part_named(reading.part) for reading in spring.readings)
    parts = {name: _rate(name, spring.readings, accuracy) for name in names}
    whole = parts.get("") or (next(iter(parts.values())) if len(parts) == 1 else None)
    return PrintedCheck(spring=spring, parts=tuple(parts.values()), whole=whole, flags=tuple(flags))


def _rate(part: str, readings: Sequence[PrintedReading], accuracy: Accuracy) -> PartRate:
    """The rate by the readings of one part: those on loading, where there are any."""
    own = [reading for reading in readings if part_named(reading.part) == part]
    taken = [reading for reading in own if reading.direction != "unloading"] or own
    heights = np.array([reading.height for reading in taken])
    if len(taken) < 2 or float(np.ptp(heights)) <= SAME_HEIGHT:
        return PartRate(part=part, count=len(own), rate=None, expanded=None)
    strand = fitted_strand(heights, np.array([reading.load for reading in taken]), accuracy)
    line = LoadLine(strands=((0.0, strand),), accuracy=accuracy)
    return PartRate(part=part, count=len(own), rate=line.rate, expanded=line.rate_uncertainty())


def _missed(springs: Sequence[PrintedSpring], tested: Sequence[TestedSpring]) -> Iterator[Missed]:
    """The readings that a spring lacks while most have them; what unloading adds is not asked for."""
    for table in tables_of(tested):
        known = np.isfinite(table.loads)
        usual = np.flatnonzero(np.sum(known, axis=0) > USUAL_SHARE * len(springs))
        rows = {spring.id: row for row, spring in enumerate(table.springs)}
        for spring in springs if table.direction != UNLOADING else ():
            row = rows.get(spring.id)
            for column in usual:
                if row is None or not known[row, column]:
                    height = float(table.heights[column])
                    yield Missed(spring=spring.id, part=table.part, height=height, row=spring.row)
