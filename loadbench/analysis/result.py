"""The one result object: every line's figures, and for each figure the line where it is worst."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from loadbench.analysis.figure import Figure
from loadbench.analysis.line import LineAnalysis, analyse_line
from loadbench.analysis.springs import SetAnalysis, analyse_set
from loadbench.errors import Problem
from loadbench.job.checks import checked
from loadbench.job.model import Job
from loadbench.job.stated import Stated, read_stated

GREATEST = frozenset(
    {
        "open_load",
        "net_valve_lift",
        "gross_valve_lift",
        "lift_at_zero_lash",
        "lift_pumped_up",
        "follower_seat_load",
        "follower_open_load",
        "plunger_depth",
        "open_load_loading",
        "open_load_unloading",
        "damper_energy",
        "referred_mass",
        "valve_side_mass",
        "greatest_force_idle",
        "greatest_force_limit",
        "greatest_contact_force",
        "seating_speed",
        "surge_load",
        "open_load_loss",
        "lift_loss",
        "loft",
        "pushrod_load",
        "pushrod_stress",
        "greatest_pressure_angle",
        "face_needed",
        "hertz_nose",
        "hertz_nose_limit",
        "hertz_flank",
        "contact_share",
        "sliding_speed",
        "wear_load",
        "axle_load",
        "needle_equivalent_load",
        "bush_pressure",
        "bush_speed",
        "bush_pv",
        "pin_stress",
        "pin_shear",
        "plunger_squeeze",
        "leak_lift_loss",
        "pump_up_lift",
        "pump_up_recovery",
    }
)
RATES = frozenset({"rate", "rate_measured", "rate_stated", "rate_geometric"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Analysis:
    """What was computed of a job. `figures` holds each figure from the line where it is worst."""

    job: Job
    stated: Stated
    lines: tuple[LineAnalysis, ...]
    figures: dict[str, Figure]
    worst: dict[str, str]
    set: SetAnalysis

    @property
    def problems(self) -> tuple[Problem, ...]:
        """Every fault of value, in the order of their paths."""
        return tuple(self.stated.problems[path] for path in sorted(self.stated.problems))

    @property
    def has_lines(self) -> bool:
        """Whether intake and exhaust stand apart."""
        return len(self.lines) > 1

    def line(self, name: str | None) -> LineAnalysis:
        """A line by name; the first where the name is None or unknown."""
        return next((line for line in self.lines if line.name == name), self.lines[0])

    def value(self, name: str) -> float | None:
        """The worst value of a figure, SI."""
        figure = self.figures.get(name)
        return None if figure is None else figure.value


def analyse(job: Job) -> Analysis:
    """Compute everything that a job's statements give.

    Args:
        job: the job as typed.

    Returns:
        All figures; what cannot be had is there without a value and names what it waits for.
    """
    stated = checked(read_stated(job))
    lines = tuple(analyse_line(stated.line(name)) for name in stated.lines)
    figures, worst = worst_figures(lines)
    by_name = {line.name: line for line in lines}
    return Analysis(job=job, stated=stated, lines=lines, figures=figures, worst=worst, set=analyse_set(stated, by_name))


def worst_figures(lines: tuple[LineAnalysis, ...]) -> tuple[dict[str, Figure], dict[str, str]]:
    """Each figure from the line where it is worst.

    Least for margins, seat loads and heights; greatest for open load, lift, follower loads and the damper's energy;
    the rate is that of the line with the greatest open load.
    """
    names = dict.fromkeys(name for line in lines for name in line.figures)
    loaded = _pick(lines, "open_load", max)
    figures: dict[str, Figure] = {}
    worst: dict[str, str] = {}
    for name in names:
        if name in RATES:
            line = loaded if loaded is not None and loaded.value(name) is not None else _pick(lines, name, max)
        else:
            line = _pick(lines, name, max if name in GREATEST else min)
        line = line or next(line for line in lines if name in line.figures)
        figures[name], worst[name] = line.figures[name], line.name
    return figures, worst


def _pick(lines: tuple[LineAnalysis, ...], name: str, choose: Callable[..., LineAnalysis]) -> LineAnalysis | None:
    known = [line for line in lines if line.value(name) is not None]
    return choose(known, key=lambda line: line.value(name)) if known else None
