"""What a flat damper's friction makes of one line's loads: more while the spring is pressed, less on its way up."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from loadbench.analysis.figure import Figure, Input
from loadbench.analysis.wire_formula import MINUS
from loadbench.readings.strand import Evidence
from loadbench.spring.nest import energy_per_cycle, loading_load, unloading_load
from loadbench.units import Kind

if TYPE_CHECKING:
    from loadbench.analysis.builder import Bench
    from loadbench.analysis.nest import Nest
    from loadbench.arrays import Floats
    from loadbench.job.stated import LineStated

FRICTION = "spring.damper.load"
"""The entry that all of it rests on."""

ENERGY = "damper_energy"
HELD = "The damper's friction is more than the springs' load here: it would hold them down."
STUCK = "The damper's friction is more than the seat load: the springs would not close the valve by themselves."
ELASTIC_U = "U is that of the springs' load; the damper's has none stated."
READ_WHOLE = "The readings count as the springs' own load: where the damper was in, they hold its friction already."


class _Edge(NamedTuple):
    """One end of the stroke, by the figure of its elastic load, and the two labels of its band."""

    of: str
    loading: str
    unloading: str


EDGES = (
    _Edge("seat_load", "Seat load, valve opens", "Seat load, valve closes"),
    _Edge("open_load", "Load at full lift, valve opens", "Load at full lift, valve closes"),
)
DAMPER_FIGURES = (*(f"{edge.of}_{way}" for edge in EDGES for way in ("loading", "unloading")), ENERGY)
"""The names of all of these figures, as they are told."""


def add_damper(bench: Bench, nest: Nest) -> None:
    """The loads while the valve opens and while it closes, and the energy that the damper takes from one cycle.

    Args:
        bench: the line, with its lift and its elastic loads found.
        nest: the set.
    """
    friction = bench.stated("f", "the damper's load", FRICTION, Kind.FORCE)
    loads = [bench.found("F", edge.of) for edge in EDGES]
    if friction is None or not any(loads):
        _add_unknown(bench)
        return
    elastic = np.array([np.nan if load is None else load.value for load in loads])
    more, less = loading_load(elastic, friction.value), unloading_load(elastic, friction.value)
    note = READ_WHOLE if _read_whole(nest) else ""
    for place, (edge, load) in enumerate(zip(EDGES, loads, strict=True)):
        if load is None:
            _add_unknown(bench, edge)
        else:
            _add_edge(bench, edge, (load, friction), (float(more[place]), float(less[place])), note)
    _add_energy(bench, friction)


def _add_unknown(bench: Bench, only: _Edge | None = None) -> None:
    for edge in EDGES if only is None else (only,):
        missing = bench.lacking(FRICTION, edge.of)
        for way, label in (("loading", edge.loading), ("unloading", edge.unloading)):
            bench.add(Figure(name=f"{edge.of}_{way}", label=label, kind=Kind.FORCE, missing=missing))
    if only is None:
        bench.add(Figure(**_ENERGY, missing=bench.lacking(FRICTION, "net_valve_lift", "seat_load")))


def _read_whole(nest: Nest) -> bool:
    """Whether the load line is that of readings of the whole set: they may hold the friction."""
    line = nest.line
    return line is not None and line.evidence is Evidence.MEASURED and len(line.strands) == 1


def _add_edge(bench: Bench, edge: _Edge, inputs: tuple[Input, Input], band: tuple[float, float], note: str) -> None:
    """Both loads of one end; a load that friction holds at nothing has no U."""
    more, less = band
    expanded, held = bench.expanded(edge.of), inputs[0].value < inputs[1].value
    note = f"{ELASTIC_U} {note}".rstrip() if expanded is not None else note
    common: dict[str, Any] = {"kind": Kind.FORCE, "inputs": inputs, "evidence": bench.figures[edge.of].evidence}
    bench.add(
        Figure(
            **common, name=f"{edge.of}_loading", label=edge.loading, value=more, expanded=expanded,
            formula="F_load = {F} + {f}", note=note,
        )
    )  # fmt: skip
    bench.add(
        Figure(
            **common, name=f"{edge.of}_unloading", label=edge.unloading, value=less,
            expanded=None if held else expanded, formula=f"F_unload = max({{F}} {MINUS} {{f}}, 0)",
            note=HELD if held else note,
        )
    )  # fmt: skip


_ENERGY: dict[str, Any] = {"name": ENERGY, "label": "Energy the damper takes per cycle", "kind": Kind.ENERGY}


def _add_energy(bench: Bench, friction: Input) -> None:
    """The area of the band over the stroke; none where the springs would stick, for then no cycle closes."""
    lift, seat = bench.found("s", "net_valve_lift"), bench.value("seat_load")
    if lift is None or seat is None:
        bench.add(Figure(**_ENERGY, missing=bench.lacking("net_valve_lift", "seat_load")))
        return
    if seat < friction.value:
        bench.add(Figure(**_ENERGY, note=STUCK))
        return
    travel = max(lift.value, 0.0)
    spread = bench.expanded("net_valve_lift")
    bench.add(
        Figure(
            **_ENERGY, value=float(energy_per_cycle(friction.value, travel)),
            expanded=None if spread is None else 2 * friction.value * spread,
            formula="W = 2 \u00d7 {f} \u00d7 {s}", inputs=(friction, lift),
            note="The band's area over one stroke down and up." + ("" if spread is None else " U is that of the lift."),
        )
    )  # fmt: skip


def damper_band(line: LineStated, loads: Floats) -> tuple[Floats, Floats]:
    """The edges of the damper's band about some loads of the springs.

    Args:
        line: whose damper.
        loads: of the springs alone, N, any shape.

    Returns:
        The loads to press them further, and those they give on the way up, N; NaN where no damper's load is stated.
    """
    friction = line.value(FRICTION)
    if friction is None:
        unknown = np.full_like(loads, np.nan)
        return unknown, unknown
    return loading_load(loads, friction), unloading_load(loads, friction)


def damper_entered(line: LineStated) -> bool:
    """Whether a damper's load was entered for a line, usable or faulty: without it nobody asks for these figures."""
    return line.entered(FRICTION)
