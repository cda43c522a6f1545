"""Figures and findings as plain text for a terminal."""

from __future__ import annotations

from loadbench.analysis import Analysis, Figure
from loadbench.analysis.damper import DAMPER_FIGURES, damper_entered
from loadbench.analysis.figure import told
from loadbench.errors import Problem
from loadbench.findings import Finding, Verdicts
from loadbench.findings.finding import RANKS, Choice
from loadbench.job.labels import names_of
from loadbench.job.model import Job
from loadbench.report.coils_plain import coils_told
from loadbench.report.entries import entries_counted, entry_told
from loadbench.report.followers_plain import followers_told, match_told
from loadbench.report.motion_plain import motion_told
from loadbench.units import Style

FIGURES = (
    "rate",
    "installed_height",
    "seat_load",
    "effective_seat_load",
    "net_valve_lift",
    "open_height",
    "open_load",
    "bind_margin",
    "bind_margin_zero_lash",
    "bind_margin_pumped_up",
    "retainer_margin",
    "follower_seat_load",
    "follower_open_load",
)


def as_text(analysis: Analysis, verdicts: Verdicts) -> str:
    """Everything a person reads in a terminal: problems, figures, advice, findings worst first, and the count of all.

    Args:
        analysis: what was computed.
        verdicts: what was judged.

    Returns:
        Lines of text in the job's unit style.
    """
    style, job = analysis.stated.style or Style.INCH_POUND, analysis.job
    lines = [job.title or "Untitled job", ""]
    if verdicts.problems:
        lines += [f"{entries_counted(verdicts.problems)}; {_unknown_by(analysis, verdicts)}:"]
        lines += [*(f"  {_entry(problem, analysis)}" for problem in verdicts.problems), ""]
    shown = [analysis.figures[name] for name in _names(analysis) if name in analysis.figures]
    lines += ["Figures" + (" (each from the line where it is worst)" if analysis.has_lines else "") + ":"]
    lines += [_figure(analysis, figure, style) for figure in shown]
    lines += coils_told(analysis, style)
    lines += motion_told(analysis, style)
    lines += followers_told(analysis, style)
    given = [("axle", verdicts.advice.axle), ("travel", verdicts.advice.travel)]
    lines += ["", "Advice:"] if any(choice.choice for _, choice in given) else []
    lines += [_choice(name, choice, style) for name, choice in given if choice.choice]
    lines += match_told(verdicts.match, style)
    lines += ["", "Findings, worst first:"]
    lines += [_finding(finding, style, job) for finding in verdicts.findings]
    lines += ["", _summary(verdicts), ""]
    lines += [
        "Limits without a source are common practice and can be changed. The part maker's sheet, local rules and a",
        "qualified engine builder come first. A compressed valve spring stores enough energy to injure.",
    ]
    return "\n".join(lines)


def _names(analysis: Analysis) -> tuple[str, ...]:
    """The figures told: the damper's only where its load was entered."""
    damped = any(damper_entered(line.stated) for line in analysis.lines)
    return (*FIGURES, *DAMPER_FIGURES) if damped else FIGURES


def _unknown_by(analysis: Analysis, verdicts: Verdicts) -> str:
    """What the entries to mend leave unknown: all that depends on them, or only what is told of one that counts."""
    counting, one = [_counts(problem, analysis) for problem in verdicts.problems], len(verdicts.problems) == 1
    if all(counting):
        return f"{'it counts' if one else 'they count'} all the same, but for what is told to be unknown"
    unless = ", unless it is told that it counts" if any(counting) else ""
    return f"what depends on {'it' if one else 'them'} is unknown{unless}"


def _entry(problem: Problem, analysis: Analysis) -> str:
    counts = " It counts for all else." if _counts(problem, analysis) else ""
    return entry_told(problem, analysis.job) + counts


def _counts(problem: Problem, analysis: Analysis) -> bool:
    """Whether an entry is only told of: its value is used."""
    field = problem.place.field or ""
    return field in analysis.stated.problems and not analysis.stated.faulty(field)


def _summary(verdicts: Verdicts) -> str:
    """The entries to mend and the findings by level, apart: faulty entries leave little to be judged a stop."""
    levels = ", ".join(f"{verdicts.count(level)} {level}" for level in reversed(RANKS))
    mend = entries_counted(verdicts.problems)
    told = f"In sum: {mend}, and of the findings {levels}." if mend else f"In sum: {levels}; no entry to mend."
    return told if verdicts.complete else f"{told} Not complete: a main figure is unknown."


def _figure(analysis: Analysis, figure: Figure, style: Style) -> str:
    if figure.value is None:
        told_why = f"waits for {names_of(figure.missing, analysis.job) or 'what is not stated'}"
        if figure.note and not figure.missing:
            told_why = figure.note
        return f"  {figure.label:<34} \u2013  {told_why}"
    value = str(told(figure.value, figure.kind, style, figure.expanded))
    line = f"[{analysis.worst[figure.name]}]" if analysis.has_lines else ""
    return f"  {figure.label:<34} {value:<24} {figure.evidence:<24} {line}".rstrip()


def _choice(name: str, choice: Choice, style: Style) -> str:
    chosen = "an open question" if choice.choice == "open" else choice.choice
    runner_up = f"; next best: {choice.runner_up}" if choice.runner_up else ""
    return f"  {name}: {chosen}{runner_up}. {choice.reason.told(style)}".rstrip()


def _finding(finding: Finding, style: Style, job: Job) -> str:
    where = " ".join(
        part for part in (finding.line, finding.member, finding.valve and f"valve {finding.valve}") if part
    )
    text = (
        f"  {finding.level.upper():<8} {finding.title}{f' ({where})' if where else ''}: {finding.sentence.told(style)}"
    )
    if finding.missing:
        text += f" Waits for: {names_of(finding.missing, job)}."
    if finding.fix:
        text += f" To clear it: {finding.fix.told(style)}"
    return text + ("" if finding.chance is None else _chance(finding.chance))


def _chance(chance: float) -> str:
    """The chance of being on the wrong side of the limit that the sentence names; "" where it is next to none."""
    if chance < 0.005:
        return ""
    told = "over 99 %" if chance > 0.99 else f"{100 * chance:.0f} %"
    return f" Chance of being past this limit: {told}."
