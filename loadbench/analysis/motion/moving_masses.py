"""The moving masses of one line: as stated, or as is typical with a mark, referred to the valve."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from loadbench.analysis.builder import Bench
from loadbench.analysis.coils.kept import kept
from loadbench.analysis.coils.result import CoilAnalysis
from loadbench.analysis.figure import Figure, Input, Plain
from loadbench.motion.masses import TYPICAL, TYPICAL_BUCKET, ReferredMass, referred_mass, with_typical
from loadbench.motion.waves import SpringWaves
from loadbench.units import Kind

FIELDS = {
    "valve": "valve_gear.masses.valve",
    "retainer": "valve_gear.masses.retainer",
    "locks": "valve_gear.masses.locks",
    "spring": "spring.mass",
    "pushrod": "valve_gear.masses.pushrod",
    "follower": "valve_gear.masses.follower",
    "rocker_inertia": "valve_gear.masses.rocker_inertia",
    "valve_arm": "valve_gear.masses.rocker_valve_arm",
}
"""Where each part's mass stands."""

WORDS = {
    "valve": "the valve",
    "retainer": "the retainer",
    "locks": "the locks",
    "spring": "the spring",
    "pushrod": "the pushrod",
    "follower": "the follower",
    "rocker_inertia": "the rocker's inertia",
    "valve_arm": "the rocker's arm",
}

SYMBOLS = {
    "valve": "m_v",
    "retainer": "m_r",
    "locks": "m_l",
    "spring": "m_s",
    "pushrod": "m_p",
    "follower": "m_f",
    "rocker_inertia": "I",
    "valve_arm": "l",
}

DECISIVE = ("valve", "follower")
"""Without these stated the masses are no more than typical, and nothing is judged by them."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class MovingMasses:
    """The masses of a line; `typical` are the fields that are not stated, `wanting` those of them that decide.

    `waves` are the springs that swing in a dynamic run, `still` the names of those whose waves cannot be had.
    """

    referred: ReferredMass
    values: dict[str, float]
    waves: tuple[SpringWaves, ...]
    still: tuple[str, ...]
    typical: tuple[str, ...]
    wanting: tuple[str, ...]
    note: str


def moving_masses(bench: Bench, coils: tuple[CoilAnalysis, ...]) -> MovingMasses | None:
    """The masses of a line, and their figures; None where the ratio is not known or an entry is faulty.

    Args:
        bench: the line, with its ratio found.
        coils: of its springs.

    Returns:
        The masses.
    """
    line, ratio = bench.line, bench.value("ratio")
    bucket = line.value("follower.family") == "bucket"
    typical = TYPICAL_BUCKET if bucket else TYPICAL
    faulty = tuple(line.path(FIELDS[name]) for name in typical if line.faulty(FIELDS[name]))
    stated: dict[str, float | None] = {name: line.value(FIELDS[name]) for name in typical}
    weighed = [coil.value("wire_mass") for coil in coils]
    if stated["spring"] is None and weighed and None not in weighed:
        stated["spring"] = sum(each or 0.0 for each in weighed)
    if ratio is None or faulty:
        missing = faulty or bench.lacking("ratio")
        for name, label in (("valve_side_mass", "Mass at the valve"), ("referred_mass", "Mass referred to the valve")):
            bench.add(Figure(name=name, label=label, kind=Kind.MASS, missing=missing))
        return None
    waves, still = _waves(coils, bench.value("rate"))
    paths = {name: line.path(FIELDS[name]) for name in typical}
    token = (tuple(stated.values()), tuple(paths.values()), ratio, waves, still)
    masses, figures = kept("moving masses", line.name, token, lambda: _made(stated, paths, ratio, waves, still))
    for figure in figures:
        bench.add(figure)
    return masses


def _waves(coils: tuple[CoilAnalysis, ...], rate: float | None) -> tuple[tuple[SpringWaves, ...], tuple[str, ...]]:
    """The springs that swing each by itself, and the names of those that count as a rate alone.

    The rate of the set, however it was found, is shared out as the rates from the wire stand to each other; where one
    of them is not known, the others have their own.
    """
    known = [coil for coil in coils if coil.waves is not None and coil.value("moving_mass")]
    still = tuple(coil.name for coil in coils if coil not in known)
    rates = [coil.value("geometric_rate") for coil in known]
    if None in rates or not known:
        return (), tuple(coil.name for coil in coils)
    own = [each or 0.0 for each in rates]
    whole = max(sum(own), rate or 0.0) if still else sum(own)
    several = len(coils) > 1
    return tuple(
        SpringWaves(
            shape=coil.waves, mass=coil.value("moving_mass") or 0.0, rate_share=each / whole,
            name=coil.name if several else "",
        )
        for coil, each in zip(known, own, strict=True)
        if coil.waves is not None
    ), still  # fmt: skip


def _made(
    stated: Mapping[str, float | None],
    paths: Mapping[str, str],
    ratio: float,
    waves: tuple[SpringWaves, ...],
    still: tuple[str, ...],
) -> tuple[MovingMasses, tuple[Figure, ...]]:
    """The masses and their figures."""
    bucket = "pushrod" not in paths
    filled = with_typical(stated, TYPICAL_BUCKET if bucket else TYPICAL)
    values = dict(filled.values)
    found = referred_mass(
        valve=values["valve"], retainer=values["retainer"], locks=values["locks"], spring=values["spring"],
        follower=values["follower"], pushrod=values.get("pushrod", 0.0),
        rocker_inertia=values.get("rocker_inertia", 0.0), valve_arm=values.get("valve_arm"), ratio=ratio,
    )  # fmt: skip
    order = tuple(name for name in FIELDS if name in filled.typical)
    note = f"Not stated and taken as is typical: {', '.join(WORDS[name] for name in order)}." if order else ""
    masses = MovingMasses(
        referred=found,
        values=values,
        waves=waves,
        still=still,
        typical=tuple(paths[name] for name in order),
        wanting=tuple(paths[name] for name in order if name in DECISIVE),
        note=note,
    )
    return masses, _figures(masses, paths, ratio, bucket=bucket)


def _figures(masses: MovingMasses, paths: Mapping[str, str], ratio: float, *, bucket: bool) -> tuple[Figure, ...]:
    values = masses.values
    kinds = {"rocker_inertia": Kind.INERTIA, "valve_arm": Kind.LENGTH}
    given = {
        name: Input(
            symbol=SYMBOLS[name], label=WORDS[name], value=value, kind=kinds.get(name, Kind.MASS),
            field=paths[name],
        )
        for name, value in values.items()
    }  # fmt: skip
    evidence = "partly typical" if masses.typical else "as stated"
    side = tuple(given[name] for name in ("valve", "retainer", "locks", "spring"))
    turned = Input(symbol="R", label="rocker ratio", value=ratio, kind=Plain.NUMBER, field="figures.ratio")
    rest = "{m_f}" if bucket else "{I} / {l}\u00b2 + ({m_p} + {m_f}) / {R}\u00b2"
    inputs = (*given.values(),) if bucket else (*given.values(), turned)
    source = "common practice" if masses.typical else "own derivation"
    return (
        Figure(
            name="valve_side_mass", label="Mass at the valve", kind=Kind.MASS,
            value=float(masses.referred.valve_side), formula="m = {m_v} + {m_r} + {m_l} + {m_s} / 3", inputs=side,
            source=source, note=masses.note, evidence=evidence,
        ),
        Figure(
            name="referred_mass", label="Mass referred to the valve", kind=Kind.MASS,
            value=float(masses.referred.total), formula="m = {m_v} + {m_r} + {m_l} + {m_s} / 3 + " + rest,
            inputs=inputs, source=source, note=masses.note, evidence=evidence,
        ),
    )  # fmt: skip
