"""From the inputs of a fit to the table of choices: every spring on every valve on every stack, and what forbids it."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from loadbench.arrays import Floats
from loadbench.assembly.fit_inputs import FitInputs
from loadbench.assembly.fit_valve import FitValve
from loadbench.findings.rulebook import Limit, Sense
from loadbench.findings.standing import slack
from loadbench.fitup.choice_table import Bools, ChoiceTable
from loadbench.fitup.stacks import stacks_of
from loadbench.units import Kind

Stacks = tuple[tuple[float, ...], ...]
SHARE_SLACK = 1e-9
"""Of a load limit: what float arithmetic leaves past it."""


def table_of(inputs: FitInputs) -> ChoiceTable:
    """Every choice with its loads and the limits that forbid it.

    Args:
        inputs: what the job states.

    Returns:
        The table, V valves x S springs x K stacks.
    """
    stacks = stacks_for(inputs)
    heights, opened = heights_of(inputs, stacks)
    seat, at_lift = _loads(inputs, heights), _loads(inputs, opened)
    shape = seat.shape
    by_height = {"bind": _bound(inputs, opened), "retainer": _at_the_seal(inputs, opened)}
    refused = {name: _spread(forbidden, shape) for name, forbidden in by_height.items()}
    refused["maker"] = _by_makers(inputs, seat, at_lift, opened)
    refused["seat-tolerance"] = _off_target(inputs, seat, lambda valve: valve.target_seat)
    refused["open-tolerance"] = _off_target(inputs, at_lift, lambda valve: valve.target_open)
    refused["locked"] = _locked(inputs, stacks, shape)
    return ChoiceTable(
        valves=tuple(valve.id for valve in inputs.valves),
        springs=inputs.springs,
        stacks=stacks,
        seat=seat,
        open=at_lift,
        deviation=_deviation(inputs, seat, at_lift),
        refused=refused,
        counts=inputs.counts,
    )


def heights_of(inputs: FitInputs, stacks: Stacks) -> tuple[Floats, Floats]:
    """Installed heights and heights at full lift, m, (V, K)."""
    thickness = np.array([sum(stack) for stack in stacks])
    heights = np.array([valve.bare_height for valve in inputs.valves])[:, None] - thickness
    return heights, heights - np.array([valve.lift for valve in inputs.valves])[:, None]


def past_by_height(inputs: FitInputs, opened: Floats, stacks: Stacks) -> Bools:
    """What forbids a stack on a valve whatever the spring, (V, K): room, the makers' heights, a stack not its own."""
    shape = (len(inputs.valves), 1, len(stacks))
    blank = np.full(shape, np.nan)
    barred = _bound(inputs, opened) | _at_the_seal(inputs, opened) | _by_makers(inputs, blank, blank, opened)[:, 0]
    added = np.arange(len(stacks)) >= len(stacks_of(inputs.stock, inputs.counts))
    own = [place_of(stacks, valve.locked_shims) for valve in inputs.valves]
    mine = np.array([[place == stack for stack in range(len(stacks))] for place in own])
    forbidden: Bools = barred | (added & ~mine)
    return forbidden


def stacks_for(inputs: FitInputs) -> Stacks:
    """The stacks from stock; a locked stack that stock does not give is added, for its own valve."""
    stacks = list(stacks_of(inputs.stock, inputs.counts))
    for valve in inputs.valves:
        if valve.locked_shims is not None and place_of(tuple(stacks), valve.locked_shims) is None:
            stacks.append(tuple(sorted(valve.locked_shims, reverse=True)))
    return tuple(stacks)


def place_of(stacks: Stacks, shims: tuple[float, ...] | None) -> int | None:
    """Which of the stacks is made of these shims; None where none is, or none are given."""
    wanted = tuple(sorted(shims or (), reverse=True))
    for place, stack in enumerate(stacks):
        if shims is not None and len(stack) == len(wanted) and np.allclose(stack, wanted, rtol=0, atol=1e-9):
            return place
    return None


def _loads(inputs: FitInputs, heights: Floats) -> Floats:
    """Loads, N, (V, S, K), of every spring at heights (V, K), each valve by its own line."""
    loads = np.full((len(inputs.valves), len(inputs.springs), heights.shape[1]), np.nan)
    for line, springs in inputs.loads.items():
        rows = [place for place, valve in enumerate(inputs.valves) if valve.line == line]
        for column, load_line in enumerate(springs if rows else ()):
            loads[rows, column, :] = load_line.load(heights[rows])
    return loads


def _spread(by_stack: Bools, shape: tuple[int, ...]) -> Bools:
    """What forbids a stack on a valve forbids it for every spring."""
    return np.broadcast_to(by_stack[:, None, :], shape)


def _past(limit: Limit, value: Floats) -> Bools:
    """Where values are past the stop of a limit that asks for at least so much, as one finding is judged."""
    if limit.stop is None:
        return np.zeros(value.shape, dtype=np.bool_)
    room = slack(limit.stop, limit.kind)
    over = limit.stop - value if limit.sense is Sense.AT_LEAST else value - limit.stop
    past: Bools = over >= -room if limit.reached else over > room
    return past


def _bound(inputs: FitInputs, opened: Floats) -> Bools:
    forbidden: Bools = opened <= 0
    for row, valve in enumerate(inputs.valves):
        if valve.bind is not None:
            forbidden[row] |= _past(valve.bind_limit, opened[row] - valve.bind)
    return forbidden


def _at_the_seal(inputs: FitInputs, opened: Floats) -> Bools:
    forbidden = np.zeros(opened.shape, dtype=np.bool_)
    for row, valve in enumerate(inputs.valves):
        if valve.retainer_room is not None:
            forbidden[row] = _past(valve.retainer_limit, np.array(valve.retainer_room - valve.lift))
    return forbidden


def _by_makers(inputs: FitInputs, seat: Floats, at_lift: Floats, opened: Floats) -> Bools:
    forbidden = np.zeros(seat.shape, dtype=np.bool_)
    for row, valve in enumerate(inputs.valves):
        heights = np.broadcast_to(opened[row], seat[row].shape)
        lift = np.full(seat[row].shape, valve.lift)
        spoken_of: dict[str, tuple[Floats, Sense, Kind]] = {
            "lift_max": (lift, Sense.AT_MOST, Kind.LENGTH),
            "seat_load_min": (seat[row], Sense.AT_LEAST, Kind.FORCE),
            "seat_load_max": (seat[row], Sense.AT_MOST, Kind.FORCE),
            "open_load_max": (at_lift[row], Sense.AT_MOST, Kind.FORCE),
            "bind_height": (heights, Sense.AT_LEAST, Kind.LENGTH),
            "follower_open_load_max": (at_lift[row], Sense.AT_MOST, Kind.FORCE),
        }
        for name, stop in valve.makers.items():
            value, sense, kind = spoken_of[name]
            forbidden[row] |= _past(Limit(name=name, sense=sense, kind=kind, stop=stop), value)
    return forbidden


def _off_target(inputs: FitInputs, load: Floats, target_of: Callable[[FitValve], float | None]) -> Bools:
    forbidden = np.zeros(load.shape, dtype=np.bool_)
    for row, valve in enumerate(inputs.valves):
        target = target_of(valve)
        if target is not None and valve.tolerance is not None:
            forbidden[row] = np.abs(load[row] - target) > target * (valve.tolerance + SHARE_SLACK)
    return forbidden


def _locked(inputs: FitInputs, stacks: Stacks, shape: tuple[int, ...]) -> Bools:
    """A locked spring stands on its own valve only, a locked stack beneath it; an added stack is for its valve only."""
    forbidden = np.zeros(shape, dtype=np.bool_)
    own = len(stacks_of(inputs.stock, inputs.counts))
    forbidden[:, :, own:] = True
    for row, valve in enumerate(inputs.valves):
        if valve.locked_shims is not None:
            place = place_of(stacks, valve.locked_shims)
            forbidden[row] = True
            forbidden[row, :, place] = False
    for row, valve in enumerate(inputs.valves):
        if valve.locked_spring is not None:
            spring = inputs.springs.index(valve.locked_spring)
            forbidden[:row, spring] = True
            forbidden[row + 1 :, spring] = True
            forbidden[row, :spring] = True
            forbidden[row, spring + 1 :] = True
    return forbidden


def _deviation(inputs: FitInputs, seat: Floats, at_lift: Floats) -> Floats:
    """How far each choice is from its valve's seat load target, else from its open load target."""
    deviation = np.zeros(seat.shape)
    for row, valve in enumerate(inputs.valves):
        if valve.target_seat is not None:
            deviation[row] = np.abs(seat[row] - valve.target_seat)
        elif valve.target_open is not None:
            deviation[row] = np.abs(at_lift[row] - valve.target_open)
    return np.nan_to_num(deviation)
