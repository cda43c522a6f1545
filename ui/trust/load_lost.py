"""Load lost, the worst first, against the earliest check or the sheet, with the rule book's limits."""

from __future__ import annotations

from typing import TYPE_CHECKING

from loadbench.findings.finding import Level
from loadbench.findings.standing import standing
from loadbench.units import Style
from ui.trust import wording
from ui.trust.scene import Dot, Place, Scene, Sign, Stroke
from ui.trust.wording import tr

if TYPE_CHECKING:
    from collections.abc import Iterator

    from loadbench.findings.rulebook import Limit
    from loadbench.findings.set_check.result import LoadLoss, SetCheck

SIGNS = {Level.WATCH: Sign.WATCHED, Level.STOP: Sign.OUTSIDE}


def load_lost(check: SetCheck, style: Style) -> Scene:
    """A bar for each spring: the share of its load that is lost, in percent."""
    found = [(spring.id, spring.loss) for spring in check.springs if spring.loss is not None]
    if not found:
        return Scene(empty=tr("Needs loads to hold the springs against: those of the sheet, or an earlier check."))
    ranked = sorted(found, key=lambda row: -row[1].share)
    by_name = dict(ranked)
    limit = check.loss_limit
    shares = [100 * loss.share for _, loss in ranked]
    lines = tuple(limit_lines(limit, max(shares)))
    high = max([*shares, *(line.start[1] for line in lines), 0.5])
    low = min([*shares, 0.0])
    basis = {loss.basis for _, loss in ranked}
    against = tr("the earliest check") if basis == {"earliest check"} else tr("the sheet")
    against = tr("the earliest check or the sheet") if len(basis) > 1 else against
    return Scene(
        across=tr("Springs, the largest loss first"),
        up=tr("Load lost against {basis}, %").format(basis=against),
        x_range=(-0.5, len(ranked) - 0.5),
        y_range=(low - 0.08 * (high - low) if low < 0 else 0.0, high + 0.12 * (high - low)),
        places=tuple(Place(x=at, name=name) for at, (name, _) in enumerate(ranked)),
        dots=tuple(
            Dot(
                x=at,
                y=100 * loss.share,
                spring=name,
                place=at,
                sign=SIGNS.get(standing(limit, loss.share).level, Sign.WITHIN),
            )
            for at, (name, loss) in enumerate(ranked)
        ),
        strokes=(*lines, Stroke(start=(0, 0), end=(0, 0), role="lines", level=True)),
        bars=True,
        signs=(("bar-within", tr("clear")), ("bar-watched", tr("watch")), ("bar-outside", tr("stop"))),
        told=tr("Load lost of {count} springs; {worst} lost most, {share}.").format(
            count=len(ranked), worst=ranked[0][0], share=wording.share(ranked[0][1].share)
        ),
        read=lambda dot: _read(dot.spring, by_name[dot.spring], style),
    )


def limit_lines(limit: Limit, most: float) -> Iterator[Stroke]:
    """Watch and stop as lines at their percentage; the stop is left out where nothing comes near it."""
    names = (("watch", limit.watch, tr("watch over {share}")), ("stop", limit.stop, tr("stop over {share}")))
    for role, value, text in names:
        if value is not None and (role == "watch" or most > 50 * value):
            at = 100 * value
            words = text.format(share=wording.share(value))
            pattern = (8.0, 3.0) if role == "stop" else (3.0, 3.0)
            yield Stroke(start=(0, at), end=(0, at), role=role, pattern=pattern, width=1.2, words=words, level=True)


def _read(spring: str, loss: LoadLoss, style: Style) -> str:
    text = tr("{spring}: {now} at {height}, {basis} {then}: {share} lost.")
    if loss.share < 0:
        text = tr("{spring}: {now} at {height}, {basis} {then}: {share} gained.")
    basis = tr("at the earliest check") if loss.basis == "earliest check" else tr("on the sheet")
    return text.format(
        spring=spring,
        now=wording.load(loss.now, style),
        height=wording.length(loss.height, style),
        basis=basis,
        then=wording.load(loss.then, style),
        share=wording.share(abs(loss.share)),
    )
