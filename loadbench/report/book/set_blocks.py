"""The numbered springs of a job, now and at earlier checks, as load lines of the workbook: a block for each strand."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np

from loadbench.analysis import Analysis, LineAnalysis
from loadbench.analysis.loose import BETWEEN, loose_member, pair_load_line
from loadbench.analysis.nest import MemberStated
from loadbench.analysis.springs import spring_load_line
from loadbench.readings.evidence import (
    WHOLE,
    Readings,
    SpringEvidence,
    accuracy_of,
    part_named,
    readings_at,
    readings_of_single,
)
from loadbench.readings.load_line import LoadLine
from loadbench.readings.strand import Evidence, Strand
from loadbench.readings.strand_fit import fitted_strand
from loadbench.report.book.blocks import Block, Plan, Term, offset_formula, rate_path
from loadbench.report.book.inputs import cell_name

Source = tuple[MemberStated | None, Readings]
"""The member of a nest (None: the set as a whole) and the readings its strand rests on."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Carried:
    """What a spring, or a pair, carries on one line: the terms of its load, and its load line at export."""

    terms: tuple[Term, ...] = ()
    load_line: LoadLine | None = None


NOTHING = Carried()


@dataclass(frozen=True, slots=True, kw_only=True)
class SetBlocks:
    """The blocks of the numbered springs.

    `carried` is by line and name, of a spring or of a pair such as "O3 + I7"; `direct` the block with a spring's
    measured loads of the whole, by its index; `earlier` by check and name, on the first line.
    """

    carried: dict[tuple[str, str], Carried] = field(default_factory=dict)
    direct: dict[int, Block] = field(default_factory=dict)
    earlier: dict[tuple[int, str], Carried] = field(default_factory=dict)

    def of(self, line: str, name: str | None) -> Carried:
        """What a spring or a pair carries on a line; nothing where it has no load line."""
        return self.carried.get((line, name or ""), NOTHING)


def with_set(plan: Plan, analysis: Analysis) -> tuple[Plan, SetBlocks]:
    """The plan of a workbook with the numbered springs of the job.

    Args:
        plan: of the lines.
        analysis: of the job.

    Returns:
        The plan with the springs' blocks after the lines', and what each spring and pair carries.
    """
    maker = _SetMaker(analysis, len(plan.blocks))
    carried: dict[tuple[str, str], Carried] = {}
    direct: dict[int, Block] = {}
    for index, spring in enumerate(analysis.job.springs):
        name = spring.id or f"#{index + 1}"
        for line in analysis.lines:
            carried.setdefault((line.name, name), maker.whole(f"springs.{index}", name, line))
        block = maker.direct(index, name)
        if block is not None:
            direct[index] = block
    for name in pairs_named(analysis):
        for line in analysis.lines:
            carried.setdefault((line.name, name), maker.pair(name, line))
    earlier = {}
    for check, entry in enumerate(analysis.job.history):
        for index, spring in enumerate(entry.springs):
            if spring.id:
                title = f"{spring.id}, check {check + 1}"
                path = f"history.{check}.springs.{index}"
                earlier[check, spring.id] = maker.whole(path, title, analysis.lines[0])
    blocks = (*plan.blocks, *maker.blocks.values())
    return replace(plan, blocks=blocks), SetBlocks(carried=carried, direct=direct, earlier=earlier)


def pairs_named(analysis: Analysis) -> tuple[str, ...]:
    """The pairs that valves or the plan name, such as "O3 + I7"."""
    named = [valve.spring for valve in analysis.job.valves] + [each.spring for each in analysis.job.plan.placed]
    return tuple(dict.fromkeys(name for name in named if name and BETWEEN.strip() in name))


class _SetMaker:
    """Makes the blocks of numbered springs; the same readings with the same rate once."""

    def __init__(self, analysis: Analysis, taken: int) -> None:
        self.stated = analysis.stated
        self.analysis = analysis
        self.taken = taken
        self.blocks: dict[tuple[tuple[str, ...], str], Block] = {}

    def whole(self, path: str, title: str, line: LineAnalysis) -> Carried:
        """A numbered spring as a whole on one line, by the readings that `spring_load_line` takes."""
        load_line, _ = spring_load_line(self.stated, path, line)
        if load_line is None:
            return NOTHING
        return self._carried(load_line, self._sources(path, line, load_line), (title,) * len(load_line.strands), line)

    def pair(self, name: str, line: LineAnalysis) -> Carried:
        """A pair of loose members on one line, by the readings that `pair_load_line` takes."""
        load_line = pair_load_line(self.stated, name, line)
        if load_line is None:
            return NOTHING
        places = {spring.id: f"springs.{index}" for index, spring in enumerate(self.stated.job.springs)}
        found: dict[int, tuple[Source, str]] = {}
        for each in (part.strip() for part in name.split(BETWEEN.strip())):
            member = loose_member(self.stated, places[each], line)
            if member is not None:
                own = line.nest.members[member]
                readings = self._at(places[each], line, (part_named(own.name),))
                found[member] = ((own, readings), each)
        ordered = [own for _, own in sorted(found.items())]
        return self._carried(load_line, [source for source, _ in ordered], tuple(title for _, title in ordered), line)

    def direct(self, index: int, title: str) -> Block | None:
        """The block with a spring's readings of the whole, without those on unloading; None where it has none."""
        line, path = self.analysis.lines[0], f"springs.{index}"
        values, single = self.stated.values, len(line.nest.members) == 1
        paths = []
        for place in range(values.get(f"{path}.readings#", 0)):
            own = f"{path}.readings.{place}"
            counts = f"{own}.height" in values and f"{own}.load" in values
            whole = single or part_named(values.get(f"{own}.part")) == ""
            if counts and whole and values.get(f"{own}.direction") != "unloading":
                paths.append(own)
        if not paths:
            return None
        heights, loads = (np.array([values[f"{own}.{name}"] for own in paths]) for name in ("height", "load"))
        several = Readings(heights=heights, loads=loads).several_heights
        measured = fitted_strand(heights, loads, accuracy_of(line.stated)) if several else None
        rate = cell_name(rate_path(line, line.nest.members[0] if single else None))
        return self._block(
            tuple(paths), rate, SpringEvidence(name=title, measured=measured, strand=measured, paths=tuple(paths))
        )

    def _sources(self, path: str, line: LineAnalysis, load_line: LoadLine) -> list[Source]:
        members = line.nest.members
        count = self.stated.values.get(f"{path}.readings#", 0)
        if len(members) == 1:
            return [(members[0], readings_of_single(line.stated, f"{path}.readings", count, members[0].name))]
        if len(load_line.strands) == 1:
            return [(None, self._at(path, line, WHOLE))]
        return [(member, self._at(path, line, (part_named(member.name),))) for member in members]

    def _at(self, path: str, line: LineAnalysis, parts: tuple[str, ...]) -> Readings:
        count = self.stated.values.get(f"{path}.readings#", 0)
        return readings_at(line.stated, f"{path}.readings", count, parts)

    def _carried(
        self, load_line: LoadLine, sources: list[Source], titles: tuple[str, ...], line: LineAnalysis
    ) -> Carried:
        rows = zip(load_line.strands, sources, titles, strict=True)
        terms = tuple(self._term(strand, source, title, line) for (_, strand), source, title in rows)
        return Carried(terms=terms, load_line=load_line)

    def _term(self, strand: Strand, source: Source, title: str, line: LineAnalysis) -> Term:
        member, readings = source
        named = title if member is None or line.nest.single else f"{title}, {member.name}"
        evidence = SpringEvidence(
            name=named,
            measured=strand if strand.evidence is Evidence.MEASURED else None,
            stated_rate=member.evidence.stated_rate if member is not None else None,
            strand=strand,
            paths=readings.paths,
        )
        block = self._block(readings.paths, cell_name(rate_path(line, member)), evidence)
        if member is None:
            return Term(block=block, offset="0", offset_value=0.0)
        return Term(block=block, offset=offset_formula(member), offset_value=member.offset or 0.0)

    def _block(self, paths: tuple[str, ...], rate: str, evidence: SpringEvidence) -> Block:
        key = (paths, rate)
        if key not in self.blocks:
            self.blocks[key] = Block(
                mark=f"fit{self.taken + len(self.blocks) + 1}",
                title=evidence.name,
                evidence=evidence,
                rate_name=rate,
                geometry="",
                free_name="",
                readings=True,
                spare=0,
            )
        return self.blocks[key]


def homes_of(analysis: Analysis) -> dict[str, int]:
    """The valve that each spring stands on, by the name that the valve gives; the last where two name one."""
    return {valve.spring: index for index, valve in enumerate(analysis.job.valves) if valve.spring}
