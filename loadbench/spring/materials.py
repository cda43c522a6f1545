"""Spring wire by name: the shipped table of moduli, each row with its source."""

from __future__ import annotations

import functools
import tomllib
from dataclasses import dataclass, fields
from importlib import resources

from loadbench.errors import InputError, Place
from loadbench.sources import COMMON_PRACTICE, SOURCES


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """One wire material: G in Pa and the id of its source."""

    shear_modulus_Pa: float
    source: str


def read_materials(text: str, file: str) -> dict[str, Material]:
    """Read a table of materials.

    Args:
        text: TOML, one table a material.
        file: its name, for messages.

    Returns:
        The materials by name.

    Raises:
        InputError: a row misses a key, has an unknown one, or names an unknown source.
    """
    wanted = {field.name for field in fields(Material)}
    materials = {}
    for name, row in tomllib.loads(text).items():
        place = Place(file=file, field=name)
        if odd := wanted ^ row.keys():
            raise InputError(
                f"missing or unknown: {', '.join(sorted(odd))}", expected=", ".join(sorted(wanted)), place=place
            )
        if row["source"] not in {*SOURCES, COMMON_PRACTICE}:
            raise InputError(f"source {row['source']!r}", expected="an id in sources.py", place=place)
        materials[name] = Material(**row)
    return materials


@functools.cache
def materials() -> dict[str, Material]:
    """The shipped materials by name."""
    file = resources.files("loadbench.spring") / "materials.toml"
    return read_materials(file.read_text(encoding="utf-8"), "materials.toml")


def material(name: str | None) -> Material | None:
    """A material by the name a person typed; None where it is not in the table."""
    return None if name is None else materials().get("-".join(name.strip().lower().split()))
