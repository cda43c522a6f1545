"""Oil between the parts: viscosity by temperature and grade, density, pressure's part, anti-wear phosphorus.

Kinematic viscosities are in m2/s (1 mm2/s = 1e-6 m2/s), dynamic ones in Pa s, temperatures in K.
"""

from __future__ import annotations

import functools
import math
import re
import tomllib
from dataclasses import dataclass
from importlib import resources
from typing import NamedTuple

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError
from loadbench.spring.sizes import positive

CST = 1e-6
"""m2/s of one mm2/s."""
ZERO_CELSIUS = 273.15
AT_40, AT_100 = ZERO_CELSIUS + 40, ZERO_CELSIUS + 100
LEAST_VISCOSITY = 2.0
"""mm2/s: below it the two constants no longer hold. Source: astm-d341."""

DENSITY_15, DENSITY_FALL = 880.0, 0.00065
"""kg/m3 of a mineral oil at 15 degrees, and what it loses per K. Source: common practice, from memory."""

PRESSURE_COEFFICIENT = 1.8e-8
"""Of viscosity, 1/Pa, of a mineral engine oil, within this range. Source: hamrock-film (memory)."""
PRESSURE_COEFFICIENTS = (1.5e-8, 2.4e-8)


class Walther(NamedTuple):
    """Constants of log log (v + 0.7) = A - B log T, v in mm2/s, T in K."""

    a: float
    b: float


def walther(first: tuple[float, float], second: tuple[float, float]) -> Walther:
    """The constants through two viscosities.

    Args:
        first: temperature, K, and kinematic viscosity, m2/s.
        second: likewise, at another temperature.

    Returns:
        A and B.

    Raises:
        InputError: equal temperatures, a viscosity under 2 mm2/s, or one that does not fall with temperature.

    Source:
        astm-d341.
    """
    (cold, thick), (warm, thin) = sorted((first, second))
    if not warm > cold > 0:
        raise InputError("two viscosities at one temperature", expected="two temperatures")
    if not (thick >= LEAST_VISCOSITY * CST and thin >= LEAST_VISCOSITY * CST):  # nor is NaN
        raise InputError("a viscosity under 2 mm2/s", expected="2 mm2/s or more")
    if not thin < thick < math.inf:
        raise InputError("an oil that is no thinner when hot", expected="less viscosity at the higher temperature")
    high, low = (math.log10(math.log10(each / CST + 0.7)) for each in (thick, thin))
    b = (high - low) / (math.log10(warm) - math.log10(cold))
    return Walther(high + b * math.log10(cold), b)


def kinematic(constants: Walther, temperature: Real) -> Floats:
    """Kinematic viscosity at a temperature.

    Args:
        constants: A and B.
        temperature: K, above zero.

    Returns:
        m2/s, of its shape; below 2 mm2/s the formula is beyond its range.

    Raises:
        InputError: a temperature at zero or below.

    Source:
        astm-d341.
    """
    (T,) = positive("a temperature", temperature)
    return np.asarray((10 ** (10 ** (constants.a - constants.b * np.log10(T))) - 0.7) * CST)


def density(temperature: Real, at_15: float = DENSITY_15, fall: float = DENSITY_FALL) -> Floats:
    """Density of an oil.

    Args:
        temperature: K.
        at_15: density at 15 degrees, kg/m3.
        fall: share lost per K.

    Returns:
        kg/m3, of the temperature's shape.

    Source:
        common practice: falls in a straight line.
    """
    return np.asarray(at_15 * (1 - fall * (np.asarray(temperature) - ZERO_CELSIUS - 15)))


def dynamic(kinematic_viscosity: Real, density_: Real) -> Floats:
    """Dynamic viscosity.

    Args:
        kinematic_viscosity: m2/s.
        density_: kg/m3.

    Returns:
        Pa s.

    Source:
        own derivation: the definition.
    """
    return np.asarray(np.asarray(kinematic_viscosity) * density_)


def under_pressure(viscosity: Real, coefficient: float, pressure: Real) -> Floats:
    """Dynamic viscosity under pressure by Barus.

    Args:
        viscosity: at the pressure of the air, Pa s.
        coefficient: of pressure, 1/Pa.
        pressure: Pa.

    Returns:
        Pa s, of the broadcast shape.

    Source:
        hamrock-film.
    """
    return np.asarray(viscosity * np.exp(coefficient * np.asarray(pressure)))


SEIREG = {10: (0.0158, 1157.5), 20: (0.0136, 1271.6), 30: (0.0141, 1360.0), 40: (0.0121, 1474.4), 50: (0.0170, 1509.6),
          60: (0.0187, 1564.0)}  # fmt: skip
"""micro-reyn and degrees Fahrenheit of the fit for SAE grades. Source: seireg-dandage; all but SAE 30 from memory."""

REYN = 6894.757293168361
"""Pa s of one reyn (lbf s/in2)."""


def seireg_viscosity(grade: int, temperature: Real) -> Floats:
    """Dynamic viscosity of a single-grade oil by a fit of charts: a second opinion beside ASTM D341.

    Args:
        grade: SAE 10 to 60, tens.
        temperature: K.

    Returns:
        Pa s.

    Raises:
        InputError: another grade.

    Source:
        seireg-dandage.
    """
    if grade not in SEIREG:
        raise InputError(f"SAE {grade} has no fit", expected="SAE 10, 20, 30, 40, 50 or 60")
    base, b = SEIREG[grade]
    return np.asarray(base * 1e-6 * REYN * np.exp(b / (1.8 * (np.asarray(temperature) - ZERO_CELSIUS) + 127)))


# Grades


@dataclass(frozen=True, slots=True, kw_only=True)
class HotGrade:
    """Limits of an SAE grade when hot: kinematic viscosity at 100 degrees, m2/s, and at high shear at 150, Pa s."""

    name: str
    least: float
    most: float
    high_shear: float
    seen: str


@functools.cache
def _tables() -> dict[str, list[dict[str, object]]]:
    text = resources.files("loadbench.follower").joinpath("oils.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


@functools.cache
def hot_grades() -> dict[str, HotGrade]:
    """The hot grades by their number, such as "40"."""
    return {
        str(row["name"]): HotGrade(
            name=str(row["name"]), least=float(str(row["least"])) * CST, most=float(str(row["most"])) * CST,
            high_shear=float(str(row["high_shear"])) * 1e-3, seen=str(row["seen"]),
        )
        for row in _tables()["grade"]
    }  # fmt: skip


_GRADE = re.compile(r"^\s*(?:sae\s*)?(?:(\d{1,2})\s*w\s*[-/ ]?\s*)?(\d{1,2})?\s*$", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Grade:
    """An oil by its grade: the hot grade's limits, and kinematic viscosities at 40 and 100 degrees taken as typical.

    `least_100` is the thinnest that the grade allows, `at_100` the middle of its range, `at_40` from a viscosity index
    that is usual for such an oil; all m2/s.
    """

    text: str
    winter: int | None
    hot: HotGrade
    at_40: float
    at_100: float

    @property
    def least_100(self) -> float:
        """The thinnest at 100 degrees, m2/s."""
        return self.hot.least

    def constants(self, thinnest: bool = False) -> Walther:
        """Walther's constants of the middle of the grade, or of the thinnest oil that is still of it."""
        share = self.hot.least / self.at_100 if thinnest else 1.0
        return walther((AT_40, self.at_40 * share), (AT_100, self.at_100 * share))


SLOPES = {None: 9.4, 0: 5.6, 5: 6.2, 10: 6.8, 15: 7.3, 20: 8.2, 25: 8.8}
"""Viscosity at 40 degrees over that at 100, by the winter grade: about what a viscosity index of 95 to 175 makes of an
oil of 14 mm2/s. Source: common practice, from memory."""


def grade_of(text: str) -> Grade:
    """An oil from its grade as typed: "10W-40", "SAE 30", "20w50".

    Args:
        text: as typed.

    Returns:
        The grade.

    Raises:
        InputError: no grade of the classification.

    Source:
        sae-j300 for the limits, common practice for what is typical within them.
    """
    match = _GRADE.match(text)
    grades = hot_grades()
    wanted = f"a grade such as 10W-40 or SAE 30; hot grades {', '.join(name for name in grades if name.isdigit())}"
    if match is None or match.group(2) not in grades:
        raise InputError(f'"{text.strip()}" is no oil grade that is known here', expected=wanted)
    winter = None if match.group(1) is None else int(match.group(1))
    if winter is not None and winter not in SLOPES:
        raise InputError(f"{winter}W is no winter grade", expected="0W, 5W, 10W, 15W, 20W or 25W")
    hot = grades[match.group(2)]
    if winter is not None and winter < 15 and hot.name == "40":
        hot = grades["40 light"]
    middle = (hot.least + hot.most) / 2
    return Grade(text=text.strip(), winter=winter, hot=hot, at_40=middle * SLOPES[winter], at_100=middle)


# Phosphorus


@dataclass(frozen=True, slots=True, kw_only=True)
class Category:
    """An oil category and its limits of phosphorus, share of mass, and of what stays in use; None where it has none."""

    names: tuple[str, ...]
    least: float | None
    most: float | None
    kept: float | None
    applies: str
    seen: str


@functools.cache
def categories() -> tuple[Category, ...]:
    """Oil categories with limits of phosphorus."""

    def share(value: object) -> float | None:
        return None if value is None else float(str(value)) / 100

    return tuple(
        Category(
            names=tuple(str(each) for each in list(row["names"])),  # type: ignore[call-overload]
            least=share(row.get("least")), most=share(row.get("most")), kept=share(row.get("kept")),
            applies=str(row["applies"]), seen=str(row["seen"]),
        )
        for row in _tables()["category"]
    )  # fmt: skip


def category_of(text: str) -> Category | None:
    """The category that a text names, such as "API SL" or "GF-5"; None where no limit is known for it."""
    plain = re.sub(r"[^A-Z0-9]", "", text.upper().replace("API", "").replace("ILSAC", ""))
    return next((each for each in categories() if plain in {re.sub(r"[^A-Z0-9]", "", n) for n in each.names}), None)
