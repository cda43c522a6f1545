"""Which figures stand in the strip, and what is said of one: value, what it waits for, which line is worse."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication

from loadbench.analysis.figure import Figure, told
from ui.labels import label_of
from ui.level_words import line_word

if TYPE_CHECKING:
    from loadbench.analysis.result import Analysis
    from loadbench.units import Style, Told

_CONTEXT = "Figures"
DASH = "\u2013"


@dataclass(frozen=True, slots=True)
class KeyFigure:
    """One figure of the strip as it stands: its texts, told to eye and ear alike."""

    name: str
    label: str
    told: Told | None
    waits_for: str
    line_note: str

    @property
    def note(self) -> str:
        """The quiet line beneath: what an unknown figure waits for, else which line is worse."""
        return self.waits_for or self.line_note

    @property
    def spoken(self) -> str:
        """Label and value for a screen reader."""
        value = str(self.told) if self.told else QCoreApplication.translate(_CONTEXT, "unknown")
        return f"{self.label}, {value}"


def key_names(analysis: Analysis, line: str, wanted: tuple[str, ...] = ()) -> tuple[str, ...]:
    """The names of the key figures of a line: the clearance's other form depends on how lash is taken up.

    Args:
        analysis: of the job.
        line: its name.
        wanted: by the page; those that the line has. None of them, or none wanted: those of the bench.
    """
    figures = analysis.line(line).figures
    if own := tuple(name for name in wanted if name in figures):
        return own
    other = next((name for name in ("bind_margin_pumped_up", "bind_margin_zero_lash") if name in figures), None)
    names = ("rate", "seat_load", "effective_seat_load", "open_load", "bind_margin", other, "retainer_margin")
    return tuple(name for name in (*names, "follower_seat_load", "follower_open_load") if name is not None)


def short_label(name: str) -> str:
    """What a key figure is called where room is scarce; "" for one that has no other name than its own."""
    labels = {
        "rate": QCoreApplication.translate(_CONTEXT, "Rate"),
        "seat_load": QCoreApplication.translate(_CONTEXT, "Seat load"),
        "effective_seat_load": QCoreApplication.translate(_CONTEXT, "Effective seat load"),
        "open_load": QCoreApplication.translate(_CONTEXT, "Load at full lift"),
        "bind_margin": QCoreApplication.translate(_CONTEXT, "Bind margin"),
        "bind_margin_pumped_up": QCoreApplication.translate(_CONTEXT, "Bind margin, pumped up"),
        "bind_margin_zero_lash": QCoreApplication.translate(_CONTEXT, "Bind margin, zero lash"),
        "retainer_margin": QCoreApplication.translate(_CONTEXT, "Retainer margin"),
        "follower_seat_load": QCoreApplication.translate(_CONTEXT, "Follower load, closed"),
        "follower_open_load": QCoreApplication.translate(_CONTEXT, "Follower load, full lift"),
        "plunger_depth_hot": QCoreApplication.translate(_CONTEXT, "Depth warm, by lengths"),
        "adjuster_turns": QCoreApplication.translate(_CONTEXT, "Turns past zero lash"),
        "depth_a_turn": QCoreApplication.translate(_CONTEXT, "Depth a turn"),
        "hot_lash_change": QCoreApplication.translate(_CONTEXT, "Lash, cold to warm"),
    }
    return labels.get(name, "")


def key_figure(analysis: Analysis, line: str, name: str, style: Style) -> KeyFigure:
    """One key figure of the line on show."""
    figure = analysis.line(line).figures[name]
    value = None if figure.value is None else told(figure.value, figure.kind, style, figure.expanded)
    label = short_label(name) or QCoreApplication.translate(_CONTEXT, figure.label)
    return KeyFigure(name, label, value, waits_for(figure), _line_note(analysis, line, name))


def waits_for(figure: Figure) -> str:
    """The inputs that an unknown figure waits for, in words; "" for a known one."""
    if figure.known:
        return ""
    names = ", ".join(label_of(field).lower() for field in dict.fromkeys(figure.missing))
    if not names:
        return QCoreApplication.translate(_CONTEXT, "Cannot be had from what is stated")
    return QCoreApplication.translate(_CONTEXT, "Waits for: {fields}").format(fields=names)


def _line_note(analysis: Analysis, line: str, name: str) -> str:
    """Which line is worse, where there are two and they differ."""
    if not analysis.has_lines:
        return ""
    values = {each.name: each.value(name) for each in analysis.lines}
    known = [value for value in values.values() if value is not None]
    if len(known) < len(values):
        return line_word(line)
    if max(known) - min(known) <= 1e-9 * max(abs(value) for value in known):
        return QCoreApplication.translate(_CONTEXT, "lines alike")
    worst = analysis.worst.get(name, line)
    if worst == line:
        return QCoreApplication.translate(_CONTEXT, "{line}, the worse").format(line=line_word(line))
    return QCoreApplication.translate(_CONTEXT, "{line} is worse").format(line=line_word(worst))
