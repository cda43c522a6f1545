"""The geometry of one coil as the job states it, read and completed: section, turns, ends, material."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any, NamedTuple

from loadbench.job.model import Job
from loadbench.job.stated import LineStated
from loadbench.spring.coil import rate as rate_of_round_wire
from loadbench.spring.coil import rate_of_section
from loadbench.spring.ends import Ends, dead_coils, ends_of
from loadbench.spring.materials import Material, material
from loadbench.spring.section import Section, Shape, ovate_section, rectangular_section, round_section
from loadbench.spring.taper import taper_rate

TURNS = ("active_coils", "total_coils", "tapered_coils")
CONCERNED = ("wire.diameter", "wire.width", "wire.thickness", "mean_diameter", "small_mean_diameter", *TURNS)
FOR_RATE = ("section", "material", "mean_diameter", "small_mean_diameter", "active_coils", "tapered_coils")
"""What a rate from the geometry rests on, as attributes of the geometry."""

SLACK = 1e-9
"""Two figures that differ by less than this share are the same figure, typed in other units."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class CoilGeometry:
    """One coil's geometry, SI; None for what is neither stated nor follows from what is stated.

    `missing` names the fields that are wanting, `lacking` the same for each attribute; `concerned` says whether
    anything of the wire or the turns is stated. A cylinder has `small_mean_diameter` equal to `mean_diameter` and
    `tapered_coils` zero. `all_taper`: no tapered coils are stated beside a small diameter, so all active ones are.
    `faulty` holds the fields that were entered and cannot be used. `active_by_ends`, `total_by_ends`: these coils
    are not stated, but the others less or plus what the ends take.
    """

    path: str
    concerned: bool
    section: Section | None = None
    mean_diameter: float | None = None
    small_mean_diameter: float | None = None
    tapered_coils: float = 0.0
    active_coils: float | None = None
    active_inferred: bool = False
    total_coils: float | None = None
    ends: Ends | None = None
    free_height: float | None = None
    material: Material | None = None
    peened: bool | None = None
    preset: bool | None = None
    retainer_step_diameter: float | None = None
    missing: tuple[str, ...] = ()
    lacking: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    all_taper: bool = False
    faulty: frozenset[str] = frozenset()
    active_by_ends: bool = False
    total_by_ends: bool = False

    @property
    def tapers(self) -> bool:
        """Whether the mean diameter is known to fall towards the retainer."""
        large, small = self.mean_diameter, self.small_mean_diameter
        return large is not None and small is not None and small < large

    @property
    def beehive(self) -> bool:
        """Whether some of its active coils are straight and the others taper."""
        return self.tapers and self.tapered_coils < (self.active_coils or 0.0)

    def wanting(self, *names: str) -> tuple[str, ...]:
        """The fields that the named attributes wait for, each once."""
        return tuple(dict.fromkeys(path for name in names for path in self.lacking.get(name, ())))

    @property
    def rate(self) -> float | None:
        """Rate from the geometry, N/m, every coil free; None where something is wanting."""
        if self.wanting(*FOR_RATE) or self.section is None or self.material is None:
            return None
        large, active, shear = self.mean_diameter or 0.0, self.active_coils or 0.0, self.material.shear_modulus_Pa
        if self.tapers:
            small, twist = self.small_mean_diameter or large, self.section.torsion_constant
            return float(taper_rate(shear, twist, large, small, active, self.tapered_coils))
        if self.section.shape is Shape.ROUND:
            return float(rate_of_round_wire(shear, self.section.radial, large, active))
        return float(rate_of_section(shear, self.section.torsion_constant, large, active))


READ = (
    "wire.shape", "wire.diameter", "wire.width", "wire.thickness", "mean_diameter", "small_mean_diameter", *TURNS,
    "free_height", "ends", "material", "shot_peened", "preset", "retainer_step_diameter",
)  # fmt: skip
"""The entries of a coil that are read here."""


class _Kept(NamedTuple):
    """A geometry as it was read the last time, and all that it was read from."""

    coil: object
    style: object
    faults: tuple[str, ...]
    values: tuple[object, ...]
    geometry: CoilGeometry


_KEPT: dict[str, _Kept] = {}
"""By the coil's path: most edits leave the coil as it is."""


def coil_geometry(line: LineStated, path: str) -> CoilGeometry:
    """The geometry of one coil, as it was where nothing that it rests on has changed.

    Args:
        line: the line's view of the job.
        path: of the coil, such as "spring.coils.0".

    Returns:
        What is stated, and the turns that follow from it by the ends. Nothing comes from a faulty entry, nor in its
        place from others.
    """
    coil = _coil_at(line.stated.job, path)
    stem = f"{path}."
    faults = tuple(each for each in line.stated.problems if each.startswith(stem) and each not in line.stated.values)
    kept = _KEPT.get(path)
    if kept is None or kept.coil is not coil or kept.style is not line.stated.style or kept.faults != faults:
        values = tuple(line.stated.values.get(stem + name) for name in READ)
        if kept is None or kept.values != values or kept.faults != faults:
            geometry = _Reading(line.stated.values, frozenset(faults), path).geometry()
        else:
            geometry = kept.geometry
        kept = _KEPT[path] = _Kept(coil, line.stated.style, faults, values, geometry)
    return kept.geometry


def _coil_at(job: Job, path: str) -> object:
    """The coil's own part of the job; None where the list is shorter."""
    part: Any = job
    for step in path.split("."):
        if not step.isdigit():
            part = getattr(part, step)
        elif int(step) < len(part):
            part = part[int(step)]
        else:
            return None
    return part


def with_coils_of_rate(geometry: CoilGeometry, rate: float) -> CoilGeometry | None:
    """The same coil with as many active coils as its rate asks for.

    Args:
        geometry: without active coils.
        rate: measured or stated, N/m.

    Returns:
        The coil with active and, by its ends, total coils; None where they cannot be had.
    """
    if geometry.wanting(*(name for name in FOR_RATE if name != "active_coils")) or not rate > 0:
        return None
    one = replace(geometry, active_coils=1.0, lacking={}, tapered_coils=1.0 if geometry.all_taper else 0.0)
    if geometry.tapered_coils > 0:
        # Compliances add up: the tapered coils take their share, the straight ones what is left.
        tapered = replace(one, active_coils=geometry.tapered_coils, tapered_coils=geometry.tapered_coils)
        straight = (tapered.rate or 0.0) / rate - 1
        active = geometry.tapered_coils + straight * (one.rate or 0.0) / (tapered.rate or 1.0)
        if straight < 0:
            return None
    else:
        active = (one.rate or 0.0) / rate
    ends, total = geometry.ends, geometry.total_coils
    if total is not None and active > total * (1 + SLACK):
        return None  # more active coils than coils: the rate is not this wire's
    lacking = {name: paths for name, paths in geometry.lacking.items() if name != "active_coils"}
    if total is None and f"{geometry.path}.total_coils" not in geometry.faulty:
        total = None if ends is None else active + dead_coils(ends)
        lacking["total_coils"] = () if ends is not None else (f"{geometry.path}.ends",)
    return replace(
        geometry,
        active_coils=active,
        active_inferred=True,
        total_coils=total,
        total_by_ends=geometry.total_coils is None and total is not None,
        tapered_coils=active if geometry.all_taper else geometry.tapered_coils,
        lacking=lacking,
        missing=_union(lacking),
    )


def _union(lacking: Mapping[str, tuple[str, ...]]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(path for paths in lacking.values() for path in paths))


class _Reading:
    """Reads one coil: the values, and what each attribute lacks."""

    def __init__(self, values: Mapping[str, Any], faults: frozenset[str], path: str) -> None:
        self.values, self.faults, self.path = values, faults, path
        self.lacking: dict[str, tuple[str, ...]] = {}

    def value(self, name: str) -> Any:
        return self.values.get(f"{self.path}.{name}")

    def at(self, name: str) -> str:
        return f"{self.path}.{name}"

    def faulty(self, name: str) -> bool:
        return self.at(name) in self.faults

    def lack(self, attribute: str, *names: str) -> None:
        self.lacking[attribute] = tuple(self.at(name) for name in names)

    def geometry(self) -> CoilGeometry:
        section, wire, ends = self._section(), material(self.value("material")), ends_of(self.value("ends"))
        large = self.value("mean_diameter")
        small, tapered, all_taper = self._taper(large)
        active, total = self._turns(ends)
        if all_taper:
            tapered = active or 0.0
        elif active is not None and tapered > active:
            if tapered > active * (1 + SLACK):
                self.lack("tapered_coils", "tapered_coils")
            tapered = active
        free = self.value("free_height")
        for name, found in (("mean_diameter", large), ("material", wire), ("ends", ends), ("free_height", free)):
            if found is None:
                self.lack(name, name)
        return CoilGeometry(
            path=self.path,
            concerned=any(self.value(name) is not None or self.faulty(name) for name in CONCERNED),
            section=section,
            mean_diameter=large,
            small_mean_diameter=small,
            tapered_coils=tapered,
            active_coils=active,
            total_coils=total,
            ends=ends,
            free_height=free,
            material=wire,
            peened=self.value("shot_peened"),
            preset=self.value("preset"),
            retainer_step_diameter=self.value("retainer_step_diameter"),
            missing=_union(self.lacking),
            lacking=self.lacking,
            all_taper=all_taper,
            faulty=self.faults,
            active_by_ends=active is not None and self.value("active_coils") is None,
            total_by_ends=total is not None and self.value("total_coils") is None,
        )

    def _section(self) -> Section | None:
        shape = self.value("wire.shape")
        d, across, along = (self.value(f"wire.{name}") for name in ("diameter", "width", "thickness"))
        if self.faulty("wire.shape") or (shape is None and d is None and None not in (across, along)):
            self.lack("section", "wire.shape")
        elif Shape(shape or "round") is Shape.ROUND:
            if d is not None:
                return round_section(d)
            self.lack("section", "wire.diameter")
        elif across is None or along is None:
            sizes = (("wire.width", across), ("wire.thickness", along))
            self.lack("section", *(name for name, size in sizes if size is None))
        else:
            return (ovate_section if shape == Shape.OVATE else rectangular_section)(across, along)
        return None

    def _taper(self, large: float | None) -> tuple[float | None, float, bool]:
        """The small mean diameter, the tapered coils, and whether all active coils are to taper."""
        small, tapered = self.value("small_mean_diameter"), self.value("tapered_coils")
        if self.faulty("tapered_coils"):
            self.lack("tapered_coils", "tapered_coils")
        if small is None:
            if self.faulty("small_mean_diameter") or tapered is not None:
                self.lack("small_mean_diameter", "small_mean_diameter")
                return None, 0.0, False
            return large, 0.0, False
        if large is not None and small > large * (1 + SLACK):
            self.lack("small_mean_diameter", "small_mean_diameter")
            return None, 0.0, False
        if large is not None and small >= large * (1 - SLACK):
            return large, 0.0, False
        return small, float(tapered or 0.0), tapered is None and not self.faulty("tapered_coils")

    def _turns(self, ends: Ends | None) -> tuple[float | None, float | None]:
        """Active and total coils: as stated, else the one from the other by the ends."""
        active, total = self.value("active_coils"), self.value("total_coils")
        by_ends = None if ends is None else dead_coils(ends)
        if active is not None and total is not None and active > total * (1 + SLACK):
            active = None
            self.lack("active_coils", "active_coils")
        elif active is None:
            active = self._other("active_coils", "total_coils", None if by_ends is None else -by_ends)
        if total is None:
            total = self._other("total_coils", "active_coils", by_ends)
        return active, total

    def _other(self, name: str, given: str, more: float | None) -> float | None:
        """Active coils from the total ones, or the other way round."""
        other = self.value(given)
        if self.faulty(name) or other is None:
            self.lack(name, given if self.faulty(given) and not self.faulty(name) else name)
        elif more is None:
            self.lack(name, "ends")
        elif other + more > 0:
            return float(other + more)
        else:
            self.lack(name, given)
        return None
