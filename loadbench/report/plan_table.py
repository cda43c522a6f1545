"""The plan as CSV, valve by valve in cylinder order: the one the job keeps, else the best one; numbers in SI."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from loadbench.analysis import Analysis, analyse
from loadbench.assembly.fit import fit
from loadbench.assembly.plan_edits import planned
from loadbench.errors import InputError
from loadbench.findings.shop import Shop
from loadbench.report.json_out import style_of
from loadbench.report.kept_plan import kept_plan
from loadbench.report.table import PLAN_HEAD, Cell, csv_text

KEPT, FOUND = "kept", "worked out anew"


def plan_table_csv(
    analysis: Analysis, shop: Shop | None = None, progress: Callable[[float], None] | None = None
) -> str:
    """The plan as CSV.

    Args:
        analysis: of the job.
        shop: the shop's changes to the rule book.
        progress: told the share done of a fit; it may raise Cancelled.

    Returns:
        One row a valve; the column `plan` says whether it was kept in the job or worked out anew.

    Raises:
        InputError: the job keeps no plan, and none can be worked out or holds every limit.
    """
    source = KEPT if analysis.job.plan.placed else FOUND
    if source == FOUND:
        analysis = _with_best(analysis, shop, progress)
    return csv_text(PLAN_HEAD, _rows(analysis, shop, source))


def _with_best(analysis: Analysis, shop: Shop | None, progress: Callable[[float], None] | None) -> Analysis:
    """The analysis of the same job with the best plan kept in it."""
    answer = fit(analysis, shop, progress)
    style = style_of(analysis)
    if answer.problems:
        first = answer.problems[0]
        raise InputError(f"The job keeps no plan, and none can be worked out: {first.what}", expected=first.expected)
    if not answer.feasible:
        why = " ".join(bar.sentence.told(style) for bar in answer.binding)
        what = f"The job keeps no plan, and none holds every limit. {why}".rstrip()
        raise InputError(what, expected="a limit eased, or other springs or shims")
    return analyse(planned(analysis.job, answer, style=style))


def _rows(analysis: Analysis, shop: Shop | None, source: str) -> Iterator[Sequence[Cell]]:
    for each in kept_plan(analysis, shop):
        before, valve = analysis.set.valves[each.index], analysis.job.valves[each.index]
        yield (
            each.name,
            each.line,
            each.spring,
            each.mark,
            None if each.valve is None else each.valve.bare_height,
            None if each.shims is None else " ".join(repr(shim) for shim in each.shims),
            None if each.shims is None else sum(each.shims),
            each.installed_height,
            each.seat_load,
            each.open_height,
            each.open_load,
            each.bind_margin,
            each.retainer_margin,
            valve.spring or "",
            before.seat_load,
            before.open_load,
            source,
        )
