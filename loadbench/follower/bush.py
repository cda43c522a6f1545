"""A bush as a sliding bearing: pressure, speed, their product, and what lists say a material bears.

Lists for boundary lubrication and lists for oil-fed bearings differ by up to twenty times in PV: they are never mixed.
"""

from __future__ import annotations

import functools
import re
import tomllib
from dataclasses import dataclass
from importlib import resources

import numpy as np

from loadbench.arrays import Floats, Real
from loadbench.spring.sizes import not_negative, positive


def bush_pressure(load: Real, length: Real, diameter: Real) -> Floats:
    """Load over the projected area.

    Args:
        load: N.
        length: of the bush, m, above zero.
        diameter: of the pin, m, above zero.

    Returns:
        Pa, of the broadcast shape.

    Raises:
        InputError: a size at zero or below.

    Source:
        mott: F/(L d).
    """
    L, d = positive("a size of a bush", length, diameter)
    return np.asarray(np.asarray(load) / (L * d))


def surface_speed(diameter: Real, spin: Real) -> Floats:
    """Speed of the pin's surface in a bush that turns one way.

    Args:
        diameter: m.
        spin: rad/s.

    Returns:
        m/s.

    Source:
        mott: pi d n.
    """
    return np.asarray(np.asarray(diameter) / 2 * np.abs(np.asarray(spin)))


def swinging_speed(diameter: Real, swing: Real, frequency: Real) -> tuple[Floats, Floats]:
    """Mean and greatest speed in a bush that swings, as a rocker's does.

    Args:
        diameter: m.
        swing: whole angle from end to end, rad.
        frequency: full swings a second, 1/s.

    Returns:
        Mean, and greatest if it swings as a sine, m/s.

    Source:
        own derivation: twice the swing's arc a cycle; pi f times half of it.
    """
    d, a, f = not_negative("a diameter, swing or frequency", diameter, swing, frequency)
    return np.asarray(2 * a * d / 2 * f), np.asarray(np.pi * f * a * d / 2)


@dataclass(frozen=True, slots=True, kw_only=True)
class BushLimits:
    """What one list says of a bush's material: Pa, m/s, W/m2; None where it says nothing. `fed` for oil-fed lists.

    A list that gives a range has its upper end in `pressure` and `speed`, its lower end in the two `..._from`.
    """

    id: str
    words: tuple[str, ...]
    label: str
    fed: bool
    pressure: float | None
    speed: float | None
    pv: float | None
    source: str
    seen: str
    pressure_from: float | None = None
    speed_from: float | None = None


@functools.cache
def bush_lists() -> tuple[BushLimits, ...]:
    """All rows of all lists."""
    text = resources.files("loadbench.follower").joinpath("bushes.toml").read_text(encoding="utf-8")

    def si(value: float | None) -> float | None:
        return None if value is None else value * 1e6

    return tuple(
        BushLimits(
            id=row["id"], words=tuple(row["words"]), label=row["label"], fed=row["fed"],
            pressure=si(row.get("pressure")), speed=row.get("speed"), pv=si(row.get("pv")),
            source=row["source"], seen=row["seen"], pressure_from=si(row.get("pressure_from")),
            speed_from=row.get("speed_from"),
        )
        for row in tomllib.loads(text)["bush"]
    )  # fmt: skip


def bush_limits(material: str | None, *, fed: bool) -> BushLimits | None:
    """The row for a material in the lists of one kind.

    Args:
        material: as typed, such as "tin bronze".
        fed: with pressure oil, from the oil-fed lists; else from those for boundary lubrication.

    Returns:
        The row; None where no list of that kind speaks of it. What the text names most closely decides which material
        is meant, over all lists, so that a list that lacks it never answers with another bronze.
    """
    words = re.findall(r"[a-z0-9]+", (material or "").lower().replace("aluminum", "aluminium"))
    plain = f" {' '.join(words)} "
    named = [word for row in bush_lists() for word in row.words if f" {word} " in plain]
    if not named:
        return None
    meant = max(named, key=len)
    return next((row for row in bush_lists() if row.fed == fed and meant in row.words), None)
