"""Words for what a dynamic run found: bands of lost contact, their causes, and the figures of motion in order."""

from __future__ import annotations

from collections.abc import Iterator

from loadbench.analysis import LineAnalysis
from loadbench.analysis.motion import balance_figures, dynamics, lobe_figures, pushrod_figures
from loadbench.job.labels import names_of
from loadbench.job.model import Job
from loadbench.motion.bands import Cause, LossBand
from loadbench.units import Kind, Style, tell

MASSES = ("valve_side_mass", "referred_mass")
MOTION_FIGURES = (
    *MASSES,
    *balance_figures.FIGURES,
    *dynamics.FIGURES,
    *pushrod_figures.FIGURES,
    *lobe_figures.FIGURES,
)
"""Names of all figures of the motion, in the order in which they are told."""

CAUSES = {
    Cause.INERTIA: "inertia against the load; even in a rigid gear the moving mass asks for more than the spring gives",
    Cause.LINKAGE: "the linkage rings; a rigid one would hold",
    Cause.SURGE: "surge; a spring without waves would hold",
}
HELD = "Contact is held over the whole sweep."


def cause_told(band: LossBand) -> str:
    """What takes the contact away, in words; for surge with the mode and the order that swing most."""
    if band.cause is not Cause.SURGE or band.order is None or band.mode is None:
        return CAUSES[band.cause]
    spring = f"the spring \u201c{band.spring}\u201d" if band.spring else "the spring"
    return f"surge, mode {band.mode} of {spring} at order {band.order} of the cam; a spring without waves would hold"


def band_told(band: LossBand, style: Style) -> str:
    """The edges of a band, such as "6247 rpm to beyond the sweep"."""
    low = f"{'before ' if band.begins_below else ''}{tell(band.low, Kind.SPEED, style)}"
    return f"{low} to {'beyond the sweep' if band.high is None else tell(band.high, Kind.SPEED, style)}"


def bands_told(line: LineAnalysis, style: Style) -> Iterator[str]:
    """The bands of a line's dynamic run, each with its cause; one sentence where contact is held."""
    if line.dynamics is None:
        return
    if not line.dynamics.bands:
        yield HELD
    for band in line.dynamics.bands:
        yield f"{band_told(band, style)}: {cause_told(band)}"


def slack_told(line: LineAnalysis, style: Style) -> Iterator[str]:
    """Where the linkage above a follower of its own mass goes slack, and where the valve stays open; nothing else."""
    if line.dynamics is None or line.dynamics.found.tip is None:
        return
    found, tip = line.dynamics.found, line.dynamics.found.tip
    for band in line.dynamics.slack_bands:
        yield f"The linkage is slack, {band_told(band, style)}: {cause_told(band)}"
    held = tip.held_open > 0
    if held.any():
        low = tell(float(found.speeds[held][0]), Kind.SPEED, style)
        most = tell(float(tip.held_open.max()), Kind.LENGTH, style)
        yield f"The pumped-up follower holds the valve open, first at {low}, at most by {most}"


def typical_told(line: LineAnalysis) -> str:
    """What of the gear is not stated and was taken as is typical; "" where nothing was."""
    typical = () if line.motion.dynamic is None else line.motion.dynamic.typical
    return f"Not stated, taken as is typical: {', '.join(typical)}." if typical else ""


def waits_for(line: LineAnalysis, job: Job) -> str:
    """What the dynamic run of a line waits for, in words."""
    found = names_of(line.motion.missing, job) or "what is not stated"
    if line.motion.missing == (line.stated.path("cam.profile"),):
        found += " (a law, or two durations with the greatest lift, do as well)"
    return f"{found}. {line.motion.note.removesuffix('.')}" if line.motion.note else found
