"""A plan into the job: kept beside it, or taken over by the valves; each one edit."""

from __future__ import annotations

from loadbench.assembly.answer import FitAnswer
from loadbench.errors import InputError
from loadbench.job.edits import replaced_all
from loadbench.job.kept_parts import Placed, Plan
from loadbench.job.model import Job
from loadbench.units import Kind, Style, parse

SAME = 1e-8
"""Two thicknesses closer than this, m, are one."""

WRITTEN = (("in", 0.0254, 3), ("mm", 0.001, 2), ("in", 0.0254, 4), ("mm", 0.001, 3))


def planned(job: Job, answer: FitAnswer, *, style: Style, made_on: str | None = None) -> Job:
    """The job with a plan kept in it; the valves stay as they are.

    Args:
        job: the job before.
        answer: a feasible fit of it.
        style: the units that new thicknesses are written in.
        made_on: a date, as text.

    Returns:
        The job after.
    """
    placed = tuple(_placed(job, style, each.valve, each.named, each.shims) for each in answer.plan)
    before = tuple(
        Placed(valve=each.valve, spring=job.valves[each.index].spring, shims=job.valves[each.index].shims)
        for each in answer.plan
    )
    plan = Plan(made_on=made_on, proved=answer.proved, placed=placed, before=before)
    return job.model_copy(update={"plan": plan})


def applied(job: Job, answer: FitAnswer, *, style: Style, made_on: str | None = None) -> Job:
    """The job whose valves stand as planned: each with its spring and its shims; the plan is kept too.

    Args:
        job: the job before.
        answer: a feasible fit of it.
        style: the units that new thicknesses are written in.
        made_on: a date, as text.

    Returns:
        The job after, validated.
    """
    kept = planned(job, answer, style=style, made_on=made_on)
    changes: dict[str, object] = {}
    for each, placed in zip(answer.plan, kept.plan.placed, strict=True):
        changes[f"valves.{each.index}.spring"] = placed.spring
        changes[f"valves.{each.index}.shims"] = placed.shims
    return replaced_all(kept, changes)


def _placed(job: Job, style: Style, valve: str, spring: str, shims: tuple[float, ...]) -> Placed:
    return Placed(valve=valve, spring=spring, shims=tuple(_as_stocked(job, shim, style) for shim in shims))


def _as_stocked(job: Job, thickness: float, style: Style) -> str:
    """A thickness as the stock names it, so that what was typed stays; else exactly, in inches or millimetres."""
    for text in job.shims_in_stock:
        try:
            if abs(parse(text, Kind.LENGTH, style).value - thickness) < SAME:
                return text
        except InputError:
            continue
    for unit, size, places in WRITTEN:
        text = f"{thickness / size:.{places}f}"
        if abs(float(text) * size - thickness) < SAME:
            return f"{text} {unit}"
    return f"{thickness * 1000:.6g} mm"
