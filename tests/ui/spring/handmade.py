"""Springs computed by hand for the pictures: their figures from the physics alone, without a job."""

from __future__ import annotations

import numpy as np

from loadbench.analysis.coils.result import FIGURES, CoilAnalysis, FatigueLines, SurgeRange
from loadbench.analysis.figure import Figure
from loadbench.readings.coil_geometry import CoilGeometry
from loadbench.spring import fatigue, surge

KPSI = 6.894757293168361e6
RPM = 2 * np.pi / 60

OUTER = (46.0, 108.0, 131.0)
INNER = (38.0, 96.0, None)
"""Stresses closed, at full lift and at bind, kpsi."""


def lines_of(
    closed: float, full_lift: float, bind: float | None, *, tensile: float = 247.0, peened: bool = True
) -> FatigueLines:
    """Fatigue lines from stresses in kpsi."""
    alternating, mean = (float(each) for each in fatigue.alternating_and_mean(closed * KPSI, full_lift * KPSI))
    amplitude, amplitude_mean = fatigue.zimmerli(peened)
    shear = float(fatigue.ultimate_shear(tensile * KPSI))
    return FatigueLines(
        closed=closed * KPSI,
        full_lift=full_lift * KPSI,
        bind=None if bind is None else bind * KPSI,
        alternating=alternating,
        mean=mean,
        ultimate_shear=shear,
        amplitude=amplitude,
        amplitude_mean=amplitude_mean,
        endurance_goodman=float(fatigue.goodman_endurance(amplitude, amplitude_mean, shear)),
        endurance_gerber=float(fatigue.gerber_endurance(amplitude, amplitude_mean, shear)),
        peened=peened,
        tensile=tensile * KPSI,
        static_limit=0.5 * tensile * KPSI,
    )


def a_coil(
    name: str,
    lines: FatigueLines | None = None,
    first: float | None = None,
    *,
    peened: bool | None = True,
    missing: dict[str, tuple[str, ...]] | None = None,
) -> CoilAnalysis:
    """A coil with these lines and this first mode, Hz."""
    values: dict[str, float] = {}
    if lines is not None:
        a, m = lines.alternating, lines.mean
        values["fatigue_factor_goodman"] = float(
            fatigue.factor_goodman(a, m, lines.endurance_goodman, lines.ultimate_shear)
        )
        values["fatigue_factor_gerber"] = float(
            fatigue.factor_gerber(a, m, lines.endurance_gerber, lines.ultimate_shear)
        )
        values["fatigue_factor_sines"] = float(fatigue.factor_sines(a, lines.amplitude))
        values["tensile_strength"] = lines.tensile
    if first is not None:
        values["surge_frequency"] = first
    sources = {"tensile_strength": "vdsicr-sheet"}
    figures = {
        key: Figure(
            name=key,
            label=label,
            kind=kind,
            value=values.get(key),
            source=sources.get(key, "own derivation"),
            missing=(missing or {}).get(key, ()),
        )
        for key, (label, kind) in FIGURES.items()
    }
    return CoilAnalysis(
        name=name,
        path="spring.coils.0",
        geometry=CoilGeometry(path="spring.coils.0", concerned=True, peened=peened),
        figures=figures,
        fatigue=lines,
        modes=None if first is None else surge.modes(first, 5),
    )


def a_nest() -> tuple[CoilAnalysis, ...]:
    """Outer and inner, both known."""
    return (a_coil("outer", lines_of(*OUTER), 423.0), a_coil("inner", lines_of(*INNER), 561.0))


def a_range(*, curve: bool = False, idle: float | None = 800.0, limit: float | None = 7200.0) -> SurgeRange:
    """Idle and limit in rpm; a lift curve's harmonics that fall with the order where one is wanted."""
    orders = np.arange(1, 31)
    return SurgeRange(
        idle_speed=None if idle is None else idle * RPM,
        speed_limit=None if limit is None else limit * RPM,
        harmonics=4e-3 / orders**2.2 if curve else None,
    )
