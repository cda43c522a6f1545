"""What motion says of the speed: the dynamic run where there is one, else the rigid force balance and its blind side.

The force balance knows no surge and no linkage: where a run is there, its bands of lost contact are what is said.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from loadbench.findings.finding import Amount, Finding, Level, Sentence
from loadbench.findings.match.sayings import Saying, Seat, joined, lowered
from loadbench.findings.motion import LIMIT
from loadbench.findings.view import View
from loadbench.units import Kind

LOST = "contact-lost"
RIGID = Sentence("This is the rigid force balance alone: surge and the linkage take contact earlier.")
BY_RUN = "By the dynamic run: "


@dataclass(frozen=True, slots=True, kw_only=True)
class Loss:
    """Contact that the dynamic run loses up to the speed limit: the lowest speed, rad/s, and whether at the limit."""

    onset: float
    at_limit: bool


def speed_by_motion(seat: Seat) -> Iterator[Saying]:
    """Contact with the lobe against the speed limit, line by line."""
    for view in seat.views:
        run = _by_run(seat, view)
        yield from (Saying(finding=named(each, view), physics=True) for each in run)
        rank = max((each.level.rank for each in run), default=-1)
        for balance in seat.of_line("float-margin", view):
            if not run:
                yield Saying(finding=_told_rigid(balance), physics=True)
            elif balance.level is not Level.UNKNOWN and balance.level.rank > rank:
                yield Saying(finding=balance, physics=True)


def lost_contact(seat: Seat, said: Sequence[Saying]) -> Loss | None:
    """Contact that is lost at the speed limit or below it, by the dynamic run.

    Args:
        seat: the follower.
        said: of its speed.

    Returns:
        The loss; None where contact is held up to the limit, or no run is there to tell.
    """
    onsets = [view.line.value("onset_speed") for view in seat.views if view.line.dynamics is not None]
    known, limit = [each for each in onsets if each is not None], seat.heaviest.value(LIMIT)
    if not known or limit is None or min(known) > limit * (1 + 1e-9):
        return None
    runs = [each.finding for each in said if each.finding.id == LOST]
    at_limit = any(each.value is not None and each.value <= 1e-9 for each in runs)
    return Loss(onset=min(known), at_limit=at_limit) if runs else None


def rests_on_balance(said: Sequence[Saying]) -> bool:
    """Whether what is known of the contact at speed is the rigid force balance, without a dynamic run."""
    known = {each.finding.id for each in said if each.level is not Level.UNKNOWN}
    return "float-margin" in known and LOST not in known


def _by_run(seat: Seat, view: View) -> list[Finding]:
    """What the run of a line says; nothing where there is none, or it does not reach the limit."""
    if view.line.dynamics is None:
        return []
    return [each for each in seat.of_line(LOST, view) if each.level is not Level.UNKNOWN]


def named(finding: Finding, view: View) -> Finding:
    """What the run says, named as the run's; the lowest onset too where the sentence has only the later bands."""
    said, onset, limit = lowered(finding.sentence), view.line.value("onset_speed"), view.value(LIMIT)
    told = replace(said, template=BY_RUN + said.template)
    listed = any(math.isclose(each.value, onset or 0.0) for each in said.amounts.values())
    if onset is not None and limit is not None and onset <= limit and not listed:
        told = joined(told, Sentence("It is first lost at {onset}.", {"onset": Amount(onset, Kind.SPEED)}))
    return replace(finding, sentence=told)


def _told_rigid(finding: Finding) -> Finding:
    """The balance with its blind side, where it says anything of a speed."""
    if finding.level is Level.UNKNOWN:
        return finding
    return replace(finding, sentence=joined(finding.sentence, RIGID))
