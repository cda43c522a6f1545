"""What the answer has to say, as headed lines: limits that bind, what would free a plan, shims to lay out, notes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication

from loadbench.findings.finding import Level
from loadbench.job.labels import name_of, pattern_of
from loadbench.units import Kind, Style, parse, tell
from ui.fitup.rows import spread_of
from ui.fitup.wording import TIMES, amount, number
from ui.labels import translated

if TYPE_CHECKING:
    from loadbench.assembly.answer import FitAnswer, PlacedSpring
    from loadbench.errors import Problem
    from loadbench.job.kept_parts import Placed
    from loadbench.job.model import Job
    from ui.fitup.rows import ValveRow

SAME = 1e-8  # m: two thicknesses closer than this are one


@dataclass(frozen=True, slots=True)
class Line:
    """One sentence; `valves` can be lit up, `field` can be gone to."""

    text: str
    level: Level | None = None
    valves: tuple[str, ...] = ()
    field: str = ""


Section = tuple[str, tuple[Line, ...]]


def _tr(text: str) -> str:
    return QCoreApplication.translate("Fitup", text)


def sections_of(answer: FitAnswer | None, job: Job, style: Style) -> list[Section]:
    """Everything beneath the figures, in the order in which it is wanted at the bench; empty parts left out."""
    if answer is None:
        return []
    found = [
        (_tr("Needed first"), _problems(answer, job)),
        (_tr("What binds"), tuple(Line(b.sentence.told(style), Level.STOP, b.valves) for b in answer.binding)),
        (_tr("One of these would free a plan"), tuple(Line(each.sentence.told(style)) for each in answer.frees)),
        (_tr("Shims to lay out"), _shopping(answer, job, style)),
        (_tr("Springs left over"), (Line(", ".join(answer.spare)),) if answer.feasible and answer.spare else ()),
        (_tr("Kept plan"), _kept(answer, job, style)),
        (_tr("Look again"), tuple(Line(each.told(style), Level.WATCH) for each in answer.doubts)),
        (_tr("Not checked"), _unchecked(answer, style)),
        (_tr("Before it is run"), _caution(answer)),
    ]
    return [section for section in found if section[1]]


def _problems(answer: FitAnswer, job: Job) -> tuple[Line, ...]:
    """One line for each sort of fault: sixteen valves without a height are one thing to do."""
    sorts: dict[str, list[Problem]] = {}
    for problem in answer.problems:
        sorts.setdefault(pattern_of(problem.place.field or problem.what), []).append(problem)
    return tuple(_problem(each[0], job, len(each) - 1) for each in sorts.values())


def _problem(problem: Problem, job: Job, more: int) -> Line:
    """A fault that says nothing of its place is told with it: "Bare height, valve 2E: the unit is not known."."""
    field, what = problem.place.field or "", problem.what.rstrip(".")
    if what[:1].islower():
        what = f"{name_of(field, job, translated)}: {what}"
    wanted = _tr("{what}. Wanted: {expected}.") if problem.expected else _tr("{what}.")
    told = wanted.format(what=what, expected=problem.expected)
    told = _tr("{told} So too {count} more.").format(told=told, count=more) if more else told
    return Line(told, Level.UNKNOWN, field=field)


def _caution(answer: FitAnswer) -> tuple[Line, ...]:
    if not answer.feasible:
        return ()
    text = _tr("Check every height and load on the head. The maker\u2019s sheet and a qualified builder come first.")
    return (Line(text),)


def _unchecked(answer: FitAnswer, style: Style) -> tuple[Line, ...]:
    if answer.problems:
        return ()  # what is needed comes first
    return tuple(Line(each.told(style), Level.UNKNOWN) for each in answer.unchecked)


def _shopping(answer: FitAnswer, job: Job, style: Style) -> tuple[Line, ...]:
    if not answer.feasible:
        return ()
    if not answer.shopping:
        return (Line(_tr("None.")),)
    counts = _counts(job, style)
    lines = []
    for size, wanted in sorted(answer.shopping.items()):
        text = f"{wanted} {TIMES} {tell(size, Kind.LENGTH, style)}"
        have = next((count for known, count in counts.items() if abs(known - size) < SAME), None)
        lines.append(Line(text if have is None else _tr("{text} of {have} in stock").format(text=text, have=have)))
    return tuple(lines)


def _counts(job: Job, style: Style) -> dict[float, int]:
    found: dict[float, int] = {}
    for size, count in zip(job.shims_in_stock, job.shim_counts, strict=False):
        metres = _metres(size, style)
        if count is not None and metres is not None:
            found[metres] = found.get(metres, 0) + count
    return found


def _metres(text: str, style: Style) -> float | None:
    from loadbench.errors import InputError

    try:
        return parse(text, Kind.LENGTH, style).value
    except InputError:
        return None


def _kept(answer: FitAnswer, job: Job, style: Style) -> tuple[Line, ...]:
    """The plan that the job holds against the one on show."""
    if not job.plan.placed:
        return ()
    date = job.plan.made_on or _tr("without a date")
    if not answer.feasible:
        return (Line(_tr("Of {date}, kept in the job.").format(date=date)),)
    kept = {each.valve: each for each in job.plan.placed}
    other = [each.valve for each in answer.plan if not _same(each, kept.get(each.valve), style)]
    if not other and len(kept) == len(answer.plan):
        return (Line(_tr("Of {date}: the same as this one.").format(date=date)),)
    text = _tr("Of {date}: another on {count} of {all} valves.")
    whole = text.format(date=date, count=len(other), all=len(answer.plan))
    return (Line(whole, valves=tuple(other)),)


def _same(placed: PlacedSpring, kept: Placed | None, style: Style) -> bool:
    if kept is None or kept.spring != placed.spring or len(kept.shims) != len(placed.shims):
        return False
    sizes = sorted(_metres(shim, style) or 0.0 for shim in kept.shims)
    return all(abs(a - b) < SAME for a, b in zip(sizes, sorted(placed.shims), strict=True))


def figures_of(answer: FitAnswer | None, rows: tuple[ValveRow, ...], style: Style) -> list[tuple[str, str, str]]:
    """The key figures of a plan as (label, value, what it is).

    Args:
        answer: with a plan, else there are none.
        rows: the valves as they stand.
        style: the units on show.
    """
    if answer is None or not answer.feasible:
        return []
    before = spread_of([row.seat for row in rows])
    spread = amount(answer.seat_spread, Kind.FORCE, style)
    if before is not None:
        spread = f"{number(before, Kind.FORCE, style)} \u2192 {spread}"
    found = [
        (_tr("Spread of seat load"), spread, _tr("Greatest less least seat load over all valves, now and planned")),
    ]
    aimed = any(row.target is not None for row in rows)
    if aimed and answer.target_deviation is not None and answer.plan:
        mean = answer.target_deviation / len(answer.plan)
        tip = _tr("How far the planned seat loads are from the wanted one, on average; all valves together: {sum}")
        whole = tip.format(sum=amount(answer.target_deviation, Kind.FORCE, style))
        found.append((_tr("Off the wanted load"), amount(mean, Kind.FORCE, style), whole))
    used = str(answer.shims_used or 0)
    found.append((_tr("Shims used"), used, _tr("All shims of the plan together")))
    return found
