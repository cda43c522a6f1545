"""What the panel lists: the doubts, the most telling first, then the springs that fail, each with its sentence."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from loadbench.findings.finding import Level
from ui.slip.slip_texts import verdict_text
from ui.trust import wording
from ui.trust.wording import tr

if TYPE_CHECKING:
    from loadbench.findings.set_check.result import SetCheck, SpringCheck
    from loadbench.readings.trust.flag import Flag
    from loadbench.units import Style


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One of the list. `spring` is "" where it speaks of the whole set; `path` is its reading in the job, if any.

    `rule` is what it adds when it is opened.
    """

    level: Level
    head: str
    sentence: str
    rule: str = ""
    spring: str = ""
    part: str = ""
    height: float | None = None
    path: str = ""


def entries_of(check: SetCheck, style: Style) -> tuple[Entry, ...]:
    """Every entry of a check, in the units on show."""
    doubts = tuple(_doubt(flag, style) for flag in check.flags)
    return (*doubts, *(_failed(spring, style) for spring in check.springs if spring.verdict.level is Level.STOP))


def _doubt(flag: Flag, style: Style) -> Entry:
    return Entry(
        level=Level.WATCH,
        head=wording.doubt_words(flag.kind),
        sentence=flag.told(style),
        rule=flag.rule,
        spring=flag.spring or "",
        part=flag.part,
        height=flag.height,
        path=flag.path,
    )


def _failed(spring: SpringCheck, style: Style) -> Entry:
    """A spring outside its window; all its misses stand in the detail."""
    worst = max(spring.verdict.misses, key=lambda miss: abs(miss.off))
    told = "; ".join(
        tr("{off} at {height}").format(off=wording.off_told(miss.off, style), height=wording.length(miss.height, style))
        for miss in spring.verdict.misses
    )
    return Entry(
        level=Level.STOP,
        head=tr("Fails: {spring}").format(spring=spring.id),
        sentence=verdict_text(spring.verdict, style).partition(": ")[2] + ".",
        rule=tr("Outside the window of the spec or the target: {misses}.").format(misses=told),
        spring=spring.id,
        height=worst.height,
    )
