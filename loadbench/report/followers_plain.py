"""The follower of each line, and the match of families, as plain text for a terminal."""

from __future__ import annotations

from loadbench.analysis import Analysis
from loadbench.analysis.figure import told
from loadbench.findings.finding import Level
from loadbench.findings.match.result import CRITERION_WORDS, KIT_WORDS, Cell, Kit, Match
from loadbench.job.labels import names_of
from loadbench.report.follower_words import TOLD_SHORTLY
from loadbench.units import Style

WORST_FIRST = (Level.STOP, Level.WATCH, Level.UNKNOWN)


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
    """The match as lines of text: what is recommended, one line a family, and what would change the runner-up.

    Args:
        match: of the job; None: none was made.
        style: unit style.

    Returns:
        Lines of text.
    """
    if match is None:
        return []
    lines = ["", f"Which follower: {match.family.reason.told(style)}"]
    if match.family.runner_up:
        second = Kit(match.family.runner_up)
        changes = " ".join(each.told(style) for each in match.changes.get(second, ()))
        lines.append(f"  Next best: {KIT_WORDS[second]}.{f' It would take: {changes}' if changes else ''}")
    lines += [_family_told(match, kit) for kit in Kit]
    return lines


def _family_told(match: Match, kit: Kit) -> str:
    """One family: its worst level, what it stands by, and where trade and physics disagree."""
    own = [cell for cell in match.cells if cell.kit is kit and cell.level is not None]
    worst = max((cell.level for cell in own if cell.level), key=lambda level: level.rank, default=Level.CLEAR)
    by_level = {level: [cell for cell in own if cell.level is level] for level in WORST_FIRST}
    parts = [f"{level} by {_named(cells)}" for level, cells in by_level.items() if cells]
    apart = [cell for cell in own if cell.disagree]
    parts += [f"trade and physics disagree on {_named(apart)}"] if apart else []
    mark = " (stated)" if kit is match.stated else ""
    return f"  {worst.upper():<8} {KIT_WORDS[kit]}{mark}: {'; '.join(parts) or 'clear of all'}"


def _named(cells: list[Cell]) -> str:
    return ", ".join(CRITERION_WORDS[cell.criterion].lower() for cell in cells)
