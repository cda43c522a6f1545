"""The contact of lobe and follower over the turn: Hertz pressure and oil film, idling and at the speed limit."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np
from typing_extensions import override

from loadbench.follower.film import FULL_FROM, MIXED_FROM, regime
from loadbench.units import Kind, display_unit, tell, to_display
from ui.followers.wording import axis, tr
from ui.motion.stacked import StackedScale
from ui.plots.ink import DASHES
from ui.spring.chart import Chart, Look, Mark, Name, Shade, Shape, Stroke, Told, straight
from ui.spring.chart_picture import ChartPicture

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtWidgets import QWidget

    from loadbench.analysis import LineAnalysis
    from loadbench.analysis.followers.result import ContactCurve
    from loadbench.arrays import Floats
    from loadbench.units import Style
    from ui.session import Session
    from ui.state import State

IDLE, LIMIT = Look(role="accent", width=1.8), Look(series=0, pattern=DASHES[0], width=1.6)
ALLOWED = Look(role="stop", pattern=DASHES[1], width=1.2)

ABOVE = 1.12
"""What is left free above the highest line, as a share of it."""


class ContactView(ChartPicture):
    """Pressure above, film beneath, over the cam's angle."""

    scale: StackedScale

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        self.line: LineAnalysis | None = None
        super().__init__(session, StackedScale("contact_picture", 2, crank=True), "contact", parent)

    @override
    def build(self, state: State, line: str, member: str | None, style: Style) -> Told:
        self.line = state.analysis.line(line)
        return contact_picture(self.line, style)

    @override
    def read_at(self, place: float) -> str:
        return "" if self.line is None else read_out(self.line, place, self.session.style)

    @override
    def stride(self) -> float:
        return 1.0

    @override
    def rows(self) -> list[list[str]]:
        return [] if self.line is None else contact_rows(self.line, self.session.style)

    @override
    def title(self) -> str:
        return tr("Contact of lobe and follower over the cam\u2019s angle")


def _curves(line: LineAnalysis) -> list[tuple[str, ContactCurve, Look]]:
    follower = line.follower
    named = ((tr("idling"), follower.contact_idle, IDLE), (tr("at the speed limit"), follower.contact_limit, LIMIT))
    return [(word, curve, look) for word, curve, look in named if curve is not None]


def contact_picture(line: LineAnalysis, style: Style) -> Told:
    """The two charts.

    Args:
        line: on show.
        style: the units on show.
    """
    curves = _curves(line)
    if not curves:
        return Told(empty=tr("No contact is known."))
    low, high = _reach(curves[0][1])
    pressure = _pressure_chart(line, curves, (low, high), style)
    film = _film_chart(curves, (low, high))
    says: dict[str, Callable[[], str]] = {}
    for word, curve, _ in curves:
        says[f"nose {word}"] = partial(_nose_sentence, word, curve, style)
    notes = []
    allowed = line.follower.allowed
    if allowed is not None and allowed.stress is not None:
        notes.append(tr("Dotted: {pair}, from memory, guidance and no proof ({source}).").format(
            pair=allowed.pair, source=allowed.source))  # fmt: skip
    elif allowed is not None and allowed.note:
        notes.append(allowed.note)
    if line.follower.typical:
        notes.append(tr("Taken as is typical: {what}.").format(what=", ".join(line.follower.typical)))
    first = " ".join(_nose_sentence(word, curve, style) for word, curve, _ in curves)
    return Told(charts=(pressure, film), says=says, notes=tuple(notes), description=first)


def _reach(curve: ContactCurve) -> tuple[float, float]:
    """The stretch of the turn in which anything presses, and a little more."""
    degrees = np.degrees(curve.cycle.angles)
    pressed = np.flatnonzero(np.isfinite(curve.pressure))
    if not pressed.size:
        return -90.0, 90.0
    return float(degrees[pressed[0]]) - 5, float(degrees[pressed[-1]]) + 12


def _pressure_chart(
    line: LineAnalysis, curves: list[tuple[str, ContactCurve, Look]], reach: tuple[float, float], style: Style
) -> Chart:
    strokes, marks, top = [], [], 0.0
    for word, curve, look in curves:
        ys = to_display(curve.pressure, Kind.STRESS, style)
        top = max(top, float(np.nanmax(ys)) if np.isfinite(ys).any() else 0.0)
        strokes.append(
            Stroke(xs=np.degrees(curve.cycle.angles), ys=ys, look=look, name=Name(texts=(word,), along=(0.2, 0.9)))
        )
        nose = curve.cycle.nose
        if np.isfinite(ys[nose]):
            marks.append(Mark(x=0.0, y=float(ys[nose]), shape=Shape.CIRCLE, look=look, key=f"nose {word}", filled=True))
    allowed = line.follower.allowed
    if allowed is not None and allowed.stress is not None:
        limit = float(to_display(allowed.stress, Kind.STRESS, style))
        top = max(top, limit)
        name = Name(texts=(tr("said to bear {p}").format(p=tell(allowed.stress, Kind.STRESS, style)),), role="stop")
        strokes.append(straight((reach[0], limit), (reach[1], limit), ALLOWED, name))
    return Chart(
        up=axis(tr("Contact pressure"), Kind.STRESS, style), x_range=reach,
        y_range=(0.0, ABOVE * max(top, 1.0)), strokes=tuple(strokes), marks=tuple(marks),
    )  # fmt: skip


def _film_chart(curves: list[tuple[str, ContactCurve, Look]], reach: tuple[float, float]) -> Chart:
    strokes, top = [], 1.4
    for word, curve, look in curves:
        if curve.film_ratio is not None:
            top = max(top, min(float(np.nanmax(curve.film_ratio)), 4.5))
            strokes.append(Stroke(xs=np.degrees(curve.cycle.angles), ys=curve.film_ratio, look=look,
                                  name=Name(texts=(word,), along=(0.3, 0.9))))  # fmt: skip
    high = ABOVE * top
    shades = [_band(reach, (0.0, MIXED_FROM), "stop", 0.10)]
    names = [(MIXED_FROM / 2, tr("boundary: the surfaces touch"))]
    if high > MIXED_FROM:
        shades.append(_band(reach, (MIXED_FROM, min(FULL_FROM, high)), "watch", 0.10))
        names.append(((MIXED_FROM + min(FULL_FROM, high)) / 2, tr("mixed")))
    if high > FULL_FROM:
        shades.append(_band(reach, (FULL_FROM, high), "clear", 0.10))
        names.append(((FULL_FROM + high) / 2, tr("full film")))
    marks = [
        Mark(x=reach[0] + 2, y=y, shape=Shape.NONE, name=Name(texts=(text,), sides=((0.0, 0.5),), rank=1))
        for y, text in names
    ]
    empty = () if strokes else (tr("The film waits for the oil, its temperature, the base circle and the roller."),)
    if empty:
        marks.append(Mark(x=sum(reach) / 2, y=high * 0.8, shape=Shape.NONE, name=Name(texts=empty, rank=1)))
    return Chart(
        up=tr("Oil film over roughness"), across=tr("Cam from the nose, deg"), x_range=reach, y_range=(0.0, high),
        shades=tuple(shades), strokes=tuple(strokes), marks=tuple(marks),
    )  # fmt: skip


def _band(reach: tuple[float, float], up: tuple[float, float], role: str, share: float) -> Shade:
    (left, right), (low, high) = reach, up
    return Shade(xs=np.array([left, right, right, left]), ys=np.array([low, low, high, high]), role=role, share=share)


def _nose_sentence(word: str, curve: ContactCurve, style: Style) -> str:
    nose = curve.cycle.nose
    pressure = float(curve.pressure[nose])
    if not np.isfinite(pressure):
        return tr("Nothing presses at the nose {word}.").format(word=word)
    text = tr("At the nose, {word}: {p}").format(word=word, p=tell(pressure, Kind.STRESS, style))
    if curve.film is not None and curve.film_ratio is not None:
        text += tr(", film {film}, {ratio} times the roughness ({regime})").format(
            film=tell(float(curve.film[nose]), Kind.FILM, style), ratio=f"{float(curve.film_ratio[nose]):.2f}",
            regime=regime(float(curve.film_ratio[nose])),
        )  # fmt: skip
    return f"{text}."


def read_out(line: LineAnalysis, place: float, style: Style) -> str:
    """What the read-out says at an angle of the cam, deg."""
    parts = [tr("Cam {angle}\u2009deg from the nose").format(angle=f"{place:.0f}".replace("-", "\u2212"))]
    for word, curve, _ in _curves(line):
        at = int(np.argmin(np.abs(np.degrees(curve.cycle.angles) - place)))
        pressure = float(curve.pressure[at])
        if not np.isfinite(pressure):
            parts.append(tr("{word}: nothing presses").format(word=word))
            continue
        text = (
            f"{word}: {tell(float(curve.cycle.contact[at]), Kind.FORCE, style)}, {tell(pressure, Kind.STRESS, style)}"
        )
        if curve.film_ratio is not None and np.isfinite(curve.film_ratio[at]):
            text += tr(", film ratio {ratio}").format(ratio=f"{float(curve.film_ratio[at]):.2f}")
        parts.append(text)
    return "; ".join(parts) + "."


def contact_rows(line: LineAnalysis, style: Style) -> list[list[str]]:
    """The data behind the picture."""
    units = {kind: display_unit(kind, style) for kind in (Kind.FORCE, Kind.STRESS, Kind.FILM)}
    heads: list[str] = ["cam_deg"]
    columns: list[Floats | None] = []
    curves = _curves(line)
    for word, curve, _ in curves:
        key = "idle" if word == tr("idling") else "limit"
        heads += [f"{key}_force_{units[Kind.FORCE]}", f"{key}_pressure_{units[Kind.STRESS]}",
                  f"{key}_film_{units[Kind.FILM]}", f"{key}_film_ratio"]  # fmt: skip
        film = None if curve.film is None else to_display(curve.film, Kind.FILM, style)
        columns += [to_display(curve.cycle.contact, Kind.FORCE, style), to_display(curve.pressure, Kind.STRESS, style)]
        columns += [film, curve.film_ratio]
    if not curves:
        return [heads]
    degrees = np.degrees(curves[0][1].cycle.angles)
    return [heads] + [
        [f"{degree:.1f}", *(_cell(each, place) for each in columns)] for place, degree in enumerate(degrees)
    ]


def _cell(values: Floats | None, place: int) -> str:
    return "" if values is None or not np.isfinite(values[place]) else f"{values[place]:.9g}"
