"""What would free a plan where none holds: for each sort of change the least, each of them tried."""

from __future__ import annotations

import bisect
import contextlib
from collections.abc import Callable, Iterator
from dataclasses import replace

from loadbench.analysis.figure import Plain
from loadbench.assembly.answer import Freeing
from loadbench.assembly.fit_inputs import FitInputs
from loadbench.assembly.fit_valve import FitValve
from loadbench.assembly.trials import Trials
from loadbench.findings.finding import Amount, Sentence
from loadbench.findings.view import plain
from loadbench.fitup.counted import NotKnownError
from loadbench.fitup.integer_plan import OutOfTimeError
from loadbench.units import Kind, Style

THOU, HUNDREDTH = 2.54e-5, 1e-5
STEPS = {Style.INCH_POUND: THOU, Style.METRIC: HUNDREDTH}
"""What lengths are told to: the least change is sought in these, so that it is told as it was tried."""

NEW_SHIMS = {
    Style.INCH_POUND: tuple(size * THOU for size in (5, 10, 15, 20, 25, 30, 40, 45, 50, 60, 75, 90)),
    Style.METRIC: tuple(size * HUNDREDTH for size in (10, 20, 25, 30, 40, 50, 60, 75, 80, 100, 120, 150, 200)),
}
MOST_LIFT = 0.2
"""The largest share of the lift that is offered to be given up."""
MOST_HEIGHT = 150 * THOU
MOST_TOLERANCE = 0.5
TOLERANCE = 0.001
COARSE = 5

Changed = Callable[[float], FitInputs]


def freeing_of(inputs: FitInputs, trials: Trials, style: Style = Style.INCH_POUND) -> tuple[Freeing, ...]:
    """The least change of each sort that would free a plan, each tried alone.

    Args:
        inputs: of the fit.
        trials: that ask whether a plan holds.
        style: the units that lengths will be told in.

    Returns:
        Those that free one; none where only several changes together would.
    """
    seek = _Freeings(inputs, trials, style)
    found: list[Freeing | None] = []
    with contextlib.suppress(OutOfTimeError):
        for attempt in (
            seek.more_springs,
            seek.more_shims,
            seek.new_shim,
            seek.less_lift,
            seek.more_height,
            seek.wider,
        ):
            with contextlib.suppress(NotKnownError):
                found.append(attempt())
    return tuple(each for each in found if each is not None)


class _Freeings:
    """The attempts, one for each sort of change."""

    def __init__(self, inputs: FitInputs, trials: Trials, style: Style) -> None:
        self._inputs = inputs
        self._trials = trials
        self._style = style
        self._step = STEPS[style]

    def more_springs(self) -> Freeing | None:
        """How many springs of the wanted loads are lacking; outers and inners of a fit of pairs."""
        most = len(self._inputs.valves)
        if self._trials.loose is None:
            if not self._trials.hold(self._inputs, (most, 0)):
                return None
            number = bisect.bisect_left(range(most), 1, key=lambda more: self._trials.hold(self._inputs, (more, 0)))
            return Freeing(kind="springs", amount=float(number), sentence=_springs_told(number))
        if not self._trials.hold(self._inputs, (most, most)):
            return None
        for more in self._members():
            if self._trials.hold(self._inputs, more):
                return Freeing(kind="springs", amount=float(sum(more)), sentence=_members_told(more))
        return None

    def _members(self) -> Iterator[tuple[int, int]]:
        """Ways to have more outers and inners, the fewest first, from those that are lacking."""
        outers, inners = self._trials.lacking(self._inputs)
        most = len(self._inputs.valves)
        for number in range(2 * most + 1):
            ways = ((outers + number - more, inners + more) for more in range(number + 1))
            yield from (way for way in ways if any(way) and max(way) <= most)

    def more_shims(self) -> Freeing | None:
        """How many more shims of one of the counted sizes."""
        best: tuple[int, float] | None = None
        for size, count in self._inputs.counts.items():
            most = 3 * len(self._inputs.valves) - count if best is None else best[0] - 1

            def changed(more: float, size: float = size, count: int = count) -> FitInputs:
                return replace(self._inputs, counts={**self._inputs.counts, size: count + round(more)})

            least = self._least(changed, 1.0, float(most)) if most > 0 else None
            if least is not None:
                best = round(least), size
        if best is None:
            return None
        text = "{count} more shim of {size}." if best[0] == 1 else "{count} more shims of {size}."
        amounts = {"count": _count(best[0]), "size": Amount(best[1], Kind.LENGTH)}
        return Freeing(kind="shims", amount=float(best[0]), sentence=Sentence(text, amounts))

    def new_shim(self) -> Freeing | None:
        """A size that is not in stock, as many of it as are wanted."""
        for size in NEW_SHIMS[self._style]:
            if not any(abs(size - own) < 1e-7 for own in self._inputs.stock):
                wider = replace(self._inputs, stock=tuple(sorted((*self._inputs.stock, size), reverse=True)))
                if self._trials.hold(wider):
                    sentence = Sentence("Shims of {size} in stock.", {"size": Amount(size, Kind.LENGTH)})
                    return Freeing(kind="shim", amount=size, sentence=sentence)
        return None

    def less_lift(self) -> Freeing | None:
        """Less net lift on every valve."""

        def changed(less: float) -> FitInputs:
            valves = (replace(valve, lift=valve.lift - less) for valve in self._inputs.valves)
            return replace(self._inputs, valves=tuple(valves))

        least = self._first(changed, MOST_LIFT * min(valve.lift for valve in self._inputs.valves))
        if least is None:
            return None
        sentence = Sentence("{less} less net lift.", {"less": Amount(least, Kind.LENGTH)})
        return Freeing(kind="lift", amount=least, sentence=sentence)

    def more_height(self) -> Freeing | None:
        """Shims only shorten: more height is a cut seat, other locks or retainer, or a longer valve."""
        every = self._inputs.valves
        short = tuple(valve for valve in every if not self._trials.hold_alone(self._inputs, valve))
        for valves in (short, every) if 0 < len(short) < len(every) else (every,):
            if (least := self._first(self._higher(valves), MOST_HEIGHT)) is not None:
                return _height_told(least, () if len(valves) == len(every) > 1 else valves)
        return None

    def _higher(self, valves: tuple[FitValve, ...]) -> Changed:
        names = {valve.id for valve in valves}

        def changed(more: float) -> FitInputs:
            every = self._inputs.valves
            raised = (replace(v, bare_height=v.bare_height + more) if v.id in names else v for v in every)
            return replace(self._inputs, valves=tuple(raised))

        return changed

    def wider(self) -> Freeing | None:
        """More tolerance on the target loads."""
        targeted = [valve for valve in self._inputs.valves if valve.target_seat or valve.target_open]
        known = {valve.tolerance for valve in targeted if valve.tolerance is not None}
        if not known:
            return None

        def changed(more: float) -> FitInputs:
            widened = (
                v if v.tolerance is None else replace(v, tolerance=v.tolerance + more) for v in self._inputs.valves
            )
            return replace(self._inputs, valves=tuple(widened))

        least = self._least(changed, TOLERANCE, MOST_TOLERANCE)
        if least is None:
            return None
        alike = len(known) == 1
        text = (
            "A tolerance of {share} on the target loads." if alike else "{share} more tolerance on every target load."
        )
        amounts = {"share": Amount(known.pop() + least if alike else least, Plain.SHARE)}
        return Freeing(kind="tolerance", amount=least, sentence=Sentence(text, amounts))

    def _first(self, changed: Changed, most: float) -> float | None:
        """The first multiple of the step that frees a plan: by scanning, since more of it need not free one too."""
        step = self._step
        count = round(most / step)
        for coarse in range(COARSE, count + COARSE, COARSE):
            if self._trials.hold(changed(min(coarse, count) * step)):
                places = range(coarse - COARSE + 1, coarse)
                fine = (place for place in places if self._trials.hold(changed(place * step)))
                return next(fine, min(coarse, count)) * step
        return None

    def _least(self, changed: Changed, step: float, most: float) -> float | None:
        """The least multiple of a step that frees a plan, where more frees one too; None where `most` does not."""
        low, high = 0, round(most / step)
        if not self._trials.hold(changed(high * step)):
            return None
        while high - low > 1:
            middle = (low + high) // 2
            low, high = (low, middle) if self._trials.hold(changed(middle * step)) else (middle, high)
        return high * step


def _springs_told(number: int) -> Sentence:
    words = "spring that carries" if number == 1 else "springs that carry"
    return Sentence(f"{{count}} more {words} the wanted loads.", {"count": _count(number)})


def _members_told(more: tuple[int, int]) -> Sentence:
    wanted = [(count, word if count == 1 else f"{word}s") for word, count in zip(("outer", "inner"), more, strict=True)]
    words = " and ".join(f"{count} more {word}" for count, word in wanted if count)
    carry = "carries" if sum(more) == 1 else "carry"
    return Sentence(f"{words} that {carry} the wanted loads.")


def _count(number: int) -> Amount:
    return Amount(float(number), Plain.COUNT)


def _height_told(least: float, valves: tuple[FitValve, ...]) -> Freeing:
    names = ", ".join(plain(valve.id) for valve in valves)
    where = f"valve{'s' if len(valves) > 1 else ''} {names}" if valves else "every valve"
    text = f"{{more}} more height on {where}: cut the seat, or other locks or retainer; shims only shorten."
    return Freeing(kind="height", amount=least, sentence=Sentence(text, {"more": Amount(least, Kind.LENGTH)}))
