"""The words of the page: how a spring stands, what is doubted, shares, one mark in a sentence."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication

from loadbench.analysis.figure import Plain, told
from loadbench.findings.spec_check import SLACK
from loadbench.readings.trust.flag import FlagKind
from loadbench.units import Kind, Style, tell

if TYPE_CHECKING:
    from collections.abc import Iterable

    from loadbench.findings.rulebook import Limit
    from loadbench.findings.set_check.result import CheckPoint, Past
    from loadbench.findings.spec_check import Window

DASH = "\u2013"
THIN = "\u2009"
NOTHING = 1e-9  # a share: the rounding of floats
TESTER = (FlagKind.TESTER_ZERO, FlagKind.TESTER_SCALE)


def tr(text: str) -> str:
    """A text of the page in the user's language."""
    return QCoreApplication.translate("Trust", text)


def load(value: float, style: Style, expanded: float | None = None) -> str:
    """A load with its unit."""
    return str(tell(value, Kind.FORCE, style, expanded))


def length(value: float, style: Style) -> str:
    """A length with its unit."""
    return str(tell(value, Kind.LENGTH, style))


def number(value: float | None, kind: Kind, style: Style) -> str:
    """A figure under a head that names its unit; a dash where it is not known."""
    return DASH if value is None else tell(value, kind, style).number


def share(value: float | None, expanded: float | None = None) -> str:
    """A share in percent; a dash where it is not known."""
    return DASH if value is None else str(told(value, Plain.SHARE, Style.METRIC, expanded))


def at_height(part: str, height: float, style: Style) -> str:
    """Where a reading was taken: "outer 1.900 in"."""
    return f"{part} {length(height, style)}".strip()


def past_window(value: float, window: Window | None) -> float:
    """How far a load lies outside a window, N: below zero where it is low, 0 inside or without one."""
    if window is not None and window.least is not None and value < window.least * (1 - SLACK):
        return value - window.least
    if window is not None and window.greatest is not None and value > window.greatest * (1 + SLACK):
        return value - window.greatest
    return 0.0


def off_told(off: float, style: Style) -> str:
    """How far a load is out of its window: "7 lbf low"."""
    return (tr("{off} low") if off < 0 else tr("{off} high")).format(off=load(abs(off), style))


def doubt_words(kind: FlagKind) -> str:
    """The head of a doubt: who is asked to look, and at what."""
    words = {
        FlagKind.TESTER_ZERO: tr("Tester: its zero"),
        FlagKind.TESTER_SCALE: tr("Tester: its scale"),
        FlagKind.HEIGHT_TYPED_WRONG: tr("Look again: the height"),
        FlagKind.NOT_RISING: tr("Look again: loads do not rise"),
        FlagKind.REPEAT_DISAGREES: tr("Look again: repeats disagree"),
        FlagKind.OUTLIER: tr("Look again: stands out"),
        FlagKind.CURVED: tr("Look again: curved"),
    }
    return words[kind]


def listed(names: Iterable[str]) -> str:
    """Names in a row."""
    return ", ".join(names)


def fine_load(value: float, style: Style) -> str:
    """A small difference of loads, N above zero, to two digits: a whole one is told too coarsely for it."""
    shown = tell(value, Kind.FORCE, style, value or None)
    return f"{shown.number}{THIN}{shown.unit}"


def when(point: CheckPoint, unit: str | None) -> str:
    """When a check was made: its date, and what it ran until then."""
    name = {"now": tr("now")}.get(point.name, point.name)
    if unit == "hours" and point.hours is not None:
        return tr("{name}, {hours} h").format(name=name, hours=f"{point.hours:g}")
    if unit == "passes" and point.passes is not None:
        return tr("{name}, {passes} passes").format(name=name, passes=f"{point.passes:g}")
    return name


def any_lost(point: CheckPoint) -> bool:
    """Whether a spring has lost anything: at the first check the worst is but the first in the list."""
    return point.worst_lost is not None and abs(point.worst_lost) > NOTHING


def trend_told(past: Past, limit: Limit) -> str:
    """What the checks say of the loss over time, and when it meets the rule book's first limit."""
    trend = past.trend
    if trend is None:
        return tr("No trend: state hours, passes or the date of each check.")
    unit = {"hours": tr("hours"), "passes": tr("passes"), "days": tr("days")}[past.unit or "days"]
    step = _round_step(trend.last - trend.start)
    rate = share(trend.loss_per_unit * step, (trend.loss_per_unit_U or 0.0) * step or None)
    text = tr("The mean of the set loses {rate} for every {step} {unit}.")
    told_rate = text.format(rate=rate, step=f"{step:g}", unit=unit)
    if not trend.significant:
        why = (
            tr("two checks give no uncertainty")
            if trend.loss_per_unit_U is None
            else tr("that is within its uncertainty")
        )
        return tr("{rate} It is no trend yet: {why}.").format(rate=told_rate, why=why)
    at = trend.reaches(limit.watch) if limit.watch is not None else None
    if at is None:
        return told_rate
    text = tr("{rate} It meets {limit} at {at} {unit}.")
    return text.format(rate=told_rate, limit=share(limit.watch), at=f"{at:.3g}", unit=unit)


def _round_step(span: float) -> float:
    """A round number of hours, passes or days within a span."""
    return next((step for step in (1000.0, 100.0, 10.0) if span >= 2 * step), 1.0)
