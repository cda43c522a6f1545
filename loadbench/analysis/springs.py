"""The numbered springs and the valves of the job: each spring's loads at its own or the job's heights, the spread."""

from __future__ import annotations

from dataclasses import dataclass

from loadbench.analysis.line import LineAnalysis
from loadbench.analysis.loose import pair_load_line
from loadbench.job.checks import stated_shims
from loadbench.job.model import NumberedSpring
from loadbench.job.stated import Stated
from loadbench.readings.evidence import WHOLE, accuracy_of, part_named, readings_at, readings_of_single
from loadbench.readings.load_line import LoadLine
from loadbench.readings.strand_fit import fitted_strand, line_from_rate


@dataclass(frozen=True, slots=True, kw_only=True)
class NumberedSpringAnalysis:
    """One numbered spring, SI: its rate and loads where it stands, or what is missing."""

    index: int
    id: str
    load_line: LoadLine | None
    height: float | None
    open_height: float | None
    missing: tuple[str, ...] = ()
    faulty: tuple[str, ...] = ()

    @property
    def rate(self) -> float | None:
        """Measured rate, N/m."""
        return None if self.load_line is None or not self._several else self.load_line.rate

    @property
    def _several(self) -> bool:
        return self.load_line is not None and all(len(strand.heights) > 1 for _, strand in self.load_line.strands)

    @property
    def seat_load(self) -> float | None:
        """Load at the installed height, N."""
        return None if self.load_line is None or self.height is None else self.load_line.load_at(self.height)

    @property
    def open_load(self) -> float | None:
        """Load at full lift, N."""
        return None if self.load_line is None or self.open_height is None else self.load_line.load_at(self.open_height)


@dataclass(frozen=True, slots=True, kw_only=True)
class ValveAnalysis:
    """One valve, SI: its own height and clearances."""

    index: int
    id: str
    line: str
    height: float | None
    spring: str | None
    bind_margin: float | None
    retainer_margin: float | None
    seat_load: float | None
    open_load: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class SetAnalysis:
    """The numbered springs together."""

    springs: tuple[NumberedSpringAnalysis, ...]
    valves: tuple[ValveAnalysis, ...]

    @property
    def spread(self) -> float | None:
        """Highest less lowest seat load as a share of their mean; None with fewer than two."""
        loads = [spring.seat_load for spring in self.springs if spring.seat_load is not None]
        mean = sum(loads) / len(loads) if len(loads) > 1 else 0.0
        return (max(loads) - min(loads)) / mean if mean > 0 else None


def spring_load_line(stated: Stated, path: str, line: LineAnalysis) -> tuple[LoadLine | None, tuple[str, ...]]:
    """The load line of a numbered spring from its readings by part, and what is faulty among them.

    Args:
        stated: the job's values.
        path: of the spring, such as "springs.3".
        line: the line whose members it is made of.

    Returns:
        The line, None where the readings do not give one, and the faulty fields.
    """
    own = f"{path}.readings"
    count = stated.values.get(f"{own}#", 0)
    view = line.stated
    accuracy = accuracy_of(view)
    members = line.nest.members
    if len(members) == 1:
        readings = readings_of_single(view, own, count, members[0].name)
        rate = members[0].evidence.stated_rate
        if readings.faulty or not readings.count or (not readings.several_heights and rate is None):
            return None, readings.faulty
        strand = (
            fitted_strand(readings.heights, readings.loads, accuracy)
            if readings.several_heights
            else line_from_rate(rate or 0.0, readings.heights, readings.loads)
        )
        return LoadLine(strands=((members[0].offset or 0.0, strand),), accuracy=accuracy), ()
    by_member = [readings_at(view, own, count, (part_named(member.name),)) for member in members]
    faulty = tuple(fault for readings in by_member for fault in readings.faulty)
    if all(readings.several_heights for readings in by_member) and not faulty:
        strands = tuple(
            (member.offset or 0.0, fitted_strand(readings.heights, readings.loads, accuracy))
            for member, readings in zip(members, by_member, strict=True)
        )
        return LoadLine(strands=strands, accuracy=accuracy), ()
    pair = readings_at(view, own, count, WHOLE)
    level = all(member.offset == 0 for member in members) or view.value("spring.readings_on") == "retainer"
    if pair.several_heights and level and not pair.faulty:
        return LoadLine(strands=((0.0, fitted_strand(pair.heights, pair.loads, accuracy)),), accuracy=accuracy), ()
    return None, (*faulty, *pair.faulty)


_KEPT: dict[int, tuple[NumberedSpring, object, tuple[LoadLine | None, tuple[str, ...]]]] = {}
"""The last load line of each numbered spring: an edit elsewhere leaves the spring the same object."""


def _kept_line(stated: Stated, index: int, line: LineAnalysis) -> tuple[LoadLine | None, tuple[str, ...]]:
    """A numbered spring's load line, as it was where neither the spring nor what it rests on has changed."""
    spring, view = stated.job.springs[index], line.stated
    members = tuple((member.name, member.offset, member.evidence.stated_rate) for member in line.nest.members)
    token = (stated.style, accuracy_of(view), members, view.value("spring.readings_on"))
    kept = _KEPT.get(index)
    if kept is None or kept[0] is not spring or kept[1] != token:
        kept = _KEPT[index] = (spring, token, spring_load_line(stated, f"springs.{index}", line))
    return kept[2]


def analyse_set(stated: Stated, lines: dict[str, LineAnalysis]) -> SetAnalysis:
    """Analyse the numbered springs and the valves.

    Args:
        stated: the job's values.
        lines: the analysed lines by name.

    Returns:
        Each spring at its valve's height where a valve names it, else at its line's; each valve with its clearances.
    """
    first = next(iter(lines.values()))
    homes = _homes(stated, lines)
    springs = []
    for index, spring in enumerate(stated.job.springs):
        name = spring.id or f"#{index + 1}"
        usual = (first, first.value("installed_height"), first.value("net_valve_lift"))
        line, height, lift = homes.get(name, usual)
        load_line, faulty = _kept_line(stated, index, line)
        open_height = None if height is None or lift is None else height - lift
        missing = () if load_line else (f"springs.{index}.readings",)
        springs.append(
            NumberedSpringAnalysis(
                index=index,
                id=name,
                load_line=load_line,
                height=height,
                open_height=open_height,
                missing=missing,
                faulty=faulty,
            )
        )
    return SetAnalysis(springs=tuple(springs), valves=_valves(stated, lines, tuple(springs)))


def valve_line(stated: Stated, index: int, lines: dict[str, LineAnalysis]) -> LineAnalysis:
    """The line that a valve belongs to: the one it names, else the first."""
    named = stated.values.get(f"valves.{index}.line")
    return lines.get(str(named)) or next(iter(lines.values()))


def _valve_height(stated: Stated, index: int, line: LineAnalysis) -> float | None:
    """A valve's own bare height less its own shims (the line's where it names none); None where it has no height."""
    own = f"valves.{index}."
    bare, count = stated.values.get(f"{own}bare_height"), stated.values.get(f"{own}shims#", 0)
    if bare is None or _faulty_height(stated, index):
        return None
    own_shims = sum(stated.values.get(f"{own}shims.{place}", 0.0) for place in range(count))
    shims = own_shims if count else stated_shims(line.stated)
    return None if shims is None else float(bare - shims)


def _faulty_height(stated: Stated, index: int) -> bool:
    """Whether something was entered for a valve's height that cannot be used."""
    own = f"valves.{index}."
    return any(path == f"{own}bare_height" or path.startswith(f"{own}shims.") for path in stated.problems)


def _homes(
    stated: Stated, lines: dict[str, LineAnalysis]
) -> dict[str, tuple[LineAnalysis, float | None, float | None]]:
    """The line, the height and the net lift of the valve that each spring stands on."""
    homes = {}
    for index, valve in enumerate(stated.job.valves):
        if valve.spring:
            line = valve_line(stated, index, lines)
            height = _valve_height(stated, index, line)
            if height is None and not _faulty_height(stated, index):
                height = line.value("installed_height")
            homes[valve.spring] = (line, height, valve_lift(stated, index, line))
    return homes


def _valves(
    stated: Stated, lines: dict[str, LineAnalysis], springs: tuple[NumberedSpringAnalysis, ...]
) -> tuple[ValveAnalysis, ...]:
    by_id = {spring.id: spring for spring in springs}
    return tuple(_valve(stated, lines, index, by_id) for index in range(len(stated.job.valves)))


def _less(one: float | None, other: float | None) -> float | None:
    return None if one is None or other is None else one - other


def valve_lift(stated: Stated, index: int, line: LineAnalysis) -> float | None:
    """A valve's own net lift: the line's, less its own lash in place of the line's where lash is what is lost."""
    lash, gross = stated.values.get(f"valves.{index}.lash"), line.value("gross_valve_lift")
    solid = "lift_at_zero_lash" in line.figures and line.stated.value("valve_gear.measured_net_lift") is None
    if lash is None or gross is None or not solid:
        return line.value("net_valve_lift")
    return gross - float(lash)


def _valve(
    stated: Stated, lines: dict[str, LineAnalysis], index: int, by_id: dict[str, NumberedSpringAnalysis]
) -> ValveAnalysis:
    valve, line = stated.job.valves[index], valve_line(stated, index, lines)
    height = _valve_height(stated, index, line)
    usual = line.value("installed_height")
    margin, usual_lift = line.value("bind_margin"), line.value("net_valve_lift")
    lift = valve_lift(stated, index, line)
    own_margin = None
    if (height is not None or lift != usual_lift) and not _faulty_height(stated, index):
        taller = _less(usual if height is None else height, usual)
        higher = _less(lift, usual_lift)
        own_margin = None if None in (margin, taller, higher) else (margin or 0.0) + (taller or 0.0) - (higher or 0.0)
    seal = stated.values.get(f"valves.{index}.retainer_to_seal")
    spring = by_id.get(valve.spring or "")
    seat, at_lift = (None, None) if spring is None else (spring.seat_load, spring.open_load)
    if spring is None and valve.spring and (pair := pair_load_line(stated, valve.spring, line)) is not None:
        closed = usual if height is None else height
        opened = _less(closed, lift)
        seat = None if closed is None else pair.load_at(closed)
        at_lift = None if opened is None else pair.load_at(opened)
    return ValveAnalysis(
        index=index,
        id=valve.id or f"#{index + 1}",
        line=line.name,
        height=height,
        spring=valve.spring,
        bind_margin=own_margin,
        retainer_margin=None if seal is None or lift is None else seal - lift,
        seat_load=seat,
        open_load=at_lift,
    )
