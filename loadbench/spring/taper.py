"""Conical and beehive springs: load against height, turn by turn, with turns landing one after another.

Symbols: G shear modulus, J torsion constant of the wire (pi d^4/32 for round wire), D mean diameter of a turn, from D2
(large, at the seat) to D1 (small, at the retainer), n active turns, c compliance of a turn, g free axial gap.

The model (Rodriguez, Paredes, Sartor, for cones; here also for beehives and other wires), and what it assumes:

- the mean diameter is D2 over the straight turns and falls evenly, turn by turn, over the tapered ones;
- torsion alone bends the coil: a turn yields c = pi D^3/(4 G J), whatever the others do;
- the pitch is even when the spring is free, though a maker may wind it otherwise;
- a turn lands on its neighbour, all along itself, when it has used up its gap; from then on it is rigid;
- a tapered turn lies partly inside its neighbour, sqrt(d^2 - step^2) higher; where the step in radius of a turn is the
  wire or more, the small turns lie inside the large ones and add no height (the spring telescopes).

Elements run from the seat to the retainer, so the large end comes first.
"""

from __future__ import annotations

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError

SLACK = 1e-9
"""Turns may lie in each other by this share of the height: rounding, not a fault."""


# One turn, and the whole in closed form


def turn_compliance(shear_modulus: Real, torsion_constant: Real, diameter: Real) -> Floats:
    """How far one turn yields under a load.

    Args:
        shear_modulus: G, Pa.
        torsion_constant: J, m4.
        diameter: D, mean, m.

    Returns:
        c = pi D^3/(4 G J), m/N, of the broadcast shape.

    Source:
        wahl, torsion alone; 8 D^3/(G d^4) for round wire.
    """
    return np.asarray(np.pi * np.asarray(diameter) ** 3 / (4 * np.asarray(shear_modulus) * torsion_constant))


def radial_step(large: Real, small: Real, tapered: Real) -> Floats:
    """Radius lost by one tapered turn.

    Args:
        large: D2, m.
        small: D1, m.
        tapered: turns over which the diameter falls.

    Returns:
        (D2 - D1)/(2 n), m; zero without tapered turns.

    Source:
        rodriguez.
    """
    turns = np.asarray(tapered, dtype=np.float64)
    # A millionth of a turn is none that anyone winds; the bound keeps a typing slip from overflowing.
    return np.where(turns > 0, (np.asarray(large) - small) / 2 / np.maximum(turns, 1e-6), 0.0)


def turn_height(axial: Real, radial: Real, step: Real, flat: bool = False) -> Floats:
    """Height that one landed turn adds.

    Args:
        axial: wire along the axis, m.
        radial: wire across, m.
        step: radius lost by the turn, m.
        flat: rectangular wire, which stacks its whole height until it slips past its neighbour.

    Returns:
        Height, m; zero where the turn lies inside its neighbour.

    Source:
        rodriguez for round wire; own derivation for the ellipse (the same, stretched) and the rectangle.
    """
    share = np.minimum(np.asarray(step) / radial, 1.0)
    return np.asarray(axial * (np.where(share < 1, 1.0, 0.0) if flat else np.sqrt(1 - share**2)))


def checked_taper(large: Real, small: Real, active: Real, tapered: Real) -> list[Floats]:
    """The four as arrays.

    Args:
        large: D2, m.
        small: D1, m, above zero, not above D2.
        active: n, turns, above zero.
        tapered: how many of them taper.

    Returns:
        D2, D1, n and the tapered turns.

    Raises:
        InputError: small above large, or more tapered than active turns.

    Source:
        own derivation: what can be wound.
    """
    D2, D1, n, t = (np.asarray(value, dtype=np.float64) for value in (large, small, active, tapered))
    if not (np.all(D1 > 0) and np.all(D2 >= D1)):
        raise InputError("a small diameter of zero, or above the large one", expected="0 < small <= large")
    if not (np.all(n > 0) and np.all((t >= 0) & (t <= n))):
        raise InputError("tapered coils beside the active ones", expected="0 <= tapered <= active, active above zero")
    return [D2, D1, n, t]


def stacked_height(
    axial: Real, radial: Real, large: Real, small: Real, active: Real, tapered: Real, flat: bool = False
) -> Floats:
    """Height of the active turns when all have landed.

    Args:
        axial: wire along the axis, m.
        radial: wire across, m.
        large: D2, m.
        small: D1, m, not above D2.
        active: n, turns.
        tapered: how many of them taper.
        flat: rectangular wire.

    Returns:
        Height, m; the dead turns come on top.

    Raises:
        InputError: small above large, or more tapered than active turns.

    Source:
        rodriguez: Ls = n sqrt(d^2 - ((D2 - D1)/(2 n))^2), zero when it telescopes.
    """
    D2, D1, n, t = checked_taper(large, small, active, tapered)
    return np.asarray((n - t) * axial + t * turn_height(axial, radial, radial_step(D2, D1, t), flat))


def taper_rate(
    shear_modulus: Real, torsion_constant: Real, large: Real, small: Real, active: Real, tapered: Real
) -> Floats:
    """Rate of a conical or beehive spring while no turn has landed.

    Args:
        shear_modulus: G, Pa. All arguments broadcast, one place a spring.
        torsion_constant: J, m4.
        large: D2, m.
        small: D1, m, not above D2.
        active: n, turns.
        tapered: how many of them taper; zero: a cylinder of D2, whatever D1 is.

    Returns:
        Rate, N/m, of the broadcast shape.

    Raises:
        InputError: small above large, or more tapered than active turns.

    Source:
        wahl, conical springs: R = G d^4/(2 n (D1 + D2)(D1^2 + D2^2)), in line with the straight turns.
    """
    D2, D1, n, t = checked_taper(large, small, active, tapered)
    # Products, not powers: numpy's power of three costs as much as all the rest of a million springs.
    cubes = (n - t) * (D2 * D2 * D2) + t * (D1 + D2) * (D1 * D1 + D2 * D2) / 4
    return np.asarray(4 * np.asarray(shear_modulus) * torsion_constant / (np.pi * cubes))


def landing_load(shear_modulus: Real, torsion_constant: Real, diameter: Real, gap_per_turn: Real) -> Floats:
    """Load at which a turn of one diameter lands.

    Args:
        shear_modulus: G, Pa.
        torsion_constant: J, m4.
        diameter: D, mean, of that turn, m.
        gap_per_turn: free pitch less the height a landed turn adds, m.

    Returns:
        Load, N, of the broadcast shape.

    Source:
        rodriguez: F = G d^4 (La - Ls)/(8 D^3 n).
    """
    return np.asarray(np.asarray(gap_per_turn) / turn_compliance(shear_modulus, torsion_constant, diameter))


# Cut into elements


def coil_turns(
    mean_diameter: float, small_mean_diameter: float, active_coils: float, tapered_coils: float, elements: int = 240
) -> tuple[Floats, Floats]:
    """Cut the active turns of one spring into elements, from the seat to the retainer.

    Args:
        mean_diameter: D2, m, of the straight turns and of the large end.
        small_mean_diameter: D1, m, at the retainer, not above D2.
        active_coils: n.
        tapered_coils: how many of them taper, at the retainer's end.
        elements: how many elements.

    Returns:
        Diameter of each element, m, and its turns, both of shape (elements,). The diameter is the one whose cube is the
        mean of the cubes along the element, so that the compliances add up exactly; straight elements have D2 itself.

    Raises:
        InputError: as taper_rate, or fewer than two elements.

    Source:
        own derivation.
    """
    checked_taper(mean_diameter, small_mean_diameter, active_coils, tapered_coils)
    if elements < 2:
        raise InputError("fewer than two elements", expected="two or more")
    straight_coils = active_coils - tapered_coils
    tapering = elements * tapered_coils / active_coils
    tapering = int(np.clip(round(tapering), int(tapered_coils > 0), elements - int(straight_coils > 0)))
    straight = elements - tapering
    diameters = np.full(elements, float(mean_diameter))
    turns = np.full(elements, straight_coils / max(straight, 1))
    if tapering:
        edges = np.linspace(mean_diameter, small_mean_diameter, tapering + 1)
        a, b = edges[:-1], edges[1:]
        diameters[straight:] = np.cbrt((a + b) * (a**2 + b**2) / 4)
        turns[straight:] = tapered_coils / tapering
    return diameters, turns


def compliances(shear_modulus: Real, torsion_constant: Real, diameters: Floats, turns: Floats) -> Floats:
    """How far each element yields under a load.

    Args:
        shear_modulus: G, Pa.
        torsion_constant: J, m4.
        diameters: mean diameter of each element, m, shape (..., elements).
        turns: turns of each element.

    Returns:
        Compliances, m/N, shape (..., elements).

    Source:
        wahl, torsion alone.
    """
    return np.asarray(turn_compliance(shear_modulus, torsion_constant, diameters) * turns)


def gaps(
    active_free_height: float,
    diameters: Floats,
    turns: Floats,
    large: float,
    axial: float,
    tapered_turn_height: float,
) -> Floats:
    """Free axial gap of each element of one spring, wound with an even pitch.

    Args:
        active_free_height: height of the active turns when free, m.
        diameters: as from coil_turns, shape (elements,).
        turns: likewise.
        large: D2, m; elements below it taper.
        axial: what a straight turn adds when it has landed, m.
        tapered_turn_height: what a tapered turn adds when it has landed, m: turn_height().

    Returns:
        Gaps, m, shape (elements,).

    Raises:
        InputError: turns that would lie in each other when free.

    Source:
        rodriguez, constant pitch.
    """
    landed = np.where(diameters < large, tapered_turn_height, axial)
    free = np.asarray(turns * (active_free_height / np.sum(turns) - landed))
    if np.any(free < -SLACK * active_free_height):
        raise InputError("turns lie in each other when free", expected="a pitch above the wire")
    return np.maximum(free, 0.0)
