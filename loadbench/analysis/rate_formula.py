"""The formula of the rate with this job's numbers: two readings, a fit, members added, as stated, or geometry."""

from __future__ import annotations

import numpy as np

from loadbench.analysis.figure import Input
from loadbench.analysis.nest import MemberStated, Nest
from loadbench.analysis.wire_formula import rate_formula_of
from loadbench.job.stated import LineStated
from loadbench.readings.coil_geometry import coil_geometry
from loadbench.readings.evidence import SpringEvidence
from loadbench.readings.strand import Evidence
from loadbench.units import Kind

FORCE, LENGTH, RATE = Kind.FORCE, Kind.LENGTH, Kind.RATE
Formula = tuple[str, tuple[Input, ...]]


def rate_formula(line: LineStated, nest: Nest) -> Formula:
    """How the rate of the set was found.

    Args:
        line: the line's view of the job.
        nest: the set, with a rate.

    Returns:
        The formula's template and its inputs, readings and what the straight line leaves over included.
    """
    if not nest.single and (nest.whole.rate is None or all(each.evidence.measured for each in nest.members)):
        return _added(nest.members)
    single = nest.members[0] if nest.single else None
    return _of_one(line, nest.whole, single.path if single else "")


def _added(members: tuple[MemberStated, ...]) -> Formula:
    """The members' rates added."""
    rates = [(member, member.evidence.rate) for member in members]
    known = [(member, rate[0]) for member, rate in rates if rate is not None]
    inputs = [
        Input(symbol=f"k{place}", label=f"{member.name}: rate", value=rate, kind=RATE, field=f"{member.path}.rate")
        for place, (member, rate) in enumerate(known, start=1)
    ]
    formula = "k = " + " + ".join(f"{{{each.symbol}}}" for each in inputs)
    return formula, (*inputs, *(own for member, _ in known for own in _readings(member.evidence)))


def _of_one(line: LineStated, evidence: SpringEvidence, coil: str) -> Formula:
    rate = evidence.rate
    if rate is None or rate[1] is Evidence.STATED:
        value = 0.0 if rate is None else rate[0]
        return "k = {k}", (Input(symbol="k", label="stated rate", value=value, kind=RATE, field="spring.rate"),)
    if rate[1] is Evidence.GEOMETRIC:
        return rate_formula_of(coil_geometry(line, coil))
    readings = _readings(evidence)
    strand = evidence.measured
    if strand is None or len(strand.heights) == 2:
        return "k = ({F2} \u2212 {F1}) / ({h1} \u2212 {h2})", readings
    means = (
        Input(symbol="h_mean", label="mean height", value=float(np.mean(strand.heights)), kind=LENGTH),
        Input(symbol="F_mean", label="mean load", value=float(np.mean(strand.loads)), kind=FORCE),
    )
    formula = "k = \u2212 \u03a3 (h \u2212 {h_mean}) (F \u2212 {F_mean}) / \u03a3 (h \u2212 {h_mean})\u00b2"
    return formula, (*means, *readings)


def _readings(evidence: SpringEvidence) -> tuple[Input, ...]:
    """The readings that a measured rate rests on, each with what the straight line leaves over."""
    strand = evidence.measured
    if strand is None or strand.residuals is None:
        return ()
    inputs: list[Input] = []
    for place, path in enumerate(evidence.paths):
        number, name = place + 1, evidence.name
        height, load, over = (float(values[place]) for values in (strand.heights, strand.loads, strand.residuals))
        inputs += [
            Input(symbol=f"h{number}", label=f"{name}: height", value=height, kind=LENGTH, field=f"{path}.height"),
            Input(symbol=f"F{number}", label=f"{name}: load", value=load, kind=FORCE, field=f"{path}.load"),
            Input(symbol=f"r{number}", label=f"{name}: residual", value=over, kind=FORCE, field=f"{path}.load"),
        ]
    return tuple(inputs)
