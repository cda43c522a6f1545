"""Stress factors, wire strengths, fatigue and heat against published values, the id of each in its test's name.

"printed" is what the source prints where it rounds. Inputs go through the units, figures are compared in the source's.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
import pytest

from loadbench.spring import coil
from loadbench.spring.fatigue import (
    alternating_and_mean,
    factor_gerber,
    factor_goodman,
    factor_sines,
    gerber_endurance,
    goodman_endurance,
    static_factor,
    strength_amplitude_gerber,
    strength_amplitude_goodman,
    ultimate_shear,
    zimmerli,
)
from loadbench.spring.fatigue_elsewhere import (
    BHANDARI_OIL_TEMPERED,
    factor_bhandari,
    factor_norton,
    norton_reversed_endurance,
)
from loadbench.spring.materials import Material, material
from loadbench.spring.strength import logarithmic_law, power_law
from loadbench.spring.stress import (
    bergstraesser_factor,
    direct_shear_factor,
    index_at_stress,
    least_wire_diameter,
    load_at_stress,
    shear_stress,
    wahl_factor,
)
from loadbench.units import Kind, parse

INCH, LBF = parse("1 in", Kind.LENGTH, None).value, parse("1 lbf", Kind.FORCE, None).value
PSI, KPSI = parse("1 psi", Kind.STRESS, None).value, parse("1 kpsi", Kind.STRESS, None).value
RATE = LBF / INCH
MM, MPA = 1e-3, 1e6
Found = Callable[[], object]


def case(row: str, source: str, found: Found, expected: float, **tolerance: float) -> Any:
    """A published value: what gives it here, and how near it must be (abs or rel)."""
    return pytest.param(found, expected, tolerance, marks=pytest.mark.reference(source), id=row)


def wire(name: str) -> Material:
    found = material(name)
    assert found is not None
    return found


def near(found: object, expected: float, tolerance: dict[str, float]) -> bool:
    return float(np.asarray(found)) == pytest.approx(expected, abs=tolerance.get("abs", 0), rel=tolerance.get("rel", 0))


@dataclass(frozen=True)
class Round:
    """A coil of round wire, SI."""

    wire: float
    mean: float

    @property
    def section(self) -> float:
        return math.pi * self.wire**3 / 16

    @property
    def index(self) -> float:
        return self.mean / self.wire

    def stress(self, load: float, factor: Callable[[float], object]) -> float:
        return float(shear_stress(load, self.mean, self.section, float(np.asarray(factor(self.index)))))

    def load(self, stress: object) -> float:
        """Load at a stress corrected by Bergstraesser."""
        factor = bergstraesser_factor(self.index)
        return float(load_at_stress(float(np.asarray(stress)), self.mean, self.section, factor))


def american(constant: float, exponent: float, inches: float) -> float:
    """Sut of A kpsi in^m, Pa: the law itself, with the constant turned to a wire of 1 mm."""
    return float(power_law(inches * INCH, constant * KPSI * 25.4**exponent, exponent))


# Stress

MUSIC_037 = Round(0.037 * INCH, (7 / 16 - 0.037) * INCH)
MET = Round(6 * MM, 50 * MM)
SHA_3 = Round(2.5 * MM, 28.5 * MM)
SHA_5 = Round(0.2 * INCH, 2 * INCH)
STAINLESS = Round(0.040 * INCH, 0.200 * INCH)
DAN = Round(12.5 * MM, 76 * MM)
YIELD_037 = 0.45 * american(201, 0.145, 0.037)
YIELD_080 = 0.45 * american(201, 0.145, 0.080)
YIELD_SHA_3 = 0.45 * float(power_law(2.5 * MM, 2211 * MPA, 0.145))
YIELD_302 = 0.35 * american(169, 0.146, 0.040)
STAINLESS_RATE = float(coil.rate(10e6 * PSI, 0.040 * INCH, 0.2 * INCH, 8.4))
SHA_3_RATE = float(coil.rate(81e9, 2.5 * MM, 28.5 * MM, 13))
DAN_SOLID = float(coil.rate(79e9, 12.5 * MM, 76 * MM, 5)) * (140 - 7 * 12.5) * MM


def index_080() -> float:
    return float(index_at_stress(YIELD_080 / 1.2, 1.15 * 20 * LBF, 0.080 * INCH))


def wahl_less_bergstraesser(index: float) -> float:
    return 100 * (1 - float(bergstraesser_factor(index)) / float(wahl_factor(index)))


STRESS = [
    case("S03", "shigley", lambda: bergstraesser_factor(MUSIC_037.index), 1.1241, abs=1e-4),
    # Printed 6.46: the book rounds D to 0.400 in.
    case("S04", "shigley", lambda: MUSIC_037.load(YIELD_037) / LBF, 6.446, rel=0.005),
    case("S09", "shigley", index_080, 10.5335, rel=0.002),
    case("S10", "shigley", lambda: index_080() * 0.080, 0.8427, rel=0.002),
    case("S16", "metoolbox", lambda: wahl_factor(MET.index), 1.176073, abs=1e-6),
    case("S17", "metoolbox", lambda: bergstraesser_factor(MET.index), 1.164835, abs=1e-6),
    case("S18", "metoolbox", lambda: direct_shear_factor(MET.index), 1.06, abs=1e-6),
    case("S19", "metoolbox", lambda: MET.stress(500, wahl_factor) / MPA, 346.6255, abs=1e-4),
    case("S23", "bhandari", lambda: wahl_factor(6.0), 1.2525, abs=1e-4),
    case("S24", "bhandari", lambda: least_wire_diameter(1250, 6, 545e6, wahl_factor(6)) / MM, 6.62508, abs=1e-4),
    case("S29", "bhandari", lambda: wahl_factor(5.0), 1.31050, abs=5e-5),
    case("S30", "bhandari", lambda: wahl_factor(6.0), 1.25250, abs=5e-5),
    case("S31", "bhandari", lambda: wahl_factor(7.0), 1.21286, abs=5e-5),
    # The solution file prints 1,184 with a comma; the value is 1.184.
    case("S32", "bhandari", lambda: wahl_factor(8.0), 1.18402, abs=5e-5),
    case("S33", "bhandari", lambda: wahl_factor(7.3), 1.20329, abs=5e-5),
    case("S34", "wahl", lambda: wahl_factor(4.0), 1.40375, abs=5e-5),
    case("S35", "wahl", lambda: wahl_factor(10.0), 1.14483, abs=5e-5),
    case("S36", "wahl", lambda: wahl_factor(3.0), 1.58000, abs=5e-5),
    case("S37", "wahl", lambda: wahl_factor(12.0), 1.11943, abs=5e-5),
    case("S43", "shigley-answers", lambda: bergstraesser_factor(SHA_3.index), 1.1174, abs=1e-4),
    case("S44", "shigley-answers", lambda: SHA_3.load(YIELD_SHA_3), 167.86, rel=0.001),
    # Printed 162.8 and 674: the answers carry a rounded load and rate on.
    case("S45", "shigley-answers", lambda: (SHA_3.load(YIELD_SHA_3) / SHA_3_RATE) / MM + 2.5 * 14, 162.72, rel=0.001),
    case("S46", "shigley-answers", lambda: SHA_3.stress(130, bergstraesser_factor) / MPA, 674.69, rel=0.001),
    case("S47", "shigley-answers", lambda: SHA_3.load(YIELD_SHA_3) / 130 - 1, 0.2912, abs=1e-3),
    case("S49", "shigley-answers", lambda: SHA_5.stress(67.2 * LBF, bergstraesser_factor) / PSI, 48562, rel=0.001),
    case(
        "S50",
        "shigley-answers",
        lambda: static_factor(SHA_5.stress(67.2 * LBF, bergstraesser_factor), 0.5 * american(147, 0.187, 0.2)),
        2.0450,
        abs=0.003,
    ),
    case(
        "S52",
        "shigley-answers",
        lambda: STAINLESS.stress(STAINLESS_RATE * (0.75 - 0.416) * INCH, bergstraesser_factor) / PSI,
        163791,
        rel=0.001,
    ),
    case(
        "S53",
        "shigley-answers",
        lambda: 0.416 + STAINLESS.load(YIELD_302 / 1.2) / STAINLESS_RATE / INCH,
        0.5768,
        rel=2e-3,
    ),
    case("S55", "dan-springs", lambda: DAN.stress(DAN_SOLID, direct_shear_factor) / MPA, 618.4, rel=0.005),
    case("S56", "shigley-answers", lambda: wahl_less_bergstraesser(4.0), 1.363, abs=1e-3),
    case("S57", "shigley-answers", lambda: wahl_less_bergstraesser(12.0), 0.743, abs=1e-3),
    case("S61", "en-13906-1", lambda: bergstraesser_factor(6.92), 1.202593, abs=1e-6),
    # Loads of the two members as in S144 and S145.
    case("S146", "bhandari", lambda: Round(6 * MM, 36 * MM).stress(706.02147, wahl_factor) / MPA, 375.30514, abs=1e-4),
    case("S147", "bhandari", lambda: Round(5 * MM, 30 * MM).stress(293.97853, wahl_factor) / MPA, 225.03222, abs=1e-4),
    # An ellipse of 5.0 x 4.0 mm under 10 N m: W = pi a b^2 / 2 with the semi-axes; any coil whose F D/2 is 10 N m.
    case(
        "S178", "timoshenko", lambda: shear_stress(800, 0.025, math.pi * 2.5e-3 * 2e-3**2 / 2) / MPA, 636.6198, rel=1e-6
    ),
]


@pytest.mark.parametrize(("found", "expected", "tolerance"), STRESS)
def test_published_stresses(found: Found, expected: float, tolerance: dict[str, float]) -> None:
    assert near(found(), expected, tolerance)


@pytest.mark.reference("shigley-answers")
def test_the_two_factors_differ_most_at_a_small_index() -> None:
    gaps = np.array([wahl_less_bergstraesser(index) for index in np.linspace(4, 12, 33)])
    assert np.all(np.diff(gaps) < 0)  # S56, S57: the largest gap at 4, the smallest at 12


# Wire


def sut(name: str, diameter: float) -> float:
    return float(wire(name).tensile_strength(diameter * MM)) / MPA


METRIC_LAWS = [
    case("S64", "shigley", lambda: sut("music", 2), 1999.58, rel=2e-4),
    case("S65", "shigley", lambda: sut("music", 6), 1705.13, rel=2e-4),
    case("S66", "shigley", lambda: sut("oil-tempered", 5), 1372.89, rel=2e-4),
    case("S68", "shigley", lambda: sut("chrome-vanadium", 4.5), 1557.31, rel=2e-4),
    case("S70", "shigley", lambda: sut("chrome-silicon", 4), 1699.51, rel=2e-4),
    case("S73", "shigley", lambda: sut("hard-drawn", 3), 1447.10, rel=2e-4),
    # Three sets are in print, up to 17 % apart. These two are not the program's (that is Shigley Table 10-4): the law
    # only. In the older one the oil-tempered row of MPa and that of kpsi contradict each other.
    case("S79", "norton", lambda: power_law(4 * MM, 2059.2, 0.0934), 1809.1, rel=5e-4),
    case("S80", "norton", lambda: power_law(2 * MM, 2153.5, 0.1625), 1924.1, rel=5e-4),
    case("S81", "norton", lambda: american(184.649, 0.1625, 0.207) / PSI, 238507, rel=5e-4),
    case("S82", "exam-handbook", lambda: power_law(10 * MM, 1610, 0.193), 1032.3, rel=1e-3),
    case("S83", "exam-handbook", lambda: power_law(7.25 * MM, 2060, 0.163), 1491.5, rel=1e-3),
    # The table of the standard rounds to 10 MPa: printed 1460.
    case("S95", "en-10270-1", lambda: logarithmic_law(5 * MM, 1980, 740), 1462.8, rel=1e-3),
]
INCH_LAWS = [
    ("S62", "music", 201, 0.145, 0.037, 324.20),
    ("S63", "music", 201, 0.145, 0.08, 289.90),
    ("S67", "hard-drawn", 140, 0.190, 0.135, 204.82),
    ("S69", "chrome-silicon", 202, 0.108, 0.207, 239.46),
    ("S71", "chrome-silicon", 202, 0.108, 0.162, 245.88),
    ("S72", "oil-tempered", 147, 0.187, 0.1483, 210.05),
    ("S74", "chrome-silicon", 202, 0.108, 0.225, 237.31),
]
CONSTANTS = [
    ("S75", "music", 201, 2211),
    ("S76", "oil-tempered", 147, 1855),
    ("S77", "chrome-silicon", 202, 1974),
    ("S78", "hard-drawn", 140, 1783),
]
EXPONENTS = {"music": 0.145, "oil-tempered": 0.187, "chrome-silicon": 0.108, "hard-drawn": 0.190}


@pytest.mark.parametrize(("found", "expected", "tolerance"), METRIC_LAWS)
def test_published_strengths(found: Found, expected: float, tolerance: dict[str, float]) -> None:
    assert near(found(), expected, tolerance)


@pytest.mark.reference("shigley")
@pytest.mark.parametrize(
    ("name", "constant", "exponent", "inches", "expected"),
    [row[1:] for row in INCH_LAWS],
    ids=[row[0] for row in INCH_LAWS],
)
def test_strengths_by_the_inch_constants(
    name: str, constant: float, exponent: float, inches: float, expected: float
) -> None:
    assert american(constant, exponent, inches) / KPSI == pytest.approx(expected, rel=2e-4)
    # The program has the metric constants of the same table, which the book rounds on its own: 0.3 % apart at most.
    assert float(wire(name).tensile_strength(inches * INCH)) / KPSI == pytest.approx(expected, rel=3e-3)


@pytest.mark.reference("shigley")
@pytest.mark.parametrize(("name", "inch", "printed"), [row[1:] for row in CONSTANTS], ids=[row[0] for row in CONSTANTS])
def test_inch_and_metric_constants_agree(name: str, inch: float, printed: float) -> None:
    turned = inch * KPSI / MPA * 25.4 ** EXPONENTS[name]
    assert turned == pytest.approx(printed, rel=3e-3)
    assert sut(name, 1.6) * 1.6 ** EXPONENTS[name] == pytest.approx(printed, rel=1e-9)


OTHER_MODULI = [
    ("S84", "chrome-silicon", 29.5, 11.2),
    ("S85", "chrome-vanadium", 29.5, 11.2),
    ("S86", "oil-tempered", 28.5, 11.2),
    ("S89", "hard-drawn", 28.5, 11.4),
    ("S90", "VDSiCr", 29.5, 11.2),
    ("S90-VDSiCrV", "VDSiCrV", 29.5, 11.2),
]


@pytest.mark.reference("shigley")
@pytest.mark.parametrize(("name", "E", "G"), [row[1:] for row in OTHER_MODULI], ids=[row[0] for row in OTHER_MODULI])
def test_the_other_set_of_moduli(name: str, E: float, G: float) -> None:
    assert wire(name).other_elastic_modulus_Pa == pytest.approx(E * 1000 * KPSI, rel=0.005)
    assert wire(name).other_shear_modulus_Pa == pytest.approx(G * 1000 * KPSI, rel=0.005)


@pytest.mark.reference("shigley")
def test_music_wire_of_valve_springs_is_softer_than_the_thinner_rows() -> None:
    # S87 and S88: 11.85 and 11.75 Mpsi for wire under 0.064 and 0.126 in. Ours is the row above these (from memory).
    thinner = [11.85e6 * PSI, 11.75e6 * PSI]
    assert thinner == pytest.approx([81.7e9, 81.0e9], rel=0.005)
    assert wire("music").other_shear_modulus_Pa < min(thinner)
    assert wire("music").other_shear_modulus_Pa == pytest.approx(min(thinner), rel=0.02)


STEPS = [
    ("S91", "VDSiCr", 2.0, 2.5, 1960, 2060),
    ("S92", "VDSiCr", 3.0, 3.2, 1910, 2010),
    ("S93", "VDSiCr", 3.5, 4.0, 1860, 1960),
    ("S94", "VDSiCr", 4.7, 5.0, 1810, 1910),
    ("S98", "VDSiCrV", 1.6, 2.0, 2160, 2310),
]


@pytest.mark.parametrize(
    ("name", "over", "to", "low", "high"),
    [pytest.param(*row[1:], id=row[0], marks=pytest.mark.reference(f"{row[1].lower()}-sheet")) for row in STEPS],
)
def test_valve_spring_wire_by_steps(name: str, over: float, to: float, low: float, high: float) -> None:
    within = np.array([over + 0.001, (over + to) / 2, to]) * MM
    found = wire(name).tensile_band(within)
    assert found[0] == pytest.approx(low * MPA)
    assert found[1] == pytest.approx(high * MPA)
    assert {wire(name).strength_seen(float(each)) for each in within} == {"read"}
    at_edge = tuple(float(end) for end in wire(name).tensile_band(over * MM))
    assert at_edge != (low * MPA, high * MPA)  # "over": the edge itself is the thinner step's, or unknown


@pytest.mark.reference("vdsicr-sheet")
def test_two_grades_of_chrome_silicon_are_told_apart() -> None:
    # About 1700 MPa against 1860 to 1960 MPa at 4 mm: different grades, not an error.
    low, high = wire("VDSiCr").tensile_band(4 * MM)
    assert sut("chrome-silicon", 4) * MPA < float(low) < float(high)


@pytest.mark.reference("en-10270-1")
@pytest.mark.parametrize("name", ["music", "hard-drawn"])
def test_moduli_of_patented_wire(name: str) -> None:
    # S96
    found = wire(name)
    assert (found.elastic_modulus_Pa, found.shear_modulus_Pa, found.density_kg_per_m3) == (206e9, 81.5e9, 7850)


@pytest.mark.reference("en-10270-2")
@pytest.mark.parametrize("name", ["oil-tempered", "chrome-vanadium", "chrome-silicon", "VDSiCr", "VDSiCrV"])
def test_moduli_of_tempered_wire(name: str) -> None:
    # S97
    assert (wire(name).elastic_modulus_Pa, wire(name).shear_modulus_Pa) == (206e9, 79.5e9)


@pytest.mark.reference("shigley")
@pytest.mark.parametrize("name", ["oil-tempered", "chrome-vanadium", "chrome-silicon", "VDSiCr", "VDSiCrV"])
def test_static_shares_of_tempered_wire(name: str) -> None:
    # S99. S100 is for austenitic stainless, which this table of valve-spring wires leaves out.
    found = wire(name)
    assert (found.static_share, found.static_share_preset_low, found.static_share_preset_high) == (0.50, 0.65, 0.75)
    assert material("stainless") is None


# Fatigue

EX_4 = Round(0.092 * INCH, (9 / 16 - 0.092) * INCH)
EX_4_LOADS = tuple(float(each) for each in alternating_and_mean(5 * LBF, 35 * LBF))
EX_4_A, EX_4_M = (EX_4.stress(load, bergstraesser_factor) for load in EX_4_LOADS)
EX_4_SSU = float(ultimate_shear(american(201, 0.145, 0.092)))
PLAIN, PEENED = zimmerli(peened=False), zimmerli(peened=True)
BHA_13, BHA_15 = Round(3 * MM, 18 * MM), Round(4 * MM, 32 * MM)
NOR = Round(0.207 * INCH, 9 * 0.207 * INCH)
NOR_SUS = float(ultimate_shear(american(184.649, 0.1625, 0.207)))
NOR_SES = float(norton_reversed_endurance(67.5 * KPSI, NOR_SUS))


def by_bhandari(spring: Round, low: float, high: float, tensile: float) -> float:
    alternating, mean = (float(each) for each in alternating_and_mean(low, high))
    strengths = (share * tensile for share in BHANDARI_OIL_TEMPERED)
    stresses = spring.stress(alternating, wahl_factor), spring.stress(mean, direct_shear_factor)
    return float(factor_bhandari(*stresses, *strengths))


FATIGUE = [
    case("S103", "shigley", lambda: EX_4_A / KPSI, 29.690, rel=1e-3),
    case("S104", "shigley", lambda: EX_4_M / KPSI, 39.587, rel=1e-3),
    case("S105", "shigley", lambda: EX_4_SSU / KPSI, 190.34, rel=1e-3),
    case("S106", "shigley", lambda: gerber_endurance(*PLAIN, EX_4_SSU) / KPSI, 38.189, rel=1e-3),
    case(
        "S107",
        "shigley",
        lambda: strength_amplitude_gerber(EX_4_A / EX_4_M, gerber_endurance(*PLAIN, EX_4_SSU), EX_4_SSU) / KPSI,
        35.788,
        rel=1e-3,
    ),
    # Printed 1.21, of rounded stresses.
    case(
        "S108",
        "shigley",
        lambda: factor_gerber(EX_4_A, EX_4_M, gerber_endurance(*PLAIN, EX_4_SSU), EX_4_SSU),
        1.2054,
        abs=3e-3,
    ),
    case("S109", "shigley", lambda: factor_sines(EX_4_A, PLAIN[0]), 1.1788, abs=3e-3),
    case("S110", "shigley", lambda: goodman_endurance(*PLAIN, EX_4_SSU) / KPSI, 49.224, rel=1e-3),
    case(
        "S111",
        "shigley",
        lambda: factor_goodman(EX_4_A, EX_4_M, goodman_endurance(*PLAIN, EX_4_SSU), EX_4_SSU),
        1.2328,
        abs=3e-3,
    ),
    case("S112", "shigley", lambda: factor_sines(EX_4_A, PEENED[0]), 1.9367, abs=3e-3),
    case("S113", "bhandari", lambda: BHA_13.stress(50, wahl_factor) / MPA, 106.316, rel=5e-4),
    case("S114", "bhandari", lambda: by_bhandari(BHA_13, 50, 150, 1430 * MPA), 1.2556, abs=3e-3),
    case("S115", "bhandari", lambda: BHA_15.stress(50, wahl_factor) / MPA, 75.377, rel=5e-4),
    case("S116", "bhandari", lambda: by_bhandari(BHA_15, 30, 130, 1400 * MPA), 1.8464, abs=3e-3),
    case("S117", "norton", lambda: NOR.stress(45 * LBF, wahl_factor) / PSI, 27970, rel=1e-3),
    case("S118", "norton", lambda: NOR.stress(105 * LBF, direct_shear_factor) / PSI, 59281, rel=1e-3),
    case("S119", "norton", lambda: NOR_SES / PSI, 42787, rel=1e-3),
]


@pytest.mark.parametrize(("found", "expected", "tolerance"), FATIGUE)
def test_published_fatigue(found: Found, expected: float, tolerance: dict[str, float]) -> None:
    assert near(found(), expected, tolerance)


@pytest.mark.reference("shigley")
@pytest.mark.parametrize(
    ("peened", "kpsi", "printed"),
    [(False, (35, 55), (241, 379)), (True, (57.5, 77.5), (398, 534))],
    ids=["S101", "S102"],
)
def test_zimmerli(peened: bool, kpsi: tuple[float, float], printed: tuple[float, float]) -> None:
    found = np.array(zimmerli(peened))
    assert found / KPSI == pytest.approx(kpsi, rel=1e-12)
    # The metric print of 57.5 kpsi is 398 MPa; it is 396.4, and one system of units is kept throughout.
    assert found / MPA == pytest.approx(printed, rel=0.005)


@pytest.mark.reference("norton")
def test_norton_factor_lies_on_his_own_line() -> None:
    # That book's print was not seen: held against the line itself, from the stress at the lowest load.
    initial = NOR.stress(60 * LBF, direct_shear_factor)
    alternating, mean = NOR.stress(45 * LBF, wahl_factor), NOR.stress(105 * LBF, direct_shear_factor)
    factor = float(factor_norton(alternating, mean, initial, NOR_SES, NOR_SUS))
    grown = initial + factor * (mean - initial)
    assert factor * alternating == pytest.approx(NOR_SES * (1 - grown / NOR_SUS), rel=1e-12)


@dataclass(frozen=True)
class ByEndurance:
    """A worked answer that sizes a spring by its fatigue factor: 5 to 20 lbf, 10 lbf/in, n_f 1.5, xi 0.15, unpeened."""

    wire: float
    endurance: Callable[[float, float, float], object]
    amplitude: Callable[[float, float, float], object]

    @property
    def tensile(self) -> float:
        return american(201, 0.145, self.wire)

    @property
    def sse(self) -> float:
        return float(np.asarray(self.endurance(*PLAIN, float(ultimate_shear(self.tensile)))))

    @property
    def ssa(self) -> float:
        loads = alternating_and_mean(5, 20)
        return float(
            np.asarray(self.amplitude(float(loads[0] / loads[1]), self.sse, float(ultimate_shear(self.tensile))))
        )

    @property
    def index(self) -> float:
        return float(index_at_stress(self.ssa / 1.5, 7.5 * LBF, self.wire * INCH))

    @property
    def turns(self) -> float:
        return float(coil.active_coils(11.75e6 * PSI, self.wire * INCH, self.index * self.wire * INCH, 10 * RATE))

    @property
    def at_solid(self) -> float:
        spring = Round(self.wire * INCH, self.index * self.wire * INCH)
        return float(static_factor(spring.stress(23 * LBF, bergstraesser_factor), 0.45 * self.tensile))


SHC_26 = ByEndurance(0.105, gerber_endurance, strength_amplitude_gerber)
SHC_27 = ByEndurance(0.112, goodman_endurance, strength_amplitude_goodman)
SIZED = [
    case("S120", "shigley-answers", lambda: SHC_26.sse / KPSI, 38.3252, rel=1e-3),
    case("S121", "shigley-answers", lambda: SHC_26.ssa / KPSI, 34.6576, rel=1e-3),
    case("S122", "shigley-answers", lambda: SHC_26.index, 12.0045, rel=1e-3),
    case("S123", "shigley-answers", lambda: SHC_26.index * 0.105, 1.2605, rel=1e-3),
    case("S124", "shigley-answers", lambda: SHC_26.turns, 8.9147, rel=1e-3),
    case("S125", "shigley-answers", lambda: SHC_26.at_solid, 1.7700, rel=1e-3),
    case("S126", "shigley-answers", lambda: SHC_27.sse / KPSI, 49.8095, rel=1e-3),
    case("S127", "shigley-answers", lambda: SHC_27.ssa / KPSI, 34.3805, rel=1e-3),
    case("S128", "shigley-answers", lambda: SHC_27.index, 13.7319, rel=1e-3),
    case("S129", "shigley-answers", lambda: SHC_27.index * 0.112, 1.5380, rel=1e-3),
    case("S130", "shigley-answers", lambda: SHC_27.turns, 6.3529, rel=1e-3),
    case("S131", "shigley-answers", lambda: SHC_27.at_solid, 1.7676, rel=1e-3),
]


@pytest.mark.parametrize(("found", "expected", "tolerance"), SIZED)
def test_published_sizes_by_fatigue(found: Found, expected: float, tolerance: dict[str, float]) -> None:
    assert near(found(), expected, tolerance)


# Heat

HOT = [
    ("S188", "vdsicr-sheet", "VDSiCr", "250 °C"),
    ("S189", "wire-supplier", "chrome-silicon", "246 °C"),
    ("S190-music", "wire-supplier", "music", "121 °C"),
    ("S190-hard-drawn", "wire-supplier", "hard-drawn", "121 °C"),
    ("S190-oil-tempered", "wire-supplier", "oil-tempered", "121 °C"),
]


@pytest.mark.parametrize(
    ("source", "name", "celsius"),
    [pytest.param(*row[1:], id=row[0], marks=pytest.mark.reference(row[1])) for row in HOT],
)
def test_upper_temperatures(source: str, name: str, celsius: str) -> None:
    assert wire(name).temperature_source == source
    assert wire(name).upper_temperature_K == pytest.approx(parse(celsius, Kind.TEMPERATURE, None).value, abs=1.0)
