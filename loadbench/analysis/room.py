"""Heights, lifts and clearances of one line."""

from __future__ import annotations

from typing import Any

from loadbench.analysis.builder import Bench, inputs_of
from loadbench.analysis.figure import Figure, Input, Plain
from loadbench.analysis.setting import depth_from_turns
from loadbench.job.checks import stated_height, stated_shims
from loadbench.motion.travel import gross_valve_lift, net_valve_lift, pump_up_lift
from loadbench.readings.accuracy import expanded
from loadbench.units import Kind

LENGTH = Kind.LENGTH


def is_hydraulic(bench: Bench) -> bool | None:
    """Whether the follower takes up the lash by itself; None where neither family nor lobe says so."""
    if bench.line.faulty("follower.family"):
        return None
    family = bench.line.value("follower.family")
    if family is not None:
        return str(family).endswith("hydraulic")
    lobe = bench.line.value("cam.lash_kind")
    return None if lobe is None or bench.line.value("valve_gear.lash") is not None else lobe == "hydraulic"


def add_ratio(bench: Bench) -> None:
    """R: as stated; 1 for a bucket."""
    if bench.line.value("follower.family") == "bucket" and not bench.line.faulty("valve_gear.rocker_ratio"):
        bench.add(
            Figure(name="ratio", label="Rocker ratio", kind=Plain.NUMBER, value=1.0, note="A bucket has no rocker.")
        )
        return
    stated = bench.stated("R", "rocker ratio", "valve_gear.rocker_ratio", Plain.NUMBER)
    missing = () if stated else (bench.line.path("valve_gear.rocker_ratio"),)
    value = stated.value if stated else None
    bench.add(
        Figure(
            name="ratio",
            label="Rocker ratio",
            kind=Plain.NUMBER,
            value=value,
            inputs=inputs_of(stated),
            missing=missing,
        )
    )


def add_installed_height(bench: Bench) -> None:
    """H: as stated, else the bare height less the shims."""
    line = bench.line
    height = stated_height(line)
    u = expanded(bench.deviation("instruments.installed_height"))
    common: dict[str, Any] = {"name": "installed_height", "label": "Installed height", "kind": LENGTH}
    if height is None:
        wanted = "spring.installed_height" if line.faulty("spring.installed_height") else "spring.bare_height"
        path = line.path(wanted) if line.faulty(wanted) else line.path("spring.installed_height")
        if not line.faulty(wanted) and line.value("spring.bare_height") is not None:
            path = line.rows("spring.shims")[0]
        bench.add(Figure(**common, missing=(path,)))
        return
    stated = bench.stated("H", "installed height", "spring.installed_height", LENGTH)
    if stated:
        bench.add(Figure(**common, value=height, expanded=u, formula="H = {H}", inputs=(stated,), evidence="as stated"))
        return
    bare = bench.stated("H_bare", "bare height", "spring.bare_height", LENGTH)
    shims = Input(
        symbol="shims", label="shims", value=stated_shims(line) or 0.0, kind=LENGTH, field=line.rows("spring.shims")[0]
    )
    bench.add(
        Figure(
            **common,
            value=height,
            expanded=u,
            formula="H = {H_bare} \u2212 {shims}",
            inputs=inputs_of(bare, shims),
            evidence="bare height less shims",
        )
    )


def add_lifts(bench: Bench) -> None:
    """Gross lift, net lift, and the lift at zero lash or pumped up."""
    _add_gross(bench)
    _add_net(bench)
    _add_widest(bench)


def _lift_u(bench: Bench, factor: float) -> float | None:
    deviation = bench.deviation("instruments.lift")
    return expanded(None if deviation is None else deviation * factor)


def _add_gross(bench: Bench) -> None:
    common: dict[str, Any] = {"name": "gross_valve_lift", "label": "Gross valve lift", "kind": LENGTH}
    valve = bench.stated("lift", "valve lift", "valve_gear.valve_lift", LENGTH)
    if valve:
        bench.add(
            Figure(
                **common,
                value=valve.value,
                expanded=_lift_u(bench, 1.0),
                formula="L_gross = {lift}",
                inputs=(valve,),
                evidence="as stated",
            )
        )
        return
    lobe = bench.stated("lobe", "lobe lift", "valve_gear.lobe_lift", LENGTH)
    ratio = bench.found("R", "ratio")
    if lobe and ratio and not bench.line.faulty("valve_gear.valve_lift"):
        bench.add(
            Figure(
                **common,
                value=float(gross_valve_lift(lobe.value, ratio.value)),
                expanded=_lift_u(bench, ratio.value),
                formula="L_gross = {R} \u00d7 {lobe}",
                inputs=(ratio, lobe),
                evidence="lobe lift times ratio",
            )
        )
        return
    if bench.line.faulty("valve_gear.valve_lift"):
        missing: tuple[str, ...] = (bench.line.path("valve_gear.valve_lift"),)
    else:
        missing = bench.lacking("valve_gear.lobe_lift", "ratio")
    bench.add(Figure(**common, missing=missing))


def _add_net(bench: Bench) -> None:
    common: dict[str, Any] = {"name": "net_valve_lift", "label": "Net valve lift", "kind": LENGTH}
    line = bench.line
    measured = bench.stated("lift", "measured net lift", "valve_gear.measured_net_lift", LENGTH)
    if measured:
        bench.add(
            Figure(
                **common,
                value=measured.value,
                expanded=_lift_u(bench, 1.0),
                formula="L = {lift}",
                inputs=(measured,),
                evidence="measured",
            )
        )
        return
    if line.faulty("valve_gear.measured_net_lift"):
        bench.add(Figure(**common, missing=(line.path("valve_gear.measured_net_lift"),)))
        return
    gross = bench.found("L_gross", "gross_valve_lift")
    lash = bench.stated("lash", "lash", "valve_gear.lash", LENGTH)
    hydraulic = is_hydraulic(bench)
    u = bench.expanded("gross_valve_lift")
    if gross and hydraulic:
        note = "Leak-down of the plunger is taken as zero."
        bench.add(
            Figure(
                **common,
                value=gross.value,
                expanded=u,
                formula="L = {L_gross}",
                inputs=(gross,),
                note=note,
                evidence="hydraulic: no lash",
            )
        )
    elif gross and lash and not line.faulty("follower.family"):
        net = float(net_valve_lift(gross.value, lash.value))
        bench.add(
            Figure(
                **common,
                value=net,
                expanded=u,
                formula="L = {L_gross} \u2212 {lash}",
                inputs=(gross, lash),
                evidence="lift less lash",
            )
        )
    else:
        missing = bench.lacking("gross_valve_lift")
        if line.faulty("follower.family"):
            missing = (*missing, line.path("follower.family"))
        elif not hydraulic and not lash:
            unsaid = (
                "follower.family" if hydraulic is None and not line.faulty("valve_gear.lash") else "valve_gear.lash"
            )
            missing = (*missing, line.path(unsaid))
        bench.add(Figure(**common, missing=missing))


def _add_widest(bench: Bench) -> None:
    """The lift that the coils must clear at worst: with no lash, or with the plunger pumped up."""
    hydraulic = is_hydraulic(bench)
    if hydraulic is False:
        _add_zero_lash(bench)
    elif hydraulic:
        add_plunger_depth(bench)
        _add_pumped_up(bench)


def _add_zero_lash(bench: Bench) -> None:
    common: dict[str, Any] = {"name": "lift_at_zero_lash", "label": "Valve lift at zero lash", "kind": LENGTH}
    gross = bench.found("L_gross", "gross_valve_lift")
    net = bench.found("L", "net_valve_lift")
    lash = bench.stated("lash", "lash", "valve_gear.lash", LENGTH)
    measured = bench.line.value("valve_gear.measured_net_lift") is not None
    if measured and net and lash:
        value = net.value + lash.value
        bench.add(
            Figure(
                **common,
                value=value,
                expanded=bench.expanded("net_valve_lift"),
                formula="L_0 = {L} + {lash}",
                inputs=(net, lash),
            )
        )
    elif gross:
        bench.add(
            Figure(
                **common,
                value=gross.value,
                expanded=bench.expanded("gross_valve_lift"),
                formula="L_0 = {L_gross}",
                inputs=(gross,),
            )
        )
    else:
        bench.add(Figure(**common, missing=bench.lacking("gross_valve_lift")))


def add_plunger_depth(bench: Bench) -> None:
    """Plunger depth as set cold: as stated, else from the turns and the adjuster."""
    bench.add(depth_from_turns(bench))


def _add_pumped_up(bench: Bench) -> None:
    common: dict[str, Any] = {"name": "lift_pumped_up", "label": "Valve lift pumped up", "kind": LENGTH}
    net = bench.found("L", "net_valve_lift")
    depth = bench.found("depth", "plunger_depth")
    ratio = bench.found("R", "ratio")
    if net and depth and ratio:
        added = float(pump_up_lift(max(depth.value, 0.0), ratio.value))
        bench.add(
            Figure(
                **common,
                value=net.value + added,
                expanded=bench.expanded("net_valve_lift"),
                formula="L_p = {L} + {R} \u00d7 {depth}",
                inputs=(net, ratio, depth),
            )
        )
        return
    bench.add(Figure(**common, missing=bench.lacking("net_valve_lift", "plunger_depth", "ratio")))


def add_open_height(bench: Bench) -> None:
    """Height of the spring at full net lift."""
    common: dict[str, Any] = {"name": "open_height", "label": "Height at full lift", "kind": LENGTH}
    height, lift = bench.found("H", "installed_height"), bench.found("L", "net_valve_lift")
    if height and lift:
        u = expanded(*(half(bench.expanded(name)) for name in ("installed_height", "net_valve_lift")))
        bench.add(
            Figure(
                **common,
                value=height.value - lift.value,
                expanded=u,
                formula="h = {H} \u2212 {L}",
                inputs=(height, lift),
            )
        )
        return
    bench.add(Figure(**common, missing=bench.lacking("installed_height", "net_valve_lift")))


def half(expanded_uncertainty: float | None) -> float | None:
    """Standard uncertainty from an expanded one, k = 2."""
    return None if expanded_uncertainty is None else expanded_uncertainty / 2


def add_retainer_margin(bench: Bench) -> None:
    """Room between retainer and seal at full net lift."""
    common: dict[str, Any] = {"name": "retainer_margin", "label": "Retainer to seal at full lift", "kind": LENGTH}
    seal = bench.stated("seal", "retainer to seal, closed", "valve_gear.retainer_to_seal", LENGTH)
    lift = bench.found("L", "net_valve_lift")
    if seal and lift:
        u = expanded(bench.deviation("instruments.seal"), half(bench.expanded("net_valve_lift")))
        bench.add(
            Figure(
                **common,
                value=seal.value - lift.value,
                expanded=u,
                formula="margin = {seal} \u2212 {L}",
                inputs=(seal, lift),
            )
        )
        return
    bench.add(Figure(**common, missing=bench.lacking("valve_gear.retainer_to_seal", "net_valve_lift")))
