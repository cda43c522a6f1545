"""The words of the picture: level labels, the key, the read-out, and the one sentence that describes it."""

from __future__ import annotations

from collections.abc import Iterator

from PySide6.QtCore import QCoreApplication

from loadbench.analysis import LineAnalysis
from loadbench.analysis.figure import Figure, told
from loadbench.findings.finding import Finding, Level
from loadbench.units import Kind, Style, tell
from ui.plots.limits import level_of

CONTEXT = "BenchPicture"
SEEN = 5e-4
"""A chance is told from this share up; below, it rounds to nothing."""


def tr(text: str) -> str:
    """A text of the picture in the user's language."""
    return QCoreApplication.translate(CONTEXT, text)


def figure_text(figure: Figure | None, style: Style) -> str | None:
    """A figure with its unit and uncertainty; None where it cannot be had."""
    if figure is None or figure.value is None:
        return None
    return str(told(figure.value, figure.kind, style, figure.expanded))


def short_text(figure: Figure | None, style: Style) -> str | None:
    """A figure with its unit, for a dimension."""
    if figure is None or figure.value is None:
        return None
    return str(told(figure.value, figure.kind, style))


def length(value: float, style: Style) -> str:
    """A length with its unit."""
    return str(tell(value, Kind.LENGTH, style))


def level_word(level: Level) -> str:
    """A level as a word."""
    words = {
        Level.CLEAR: tr("clear"),
        Level.UNKNOWN: tr("unknown"),
        Level.WATCH: tr("watch"),
        Level.STOP: tr("stop"),
    }
    return words[level]


def dimension_texts(
    line: LineAnalysis, findings: tuple[Finding, ...], style: Style
) -> dict[tuple[str, str | None], tuple[str, str]]:
    """The values of the dimensions and the roles of their colours, by figure and member."""
    texts: dict[tuple[str, str | None], tuple[str, str]] = {}

    def add(name: str, member: str | None, figure: Figure | None) -> None:
        text = short_text(figure, style)
        if text is not None:
            texts[name, member] = (text, _role(level_of(findings, name, line.name, member)))

    add("installed_height", None, line.figures.get("installed_height"))
    add("retainer_margin", None, line.figures.get("retainer_margin"))
    for member in line.members:
        add("bind_margin", member.name, member.figures.get("bind_margin"))
    return texts


def _role(finding: Finding | None) -> str:
    return str(finding.level) if finding is not None and finding.level in (Level.WATCH, Level.STOP) else "ink"


def key_rows(line: LineAnalysis, findings: tuple[Finding, ...], style: Style) -> Iterator[tuple[str, str]]:
    """The rows of the key: text and role."""
    for member in line.members:
        figure = member.figures.get("bind_margin")
        label = tr("Coil clearance, {member}").format(member=member.name) if member.name else tr("Coil clearance")
        yield from _margin_row(label, figure, level_of(findings, "bind_margin", line.name, member.name), style)
    finding = level_of(findings, "retainer_margin", line.name)
    yield from _margin_row(tr("Retainer to seal"), line.figures.get("retainer_margin"), finding, style)
    if line.load_line is not None and any(len(strand.heights) > 1 for _, strand in line.load_line.strands):
        yield tr("Load line dashed: beyond the readings."), "quiet"


def _margin_row(label: str, figure: Figure | None, finding: Finding | None, style: Style) -> Iterator[tuple[str, str]]:
    text = figure_text(figure, style)
    if text is None:
        return
    if finding is None or finding.level is Level.UNKNOWN:
        yield tr("{label} {value}").format(label=label, value=text), "ink"
        return
    yield (
        tr("{label} {value}: {level}").format(label=label, value=text, level=level_word(finding.level)),
        str(finding.level),
    )
    if finding.chance is not None and finding.chance > SEEN and finding.limit is not None:
        share, limit = f"{100 * finding.chance:.2g}", length(finding.limit, style)
        yield tr("chance of under {limit}: {share}\u202f%").format(limit=limit, share=share), "quiet"


def read_out(line: LineAnalysis, height: float, style: Style) -> str:
    """What the read-out says at a height, m: height, lift, load, rate."""
    closed = line.value("installed_height")
    at = {"height": length(height, style), "lift": length((closed or 0.0) - height, style)}
    if line.load_line is None:
        return tr("Height {height}, lift {lift}").format(**at)
    expanded = line.load_line.uncertainty(height)
    load = tell(float(line.load_line.load(height)), Kind.FORCE, style, None if expanded is None else float(expanded))
    rate = tell(float(line.load_line.rate_at(height)), Kind.RATE, style)
    text = tr("Height {height}, lift {lift}, load {load}, rate {rate}").format(**at, load=load, rate=rate)
    return tr("{text} (beyond the readings)").format(text=text) if line.load_line.extrapolated(height) else text


def description(line: LineAnalysis, style: Style) -> str:
    """One sentence on what the picture shows, for those who do not see it."""
    names = ("installed_height", "seat_load", "open_height", "open_load", "bind_margin", "retainer_margin")
    values = {name: figure_text(line.figures.get(name), style) or tr("unknown") for name in names}
    return tr(
        "Half section and load line on one height scale: closed at {installed_height} with {seat_load}, full lift at "
        "{open_height} with {open_load}, coil clearance {bind_margin}, retainer to seal {retainer_margin}."
    ).format(**values)
