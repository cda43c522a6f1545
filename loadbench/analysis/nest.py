"""The members of the spring as the job states them, and the one load line of the whole set."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from loadbench.job.stated import LineStated
from loadbench.readings.accuracy import Accuracy
from loadbench.readings.evidence import (
    WHOLE,
    Readings,
    SpringEvidence,
    accuracy_of,
    part_named,
    readings_at,
    readings_of_single,
    weigh,
)
from loadbench.readings.load_line import LoadLine
from loadbench.readings.strand import Evidence, Strand


@dataclass(frozen=True, slots=True, kw_only=True)
class MemberStated:
    """One spring of the set: where it stands and what is known of it. `path` is "" for a spring without coil data."""

    name: str
    path: str
    offset: float | None
    bind: float | None
    bind_field: str
    evidence: SpringEvidence


@dataclass(frozen=True, slots=True, kw_only=True)
class Nest:
    """The set: its members, the evidence on it as a whole (a pair's readings), its load line or what is missing."""

    members: tuple[MemberStated, ...]
    whole: SpringEvidence
    line: LoadLine | None
    missing: tuple[str, ...]
    rate: tuple[float, Evidence] | None
    rate_expanded: float | None

    @property
    def single(self) -> bool:
        """Whether there is one spring only."""
        return len(self.members) == 1

    def rates(self) -> dict[Evidence, float]:
        """The rates of the whole set that stand side by side, N/m."""
        rates: dict[Evidence, float] = {}
        if self.whole.measured is not None and not self.whole.faulty:
            rates[Evidence.MEASURED] = self.whole.measured.rate
        if self.whole.stated_rate is not None:
            rates[Evidence.STATED] = self.whole.stated_rate
        for kind in Evidence:
            added = [member_rate(member.evidence, kind) for member in self.members]
            if all(rate is not None for rate in added) and (kind is Evidence.MEASURED or kind not in rates):
                rates[kind] = sum(rate for rate in added if rate is not None)
        return rates


def member_rate(evidence: SpringEvidence, kind: Evidence) -> float | None:
    """One spring's rate of one kind of evidence, N/m; None where there is none."""
    if kind is Evidence.MEASURED:
        return None if evidence.measured is None or evidence.faulty else evidence.measured.rate
    return evidence.stated_rate if kind is Evidence.STATED else evidence.geometric_rate


class _Kept(NamedTuple):
    """The set as it was read the last time, and all that it was read from."""

    parts: tuple[object, ...]
    entries: tuple[object, ...]
    nest: Nest


_KEPT: dict[str, _Kept] = {}
"""By the line that states a spring of its own, else "common": most edits leave the springs as they are."""


def nest_of(line: LineStated) -> Nest:
    """The set as one line of the job states it, as it was where nothing that it rests on has changed."""
    job, spring = line.stated.job, line.stated.job.spring
    own = getattr(getattr(job.lines, line.name, None), "spring", None)
    parts = (*spring.coils, None, *spring.readings, None, job.tester, own)  # an edit keeps the others' identity
    faults = tuple(path for path in line.stated.problems if path.startswith(("spring.", "lines.", "tester.")))
    entries = (spring.rate, spring.name, spring.bind_height, spring.readings_on, line.stated.style, faults)
    home = "common" if own is None else line.name
    kept = _KEPT.get(home)
    if kept is None or not _identical(kept.parts, parts) or kept.entries != entries:
        kept = _KEPT[home] = _Kept(parts, entries, _read_nest(line))
    return kept.nest


def _identical(one: tuple[object, ...], other: tuple[object, ...]) -> bool:
    return len(one) == len(other) and all(a is b for a, b in zip(one, other, strict=True))


def _read_nest(line: LineStated) -> Nest:
    path, count = line.rows("spring.coils")
    if count <= 1:
        return _single(line, f"{path}.0" if count else "")
    members = tuple(_member(line, f"{path}.{index}", index) for index in range(count))
    readings_path, readings_count = line.rows("spring.readings")
    pair = readings_at(line, readings_path, readings_count, WHOLE)
    whole = weigh(line, "pair", pair, "spring.rate", None)
    return _nest(line, members, whole)


def _single(line: LineStated, coil: str) -> Nest:
    values = line.stated.values
    readings = _coil_readings(line, coil) if coil else None
    if readings is None or not (readings.count or readings.faulty):
        path, count = line.rows("spring.readings")
        readings = readings_of_single(line, path, count, str(values.get(f"{coil}.name") or ""))
    rate_path = f"{coil}.rate" if coil and line.entered(f"{coil}.rate") else "spring.rate"
    name = str(values.get(f"{coil}.name") or line.value("spring.name") or "spring")
    evidence = weigh(line, name, readings, rate_path, coil or None)
    own_bind = f"{coil}.bind_height"
    bind_field = own_bind if coil and line.entered(own_bind) else "spring.bind_height"
    offset = _offset(line, coil)
    member = MemberStated(
        name=name,
        path=coil,
        offset=offset,
        bind=line.value(bind_field),
        bind_field=line.path(bind_field),
        evidence=evidence,
    )
    strand = evidence.strand
    load_line, missing = None, evidence.missing
    if offset is None:
        missing = _faulty_steps(line, coil)
    elif strand is not None:
        load_line = LoadLine(strands=((offset, strand),), accuracy=accuracy_of(line))
    rate = evidence.rate
    measured = rate is not None and rate[1] is Evidence.MEASURED and load_line is not None
    expanded = load_line.rate_uncertainty() if measured and load_line is not None else None
    return Nest(members=(member,), whole=evidence, line=load_line, missing=missing, rate=rate, rate_expanded=expanded)


def _member(line: LineStated, path: str, index: int) -> MemberStated:
    values = line.stated.values
    name = str(values.get(f"{path}.name") or f"coil {index + 1}")
    readings = _coil_readings(line, path)
    if not (readings.count or readings.faulty):
        list_path, count = line.rows("spring.readings")
        readings = readings_at(line, list_path, count, (part_named(name),))
    return MemberStated(
        name=name,
        path=path,
        offset=_offset(line, path),
        bind=values.get(f"{path}.bind_height"),
        bind_field=f"{path}.bind_height",
        evidence=weigh(line, name, readings, f"{path}.rate", path),
    )


def _coil_readings(line: LineStated, path: str) -> Readings:
    own = f"{path}.readings"
    return readings_at(line, own, line.stated.values.get(f"{own}#", 0))


def _faulty_steps(line: LineStated, path: str) -> tuple[str, ...]:
    steps = (f"{path}.seat_step", f"{path}.retainer_step")
    return tuple(step for step in steps if step in line.stated.problems)


def _offset(line: LineStated, path: str) -> float | None:
    """How far a member stands below the height H: its seat step and its retainer step; None where one is faulty."""
    if not path:
        return 0.0
    if _faulty_steps(line, path):
        return None
    values = line.stated.values
    return float(values.get(f"{path}.seat_step", 0.0) + values.get(f"{path}.retainer_step", 0.0))


def _nest(line: LineStated, members: tuple[MemberStated, ...], whole: SpringEvidence) -> Nest:
    """The load line of a nest: members' readings, a pair's, a stated rate with a reading, each member's best."""
    accuracy = accuracy_of(line)
    level = all(member.offset == 0 for member in members)
    as_in_head = level or line.value("spring.readings_on") == "retainer"
    faults = tuple(
        fault for member in members for fault in (*member.evidence.faulty, *_faulty_steps(line, member.path))
    )
    by_member = None if faults else _added(members)
    load_line: LoadLine | None = None
    if by_member and all(member.evidence.measured for member in members):
        load_line = LoadLine(strands=by_member, accuracy=accuracy)
    elif whole.strand is not None and as_in_head:
        load_line = LoadLine(strands=((0.0, whole.strand),), accuracy=accuracy)
    elif by_member and not whole.faulty:
        load_line = LoadLine(strands=by_member, accuracy=accuracy)
    missing = faults + whole.faulty
    if load_line is None and not missing:
        missing = tuple(field for member in members for field in member.evidence.missing)
        if whole.paths and not as_in_head:
            missing = ("spring.readings_on", *missing)
    rate, expanded = _rate(members, whole, accuracy)
    return Nest(
        members=members,
        whole=whole,
        line=load_line,
        missing=() if load_line else missing,
        rate=rate,
        rate_expanded=expanded,
    )


def _added(members: tuple[MemberStated, ...]) -> tuple[tuple[float, Strand], ...] | None:
    strands = [(member.offset, member.evidence.strand) for member in members]
    known = tuple((offset, strand) for offset, strand in strands if offset is not None and strand is not None)
    return known if len(known) == len(members) else None


def _rate(
    members: tuple[MemberStated, ...], whole: SpringEvidence, accuracy: Accuracy
) -> tuple[tuple[float, Evidence] | None, float | None]:
    """The rate of the nest from the best evidence, and its expanded uncertainty."""
    strands = tuple((0.0, member.evidence.measured) for member in members if member.evidence.measured is not None)
    if len(strands) == len(members) and not any(member.evidence.faulty for member in members):
        added = LoadLine(strands=strands, accuracy=accuracy)
        return (added.rate, Evidence.MEASURED), added.rate_uncertainty()
    if whole.rate is not None:
        alone = None if whole.measured is None else LoadLine(strands=((0.0, whole.measured),), accuracy=accuracy)
        return whole.rate, None if alone is None else alone.rate_uncertainty()
    if whole.faulty:
        return None, None
    rates = [member.evidence.rate for member in members]
    known = [rate for rate in rates if rate is not None]
    if len(known) < len(members):
        return None, None
    order = list(Evidence)
    weakest = max((evidence for _, evidence in known), key=order.index)
    return (sum(rate for rate, _ in known), weakest), None
