"""The charts of the contact: Hertz pressure above, least oil film over roughness beneath, over the cam's angle."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from loadbench.analysis.followers.contact_figures import STRIDE
from loadbench.follower.film import FULL_FROM, MIXED_FROM, regime
from loadbench.units import Kind, tell, to_display
from ui.followers.wording import axis, tr
from ui.level_words import source_words
from ui.plots.ink import DASHES
from ui.spring.chart import CENTRED, Chart, Look, Mark, Name, Shade, Shape, Stroke, Told, straight

if TYPE_CHECKING:
    from collections.abc import Callable

    from loadbench.analysis import LineAnalysis
    from loadbench.analysis.followers.result import ContactCurve
    from loadbench.arrays import Floats
    from loadbench.units import Style

IDLE, LIMIT = Look(role="accent", width=1.8), Look(series=0, pattern=DASHES[0], width=1.6)
ALLOWED = Look(role="stop", pattern=DASHES[1], width=1.2)

ABOVE = 1.16
"""What is left free above the highest line, as a share of it."""

NOSE, OPENING, CLOSING = "nose", "opening", "closing"
FORMS = {NOSE: Shape.CIRCLE, OPENING: Shape.TRIANGLE, CLOSING: Shape.SQUARE}


def curves_of(line: LineAnalysis) -> list[tuple[str, ContactCurve, Look]]:
    """The curves that are known, each with its word and look."""
    follower = line.follower
    named = ((tr("idling"), follower.contact_idle, IDLE), (tr("at the speed limit"), follower.contact_limit, LIMIT))
    return [(word, curve, look) for word, curve, look in named if curve is not None]


def contact_picture(line: LineAnalysis, style: Style) -> Told:
    """The two charts.

    Args:
        line: on show.
        style: the units on show.
    """
    curves = curves_of(line)
    if not curves:
        return Told(empty=tr("No contact is known."))
    reach = _reach(curves[0][1])
    says: dict[str, Callable[[], str]] = {}
    places = {word: places_of(line, curve) for word, curve, _ in curves}
    for word, curve, _ in curves:
        for where, at in places[word].items():
            says[f"{where} {word}"] = partial(place_sentence, where, word, curve, at, style)
    first = " ".join(place_sentence(NOSE, word, curve, curve.cycle.nose, style) for word, curve, _ in curves)
    charts = (_pressure_chart(line, curves, places, reach, style), _film_chart(line, curves, reach))
    return Told(charts=charts, says=says, notes=_notes(line), description=first)


def places_of(line: LineAnalysis, curve: ContactCurve) -> dict[str, int]:
    """Where the nose is, and the greatest pressure on either flank: where the lobe pushes the valve faster."""
    found = {NOSE: curve.cycle.nose} if np.isfinite(curve.pressure[curve.cycle.nose]) else {}
    shown = line.motion.shown
    if shown is None:
        return found
    pushing = (shown.lobe[2][::STRIDE] > 0) & np.isfinite(curve.pressure)
    angles = curve.cycle.angles
    for where, side in ((OPENING, angles < 0), (CLOSING, angles > 0)):
        mine = np.flatnonzero(pushing & side)
        if mine.size:
            found[where] = int(mine[np.argmax(curve.pressure[mine])])
    return found


def _notes(line: LineAnalysis) -> tuple[str, ...]:
    notes, allowed = [], line.follower.allowed
    if allowed is not None and allowed.stress is not None:
        notes.append(tr("Dotted: what the pair is said to bear. {note} {source}").format(
            note=allowed.note, source=source_words(allowed.source)).strip())  # fmt: skip
    elif allowed is not None and allowed.note:
        notes.append(allowed.note)
    if line.follower.typical:
        notes.append(tr("Taken as is typical: {what}.").format(what=", ".join(line.follower.typical)))
    return tuple(_ended(each) for each in notes)


def _ended(text: str) -> str:
    return text if text.endswith(".") else f"{text}."


def _reach(curve: ContactCurve) -> tuple[float, float]:
    """The stretch of the turn in which anything presses, and a little more."""
    degrees = np.degrees(curve.cycle.angles)
    pressed = np.flatnonzero(np.isfinite(curve.pressure))
    if not pressed.size:
        return -90.0, 90.0
    return float(degrees[pressed[0]]) - 5, float(degrees[pressed[-1]]) + 12


def _pressure_chart(
    line: LineAnalysis, curves: list[tuple[str, ContactCurve, Look]], places: dict[str, dict[str, int]],
    reach: tuple[float, float], style: Style,
) -> Chart:  # fmt: skip
    strokes, marks, top = [], [], 0.0
    named = {NOSE: tr("nose"), OPENING: tr("opening flank"), CLOSING: tr("closing flank")}
    for word, curve, look in curves:
        ys = to_display(curve.pressure, Kind.STRESS, style)
        top = max(top, _greatest(ys))
        strokes.append(
            Stroke(xs=np.degrees(curve.cycle.angles), ys=ys, look=look, name=Name(texts=(word,), along=(0.2, 0.9)))
        )
        for where, at in places[word].items():
            x, y = float(np.degrees(curve.cycle.angles[at])), float(ys[at])
            marks.append(
                Mark(x=x, y=y, shape=FORMS[where], look=look, key=f"{where} {word}", filled=True,
                     name=Name(texts=(named[where],), rank=3, sides=CENTRED))
            )  # fmt: skip
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


def _film_chart(line: LineAnalysis, curves: list[tuple[str, ContactCurve, Look]], reach: tuple[float, float]) -> Chart:
    strokes, top = [], 1.4
    for word, curve, look in curves:
        if curve.film_ratio is not None:
            top = max(top, min(_greatest(curve.film_ratio), 4.5))
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
    marks += _idle_nose(curves)
    if not strokes:
        name = Name(texts=(_film_waits(line),), rank=0, role="ink", sides=((0.5, 0.0), (0.5, 1.0)), must=True)
        marks.append(Mark(x=sum(reach) / 2, y=high * 0.8, shape=Shape.NONE, name=name))
    return Chart(
        up=tr("Oil film over roughness"), across=tr("Cam from the nose, deg"), x_range=reach, y_range=(0.0, high),
        shades=tuple(shades), strokes=tuple(strokes), marks=tuple(marks),
    )  # fmt: skip


def _band(reach: tuple[float, float], up: tuple[float, float], role: str, share: float) -> Shade:
    (left, right), (low, high) = reach, up
    return Shade(xs=np.array([left, right, right, left]), ys=np.array([low, low, high, high]), role=role, share=share)


def _greatest(values: Floats) -> float:
    known = values[np.isfinite(values)]
    return float(known.max()) if known.size else 0.0


def _idle_nose(curves: list[tuple[str, ContactCurve, Look]]) -> list[Mark]:
    """The worst of all: the film at the nose, idling."""
    word, curve, look = curves[0]
    if curve.film_ratio is None or look is not IDLE or not np.isfinite(curve.film_ratio[curve.cycle.nose]):
        return []
    ratio = float(curve.film_ratio[curve.cycle.nose])
    name = Name(texts=(tr("nose {ratio}").format(ratio=f"{ratio:.2f}"),), role="ink", rank=1, sides=CENTRED)
    return [Mark(x=0.0, y=ratio, shape=FORMS[NOSE], look=look, key=f"{NOSE} {word}", filled=True, name=name)]


def _film_waits(line: LineAnalysis) -> str:
    """What the film waits for, in words."""
    from ui.followers.needs import names_of

    figure = line.figures.get("film_ratio_idle")
    told = names_of(() if figure is None else figure.missing)
    return tr("The oil film waits for: {fields}.").format(fields=told) if told else tr("The oil film is not known.")


def place_sentence(where: str, word: str, curve: ContactCurve, at: int, style: Style) -> str:
    """What is read at a mark."""
    heads = {
        NOSE: tr("At the nose, {word}: {p}"),
        OPENING: tr("Greatest on the opening flank, {word}: {p}"),
        CLOSING: tr("Greatest on the closing flank, {word}: {p}"),
    }
    pressure = float(curve.pressure[at])
    if not np.isfinite(pressure):
        return tr("Nothing presses at the nose {word}.").format(word=word)
    text = heads[where].format(word=word, p=tell(pressure, Kind.STRESS, style))
    if curve.film is not None and curve.film_ratio is not None:
        text += tr(", film {film}, {ratio} times the roughness ({regime})").format(
            film=tell(float(curve.film[at]), Kind.FILM, style), ratio=f"{float(curve.film_ratio[at]):.2f}",
            regime=regime(float(curve.film_ratio[at])),
        )  # fmt: skip
    return f"{text}."
