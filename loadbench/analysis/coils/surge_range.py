"""The engine speeds in which surge is looked at, and what the lift curve holds of each order of the cam."""

from __future__ import annotations

import numpy as np
from typing_extensions import override

from loadbench.analysis.builder import Bench
from loadbench.analysis.coils.kept import kept
from loadbench.analysis.coils.result import SurgeRange
from loadbench.arrays import Floats
from loadbench.errors import InputError
from loadbench.job.stated import LineStated
from loadbench.motion.harmonics import harmonics

ORDERS = 40
"""How many orders of the cam are looked at."""


def surge_range_of(bench: Bench) -> SurgeRange:
    """The working range of one line, and the harmonics of its lift where a lift curve is given.

    Args:
        bench: the line, with its ratio found.

    Returns:
        What is stated of it.
    """
    line = bench.line
    return SurgeRange(
        idle_speed=line.value("duty.idle_speed"),
        speed_limit=line.value("duty.speed_limit"),
        harmonics=_harmonics(line, bench.value("ratio")),
        friction=line.value("spring.damper.load"),
    )


def _harmonics(line: LineStated, ratio: float | None) -> Floats | None:
    """Amplitudes of the lobe's orders from the first, m; None without a usable lift curve."""
    path, count = line.rows("cam.profile")
    turn, side = line.value("cam.profile_angle"), line.value("cam.profile_side")
    over = ratio if side == "valve" else 1.0
    if not count or turn is None or side is None or over is None:
        return None
    job = line.stated.job
    own = getattr(job.lines, line.name, None)
    table = job.cam.profile if own is None or path == "cam.profile" else own.cam.profile
    # A table that is the same object has the same faults: nothing beside it bears on its cells but the units.
    token = (_Same(table), line.stated.style, turn, over)
    (found,) = kept(
        "harmonics", path, token, lambda: (_of_table(line, path, count, 0.5 if turn == "crank" else 1.0, over),)
    )
    return found


class _Same:
    """An object that is equal to itself alone: comparing a long table cell by cell would cost what keeping saves."""

    __slots__ = ("held",)
    __hash__ = None  # type: ignore[assignment]

    def __init__(self, held: object) -> None:
        self.held = held

    @override
    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and other.held is self.held


def _of_table(line: LineStated, path: str, count: int, to_cam: float, ratio: float) -> Floats | None:
    """The harmonics of a whole table, its angles turned into the cam's and its lifts into the lobe's."""
    values = line.stated.values
    cells = [(values.get(f"{path}.{row}.0"), values.get(f"{path}.{row}.1")) for row in range(count)]
    if count < 3 or any(None in each for each in cells):
        return None
    angles, lifts = np.array(cells, dtype=np.float64).T
    if angles[0] > angles[-1]:
        angles, lifts = angles[::-1], lifts[::-1]
    try:
        return harmonics(angles * to_cam, lifts / ratio, np.arange(1, ORDERS + 1))
    except InputError:
        return None  # angles that do not rise, or more than a turn of the cam
