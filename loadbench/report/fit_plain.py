"""The answer of a fit as plain text: the plan valve by valve, the shims to fetch, or why there is none."""

from __future__ import annotations

from loadbench.assembly.answer import FitAnswer, PlacedSpring
from loadbench.job.model import Job
from loadbench.report.entries import entry_told
from loadbench.units import Kind, Style, tell

HEADS = (
    "Valve",
    "Spring",
    "Shims",
    "Installed height",
    "Seat load",
    "Open load",
    "To bind",
    "To seal",
    "Seat load before",
)
CAUTIONS = (
    "Check every height and load on the head before it is run. The part maker's sheet, local rules and a qualified",
    "engine builder come first. A compressed valve spring stores enough energy to injure.",
)


def fit_as_text(answer: FitAnswer, style: Style, job: Job | None = None) -> str:
    """Everything a person reads of a fit in a terminal.

    Args:
        answer: of the fit.
        style: the units on show.
        job: where given, its springs and valves are told by their own numbers.

    Returns:
        Lines of text.
    """
    lines = [entry_told(problem, job) for problem in answer.problems]
    if answer.feasible:
        lines += _plan(answer, style)
    elif not answer.problems:
        lines += ["No plan holds every limit.", *(f"  {bar.sentence.told(style)}" for bar in answer.binding)]
        lines += (
            ["What would free one, each by itself:"] if answer.frees else ["No single change was found to free one."]
        )
        lines += [f"  {each.sentence.told(style)}" for each in answer.frees]
    lines += [f"Look again: {sentence.told(style)}" for sentence in answer.doubts]
    lines += [f"Note: {sentence.told(style)}" for sentence in answer.unchecked]
    return "\n".join([*lines, "", *CAUTIONS])


def _plan(answer: FitAnswer, style: Style) -> list[str]:
    rows = [HEADS, *(_row(placed, style) for placed in answer.plan)]
    widths = [max(len(row[column]) for row in rows) for column in range(len(HEADS))]
    table = ["  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip() for row in rows]
    off = answer.target_deviation or 0.0
    shims = "1 shim" if answer.shims_used == 1 else f"{answer.shims_used} shims"
    told = [
        f"Spread of seat load {tell(answer.seat_spread or 0.0, Kind.FORCE, style)}, "
        + (f"off the targets by {tell(off, Kind.FORCE, style)} in all, " if off else "")
        + f"{shims}: "
        + ("the best there is, proved" if answer.proved else "the best that was found; not proved")
        + ("; some limits could not be checked, see the notes." if answer.unchecked else ".")
    ]
    fetched = ", ".join(f"{count} of {shim_told(size, style)}" for size, count in answer.shopping.items())
    told += [f"Shims to fetch: {fetched or 'none'}."]
    told += [f"Springs left over: {', '.join(answer.spare)}."] if answer.spare else []
    return [*table, "", *told]


def _row(placed: PlacedSpring, style: Style) -> tuple[str, ...]:
    spring = placed.spring if placed.inner is None else f"{placed.spring} + {placed.inner}"
    return (
        placed.valve + (" (locked)" if placed.locked else ""),
        spring,
        " + ".join(shim_told(shim, style) for shim in placed.shims) or "none",
        str(tell(placed.installed_height, Kind.LENGTH, style)),
        str(tell(placed.seat_load, Kind.FORCE, style)),
        str(tell(placed.open_load, Kind.FORCE, style)),
        "-" if placed.bind_margin is None else str(tell(placed.bind_margin, Kind.LENGTH, style)),
        "-" if placed.retainer_margin is None else str(tell(placed.retainer_margin, Kind.LENGTH, style)),
        "-" if placed.seat_load_before is None else str(tell(placed.seat_load_before, Kind.FORCE, style)),
    )


def shim_told(thickness: float, style: Style) -> str:
    """A shim's thickness in the units on show."""
    return str(tell(thickness, Kind.LENGTH, style))
