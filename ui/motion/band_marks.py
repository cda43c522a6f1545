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
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from loadbench.arrays import Floats
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
    found = seen.dynamics.found
    return of_bands(seen.dynamics.bands, found, style) if seen.bands else of_speeds(found.speeds, found.lost, style)


def of_bands(bands: Sequence[LossBand], found: Sweep, style: Style) -> list[Stretch]:
    """Bands as stretches; one that goes on beyond the sweep ends with it."""
    top = float(found.speeds[-1])
    return [_stretch(band.low, top if band.high is None else band.high, band, style) for band in bands]


def of_speeds(speeds: Floats, there: NDArray[np.bool_], style: Style) -> list[Stretch]:
    """From the first to the last of each row of neighbouring speeds, rad/s, at which something is there."""
    padded = np.concatenate([[False], there, [False]])
    changes = np.flatnonzero(padded[1:] != padded[:-1])
    return [
        _stretch(float(speeds[first]), float(speeds[end - 1]), None, style)
        for first, end in zip(changes[::2], changes[1::2], strict=True)
    ]


def _stretch(low: float, high: float, band: LossBand | None, style: Style) -> Stretch:
    return Stretch(float(to_display(low, Kind.SPEED, style)), float(to_display(high, Kind.SPEED, style)), band)


def slack_sentence(band: LossBand, style: Style) -> str:
    """A band in which the linkage above a follower of its own mass goes slack, with its cause."""
    return tr("The linkage goes slack {span}: {cause}.").format(span=words.span(band, style), cause=words.cause(band))


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
