"""Stock sizes of round spring wire: the shipped lists, each with its source."""

from __future__ import annotations

import functools
import tomllib
from dataclasses import dataclass, fields
from importlib import resources

import numpy as np

from loadbench.arrays import Floats
from loadbench.errors import InputError, Place
from loadbench.sources import COMMON_PRACTICE, SOURCES

ALL = "all"


@dataclass(frozen=True, slots=True, kw_only=True)
class WireList:
    """One list of stock sizes, in units of `unit_m` metres, rising; `seen` says how its source was consulted."""

    label: str
    style: str
    unit_m: float
    sizes: tuple[float, ...]
    source: str
    seen: str

    @property
    def diameters(self) -> Floats:
        """The sizes, m."""
        return np.asarray(self.sizes) * self.unit_m


def _fault(row: WireList) -> tuple[str, str] | None:
    """What is wrong with a row and what was expected; None where nothing is."""
    if row.source not in {*SOURCES, COMMON_PRACTICE}:
        return f"source {row.source!r}", "an id in sources.py"
    if row.seen not in {"read", "memory"}:
        return f"seen {row.seen!r}", "read or memory"
    steps = np.diff([0.0, *row.sizes])
    if not row.sizes or not row.unit_m > 0 or not np.all(steps > 0):
        return "sizes that do not rise from zero", "sizes above zero, each larger than the one before"
    return None


def read_wires(text: str, file: str) -> dict[str, WireList]:
    """Read the lists of stock sizes.

    Args:
        text: TOML, one table a list.
        file: its name, for messages.

    Returns:
        The lists by name.

    Raises:
        InputError: a list misses a key, has an unknown one, names an unknown source, or its sizes do not rise.
    """
    wanted = {field.name for field in fields(WireList)}
    lists = {}
    for name, row in tomllib.loads(text).items():
        place = Place(file=file, field=name)
        if odd := wanted ^ row.keys():
            raise InputError(
                f"missing or unknown: {', '.join(sorted(odd))}", expected=", ".join(sorted(wanted)), place=place
            )
        lists[name] = WireList(**row | {"sizes": tuple(row["sizes"])})
        if fault := _fault(lists[name]):
            raise InputError(fault[0], expected=fault[1], place=place)
    return lists


@functools.cache
def wire_lists() -> dict[str, WireList]:
    """The shipped lists by name."""
    file = resources.files("loadbench.spring") / "wires.toml"
    return read_wires(file.read_text(encoding="utf-8"), "wires.toml")


def styles() -> tuple[str, ...]:
    """The words that `stock_wires` takes."""
    return (*dict.fromkeys(row.style for row in wire_lists().values()), ALL)


def stock_wires(style: str) -> Floats:
    """Stock diameters of a style.

    Args:
        style: one of `styles()`.

    Returns:
        Diameters, m, rising, each once.

    Raises:
        InputError: the style is unknown.
    """
    if style not in styles():
        raise InputError(f"no stock wire of style {style!r}", expected=", ".join(styles()))
    chosen = [row.diameters for row in wire_lists().values() if style in {row.style, ALL}]
    return np.unique(np.concatenate(chosen))
