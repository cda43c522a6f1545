"""Faults of value within one coil: index, turns, diameters, heights; and a wire that its material's table lacks."""

from __future__ import annotations

import functools
import math
from collections.abc import Iterator
from typing import Any

from loadbench.job.stated import LineStated, Stated
from loadbench.spring.ends import Ends, bind_height, ends_of
from loadbench.spring.materials import Material, material

LEAST_INDEX, MOST_INDEX = 2.0, 30.0
"""Outside these no spring is wound: one of the diameters is mistyped (common practice)."""

SLACK = 1e-9
"""Two figures that differ by less than this share are the same figure, typed in other units."""

Fault = tuple[str, str, str]
"""Where it stands, what is wrong, what is wanted."""


def coil_faults(stated: Stated) -> Iterator[Fault]:
    """What within each coil contradicts itself.

    Args:
        stated: the entries, those already withdrawn left out.

    Yields:
        (path, what is wrong, what is wanted); the value there cannot be used.
    """
    for line, path in _coils(stated):
        yield from _indices(stated, path)
        yield from _turns(stated, path)
        yield from _small_end(stated, path)
        yield from _free_height(line, path)
        yield from _bound_at_rest(line, path)


def wires_beyond_their_table(stated: Stated) -> Iterator[Fault]:
    """Wires thinner or thicker than their material's strength is known for; the rate is still theirs.

    Args:
        stated: the entries, those already withdrawn left out.

    Yields:
        (path of the wire, what cannot be had, what is wanted); the value there is kept.
    """
    for _, path in _coils(stated):
        found = _wire(stated, path)
        wire = material(stated.values.get(f"{path}.material"))
        if found is None or wire is None or _known(wire.name, found[1]):
            continue
        what = f"The strength table of {_small(wire.label)} does not reach this size: its strength is unknown."
        yield f"{path}.wire.{found[0]}", what, _range(wire)


def _coils(stated: Stated) -> Iterator[tuple[LineStated, str]]:
    """Each coil that a line has, by its path; a coil that both lines share comes once for each."""
    for name in stated.lines:
        line = stated.line(name)
        path, count = line.rows("spring.coils")
        yield from ((line, f"{path}.{index}") for index in range(count))


def _indices(stated: Stated, path: str) -> Iterator[Fault]:
    wire = _across(stated, path)
    ends = (("mean_diameter", "The spring index"), ("small_mean_diameter", "The spring index of the small end"))
    for name, said in ends if wire else ():
        mean = stated.values.get(f"{path}.{name}")
        if mean is not None and not LEAST_INDEX * (1 - SLACK) <= mean / wire <= MOST_INDEX * (1 + SLACK):
            what = f"{said}, mean diameter over wire, would be {mean / wire:.4g}."
            yield f"{path}.{name}", what, f"an index of {LEAST_INDEX:g} to {MOST_INDEX:g}"


def _turns(stated: Stated, path: str) -> Iterator[Fault]:
    total, active, tapered = (stated.values.get(f"{path}.{name}_coils") for name in ("total", "active", "tapered"))
    if _over(active, total):
        yield f"{path}.active_coils", "There are more active coils than coils in all.", "no more than the total coils"
    elif _over(tapered, active):
        yield f"{path}.tapered_coils", "There are more tapered coils than active ones.", "no more than the active coils"


def _small_end(stated: Stated, path: str) -> Iterator[Fault]:
    small, mean = (stated.values.get(f"{path}.{name}") for name in ("small_mean_diameter", "mean_diameter"))
    if _over(small, mean):
        what = "The small mean diameter is larger than the mean diameter."
        yield f"{path}.small_mean_diameter", what, "the mean diameter at the small end"


def _free_height(line: LineStated, path: str) -> Iterator[Fault]:
    """A coil that would be bound as it lies on the bench; a spring alone may have its bind height beside its coil."""
    values, own = line.stated.values, f"{path}.bind_height"
    alone = line.rows("spring.coils")[1] == 1 and not line.entered(own)
    free, bind = values.get(f"{path}.free_height"), line.value("spring.bind_height") if alone else values.get(own)
    if free is not None and bind is not None and free <= bind * (1 + SLACK):
        yield f"{path}.free_height", "The free height is not above the bind height.", "a free height above it"
        return
    own_height = _own_height(line, path)
    if free is not None and own_height is not None and free <= own_height * (1 + SLACK):
        yield f"{path}.free_height", "The free height is not above the installed height.", "a spring that is pressed"


def _own_height(line: LineStated, path: str) -> float | None:
    """The height at which a coil stands closed, m; None where the line's is not stated or a step is faulty."""
    tall, values = line.value("spring.installed_height"), line.stated.values
    steps = [f"{path}.{name}" for name in ("seat_step", "retainer_step")]
    if tall is None or any(line.stated.faulty(each) for each in steps):
        return None
    return float(tall - sum(values.get(each, 0.0) for each in steps))


@functools.lru_cache(maxsize=64)
def _bind_height(ends: Ends, wire: float, total: float) -> float:
    """Of a cylinder, m: the same coils are asked for at every edit."""
    return float(bind_height(ends, wire, total))


def _bound_at_rest(line: LineStated, path: str) -> Iterator[Fault]:
    """A cylinder of round wire whose coils alone stand as high as the spring is installed."""
    values, own = line.stated.values, _own_height(line, path)
    wire, total = values.get(f"{path}.wire.diameter"), values.get(f"{path}.total_coils")
    tapers = values.get(f"{path}.small_mean_diameter") is not None
    ends = ends_of(values.get(f"{path}.ends"))
    if own is None or wire is None or total is None or tapers or ends is None or _shape(line.stated, path) != "round":
        return
    bind = _bind_height(ends, wire, total)
    if bind >= own:
        what = "So many coils of this wire are bound at the installed height."
        yield f"{path}.total_coils", what, f"fewer than {total * own / bind:.1f} coils"


def _over(one: float | None, other: float | None) -> bool:
    return one is not None and other is not None and one > other * (1 + SLACK)


def _shape(stated: Stated, path: str) -> Any:
    """The word for the wire's section, round where none is stated; None where it cannot be read."""
    field = f"{path}.wire.shape"
    return None if stated.faulty(field) else stated.values.get(field, "round")


def _across(stated: Stated, path: str) -> float | None:
    """The wire's size across the spring's axis, m."""
    shape = _shape(stated, path)
    name = "diameter" if shape == "round" else "width"
    return None if shape is None else stated.values.get(f"{path}.wire.{name}")


def _wire(stated: Stated, path: str) -> tuple[str, float] | None:
    """Which entry says how thick a wire is, and the diameter, m, of the round wire of its area."""
    shape, across = _shape(stated, path), _across(stated, path)
    if across is None or shape == "round":
        return None if across is None else ("diameter", across)
    along = stated.values.get(f"{path}.wire.thickness")
    # An ovate section fills the ellipse of its two sizes, a rectangular one all of them.
    return (
        None if along is None else ("thickness", math.sqrt(across * along * (1 if shape == "ovate" else 4 / math.pi)))
    )


@functools.lru_cache(maxsize=256)
def _known(name: str, diameter: float) -> bool:
    """Whether a material's strength is known at a diameter, m: the same wires are asked for at every edit."""
    wire = material(name)
    return wire is not None and wire.holds_for(diameter)


def _range(wire: Material) -> str:
    least, most = wire.least_diameter_m, wire.most_diameter_m
    return f"wire of {least / 0.0254:.3f} to {most / 0.0254:.3f} in ({least * 1e3:g} to {most * 1e3:g} mm)"


def _small(text: str) -> str:
    """A name within a sentence; a grade's short name keeps its letters."""
    return text[:1].lower() + text[1:] if text[1:2].islower() else text
