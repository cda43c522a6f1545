"""Verdicts on springs over time and across a set: load lost, spread."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from loadbench.analysis.figure import Figure, Plain
from loadbench.analysis.springs import spring_load_line
from loadbench.findings.finding import Amount, Finding
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


@verdict("load-loss", Scope.MERGED)
def load_loss(told: Told) -> Iterator[Finding]:
    """Load now against the spring's earliest reading in the history, else against its sheet at that height."""
    if own := list(_own_losses(told.view)):
        yield _lost(told, own)
    if told.view.line is told.view.analysis.lines[0]:  # a numbered spring stands in one line only
        losses = list(_numbered_losses(told.view))
        for name in dict.fromkeys(loss.name for loss in losses):
            yield _lost(told, [loss for loss in losses if loss.name == name], line=None)


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
    yield from _against_sheet(view, line, "")


def _against_sheet(view: View, line: LoadLine, name: str) -> Iterator[Loss]:
    path, count = view.line.stated.rows("spring.spec")
    values = view.line.stated.stated.values
    for index in range(count):
        height, load = values.get(f"{path}.{index}.height"), values.get(f"{path}.{index}.load")
        if height is not None and load is not None and not line.extrapolated(height):
            yield Loss(name, line.load_at(height), load, height, "sheet", f"{path}.{index}.load")


def _numbered_losses(view: View) -> Iterator[Loss]:
    """Each numbered spring against its earliest reading in the history, else against the sheet."""
    for spring in view.analysis.set.springs:
        if spring.load_line is None:
            continue
        earliest = _earliest(view, spring.id)
        if earliest is None:
            yield from _against_sheet(view, spring.load_line, f"Spring {spring.id}")
            continue
        place, before = earliest
        for _, strand in before.strands:
            for height in strand.heights:
                if not spring.load_line.extrapolated(float(height)):
                    now, then = spring.load_line.load_at(height), before.load_at(height)
                    yield Loss(f"Spring {spring.id}", now, then, float(height), "earliest check", place)


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
    sentence = "Seat loads across the set are {spread} of their mean apart; {limit} is asked for."
    yield told.judged(
        figure,
        stands,
        sentence,
        {"spread": amount(figure), "limit": asked(limit, stands)},
        about=("springs",),
        line=None,
    )
