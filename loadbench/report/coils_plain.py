"""The springs from the wire up as plain text for a terminal."""

from __future__ import annotations

from collections.abc import Iterator

from loadbench.analysis import Analysis
from loadbench.analysis.coils.result import CoilAnalysis
from loadbench.analysis.figure import told
from loadbench.units import Kind, Style

ROWS = (
    ("Rate from the geometry", ("geometric_rate",)),
    ("Spring index", ("spring_index",)),
    ("Active of total coils", ("active_coils", "total_coils")),
    ("Stress closed, full lift, bind", ("shear_stress_seat", "shear_stress_open", "shear_stress_bind")),
    ("  of the tensile strength", ("stress_share_seat", "stress_share_open", "stress_share_bind")),
    ("Tensile strength", ("tensile_strength",)),
    (
        "Fatigue: Goodman, Gerber, Sines",
        ("fatigue_factor_goodman", "fatigue_factor_gerber", "fatigue_factor_sines"),
    ),
    ("First surge mode", ("surge_frequency",)),
    ("  over the cam's speed", ("surge_ratio",)),
    ("Mass of the moving coils", ("moving_mass",)),
    ("Gap to the next spring inside", ("gap_to_next",)),
    ("Gap to the retainer's step", ("retainer_step_gap",)),
)
"""What a row is called, and the figures that stand in it; a row of which nothing is known is left out."""


def coils_told(analysis: Analysis, style: Style) -> list[str]:
    """The coils of every line as lines of text; lines whose coils are alike are told once.

    Args:
        analysis: what was computed.
        style: unit style.

    Returns:
        Lines of text; none where nothing is stated of any wire.
    """
    lines: list[str] = []
    before: list[str] = []
    for line in analysis.lines:
        own = [text for coil in line.coils if coil.concerned for text in _coil(coil, style)]
        if own and own != before:
            lines += ["", f"Wire and coil{f' ({line.name})' if analysis.has_lines else ''}:", *own]
        before = own
    return lines


def _coil(coil: CoilAnalysis, style: Style) -> Iterator[str]:
    yield f"  {coil.name}"
    rising = modes_told(coil, style)
    for label, names in ROWS:
        values = [coil.figures[name] for name in names]
        if any(each.known for each in values):
            texts = [
                "\u2013" if each.value is None else str(told(each.value, each.kind, style, each.expanded))
                for each in values
            ]
            yield f"    {label:<32} {'; '.join(texts)}"
        if names == ("surge_frequency",) and rising:
            yield f"    {'  closed, full lift':<32} {rising}"


def modes_told(coil: CoilAnalysis, style: Style) -> str:
    """The first mode closed and at full lift, where coils land in between; else ""."""
    closed, full = coil.modes_closed, coil.modes_open
    if closed is None or full is None or full[0] <= closed[0] * (1 + 1e-9):
        return ""
    return "; ".join(str(told(float(each[0]), Kind.FREQUENCY, style)) for each in (closed, full))
