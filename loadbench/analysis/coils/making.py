"""How a coil's figure is made: label and kind from the list of figures, nothing from what is not a number."""

from __future__ import annotations

import math

from loadbench.analysis.coils.result import FIGURES
from loadbench.analysis.figure import Figure, FigureKind, Input, Plain

NOT_STATED = "spring.coils"
"""What every figure waits for where the job has no coil at all."""


FROM_SIZES = "from the wire and the coils"


def coil_figure(  # noqa: PLR0913 - each is one thing that a figure tells
    name: str,
    value: float | None = None,
    formula: str = "",
    inputs: tuple[Input, ...] = (),
    *,
    source: str = "own derivation",
    evidence: str = FROM_SIZES,
    note: str = "",
    missing: tuple[str, ...] = (),
) -> Figure:
    """One figure of a coil by its name; what is not a finite number cannot be had."""
    label, kind = FIGURES[name]
    if value is None or not math.isfinite(value):
        return Figure(name=name, label=label, kind=kind, source=source, note=note, missing=missing)
    return Figure(
        name=name, label=label, kind=kind, value=value, formula=formula, inputs=inputs, source=source,
        evidence=evidence, note=note,
    )  # fmt: skip


def found(symbol: str, figure: Figure) -> Input:
    """A figure of the coil as the input of another."""
    value = 0.0 if figure.value is None else figure.value
    return Input(symbol=symbol, label=figure.label, value=value, kind=figure.kind, field=f"figures.{figure.name}")


def given(symbol: str, label: str, value: float, kind: FigureKind = Plain.NUMBER, field: str = "") -> Input:
    """A value as the input of a figure."""
    return Input(symbol=symbol, label=label, value=value, kind=kind, field=field)


def waits_for(*each: tuple[str, ...]) -> tuple[str, ...]:
    """Every field that one of them waits for, each once."""
    return tuple(dict.fromkeys(path for paths in each for path in paths))
