"""Spring wire by name: the shipped table of moduli, density, strength and temperature, each row with its sources."""

from __future__ import annotations

import functools
import itertools
import math
import tomllib
from dataclasses import MISSING, dataclass, fields
from importlib import resources
from typing import Any

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.errors import InputError, Place
from loadbench.sources import COMMON_PRACTICE, SOURCES
from loadbench.spring.strength import PowerLaw, Step, Steps, Strength

_SEEN = {"read", "memory", "bounded"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """One wire material, SI; each kind of figure with the id of its source.

    `static_share` is the largest torsional stress over tensile strength, not preset; `static_share_preset_*` after
    presetting. `other_*` are the moduli of the other published set. `upper_temperature_K` is None where none was read.
    """

    name: str
    label: str
    aliases: tuple[str, ...]
    shear_modulus_Pa: float
    elastic_modulus_Pa: float
    density_kg_per_m3: float
    source: str
    other_shear_modulus_Pa: float
    other_elastic_modulus_Pa: float
    other_source: str
    strength: Strength
    strength_source: str
    static_share: float
    static_share_preset_low: float
    static_share_preset_high: float
    static_source: str
    zimmerli: bool
    upper_temperature_K: float | None = None
    temperature_source: str | None = None

    @property
    def least_diameter_m(self) -> float:
        """The thinnest wire of which the strength is known."""
        return self.strength.least_diameter_m

    @property
    def most_diameter_m(self) -> float:
        """The thickest wire of which the strength is known."""
        return self.strength.most_diameter_m

    def tensile_strength(self, diameter: Real) -> Floats:
        """Tensile strength of a round wire; the lower end where the standard gives a band.

        Args:
            diameter: d, m, of any shape. For other sections take equal_area_diameter.

        Returns:
            Sut, Pa, of the same shape; NaN where the table does not reach.

        Source:
            shigley Table 10-4 or en-10270-2, as `strength_source` says.
        """
        return self.strength.band(diameter)[0]

    def tensile_band(self, diameter: Real) -> tuple[Floats, Floats]:
        """Lower and upper end of the tensile strength of a round wire.

        Args:
            diameter: d, m, of any shape.

        Returns:
            Both, Pa, of the same shape; the same twice where the source gives one line; NaN outside the table.

        Source:
            shigley Table 10-4 or en-10270-2, as `strength_source` says.
        """
        return self.strength.band(diameter)

    def holds_for(self, diameter: float) -> bool:
        """Whether the strength of a wire of this diameter, m, is known."""
        return bool(np.isfinite(self.tensile_strength(diameter)))

    def strength_seen(self, diameter: float) -> str:
        """How the strength at this diameter was consulted: "read", "memory", "bounded"; "" where it is unknown."""
        return self.strength.seen(diameter) if self.holds_for(diameter) else ""


def equal_area_diameter(area: Real) -> Floats:
    """Diameter of the round wire of the same area, at which a strength table is read for another section.

    Args:
        area: cross section, m2, of any shape.

    Returns:
        Diameter, m, of the same shape.

    Source:
        common practice: profiled wire is drawn or rolled from round wire of about its area.
    """
    return np.sqrt(4 / math.pi * np.asarray(area, dtype=np.float64))


def read_materials(text: str, file: str) -> dict[str, Material]:
    """Read a table of materials.

    Args:
        text: TOML, one table a material.
        file: its name, for messages.

    Returns:
        The materials by name.

    Raises:
        InputError: a row misses a key, has an unknown one, names an unknown source, or its strength does not fall.
    """
    return {name: _material(name, row, Place(file=file, field=name)) for name, row in tomllib.loads(text).items()}


def _material(name: str, row: dict[str, Any], place: Place) -> Material:
    wanted = {field.name for field in fields(Material)} - {"name"}
    optional = {field.name for field in fields(Material) if field.default is not MISSING}
    if odd := (wanted - optional - row.keys()) | (row.keys() - wanted):
        raise InputError(
            f"missing or unknown: {', '.join(sorted(odd))}", expected=", ".join(sorted(wanted)), place=place
        )
    for key in ("source", "other_source", "strength_source", "static_source", "temperature_source"):
        if key in row and row[key] not in {*SOURCES, COMMON_PRACTICE}:
            raise InputError(f"{key} {row[key]!r}", expected="an id in sources.py", place=place)
    if ("upper_temperature_K" in row) != ("temperature_source" in row):
        raise InputError("an upper temperature and its source", expected="both or neither", place=place)
    read = {"aliases": tuple(row["aliases"]), "strength": _strength(row["strength"], place)}
    return Material(name=name, **row | read)


def _strength(row: Any, place: Place) -> Strength:
    try:
        strength = Steps(steps=tuple(Step(**step) for step in row)) if isinstance(row, list) else PowerLaw(**row)
    except TypeError as error:
        raise InputError(f"strength: {error}", expected="a power law or a list of steps", place=place) from error
    if isinstance(strength, Steps):
        _refuse_odd_steps(strength.steps, place)
    return strength


def _refuse_odd_steps(steps: tuple[Step, ...], place: Place) -> None:
    if not steps or any(step.seen not in _SEEN for step in steps):
        raise InputError("strength", expected=f"steps, each seen as one of {', '.join(sorted(_SEEN))}", place=place)
    for step in steps:
        if not (step.over_m < step.to_m and step.low_Pa < step.high_Pa):
            raise InputError(f"the step over {step.over_m} m", expected="ends that rise", place=place)
    for thin, thick in itertools.pairwise(steps):
        if thin.to_m != thick.over_m or thick.low_Pa > thin.low_Pa or thick.high_Pa > thin.high_Pa:
            raise InputError(
                f"the step over {thick.over_m} m",
                expected="a step that joins the last and is no stronger",
                place=place,
            )


@functools.cache
def materials() -> dict[str, Material]:
    """The shipped materials by name."""
    file = resources.files("loadbench.spring") / "materials.toml"
    return read_materials(file.read_text(encoding="utf-8"), "materials.toml")


@functools.cache
def _by_word() -> dict[str, Material]:
    return {_plain(word): each for each in materials().values() for word in (each.name, each.label, *each.aliases)}


def _plain(text: str) -> str:
    return "-".join(text.lower().replace("-", " ").replace("_", " ").split())


def material(name: str | None) -> Material | None:
    """A material by the name a person typed, case and spacing aside; None where it is not in the table."""
    return None if name is None else _by_word().get(_plain(name))
