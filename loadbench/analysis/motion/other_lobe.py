"""Another lobe beside that of a line, for a look only: of another line, of a lift table, or by a law of motion."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from loadbench.analysis.motion.result import MotionAnalysis
from loadbench.errors import InputError
from loadbench.job.edits import replaced_all
from loadbench.job.stated import LineStated, read_stated
from loadbench.motion.durations import open_close
from loadbench.motion.lift import Lift
from loadbench.motion.lobe import LawLobe
from loadbench.readings.cam_lift import cam_lift, valve_lift

CHECK = 0.050 * 0.0254
"""Lobe lift at which a law's duration is that of the lobe beside it, m: common practice on cam sheets."""

NO_TABLE = "The table gives no lift: it has faults, or fewer rows than a lift needs."
NO_RATIO = "The lift at the valve waits for the rocker ratio."


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class OtherLobe:
    """A lift from elsewhere, `lobe` at the follower and `valve` at the valve with zero lash; None where wanting.

    `check` is the lobe lift, m, at which its duration was made the same; `note` says why a lift is wanting.
    """

    lobe: Lift | None = None
    valve: Lift | None = None
    check: float | None = None
    note: str = ""


def lobe_of_motion(motion: MotionAnalysis) -> OtherLobe:
    """The lobe of another line of the job.

    Args:
        motion: that line's.

    Returns:
        Its lifts.
    """
    return OtherLobe(lobe=motion.lobe, valve=motion.valve)


def lobe_of_table(
    line: LineStated, ratio: float | None, rows: Sequence[tuple[str, str]], angle: str, side: str
) -> OtherLobe:
    """The lobe of a lift table, on this line's valve gear.

    Args:
        line: as stated; it stays as it is.
        ratio: R; None where it is not known.
        rows: angles and lifts as a job keeps them, such as ("-60 deg", "0.214 in").
        angle: whose degrees, "cam" or "crank".
        side: where the lift was measured, "lobe" or "valve".

    Returns:
        Its lifts, smoothed as a job's own table is.
    """
    job = line.stated.job
    own = () if line.name == "common" or getattr(job.lines, line.name) is None else (f"lines.{line.name}.",)
    entries = {"profile": tuple(rows), "profile_angle": angle, "profile_side": side}
    changes = {f"{above}cam.{key}": value for above in ("", *own) for key, value in entries.items()}
    found = cam_lift(read_stated(replaced_all(job, changes)).line(line.name), ratio)
    if found.lobe is None and found.valve is None:
        return OtherLobe(note=NO_TABLE)
    return OtherLobe(lobe=found.lobe, valve=found.valve, note="" if found.valve and found.lobe else NO_RATIO)


def lobe_of_law(line: LineStated, ratio: float | None, lobe: Lift, law: str) -> OtherLobe:
    """A lobe by a law with the greatest lift of another lobe, and open as long as that at the check lift.

    Args:
        line: as stated, for its valve gear.
        ratio: R; None where it is not known.
        lobe: the lobe that it is to be like.
        law: one of loadbench.motion.laws.LAWS.

    Returns:
        Its lifts; none where the law would need more than half a turn for a flank.

    Source:
        own derivation: without ramps a law's angle at a lift grows with its flank's duration.
    """
    top = float(lobe(0.0))
    check = CHECK if top > 2 * CHECK else top / 2
    opens, closes = open_close(lobe, check)
    unit = LawLobe(law=law, lift=top, opening=1.0, closing=1.0)
    first, last = open_close(unit, check)
    opening, closing = float(opens / first), float(closes / last)
    if not 0 < max(opening, closing) <= math.pi:
        return OtherLobe(note="By this law a flank would be longer than half a turn.")
    try:
        made = LawLobe(law=law, lift=top, opening=opening, closing=closing)
    except InputError as error:
        return OtherLobe(note=f"{error}.")
    return OtherLobe(
        lobe=made, valve=valve_lift(line, made, ratio), check=check, note="" if ratio is not None else NO_RATIO
    )
