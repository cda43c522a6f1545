"""Where this job's needles give way to a bush: the grid of both axles, with what is not stated as is typical."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from loadbench.analysis.followers.contact_figures import STRIDE
from loadbench.analysis.line import LineAnalysis
from loadbench.arrays import Floats
from loadbench.follower import needle
from loadbench.follower.bush import bush_limits
from loadbench.follower.changeover import BushAxle, ChangeOver, NeedleAxle, Turn, change_over, crossing

LOADS = np.linspace(100, 2000, 50) * 4.4482216152605
"""Open loads of the picture, N: 100 to 2000 lbf."""

SHARES = np.linspace(0.0, 0.9, 50)
USUAL_LIFE = 100 * 3600.0
USUAL_SAFETY = 1.5
NEEDLE_SHARE = 0.2
"""Diameter of a needle over that of the bush that would stand in its place. Source: common practice, from memory."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ChangeOverShown:
    """The grid of one line's follower. `job_load` N and `job_share` are the job's own place, None where not stated.

    `needle_limit` and `bush_limit` are the loads, N, up to which each holds at each share; `typical` tells what was
    taken as is typical; `bush_source` names the list.
    """

    grid: ChangeOver
    needle_limit: Floats
    bush_limit: Floats
    job_load: float
    job_share: float | None
    wanted_life: float
    typical: tuple[str, ...]
    bush_label: str
    bush_source: str
    fed: bool


def changeover_missing(line: LineAnalysis) -> tuple[str, ...]:
    """The fields that the picture waits for; none where it can be had."""
    stated, motion = line.stated, line.motion
    missing = [] if motion.idle is not None and motion.limit is not None else [
        *motion.missing, *(stated.path(f) for f in ("duty.idle_speed", "duty.speed_limit") if stated.value(f) is None),
    ]  # fmt: skip
    fields = ("cam.base_radius", "follower.roller_diameter")
    missing += [stated.path(field) for field in fields if stated.value(field) is None]
    if _sizes(line) is None:
        missing += ["follower.needles.diameter", "follower.needles.length", "follower.needles.axle_diameter"]
    return tuple(dict.fromkeys(missing))


def _sizes(line: LineAnalysis) -> tuple[tuple[float, float, float, float], tuple[float, float], tuple[str, ...]] | None:
    """Needles (count, diameter, length, axle) and bush (bore, length), and which of them are typical."""
    value = line.stated.value
    count, diameter, length, axle = (
        value(f"follower.needles.{name}") for name in ("count", "diameter", "length", "axle_diameter")
    )
    bore, long = (value(f"follower.bush.{name}") for name in ("bore", "length"))
    if diameter is not None and length is not None and axle is not None:
        most = float(needle.most_needles(diameter, axle + diameter))
        needles = (min(count, most) if count else most, diameter, length, axle)
        if bore is not None and long is not None:
            return needles, (bore, long), ()
        return needles, (axle + diameter, length), ("a bush as long as the needles, on an axle of their circle",)
    if bore is not None and long is not None:
        small = NEEDLE_SHARE * bore
        most = float(needle.most_needles(small, bore))
        return (most, small, long, bore - small), (bore, long), ("needles where the bush is, a fifth as thick",)
    return None


def changeover_of(line: LineAnalysis) -> ChangeOverShown | None:
    """The grid of both axles for one line's follower.

    Args:
        line: analysed, with its motion at idle and at the speed limit.

    Returns:
        The grid; None while something is missing (see `changeover_missing`).
    """
    if changeover_missing(line):
        return None
    sizes, follower, motion = _sizes(line), line.follower, line.motion
    idle, limit, job_load = motion.idle, motion.limit, line.value("open_load")
    if (
        sizes is None
        or idle is None
        or limit is None
        or not job_load
        or follower.idle is None
        or follower.limit is None
    ):
        return None
    spins = [each.spin for each in (follower.idle, follower.limit)]
    if spins[0] is None or spins[1] is None:
        return None
    squares = idle.speed**2, limit.speed**2
    if squares[0] == squares[1]:
        return None
    slope = (limit.axle - idle.axle) / (squares[1] - squares[0])
    static = np.maximum(idle.axle - squares[0] * slope, 0.0)[::STRIDE]
    turns = tuple(
        Turn(static=static, inertia=square * slope[::STRIDE], spin=spin[::STRIDE])
        for square, spin in zip(squares, spins, strict=True)
        if spin is not None
    )
    (count, diameter, length, axle), (bore, long), typical = sizes
    material = line.stated.value("follower.bush.material")
    fed = line.stated.value("follower.oil_feed") == "pressure"
    row = bush_limits(material or "tin bronze", fed=fed) or bush_limits("bronze", fed=fed)
    more = () if material else ("a bush of tin bronze",)
    wanted = line.stated.value("duty.life_hours")
    life = USUAL_LIFE if wanted is None else float(wanted) * 3600.0
    grid = change_over(
        LOADS, SHARES, job_load, (turns[0], turns[1]),
        NeedleAxle(
            float(needle.dynamic_rating(count, diameter, length, axle + diameter)),
            float(needle.static_rating(count, diameter, length, axle + diameter)), life, USUAL_SAFETY,
        ),
        BushAxle(
            bore, long, np.inf if row is None or row.pressure is None else row.pressure,
            np.inf if row is None or row.pv is None else row.pv,
        ),
    )  # fmt: skip
    share = line.stated.value("duty.idle_share")
    return ChangeOverShown(
        grid=grid, needle_limit=_both(grid.needle_life / life, grid.needle_safety / USUAL_SAFETY),
        bush_limit=crossing(grid.bush_margin, LOADS),
        job_load=job_load, job_share=None if share is None else float(share), wanted_life=life,
        typical=(*typical, *more), bush_label="" if row is None else row.label,
        bush_source="" if row is None else row.source, fed=fed,
    )  # fmt: skip


def _both(first: Floats, second: Floats) -> Floats:
    """Up to which load both margins hold: each crosses smoothly, the lesser of the two has a corner."""
    limits = np.stack([crossing(first, LOADS), crossing(second, LOADS)])
    low = np.minimum(first, second)[0] < 1  # not held even by the least load
    found = np.where(
        np.isnan(limits).all(axis=0), np.nan, np.nanmin(np.where(np.isnan(limits), np.inf, limits), axis=0)
    )
    return np.where(low, np.nan, found)
