"""The modified Goodman plot: stress against mean stress, the spring's own between the lines that bound it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from loadbench.units import display_unit
from ui.plots.ink import CHAIN, CURVE, DASHES
from ui.spring import stress_words as words
from ui.spring.chart import SHAPES, Chart, Look, Mark, Name, Shade, Shape, Stroke, straight
from ui.spring.stress_sight import LOOKS, OWN, ROOM, STRESS, Sight, other_series, x_range, zimmerli_name
from ui.spring.stress_words import CRITERIA, tr


def goodman_chart(sight: Sight) -> Chart:
    """The chart of a spring."""
    lines = sight.lines
    tops = [lines.ultimate_shear, lines.static_limit, lines.full_lift, lines.bind or 0.0]
    tops += [each.full_lift for _, _, each in sight.others]
    unit = display_unit(STRESS, sight.style)
    return Chart(
        across=tr("mean stress, {unit}").format(unit=unit),
        up=tr("stress, {unit}").format(unit=unit),
        x_range=x_range(sight),
        y_range=(0.0, ROOM * sight.shown(max(tops))),
        shades=_between(sight),
        strokes=(*_own_bar(sight), *_levels(sight), *_strengths(sight), *_other_bars(sight)),
        marks=(*_own_ends(sight), *_strength_marks(sight), *_other_ends(sight)),
        title=tr("Modified Goodman"),
    )


def _between(sight: Sight) -> tuple[Shade, ...]:
    """Between the Goodman lines: where the spring may work."""
    means = np.array([0.0, sight.lines.ultimate_shear])
    wide = sight.allowed("goodman", means)
    if not np.isfinite(wide).all():
        return ()
    xs = np.concatenate((means, means[::-1]))
    ys = np.concatenate((means + wide, (means - wide)[::-1]))
    return (Shade(xs=sight.shown(1.0) * xs, ys=sight.shown(1.0) * ys, share=0.1),)


def _own_bar(sight: Sight) -> list[Stroke]:
    mean, low, high = (sight.shown(each) for each in (sight.lines.mean, sight.lines.closed, sight.lines.full_lift))
    return [straight((mean, low), (mean, high), Look(role="accent", width=2 * CURVE))]


def _own_ends(sight: Sight) -> list[Mark]:
    lines, style = sight.lines, sight.style
    mean = sight.shown(lines.mean)
    rows = (
        ("full_lift", lines.full_lift, tr("full lift {stress}"), tr("full lift")),
        ("closed", lines.closed, tr("closed {stress}"), tr("closed")),
    )
    return [
        Mark(
            x=mean, y=sight.shown(value), shape=SHAPES[sight.place % 3], look=OWN, key=key, filled=key == "full_lift",
            name=Name(texts=(long.format(stress=words.stress(value, style)), short), role="accent", must=True, rank=0),
        )
        for key, value, long, short in rows
    ]  # fmt: skip


def _levels(sight: Sight) -> list[Stroke]:
    """Horizontal: the static limit and the stress at bind."""
    lines, right = sight.lines, x_range(sight)[1]
    rows = [(lines.static_limit, tr("static limit {stress}"), tr("static limit"), Look(role="quiet", pattern=CHAIN))]
    if lines.bind is not None:
        bind = Look(role="stop", pattern=DASHES[2])
        rows.append((lines.bind, tr("at bind {stress}"), tr("at bind"), bind))
    return [
        straight((0.0, sight.shown(value)), (right, sight.shown(value)), look,
            name=Name(texts=(long.format(stress=words.stress(value, sight.style)), short), role=look.role,
                      along=(0.0, 0.3), rank=1, must=True),
        )
        for value, long, short, look in rows
    ]  # fmt: skip


def _strengths(sight: Sight) -> list[Stroke]:
    """Upper and lower line of each criterion, and the mean between them."""
    found = []
    for each in CRITERIA:
        means = sight.means if each == "gerber" else sight.means[[0, -1]]
        wide = sight.allowed(each, means)
        if not np.isfinite(wide).all():
            continue
        along = (0.0, 0.9) if each == "goodman" else (0.9, 0.0)  # where it lies apart from the others
        name = Name(texts=(words.criterion_word(each),), role="ink", along=along)
        xs = sight.shown(1.0) * means
        found.append(Stroke(xs=xs, ys=sight.shown(1.0) * (means + wide), look=LOOKS[each], name=name))
        found.append(Stroke(xs=xs, ys=sight.shown(1.0) * (means - wide), look=replace(LOOKS[each], width=1.0)))
    most = sight.shown(sight.lines.ultimate_shear)
    name = Name(texts=(tr("mean"),), along=(0.9, 0.1), rank=4)
    found.append(straight((0.0, 0.0), (most, most), Look(role="lines", width=0.8), name))
    return found


def _strength_marks(sight: Sight) -> list[Mark]:
    lines = sight.lines
    mean, most = sight.shown(lines.amplitude_mean), sight.shown(lines.ultimate_shear)
    at, told = sight.shown(lines.mean), words.stress(lines.ultimate_shear, sight.style)
    found = [
        Mark(
            x=mean, y=sight.shown(lines.amplitude_mean + lines.amplitude), shape=Shape.CROSS, key="zimmerli",
            look=Look(width=1.6), name=zimmerli_name(lines),
        ),
        Mark(x=mean, y=sight.shown(lines.amplitude_mean - lines.amplitude), shape=Shape.CROSS, look=Look(width=1.6)),
        Mark(
            x=most, y=most, shape=Shape.DIAMOND, key="ultimate", small=True, filled=True,
            name=Name(texts=(tr("ultimate shear {stress}").format(stress=told), tr("ultimate shear")), role="ink",
                      rank=3),
        ),
        Mark(
            x=at, y=sight.shown(lines.static_limit), shape=Shape.BAR, look=Look(role="quiet", width=2.0), key="static",
        ),
    ]  # fmt: skip
    if lines.bind is not None:
        found.append(
            Mark(x=at, y=sight.shown(lines.bind), shape=Shape.BAR, look=Look(role="stop", width=2.0), key="bind")
        )
    return found


def _other_bars(sight: Sight) -> list[Stroke]:
    return [
        straight(
            sight.at(each.mean, each.closed),
            sight.at(each.mean, each.full_lift),
            Look(series=other_series(place, sight.place), width=CURVE, faint=True),
        )
        for place, _, each in sight.others
    ]


def _other_ends(sight: Sight) -> list[Mark]:
    return [
        Mark(
            x=sight.shown(each.mean), y=sight.shown(value), shape=SHAPES[place % 3], key=f"member {place}", small=True,
            look=Look(series=other_series(place, sight.place), faint=True, width=1.4),
            name=Name(texts=(coil.name,)) if value == each.full_lift and coil.name else None,
        )
        for place, coil, each in sight.others
        for value in (each.closed, each.full_lift)
    ]  # fmt: skip
