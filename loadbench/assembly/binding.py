"""Why no plan holds: too few springs, and the fewest hard limits without which there would be one."""

from __future__ import annotations

import contextlib
import itertools
from collections.abc import Iterable
from dataclasses import dataclass, replace

from loadbench.analysis.figure import Plain
from loadbench.assembly.answer import Bar
from loadbench.assembly.fit_inputs import FitInputs
from loadbench.assembly.fit_valve import FitValve
from loadbench.assembly.trials import LIMITS, Trials, eased
from loadbench.findings.finding import Amount, Sentence
from loadbench.findings.view import plain
from loadbench.fitup.counted import NotKnownError
from loadbench.fitup.integer_plan import OutOfTimeError

WORDS = {
    "bind": "Coil bind",
    "retainer": "Retainer to seal",
    "maker": "A maker's limit",
    "seat-tolerance": "The seat load's tolerance",
    "open-tolerance": "The open load's tolerance",
    "locked": "What is locked",
    "shim-counts": "The count of shims in stock",
}


def binding_of(inputs: FitInputs, trials: Trials) -> tuple[Bar, ...]:
    """What forbids a plan.

    Args:
        inputs: of the fit.
        trials: that ask whether a plan holds.

    Returns:
        The lack of springs, and each limit that alone, left out, would give a plan; where none alone would, the
        fewest that together would.
    """
    bars = _lacking(inputs, trials)
    with contextlib.suppress(OutOfTimeError, NotKnownError):  # what was not settled in time is not told
        bars += _Limits(inputs, trials, short=bool(bars)).bars()
    return tuple(bars) or (
        _bar("together", inputs.valves, len(inputs.valves), "The limits together leave no plan{on}."),
    )


def _lacking(inputs: FitInputs, trials: Trials) -> list[Bar]:
    fewer, fewer_inners = trials.lacking(inputs)
    if trials.loose is None:
        text = "{valves} valves want a spring each; {springs} springs have loads."
        counts = {"valves": len(inputs.valves), "springs": len(inputs.springs)}
        return [Bar(limit="springs", valves=(), sentence=_counted(text, counts))] if fewer else []
    wanted = (("outer", fewer), ("inner", fewer_inners))
    texts = [(f"{{count}} more {kind if one == 1 else f'{kind}s'} {_are(one)} wanted.", one) for kind, one in wanted]
    return [Bar(limit="springs", valves=(), sentence=_counted(text, {"count": one})) for text, one in texts if one]


def _are(count: int) -> str:
    return "is" if count == 1 else "are"


def _counted(text: str, counts: dict[str, int]) -> Sentence:
    return Sentence(text, {name: Amount(float(count), Plain.COUNT) for name, count in counts.items()})


def _bar(limit: str, valves: Iterable[FitValve], every: int, text: str) -> Bar:
    names = tuple(valve.id for valve in valves)
    on = f" on valve{'s' if len(names) > 1 else ''} {', '.join(plain(name) for name in names)}"
    if len(names) == every > 1:
        on = " on every valve"
    return Bar(limit=limit, valves=names, sentence=Sentence(text.replace("{on}", on)))


@dataclass(kw_only=True)
class _Barred:
    """The valves that alone can't have a spring; where each could, the fewest that can't all have one at once."""

    alone: tuple[FitValve, ...]
    crowd: tuple[FitValve, ...]


class _Limits:
    """The search for the limits that bind."""

    def __init__(self, inputs: FitInputs, trials: Trials, *, short: bool) -> None:
        self._inputs = inputs
        self._trials = trials
        self._short = short

    def bars(self) -> list[Bar]:
        """One bar for each limit that binds."""
        alone = tuple(valve for valve in self._inputs.valves if not self._trials.hold_alone(self._inputs, valve))
        if self._short and not alone:
            return []
        barred = _Barred(alone=alone, crowd=() if self._short else self._crowd())
        for number in range(1, len(LIMITS) + 1):
            groups = [group for group in itertools.combinations(LIMITS, number) if self._frees(group, barred)]
            if groups and number == 1:
                return [self._told((limit,), limit, barred) for (limit,) in groups]
            if groups:
                return [self._told(groups[0], limit, barred) for limit in groups[0]]
        return []

    def _frees(self, limits: tuple[str, ...], barred: _Barred) -> bool:
        """Whether a plan holds without some limits; where springs are lacking, a spring for each of the barred."""
        inputs = eased(self._inputs, limits)
        if not self._short:
            return self._trials.hold(inputs)
        mine = {valve.id for valve in barred.alone}
        return all(self._trials.hold_alone(inputs, valve) for valve in inputs.valves if valve.id in mine)

    def _crowd(self) -> tuple[FitValve, ...]:
        """The fewest valves found that can't all have a spring at once: one after the other is left out."""
        kept = self._inputs.valves
        for valve in self._inputs.valves:
            fewer = tuple(each for each in kept if each is not valve)
            if fewer and not self._trials.hold(replace(self._inputs, valves=fewer)):
                kept = fewer
        return kept

    def _told(self, group: tuple[str, ...], limit: str, barred: _Barred) -> Bar:
        others = tuple(each for each in group if each != limit)
        valves = [valve for valve in barred.alone if self._matters(valve, group, others)] or list(barred.crowd)
        text = f"{WORDS[limit]} leaves too few choices{{on}}."
        if others:
            too = " and ".join(WORDS[each][0].lower() + WORDS[each][1:] for each in others)
            text = f"{WORDS[limit]} leaves too few choices{{on}}, but not alone: {too} would have to give as well."
        return _bar(limit, valves, len(self._inputs.valves), text)

    def _matters(self, valve: FitValve, group: tuple[str, ...], others: tuple[str, ...]) -> bool:
        """Whether a valve can have a spring without the whole group of limits, but not with this one."""
        whole, rest = (self._of(eased(self._inputs, limits), valve) for limits in (group, others))
        return self._trials.hold_alone(*whole) and not self._trials.hold_alone(*rest)

    @staticmethod
    def _of(inputs: FitInputs, valve: FitValve) -> tuple[FitInputs, FitValve]:
        return inputs, next(each for each in inputs.valves if each.id == valve.id)
