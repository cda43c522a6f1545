"""Each spring of the set from the wire up: what of a coil has not changed is taken as it was."""

from __future__ import annotations

from typing import NamedTuple

from loadbench.analysis.builder import Bench
from loadbench.analysis.coils.basis import CoilBasis, basis_of
from loadbench.analysis.coils.fatigue_figures import Cycle, Endured, cycle_of, endured, fatigue_figures, fatigue_lines
from loadbench.analysis.coils.kept import keep, kept, known
from loadbench.analysis.coils.lift_modes import modes_at, open_mode_figure, wave_shape_of
from loadbench.analysis.coils.load_curve import load_curve
from loadbench.analysis.coils.making import waits_for
from loadbench.analysis.coils.nest_figures import gap_figure, step_figure
from loadbench.analysis.coils.result import FIGURES, CoilAnalysis, LoadCurve
from loadbench.analysis.coils.standing_coil import StandingCoil, standing_coil
from loadbench.analysis.coils.stress_figures import (
    CAME_FROM,
    bind_load_figure,
    range_figures,
    stresses_at,
    tolerance_figure,
)
from loadbench.analysis.coils.surge_figures import hot_figure, ratio_figure
from loadbench.analysis.figure import Figure
from loadbench.analysis.nest import Nest

Figures = dict[str, Figure]
Loads = tuple[float | None, float | None]


class _Around(NamedTuple):
    """What of the line a coil rests on beside its own place."""

    nest: tuple[CoilBasis, ...]
    damper: tuple[float | None, str]
    temperature: float | None
    speed: float | None


def coils_of(bench: Bench, nest: Nest) -> tuple[CoilAnalysis, ...]:
    """The coils of one line, one for each member of the nest.

    Args:
        bench: the line, with its heights and lifts found.
        nest: the set.

    Returns:
        Each coil with all its figures, in the order of the members; the same objects as the last time where nothing
        that a coil rests on has changed.
    """
    line = bench.line
    bases = tuple(basis_of(line, member) for member in nest.members)
    damper = "spring.damper.thickness"
    around = _Around(
        nest=bases,
        damper=(line.value(damper), line.path(damper)),
        temperature=line.value("duty.oil.temperature"),
        speed=line.value("duty.speed_limit"),
    )
    stand = [standing_coil(bench, member, basis) for member, basis in zip(nest.members, bases, strict=True)]
    paths = [member.path or member.name for member in nest.members]
    coils = {path: known("coil", path, (coil, around)) for path, coil in zip(paths, stand, strict=True)}
    anew = [(path, coil) for path, coil in zip(paths, stand, strict=True) if coils[path] is None]
    if anew:
        loads = [coil.loads() for _, coil in anew]
        cycles = [cycle_of(coil.basis, each) for (_, coil), each in zip(anew, loads, strict=True)]
        results = iter(endured([cycle for cycle in cycles if cycle is not None]))
        for (path, coil), each, cycle in zip(anew, loads, cycles, strict=True):
            made = _coil(coil, around, each, cycle, None if cycle is None else next(results))
            coils[path] = keep("coil", path, (coil, around), made)
    return tuple(coils[path] for path in paths)


def _coil(coil: StandingCoil, around: _Around, loads: Loads, cycle: Cycle | None, done: Endured | None) -> CoilAnalysis:
    """One coil; the parts of it that rest on less than the whole are kept by themselves."""
    basis, path = coil.basis, coil.path or coil.name
    low_missing = waits_for(coil.height_missing, coil.strand_missing)
    high_missing = waits_for(coil.open_missing, coil.strand_missing)
    came = "" if coil.strand is None else CAME_FROM[coil.strand.evidence]
    closed = (basis, loads[0], low_missing, came)
    low = kept("closed", path, closed, lambda: _closed(*closed))
    high = stresses_at(basis, "open", loads[1], high_missing, came)
    at_bind = (basis, coil.strand, coil.strand_missing, coil.bind, coil.bind_field, coil.bind_measured)
    bound, curve = kept("bind", path, at_bind, lambda: _bound(coil))
    beside = kept("around", path, (basis, around), lambda: _beside(basis, around))
    waiting = waits_for(low["shear_stress_seat"].missing, high["shear_stress_open"].missing)
    found = basis.figures | low | high | bound | beside | range_figures(basis, loads, low, high)
    found |= {each.name: each for each in fatigue_figures(basis, cycle, done, waiting)}
    modes_open = modes_at(basis, loads[1])
    if basis.geometry.tapers:
        figure = open_mode_figure(basis, loads[1], modes_open, high_missing, came)
        found["surge_frequency_open"] = figure
    heights = (
        ("free", basis.geometry.free_height),
        ("closed", coil.height),
        ("open", coil.open_height),
        ("bind", coil.bind),
    )
    return CoilAnalysis(
        name=coil.name,
        path=coil.path,
        geometry=basis.geometry if coil.path else None,
        figures={name: found[name] for name in FIGURES},
        fatigue=fatigue_lines(cycle, done, found["bind_load"].value),
        curve=curve,
        from_wire=basis.from_wire,
        modes=basis.modes,
        modes_closed=modes_at(basis, loads[0]),
        modes_open=modes_open,
        waves=wave_shape_of(basis, None if None in loads else sum(each or 0.0 for each in loads) / 2),
        heights={name: height for name, height in heights if height is not None},
    )


def _closed(basis: CoilBasis, load: float | None, missing: tuple[str, ...], evidence: str) -> Figures:
    tolerance = tolerance_figure(basis, load, missing)
    return stresses_at(basis, "seat", load, missing, evidence) | {tolerance.name: tolerance}


def _bound(coil: StandingCoil) -> tuple[Figures, LoadCurve | None]:
    load = bind_load_figure(coil)
    stresses = stresses_at(coil.basis, "bind", load.value, load.missing, load.evidence)
    return stresses | {load.name: load}, load_curve(coil)


def _beside(basis: CoilBasis, around: _Around) -> Figures:
    figures = (
        gap_figure(basis, around.nest, around.damper),
        step_figure(basis),
        hot_figure(basis.geometry, around.temperature),
        ratio_figure(basis.figures["surge_frequency"], around.speed),
    )
    return {each.name: each for each in figures}
