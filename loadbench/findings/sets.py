"""Verdicts on springs over time and across a set: load lost, spread."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import NamedTuple

from loadbench.analysis.figure import Figure, Plain
from loadbench.analysis.springs import NumberedSpringAnalysis, spring_load_line
from loadbench.findings.finding import Amount, Finding
from loadbench.findings.rulebook import Rule
from loadbench.findings.standing import standing
from loadbench.findings.view import Scope, Told, View, amount, asked, plain, verdict
from loadbench.readings.load_line import LoadLine
from loadbench.units import Kind


@dataclass(frozen=True, slots=True)
class Loss:
    """A load now against the load it is measured by, at one height."""

    name: str
    now: float
    then: float
    height: float
    basis: str
    about: str

    @property
    def share(self) -> float:
        """Loss as a share of the earlier load; below zero where the spring got stronger."""
        return (self.then - self.now) / self.then


class SheetLoad(NamedTuple):
    """A load of the sheet: where it stands, m, N."""

    path: str
    height: float
    load: float


@verdict("load-loss", Scope.MERGED)
def load_loss(told: Told) -> Iterator[Finding]:
    """Load now against the spring's earliest reading in the history, else against its sheet at that height."""
    if own := list(_own_losses(told.view)):
        yield _lost(told, own)
    if told.view.line is told.view.analysis.lines[0]:  # a numbered spring stands in one line only
        sheet = tuple(sheet_loads(told.view))
        for spring in told.view.analysis.set.springs:
            if spring.load_line is not None and (finding := _kept_lost(told, spring, spring.load_line, sheet)):
                yield finding


_KEPT: dict[int, tuple[tuple[object, ...], Finding | None]] = {}
"""The last word on each numbered spring: an edit elsewhere leaves its load line and the rule the same objects."""


def _kept_lost(
    told: Told, spring: NumberedSpringAnalysis, line: LoadLine, sheet: tuple[SheetLoad, ...]
) -> Finding | None:
    """The finding on one numbered spring, as it was where nothing it rests on has changed."""
    history, stated = told.view.analysis.job.history, told.view.analysis.stated
    token = (told.rule, line, sheet, spring.id, history, stated.style if history else None)
    kept = _KEPT.get(spring.index)
    if kept is None or not _same(kept[0], token):
        losses = list(numbered_losses(told.view, spring.id, line, sheet))
        kept = _KEPT[spring.index] = (token, _lost(told, losses, line=None) if losses else None)
    return kept[1]


def _same(one: tuple[object, ...], other: tuple[object, ...]) -> bool:
    """Whether two tokens are the same: objects before values, since rules and histories are long to compare."""
    return all(a is b or (not isinstance(a, Rule | LoadLine) and a == b) for a, b in zip(one, other, strict=True))


def _lost(told: Told, losses: list[Loss], **more: None) -> Finding:
    """The finding on one spring: its worst loss."""
    worst = max(losses, key=lambda loss: loss.share)
    figure = Figure(name="load_loss", label="Load lost", kind=Plain.SHARE, value=worst.share)
    stands = standing(told.view.book.limit("load-loss"), worst.share)
    which = f"{plain(worst.name)}: " if worst.name else ""
    sentence = f"{which}{{now}} at {{height}}, {worst.basis} {{then}}: {{share}} lost."
    amounts = {
        "now": Amount(worst.now, Kind.FORCE),
        "then": Amount(worst.then, Kind.FORCE),
        "height": Amount(worst.height, Kind.LENGTH),
        "share": amount(figure),
    }
    return told.judged(figure, stands, sentence, amounts, about=(worst.about,), **more)


def _own_losses(view: View) -> Iterator[Loss]:
    """The job's own spring against its sheet, inside its readings."""
    line = view.line.load_line
    if line is None or view.line.nest.line is None or line.evidence != "measured":
        return
    yield from _against_sheet(line, sheet_loads(view), "")


def sheet_loads(view: View) -> Iterator[SheetLoad]:
    """The loads of the part maker's sheet."""
    path, count = view.line.stated.rows("spring.spec")
    values = view.line.stated.stated.values
    for index in range(count):
        height, load = values.get(f"{path}.{index}.height"), values.get(f"{path}.{index}.load")
        if height is not None and load is not None:
            yield SheetLoad(f"{path}.{index}.load", height, load)


def _against_sheet(line: LoadLine, sheet: Iterable[SheetLoad], name: str) -> Iterator[Loss]:
    for path, height, load in sheet:
        if not line.extrapolated(height):
            yield Loss(name, line.load_at(height), load, height, "sheet", path)


def numbered_losses(view: View, spring: str, line: LoadLine, sheet: tuple[SheetLoad, ...]) -> Iterator[Loss]:
    """A numbered spring against its earliest reading in the history, else against the sheet."""
    earliest = _earliest(view, spring)
    if earliest is None:
        yield from _against_sheet(line, sheet, f"Spring {spring}")
        return
    place, before = earliest
    for _, strand in before.strands:
        for height in strand.heights:
            if not line.extrapolated(float(height)):
                now, then = line.load_at(height), before.load_at(height)
                yield Loss(f"Spring {spring}", now, then, float(height), "earliest check", place)


def _earliest(view: View, name: str) -> tuple[str, LoadLine] | None:
    """The load line of a spring's earliest check in the history: by date, else in the order written."""
    history = view.analysis.job.history
    order = sorted(range(len(history)), key=lambda index: (history[index].record.date or "", index))
    for entry in order:
        for place, spring in enumerate(history[entry].springs):
            path = f"history.{entry}.springs.{place}"
            if spring.id == name:
                line, _ = spring_load_line(view.analysis.stated, path, view.line)
                if line is not None:
                    return path, line
    return None


@verdict("set-spread", Scope.JOB)
def set_spread(told: Told) -> Iterator[Finding]:
    """Highest less lowest seat load across the numbered springs, as a share of their mean."""
    spread = told.view.analysis.set.spread
    if spread is None:
        return
    limit = told.view.book.limit("set-spread")
    figure = Figure(name="set_spread", label="Spread of seat load", kind=Plain.SHARE, value=spread)
    stands = standing(limit, spread)
    sentence = "Seat loads across the set are {spread} of their mean apart; at most {limit} is asked for."
    yield told.judged(
        figure,
        stands,
        sentence,
        {"spread": amount(figure), "limit": asked(limit, stands)},
        about=("springs",),
        line=None,
    )
