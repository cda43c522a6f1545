"""The coils that the sheet Coils tells of: the names of their cells, and the entries that its formulas read."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from loadbench.analysis import Analysis, LineAnalysis
from loadbench.analysis.coils.result import CoilAnalysis
from loadbench.analysis.nest import MemberStated
from loadbench.readings.coil_geometry import CoilGeometry, coil_geometry
from loadbench.report.book.blocks import Block, Plan
from loadbench.report.book.inputs import cell_name
from loadbench.report.book.paper import Book
from loadbench.spring.section import Shape

ALWAYS = ("mean_diameter", "active_coils", "total_coils", "free_height", "retainer_step_diameter")
OF_TAPERS = ("small_mean_diameter", "tapered_coils")
OF_DUTY = ("duty.oil.temperature", "duty.speed_limit")


@dataclass(frozen=True, slots=True, kw_only=True)
class CoilCells:
    """One coil of a line with the names of its cells; `place` is its number among the line's coils, from 0."""

    book: Book
    line: LineAnalysis
    place: int
    coil: CoilAnalysis
    geometry: CoilGeometry
    member: MemberStated
    block: Block | None

    def own(self, name: str) -> str:
        """The name of a cell of this coil on the sheet."""
        return coil_cell(self.line, self.place, name)

    def entry(self, name: str) -> str:
        """The name of the cell of one of the coil's entries."""
        return cell_name(f"{self.geometry.path}.{name}")

    def stated(self, name: str) -> bool:
        """Whether one of the coil's entries has a cell with a value, or would have one but for a fault."""
        path = f"{self.geometry.path}.{name}"
        return path in self.line.stated.stated.values or path in self.geometry.faulty

    def faulty(self, name: str) -> bool:
        """Whether one of the coil's entries was made and cannot be used."""
        return f"{self.geometry.path}.{name}" in self.geometry.faulty

    @property
    def shape(self) -> Shape:
        """Of the wire; round where nothing is said."""
        return shape_of(self.line, self.geometry)

    @property
    def across(self) -> str:
        """The cell with the wire's size across the coil."""
        return self.entry("wire.diameter" if self.shape is Shape.ROUND else "wire.width")

    @property
    def along(self) -> str:
        """The cell with the wire's size along the axis."""
        return self.entry("wire.diameter" if self.shape is Shape.ROUND else "wire.thickness")

    @property
    def by_coil(self) -> bool:
        """Whether its stress and its surge are worked out coil by coil, which no formula of a sheet does."""
        return self.geometry.tapers

    @property
    def by_curve(self) -> bool:
        """Whether its loads follow the curve that its geometry gave at export."""
        return self.block is not None and self.block.curve is not None


def coil_cell(line: LineAnalysis, place: int, name: str) -> str:
    """The name of a coil's figure: the line, the coil's number from 1, the figure."""
    return f"{line.name}_coil_{place + 1}_{name}"


def shape_of(line: LineAnalysis, geometry: CoilGeometry) -> Shape:
    """The shape of a coil's wire; round where nothing is said."""
    if geometry.section is not None:
        return geometry.section.shape
    return Shape(line.stated.stated.values.get(f"{geometry.path}.wire.shape") or Shape.ROUND)


def coil_cells(book: Book, analysis: Analysis, plan: Plan) -> Iterator[CoilCells]:
    """Every coil of every line of whose wire or turns anything is stated.

    Args:
        book: the workbook.
        analysis: of the job.
        plan: the blocks that the loads rest on.

    Yields:
        The coils, in the order of the lines and their members.
    """
    for line in analysis.lines:
        blocks = plan.members[line.name]
        for place, (coil, member) in enumerate(zip(line.coils, line.nest.members, strict=True)):
            if coil.concerned and coil.geometry is not None:
                yield CoilCells(
                    book=book,
                    line=line,
                    place=place,
                    coil=coil,
                    geometry=coil.geometry,
                    member=member,
                    block=blocks[place],
                )


def coil_entries(analysis: Analysis) -> tuple[str, ...]:
    """The paths of the entries that the formulas of the sheet read.

    Args:
        analysis: of the job.

    Returns:
        Those of every concerned coil, and of the duty; none where no coil is concerned.
    """
    paths: list[str] = []
    for line in analysis.lines:
        own = [coil.path for coil in line.coils if coil.concerned]
        for path in own:
            paths += _entries_of(line, coil_geometry(line.stated, path))
        paths += [line.stated.path(each) for each in OF_DUTY if own]
    return tuple(dict.fromkeys(paths))


def _entries_of(line: LineAnalysis, geometry: CoilGeometry) -> list[str]:
    round_wire = shape_of(line, geometry) is Shape.ROUND
    names = ["wire.diameter"] if round_wire else ["wire.width", "wire.thickness"]
    names += ALWAYS
    values, stem = line.stated.stated.values, geometry.path
    tapers = [f"{stem}.{name}" for name in OF_TAPERS]
    if geometry.tapers or any(path in values or path in geometry.faulty for path in tapers):
        names += OF_TAPERS
    return [f"{stem}.{name}" for name in names]
