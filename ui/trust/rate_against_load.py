"""Rate against load: a spring that is off in one but not the other is another spring, not another setting."""

from __future__ import annotations

from typing import TYPE_CHECKING

from loadbench.findings.finding import Level
from loadbench.job.checks import SAME_HEIGHT
from loadbench.units import Kind, Style, display_unit, tell, to_display
from ui.trust import wording
from ui.trust.scene import Band, Dot, Scene, Sign, Stroke, around
from ui.trust.wording import tr

if TYPE_CHECKING:
    from loadbench.findings.set_check.result import SetCheck, SpringCheck

SIGNS = {Level.CLEAR: Sign.WITHIN, Level.STOP: Sign.OUTSIDE}


def rate_against_load(check: SetCheck, style: Style) -> Scene:
    """Each spring by its load at the installed height and its rate, with U where it is known."""
    known = [spring for spring in check.springs if spring.rate is not None and spring.seat_load is not None]
    if not known:
        return Scene(empty=tr("Needs the installed height, and readings of each spring at two heights or more."))
    dots = tuple(_dot(spring, style) for spring in known)
    xs, ys = [dot.x for dot in dots], [dot.y for dot in dots]
    by_name = {spring.id: spring for spring in known}
    bands = tuple(_bands(check, known, style))
    edges = [edge for band in bands for edge in (band.low, band.high) if edge is not None]
    means = (sum(xs) / len(xs), sum(ys) / len(ys))
    return Scene(
        across=tr("Load at the installed height, {unit}").format(unit=display_unit(Kind.FORCE, style)),
        up=tr("Rate, {unit}").format(unit=display_unit(Kind.RATE, style)),
        x_range=around([*xs, *edges], least=0.02 * means[0]),
        y_range=around(_with_reach(dots), least=0.02 * means[1]),
        dots=dots,
        bands=bands,
        strokes=(
            Stroke(start=(means[0], 0), end=(means[0], 0), role="quiet", pattern=(6.0, 3.0), upright=True),
            Stroke(
                start=(0, means[1]), end=(0, means[1]), role="quiet", pattern=(6.0, 3.0), level=True, words=tr("mean")
            ),
        ),
        signs=(("within", tr("passes")), ("outside", tr("fails")), ("doubted", tr("doubted"))),
        told=tr("Rate against load at the installed height of {count} springs.").format(count=len(known)),
        read=lambda dot: _read(by_name[dot.spring], style),
    )


def _dot(spring: SpringCheck, style: Style) -> Dot:
    def shown(value: float | None, kind: Kind) -> float | None:
        return None if value is None else to_display(value, kind, style)

    return Dot(
        x=to_display(spring.seat_load or 0.0, Kind.FORCE, style),
        y=to_display(spring.rate or 0.0, Kind.RATE, style),
        spring=spring.id,
        sign=SIGNS.get(spring.verdict.level, Sign.PLAIN),
        doubted=bool(spring.flags),
        wide=shown(spring.seat_expanded, Kind.FORCE),
        tall=shown(spring.rate_expanded, Kind.RATE),
    )


def _with_reach(dots: tuple[Dot, ...]) -> list[float]:
    return [dot.y + side * (dot.tall or 0.0) for dot in dots for side in (-1, 1)]


def _bands(check: SetCheck, known: list[SpringCheck], style: Style) -> list[Band]:
    """The window at the height where all springs stand, if the sheet has one there."""
    heights = {spring.height for spring in known if spring.height is not None}
    if len(heights) != 1:
        return []
    height = heights.pop()
    return [
        Band(
            left=0,
            right=0,
            low=None if window.least is None else to_display(window.least, Kind.FORCE, style),
            high=None if window.greatest is None else to_display(window.greatest, Kind.FORCE, style),
            upright=True,
        )
        for window in check.windows
        if abs(window.height - height) <= SAME_HEIGHT
    ]


def _read(spring: SpringCheck, style: Style) -> str:
    height = "" if spring.height is None else wording.length(spring.height, style)
    beyond = tr(", beyond its readings") if spring.extrapolated else ""
    text = tr("{spring}: {load} at {height}{beyond}, rate {rate}.")
    return text.format(
        spring=spring.id,
        load=wording.load(spring.seat_load or 0.0, style, spring.seat_expanded),
        height=height,
        beyond=beyond,
        rate=tell(spring.rate or 0.0, Kind.RATE, style, spring.rate_expanded),
    )
