"""What the half section shows, in metres: coils, seat, retainer, guide, seal; sizes that nobody stated are typical."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from loadbench.analysis import LineAnalysis
from loadbench.analysis.members import Member
from loadbench.job.checks import stated_shims

TYPICAL_DIAMETER = 0.65  # mean diameter of an outer spring in installed heights
TYPICAL_WIRE = 0.108  # its wire in installed heights
TYPICAL_TURNS = 5.2
CLOSED_TURNS = 2.0
GAP = 0.0005  # between the members of a nest, m


@dataclass(frozen=True, slots=True, kw_only=True)
class Wire:
    """The wire's section: its shape, and its size across the coil and along its axis, m."""

    shape: str
    across: float
    along: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Coil:
    """One member as drawn, m: its seat above the machined one, where its wire is cut, its bound stack."""

    name: str | None
    wire: Wire
    mean: float
    small: float
    seat: float
    closed: tuple[tuple[float, float], ...]
    opened: tuple[tuple[float, float], ...]
    bind: float | None
    height: float
    open_height: float | None
    retainer_step: float
    typical: bool

    @property
    def outer(self) -> float:
        """Outer radius at the seat."""
        return (self.mean + self.wire.across) / 2

    @property
    def inner(self) -> float:
        """Least inner radius."""
        return (self.small - self.wire.across) / 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """The whole half section, m above the spring's seat; `seal` is the top of the guide seal."""

    height: float
    open_height: float | None
    coils: tuple[Coil, ...]
    shims: float
    radius: float
    guide: float
    stem: float
    seal: float | None
    retainer_drop: float

    @property
    def typical(self) -> bool:
        """Whether a coil is drawn with sizes that nobody stated."""
        return any(coil.typical for coil in self.coils)


def section_of(line: LineAnalysis) -> Section | None:
    """The half section of one line; None where the installed height cannot be had."""
    height = line.value("installed_height")
    if height is None or height <= 0:
        return None
    coils: list[Coil] = []
    for member in _drawn(line):
        coils.append(_coil(line, member, height, coils[-1] if coils else None))
    drop = max((coil.retainer_step for coil in coils), default=0.0)
    inner = min((coil.inner for coil in coils), default=0.2 * height)
    guide = max(min(0.14 * height, 0.8 * inner), 0.02 * height)
    clearance = line.stated.value("valve_gear.retainer_to_seal")
    outer = max(coil.outer for coil in coils)
    return Section(
        height=height,
        open_height=line.value("open_height"),
        coils=tuple(coils),
        shims=stated_shims(line.stated) or 0.0,
        radius=outer,
        guide=guide,
        stem=0.55 * guide,
        seal=None if clearance is None else max(height - drop - clearance, 0.02 * height),
        retainer_drop=drop,
    )


def _drawn(line: LineAnalysis) -> tuple[Any, ...]:
    """The springs that stand there: a pair's common bind height is no spring of its own."""
    return line.nest.members


def _coil(line: LineAnalysis, stated: Any, height: float, around: Coil | None) -> Coil:
    values = line.stated.stated.values
    own: dict[str, Any] = {name: values.get(f"{stated.path}.{name}") for name in NAMES} if stated.path else {}
    seat, step = own.get("seat_step") or 0.0, own.get("retainer_step") or 0.0
    tall = max(height - seat - step, 0.05 * height)
    wire, wire_known = _wire(own, stated.bind, height, around)
    mean = own.get("mean_diameter")
    known = wire_known and mean is not None
    if mean is None:
        mean = TYPICAL_DIAMETER * height if around is None else 2 * (around.inner - GAP) - wire.across
    mean = max(mean, 1.5 * wire.across)
    small = min(own.get("small_mean_diameter") or mean, mean)
    lift = line.value("net_valve_lift")
    open_height = None if lift is None else tall - lift
    turns = own.get("total_coils") or (stated.bind / wire.along if stated.bind else TYPICAL_TURNS)
    turns = min(max(turns, 2.5), 30.0)
    active = min(max(own.get("active_coils") or turns - CLOSED_TURNS, 0.5), turns)
    along = min(wire.along, tall / turns, (stated.bind or tall) / turns)
    taper = (mean, small)
    return Coil(
        name=None if line.nest.single else stated.name,
        wire=Wire(shape=wire.shape, across=wire.across, along=wire.along),
        mean=mean,
        small=small,
        seat=seat,
        closed=cuts(tall, turns, active, along, wire.along, taper),
        opened=() if open_height is None else cuts(max(open_height, along), turns, active, along, wire.along, taper),
        bind=stated.bind,
        height=tall,
        open_height=open_height,
        retainer_step=step,
        typical=not known,
    )


NAMES = (
    "seat_step", "retainer_step", "wire.shape", "wire.diameter", "wire.width", "wire.thickness", "mean_diameter",
    "small_mean_diameter", "total_coils", "active_coils",
)  # fmt: skip


def _wire(own: dict[str, Any], bind: float | None, height: float, around: Coil | None) -> tuple[Wire, bool]:
    """The wire as stated, or a typical one, and whether it is stated."""
    shape = own.get("wire.shape") or "round"
    across = own.get("wire.width") if shape != "round" else own.get("wire.diameter")
    along = own.get("wire.thickness") if shape != "round" else own.get("wire.diameter")
    if across is not None and along is not None:
        return Wire(shape=shape, across=across, along=along), True
    turns = own.get("total_coils") or TYPICAL_TURNS
    size = bind / turns if bind else TYPICAL_WIRE * height
    if around is not None:
        size = min(size, 0.72 * around.wire.across)
    return Wire(shape="round", across=size, along=size), False


def cuts(
    height: float, turns: float, active: float, along: float, size: float, taper: tuple[float, float]
) -> tuple[tuple[float, float], ...]:
    """Where the section plane cuts the wire on one side.

    Args:
        height: of the coil, m.
        turns: total coils.
        active: active coils, at most as many.
        along: room that a close turn takes along the axis, m.
        size: of the wire along the axis, m.
        taper: mean diameter at the seat and at the retainer, m.

    Returns:
        (radius, height of the wire's centre), m, from seat to retainer; the end turns lie close.
    """
    count = max(2, round(turns))
    ends = (turns - active) / 2
    pitch = (height - 2 * ends * along) / active
    points = []
    for place in range(count):
        turn = 0.5 + place * (turns - 1) / (count - 1)
        if turn < ends:
            level = turn * along
        elif turn > turns - ends:
            level = height - (turns - turn) * along
        else:
            level = ends * along + (turn - ends) * pitch
        level = min(max(level, size / 2), height - size / 2)
        share = turn / turns
        points.append(((taper[0] + share * (taper[1] - taper[0])) / 2, level))
    return tuple(points)


def bound_height(line: LineAnalysis) -> float | None:
    """Height H at which the first member is bound, m; None where no bind height is stated."""
    known = [_bound(member) for member in line.members]
    return max((height for height in known if height is not None), default=None)


def _bound(member: Member) -> float | None:
    stated = member.stated
    return None if stated.bind is None or stated.offset is None else stated.bind + stated.offset
