"""Each spring from the wire up, against arithmetic written out here; and what is named where something is wanting."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from loadbench.analysis import Analysis, analyse
from loadbench.analysis.coils.result import FIGURES, CoilAnalysis
from loadbench.analysis.figure import Plain, worked
from loadbench.job.edits import replaced
from loadbench.job.files import open_job
from loadbench.sources import COMMON_PRACTICE, OWN_DERIVATION, SOURCES
from loadbench.units import Style
from tests.analysis.bench_jobs import COILS, INCH, LBF, PSI, SOLID, analysis_of, job_with
from tests.analysis.test_example import EXAMPLE, SAMPLES

G, RHO = 79.5e9, 7850.0
KPSI = 1000 * PSI
# The outer of the nest in bench_jobs: 150 lbf at 1.900 in and 300 lbf/in.
OUTER: dict[str, Any] = {
    **COILS[0],
    "wire": {"diameter": "0.207 in"},
    "mean_diameter": "1.243 in",
    "active_coils": 4.2,
    "total_coils": 6.2,
    "free_height": "2.400 in",
    "ends": "closed and ground",
    "material": "chrome-silicon",
    "shot_peened": True,
    "preset": False,
    "retainer_step_diameter": "1.020 in",
}
INNER: dict[str, Any] = {
    **COILS[1],
    "wire": {"diameter": "0.135 in"},
    "mean_diameter": "0.850 in",
    "active_coils": 5.5,
    "total_coils": 7.5,
    "free_height": "2.200 in",
    "ends": "squared and ground",
    "material": "VDSiCr",
}
DUTY: dict[str, Any] = {"duty.speed_limit": "6000 rpm", "duty.oil.temperature": "110 degC"}


def single(*changes: dict[str, Any], **coil: Any) -> Analysis:
    own = {name: value for name, value in {**OUTER, **coil}.items() if value is not None}
    return analysis_of({"spring.readings": (), "spring.coils": (own,)}, DUTY, *changes)


def nest(
    *changes: dict[str, Any], inner: dict[str, Any] | None = None, outer: dict[str, Any] | None = None
) -> Analysis:
    return analysis_of({"spring.coils": (OUTER | (outer or {}), INNER | (inner or {}))}, DUTY, *changes)


def coil_of(analysis: Analysis, place: int = 0) -> CoilAnalysis:
    return analysis.lines[0].coils[place]


def values(coil: CoilAnalysis) -> dict[str, float | None]:
    return {name: figure.value for name, figure in coil.figures.items()}


def missing(coil: CoilAnalysis, name: str) -> tuple[str, ...]:
    assert coil.value(name) is None
    return coil.figures[name].missing


# A cylinder of round wire


def test_geometry_of_a_round_cylinder() -> None:
    found = values(coil_of(single()))
    d, D, n, nt = 0.207 * INCH, 1.243 * INCH, 4.2, 6.2
    rate = G * d**4 / (8 * D**3 * n)
    mass = math.pi * d**2 / 4 * math.pi * D * RHO
    assert found["geometric_rate"] == pytest.approx(rate)
    assert found["spring_index"] == pytest.approx(D / d)
    assert found["outer_diameter"] == pytest.approx(1.450 * INCH)
    assert found["inner_diameter"] == pytest.approx(1.036 * INCH)
    assert found["pitch"] == pytest.approx((2.400 - 2 * 0.207) / 4.2 * INCH)
    assert found["geometric_bind_height"] == pytest.approx(6.2 * d)
    assert found["wire_mass"] == pytest.approx(mass * nt)
    assert found["moving_mass"] == pytest.approx(mass * n)
    assert found["surge_frequency"] == pytest.approx(math.sqrt(rate / (mass * n)) / 2)
    assert found["surge_frequency"] == pytest.approx(d / (2 * math.pi * D**2 * n) * math.sqrt(G / (2 * RHO)))
    assert found["surge_ratio"] == pytest.approx((found["surge_frequency"] or 0.0) / (6000 / 60 / 2))
    assert found["retainer_step_gap"] == pytest.approx(0.016 * INCH)
    slender = math.pi * math.sqrt(2 * (206 - 79.5) / (2 * 79.5 + 206))  # 2.616; the 2.63 in print has other moduli
    assert found["stable_free_height"] == pytest.approx(slender * D / 0.5)
    assert found["hot_load_share"] == pytest.approx(1 - 0.25e-3 * 90)


def test_stresses_of_a_round_cylinder() -> None:
    found = values(coil_of(single()))
    d, D, C = 0.207 * INCH, 1.243 * INCH, 1.243 / 0.207
    wahl, bergs = (4 * C - 1) / (4 * C - 4) + 0.615 / C, (4 * C + 2) / (4 * C - 3)
    # 300 lbf/in: 150 lbf at 1.900 in, 318 at 1.340 in, 396 at bind, 1.080 in.
    loads = {"seat": 150 * LBF, "open": (150 + 300 * 0.560) * LBF, "bind": (150 + 300 * 0.820) * LBF}
    plain = {end: 8 * load * D / (math.pi * d**3) for end, load in loads.items()}
    tensile = 1974e6 / (0.207 * 25.4) ** 0.108
    assert found["wahl_factor"] == pytest.approx(wahl)
    assert found["bergstraesser_factor"] == pytest.approx(bergs)
    assert found["bind_load"] == pytest.approx(loads["bind"])
    assert found["tensile_strength"] == pytest.approx(tensile)
    for end, stress in plain.items():
        assert found[f"shear_stress_{end}"] == pytest.approx(wahl * stress)
        assert found[f"stress_share_{end}"] == pytest.approx(wahl * stress / tensile)
    assert found["stress_range"] == pytest.approx(wahl * (plain["open"] - plain["seat"]))
    assert found["en_stress_seat"] == pytest.approx(bergs * plain["seat"])
    assert found["en_stress_open"] == pytest.approx(bergs * plain["open"])
    assert found["en_stress_range"] == pytest.approx(bergs * (plain["open"] - plain["seat"]))
    assert found["en_bind_share"] == pytest.approx(plain["bind"] / (0.56 * tensile))


@pytest.mark.parametrize("peened", [True, False, None])
def test_fatigue_of_a_round_cylinder(peened: bool | None) -> None:
    coil = coil_of(single(shot_peened=peened))
    found, d, D, C = values(coil), 0.207 * INCH, 1.243 * INCH, 1.243 / 0.207
    to_stress = (4 * C + 2) / (4 * C - 3) * 8 * D / (math.pi * d**3)
    a, m = 84 * LBF * to_stress, 234 * LBF * to_stress  # half of 318 less 150 lbf, and their mean
    ssa, ssm = (57.5 * KPSI, 77.5 * KPSI) if peened else (35 * KPSI, 55 * KPSI)
    ssu = 0.67 * 1974e6 / (0.207 * 25.4) ** 0.108
    goodman, gerber = ssa / (1 - ssm / ssu), ssa / (1 - (ssm / ssu) ** 2)
    assert found["fatigue_factor_goodman"] == pytest.approx(1 / (a / goodman + m / ssu))
    factor = found["fatigue_factor_gerber"] or 0.0
    assert factor * a / gerber + (factor * m / ssu) ** 2 == pytest.approx(1.0)
    assert found["fatigue_factor_sines"] == pytest.approx(ssa / a)
    told = coil.figures["fatigue_factor_goodman"]
    assert told.evidence == f"Zimmerli, {'peened' if peened else 'not peened'}"
    assert ("not stated" in told.note) is (peened is None)
    lines = coil.fatigue
    assert lines is not None
    assert (lines.alternating, lines.mean) == (pytest.approx(a), pytest.approx(m))
    assert (lines.closed, lines.full_lift) == (pytest.approx(m - a), pytest.approx(m + a))
    assert lines.bind == pytest.approx(396 * LBF * to_stress)
    assert lines.peened is bool(peened)
    assert (lines.amplitude, lines.amplitude_mean) == (pytest.approx(ssa), pytest.approx(ssm))
    assert (lines.endurance_goodman, lines.endurance_gerber) == (pytest.approx(goodman), pytest.approx(gerber))
    assert lines.static_limit == pytest.approx(0.5 * lines.tensile)


def test_the_standards_tolerances() -> None:
    """Source: en-15800, the formulas in mm and N, grade 2."""
    found, d, D, n, w = values(coil_of(single())), 0.207 * 25.4, 1.243 * 25.4, 4.2, 0.1 * 1.243 / 0.207
    k_f = -1 / (3 * n**2) + 8 / (5 * n) + 0.803
    a_f = 65.92 * d**3.3 / D**1.6 * (-0.84 * w**3 + 3.781 * w**2 - 4.244 * w + 2.274)
    assert found["load_tolerance"] == pytest.approx(a_f * k_f + 0.015 * 150 * LBF)
    assert found["length_tolerance"] == pytest.approx(a_f * k_f / (found["geometric_rate"] or 1.0))
    flat = coil_of(single(wire={"shape": "ovate", "width": "0.21 in", "thickness": "0.18 in"}))
    assert missing(flat, "load_tolerance") == ()
    assert "round wire" in flat.figures["load_tolerance"].note


def test_modes_heights_and_curve() -> None:
    coil = coil_of(single())
    assert coil.modes is not None
    assert coil.modes.tolist() == pytest.approx([(coil.value("surge_frequency") or 0.0) * k for k in range(1, 6)])
    at = {"free": 2.400, "closed": 1.900, "open": 1.340, "bind": 1.080}
    assert coil.heights == {name: pytest.approx(height * INCH) for name, height in at.items()}
    assert coil.curve is not None  # its own line: 150 lbf at 1.900 in and 300 lbf/in is free at 2.400 in
    assert coil.curve.heights.tolist() == pytest.approx([2.400 * INCH, 1.080 * INCH])
    assert coil.curve.loads.tolist() == pytest.approx([0.0, 396 * LBF], abs=1e-9)
    assert coil.from_wire is not None
    assert coil.from_wire.heights.tolist() == pytest.approx([2.400 * INCH, 6.2 * 0.207 * INCH])
    travel = (2.400 - 6.2 * 0.207) * INCH
    assert coil.from_wire.loads[-1] == pytest.approx((coil.value("geometric_rate") or 0.0) * travel)
    assert coil.from_wire.landing_loads == (pytest.approx(coil.from_wire.loads[-1]),)


# What the coils and the bind height come from


def test_active_coils_counted_from_the_measured_rate() -> None:
    coil = coil_of(single(active_coils=None, total_coils=None))
    d, D = 0.207 * INCH, 1.243 * INCH
    by_hand = G * d**4 / (8 * D**3 * 300 * LBF / INCH)
    active = coil.figures["active_coils"]
    assert (active.value, active.evidence) == (pytest.approx(by_hand), "inferred from the measured rate")
    assert coil.value("total_coils") == pytest.approx(by_hand + 2)
    assert missing(coil, "geometric_rate") == ("spring.coils.0.active_coils",)
    mass = math.pi * d**2 / 4 * math.pi * D * RHO * by_hand
    assert coil.value("surge_frequency") == pytest.approx(math.sqrt(300 * LBF / INCH / mass) / 2)
    assert coil.geometry is not None
    assert coil.geometry.active_inferred
    assert worked(active, Style.INCH_POUND).endswith(f" = {by_hand:.4g}")


def test_a_stated_rate_counts_them_where_nothing_is_measured() -> None:
    coil = coil_of(single(active_coils=None, total_coils=None, readings=None, rate="280 lbf/in"))
    assert coil.figures["active_coils"].evidence == "inferred from the stated rate"
    assert coil.value("active_coils") == pytest.approx(
        G * (0.207 * INCH) ** 4 / (8 * (1.243 * INCH) ** 3) / (280 * LBF / INCH)
    )


def test_faulty_coils_are_not_counted_in_their_place() -> None:
    coil = coil_of(single(active_coils=9.0))
    assert missing(coil, "active_coils") == ("spring.coils.0.active_coils",)
    assert missing(coil, "surge_frequency") == ("spring.coils.0.active_coils",)
    assert coil.value("shear_stress_open") is not None


def test_bind_as_stated_else_from_the_wire_never_for_a_faulty_one() -> None:
    stated, wire = coil_of(single()), coil_of(single({"spring.bind_height": None}, bind_height=None))
    assert stated.value("bind_load") == pytest.approx(396 * LBF)
    assert stated.figures["bind_load"].note.startswith("Beyond the readings")
    assert wire.heights["bind"] == pytest.approx(6.2 * 0.207 * INCH)
    assert wire.value("bind_load") == pytest.approx((150 + 300 * (1.900 - 6.2 * 0.207)) * LBF)
    assert "from the wire" in wire.figures["bind_load"].note
    faulty = coil_of(single(bind_height="low"))
    assert missing(faulty, "bind_load") == ("spring.coils.0.bind_height",)
    assert missing(faulty, "shear_stress_bind") == ("spring.coils.0.bind_height",)
    assert "bind" not in faulty.heights
    none = coil_of(single({"spring.bind_height": None}, bind_height=None, ends=None))
    assert missing(none, "bind_load") == ("spring.bind_height",)


# Other wires and tapers

CONE: dict[str, Any] = {
    "wire": {"diameter": "4 mm"},
    "mean_diameter": "32 mm",
    "small_mean_diameter": "20 mm",
    "active_coils": 6.0,
    "total_coils": 8.0,
    "free_height": "68 mm",
    "readings": None,
    "bind_height": None,
}
LOW: dict[str, Any] = {"spring.installed_height": "55 mm", "spring.bind_height": None}


def turns_of_cone() -> tuple[Any, Any, Any]:
    """Diameter, compliance and landing load of many short pieces of the cone."""
    steps = 6000
    diameters = 0.032 - 0.012 * (np.arange(steps) + 0.5) / steps
    soft = 8 * diameters**3 / (G * 0.004**4) * 6 / steps
    gap = (0.060 - 6 * math.sqrt(0.004**2 - 0.001**2)) / steps
    return diameters, soft, gap / soft


def load_of_cone(height: float) -> float:
    _, soft, lands = turns_of_cone()
    low, high = 0.0, float(lands.max())
    for _ in range(60):
        middle = (low + high) / 2
        pressed = 0.068 - float((soft * np.minimum(middle, lands)).sum())
        low, high = (middle, high) if pressed > height else (low, middle)
    return low


def test_a_cone_is_solved_coil_by_coil() -> None:
    analysis = single(LOW, **CONE)
    coil = coil_of(analysis)
    diameters, _, lands = turns_of_cone()
    lift = 0.560 * INCH
    loads = {"seat": load_of_cone(0.055), "open": load_of_cone(0.055 - lift)}
    assert loads["open"] > float(lands.min())  # the widest coils are down
    assert analysis.value("seat_load") == pytest.approx(loads["seat"], rel=2e-3)
    assert analysis.value("open_load") == pytest.approx(loads["open"], rel=2e-3)
    C = diameters / 0.004
    wahl, bergs = (4 * C - 1) / (4 * C - 4) + 0.615 / C, (4 * C + 2) / (4 * C - 3)
    per_load = 8 * diameters / (math.pi * 0.004**3)
    own = {end: np.minimum(load, lands) for end, load in loads.items()}
    for end in loads:
        assert coil.value(f"shear_stress_{end}") == pytest.approx(float((wahl * per_load * own[end]).max()), rel=3e-3)
    change = float((wahl * per_load * (own["open"] - own["seat"])).max())
    assert coil.value("stress_range") == pytest.approx(change, rel=3e-3)
    ssa, ssu = 57.5 * KPSI, 0.67 * 1974e6 / 4**0.108
    a, m = (bergs * per_load * (own["open"] + sign * own["seat"]) / 2 for sign in (-1, 1))
    goodman = 1 / (a / (ssa / (1 - 77.5 * KPSI / ssu)) + m / ssu)
    assert coil.value("fatigue_factor_goodman") == pytest.approx(float(goodman.min()), rel=3e-3)
    assert coil.value("fatigue_factor_sines") == pytest.approx(float((ssa / a).min()), rel=3e-3)
    assert coil.value("inner_diameter") == pytest.approx(0.016)
    assert coil.value("moving_mass") == pytest.approx(math.pi * 0.002**2 * math.pi * 0.026 * 6 * RHO)
    assert coil.value("geometric_bind_height") == pytest.approx(0.008 + 6 * math.sqrt(0.004**2 - 0.001**2))


def test_the_curve_of_a_cone_and_where_its_coils_land() -> None:
    coil = coil_of(single(LOW, **CONE))
    curve, lands = coil.curve, turns_of_cone()[2]
    assert curve is not None
    assert curve is coil.from_wire
    assert (curve.heights[0], curve.loads[0]) == (pytest.approx(0.068), 0.0)
    assert curve.heights[-1] == pytest.approx(coil.value("geometric_bind_height"))
    assert np.all(np.diff(curve.heights) < 0)
    for height in (0.060, 0.050, 0.042, 0.035):
        found = float(np.interp(-height, -curve.heights, curve.loads))
        assert found == pytest.approx(load_of_cone(height), rel=3e-3)
    whole = np.sort(lands)[np.arange(1, 7) * 1000 - 1]  # six coils of a thousand pieces
    assert curve.landing_loads == pytest.approx(whole.tolist(), rel=5e-3)
    assert coil.value("bind_load") == pytest.approx(float(lands.max()), rel=5e-3)


def test_a_taper_of_unknown_landings_takes_every_coil_as_free_and_says_so() -> None:
    readings = ({"height": "55 mm", "load": "300 N"}, {"height": "40 mm", "load": "700 N"})
    coil = coil_of(single(LOW, **{**CONE, "readings": readings, "ends": None}))
    C = 8.0
    wahl = (4 * C - 1) / (4 * C - 4) + 0.615 / C
    assert coil.value("shear_stress_seat") == pytest.approx(wahl * 8 * 300 * 0.032 / (math.pi * 0.004**3))
    assert "taken as free" in coil.figures["shear_stress_seat"].note
    assert missing(coil, "geometric_bind_height") == ("spring.coils.0.ends",)


def test_a_load_past_the_last_landing_is_not_capped() -> None:
    readings = ({"height": "55 mm", "load": "1500 N"}, {"height": "40 mm", "load": "2500 N"})
    coil = coil_of(single(LOW, **{**CONE, "readings": readings}))
    C, load = 8.0, 1500 + 1000 / 15 * 0.560 * 25.4
    assert load > float(turns_of_cone()[2].max())
    wahl = (4 * C - 1) / (4 * C - 4) + 0.615 / C
    assert coil.value("shear_stress_open") == pytest.approx(wahl * 8 * load * 0.032 / (math.pi * 0.004**3), rel=1e-3)
    assert "more than brings all coils down" in coil.figures["shear_stress_open"].note


def test_ovate_wire() -> None:
    coil = coil_of(single(wire={"shape": "ovate", "width": "5 mm", "thickness": "4 mm"}, mean_diameter="30 mm"))
    C = 6.0
    wahl = (4 * C - 1) / (4 * C - 4) + 0.615 / C
    modulus = math.pi * 0.005 * 0.004**2 / 16  # T/W, b the smaller: tau = 16 T/(pi a b^2) of whole axes
    assert coil.value("spring_index") == pytest.approx(C)
    assert coil.value("shear_stress_seat") == pytest.approx(wahl * 150 * LBF * 0.015 / modulus)
    torsion = math.pi * 0.0025**3 * 0.002**3 / (0.0025**2 + 0.002**2)
    assert coil.value("geometric_rate") == pytest.approx(4 * G * torsion / (math.pi * 0.03**3 * 4.2))
    assert coil.value("geometric_bind_height") == pytest.approx(6.2 * 0.004)
    equal = math.sqrt(5 * 4)  # mm: the round wire of the same area
    assert coil.value("tensile_strength") == pytest.approx(1974e6 / equal**0.108)
    assert coil.value("wire_mass") == pytest.approx(math.pi / 4 * 0.005 * 0.004 * math.pi * 0.03 * 6.2 * RHO)


# A nest


def test_each_of_a_nest_stands_at_its_own_height_under_its_own_load() -> None:
    outer, inner = nest().lines[0].coils
    assert (outer.name, inner.name, inner.path) == ("outer", "inner", "spring.coils.1")
    assert inner.heights["closed"] == pytest.approx(1.800 * INCH)
    assert inner.heights["open"] == pytest.approx(1.240 * INCH)
    d, D, C = 0.135 * INCH, 0.850 * INCH, 0.850 / 0.135
    wahl = (4 * C - 1) / (4 * C - 4) + 0.615 / C
    for end, load in (("seat", 40), ("open", 96), ("bind", 118)):  # 100 lbf/in; bind at 1.020 in
        assert inner.value(f"shear_stress_{end}") == pytest.approx(wahl * 8 * load * LBF * D / (math.pi * d**3))
    assert inner.value("tensile_strength") == pytest.approx(1860e6)  # VDSiCr of 3.43 mm: 1860 at least
    assert outer.value("gap_to_next") == pytest.approx((1.243 - 0.207 - 0.850 - 0.135) * INCH)
    assert missing(inner, "gap_to_next") == ()
    assert "not stated" in inner.figures["fatigue_factor_sines"].note
    assert inner.value("surge_frequency") != outer.value("surge_frequency")


def test_the_gap_goes_by_size_not_by_order_and_tells_of_the_damper() -> None:
    swapped = analysis_of({"spring.coils": (INNER, OUTER)}, {"spring.damper.thickness": "0.040 in"}).lines[0].coils
    gap = swapped[1].figures["gap_to_next"]
    assert gap.value == pytest.approx((1.243 - 0.207 - 0.850 - 0.135) * INCH)
    assert "damper" in gap.note
    assert [each.value for each in gap.inputs if each.symbol == "s"] == [pytest.approx(0.040 * INCH)]
    unknown = nest(inner={"mean_diameter": None})
    assert missing(coil_of(unknown), "gap_to_next") == ("spring.coils.1.mean_diameter",)


def test_a_small_end_narrows_the_gap() -> None:
    tapered = coil_of(nest(outer={"small_mean_diameter": "1.210 in", "tapered_coils": 2.0}))
    assert tapered.value("gap_to_next") == pytest.approx((1.210 - 0.207 - 0.850 - 0.135) * INCH)


def test_where_bind_is_judged_as_a_pair_each_coil_is_there_all_the_same() -> None:
    bare = {"bind_height": None}
    coils = nest(outer=bare, inner=bare).lines[0].coils
    assert [coil.name for coil in coils] == ["outer", "inner"]
    assert coils[1].heights["bind"] == pytest.approx(7.5 * 0.135 * INCH)


# What is wanting


@pytest.mark.parametrize(
    ("changes", "name", "wanted"),
    [
        ({"wire": {}}, "shear_stress_open", ("spring.coils.0.wire.diameter",)),
        ({"mean_diameter": None}, "spring_index", ("spring.coils.0.mean_diameter",)),
        ({"mean_diameter": "12 in"}, "spring_index", ("spring.coils.0.mean_diameter",)),
        ({"mean_diameter": None}, "fatigue_factor_goodman", ("spring.coils.0.mean_diameter",)),
        ({"material": "cheese"}, "tensile_strength", ("spring.coils.0.material",)),
        ({"material": None}, "fatigue_factor_sines", ("spring.coils.0.material",)),
        ({"material": None}, "geometric_rate", ("spring.coils.0.material",)),
        ({"free_height": None}, "pitch", ("spring.coils.0.free_height",)),
        ({"ends": None}, "geometric_bind_height", ("spring.coils.0.ends",)),
        ({"total_coils": None, "ends": None}, "wire_mass", ("spring.coils.0.ends",)),
        ({"retainer_step_diameter": None}, "retainer_step_gap", ("spring.coils.0.retainer_step_diameter",)),
        ({"readings": None, "active_coils": None, "total_coils": None}, "shear_stress_seat", ("spring.readings",)),
        ({"seat_step": "a bit"}, "shear_stress_seat", ("spring.coils.0.seat_step",)),
    ],
)
def test_what_is_wanting_is_named(changes: dict[str, Any], name: str, wanted: tuple[str, ...]) -> None:
    found = missing(coil_of(single(**changes)), name)
    assert found[: len(wanted)] == wanted


@pytest.mark.parametrize(
    ("changes", "name", "wanted"),
    [
        ({"duty.speed_limit": None}, "surge_ratio", "duty.speed_limit"),
        ({"duty.oil.temperature": None}, "hot_load_share", "duty.oil.temperature"),
        ({"spring.installed_height": None}, "shear_stress_seat", "spring.installed_height"),
        ({"valve_gear.lobe_lift": None}, "stress_range", "valve_gear.lobe_lift"),
        ({"valve_gear.rocker_ratio": None}, "fatigue_factor_goodman", "valve_gear.rocker_ratio"),
    ],
)
def test_what_the_line_must_say_is_named(changes: dict[str, Any], name: str, wanted: str) -> None:
    assert wanted in missing(coil_of(single(changes)), name)


def test_wire_beyond_its_table_has_no_strength_but_stresses() -> None:
    coil = coil_of(single(wire={"diameter": "0.5 in"}, mean_diameter="3 in", free_height="4 in"))
    assert missing(coil, "tensile_strength") == ("spring.coils.0.wire.diameter",)
    assert missing(coil, "fatigue_factor_goodman") == ("spring.coils.0.wire.diameter",)
    assert coil.value("shear_stress_open") is not None
    assert coil.value("geometric_rate") is not None
    assert coil.fatigue is None


def test_no_range_no_factor() -> None:
    coil = coil_of(single({"spring.readings": (), "valve_gear.lobe_lift": None, "valve_gear.valve_lift": "0.001 in"}))
    assert (coil.value("fatigue_factor_sines") or 0.0) > 100
    loose = coil_of(single({"spring.installed_height": "2.9 in", "valve_gear.lobe_lift": "0.05 in"}))
    assert (loose.value("shear_stress_open"), missing(loose, "fatigue_factor_sines")) == (0.0, ())


def test_a_job_without_coils_has_a_coil_of_unknowns() -> None:
    analysis = analysis_of()
    coil = coil_of(analysis)
    assert (coil.path, coil.geometry, coil.concerned) == ("", None, False)
    assert list(coil.figures) == list(FIGURES)
    unknown = {name for name, figure in coil.figures.items() if not figure.known}
    assert unknown == set(FIGURES) - {"bind_load"}
    assert missing(coil, "spring_index") == ("spring.coils",)
    assert coil.value("bind_load") == pytest.approx((150 + 420 * 0.820) * LBF)


@pytest.mark.parametrize("path", [EXAMPLE, *SAMPLES], ids=lambda path: path.name.split(".")[0])
def test_every_figure_of_every_sample_stands_in_order(path: Any) -> None:
    for line in analyse(open_job(path)).lines:
        assert len(line.coils) == len(line.nest.members)
        for coil in line.coils:
            assert list(coil.figures) == list(FIGURES)
            for name, figure in coil.figures.items():
                assert (figure.name, figure.label, figure.kind) == (name, *FIGURES[name])
                assert figure.source in {*SOURCES, COMMON_PRACTICE, OWN_DERIVATION}
                assert not (figure.known and figure.missing)
                if figure.known:
                    assert math.isfinite(figure.value or 0.0)
                    assert figure.evidence
                    for style in Style:
                        assert worked(figure, style)


def test_the_worked_formulas_of_the_stress_come_out() -> None:
    for coil in nest(SOLID).lines[0].coils:
        for name in ("geometric_rate", "pitch", "wahl_factor", "shear_stress_open", "moving_mass", "stress_share_bind"):
            figure = coil.figures[name]
            right = figure.formula.split("=", 1)[1].format_map(
                {each.symbol: repr(each.value) for each in figure.inputs}
            )
            for sign, plain in (("\u00d7", "*"), ("\u2212", "-"), ("\u03c0", "3.141592653589793"), (" / 1 mm", "")):
                right = right.replace(sign, plain)
            for power, plain in (("\u00b2", "**2"), ("\u00b3", "**3"), ("\u2074", "**4")):
                right = right.replace(power, plain)
            assert figure.value == pytest.approx(eval(right), rel=1e-9), name  # noqa: S307 - our own text


# Intake and exhaust, surge


def test_alike_lines_share_their_coils_and_unlike_ones_do_not() -> None:
    job = job_with({"spring.coils": (OUTER, INNER), "lines.exhaust.valve_gear.lobe_lift": "0.350 in"})
    intake, exhaust = analyse(job).lines
    assert all(one is other for one, other in zip(intake.coils, exhaust.coils, strict=True))
    other = analyse(replaced(job, "lines.exhaust.valve_gear.lobe_lift", "0.360 in")).line("exhaust")
    assert other.coils[0].heights["open"] == pytest.approx((1.900 - 0.576) * INCH)
    assert intake.coils[0].figures["shear_stress_seat"] == other.coils[0].figures["shear_stress_seat"]
    assert (other.coils[0].value("shear_stress_open") or 0) > (intake.coils[0].value("shear_stress_open") or 0)


def test_an_edit_elsewhere_leaves_the_coils_the_same_objects() -> None:
    job = job_with({"spring.coils": (OUTER, INNER)})
    before = analyse(job).lines[0].coils
    after = analyse(replaced(job, "follower.family", "roller-hydraulic")).lines[0].coils
    assert all(one is other for one, other in zip(before, after, strict=True))


TABLE = tuple(
    (f"{degrees}", f"{0.35 * math.cos(math.radians(degrees * 1.5)) ** 2:.9f} in") for degrees in range(-60, 61)
)


@pytest.mark.parametrize(
    ("changes", "scale"),
    [
        ({"cam.profile_angle": "cam", "cam.profile_side": "lobe"}, 1.0),
        ({"cam.profile_angle": "cam", "cam.profile_side": "valve"}, 1 / 1.6),
    ],
)
def test_harmonics_of_the_lift_table(changes: dict[str, Any], scale: float) -> None:
    surge = analysis_of({"cam.profile": TABLE}, changes, DUTY, {"duty.idle_speed": "800 rpm"}).lines[0].surge
    assert (surge.idle_speed, surge.speed_limit) == (pytest.approx(800 * math.pi / 30), pytest.approx(200 * math.pi))
    angles = np.radians(np.linspace(-60, 60, 120001))
    lift = 0.35 * INCH * np.cos(1.5 * angles) ** 2 * scale
    assert surge.harmonics is not None
    for order in (1, 2, 5):
        by_hand = abs(np.trapezoid(lift * np.cos(order * angles), angles)) / math.pi
        assert surge.harmonics[order - 1] == pytest.approx(by_hand, rel=3e-3, abs=1e-8)


def test_a_table_in_crank_degrees_is_half_as_wide_and_an_unsaid_one_tells_nothing() -> None:
    crank = tuple((f"{2 * float(angle):g}", lift) for angle, lift in TABLE)
    both = {"cam.profile_side": "lobe"}
    cam = analysis_of({"cam.profile": TABLE, "cam.profile_angle": "cam"}, both).lines[0].surge.harmonics
    turned = analysis_of({"cam.profile": crank, "cam.profile_angle": "crank"}, both).lines[0].surge.harmonics
    assert cam is not None
    assert turned is not None
    assert turned.tolist() == pytest.approx(cam.tolist())
    for unsaid in ({}, {"cam.profile_angle": "cam"}, both):
        assert analysis_of({"cam.profile": TABLE}, unsaid).lines[0].surge.harmonics is None
    torn = (*TABLE[:5], ("x", "y"), *TABLE[5:])
    assert analysis_of({"cam.profile": torn, "cam.profile_angle": "cam"}, both).lines[0].surge.harmonics is None


def test_the_dampers_friction_is_passed_on() -> None:
    assert analysis_of({"spring.damper.load": "12 lbf"}).lines[0].surge.friction == pytest.approx(12 * LBF)
    assert Plain.NUMBER is FIGURES["surge_ratio"][1]
