"""The reason for a figure in texts: formula, numbers, inputs, evidence, uncertainty with what it is made of, source."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication

from loadbench.analysis.figure import Figure, Input, symbolic, told, worked
from loadbench.job.edits import value_at
from ui.labels import label_of
from ui.level_words import line_word, source_words
from ui.widgets.key_figures import DASH, waits_for
from ui.widgets.unbroken import as_typed, unbroken

if TYPE_CHECKING:
    from loadbench.analysis.result import Analysis
    from loadbench.job.stated import LineStated
    from loadbench.units import Style

_CONTEXT = "Formulas"
TESTER = (
    "tester.load_accuracy_percent",
    "tester.load_accuracy_fixed",
    "tester.load_repeatability",
    "tester.height_accuracy",
)
HEIGHT, BIND, LIFT, SEAL = (f"instruments.{name}" for name in ("installed_height", "bind_height", "lift", "seal"))
MADE_OF = {
    "rate": TESTER,
    "seat_load": (*TESTER, HEIGHT),
    "effective_seat_load": (*TESTER, HEIGHT),
    "follower_seat_load": (*TESTER, HEIGHT),
    "open_load": (*TESTER, HEIGHT, LIFT),
    "follower_open_load": (*TESTER, HEIGHT, LIFT),
    "installed_height": (HEIGHT,),
    "net_valve_lift": (LIFT,),
    "open_height": (HEIGHT, LIFT),
    "bind_margin": (HEIGHT, BIND, LIFT),
    "bind_margin_pumped_up": (HEIGHT, BIND, LIFT),
    "bind_margin_zero_lash": (HEIGHT, BIND, LIFT),
    "retainer_margin": (SEAL, LIFT),
}
"""The stated accuracies that a figure's uncertainty is made of."""


@dataclass(frozen=True, slots=True)
class InputRow:
    """One input of a formula: symbol, what it is, value, and the field or figure that it comes from."""

    symbol: str
    label: str
    value: str
    field: str = ""
    figure: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reason:
    """Why a figure is what it is, in texts to be shown: they break at no unit."""

    title: str
    headline: str
    symbols: str
    numbers: str
    inputs: tuple[InputRow, ...]
    notes: tuple[tuple[str, str], ...]

    def text(self) -> str:
        """All of it to be copied, line by line."""
        rows = [f"{row.symbol}\t{row.label}\t{row.value}" for row in self.inputs]
        notes = [f"{title}: {text}" for title, text in self.notes]
        lines = (self.headline, self.symbols, self.numbers, *rows, *notes)
        return as_typed("\n".join(line for line in lines if line))


def reason_of(figure: Figure, analysis: Analysis, line: str, style: Style) -> Reason:
    """The reason for a figure of one line.

    Args:
        figure: the figure.
        analysis: the job's.
        line: the line it is of.
        style: the units on show.

    Returns:
        Its reason in words; for an unknown figure what it waits for.
    """
    value = DASH if figure.value is None else str(told(figure.value, figure.kind, style, figure.expanded))
    title = figure.label if not analysis.has_lines else f"{figure.label}, {line_word(line).lower()}"
    headline = QCoreApplication.translate(_CONTEXT, "{label}: {value}").format(label=title, value=value)
    return Reason(
        title=title,
        headline=unbroken(headline),
        symbols=symbolic(figure),
        numbers=unbroken(worked(figure, style)) if "{" in figure.formula else "",
        inputs=tuple(_row(each, style) for each in figure.inputs),
        notes=tuple(_notes(figure, analysis.line(line).stated, style)),
    )


def _row(each: Input, style: Style) -> InputRow:
    value = str(told(each.value, each.kind, style))
    label = each.label[:1].upper() + each.label[1:]
    if each.field.startswith("figures."):
        return InputRow(each.symbol, label, value, figure=each.field.removeprefix("figures."))
    return InputRow(each.symbol, label, value, field=each.field)


def _notes(figure: Figure, line: LineStated, style: Style) -> list[tuple[str, str]]:
    def tr(text: str) -> str:
        return QCoreApplication.translate(_CONTEXT, text)

    notes = [("", waits_for(figure))] if not figure.known else []
    notes.append((tr("Evidence"), figure.evidence))
    notes.append((tr("Note"), figure.note))
    if figure.known:
        notes.append((tr("Uncertainty"), _uncertainty(figure, line, style)))
    notes.append((tr("Source"), source_words(figure.source)))
    return [(title, unbroken(text)) for title, text in notes if text]


def _uncertainty(figure: Figure, line: LineStated, style: Style) -> str:
    """U and the stated accuracies that it is made of, or why there is none."""
    if figure.expanded is None:
        text = "None is given: no accuracy that it would rest on is stated."
        return QCoreApplication.translate(_CONTEXT, text)
    both = told(figure.value or 0.0, figure.kind, style, figure.expanded)
    parts = [part for field in MADE_OF.get(figure.name, ()) if (part := _accuracy(field, line))]
    if not parts:
        text = (
            "\u00b1\u2009{u}\u2009{unit} (k = 2, about 95\u2009%), from the scatter of the readings about their line."
        )
        return QCoreApplication.translate(_CONTEXT, text).format(u=both.uncertainty, unit=both.unit)
    text = "\u00b1\u2009{u}\u2009{unit} (k = 2, about 95\u2009%), first order, from these half-widths: {parts}."
    return QCoreApplication.translate(_CONTEXT, text).format(u=both.uncertainty, unit=both.unit, parts="; ".join(parts))


def _accuracy(field: str, line: LineStated) -> str:
    """An accuracy as it was typed: it may be finer than figures of its kind are told."""
    if line.value(field) is None:
        return ""
    typed = value_at(line.stated.job, line.path(field))
    return (
        f"{label_of(field).lower()} {typed:g}\u2009%"
        if isinstance(typed, float | int)
        else f"{label_of(field).lower()} {typed}"
    )
