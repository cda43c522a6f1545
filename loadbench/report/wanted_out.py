"""What a wanted speed needs, as JSON and as plain text: by the force balance, and by the dynamic run."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from loadbench.analysis import Analysis, LineAnalysis
from loadbench.analysis.motion.wanted_duty import WantedDuty
from loadbench.analysis.motion.wanted_run import HeldByRun, for_ringing
from loadbench.report.json_out import problems_as_json
from loadbench.report.motion_words import typical_told, waits_for
from loadbench.units import Kind, Style, tell

RPM = math.pi / 30
RIGID = "Force balance (a rigid linkage, a spring without waves)"
RUN = "Dynamic run (at every speed up to that, the spring's waves and the linkage's give in it)"
RINGING = (
    "Load is the wrong cure: surge or the linkage takes it, not inertia. A stiffer linkage, less mass, another spring "
    "or a gentler lobe does more, and what the follower bears sets the load."
)
CAUTION = (
    "Each need is with everything else as it is; bind, stress and what the follower bears are not asked here: enter "
    "the load and run check. The part makers' limits stand above these figures."
)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Answered:
    """A line and what its wanted speed needs; None with what it waits for."""

    line: LineAnalysis
    rigid: WantedDuty | None
    run: HeldByRun | None


def wanted_as_json(analysis: Analysis, answers: Sequence[Answered]) -> dict[str, Any]:
    """The answers in SI.

    Args:
        analysis: of the job.
        answers: line by line.

    Returns:
        What `json` can write; null where nothing of the kind does.
    """
    return {
        "wanted": [_answer(analysis, each) for each in answers],
        "problems": problems_as_json(tuple(analysis.stated.problems.values())),
    }


def _answer(analysis: Analysis, of: Answered) -> dict[str, Any]:
    out: dict[str, Any] = {"line": of.line.name if analysis.has_lines else None}
    rigid, run = of.rigid, of.run
    if rigid is None or run is None:
        return out | {"missing": list(of.line.motion.missing or ("duty.speed_limit",))}
    return out | {
        "missing": [],
        "speed_rpm": rigid.speed / RPM,
        "left_N": rigid.margin,
        "now": {
            "seat_load_N": rigid.seat_now, "open_load_N": rigid.open_now, "rate_N_per_m": rigid.rate_now,
            "referred_mass_kg": rigid.mass_now,
        },
        "force_balance": {
            "held": rigid.held,
            "least_force_N": rigid.least_force,
            "least_force_angle_rad": rigid.angle,
            "seat_load_N": rigid.seat_load,
            "seat_load_open_load_N": rigid.seat_open,
            "open_load_N": _finite(rigid.open_load),
            "rate_N_per_m": _finite(rigid.rate),
            "referred_mass_kg": _finite(rigid.mass),
        },
        "dynamic_run": {
            "held": run.held,
            "least_contact_force_N": run.least_force,
            "least_contact_force_rpm": run.weakest / RPM,
            "seat_load_N": run.seat_load,
            "open_load_N": run.open_load,
            "load_is_the_wrong_cure": for_ringing(run, rigid.seat_load),
            "needed_at_rpm": None if run.needed_at is None else run.needed_at / RPM,
        },
    }  # fmt: skip


def _finite(value: float) -> float | None:
    return value if math.isfinite(value) else None


def wanted_as_text(analysis: Analysis, answers: Sequence[Answered], style: Style) -> str:
    """The answers for a terminal.

    Args:
        analysis: of the job.
        answers: line by line.
        style: unit style.

    Returns:
        Lines of text.
    """
    told = [analysis.job.title or "Untitled job"]
    for each in answers:
        told += ["", f"Wanted{f' ({each.line.name})' if analysis.has_lines else ''}:"]
        told += [f"  {text}" for text in _told(analysis, each, style)]
    return "\n".join([*told, "", CAUTION])


def _told(analysis: Analysis, of: Answered, style: Style) -> Iterator[str]:
    rigid, run = of.rigid, of.run
    if rigid is None or run is None:
        wait = waits_for(of.line, analysis.job) if of.line.motion.missing else "a speed: --speed, or the speed limit"
        yield f"That waits for: {wait}."
        return

    def force(value: float) -> str:
        return str(tell(value, Kind.FORCE, style))

    def speed(value: float) -> str:
        return str(tell(value, Kind.SPEED, style))

    left = f", and {force(rigid.margin)} left at the valve" if rigid.margin else ""
    yield f"Contact held to {speed(rigid.speed)}{left}."
    yield f"Now: {force(rigid.seat_now)} seat, {force(rigid.open_now)} open."
    yield f"{RIGID}:"
    yield f"  left now: {force(rigid.least_force)} at cam {math.degrees(rigid.angle):.0f} deg from the nose"
    yield f"  seat load, at the rate of now: {_load(rigid.seat_load, force)}, {force(rigid.seat_open)} open"
    yield f"  open load, at the seat load of now: {_need(rigid.open_load, Kind.FORCE, style)}"
    yield f"  rate, at the seat load of now: {_need(rigid.rate, Kind.RATE, style)}"
    yield f"  mass referred to the valve, at most: {_mass(rigid.mass, style)}"
    yield f"{RUN}:"
    lost = run.least_force <= 0
    yield (
        f"  contact is lost from {speed(run.weakest)} on"
        if lost
        else f"  left now: {force(run.least_force)}, least of all at {speed(run.weakest)}"
    )
    if run.seat_load is None or run.open_load is None or run.needed_at is None:
        yield "  no seat load does: surge or the linkage take more than a spring of this rate and mass can give"
    else:
        at = "" if abs(run.needed_at - run.speed) < 1e-9 else f"; it is {speed(run.needed_at)} that needs it"
        yield f"  seat load, at the rate of now: {_load(run.seat_load, force)}, {force(run.open_load)} open{at}"
    if for_ringing(run, rigid.seat_load):
        yield f"  {RINGING}"
    if note := typical_told(of.line):
        yield note


def _load(value: float, force: Callable[[float], str]) -> str:
    return "none" if value <= 0 else force(value)


def _need(value: float, kind: Kind, style: Style) -> str:
    if not math.isfinite(value):
        return "none does; it falls short at the start of the lift already"
    return "none needed" if value <= 0 else str(tell(value, kind, style))


def _mass(value: float, style: Style) -> str:
    if not math.isfinite(value):
        return "any"
    return "none does" if value <= 0 else str(tell(value, Kind.MASS, style))
