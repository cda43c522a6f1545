"""Why no plan holds: the limits that forbid it, and for each sort of change the least that would free one.

Every answer is tried, not estimated: the table of choices is made anew with the change and the valves are matched.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from loadbench.analysis.figure import Plain
from loadbench.assembly.answer import Bar, Freeing
from loadbench.assembly.choices import table_of
from loadbench.assembly.fit_inputs import FitInputs
from loadbench.findings.finding import Amount, Sentence
from loadbench.fitup.best_fit import largest_matching
from loadbench.fitup.choice_table import Bools, ChoiceTable
from loadbench.units import Kind

THOU = 2.54e-5
LIMITS = {
    "bind": "Coil bind",
    "retainer": "Retainer to seal",
    "maker": "A maker's limit",
    "seat-tolerance": "The seat load's tolerance",
    "open-tolerance": "The open load's tolerance",
    "locked": "What is locked",
}
NEW_SHIMS = tuple(size * THOU for size in (5, 10, 15, 20, 25, 30, 40, 45, 50, 60, 75, 90))
MOST_LIFT = 0.2
"""The largest share of the lift that is offered to be given up."""
MOST_HEIGHT = 150 * THOU
MOST_TOLERANCE = 0.5
COARSE = 5

Progress = Callable[[float], None]
Changed = Callable[[float], FitInputs]


def _pairs(allowed: Bools) -> Bools:
    pairs: Bools = np.asarray(allowed.any(axis=2), dtype=np.bool_)
    return pairs


def _without_choice(table: ChoiceTable) -> Bools:
    """The valves that no spring on no stack suits, (V,)."""
    empty: Bools = ~np.asarray(table.allowed.any(axis=(1, 2)), dtype=np.bool_)
    return empty


def holds(table: ChoiceTable) -> bool:
    """Whether every valve can have a spring of its own within every hard limit, counts of shims aside."""
    return largest_matching(_pairs(table.allowed))[0] == len(table.valves)


def without(table: ChoiceTable, limit: str) -> ChoiceTable:
    """The same table without one hard limit."""
    return replace(table, refused={name: bars for name, bars in table.refused.items() if name != limit})


def binding_of(inputs: FitInputs, table: ChoiceTable) -> tuple[Bar, ...]:
    """The limits that forbid a plan.

    Args:
        inputs: of the fit.
        table: its choices.

    Returns:
        First the lack of springs, then each limit that alone, left out, would give a plan or a valve a choice.
    """
    bars = []
    if len(table.springs) < len(table.valves):
        text = "{valves} valves want a spring each; {springs} springs have loads."
        amounts = {
            "valves": Amount(float(len(table.valves)), Plain.COUNT),
            "springs": Amount(float(len(table.springs)), Plain.COUNT),
        }
        bars.append(Bar(limit="springs", valves=(), sentence=Sentence(text, amounts)))
    empty = _without_choice(table)
    size, unmatched = largest_matching(_pairs(table.allowed))
    for name in table.refused:
        eased = without(table, name)
        freed = empty & ~_without_choice(eased)
        better = largest_matching(_pairs(eased.allowed))[0] > size
        if freed.any() or better:
            rows = np.flatnonzero(freed) if freed.any() else np.array(unmatched, dtype=int)
            valves = tuple(table.valves[row] for row in rows)
            bars.append(Bar(limit=name, valves=valves, sentence=_barred(name, valves)))
    if table.counts and holds(table):
        bars.append(Bar(limit="shim-counts", valves=(), sentence=Sentence("The shims counted in stock do not reach.")))
    return tuple(bars) or (_together(table, empty, unmatched),)


def _barred(name: str, valves: tuple[str, ...]) -> Sentence:
    which = ", ".join(_plain(valve) for valve in valves)
    return Sentence(f"{LIMITS[name]} leaves too few choices on valve {which}.")


def _together(table: ChoiceTable, empty: Bools, unmatched: tuple[int, ...]) -> Bar:
    rows = np.flatnonzero(empty) if empty.any() else np.array(unmatched, dtype=int)
    valves = tuple(table.valves[row] for row in rows)
    which = ", ".join(_plain(valve) for valve in valves)
    return Bar(
        limit="together", valves=valves, sentence=Sentence(f"Several limits together leave valve {which} no choice.")
    )


def _plain(name: str) -> str:
    return name.replace("{", "{{").replace("}", "}}")


def freeing_of(inputs: FitInputs, table: ChoiceTable, progress: Progress | None = None) -> tuple[Freeing, ...]:
    """The least change of each sort that would free a plan, each tried alone.

    Args:
        inputs: of the fit.
        table: its choices.
        progress: called with the share done; may raise Cancelled.

    Returns:
        Those that free one; none where only several changes together would.
    """
    found: list[Freeing | None] = []
    tries = (_more_springs, _new_shim, _less_lift, _more_height, _wider)
    for place, attempt in enumerate(tries):
        if progress is not None:
            progress(place / len(tries))
        found.append(attempt(inputs, table))
    return tuple(each for each in found if each is not None)


def _more_springs(inputs: FitInputs, table: ChoiceTable) -> Freeing | None:
    """How many springs like the best of these are lacking, where every valve has a height that some spring may have."""
    by_height = table.refused["bind"] | table.refused["retainer"] | table.refused["locked"]
    if not _pairs(~by_height).any(axis=1).all():
        return None
    lacking = len(table.valves) - largest_matching(_pairs(table.allowed))[0]
    if not lacking:
        return None
    words = "spring that carries" if lacking == 1 else "springs that carry"
    sentence = Sentence(f"{{count}} more {words} the wanted loads.", {"count": _count(lacking)})
    return Freeing(kind="springs", amount=float(lacking), sentence=sentence)


def _count(number: int) -> Amount:
    return Amount(float(number), Plain.COUNT)


def _new_shim(inputs: FitInputs, table: ChoiceTable) -> Freeing | None:
    for size in NEW_SHIMS:
        if not any(abs(size - own) < 1e-7 for own in inputs.stock):
            wider = replace(inputs, stock=tuple(sorted((*inputs.stock, size), reverse=True)))
            if holds(table_of(wider)):
                sentence = Sentence("A shim of {size} in stock.", {"size": Amount(size, Kind.LENGTH)})
                return Freeing(kind="shim", amount=size, sentence=sentence)
    return None


def _less_lift(inputs: FitInputs, _: ChoiceTable) -> Freeing | None:
    most = MOST_LIFT * min(valve.lift for valve in inputs.valves)

    def changed(less: float) -> FitInputs:
        return replace(inputs, valves=tuple(replace(valve, lift=valve.lift - less) for valve in inputs.valves))

    least = _first(changed, THOU, most)
    if least is None:
        return None
    sentence = Sentence("{less} less net lift.", {"less": Amount(least, Kind.LENGTH)})
    return Freeing(kind="lift", amount=least, sentence=sentence)


def _more_height(inputs: FitInputs, table: ChoiceTable) -> Freeing | None:
    """Shims only shorten: more height is a cut seat, other locks or retainer, or a longer valve."""
    empty = _without_choice(table)
    short = empty if empty.any() else np.ones_like(empty)

    def changed(more: float) -> FitInputs:
        valves = (
            replace(valve, bare_height=valve.bare_height + more) if own else valve
            for valve, own in zip(inputs.valves, short, strict=True)
        )
        return replace(inputs, valves=tuple(valves))

    least = _first(changed, THOU, MOST_HEIGHT)
    if least is None:
        return None
    names = ", ".join(_plain(valve.id) for valve, own in zip(inputs.valves, short, strict=True) if own)
    where = "every valve" if short.all() else f"valve {names}"
    text = f"{{more}} more height on {where}: cut the seat, or other locks or retainer; shims only shorten."
    return Freeing(kind="height", amount=least, sentence=Sentence(text, {"more": Amount(least, Kind.LENGTH)}))


def _wider(inputs: FitInputs, _: ChoiceTable) -> Freeing | None:
    known = [valve.tolerance for valve in inputs.valves if valve.tolerance is not None]
    if not known:
        return None

    def changed(more: float) -> FitInputs:
        widened = (
            replace(valve, tolerance=None if valve.tolerance is None else valve.tolerance + more)
            for valve in inputs.valves
        )
        return replace(inputs, valves=tuple(widened))

    least = _least(changed, 0.001, MOST_TOLERANCE)
    if least is None:
        return None
    amounts = {"tolerance": Amount(max(known) + least, Plain.SHARE)}
    sentence = Sentence("A tolerance of {tolerance} on the target loads.", amounts)
    return Freeing(kind="tolerance", amount=least, sentence=sentence)


def _first(changed: Changed, step: float, most: float) -> float | None:
    """The first multiple of a step that frees a plan: by scanning, since more of it need not free one too."""
    count = round(most / step)
    for coarse in range(COARSE, count + COARSE, COARSE):
        if holds(table_of(changed(min(coarse, count) * step))):
            fine = (place for place in range(coarse - COARSE + 1, coarse) if holds(table_of(changed(place * step))))
            return next(fine, min(coarse, count)) * step
    return None


def _least(changed: Changed, step: float, most: float) -> float | None:
    """The least multiple of a step that frees a plan, where more of it frees one too; None where `most` does not."""
    low, high = 0, round(most / step)
    if not holds(table_of(changed(high * step))):
        return None
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if holds(table_of(changed(middle * step))) else (middle, high)
    return high * step
