"""Bands of lost contact as charts draw them: fields, edges, and marks that differ by their cause."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from loadbench.motion.bands import Cause
from loadbench.units import Kind, to_display
from ui.motion import wording as words
from ui.motion.wording import tr
from ui.spring.chart import Shape

if TYPE_CHECKING:
    from loadbench.motion.bands import LossBand
    from loadbench.motion.sweep import Sweep
    from loadbench.units import Style
    from ui.motion.seen import Seen

SHAPES = {Cause.INERTIA: Shape.SQUARE, Cause.LINKAGE: Shape.TRIANGLE, Cause.SURGE: Shape.CIRCLE}
"""Causes differ by the form of their mark."""


class Stretch(NamedTuple):
    """A stretch of speeds in the unit on show at which contact is lost; its band where it has been looked for."""

    low: float
    high: float
    band: LossBand | None


def stretches(seen: Seen, style: Style) -> list[Stretch]:
    """Where contact is lost: the bands, or while these are not known the swept speeds themselves."""
    if seen.dynamics is None:
        return []
    found, top = seen.dynamics.found, float(seen.dynamics.found.speeds[-1])
    spans: list[tuple[float, float, LossBand | None]]
    if seen.bands:
        spans = [(band.low, top if band.high is None else band.high, band) for band in seen.dynamics.bands]
    else:
        spans = [(low, high, None) for low, high in _runs(found)]
    return [
        Stretch(float(to_display(low, Kind.SPEED, style)), float(to_display(high, Kind.SPEED, style)), band)
        for low, high, band in spans
    ]


def _runs(found: Sweep) -> list[tuple[float, float]]:
    """From the first to the last of each row of neighbouring speeds at which contact is lost, rad/s."""
    lost = np.concatenate([[False], found.lost, [False]])
    changes = np.flatnonzero(lost[1:] != lost[:-1])
    return [
        (float(found.speeds[first]), float(found.speeds[end - 1]))
        for first, end in zip(changes[::2], changes[1::2], strict=True)
    ]


def notes(seen: Seen, style: Style) -> tuple[str, ...]:
    """What is said of the bands beneath a picture."""
    if seen.dynamics is None:
        return (tr("The sweep is not there yet."),)
    found = seen.dynamics.found
    said = [_first(seen, style)]
    if not found.periodic.all():
        said.append(tr("\u00d7: not periodic, the extremes of the last turns."))
    return tuple(said)


def _first(seen: Seen, style: Style) -> str:
    dynamics = seen.dynamics
    if dynamics is None or not dynamics.found.lost.any():
        return tr("Contact is held over the whole sweep.")
    if not seen.bands or not dynamics.bands:
        first = float(dynamics.found.speeds[dynamics.found.lost][0])
        return tr("Contact is lost at {speed}; edges and causes are being looked for.").format(
            speed=words.speed(first, style)
        )
    said, more = words.band_sentence(dynamics.bands[0], style), len(dynamics.bands) - 1
    if more == 1:
        return said + " " + tr("One more band: Up and Down read them out.")
    if more:
        return said + " " + tr("{count} more bands: Up and Down read them out.").format(count=more)
    return said
