"""Which entry the Spring page waits for first."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from loadbench.analysis import LineAnalysis
    from loadbench.analysis.coils.result import CoilAnalysis


FIRST = "spring.coils.0.wire.diameter"


def first_wanting(line: LineAnalysis, member: str | None) -> str:
    """The field that must be entered before anything of a coil can be shown.

    Args:
        line: the line on show.
        member: a coil by name; None for all.

    Returns:
        Its dotted path, of a first coil where the job has none yet; "" where something can be shown.
    """
    coils = [coil for coil in line.coils if member in (None, coil.name)]
    if any(coil.concerned for coil in coils):
        return ""
    first = next((coil for coil in coils if coil.path), None)
    return FIRST if first is None else _wanted(first)


def _wanted(coil: CoilAnalysis) -> str:
    missing = coil.geometry.missing if coil.geometry is not None else ()
    own = [field for field in missing if field.startswith(coil.path)]
    return own[0] if own else f"{coil.path}.wire.diameter"
