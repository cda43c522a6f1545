"""What viscosity a grade of oil has in an engine: typical, the thinnest of the grade, and what high shear leaves."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.follower.oil import ZERO_CELSIUS, Grade, density, dynamic, kinematic

AT_150 = ZERO_CELSIUS + 150


class Viscosities(NamedTuple):
    """Dynamic viscosities, Pa s: in the middle of the grade, the thinnest of it, and that one under high shear."""

    typical: Floats
    low: Floats
    sheared: Floats


def high_shear_share(grade: Grade) -> float:
    """What a contact's high shear leaves of the thinnest oil of a grade, at the least.

    Args:
        grade: as typed; one without a winter grade has no thickener to lose.

    Returns:
        Share, at most 1.

    Source:
        sae-j300: least viscosity at high shear and 150 degrees, over the thinnest oil's there; own derivation.
    """
    if grade.winter is None:
        return 1.0
    at_rest = dynamic(kinematic(grade.constants(thinnest=True), AT_150), density(AT_150))
    return min(1.0, grade.hot.high_shear / float(at_rest))


def viscosities(grade: Grade, temperature: Real) -> Viscosities:
    """Dynamic viscosities of a grade at a temperature.

    Args:
        grade: as typed.
        temperature: K.

    Returns:
        Typical, low and sheared, of the temperature's shape.

    Raises:
        InputError: a temperature at zero or below.

    Source:
        astm-d341 and sae-j300; common practice for what is typical; the share lost to shear is taken alike at all
        temperatures, own derivation.
    """
    weight = density(temperature)
    typical, low = (dynamic(kinematic(grade.constants(thinnest), temperature), weight) for thinnest in (False, True))
    return Viscosities(typical, low, np.asarray(low * high_shear_share(grade)))
