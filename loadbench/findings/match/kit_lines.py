"""The lines of a job with another follower: only what the follower changes is worked out again."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from loadbench.analysis import LineAnalysis, members, room
from loadbench.analysis.builder import Bench
from loadbench.analysis.followers import axle_figures, contact_figures, plunger_figures, warming
from loadbench.analysis.followers.followers import followers_of
from loadbench.analysis.line import analyse_line
from loadbench.analysis.motion import balance_figures, dynamics, lobe_figures, pushrod_figures
from loadbench.analysis.motion.motion import motion_of
from loadbench.job.stated import LineStated

OF_FOLLOWER = frozenset(
    {
        "lift_at_zero_lash", "lift_pumped_up", "plunger_depth", *members.MARGINS, *axle_figures.LABELS,
        *contact_figures.LABELS, *plunger_figures.LABELS, *warming.LABELS,
    }
)  # fmt: skip
"""Figures that one family has and another has not."""

WIDEST = ("lift_at_zero_lash", "lift_pumped_up")
"""The lifts that the coils must clear at worst: one of solid followers, one of hydraulic ones."""

OF_MOTION = frozenset({*balance_figures.FIGURES, *lobe_figures.FIGURES, *pushrod_figures.FIGURES, *dynamics.FIGURES})


def kit_line(line: LineStated, made: Iterable[LineAnalysis]) -> LineAnalysis:
    """A line with another follower.

    Args:
        line: its entries.
        made: the same line with other followers, analysed already; one of the same net lift has the same loads.

    Returns:
        The line analysed. It is as `analyse_line` has it, with the dynamic run of a line that moves alike.
    """
    bench = Bench(line)
    room.add_ratio(bench)
    room.add_installed_height(bench)
    room.add_lifts(bench)
    lift, ratio = bench.value("net_valve_lift"), bench.value("ratio")
    alike = [each for each in made if each.value("net_valve_lift") == lift and each.value("ratio") == ratio]
    if lift is None or not alike:
        return analyse_line(line)
    moves = _moves_as(line)
    donor = max(
        alike, key=lambda each: (_moves_as(each.stated) == moves, each.dynamics is not None, _as_wide(bench, each))
    )
    return _like(bench, donor, moves_too=_moves_as(donor.stated) == moves)


def _as_wide(bench: Bench, donor: LineAnalysis) -> bool:
    """Whether the lift that the coils must clear at worst is the same."""
    return all(bench.value(name) == donor.value(name) for name in WIDEST)


def _like(bench: Bench, donor: LineAnalysis, *, moves_too: bool) -> LineAnalysis:
    line = bench.line
    gone = OF_FOLLOWER if moves_too else OF_FOLLOWER | OF_MOTION
    run = donor.dynamics if moves_too else None
    of_run = {} if run is None else run.figures
    figures = {name: each for name, each in donor.figures.items() if name not in gone}
    own = Bench(line, figures | bench.figures | of_run)
    if _as_wide(bench, donor):
        springs = donor.members
        own.figures.update({name: donor.figures[name] for name in members.MARGINS if name in donor.figures})
    else:
        springs = members.members_of(own, donor.nest)
        members.least_margins(own, springs)
    motion = donor.motion if moves_too else motion_of(own, donor.coils)
    follower = followers_of(own, motion)
    return replace(
        donor, stated=line, figures=own.figures, members=springs, motion=motion, follower=follower, dynamics=run
    )


def _moves_as(line: LineStated) -> tuple[object, ...]:
    """What of a follower the motion rests on: its shape, and the lash it runs with."""
    family = str(line.value("follower.family") or "")
    rolls = family.startswith("roller") or (not family and line.value("cam.kind") == "roller")
    lash = line.value("valve_gear.lash")
    runs_with = 0.0 if family.endswith("hydraulic") else lash
    return rolls, family == "bucket", runs_with, lash or 0.0
