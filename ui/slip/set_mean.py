"""The way from the slip to the bench: the mean of the numbered springs as the readings of the one spring."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication

from loadbench.findings.set_check.set_mean import SetMean, set_mean
from loadbench.job.edits import replaced
from loadbench.units import Kind, Style, tell

if TYPE_CHECKING:
    from loadbench.job.model import Job
    from ui.session import Session

READINGS = "spring.readings"
MOST_TOLD = 4
"""Heights that a sentence names one by one."""


def _tr(text: str) -> str:
    return QCoreApplication.translate("SetMean", text)


def mean_offered(session: Session) -> SetMean | None:
    """The mean that the line on show could take; None where it has readings, or no spring was tested."""
    analysis = session.state.analysis
    if not session.state.job.springs:
        return None
    return set_mean(analysis, session.line, _style(session))


def _style(session: Session) -> Style:
    """The units that the job is written in, else those on show."""
    return session.state.analysis.stated.style or session.style


def words_of(offered: SetMean) -> str:
    """What the button says."""
    count = offered.mean.springs
    if count == 1:
        return _tr("Take the loads of the one spring as readings")
    return _tr("Take the mean of the {count} springs as readings").format(count=count)


def why_told(offered: SetMean) -> str:
    """What the offer is about, or why there is no mean."""
    count = offered.mean.springs
    if not offered.mean.points:
        told = _tr(
            "The heights of the {count} tested springs differ too much for a mean: none was tested on all of them."
        )
        return told.format(count=count)
    if count == 1:
        return _tr("One numbered spring was tested, but the bench has no readings yet.")
    return _tr("{count} numbered springs were tested, but the bench has no readings yet.").format(count=count)


def take_mean(session: Session) -> str:
    """Put the mean into the readings of the line on show, as one step.

    Args:
        session: the job's; its record and tester stay as they are.

    Returns:
        What was taken, as a sentence; "" where there was nothing to take.
    """
    offered = mean_offered(session)
    if offered is None or not offered.readings:
        return ""
    field = READINGS if offered.shared else f"lines.{session.line}.{READINGS}"  # the other line has other springs

    def taken(job: Job) -> Job:
        return replaced(job, field, offered.readings)

    session.edit(_tr("take the mean of the springs as readings"), taken)
    said = taken_told(offered, session.style)
    session.announce(said)
    return said


def taken_told(offered: SetMean, style: Style) -> str:
    """What was taken, height by height, with how far the springs are apart, and what was left out."""
    mean = offered.mean
    several = _tr("{load} at {height}, springs within {spread}")
    single = _tr("{load} at {height}")
    told = []
    for point in mean.points[:MOST_TOLD]:
        text = (several if point.springs > 1 else single).format(
            load=tell(point.load, Kind.FORCE, style),
            height=tell(point.height, Kind.LENGTH, style),
            spread=tell(point.spread, Kind.FORCE, style),
        )
        told.append(f"{point.part} {text}" if point.part else text)
    more = len(mean.points) - MOST_TOLD
    if more > 0:
        told.append((_tr("and {count} more heights") if more > 1 else _tr("and 1 more height")).format(count=more))
    whole = _tr("Readings taken: the mean of {count} springs. {points}.")
    if mean.springs == 1:
        whole = _tr("Readings taken: the loads of one spring. {points}.")
    said = whole.format(count=mean.springs, points="; ".join(told))
    return f"{said} {_left_out_told(mean.left_out, style)}".strip()


def _left_out_told(left_out: tuple[tuple[str, float], ...], style: Style) -> str:
    if not left_out:
        return ""
    names = [f"{part} {tell(height, Kind.LENGTH, style)}".strip() for part, height in left_out[:MOST_TOLD]]
    more = _tr(", and {count} more").format(count=len(left_out) - MOST_TOLD) if len(left_out) > MOST_TOLD else ""
    return _tr("Left out, as not every spring was tested there: {heights}.").format(heights=", ".join(names) + more)
