"""The strip plot: every spring at every height, as the load off the wanted one, with the window as a band."""

from __future__ import annotations

from dataclasses import replace
from statistics import median
from typing import TYPE_CHECKING

from loadbench.job.checks import SAME_HEIGHT
from loadbench.units import Kind, Style, display_unit, tell, to_display
from ui.trust import wording
from ui.trust.scene import Band, Dot, Note, Place, Scene, Sign, Stroke
from ui.trust.wording import tr

if TYPE_CHECKING:
    from loadbench.findings.set_check.result import HeightStrip, SetCheck
    from loadbench.readings.trust.flag import Flag

HALF = 0.5
FAR = 6.0  # times the usual deviation: what stands farther is drawn at the edge
USUAL = 1.4826  # the median deviation of a normal spread, as its standard deviation


def loads_by_height(check: SetCheck, style: Style) -> Scene:
    """The springs' loads by height.

    Args:
        check: of the set.
        style: the units on show.

    Returns:
        A column for each part and height; zero is the middle of its window, or the set's mean where it has none.
    """
    strips = check.strips
    if not strips:
        return Scene(empty=tr("No loads yet: type them above, or read a printout."))
    zeros = tuple(_zero(strip) for strip in strips)
    unit = display_unit(Kind.FORCE, style)
    windows = any(strip.window is not None for strip in strips)
    signs = (("within", tr("within")), ("outside", tr("outside its window"))) if windows else (("plain", tr("spring")),)
    return Scene(
        across=tr("Height, {length}; beneath it the load of the middle line, {unit}").format(
            length=display_unit(Kind.LENGTH, style), unit=unit
        ),
        up=tr("Off the middle line, {unit}").format(unit=unit),
        x_range=(-HALF, len(strips) - HALF),
        y_range=_range(strips, zeros, style),
        places=tuple(
            _place(at, strip, zero, style) for at, (strip, zero) in enumerate(zip(strips, zeros, strict=True))
        ),
        dots=tuple(_dots(strips, zeros, check.flags, style)),
        bands=tuple(_bands(strips, zeros, style)),
        strokes=tuple(_strokes(strips, zeros, style)),
        notes=tuple(_notes(strips, zeros, style)),
        swarm=True,
        joined=True,
        signs=(*signs, ("doubted", tr("doubted")), ("mean", tr("mean of the set"))),
        told=tr(
            "Loads of {count} springs at {heights} heights, each off the middle of its window or of the set."
        ).format(count=len(check.springs), heights=len(strips)),
        read=lambda dot: _read(dot, strips[dot.place], style),
    )


def place_of(at: int, part: str, height: float, style: Style) -> Place:
    """A column at a height of a part."""
    shown = tell(height, Kind.LENGTH, style).number
    return Place(x=at, name=f"{shown}\n{part}" if part else shown, part=part, height=height)


def _place(at: int, strip: HeightStrip, zero: tuple[float, bool], style: Style) -> Place:
    """A column with the load of its middle line."""
    text = tr("wanted {load}") if zero[1] else tr("mean {load}")
    note = text.format(load=wording.number(zero[0], Kind.FORCE, style))
    return replace(place_of(at, strip.part, strip.height, style), note=note)


def doubted(flags: tuple[Flag, ...], spring: str, part: str, height: float) -> bool:
    """Whether a doubt speaks of a spring's reading."""
    return any(
        flag.spring == spring
        and flag.part == part
        and flag.height is not None
        and abs(flag.height - height) <= SAME_HEIGHT
        for flag in flags
    )


def _zero(strip: HeightStrip) -> tuple[float, bool]:
    """The middle line, N, and whether it is what is wanted."""
    window = strip.window
    if window is not None and window.least is not None and window.greatest is not None:
        return (window.least + window.greatest) / 2, True
    return strip.mean, False


def _range(strips: tuple[HeightStrip, ...], zeros: tuple[tuple[float, bool], ...], style: Style) -> tuple[float, float]:
    """Room for the windows and the usual springs: a height typed wrong does not press all others flat."""
    reach = 0.0
    for strip, (zero, _) in zip(strips, zeros, strict=True):
        offs = [each.load - zero for each in strip.loads]
        middle = median(offs)
        usual = USUAL * median(abs(off - middle) for off in offs)
        kept = [abs(off) for off in offs if abs(off - middle) <= max(FAR * usual, 0.03 * zero)]
        window = strip.window
        edges = [] if window is None else [abs(edge - zero) for edge in (window.least, window.greatest) if edge]
        reach = max(reach, *kept, *edges, 0.01 * zero)
    shown = to_display(reach, Kind.FORCE, style) * 1.15
    return -shown, shown


def _dots(
    strips: tuple[HeightStrip, ...], zeros: tuple[tuple[float, bool], ...], flags: tuple[Flag, ...], style: Style
) -> list[Dot]:
    found = []
    for at, (strip, (zero, _)) in enumerate(zip(strips, zeros, strict=True)):
        own = tuple(flag for flag in flags if flag.part == strip.part)
        inside = Sign.PLAIN if strip.window is None else Sign.WITHIN
        for each in strip.loads:
            outside = wording.past_window(each.load, strip.window)
            found.append(
                Dot(
                    x=at,
                    y=to_display(each.load - zero, Kind.FORCE, style),
                    spring=each.spring,
                    place=at,
                    sign=Sign.OUTSIDE if outside else inside,
                    doubted=doubted(own, each.spring, strip.part, strip.height),
                )
            )
    return found


def _bands(strips: tuple[HeightStrip, ...], zeros: tuple[tuple[float, bool], ...], style: Style) -> list[Band]:
    def shown(edge: float | None, zero: float) -> float | None:
        return None if edge is None else to_display(edge - zero, Kind.FORCE, style)

    return [
        Band(
            left=at - HALF,
            right=at + HALF,
            low=shown(strip.window.least, zero),
            high=shown(strip.window.greatest, zero),
        )
        for at, (strip, (zero, _)) in enumerate(zip(strips, zeros, strict=True))
        if strip.window is not None
    ]


def _strokes(strips: tuple[HeightStrip, ...], zeros: tuple[tuple[float, bool], ...], style: Style) -> list[Stroke]:
    found = []
    for at, (strip, (zero, wanted)) in enumerate(zip(strips, zeros, strict=True)):
        if wanted:
            found.append(Stroke(start=(at - HALF, 0.0), end=(at + HALF, 0.0), role="clear", pattern=(4.0, 4.0)))
        mean = to_display(strip.mean - zero, Kind.FORCE, style)
        found.append(Stroke(start=(at - 0.42, mean), end=(at + 0.42, mean), role="quiet", width=1.6))
        if at:
            found.append(Stroke(start=(at - HALF, 0), end=(at - HALF, 0), role="hairline", upright=True))
    return found


def _notes(strips: tuple[HeightStrip, ...], zeros: tuple[tuple[float, bool], ...], style: Style) -> list[Note]:
    """The limits as loads at the left of each band."""
    found = []
    for at, (strip, (zero, _)) in enumerate(zip(strips, zeros, strict=True)):
        edges = (strip.window.least, strip.window.greatest) if strip.window is not None else (None, None)
        for edge, anchor in zip(edges, ((0.0, 1.0), (0.0, 0.0)), strict=True):
            if edge is not None:
                at_edge = (at - HALF, to_display(edge - zero, Kind.FORCE, style))
                words = tell(edge, Kind.FORCE, style).number
                found.append(Note(at=at_edge, words=words, anchor=anchor, role="clear", roomy=True))
    return found


def _read(dot: Dot, strip: HeightStrip, style: Style) -> str:
    """One mark, as in "S07: 143 lbf at 1.900 in, 7 lbf low."."""
    value = next(each.load for each in strip.loads if each.spring == dot.spring)
    at = wording.at_height(strip.part, strip.height, style)
    off = wording.past_window(value, strip.window)
    if off:
        more = wording.off_told(off, style)
    elif strip.window is not None:
        more = tr("within its window")
    else:
        mean = strip.mean
        text = tr("{off} over the mean") if value >= mean else tr("{off} under the mean")
        more = text.format(off=wording.load(abs(value - mean), style))
    more = tr("{standing}; doubted").format(standing=more) if dot.doubted else more
    return tr("{spring}: {load} at {height}, {standing}.").format(
        spring=dot.spring, load=wording.load(value, style), height=at, standing=more
    )
