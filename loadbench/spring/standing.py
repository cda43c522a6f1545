"""Where the wire of a spring stands at a height: centres for a section through the axis, to scale.

The dead turns of the ends lie on each other; the active ones spread as their own deflection leaves them, turn by turn.
Ground ends: the wire's centre line begins and ends on the planes of the seat and the retainer, half the wire being
ground away there, which is what makes the bind height the turns times the wire. Other ends keep their whole wire.

Where a tapered turn meets a straight one, the even closing pitch of the model lets the sections press into each other
at bind, by less than d - sqrt(d^2 - d (d - s)/2), s being what a tapered turn adds: under 2 % of the wire in a beehive.
"""

from __future__ import annotations

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError
from loadbench.spring.landing import load_at_deflection
from loadbench.spring.taper import SLACK
from loadbench.spring.winding import Winding, elements_of


def stations(winding: Winding) -> Floats:
    """The half turns from the seat up: even ones lie on one side of a section through the axis, odd ones on the other.

    Args:
        winding: how the spring is wound.

    Returns:
        Turns from the seat's end of the wire, shape (stations,): 0, 0.5, 1 and so on, not past the wire's other end.

    Source:
        own derivation.
    """
    return np.arange(int(np.floor(2 * winding.total + 1e-6)) + 1) / 2


def _radii(turns: Floats, winding: Winding) -> Floats:
    """Radius of the centre line: straight, then falling evenly, then straight along the small end's dead turns."""
    start = winding.dead / 2
    begins, ends = start + winding.active - winding.tapered, start + winding.active
    if winding.tapered <= 0:
        return np.full(turns.shape, winding.large / 2)
    return np.asarray(np.interp(turns, [begins, ends], [winding.large / 2, winding.small / 2]))


def _active_heights(height: Floats, winding: Winding) -> tuple[Floats, Floats]:
    """Turns, and the heights they take up at each spring height, of the elements of the active coil."""
    # Where the turns stand hangs on how their compliances compare, not on the steel: any G J does.
    cut = elements_of(winding, 1.0, 1.0)
    travel = winding.free_height - winding.bind_height
    pressed = np.clip(winding.free_height - height, 0.0, travel)
    load = load_at_deflection(pressed, cut.compliances, cut.gaps)[..., None]
    landed = cut.turns / np.sum(cut.turns) * winding.active_free_height - cut.gaps
    return cut.turns, landed + np.maximum(cut.gaps - load * cut.compliances, 0.0)


def standing_wire(height: Real, winding: Winding, turns: Floats | None = None) -> tuple[Floats, Floats]:
    """Centres of the wire's sections at a height of the spring.

    Args:
        height: of the spring, m, from bind to free; shape (...).
        winding: how it is wound.
        turns: where along the wire, in turns from the seat's end, shape (stations,); by default every half turn.

    Returns:
        Radius of each centre, m, shape (stations,), and its height above the seat, m, shape (..., stations).

    Raises:
        InputError: a height above free or below bind.

    Source:
        own derivation on the model of rodriguez.
    """
    heights = np.asarray(height, dtype=np.float64)
    slack = SLACK * winding.free_height
    if not np.all((heights >= winding.bind_height - slack) & (heights <= winding.free_height + slack)):
        raise InputError("the spring cannot stand at this height", expected="a height from bind to free")
    where = stations(winding) if turns is None else np.asarray(turns, dtype=np.float64)
    own_turns, own_heights = _active_heights(heights, winding)
    end, lift = winding.dead / 2, winding.dead / 2 * winding.axial
    along = np.concatenate(([0.0, end], end + np.cumsum(own_turns), [winding.total]))
    ends = np.full((*heights.shape, 1), lift)
    rises = np.concatenate((np.zeros_like(ends), ends, own_heights, ends), axis=-1)
    levels = np.cumsum(rises, axis=-1) + (0.0 if winding.ground else winding.axial / 2)
    # One interpolation serves all heights: the places are the same, only the levels differ.
    after = np.clip(np.searchsorted(along, where), 1, along.size - 1)
    length = along[after] - along[after - 1]
    share = np.divide(where - along[after - 1], length, out=np.zeros_like(where), where=length > 0)
    z = levels[..., after - 1] + share * (levels[..., after] - levels[..., after - 1])
    return _radii(where, winding), np.asarray(z)
