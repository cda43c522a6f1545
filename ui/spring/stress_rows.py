"""The data behind the stress picture: each spring's stresses, strengths and factors, a row each."""

from __future__ import annotations

from typing import TYPE_CHECKING

from loadbench.units import Kind, Style, display_unit, to_display

if TYPE_CHECKING:
    from loadbench.analysis.coils.result import CoilAnalysis

STRESSES = (
    "closed",
    "full_lift",
    "bind",
    "alternating",
    "mean",
    "ultimate_shear",
    "amplitude",
    "amplitude_mean",
    "endurance_goodman",
    "endurance_gerber",
    "tensile",
    "static_limit",
)
FACTORS = ("fatigue_factor_goodman", "fatigue_factor_gerber", "fatigue_factor_sines")


def stress_rows(coils: tuple[CoilAnalysis, ...], style: Style) -> list[list[str]]:
    """A header and a row for each spring.

    Args:
        coils: the springs of the nest.
        style: the units of the columns; they stand in the header.

    Returns:
        Cells; empty where unknown.
    """
    unit = display_unit(Kind.STRESS, style)
    head = ["spring", *(f"{name}_{unit}" for name in STRESSES), "peened", *FACTORS]
    return [head, *(_row(coil, style) for coil in coils)]


def _row(coil: CoilAnalysis, style: Style) -> list[str]:
    lines = coil.fatigue
    values = [None if lines is None else getattr(lines, name) for name in STRESSES]
    cells = ["" if value is None else f"{to_display(value, Kind.STRESS, style):.9g}" for value in values]
    peened = "" if lines is None else ("yes" if lines.peened else "no")
    factors = [coil.value(name) for name in FACTORS]
    return [coil.name, *cells, peened, *("" if value is None else f"{value:.9g}" for value in factors)]
