"""The oil as stated: its viscosity at its temperature, the thinnest that its grade allows where no more is said."""

from __future__ import annotations

from dataclasses import dataclass

from loadbench.analysis.builder import Bench
from loadbench.analysis.coils.kept import kept
from loadbench.analysis.figure import Figure
from loadbench.errors import InputError
from loadbench.follower import oil
from loadbench.units import Kind

FIELDS = ("duty.oil.grade", "duty.oil.temperature", "duty.oil.viscosity_40_cst", "duty.oil.viscosity_100_cst")
LABEL = "Oil's viscosity in the engine"


@dataclass(frozen=True, slots=True, kw_only=True)
class OilStated:
    """Viscosities at the oil's temperature, Pa s and m2/s; None where they cannot be had."""

    dynamic: float | None = None
    kinematic: float | None = None
    evidence: str = ""
    note: str = ""
    source: str = "astm-d341"
    missing: tuple[str, ...] = ()


def oil_of(bench: Bench) -> OilStated:
    """The oil of a job, and its figure.

    Args:
        bench: the line.

    Returns:
        What is known of its oil.
    """
    line = bench.line
    values = tuple(line.value(field) for field in FIELDS)
    found = kept("oil", line.name, values, lambda: _oil(*values))
    bench.add(
        Figure(
            name="oil_viscosity", label=LABEL, kind=Kind.VISCOSITY, value=found.dynamic, evidence=found.evidence,
            note=found.note, source=found.source, missing=found.missing,
            formula="log log (\u03bd + 0.7) = A \u2212 B log T",
        )
    )  # fmt: skip
    return found


def _oil(grade: str | None, temperature: float | None, at_40: float | None, at_100: float | None) -> OilStated:
    if temperature is None:
        wanting = (FIELDS[1],) if grade or (at_40 and at_100) else (FIELDS[0], FIELDS[1])
        return OilStated(missing=wanting)
    try:
        if at_40 and at_100:
            constants = oil.walther((oil.AT_40, at_40 * oil.CST), (oil.AT_100, at_100 * oil.CST))
            evidence, note, source = "stated viscosities", "", "astm-d341"
        elif grade:
            constants = oil.grade_of(grade).constants(thinnest=True)
            evidence, source = "thinnest of its grade", "sae-j300"
            note = "The thinnest oil that is still of this grade; its fall with temperature is typical."
        else:
            return OilStated(missing=(FIELDS[0],))
    except InputError as error:
        field = FIELDS[2] if at_40 and at_100 else FIELDS[0]
        return OilStated(missing=(field,), note=f"{error.what[:1].upper()}{error.what[1:]}; wanted: {error.expected}.")
    kinematic = float(oil.kinematic(constants, temperature))
    if kinematic < oil.LEAST_VISCOSITY * oil.CST:
        note = f"{note} So hot that the oil is thinner than the formula's range.".strip()
    return OilStated(
        dynamic=float(oil.dynamic(kinematic, oil.density(temperature))), kinematic=kinematic, evidence=evidence,
        note=note, source=source,
    )  # fmt: skip
