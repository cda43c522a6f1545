"""The room between the coils of a nest, and from a coil to the retainer's step."""

from __future__ import annotations

from loadbench.analysis.coils.basis import CoilBasis
from loadbench.analysis.coils.making import coil_figure, found, given, waits_for
from loadbench.analysis.figure import Figure
from loadbench.analysis.wire_formula import MINUS
from loadbench.spring.nest import diametral_gap
from loadbench.units import Kind

LENGTH = Kind.LENGTH
INNERMOST = "No spring stands inside this one."
DAMPER = "Where the flat damper lies in this gap, twice its thickness comes off."
BOTH_ENDS = "Both coils taper: looked at their two ends only."


def gap_figure(basis: CoilBasis, nest: tuple[CoilBasis, ...], damper: tuple[float | None, str]) -> Figure:
    """The gap to the next smaller coil, by mean diameter.

    Args:
        basis: of the coil.
        nest: of every coil of the line, this one too.
        damper: thickness of the flat damper's strip, m, and where it is stated.

    Returns:
        The figure; without a value for the innermost coil, which its note says.
    """
    name = "gap_to_next"
    others = [each for each in nest if each is not basis]
    own = basis.geometry
    wanting = waits_for(*(each.geometry.wanting("mean_diameter") for each in (basis, *others))) if others else ()
    if wanting:
        return coil_figure(name, missing=wanting)
    smaller = [each for each in others if _mean(each) < _mean(basis)]
    if not smaller:
        return coil_figure(name, note=INNERMOST)
    inner = max(smaller, key=_mean)
    other = inner.geometry
    missing = waits_for(*(each.wanting("section", "small_mean_diameter") for each in (own, other)))
    if missing or own.section is None or other.section is None:
        return coil_figure(name, missing=missing)
    wires = (float(own.section.radial), float(other.section.radial))
    ends = [
        (float(diametral_gap(one, wires[0], two, wires[1])), one, two)
        for one, two in ((_mean(basis), _mean(inner)), (_small(basis), _small(inner)))
    ]
    value, one, two = min(ends)
    inputs = [
        given("D", "mean coil diameter", one, LENGTH, f"{own.path}.mean_diameter"),
        given("a", "its wire across", wires[0], LENGTH, f"{own.path}.wire"),
        given("D_2", "mean diameter of the next coil inside", two, LENGTH, f"{other.path}.mean_diameter"),
        given("a_2", "its wire across", wires[1], LENGTH, f"{other.path}.wire"),
    ]
    notes = [BOTH_ENDS] if own.tapers and other.tapers else []
    if damper[0] is not None:
        notes.append(DAMPER)
        inputs.append(given("s", "the flat damper's thickness", damper[0], LENGTH, damper[1]))
    formula = f"gap = ({{D}} {MINUS} {{a}}) {MINUS} ({{D_2}} + {{a_2}})"
    return coil_figure(name, value, formula, tuple(inputs), note=" ".join(notes))


def _mean(basis: CoilBasis) -> float:
    return basis.geometry.mean_diameter or 0.0


def _small(basis: CoilBasis) -> float:
    return basis.geometry.small_mean_diameter or 0.0


def step_figure(basis: CoilBasis) -> Figure:
    """The gap from a coil's inside to the step of the retainer that centres it."""
    name, geometry, inside = "retainer_step_gap", basis.geometry, basis.figures["inner_diameter"]
    step, field = geometry.retainer_step_diameter, f"{geometry.path}.retainer_step_diameter"
    if step is None or inside.value is None:
        return coil_figure(name, missing=waits_for(inside.missing, () if step is not None else (field,)))
    inputs = (found("D_i", inside), given("D_s", "diameter of the retainer's step", step, LENGTH, field))
    return coil_figure(name, inside.value - step, f"gap = {{D_i}} {MINUS} {{D_s}}", inputs)
