"""What the coil's picture draws, in metres: the coils of the nest as they stand free, closed, at full lift, bound."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from loadbench.errors import InputError
from loadbench.spring.section import Shape
from loadbench.spring.standing import standing_wire
from loadbench.spring.winding import Winding
from ui.labels import label_of
from ui.plots.section import bound_height

if TYPE_CHECKING:
    from loadbench.analysis import LineAnalysis
    from loadbench.analysis.coils.result import CoilAnalysis
    from loadbench.readings.coil_geometry import CoilGeometry

STATES = ("free", "closed", "open", "bind")
WITH_RETAINER = frozenset({"closed", "open", "bind"})
GROUND = frozenset({"plain and ground", "closed and ground"})

Cuts = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Profile:
    """What a coil is wound from: the wire's section across and along the axis, and its centre's radii, m."""

    name: str
    shape: str
    across: float
    along: float
    large: float
    small: float
    seat_step: float
    retainer_step: float

    @property
    def outer(self) -> float:
        """Outside radius at the seat, m."""
        return self.large + self.across / 2

    @property
    def inner(self) -> float:
        """Least inside radius, m."""
        return self.small - self.across / 2

    @property
    def top(self) -> float:
        """Outside radius at the retainer, m."""
        return self.small + self.across / 2


@dataclass(frozen=True, slots=True, kw_only=True)
class StandingCoil:
    """A coil as it stands: where the section plane cuts its wire, m from the machined seat, and its own height."""

    profile: Profile
    cuts: Cuts
    height: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """The flat damper: its section, m, where its turns are cut, and how far out."""

    width: float
    thickness: float
    radius: float
    levels: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand:
    """The coils at one height of the retainer, m above the machined seat; free coils carry no retainer."""

    state: str
    height: float
    coils: tuple[StandingCoil, ...]
    strip: Strip | None = None

    @property
    def capped(self) -> bool:
        """Whether a retainer stands on it."""
        return self.state in WITH_RETAINER


@dataclass(frozen=True, slots=True, kw_only=True)
class Stands:
    """All heights that are known, the tallest first; `lacking` names coils that cannot be drawn and their fields."""

    stands: tuple[Stand, ...]
    profiles: tuple[Profile, ...]
    lacking: tuple[tuple[str, str], ...]

    @property
    def radius(self) -> float:
        """Of the widest coil, m."""
        return max((each.outer for each in self.profiles), default=0.0)

    @property
    def tallest(self) -> float:
        """The greatest height, m."""
        return max((stand.height for stand in self.stands), default=0.0)

    def height(self, state: str) -> float | None:
        """The height of a state, m; None where it is not known."""
        return next((stand.height for stand in self.stands if stand.state == state), None)


def offset_of(line: LineAnalysis, name: str) -> float:
    """How far a coil's own height is below the installed height of the nest, m."""
    return next((each.offset or 0.0 for each in line.nest.members if each.name == name), 0.0)


def stands_of(line: LineAnalysis, member: str | None) -> Stands:
    """What stands there.

    Args:
        line: the line on show.
        member: a coil of the nest alone, on a seat of its own; None for all, one in the other.

    Returns:
        The coils at every height that is known.
    """
    shown = [coil for coil in line.coils if member in (None, coil.name)]
    windings = {coil.name: _winding(coil.geometry) for coil in shown}
    profiles = {
        coil.name: _profile(line, coil, coil.geometry, alone=member is not None)
        for coil in shown
        if windings[coil.name] is not None and coil.geometry is not None
    }
    drawn = [coil for coil in shown if coil.name in profiles]
    heights = _heights(line, shown, member)
    own = {coil.name: _own_heights(line, coil, heights, member) for coil in drawn}
    wires = {coil.name: _wires(windings[coil.name], own[coil.name]) for coil in drawn}
    stands = []
    for state, height in heights.items():
        coils = tuple(
            _standing(profiles[coil.name], wires[coil.name][state], own[coil.name][state])
            for coil in drawn
            if state in wires[coil.name]
        )
        stands.append(Stand(state=state, height=height, coils=coils, strip=_strip(line, profiles, height, member)))
    lacking = tuple((coil.name, _wanting(coil)) for coil in shown if coil.name not in profiles)
    return Stands(stands=tuple(stands), profiles=tuple(profiles.values()), lacking=lacking)


def _heights(line: LineAnalysis, shown: list[CoilAnalysis], member: str | None) -> dict[str, float]:
    """The height at which each state is drawn: a coil's own, or the retainer's over the nest."""
    if member is not None:
        own = shown[0].heights if shown else {}
        return {state: own[state] for state in STATES if state in own}
    found = {
        "free": max((coil.heights["free"] for coil in shown if "free" in coil.heights), default=None),
        "closed": line.value("installed_height"),
        "open": line.value("open_height"),
        "bind": bound_height(line) or _bound(line, shown),
    }
    return {state: height for state, height in found.items() if height is not None and height > 0}


def _bound(line: LineAnalysis, shown: list[CoilAnalysis]) -> float | None:
    known = [coil.heights["bind"] + offset_of(line, coil.name) for coil in shown if "bind" in coil.heights]
    return max(known, default=None)


def _own_heights(
    line: LineAnalysis, coil: CoilAnalysis, heights: dict[str, float], member: str | None
) -> dict[str, float]:
    """The coil's own height in each state that is drawn."""
    offset = 0.0 if member is not None else offset_of(line, coil.name)
    own = {state: height - offset for state, height in heights.items() if state != "free"}
    if "free" in coil.heights:
        own["free"] = coil.heights["free"]
    return own


def _winding(geometry: CoilGeometry | None) -> Winding | None:
    """The coil as wound; None where something is not known, or cannot be wound."""
    if geometry is None or geometry.section is None:
        return None
    large, small = geometry.mean_diameter, geometry.small_mean_diameter
    active, total, free = geometry.active_coils, geometry.total_coils, geometry.free_height
    if large is None or active is None or total is None or free is None:
        return None
    section = geometry.section
    sizes = (float(section.axial), float(section.radial), large, small or large)
    turns = (active, geometry.tapered_coils, max(total - active, 0.0))
    ground = geometry.ends is None or str(geometry.ends) in GROUND
    return _wound(sizes, turns, free, ground=ground, flat=section.shape is Shape.RECTANGULAR)


@lru_cache(maxsize=32)
def _wound(
    sizes: tuple[float, float, float, float],
    turns: tuple[float, float, float],
    free: float,
    *,
    ground: bool,
    flat: bool,
) -> Winding | None:
    axial, radial, large, small = sizes
    active, tapered, dead = turns
    try:
        return Winding(
            axial=axial, radial=radial, large=large, small=small, active=active, tapered=tapered, dead=dead,
            free_height=free, ground=ground, flat=flat,
        )  # fmt: skip
    except InputError:
        return None  # the field says what is wrong with it


def _profile(line: LineAnalysis, coil: CoilAnalysis, geometry: CoilGeometry, *, alone: bool) -> Profile:
    section, large = geometry.section, geometry.mean_diameter or 0.0
    values = {} if alone or not coil.path else line.stated.stated.values
    return Profile(
        name=coil.name,
        shape=str(section.shape) if section is not None else "round",
        across=float(section.radial) if section is not None else 0.0,
        along=float(section.axial) if section is not None else 0.0,
        large=large / 2,
        small=(geometry.small_mean_diameter or large) / 2,
        seat_step=float(values.get(f"{coil.path}.seat_step") or 0.0),
        retainer_step=float(values.get(f"{coil.path}.retainer_step") or 0.0),
    )


def _wires(winding: Winding | None, heights: dict[str, float]) -> dict[str, Cuts]:
    """Where one side of the section plane cuts the wire at each height."""
    if winding is None:
        return {}
    states = tuple(state for state, height in heights.items() if height > 0)
    if not states:
        return {}
    found = _stood(winding, tuple(heights[state] for state in states))
    return dict(zip(states, found, strict=True))


@lru_cache(maxsize=16)
def _stood(winding: Winding, heights: tuple[float, ...]) -> tuple[Cuts, ...]:
    # what is bound cannot be pressed further, and nothing stands taller than free
    possible = np.clip(np.array(heights), winding.bind_height, winding.free_height)
    radius, levels = standing_wire(possible, winding)
    sides = np.broadcast_to(radius, levels.shape)[:, ::2]
    return tuple(
        tuple(zip(map(float, out), map(float, up), strict=True)) for out, up in zip(sides, levels[:, ::2], strict=True)
    )


def _standing(profile: Profile, wire: Cuts, height: float) -> StandingCoil:
    cuts = tuple((radius, profile.seat_step + level) for radius, level in wire)
    return StandingCoil(profile=profile, cuts=cuts, height=height)


def _strip(line: LineAnalysis, profiles: dict[str, Profile], height: float, member: str | None) -> Strip | None:
    """The flat damper inside the outermost coil, where its strip is stated; a coil shown alone has none."""
    width, thick = (line.stated.value(f"spring.damper.{name}") for name in ("width", "thickness"))
    known = list(profiles.values())
    if not width or not thick or not known or (member is not None and len(line.coils) > 1):
        return None
    outer = known[0].inner
    inner = known[1].outer if len(known) > 1 else outer - 1.6 * thick
    bound = bound_height(line) or height
    count = max(2, int(min(bound, height) / width))
    levels = tuple(float(level) for level in np.linspace(width / 2, max(height - width / 2, width / 2), count))
    return Strip(width=width, thickness=thick, radius=(outer + inner) / 2, levels=levels)


def _wanting(coil: CoilAnalysis) -> str:
    """The fields that a coil waits for before it can be drawn, in words."""
    if coil.geometry is None:
        return label_of("spring.coils.0.wire.diameter").lower()
    fields = dict.fromkeys(coil.geometry.missing)
    return ", ".join(label_of(field).lower() for field in fields) or label_of("spring.coils.0.free_height").lower()
