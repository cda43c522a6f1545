"""The Haigh plot: alternating stress against mean stress; a line's factor is how far along the load line it lies."""

from __future__ import annotations

import numpy as np

from loadbench.units import display_unit
from ui.plots.ink import CHAIN
from ui.spring import stress_words as words
from ui.spring.chart import SHAPES, Chart, Look, Mark, Name, Shade, Shape, Stroke, straight
from ui.spring.stress_sight import LOOKS, OWN, ROOM, STRESS, Sight, other_series, x_range, zimmerli_name
from ui.spring.stress_words import CRITERIA, tr

STEEP = 2.2  # times Zimmerli's amplitude: an endurance limit above it may leave the picture
MARKS = {"goodman": Shape.DIAMOND, "gerber": Shape.SQUARE, "sines": Shape.TRIANGLE}


def haigh_chart(sight: Sight) -> Chart:
    """The chart of a spring."""
    lines, unit = sight.lines, display_unit(STRESS, sight.style)
    steep = min(lines.endurance_goodman, STEEP * lines.amplitude)
    tops = [lines.amplitude, lines.alternating, *(each.alternating for _, _, each in sight.others)]
    if np.isfinite(steep):
        tops.append(steep)
    return Chart(
        across=tr("mean stress, {unit}").format(unit=unit),
        up=tr("alternating stress, {unit}").format(unit=unit),
        x_range=x_range(sight),
        y_range=(0.0, ROOM * sight.shown(max(tops))),
        shades=_under(sight),
        strokes=(*_criteria(sight), *_load_line(sight)),
        marks=(*_points(sight), *_crossings(sight), *_haigh_strengths(sight)),
        title=tr("Haigh"),
    )


def _under(sight: Sight) -> tuple[Shade, ...]:
    high = sight.lines.endurance_goodman
    if not np.isfinite(high):
        return ()
    most = sight.lines.ultimate_shear
    xs, ys = np.array([0.0, 0.0, most]), np.array([0.0, high, 0.0])
    return (Shade(xs=sight.shown(1.0) * xs, ys=sight.shown(1.0) * ys, share=0.1),)


def _criteria(sight: Sight) -> list[Stroke]:
    """The lines, each named at itself with its factor."""
    found = []
    for each in CRITERIA:
        means = sight.means if each == "gerber" else sight.means[[0, -1]]
        wide = sight.allowed(each, means)
        if not np.isfinite(wide).all():
            continue
        word, factor = words.criterion_word(each), words.factor_of(sight.coil, each)
        texts = (f"{word} {factor:.2f}", word) if factor else (word,)
        name = Name(texts=texts, role="ink", rank=1, bold=factor is not None)
        found.append(Stroke(xs=sight.shown(1.0) * means, ys=sight.shown(1.0) * wide, look=LOOKS[each], name=name))
    return found


def _load_line(sight: Sight) -> list[Stroke]:
    """From no stress through the spring's point: the factor is how far along it a line lies."""
    lines = sight.lines
    far = max(1.0, *(words.factor_of(sight.coil, each) or 1.0 for each in CRITERIA))
    end = sight.at(far * lines.mean, far * lines.alternating)
    name = Name(texts=(tr("load line"),), role="accent", along=(0.6, 0.05), rank=3)
    look = Look(role="accent", pattern=CHAIN, width=1.0)
    return [straight((0.0, 0.0), end, look, name)]


def _points(sight: Sight) -> list[Mark]:
    lines, coil = sight.lines, sight.coil
    told = f"±\u2009{words.stress(lines.alternating, sight.style)}"
    own = Mark(
        x=sight.shown(lines.mean), y=sight.shown(lines.alternating), shape=SHAPES[sight.place % 3], look=OWN,
        key="point", filled=True,
        name=Name(texts=(f"{coil.name} {told}".strip(), told), role="accent", bold=True, must=True, rank=0),
    )  # fmt: skip
    others = [
        Mark(
            x=sight.shown(each.mean), y=sight.shown(each.alternating), shape=SHAPES[place % 3], small=True,
            look=Look(series=other_series(place, sight.place), faint=True, width=1.4), key=f"member {place}",
            name=Name(texts=(other.name,)) if other.name else None,
        )
        for place, other, each in sight.others
    ]  # fmt: skip
    return [own, *others]


def _crossings(sight: Sight) -> list[Mark]:
    """Where the load line meets each line."""
    lines, found = sight.lines, []
    for each in CRITERIA:
        factor = words.factor_of(sight.coil, each)
        if factor is not None:
            look = Look(series=LOOKS[each].series, width=1.6)
            x, y = sight.at(factor * lines.mean, factor * lines.alternating)
            found.append(Mark(x=x, y=y, shape=MARKS[each], look=look, key=each))
    return found


def _haigh_strengths(sight: Sight) -> list[Mark]:
    lines = sight.lines
    return [
        Mark(
            x=sight.shown(lines.amplitude_mean), y=sight.shown(lines.amplitude), shape=Shape.CROSS, key="zimmerli",
            look=Look(width=1.6), name=zimmerli_name(lines),
        ),
        Mark(
            x=sight.shown(lines.ultimate_shear), y=0.0, shape=Shape.DIAMOND, key="ultimate", small=True, filled=True,
            name=Name(texts=(tr("ultimate shear"),), role="ink", rank=3),
        ),
    ]  # fmt: skip
