"""The numbered springs as CSV: what each carries where it stands, its verdict, its doubts; numbers in SI."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from loadbench.analysis import Analysis
from loadbench.findings.finding import Level
from loadbench.findings.set_check.check_set import check_set
from loadbench.findings.set_check.result import SpringCheck
from loadbench.findings.shop import Shop
from loadbench.report.table import SET_HEAD, Cell, csv_text

WORDS = {Level.CLEAR: "pass", Level.STOP: "fail"}


def set_table_csv(analysis: Analysis, shop: Shop | None = None) -> str:
    """The numbered springs as CSV.

    Args:
        analysis: of the job.
        shop: the shop's changes to the rule book.

    Returns:
        One row a spring, in the order of the job; no row without springs.
    """
    return csv_text(SET_HEAD, _rows(analysis, shop))


def _rows(analysis: Analysis, shop: Shop | None) -> Iterator[Sequence[Cell]]:
    named = {valve.spring: valve.id or f"#{place + 1}" for place, valve in enumerate(analysis.job.valves)}
    for spring in check_set(analysis, shop).springs:
        loss = spring.loss
        yield (
            spring.id,
            spring.mark,
            named.get(spring.id, ""),
            WORDS.get(spring.verdict.level, "unknown"),
            spring.height,
            spring.seat_load,
            spring.seat_expanded,
            spring.open_height,
            spring.open_load,
            spring.open_expanded,
            spring.rate,
            spring.rate_expanded,
            _worst_miss(spring),
            spring.bin,
            None if loss is None else loss.share,
            "" if loss is None else loss.basis,
            " ".join(dict.fromkeys(str(flag.kind) for flag in spring.flags)),
        )


def _worst_miss(spring: SpringCheck) -> float | None:
    """How far the load that is furthest outside its window lies outside, N; below zero where it is low."""
    return max((miss.off for miss in spring.verdict.misses), key=abs, default=None)
