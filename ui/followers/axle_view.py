"""Where needles must give way to a bush: spring load against the share of idling, the trade's rule marked on it."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np
from typing_extensions import override

from loadbench.analysis.changeover import ChangeOverShown, changeover_missing, changeover_of
from loadbench.findings.rulebook import rule_book
from loadbench.follower.changeover import Better
from loadbench.units import Kind, display_unit, tell, to_display
from ui.followers.wording import axis, tr
from ui.labels import label_of
from ui.motion.stacked import StackedScale
from ui.plots.ink import DASHES
from ui.spring.chart import Chart, Look, Mark, Name, Shade, Shape, Stroke, Told, straight
from ui.spring.chart_picture import ChartPicture

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtWidgets import QWidget

    from loadbench.analysis import LineAnalysis
    from loadbench.arrays import Floats, Indices
    from loadbench.findings.rulebook import Limit
    from loadbench.units import Style
    from ui.session import Session
    from ui.state import State

NEEDLE, BUSH = Look(role="accent", width=2.0), Look(series=0, pattern=DASHES[0], width=2.0)
TRADE = Look(role="watch", pattern=DASHES[1], width=1.4)
JOB = Look(role="ink", width=2.0)


class AxleView(ChartPicture):
    """Both axles of this follower over load and idling."""

    scale: StackedScale

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        self.shown: ChangeOverShown | None = None
        super().__init__(session, StackedScale("axle_picture", 1), "axle", parent)

    @override
    def build(self, state: State, line: str, member: str | None, style: Style) -> Told:
        analysed = state.analysis.line(line)
        self.shown = changeover_of(analysed)
        if self.shown is None:
            missing = ", ".join(dict.fromkeys(_small(label_of(field)) for field in changeover_missing(analysed)))
            return Told(
                empty=tr("Where needles give way to a bush waits for: {fields}.").format(fields=missing or "\u2013")
            )
        book = rule_book(self.session.shop, state.job.rules, state.analysis.stated.style)
        return axle_picture(self.shown, book.limit("bushed-axle", "open_load"), analysed, style)

    @override
    def read_at(self, place: float) -> str:
        return "" if self.shown is None else read_out(self.shown, place, self.session.style)

    @override
    def stride(self) -> float:
        return 1.0

    @override
    def rows(self) -> list[list[str]]:
        return [] if self.shown is None else axle_rows(self.shown, self.session.style)

    @override
    def title(self) -> str:
        return tr("Where needles give way to a bush")


def _small(text: str) -> str:
    return text[:1].lower() + text[1:]


def axle_picture(shown: ChangeOverShown, trade: Limit, line: LineAnalysis, style: Style) -> Told:
    """The chart.

    Args:
        shown: the grid of both axles.
        trade: the trade's limits on open load.
        line: on show.
        style: the units on show.
    """
    grid = shown.grid
    shares, top = 100 * grid.shares, float(to_display(float(grid.loads[-1]), Kind.FORCE, style))
    right = float(shares[-1])
    strokes: list[Stroke] = []
    shades: list[Shade] = []
    for limit, look, held, name in (
        (shown.needle_limit, NEEDLE, Better.NEEDLE, tr("needles hold up to here")),
        (shown.bush_limit, BUSH, Better.BUSH, tr("the bush\u2019s list holds up to here")),
    ):
        ys = _edge(limit, grid.better, held, grid.loads)
        shown_ys = to_display(ys, Kind.FORCE, style)
        shades.append(Shade(
            xs=np.concatenate([shares, shares[::-1]]), ys=np.concatenate([np.zeros_like(shown_ys), shown_ys[::-1]]),
            role="accent" if held is Better.NEEDLE else "clear", share=0.08,
        ))  # fmt: skip
        drawn = np.where(np.isfinite(limit), to_display(limit, Kind.FORCE, style), np.nan)
        strokes.append(Stroke(xs=shares, ys=drawn, look=look, name=Name(texts=(name,), along=(0.2, 0.9), rank=1)))
    for value, words in (
        (trade.watch, tr("trade: a bush for some uses from {load}")),
        (trade.stop, tr("trade: a bush from {load}")),
    ):
        if value is not None:
            y = float(to_display(value, Kind.FORCE, style))
            text = words.format(load=tell(value, Kind.FORCE, style))
            strokes.append(
                straight((0.0, y), (right, y), TRADE, Name(texts=(text,), role="watch", along=(0.95, 0.4), rank=1))
            )
    says: dict[str, Callable[[], str]] = {}
    marks: list[Mark] = []
    if shown.job_share is not None:
        key = "job"
        says[key] = partial(job_sentence, shown, style)
        marks.append(Mark(
            x=100 * shown.job_share, y=float(to_display(shown.job_load, Kind.FORCE, style)),
            shape=Shape.DIAMOND, look=JOB, key=key, filled=True,
            name=Name(texts=(tr("this job"),), role="ink", bold=True, rank=0),
        ))  # fmt: skip
    chart = Chart(
        across=tr("Share of time idling, %"), up=axis(tr("Spring load at full lift"), Kind.FORCE, style),
        x_range=(0.0, right), y_range=(0.0, top), shades=tuple(shades), strokes=tuple(strokes), marks=tuple(marks),
    )  # fmt: skip
    return Told(charts=(chart,), says=says, notes=_notes(shown, line, style), description=job_sentence(shown, style))


def _edge(limit: Floats, better: Indices, held: Better, loads: Floats) -> Floats:
    """Up to which load an axle holds at each share: the crossing, all of the grid, or nothing of it."""
    holds = (better.astype(int) & int(held)) > 0
    whole, none = holds.all(axis=0), ~holds.any(axis=0)
    return np.where(whole, loads[-1], np.where(none, 0.0, np.where(np.isfinite(limit), limit, 0.0)))


def _notes(shown: ChangeOverShown, line: LineAnalysis, style: Style) -> tuple[str, ...]:
    hours = f"{shown.wanted_life / 3600:.0f}"
    found = [tr("Needles: {hours}\u2009h wanted and a static safety of 1.5 (ISO 281, ISO 76).").format(hours=hours)]
    bushed = shown.grid.bush_margin
    if shown.bush_label:
        said = tr("Bush: pressure and PV of {label} ({source}), a list for steady sliding.")
        found.append(said.format(label=shown.bush_label, source=shown.bush_source))
    if not (bushed >= 1).any():
        found.append(tr("By that list no bush of this size would do at any load; the trade runs them all the same."))
    if shown.typical:
        found.append(tr("Taken as is typical: {what}.").format(what="; ".join(shown.typical)))
    return tuple(found)


def job_sentence(shown: ChangeOverShown, style: Style) -> str:
    """What the job's own parts say at its place."""
    load = tell(shown.job_load, Kind.FORCE, style)
    if shown.job_share is None:
        return tr("This job has {load} open; its share of idling is not stated.").format(load=load)
    column = int(np.argmin(np.abs(shown.grid.shares - shown.job_share)))
    limit = shown.needle_limit[column]
    needles = tr("its needles hold up to {limit}").format(limit=tell(float(limit), Kind.FORCE, style)) if np.isfinite(
        limit) else tr("its needles hold nowhere on the picture") if shown.grid.needle_margin[0, column] < 1 else tr(
        "its needles hold all over the picture")  # fmt: skip
    return tr("This job: {load} open, idling {share}\u2009% of the time; {needles}.").format(
        load=load, share=f"{100 * shown.job_share:.0f}", needles=needles
    )


def read_out(shown: ChangeOverShown, place: float, style: Style) -> str:
    """What the read-out says at a share of idling, in percent: at the job's own load."""
    grid = shown.grid
    column = int(np.argmin(np.abs(100 * grid.shares - place)))
    row = int(np.argmin(np.abs(grid.loads - shown.job_load)))
    return tr(
        "Idling {share}\u2009% at {load}: needles {life}\u2009h, static safety {safety}; bush {p}, {pv}."
    ).format(
        share=f"{100 * grid.shares[column]:.0f}", load=tell(float(grid.loads[row]), Kind.FORCE, style),
        life=f"{grid.needle_life[row, column] / 3600:,.0f}".replace(",", "\u2009"),
        safety=f"{grid.needle_safety[row, column]:.2f}",
        p=tell(float(grid.bush_pressure[row, column]), Kind.STRESS, style),
        pv=tell(float(grid.bush_pv[row, column]), Kind.PV, style),
    )  # fmt: skip


def axle_rows(shown: ChangeOverShown, style: Style) -> list[list[str]]:
    """The data behind the picture: a row for each load and share."""
    grid = shown.grid
    force, stress, pv = (display_unit(kind, style) for kind in (Kind.FORCE, Kind.STRESS, Kind.PV))
    heads = ["idle_share", f"open_load_{force}", "needle_life_h", "needle_static_safety"]
    heads += [f"bush_pressure_{stress}", f"bush_pv_{pv}"]
    rows = [heads]
    for column, share in enumerate(grid.shares):
        for row, load in enumerate(grid.loads):
            rows.append([
                f"{share:.4g}", f"{float(to_display(float(load), Kind.FORCE, style)):.6g}",
                f"{grid.needle_life[row, column] / 3600:.6g}", f"{grid.needle_safety[row, column]:.6g}",
                f"{float(to_display(float(grid.bush_pressure[row, column]), Kind.STRESS, style)):.6g}",
                f"{float(to_display(float(grid.bush_pv[row, column]), Kind.PV, style)):.6g}",
            ])  # fmt: skip
    return rows
