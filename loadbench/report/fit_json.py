"""The answer of a fit as data for scripts, every number in SI at full precision."""

from __future__ import annotations

from typing import Any

from loadbench.assembly.answer import Bar, FitAnswer, Freeing, PlacedSpring
from loadbench.report.json_out import problems_as_json
from loadbench.units import Style


def fit_as_json(answer: FitAnswer, style: Style) -> dict[str, Any]:
    """A fit as a dict of plain values.

    Args:
        answer: of the fit.
        style: the units of its sentences.

    Returns:
        The plan valve by valve, or what forbids one and what would free it.
    """
    return {
        "feasible": answer.feasible,
        "proved": answer.proved,
        "plan": [_placed(placed) for placed in answer.plan],
        "seat_spread_N": answer.seat_spread,
        "target_deviation_N": answer.target_deviation,
        "shims_used": answer.shims_used,
        "binding": [_bar(bar, style) for bar in answer.binding],
        "frees": [_freeing(each, style) for each in answer.frees],
        "spare": list(answer.spare),
        "shims": [{"thickness_m": size, "count": count} for size, count in answer.shopping.items()],
        "doubts": [sentence.told(style) for sentence in answer.doubts],
        "unchecked": [sentence.told(style) for sentence in answer.unchecked],
        "problems": problems_as_json(answer.problems),
    }


def _placed(placed: PlacedSpring) -> dict[str, Any]:
    return {
        "valve": placed.valve,
        "line": placed.line,
        "spring": placed.spring,
        "inner": placed.inner,
        "shims_m": list(placed.shims),
        "installed_height_m": placed.installed_height,
        "seat_load_N": placed.seat_load,
        "open_load_N": placed.open_load,
        "bind_margin_m": placed.bind_margin,
        "retainer_margin_m": placed.retainer_margin,
        "locked": placed.locked,
        "seat_load_before_N": placed.seat_load_before,
        "open_load_before_N": placed.open_load_before,
    }


def _bar(bar: Bar, style: Style) -> dict[str, Any]:
    return {"limit": bar.limit, "valves": list(bar.valves), "sentence": bar.sentence.told(style)}


def _freeing(freeing: Freeing, style: Style) -> dict[str, Any]:
    return {"kind": freeing.kind, "amount": freeing.amount, "sentence": freeing.sentence.told(style)}
