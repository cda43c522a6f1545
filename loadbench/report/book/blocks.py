"""Which load lines the workbook fits by formulas: a block of readings for each, or a line from a rate and one point."""

from __future__ import annotations

from dataclasses import dataclass

from loadbench.analysis import Analysis, LineAnalysis
from loadbench.analysis.nest import MemberStated, Nest
from loadbench.readings.coil_geometry import coil_geometry
from loadbench.readings.evidence import SpringEvidence
from loadbench.readings.strand import Evidence, Knots
from loadbench.report.book.coil_rate import geometric_rate_formula
from loadbench.report.book.inputs import cell_name

SPARE_ROWS = 3
"""Rows to fill in with further readings of a line's spring."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """One load line. `mark` starts the names of its cells.

    `readings` says whether it rests on readings (cells to fill in later too) or on a rate and the free height; `spare`
    is how many rows its readings have to fill in. `total_name` is the cell with the coil's total coils, on which its
    curve rests beside the rate, and `total` what it held at export.
    """

    mark: str
    title: str
    evidence: SpringEvidence
    rate_name: str
    geometry: str
    free_name: str
    readings: bool
    spare: int = SPARE_ROWS
    total_name: str = ""
    total: float | None = None

    def name(self, of: str) -> str:
        """The name of one of its cells."""
        return f"{self.mark}_{of}"

    @property
    def straight(self) -> bool:
        """Whether it rests on so few readings that it cannot be progressive, and none can be added."""
        return self.readings and len(self.evidence.paths) + self.spare < 3

    @property
    def curve(self) -> Knots | None:
        """The curve of a coil from its wire alone, whose turns land one after another; None where it has none."""
        strand = self.evidence.strand
        return None if self.readings or strand is None else strand.knots

    @property
    def curved(self) -> bool:
        """Whether the load may follow knots, and so stands in a table of intervals."""
        return self.curve is not None or (self.readings and not self.straight)

    @property
    def rate_formula(self) -> str:
        """The rate of a line without readings."""
        stated = self.evidence.strand is not None and self.evidence.strand.evidence is Evidence.STATED
        return self.rate_name if stated else self.geometry


@dataclass(frozen=True, slots=True, kw_only=True)
class Term:
    """One strand of a line's load: the block and the formula of the steps by which it stands below H."""

    block: Block
    offset: str
    offset_value: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """The blocks of a workbook, and for each line the terms of its load and the blocks of its springs."""

    blocks: tuple[Block, ...]
    terms: dict[str, tuple[Term, ...]]
    members: dict[str, tuple[Block | None, ...]]
    wholes: dict[str, Block | None]


def geometry_formula(line: LineAnalysis, member: MemberStated) -> str:
    """The rate of a member from its wire and turns, whose rate is known, on the cells of its coil."""
    return geometric_rate_formula(coil_geometry(line.stated, member.path))


def offset_formula(member: MemberStated) -> str:
    """The steps of a member; an empty cell is none."""
    if not member.path:
        return "0"
    return f"({cell_name(member.path + '.seat_step')}+{cell_name(member.path + '.retainer_step')})"


def rate_path(line: LineAnalysis, member: MemberStated | None) -> str:
    """Where the stated rate of a member, or of the set as a whole, stands or would stand."""
    values, problems = line.stated.stated.values, line.stated.stated.problems
    if member is None or not member.path:
        return line.stated.path("spring.rate")
    own = f"{member.path}.rate"
    if line.nest.single and own not in values and own not in problems:
        return line.stated.path("spring.rate")
    return own


def plan_of(analysis: Analysis) -> Plan:
    """The blocks that a workbook needs.

    Args:
        analysis: of the job.

    Returns:
        Blocks shared by lines with the same readings and rate, and what each line's load is made of.
    """
    maker = _Maker()
    terms, members, wholes = {}, {}, {}
    for line in analysis.lines:
        nest = line.nest
        members[line.name] = tuple(maker.block(line, each.evidence, each) for each in nest.members)
        wholes[line.name] = members[line.name][0] if nest.single else maker.block(line, nest.whole, None)
        terms[line.name] = _terms(nest, members[line.name], wholes[line.name])
    return Plan(blocks=tuple(maker.blocks.values()), terms=terms, members=members, wholes=wholes)


def _terms(nest: Nest, members: tuple[Block | None, ...], whole: Block | None) -> tuple[Term, ...]:
    """The terms as the analysis chose them; a single spring has its term before its load is known."""
    if nest.single:
        member, block = nest.members[0], members[0]
        return () if block is None or member.offset is None else (_term(member, block),)
    if nest.line is None:
        return ()
    if whole is not None and len(nest.line.strands) == 1 and nest.line.strands[0][1] is nest.whole.strand:
        return (Term(block=whole, offset="0", offset_value=0.0),)
    return tuple(_term(member, block) for member, block in zip(nest.members, members, strict=True) if block is not None)


def _term(member: MemberStated, block: Block) -> Term:
    return Term(block=block, offset=offset_formula(member), offset_value=member.offset or 0.0)


class _Maker:
    """Numbers the blocks as they are asked for, the same evidence once."""

    def __init__(self) -> None:
        self.blocks: dict[tuple[object, ...], Block] = {}

    def block(self, line: LineAnalysis, evidence: SpringEvidence, member: MemberStated | None) -> Block | None:
        """The block of one spring; None where its readings are faulty, or a pair has none."""
        coil = member.path if member else ""
        if evidence.faulty or (not line.nest.single and evidence.strand is None and not evidence.paths):
            return None
        rate = cell_name(rate_path(line, member))
        strand = evidence.strand
        readings = strand is None or strand.evidence is Evidence.MEASURED
        readings = readings or (strand is not None and strand.evidence is Evidence.STATED and bool(evidence.paths))
        geometry = geometry_formula(line, member) if member and evidence.geometric_rate is not None else ""
        key = (evidence.paths, rate, readings, geometry)
        if key not in self.blocks:
            self.blocks[key] = Block(
                mark=f"fit{len(self.blocks) + 1}",
                title=evidence.name,
                evidence=evidence,
                rate_name=rate,
                geometry=geometry,
                free_name=cell_name(f"{coil}.free_height") if coil else "",
                readings=readings,
                total_name=cell_name(f"{coil}.total_coils") if coil else "",
                total=line.stated.stated.values.get(f"{coil}.total_coils"),
            )
        return self.blocks[key]
