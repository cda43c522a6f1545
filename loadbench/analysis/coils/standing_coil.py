"""A coil where it stands in the head: its heights, its loads, and what they wait for."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from loadbench.analysis.builder import Bench
from loadbench.analysis.coils.basis import CoilBasis
from loadbench.analysis.nest import MemberStated
from loadbench.readings.strand import Strand

STEPS = ("seat_step", "retainer_step")


@dataclass(frozen=True, slots=True, kw_only=True)
class StandingCoil:
    """One coil of a line. Heights are the coil's own, m; each `missing` names what its value waits for."""

    name: str
    path: str
    basis: CoilBasis
    strand: Strand | None
    strand_missing: tuple[str, ...]
    height: float | None
    height_missing: tuple[str, ...]
    open_height: float | None
    open_missing: tuple[str, ...]
    bind: float | None
    bind_field: str
    bind_measured: bool

    def loads(self) -> tuple[float | None, float | None]:
        """Its load closed and at full lift, N."""
        strand, low, high = self.strand, self.height, self.open_height
        if strand is None or strand.knots is None or low is None or high is None:
            return self.load(low), self.load(high)
        closed, full = strand.load(np.array([low, high])).tolist()
        return closed, full

    def load(self, height: float | None) -> float | None:
        """Its load at a height of its own, N: quick for a straight line."""
        strand = self.strand
        if strand is None or height is None:
            return None
        if strand.knots is None:
            return max(strand.anchor_load + strand.rate * (strand.anchor_height - height), 0.0)
        return float(strand.load(height))


def standing_coil(bench: Bench, member: MemberStated, basis: CoilBasis) -> StandingCoil:
    """A member of the nest where it stands.

    Args:
        bench: the line, with its heights and lifts found.
        member: of the nest.
        basis: its coil.

    Returns:
        The coil; its bind height as stated, else from the wire, never in the place of a faulty one.
    """
    line = bench.line
    tall, lift = bench.value("installed_height"), bench.value("net_valve_lift")
    height = None if tall is None or member.offset is None else tall - member.offset
    steps: tuple[str, ...] = ()
    if member.offset is None:
        steps = tuple(f"{member.path}.{each}" for each in STEPS if line.stated.faulty(f"{member.path}.{each}"))
    height_missing = (*bench.lacking("installed_height"), *steps) if height is None else ()
    open_height = None if height is None or lift is None else height - lift
    open_missing = (*height_missing, *bench.lacking("net_valve_lift")) if open_height is None else ()
    measured = member.bind is not None
    bind = member.bind if measured or line.stated.faulty(member.bind_field) else basis.bind
    return StandingCoil(
        name=member.name,
        path=member.path,
        basis=basis,
        strand=member.evidence.strand,
        strand_missing=member.evidence.missing,
        height=height,
        height_missing=height_missing,
        open_height=open_height,
        open_missing=open_missing,
        bind=bind,
        bind_field=member.bind_field,
        bind_measured=measured,
    )
