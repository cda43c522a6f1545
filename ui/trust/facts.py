"""What is said of the set at a glance: how many pass, which to test again, what is lacking, spread, repeatability."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from loadbench.findings.finding import Level
from loadbench.units import Style
from ui.level_words import level_word
from ui.trust import wording
from ui.trust.wording import tr

if TYPE_CHECKING:
    from loadbench.findings.set_check.result import SetCheck


MOST_LEFT = 8


@dataclass(frozen=True, slots=True)
class Fact:
    """One line with its level."""

    level: Level
    text: str


def headline(check: SetCheck) -> Fact:
    """How the set stands, in a few words."""
    count = len(check.springs)
    if not check.windows:
        return Fact(Level.UNKNOWN, tr("Springs: {count}, no window stated").format(count=count))
    text = tr("{passed} of {count} springs pass").format(passed=check.passed, count=count)
    if check.failed:
        return Fact(Level.STOP, text)
    return Fact(Level.CLEAR if check.passed == count else Level.UNKNOWN, text)


def facts_of(check: SetCheck, style: Style) -> list[Fact]:
    """The lines beneath it, those that ask for something first."""
    every = (_window(check), _order(check), _spread(check), _repeats(check, style), _left(check))
    return [fact for fact in every if fact]


def left_over(check: SetCheck) -> tuple[str, ...]:
    """The springs that do not fail and stand on no valve; none where there are no valves."""
    if not check.needed:
        return ()
    laid = {place.spring for place in check.laid_out}
    return tuple(s.id for s in check.springs if s.id not in laid and s.verdict.level is not Level.STOP)


def _window(check: SetCheck) -> Fact | None:
    if check.windows:
        return None
    text = tr(
        "Nothing to hold the springs against: give the spring\u2019s spec with minus and plus, or targets with a "
        "tolerance."
    )
    return Fact(Level.UNKNOWN, text)


def _order(check: SetCheck) -> Fact | None:
    if not check.order_more:
        return None
    count = check.order_more
    if check.needed is None:
        return Fact(Level.WATCH, tr("Order {count} more, for those that fail.").format(count=count))
    text = tr("Order {count} more for {needed} valves; springs that do not fail: {usable}.")
    usable = len(check.springs) - check.failed
    return Fact(Level.WATCH, text.format(count=count, needed=check.needed, usable=usable))


def _left(check: SetCheck) -> Fact | None:
    left = left_over(check)
    if not left:
        return None
    names = wording.listed(left[:MOST_LEFT])
    if len(left) <= MOST_LEFT:
        return Fact(Level.CLEAR, tr("Left over: {springs}.").format(springs=names))
    text = tr("Left over, {count}: {springs} and more.")
    return Fact(Level.CLEAR, text.format(count=len(left), springs=names))


def _spread(check: SetCheck) -> Fact | None:
    if check.spread is None:
        return None
    limit = check.spread_limit.watch
    text = tr("{word}: seat loads spread over {share} of their mean")
    told = text.format(word=level_word(check.spread_level), share=wording.share(check.spread))
    if limit is not None:
        told = tr("{told}; at most {limit} is asked for").format(told=told, limit=wording.share(limit))
    return Fact(check.spread_level, f"{told}.")


def _repeats(check: SetCheck, style: Style) -> Fact | None:
    if check.repeatability is None:
        return Fact(Level.UNKNOWN, tr("Repeatability unknown: no height was read twice."))
    # a standard deviation is a small figure: two digits
    shown = wording.fine_load(check.repeatability, style)
    return Fact(
        Level.CLEAR, tr("Repeats of one reading scatter by {deviation} (standard deviation).").format(deviation=shown)
    )
