"""The pushrod as a column: the greatest force through it, the load at which it gives way, and its mean stress."""

from __future__ import annotations

import functools

from loadbench.analysis.builder import Bench, inputs_of
from loadbench.analysis.figure import Figure, FigureKind, Input, Plain
from loadbench.analysis.motion.moving_masses import MovingMasses
from loadbench.analysis.motion.result import Balanced
from loadbench.errors import InputError
from loadbench.motion.pushrod import STEEL, euler_load, mean_stress
from loadbench.units import Kind

FIGURES: dict[str, tuple[str, FigureKind]] = {
    "pushrod_load": ("Greatest force through the pushrod", Kind.FORCE),
    "pushrod_buckling_load": ("Load at which the pushrod gives way sideways", Kind.FORCE),
    "pushrod_factor": ("Pushrod: buckling load over greatest force", Plain.NUMBER),
    "pushrod_stress": ("Mean stress in the pushrod", Kind.STRESS),
}
"""Label and kind, in the order in which they are told."""

SIZES = ("diameter", "wall", "length")
EULER = (
    "Euler's column, both ends free to turn, a straight tube of steel (205 GPa); side loads, bends and a taper are not "
    "in it."
)


@functools.lru_cache(maxsize=16)
def _column(diameter: float, wall: float, length: float) -> tuple[float, float]:
    """The load at which it gives way, N, and its mean stress for each newton, Pa/N."""
    return float(euler_load(diameter, wall, length, STEEL)), float(mean_stress(1.0, diameter, wall))


def add_pushrod(bench: Bench, at: Balanced | None, masses: MovingMasses | None) -> None:
    """The pushrod's figures; a bucket has none.

    Args:
        bench: the line.
        at: the force balance at the speed limit, or at idle.
        masses: of the line.
    """
    line = bench.line
    if line.value("follower.family") == "bucket":
        return
    fields = {name: f"valve_gear.pushrod.{name}" for name in SIZES}
    wanting = tuple(line.path(field) for field in fields.values() if line.value(field) is None)
    _add_force(bench, at)
    force = bench.found("F", "pushrod_load")
    if wanting:
        for name in ("pushrod_buckling_load", "pushrod_factor", "pushrod_stress"):
            _add(bench, name, missing=wanting)
        return
    given = {
        name: Input(symbol=symbol, label=label, value=float(line.value(fields[name])), kind=Kind.LENGTH,
                    field=line.path(fields[name]))
        for name, symbol, label in (("diameter", "D", "diameter"), ("wall", "t", "wall"), ("length", "L", "length"))
    }  # fmt: skip
    sizes = tuple(each.value for each in given.values())
    try:
        euler, pressed = _column(sizes[0], sizes[1], sizes[2])
    except InputError as error:
        for name in ("pushrod_buckling_load", "pushrod_factor", "pushrod_stress"):
            _add(bench, name, missing=(line.path("valve_gear.pushrod.wall"),), note=f"{error.what}.")
        return
    _add(
        bench, "pushrod_buckling_load", euler, formula="\u03c0\u00b2 E I({D}, {t}) / {L}\u00b2",
        inputs=tuple(given.values()), source="shigley", note=EULER,
    )  # fmt: skip
    if force is None:
        missing = bench.figures["pushrod_load"].missing
        _add(bench, "pushrod_factor", missing=missing)
        _add(bench, "pushrod_stress", missing=missing)
        return
    if force.value <= 0:
        _add(bench, "pushrod_factor", note="No load, and so no buckling.")
        _add(bench, "pushrod_stress", note="No load.")
        return
    _add(
        bench, "pushrod_factor", euler / force.value, formula="{F_E} / {F}",
        inputs=inputs_of(bench.found("F_E", "pushrod_buckling_load"), force), note=EULER,
    )  # fmt: skip
    _add(
        bench, "pushrod_stress", pressed * force.value,
        formula="{F} / A({D}, {t})", inputs=(force, given["diameter"], given["wall"]),
    )  # fmt: skip


def _add(  # noqa: PLR0913 - each is one thing that a figure tells
    bench: Bench,
    name: str,
    value: float | None = None,
    *,
    formula: str = "",
    inputs: tuple[Input, ...] = (),
    source: str = "own derivation",
    note: str = "",
    missing: tuple[str, ...] = (),
) -> None:
    label, kind = FIGURES[name]
    bench.add(
        Figure(
            name=name, label=label, kind=kind, value=value, formula=formula, inputs=inputs, source=source, note=note,
            missing=missing,
        )
    )  # fmt: skip


def _add_force(bench: Bench, at: Balanced | None) -> None:
    """The greatest force through the pushrod; without a force balance the static load at full lift stands for it."""
    if at is not None:
        speed = Input(symbol="N", label="engine speed", value=at.speed, kind=Kind.SPEED, field="duty.speed_limit")
        note = "Of the force balance, at the follower's end; the linkage's ringing can add to it."
        _add(bench, "pushrod_load", float(at.pushrod.max()), formula="greatest at {N}", inputs=(speed,), note=note)
        return
    full = bench.found("F_f", "follower_open_load")
    if full is None:
        _add(bench, "pushrod_load", missing=bench.figures["follower_open_load"].missing)
        return
    _add(bench, "pushrod_load", full.value, formula="{F_f}", inputs=(full,), note="Static, at full lift.")
