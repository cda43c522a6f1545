"""A short way to add figures of a follower from a table of labels and kinds."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from loadbench.analysis.builder import Bench
from loadbench.analysis.figure import Figure, FigureKind, Input

NOT_THERE = "It cannot be had: nothing presses the follower on its lobe there, or an entry is beyond its sense."
"""Said of a figure whose inputs are all there and which has no value all the same."""

Labels = Mapping[str, tuple[str, FigureKind]]


@dataclass(frozen=True, slots=True)
class Chapter:
    """Adds the figures of one chapter; `common` stands in each unless it is said otherwise."""

    labels: Labels
    common: dict[str, Any] = field(default_factory=dict)
    figures: list[Figure] = field(default_factory=list)

    def add(self, name: str, value: float | None = None, **more: Any) -> float | None:
        """Keep a figure of the chapter.

        Args:
            name: of the figure.
            value: SI; None or no finite number where it cannot be had.
            more: further fields of Figure.

        Returns:
            The value.
        """
        label, kind = self.labels[name]
        known = None if value is None or not math.isfinite(value) else float(value)
        told = {**self.common, **more}
        if known is None and not told.get("missing") and not told.get("note"):
            told["note"] = NOT_THERE
        self.figures.append(Figure(name=name, label=label, kind=kind, value=known, **told))
        return known

    def unknown(self, names: tuple[str, ...], missing: tuple[str, ...], note: str = "") -> None:
        """Keep figures without values, and what they wait for."""
        for name in names:
            self.add(name, None, missing=missing, note=note)

    def into(self, bench: Bench) -> None:
        """Hand all figures over."""
        for figure in self.figures:
            bench.add(figure)


def entry(bench: Bench, symbol: str, label: str, path: str, kind: FigureKind) -> Input | None:
    """A stated entry as input of a formula; None where it is not stated."""
    return bench.stated(symbol, label, path, kind)
