"""Candidates compared: the same figures and findings for the job's own spring and for each variant."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication

from loadbench.analysis import Analysis, analyse
from loadbench.analysis.figure import told
from loadbench.analysis.variants import with_variant
from loadbench.findings import judge
from loadbench.findings.finding import Level, Verdicts
from ui.widgets.finding_groups import place_of
from ui.widgets.key_figures import DASH, key_names, short_label

if TYPE_CHECKING:
    from loadbench.findings.shop import Shop
    from loadbench.units import Style
    from ui.state import State

_CONTEXT = "Variants"
SAME = 1e-9  # figures nearer than this share of each other are the same


@dataclass(frozen=True, slots=True)
class Candidate:
    """One spring judged in the job."""

    name: str
    analysis: Analysis
    verdicts: Verdicts


@dataclass(frozen=True, slots=True)
class Cell:
    """One figure of one candidate: its text, and how it differs from the job's own."""

    text: str
    mark: str


def candidates(state: State, shop: Shop | None) -> tuple[Candidate, ...]:
    """The job's own spring first, then each variant laid over it.

    Args:
        state: the job with its figures and verdicts.
        shop: the shop's rules.

    Returns:
        One candidate for each column.
    """
    own = state.job.spring.name or QCoreApplication.translate(_CONTEXT, "The job\u2019s own spring")
    found = [Candidate(own, state.analysis, state.verdicts)]
    for index, variant in enumerate(state.job.variants):
        analysis = analyse(with_variant(state.job, index))
        name = variant.name or QCoreApplication.translate(_CONTEXT, "Variant {number}").format(number=index + 1)
        found.append(Candidate(name, analysis, judge(analysis, shop)))
    return tuple(found)


def figure_rows(own: Candidate, line: str) -> tuple[str, ...]:
    """The figures that are compared."""
    return ("installed_height", *key_names(own.analysis, line))


def row_label(name: str) -> str:
    """What a compared figure is called."""
    if name == "installed_height":
        return QCoreApplication.translate(_CONTEXT, "Installed height")
    return short_label(name)


def cell(candidate: Candidate, own: Candidate, line: str, name: str, style: Style) -> Cell:
    """One figure of a candidate beside the job's own.

    Args:
        candidate: whose figure.
        own: the job's own spring.
        line: the line on show.
        name: of the figure.
        style: the units on show.

    Returns:
        Its text, and "higher" or "lower" with an arrow where it differs.
    """
    figure = candidate.analysis.line(line).figures.get(name)
    if figure is None or figure.value is None:
        mine = own.analysis.line(line).value(name)
        unknown = QCoreApplication.translate(_CONTEXT, "unknown")
        return Cell(DASH, unknown if candidate is not own and mine is not None else "")
    text = str(told(figure.value, figure.kind, style, figure.expanded))
    return Cell(text, "" if candidate is own else _mark(figure.value, own.analysis.line(line).value(name)))


def _mark(value: float, own: float | None) -> str:
    if own is None:
        return QCoreApplication.translate(_CONTEXT, "now known")
    if abs(value - own) <= SAME * max(abs(value), abs(own)):
        return ""
    if value > own:
        return QCoreApplication.translate(_CONTEXT, "\u25b2 higher")
    return QCoreApplication.translate(_CONTEXT, "\u25bc lower")


@dataclass(frozen=True, slots=True)
class Told:
    """One finding of a candidate: level, sentence, and whether the job's own spring has it at another level."""

    level: Level
    text: str
    differs: bool


def worst_findings(candidate: Candidate, own: Candidate, style: Style) -> tuple[Told, ...]:
    """The findings of a candidate that are not clear, worst first."""
    levels = {(each.id, each.line, each.member, each.valve): each.level for each in own.verdicts.findings}
    found = []
    for finding in candidate.verdicts.findings:
        if finding.level is Level.CLEAR:
            break  # worst first: the rest is clear
        place = place_of(finding)
        sentence = finding.sentence.told(style)
        text = f"{place}: {sentence}" if place else sentence
        before = levels.get((finding.id, finding.line, finding.member, finding.valve))
        found.append(Told(finding.level, text, candidate is not own and before is not finding.level))
    return tuple(found)
