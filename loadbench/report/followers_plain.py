"""The follower of each line, and the match of families, as plain text for a terminal."""

from __future__ import annotations

from loadbench.analysis import Analysis
from loadbench.analysis.figure import told
from loadbench.findings.finding import Level
from loadbench.findings.match.result import CRITERION_WORDS, KIT_WORDS, Kit, Match
from loadbench.job.labels import names_of
from loadbench.report.follower_words import TOLD_SHORTLY
from loadbench.units import Style


def followers_told(analysis: Analysis, style: Style) -> list[str]:
    """The main figures of every line's follower as lines of text; none where none can be had.

    Args:
        analysis: what was computed.
        style: unit style.

    Returns:
        Lines of text.
    """
    lines: list[str] = []
    for line in analysis.lines:
        shown = [line.figures[name] for name in TOLD_SHORTLY if name in line.figures]
        if not any(figure.known for figure in shown):
            continue
        lines += ["", f"Follower{f' ({line.name})' if analysis.has_lines else ''}:"]
        for figure in shown:
            if figure.value is not None:
                value = str(told(figure.value, figure.kind, style))
                lines.append(f"  {figure.label:<60} {value:<16} {figure.evidence}".rstrip())
            else:
                why = names_of(figure.missing, analysis.job)
                lines.append(f"  {figure.label:<60} \u2013  {f'waits for {why}' if why else figure.note}")
    return lines


def match_told(match: Match | None, style: Style) -> list[str]:
    """The match as lines of text: what is recommended, and one line a family."""
    if match is None:
        return []
    lines = ["", f"Which follower: {match.family.reason.told(style)}"]
    if match.family.runner_up:
        lines.append(f"  Next best: {KIT_WORDS[Kit(match.family.runner_up)]}.")
    for kit in Kit:
        own = [cell for cell in match.cells if cell.kit is kit and cell.level is not None]
        worst = max((cell.level for cell in own if cell.level), key=lambda level: level.rank, default=Level.CLEAR)
        parts = []
        for level in (Level.STOP, Level.WATCH, Level.UNKNOWN):
            named = [CRITERION_WORDS[cell.criterion].lower() for cell in own if cell.level is level]
            parts += [f"{level} by {', '.join(named)}"] if named else []
        mark = " (stated)" if kit is match.stated else ""
        lines.append(f"  {worst.upper():<8} {KIT_WORDS[kit]}{mark}: {'; '.join(parts) or 'clear of all'}")
    return lines
