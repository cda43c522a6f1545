"""Loads of one line: at the valve closed and open, on the seat under pressure, at the follower."""

from __future__ import annotations

from typing import Any

from loadbench.analysis.builder import Bench
from loadbench.analysis.figure import Figure, Input
from loadbench.analysis.nest import Nest
from loadbench.analysis.rate_formula import rate_formula
from loadbench.follower.loads import effective_seat_load, static_follower_load
from loadbench.readings.load_line import LoadLine
from loadbench.readings.strand import Evidence
from loadbench.units import Kind

FORCE, LENGTH, RATE = Kind.FORCE, Kind.LENGTH, Kind.RATE
EVIDENCE_WORDS = {
    Evidence.MEASURED: "from the readings",
    Evidence.STATED: "from the stated rate",
    Evidence.GEOMETRIC: "from the coil's geometry",
}


def add_rates(bench: Bench, nest: Nest) -> None:
    """The rate from the best evidence, and the measured, stated and geometric ones beside it."""
    labels = {
        Evidence.MEASURED: "Measured rate",
        Evidence.STATED: "Stated rate",
        Evidence.GEOMETRIC: "Rate from the geometry",
    }
    rates = nest.rates()
    for evidence, label in labels.items():
        bench.add(
            Figure(
                name=f"rate_{evidence}",
                label=label,
                kind=RATE,
                value=rates.get(evidence),
                missing=nest.missing,
                evidence=evidence,
            )
        )
    value, chosen = nest.rate or (None, None)
    missing = () if nest.rate else nest.missing or nest.whole.missing
    formula, inputs = rate_formula(bench.line, nest) if chosen else ("", ())
    sources = {Evidence.MEASURED: "gum-h3", Evidence.GEOMETRIC: "en-13906-1"}
    bench.add(
        Figure(
            name="rate", label="Rate", kind=RATE, value=value, expanded=nest.rate_expanded, evidence=chosen or "",
            formula=formula, source=sources.get(chosen, "own derivation") if chosen else "own derivation",
            note=_curvature_note(nest.line), missing=missing, inputs=inputs,
        )
    )  # fmt: skip


def _curvature_note(line: LoadLine | None) -> str:
    if line is None or line.curvature is None:
        return ""
    if line.progressive:
        grown = f"Progressive: the rate grows by {100 * line.curvature:.0f} % over the readings; "
        return grown + "loads follow the readings themselves."
    return f"Straight within its readings: the rate changes by {100 * line.curvature:.1f} % over them.".replace(
        "-", "\u2212"
    )


def add_loads(bench: Bench, nest: Nest) -> None:
    """Seat load, open load, effective seat load, and the follower's."""
    _add_load(bench, nest, "seat_load", "Seat load", "installed_height")
    _add_load(bench, nest, "open_load", "Load at full lift", "open_height")
    _add_effective(bench)
    for name, label in (("seat", "Follower load, closed"), ("open", "Follower load, full lift")):
        _add_follower(bench, f"follower_{name}_load", label, f"{name}_load")


def _add_load(bench: Bench, nest: Nest, name: str, label: str, at: str) -> None:
    common: dict[str, Any] = {"name": name, "label": label, "kind": FORCE}
    height = bench.found("h", at)
    if nest.line is None or height is None:
        missing = (*(nest.missing if nest.line is None else ()), *bench.lacking(at))
        bench.add(Figure(**common, missing=tuple(dict.fromkeys(missing))))
        return
    deviation = _height_deviation(bench, at)
    u = None if deviation is None else nest.line.uncertainty(height.value, deviation)
    formula, inputs = _load_formula(nest.line, height)
    note = "Beyond the readings: the line goes straight on." if nest.line.extrapolated(height.value) else ""
    if nest.line.load_at(height.value) <= 0:
        note = "The spring stands loose at this height: it carries nothing."
    bench.add(
        Figure(
            **common, value=nest.line.load_at(height.value), expanded=None if u is None else float(u), formula=formula,
            inputs=inputs, evidence=EVIDENCE_WORDS[nest.line.evidence], note=note, source="en-13906-1",
        )
    )  # fmt: skip


def _height_deviation(bench: Bench, at: str) -> float | None:
    """Standard uncertainty of the height at which the load is wanted; what is not stated counts as exact.

    None where an accuracy was entered that cannot be used.
    """
    wanted = ("instruments.installed_height", "instruments.lift")[: 2 if at == "open_height" else 1]
    if any(bench.line.faulty(each) for each in wanted):
        return None
    height = bench.deviation("instruments.installed_height") or 0.0
    lift = (bench.expanded("net_valve_lift") or 0.0) / 2 if at == "open_height" else 0.0
    return float((height**2 + lift**2) ** 0.5)


def _load_formula(line: LoadLine, height: Input) -> tuple[str, tuple[Input, ...]]:
    """F = sum of F0 + k (h0 - (h - step)) over the members; words where a member is progressive."""
    if line.progressive:
        of = "coils' own curve" if line.evidence is Evidence.GEOMETRIC else "readings' interpolant"
        return f"F = load of the {of} at {{h}}", (height,)
    terms, inputs = [], [height]
    for place, (offset, strand) in enumerate(line.strands):
        mark = str(place + 1) if len(line.strands) > 1 else ""
        step = f" + {{s{mark}}}" if offset else ""
        terms.append(f"{{F0{mark}}} + {{k{mark}}} \u00d7 ({{h0{mark}}} \u2212 {{h}}{step})")
        inputs += [
            Input(symbol=f"F0{mark}", label="load at the middle of the readings", value=strand.anchor_load, kind=FORCE),
            Input(symbol=f"k{mark}", label="rate", value=strand.rate, kind=RATE, field="figures.rate"),
            Input(symbol=f"h0{mark}", label="middle of the readings", value=strand.anchor_height, kind=LENGTH),
        ]
        if offset:
            inputs.append(Input(symbol=f"s{mark}", label="steps of this member", value=offset, kind=LENGTH))
    return "F = " + " + ".join(terms), tuple(inputs)


PRESSURES = {"intake": ("duty.boost",), "exhaust": ("duty.exhaust_back_pressure",)}
BOTH = ("duty.boost", "duty.exhaust_back_pressure")


def _add_effective(bench: Bench) -> None:
    """Seat load less pressure times head area; a job without lines is both, and the lesser counts."""
    common: dict[str, Any] = {"name": "effective_seat_load", "label": "Effective seat load", "kind": FORCE}
    line = bench.line
    fields = PRESSURES.get(line.name, BOTH)
    faulty = tuple(line.path(each) for each in fields if line.faulty(each))
    seat = bench.found("F", "seat_load")
    if seat is None or faulty:
        bench.add(Figure(**common, missing=(*bench.lacking("seat_load"), *faulty)))
        return
    stated = [
        each for each in (bench.stated("p", "pressure", name, Kind.PRESSURE) for name in fields) if each is not None
    ]
    highest = max(stated, key=lambda each: each.value, default=None)
    unsaid = [name.split(".")[1].replace("_", " ") for name in fields if line.value(name) is None]
    note = f"Taken as none: {', '.join(unsaid)} (not stated)." if unsaid else ""
    u = bench.expanded("seat_load")
    if highest is None or highest.value == 0:
        bench.add(Figure(**common, value=seat.value, expanded=u, formula="F_eff = {F}", inputs=(seat,), note=note))
        return
    head = bench.stated("d", "head diameter", "valve_gear.head_diameter", LENGTH)
    if head is None:
        bench.add(Figure(**common, missing=bench.lacking("valve_gear.head_diameter")))
        return
    value = float(effective_seat_load(seat.value, highest.value, head.value))
    formula = "F_eff = {F} \u2212 {p} \u00d7 \u03c0/4 \u00d7 ({d})\u00b2"
    bench.add(Figure(**common, value=value, expanded=u, formula=formula, inputs=(seat, highest, head), note=note))


def _add_follower(bench: Bench, name: str, label: str, of: str) -> None:
    common: dict[str, Any] = {"name": name, "label": label, "kind": FORCE}
    load, ratio = bench.found("F", of), bench.found("R", "ratio")
    if load is None or ratio is None:
        bench.add(Figure(**common, missing=bench.lacking(of, "ratio")))
        return
    u = bench.expanded(of)
    value = float(static_follower_load(load.value, ratio.value))
    note = "At rest: inertia and gas force are left out."
    expanded = None if u is None else u * ratio.value
    bench.add(
        Figure(
            **common, value=value, expanded=expanded, formula="F_f = {R} \u00d7 {F}", inputs=(ratio, load), note=note
        )
    )
