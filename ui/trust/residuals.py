"""Residuals: each reading off its own spring's line; a bow is a progressive spring, a lone one a slip."""

from __future__ import annotations

from statistics import median
from typing import TYPE_CHECKING

from loadbench.job.checks import SAME_HEIGHT
from loadbench.units import Kind, Style, display_unit, to_display
from ui.trust import wording
from ui.trust.loads_by_height import FAR, HALF, USUAL, doubted, place_of
from ui.trust.scene import Dot, Scene, Sign, Stroke
from ui.trust.wording import tr

if TYPE_CHECKING:
    from loadbench.findings.set_check.result import Residual, SetCheck

NOISE = 1e-6  # N: the rounding of floats
Key = tuple[str, float]


def residuals(check: SetCheck, style: Style) -> Scene:
    """Every reading off its spring's line, a column for each part and height."""
    rows = [(spring.id, residual) for spring in check.springs for residual in spring.residuals]
    if not any(abs(each.off) > NOISE for _, each in rows):
        return Scene(empty=tr("Needs readings of each spring at three heights or more: a line meets any two of them."))
    keys = _keys([each for _, each in rows])
    at = {key: place for place, key in enumerate(keys)}
    dots, loads = [], {}
    for spring, each in rows:
        place = at[_key(each, keys)]
        odd = doubted(check.flags, spring, each.part, each.height)
        y = to_display(each.off, Kind.FORCE, style)
        dots.append(Dot(x=place, y=y, spring=spring, place=place, sign=Sign.PLAIN, doubted=odd))
        loads[spring, place, y] = each
    offs = [abs(dot.y) for dot in dots]
    usual = max(FAR * 2 * USUAL * median(offs), 1e-9)
    most = max([1e-3, *(off for off in offs if off <= usual)])
    borders = (
        Stroke(start=(p - HALF, 0), end=(p - HALF, 0), role="hairline", upright=True) for p in range(1, len(keys))
    )
    return Scene(
        across=tr("Height, {unit}").format(unit=display_unit(Kind.LENGTH, style)),
        up=tr("Off its own line, {unit}").format(unit=display_unit(Kind.FORCE, style)),
        x_range=(-HALF, len(keys) - HALF),
        y_range=(-1.2 * most, 1.2 * most),
        places=tuple(place_of(place, part, height, style) for place, (part, height) in enumerate(keys)),
        dots=tuple(dots),
        strokes=(Stroke(start=(0, 0), end=(0, 0), role="quiet", level=True), *borders),
        swarm=True,
        joined=len({(dot.spring, dot.place) for dot in dots}) == len(dots),
        signs=(("plain", tr("reading")), ("doubted", tr("doubted"))),
        told=tr("{count} readings off the line of their own spring.").format(count=len(dots)),
        read=lambda dot: _read(dot.spring, loads[dot.spring, dot.place, dot.y], style),
    )


def _keys(rows: list[Residual]) -> list[Key]:
    found: list[Key] = []
    for each in rows:
        if not any(each.part == part and abs(each.height - height) <= SAME_HEIGHT for part, height in found):
            found.append((each.part, each.height))
    return sorted(found, key=lambda key: (key[0], -key[1]))


def _key(each: Residual, keys: list[Key]) -> Key:
    return next(key for key in keys if key[0] == each.part and abs(key[1] - each.height) <= SAME_HEIGHT)


def _read(spring: str, each: Residual, style: Style) -> str:
    text = tr("{spring}: {load} at {height}, {off} over its own line.")
    if each.off < 0:
        text = tr("{spring}: {load} at {height}, {off} under its own line.")
    return text.format(
        spring=spring,
        load=wording.load(each.load, style),
        height=wording.at_height(each.part, each.height, style),
        off=wording.fine_load(abs(each.off), style),
    )
