"""Fatigue factors of the coils of a line, all in one go, and what the stress pictures draw of each."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from loadbench.analysis.coils.basis import BERGSTRAESSER, CoilBasis, Stressed
from loadbench.analysis.coils.making import coil_figure, given, waits_for
from loadbench.analysis.coils.result import FatigueLines
from loadbench.analysis.coils.strength import Fatigue, WireStrength
from loadbench.analysis.figure import Figure
from loadbench.arrays import Floats
from loadbench.spring.fatigue import alternating_and_mean, factor_gerber, factor_goodman, factor_sines
from loadbench.units import Kind

STRESS = Kind.STRESS
WAYS = ("goodman", "gerber", "sines")
NO_RANGE = "The stress does not change between closed and full lift."
FORMULAS = {
    "goodman": "n_f = 1 / ({tau_a} / {S_se} + {tau_m} / {S_su})",
    "gerber": "n_f = 2 / ({tau_a} / {S_se} + \u221a(({tau_a} / {S_se})\u00b2 + 4 \u00d7 ({tau_m} / {S_su})\u00b2))",
    "sines": "n_f = {S_sa} / {tau_a}",
}


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Cycle:
    """One coil between closed and full lift, with strengths that hold for it."""

    stressed: Stressed
    strength: WireStrength
    fatigue: Fatigue
    seat_load: float
    open_load: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Endured:
    """The factors of one coil, each with amplitude and mean, Pa, of the turn where it is least."""

    factors: dict[str, tuple[float, float, float]]


def cycle_of(basis: CoilBasis, loads: tuple[float | None, float | None]) -> Cycle | None:
    """What the factors rest on; None where something of it cannot be had."""
    strength, low, high = basis.strength, *loads
    if basis.stressed is None or strength is None or strength.fatigue is None or low is None or high is None:
        return None
    return Cycle(stressed=basis.stressed, strength=strength, fatigue=strength.fatigue, seat_load=low, open_load=high)


def endured(cycles: list[Cycle]) -> list[Endured]:
    """The factors of several coils at once.

    Args:
        cycles: of each coil.

    Returns:
        The least factor along each coil, by each of the three ways.
    """
    if not cycles:
        return []
    sizes = [each.stressed.landing.size for each in cycles]
    strengths = np.array([each.fatigue.strengths for each in cycles]).T
    singles = [each.stressed.single for each in cycles]
    if None not in singles:  # cylinders alone: a number each
        pairs = [(single[BERGSTRAESSER], each) for single, each in zip(singles, cycles, strict=True) if single]
        low = np.array([per_load * each.seat_load for per_load, each in pairs])
        high = np.array([per_load * each.open_load for per_load, each in pairs])
    else:
        turns = [(each.stressed.per_load[BERGSTRAESSER], each) for each in cycles]
        low = np.concatenate([per_load * each.stressed.loads(each.seat_load) for per_load, each in turns])
        high = np.concatenate([per_load * each.stressed.loads(each.open_load) for per_load, each in turns])
        strengths = np.repeat(strengths, sizes, axis=1)
    goodman, gerber, amplitude, ultimate = strengths
    swing, mean = alternating_and_mean(low, high)
    factors = {
        "goodman": factor_goodman(swing, mean, goodman, ultimate),
        "gerber": factor_gerber(swing, mean, gerber, ultimate),
        "sines": factor_sines(swing, amplitude),
    }
    return _split(factors, swing, mean, sizes)


def _split(factors: dict[str, Floats], swing: Floats, mean: Floats, sizes: list[int]) -> list[Endured]:
    found, start = [], 0
    for size in sizes:
        least = {}
        for way, values in factors.items():
            at = start if size == 1 else start + int(np.argmin(values[start : start + size]))
            least[way] = (float(values[at]), float(swing[at]), float(mean[at]))
        found.append(Endured(factors=least))
        start += size
    return found


def fatigue_figures(
    basis: CoilBasis, cycle: Cycle | None, done: Endured | None, missing: tuple[str, ...]
) -> list[Figure]:
    """The three factors of one coil.

    Args:
        basis: of the coil.
        cycle: what they rest on; None where something of it cannot be had.
        done: what came out.
        missing: what the stresses wait for.

    Returns:
        The figures; where there are none they name what they wait for, or say why there can be none.
    """
    names = [f"fatigue_factor_{way}" for way in WAYS]
    if cycle is None or done is None:
        strength = basis.strength
        missing = waits_for(missing, basis.figures["tensile_strength"].missing)
        note = basis.figures["tensile_strength"].note if strength is None else strength.why_not
        return [coil_figure(name, missing=missing, source="shigley", note=note) for name in names]
    return [_factor(way, cycle, done) for way in WAYS]


def _factor(way: str, cycle: Cycle, done: Endured) -> Figure:
    value, swing, mean = done.factors[way]
    fatigue, name = cycle.fatigue, f"fatigue_factor_{way}"
    note = cycle.strength.note
    if not np.isfinite(value):
        return coil_figure(name, source="shigley", note=NO_RANGE)
    amplitude = given("tau_a", "stress amplitude, by Bergstr\u00e4sser", swing, STRESS)
    inputs = (amplitude, *fatigue.inputs[way])
    if way != "sines":
        inputs = (amplitude, given("tau_m", "mean stress, by Bergstr\u00e4sser", mean, STRESS), *fatigue.inputs[way])
    evidence = f"Zimmerli, {'peened' if fatigue.peened else 'not peened'}"
    if cycle.stressed.note:
        note = f"{note} The least along the coil.".strip()
    return coil_figure(name, value, FORMULAS[way], inputs, source="shigley", evidence=evidence, note=note)


def fatigue_lines(cycle: Cycle | None, done: Endured | None, bind_load: float | None) -> FatigueLines | None:
    """What the stress pictures draw of a coil: its stresses where Goodman's factor is least, and the strengths."""
    if cycle is None or done is None:
        return None
    _, swing, mean = done.factors["goodman"]
    stressed, strength, fatigue = cycle.stressed, cycle.strength, cycle.fatigue
    return FatigueLines(
        closed=mean - swing,
        full_lift=mean + swing,
        bind=None if bind_load is None else stressed.peaks(bind_load)[BERGSTRAESSER],
        alternating=swing,
        mean=mean,
        ultimate_shear=strength.ultimate,
        amplitude=fatigue.amplitude,
        amplitude_mean=fatigue.mean,
        endurance_goodman=fatigue.endurance_goodman,
        endurance_gerber=fatigue.endurance_gerber,
        peened=fatigue.peened,
        tensile=strength.tensile,
        static_limit=strength.static_limit,
    )
