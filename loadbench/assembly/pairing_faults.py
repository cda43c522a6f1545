"""Why no plan of pairs holds: too few outers or inners, no room at a valve, or no pair within its loads."""

from __future__ import annotations

import numpy as np

from loadbench.analysis.figure import Plain
from loadbench.assembly.answer import Bar, Freeing
from loadbench.assembly.fit_inputs import FitInputs
from loadbench.findings.finding import Amount, Sentence
from loadbench.findings.view import plain
from loadbench.fitup.pair_table import LIMIT_SLACK, PairTable


def binding_pairs(inputs: FitInputs, table: PairTable) -> tuple[Bar, ...]:
    """The limits that forbid a plan of pairs.

    Args:
        inputs: of the fit.
        table: its choices.

    Returns:
        What alone forbids it; where only the limits together do, that.
    """
    bars = [
        Bar(
            limit="springs", valves=(), sentence=Sentence(f"{{count}} more {word} {_are(count)} wanted.", _count(count))
        )
        for word, count in _lacking(table)
    ]
    names = np.array(table.valves)
    crammed = names[table.refused.all(axis=1)]
    if len(crammed):
        bars.append(_bar("bind", crammed, "No stack of shims leaves room on valve {}."))
    for limit, load in (("seat-tolerance", "seat"), ("open-tolerance", "open")):
        out = names[~table.refused.all(axis=1) & ~_reached(table, load)]
        if len(out):
            bars.append(_bar(limit, out, f"No pair carries the {load} load that is asked for on valve {{}}."))
    together = Bar(limit="together", valves=(), sentence=Sentence("The limits together leave no plan of pairs."))
    return tuple(bars) or (together,)


def _bar(limit: str, valves: np.ndarray[tuple[int], np.dtype[np.str_]], text: str) -> Bar:
    named = tuple(str(valve) for valve in valves)
    return Bar(limit=limit, valves=named, sentence=Sentence(text.format(", ".join(plain(name) for name in named))))


def _are(count: int) -> str:
    return "is" if count == 1 else "are"


def _count(count: int) -> dict[str, Amount]:
    return {"count": Amount(float(count), Plain.COUNT)}


def _lacking(table: PairTable) -> list[tuple[str, int]]:
    """How many outers and inners are lacking, with their word."""
    short = (("outer", len(table.outers)), ("inner", len(table.inners)))
    missing = [(word, len(table.valves) - count) for word, count in short]
    return [(word if count == 1 else f"{word}s", count) for word, count in missing if count > 0]


def _reached(table: PairTable, load: str) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    """Whether some pair on some stack that is allowed carries a load inside the valve's window, (V,)."""
    outer, inner = (
        np.where(table.refused[:, None, :], np.nan, getattr(table, f"{load}_{kind}")) for kind in ("outer", "inner")
    )
    window = getattr(table, f"{load}_window")
    reached = np.zeros(len(table.valves), dtype=np.bool_)
    for row, (least, most) in enumerate(window):
        sums = outer[row][:, None, :] + inner[row][None, :, :]
        slack = LIMIT_SLACK * np.abs(np.nan_to_num(sums)).max(initial=0.0)
        reached[row] = bool(np.any((sums >= least - slack) & (sums <= most + slack)))
    return reached


def freeing_pairs(table: PairTable) -> tuple[Freeing, ...]:
    """The springs that are lacking, where that is what forbids a plan."""
    lacking = _lacking(table)
    if not lacking:
        return ()
    words = " and ".join(f"{count} more {word}" for word, count in lacking)
    return (Freeing(kind="springs", amount=float(sum(count for _, count in lacking)), sentence=Sentence(f"{words}.")),)
