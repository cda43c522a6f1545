"""The pin that a roller turns on, held in two ears: bending and shear under the roller's load.

The load is spread evenly over the length of needles or bush, in the middle of the span between the ears; the ears hold
the pin as two edges. Real ears hold it stiffer, so that the bending told here is the most there is.
"""

from __future__ import annotations

import math
import re
from typing import NamedTuple

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError, Place
from loadbench.spring.sizes import not_negative, positive

YIELDS = {
    "bearing steel": 1700e6,
    "tool steel": 1600e6,
    "case-hardened steel": 900e6,
    "hardened steel": 1100e6,
    "steel": 700e6,
}
"""Yield strength of a pin's steel, Pa. Source: common practice, from memory; the maker's sheet comes first."""

ALSO = {
    "52100": "bearing steel", "100cr6": "bearing steel", "suj2": "bearing steel", "m2": "tool steel",
    "d2": "tool steel", "h13": "tool steel", "8620": "case-hardened steel", "16mncr5": "case-hardened steel",
    "4340": "hardened steel", "4140": "hardened steel", "42crmo4": "hardened steel",
}  # fmt: skip
"""Grades by their usual state in a pin. Source: common practice, from memory."""

SOFTER = frozenset({"mild", "soft", "stainless", "unhardened", "annealed", "structural", "low"})
"""Words of steels for which the plain figure would be too much."""


class PinStress(NamedTuple):
    """Bending moment in the middle, N m; bending stress, greatest shear stress at an ear, von Mises stress, Pa."""

    moment: Floats
    bending: Floats
    shear: Floats
    equivalent: Floats


def pin_stress(load: Real, diameter: Real, span: Real, loaded: Real, bore: Real = 0.0) -> PinStress:
    """Stress of a roller's axle pin.

    Args:
        load: on the roller, N, zero or above.
        diameter: d, m.
        span: between the ears, m.
        loaded: length under needles or bush, m, not longer than the span.
        bore: of a hollow pin, m.

    Returns:
        Moment and stresses, of the broadcast shape. Bending is greatest in the middle, where there is no shear, and
        shear at the ears, where there is no bending: the equivalent stress is the greater of the two by von Mises.

    Raises:
        InputError: a size at zero or below, a bore as large as the pin, a loaded length beyond the span.

    Source:
        shigley: beam on two supports, F/2 (l/2 - a/4); a round section, 4/3 F/A for a solid one.
    """
    (F,) = not_negative("a load on a pin", load)
    d, between, a = positive("a diameter, span or loaded length of a pin", diameter, span, loaded)
    (hole,) = not_negative("a bore of a pin", bore)
    if np.any(hole >= d):
        raise InputError("a bore as large as the pin", expected="a smaller bore", place=Place(field="bore"))
    if np.any(a > between * (1 + 1e-9)):
        raise InputError("a loaded length beyond the span", expected="the span at most", place=Place(field="span"))
    moment = F / 2 * (between / 2 - a / 4)
    second = math.pi / 64 * (d**4 - hole**4)
    area = math.pi / 4 * (d**2 - hole**2)
    bending = moment * d / 2 / second
    # 4/3 of the mean in a solid round section, 2 in a thin ring; between them by the exact form.
    share = hole / d
    peak = 4 / 3 * (1 + share / (1 + share**2))
    shear = peak * F / 2 / area
    return PinStress(
        np.asarray(moment), np.asarray(bending), np.asarray(shear),
        np.asarray(np.maximum(bending, math.sqrt(3) * shear)),
    )  # fmt: skip


def yield_of(material: str | None) -> tuple[str, float] | None:
    """Yield strength of a pin's steel from its text; the name that was understood, and Pa.

    Args:
        material: as typed; None, another text or a softer steel gives None: nothing is guessed.
    """
    words = re.findall(r"[a-z0-9]+", (material or "").lower())
    if SOFTER & set(words):
        return None
    plain = f" {' '.join(words)} "
    graded = next((ALSO[word] for word in words if word in ALSO), None)
    name = graded or next((each for each in YIELDS if f" {each.replace('-', ' ')} " in plain), None)
    return None if name is None else (name, YIELDS[name])
