"""What a picture of the coil waits for, in the words of the fields."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ui.labels import label_of

if TYPE_CHECKING:
    from loadbench.analysis.coils.result import CoilAnalysis

USUAL = ("spring.coils.0.wire.diameter", "spring.coils.0.mean_diameter", "spring.coils.0.active_coils")
"""Where to start when a figure does not say what it waits for."""
MOST = 4


def waited_for(coil: CoilAnalysis | None, *figures: str) -> str:
    """The fields that a coil's figures wait for, as a list within a sentence.

    Args:
        coil: the spring; None where the line has none.
        figures: names of its figures.

    Returns:
        Labels, each once.
    """
    fields = [] if coil is None else [field for name in figures for field in coil.figures[name].missing]
    fields = [field for field in fields if "figures." not in field] or list(USUAL)
    labels = list(dict.fromkeys(_within(label_of(field)) for field in fields))
    return ", ".join(labels[:MOST]) + (", …" if len(labels) > MOST else "")


def _within(label: str) -> str:
    return label[:1].lower() + label[1:]
