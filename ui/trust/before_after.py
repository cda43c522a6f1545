"""Before and after: each spring at the last check and now, a line between."""

from __future__ import annotations

from typing import TYPE_CHECKING

from loadbench.findings.finding import Level
from loadbench.findings.standing import standing
from loadbench.units import Kind, Style, display_unit, to_display
from ui.trust import wording
from ui.trust.scene import Dot, Place, Scene, Sign, Stroke, around
from ui.trust.wording import tr

if TYPE_CHECKING:
    from loadbench.findings.set_check.result import Compared, SetCheck

SIGNS = {Level.CLEAR: Sign.WITHIN, Level.WATCH: Sign.WATCHED, Level.STOP: Sign.OUTSIDE}
LEFT, RIGHT = 0.0, 1.0


def before_after(check: SetCheck, style: Style) -> Scene:
    """The load at the installed height of each spring, at the last check and now."""
    past = check.past
    if past is None:
        return Scene(empty=tr("Needs an earlier check of the same springs: read their next printout into this job."))
    if not any(each.before is not None and each.now is not None for each in past.compared):
        return Scene(empty=tr("No spring was tested both times, or the installed height is not stated."))
    dots = tuple(dot for each in past.compared for dot in _pair(each, check, style))
    by_name = {each.spring: each for each in past.compared}
    height = past.compared[0].height
    before, now = past.checks[-2], past.checks[-1]
    axis = tr("Load at {height}, {unit}")
    return Scene(
        up=axis.format(height=wording.length(height, style), unit=display_unit(Kind.FORCE, style)),
        x_range=(-0.35, 1.35),
        y_range=around([dot.y for dot in dots], least=1e-3),
        places=(
            Place(x=LEFT, name=wording.when(before, past.unit), height=height),
            Place(x=RIGHT, name=wording.when(now, past.unit), height=height),
        ),
        dots=dots,
        strokes=tuple(_lines(past.compared, style)),
        signs=(("within", tr("loss clear")), ("watched", tr("loss to watch")), ("outside", tr("loss past the stop"))),
        told=tr("Load of {count} springs at the last check and now.").format(count=len(past.compared)),
        read=lambda dot: _read(by_name[dot.spring], style),
    )


def _pair(each: Compared, check: SetCheck, style: Style) -> list[Dot]:
    lost = each.lost
    sign = Sign.PLAIN if lost is None else SIGNS.get(standing(check.loss_limit, lost).level, Sign.PLAIN)
    sides = ((LEFT, each.before, Sign.PLAIN), (RIGHT, each.now, sign))
    return [
        Dot(x=x, y=to_display(load, Kind.FORCE, style), spring=each.spring, place=int(x), sign=shape)
        for x, load, shape in sides
        if load is not None
    ]


def _lines(compared: tuple[Compared, ...], style: Style) -> list[Stroke]:
    return [
        Stroke(
            start=(LEFT, to_display(each.before, Kind.FORCE, style)),
            end=(RIGHT, to_display(each.now, Kind.FORCE, style)),
            spring=each.spring,
        )
        for each in compared
        if each.before is not None and each.now is not None
    ]


def _read(each: Compared, style: Style) -> str:
    if each.before is None or each.now is None:
        text = tr("{spring}: not tested before.") if each.before is None else tr("{spring}: not tested now.")
        return text.format(spring=each.spring)
    lost = each.lost or 0.0
    text = tr("{spring}: {before} before, {now} now: {share} lost.")
    if lost < 0:
        text = tr("{spring}: {before} before, {now} now: {share} gained.")
    before, now = wording.load(each.before, style), wording.load(each.now, style)
    return text.format(spring=each.spring, before=before, now=now, share=wording.share(abs(lost)))
