"""Springs for the tests of tapered coils: any that can be wound, and three of one wire to compare."""

from __future__ import annotations

import dataclasses

import numpy as np
from hypothesis import strategies as st

from loadbench.arrays import Floats
from loadbench.spring.winding import Elements, Winding, elements_of

G = 79.5e9
BEEHIVE = Winding(axial=0.004, radial=0.0045, large=0.028, small=0.020, active=5.0, tapered=2.0, free_height=0.050)
CONE = dataclasses.replace(BEEHIVE, tapered=5.0)
CYLINDER = dataclasses.replace(BEEHIVE, tapered=0.0)
LAW_CONE = Winding(axial=0.004, radial=0.004, large=0.032, small=0.020, active=6.0, tapered=6.0, free_height=0.068)
"""The cone of the check values: 60 mm of active turns, and two dead ones ground."""


def torsion_constant(winding: Winding) -> float:
    """The ellipse's; pi d^4/32 where it is round."""
    a, b = winding.axial / 2, winding.radial / 2
    return float(np.pi * a**3 * b**3 / (a**2 + b**2))


def cut(winding: Winding, elements: int = 240) -> Elements:
    return elements_of(winding, G, torsion_constant(winding), elements)


def travel(winding: Winding) -> float:
    return winding.free_height - winding.bind_height


def scaled(winding: Winding, scale: float) -> Winding:
    lengths = ("axial", "radial", "large", "small", "free_height")
    return dataclasses.replace(winding, **{name: scale * getattr(winding, name) for name in lengths})


@st.composite
def windings(draw: st.DrawFn, steepest: float = 0.9) -> Winding:
    """Springs that can be wound; `steepest` bounds the step of a tapered turn, in wires."""
    axial = draw(st.floats(0.002, 0.006))
    radial = axial * draw(st.floats(1.0, 1.3))
    active = draw(st.floats(2.0, 10.0))
    tapered = active * draw(st.one_of(st.just(0.0), st.floats(0.2, 0.9), st.just(1.0)))
    large = radial * draw(st.floats(5.0, 12.0))
    small = max(large - 2 * tapered * radial * draw(st.floats(0.0, steepest)), 0.4 * large)
    dead, ground = draw(st.sampled_from([(2.0, True), (2.0, False), (0.0, False), (1.5, True)]))
    least = ((dead if ground else dead + 1) + active) * axial
    return Winding(
        axial=axial,
        radial=radial,
        large=large,
        small=small,
        active=active,
        tapered=tapered,
        free_height=least * draw(st.floats(1.2, 2.5)),
        dead=dead,
        ground=ground,
    )


def integral(y: Floats, x: Floats) -> float:
    return float(np.trapezoid(y, x))
