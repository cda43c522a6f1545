"""Figures and findings as plain text for a terminal."""

from __future__ import annotations

from loadbench.analysis import Analysis, Figure
from loadbench.analysis.figure import told
from loadbench.findings import Finding, Verdicts
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
    """Everything a person reads in a terminal: problems, figures, advice, findings worst first.

    Args:
        analysis: what was computed.
        verdicts: what was judged.

    Returns:
        Lines of text in the job's unit style.
    """
    style = analysis.stated.style or Style.INCH_POUND
    lines = [analysis.job.title or "Untitled job", ""]
    if verdicts.problems:
        lines += ["Entries to mend:", *(f"  {problem}" for problem in verdicts.problems), ""]
    shown = [analysis.figures[name] for name in FIGURES if name in analysis.figures]
    lines += ["Figures" + (" (each from the line where it is worst)" if analysis.has_lines else "") + ":"]
    lines += [_figure(analysis, figure, style) for figure in shown]
    given = [("axle", verdicts.advice.axle), ("travel", verdicts.advice.travel)]
    lines += ["", "Advice:"] if any(choice.choice for _, choice in given) else []
    for name, choice in given:
        if choice.choice:
            runner_up = f"; next best: {choice.runner_up}" if choice.runner_up else ""
            lines.append(f"  {name}: {choice.choice}{runner_up}. {choice.reason.told(style)}")
    lines += ["", "Findings, worst first:"]
    lines += [_finding(finding, style) for finding in verdicts.findings]
    lines += [
        "",
        "Limits without a source are common practice and can be changed. The part maker's sheet, local rules and a",
    ]
    lines += ["qualified engine builder come first. A compressed valve spring stores enough energy to injure."]
    return "\n".join(lines)


def _figure(analysis: Analysis, figure: Figure, style: Style) -> str:
    line = f"  [{analysis.worst[figure.name]}]" if analysis.has_lines else ""
    if figure.value is None:
        return f"  {figure.label:<34} \u2013  waits for {', '.join(figure.missing)}"
    value = str(told(figure.value, figure.kind, style, figure.expanded))
    return f"  {figure.label:<34} {value:<24} {figure.evidence}{line}".rstrip()


def _finding(finding: Finding, style: Style) -> str:
    where = " ".join(
        part for part in (finding.line, finding.member, finding.valve and f"valve {finding.valve}") if part
    )
    text = (
        f"  {finding.level.upper():<8} {finding.title}{f' ({where})' if where else ''}: {finding.sentence.told(style)}"
    )
    if finding.missing:
        text += f" Waits for: {', '.join(finding.missing)}."
    if finding.fix:
        text += f" To clear it: {finding.fix.told(style)}"
    return text + (
        ""
        if finding.chance is None or finding.chance < 0.005
        else f" Chance of standing past it: {100 * finding.chance:.0f} %."
    )
