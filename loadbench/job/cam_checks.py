"""Faults of value within a lift table: told at the row, and the row's value withdrawn, so that no lift rests on it."""

from __future__ import annotations

import functools
from collections.abc import Iterator

import numpy as np

from loadbench.job.coil_checks import Fault
from loadbench.job.stated import Stated
from loadbench.motion.lift_table import table_faults

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


@functools.lru_cache(maxsize=16)
def _faults(cells: Cells, crank: bool) -> tuple[tuple[int, bool, str, str], ...]:
    angles, lifts = np.array(cells, dtype=np.float64).T
    found = []
    for problem in table_faults(angles * (0.5 if crank else 1.0), lifts):
        row = (problem.place.row or 1) - 1
        found.append((row, "angle" in problem.what or "covers" in problem.what, problem.what, problem.expected))
    return tuple(found)
