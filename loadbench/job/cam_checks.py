"""Faults of value within a lift table: told at the row, and the row's value withdrawn, so that no lift rests on it."""

from __future__ import annotations

import functools
import math
from collections.abc import Iterator
from itertools import pairwise

import numpy as np

from loadbench.errors import InputError
from loadbench.job.coil_checks import Fault
from loadbench.job.stated import LineStated, Stated
from loadbench.motion.laws import LAWS
from loadbench.motion.lift_table import table_faults
from loadbench.motion.polydyne import SMOOTH_STEP
from loadbench.motion.power_lift import STEPS, even_at_nose

FLANK = math.radians(30), math.radians(360)
"""Crank angle that one flank of a law may take, common practice: a slip of a digit makes it far shorter."""

RAMP = math.radians(10), math.radians(180)
"""Crank angle that a ramp may take, common practice: a shorter one is a bump."""

POWER = "power"
"""The law of a lift by a power polynomial, 2-10-18-26-34 or as two durations have it."""
POLYDYNE = "polydyne"
"""The law by which a job's lobe is made for a speed, a spring and a linkage."""
KNOWN_LAWS = (*LAWS, POWER, POLYDYNE)

Cells = tuple[tuple[float, float], ...]


def table_row_faults(stated: Stated) -> Iterator[Fault]:
    """What is wrong with the lift tables of a job.

    Args:
        stated: the entries read one by one.

    Yields:
        (path of the row's lift or angle, what is wrong, what is wanted). A table with an entry that cannot be read, or
        whose angles may be the cam's or the crank's, is not looked at.
    """
    for name in stated.lines:
        line = stated.line(name)
        path, count = line.rows("cam.profile")
        turn = line.value("cam.profile_angle")
        cells = tuple(
            (stated.values.get(f"{path}.{row}.0"), stated.values.get(f"{path}.{row}.1")) for row in range(count)
        )
        if not cells or turn is None or any(None in each for each in cells):
            continue
        for row, of_angle, what, expected in _faults(cells, turn == "crank"):
            yield f"{path}.{row}.{0 if of_angle else 1}", f"{what[:1].upper()}{what[1:]} (row {row + 1}).", expected


def law_named(line: LineStated) -> str:
    """A line's law as the laws are named, however it is written; "" where none is stated."""
    return "-".join(str(line.value("cam.law.name") or "").casefold().split())


def laws_that_cannot_be(stated: Stated) -> Iterator[Fault]:
    """Laws of no name that is known, flanks out of sense, and durations that grow with the lift.

    Args:
        stated: the entries read one by one.

    Yields:
        (path, what is wrong, what is wanted).
    """
    for name in stated.lines:
        line = stated.line(name)
        law = line.value("cam.law.name")
        named = law_named(line)
        if law is not None and named not in KNOWN_LAWS:
            yield line.path("cam.law.name"), f"{law} is no law of motion here.", f"one of {', '.join(KNOWN_LAWS)}"
        if named == POLYDYNE and line.value("cam.ramps.height") is not None:
            what = "A polydyne lobe's ramps are as high as the lash and what the linkage gives under the seat load."
            yield line.path("cam.ramps.height"), what, "the ramps' angles alone"
        for above, word, limits in (("cam.law", "flank", FLANK), ("cam.ramps", "ramp", RAMP)):
            for part in ("opening", "closing"):
                angle = line.value(f"{above}.{part}")
                if angle is not None and not limits[0] <= angle <= limits[1]:
                    least, most = (f"{math.degrees(limit):g}" for limit in limits)
                    yield (
                        line.path(f"{above}.{part}"), f"A {word} of {math.degrees(angle):.4g} deg of the crank.",
                        f"{least} to {most} deg",
                    )  # fmt: skip
        yield from _halves_too_unequal(line, named)
        yield from _durations_out_of_order(line)


def _halves_too_unequal(line: LineStated, named: str) -> Iterator[Fault]:
    opening, closing = (line.value(f"cam.law.{part}") for part in ("opening", "closing"))
    if named not in {POWER, POLYDYNE} or not opening or not closing or min(opening, closing) <= 0:
        return
    least = SMOOTH_STEP if named == POLYDYNE else STEPS[0]
    try:
        even_at_nose(opening, closing, least=least)
    except InputError as error:
        yield line.path("cam.law.closing"), f"{error.what[:1].upper()}{error.what[1:]}.", f"{error.expected} times"


def _durations_out_of_order(line: LineStated) -> Iterator[Fault]:
    path, count = line.rows("cam.durations")
    values, known = line.stated.values, list[tuple[float, float, int]]()
    for row in range(count):
        lift, crank = values.get(f"{path}.{row}.lift"), values.get(f"{path}.{row}.crank")
        if lift is not None and crank is not None:
            known.append((float(lift), float(crank), row))
    known.sort()
    for (low, long, _), (high, short, row) in pairwise(known):
        if high > low and short >= long:
            what = "The duration at a greater lift is not the shorter one."
            yield f"{path}.{row}.crank", what, "a lobe open for less time the higher the lift"


@functools.lru_cache(maxsize=16)
def _faults(cells: Cells, crank: bool) -> tuple[tuple[int, bool, str, str], ...]:
    angles, lifts = np.array(cells, dtype=np.float64).T
    found = []
    for problem in table_faults(angles * (0.5 if crank else 1.0), lifts):
        row = (problem.place.row or 1) - 1
        found.append((row, "angle" in problem.what or "covers" in problem.what, problem.what, problem.expected))
    return tuple(found)
