"""Contact, needles, bushes, films, oil, plungers, levers and warming against published values, the id of each in its name.

Closed forms stand as `own-form`: the source is of the formula, the figure was worked out apart from this program.
"""

# ruff: noqa: E501 - a published value a line

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from loadbench.errors import InputError
from loadbench.follower import (
    bulk,
    bush,
    contact_limits,
    elastic,
    elliptic_contact,
    expansion,
    film,
    hertz,
    journal,
    lever,
    needle,
    needle_oil,
    oil,
    plunger,
    tappet,
)
from loadbench.follower.elastic import Elastic, combined_radius, reduced_modulus
from loadbench.motion import geometry
from loadbench.units import Kind, parse, parse_thread
from tests.follower.reynolds import solve

INCH, LBF = 0.0254, 4.4482216152605
PSI, REYN = LBF / INCH**2, oil.REYN
RPM, MM, UM, MPA = math.pi / 30, 1e-3, 1e-6, 1e6
ST = reduced_modulus(Elastic(210e9, 0.3), Elastic(210e9, 0.3))
Found = Callable[[], object]


def case(
    row: str, source: str, found: Found, expected: object, rel: float | None = None, abs_: float | None = None
) -> Any:
    """A published value: what gives it here, and how near it must be."""
    return pytest.param(found, expected, {"rel": rel, "abs": abs_}, marks=pytest.mark.reference(source), id=row)


def ball(force: float, radius: float, modulus: float) -> elliptic_contact.EllipticContact:
    return elliptic_contact.elliptic_contact(force, radius, radius, modulus)


BALL = ball(10, 1 / (1 / 0.0125 + 1 / 0.020), reduced_modulus(Elastic(207e9, 0.292), Elastic(71.7e9, 0.333)))
WHEEL = hertz.line_contact(
    5000 * LBF, 0.875 * INCH, 6 * INCH, reduced_modulus(Elastic(30e6 * PSI, 0.28), Elastic(30e6 * PSI, 0.28))
)
CONVEX = hertz.line_contact(3000, 14 * MM, combined_radius(20 * MM, 9.5 * MM), ST)
HOLLOW = hertz.line_contact(3000, 14 * MM, combined_radius(-60 * MM, 9.5 * MM), ST)
SKEWED = elliptic_contact.principal_curvatures((0.060, 0.130), (0.080, 0.200), math.radians(60))
SKEW = elliptic_contact.elliptic_contact(
    4500, 1 / (2 * SKEWED[1]), 1 / (2 * SKEWED[0]), reduced_modulus(Elastic(200e9, 0.29), Elastic(200e9, 0.29))
)
CROWN_9 = elliptic_contact.elliptic_contact(2000, 20 * MM, 1.270, ST)
SHORT_9 = elliptic_contact.approximate_contact(2000, 20 * MM, 1.270, ST)
CROWN_10 = elliptic_contact.elliptic_contact(1500, 12 * MM, 0.760, ST)
SHORT_10 = elliptic_contact.approximate_contact(1500, 12 * MM, 0.760, ST)
SPHERE = ball(1000, 25 * MM, 115.385e9)


def axis_shear() -> tuple[float, float]:
    """Depth over b and greatest shear over p0 under a line, from the stresses on the axis (Johnson 4.2)."""
    z = np.linspace(0.5, 1.2, 70001)
    root = np.sqrt(1 + z**2)
    across, down = -((1 + 2 * z**2) / root - 2 * z), -1 / root
    shear = np.abs(across - down) / 2
    place = int(np.argmax(shear))
    return float(z[place]), float(shear[place])


def circle_shear() -> tuple[float, float]:
    """The same under a circle, Poisson's ratio 0.30 (Johnson 3.4)."""
    z = np.linspace(0.2, 1.0, 80001)
    down = -1 / (1 + z**2)
    across = -(1.3) * (1 - z * np.arctan(1 / z)) - down / 2
    shear = np.abs(across - down) / 2
    place = int(np.argmax(shear))
    return float(z[place]), float(shear[place])


CONTACT = [
    case("F01-depth", "johnson-contact", lambda: hertz.SHEAR_DEPTH, axis_shear()[0], rel=1e-4),
    case("F01-shear", "johnson-contact", lambda: hertz.SHEAR_SHARE, axis_shear()[1], rel=1e-4),
    case("F02-depth", "johnson-contact", lambda: elliptic_contact.CIRCLE_SHEAR_DEPTH, circle_shear()[0], rel=1e-4),
    case("F02-shear", "johnson-contact", lambda: elliptic_contact.CIRCLE_SHEAR_SHARE, circle_shear()[1], rel=1e-4),
    case("F03-a", "shigley-contact", lambda: BALL.across / MM, 0.0990, rel=0.002),
    case("F03-p0", "shigley-contact", lambda: BALL.pressure / MPA, 487.1, rel=0.002),
    case("F04-b", "norton-contact", lambda: WHEEL.half_width / INCH, 0.0518, rel=0.001),
    case("F04-p0", "norton-contact", lambda: WHEEL.pressure / PSI, 70243, rel=0.001),
    case("F05-E", "stachowiak", lambda: 2 * ST / 1e9, 230.8, rel=0.001),
    case("F05-a", "stachowiak", lambda: ball(5, 6 * MM, ST).across / UM, 57.99, rel=0.001),
    case("F05-p0", "stachowiak", lambda: ball(5, 6 * MM, ST).pressure / MPA, 709.9, rel=0.001),
    case("F05-approach", "stachowiak", lambda: ball(5, 6 * MM, ST).approach / UM, 0.5604, rel=0.001),
    case("F06-R", "johnson-contact", lambda: combined_radius(20 * MM, 9.5 * MM) / MM, 6.4407, rel=0.001),
    case("F06-b", "johnson-contact", lambda: CONVEX.half_width / MM, 0.1234, rel=0.001),
    case("F06-p0", "johnson-contact", lambda: CONVEX.pressure / MPA, 1105.4, rel=0.001),
    case("F06-shear", "johnson-contact", lambda: CONVEX.shear / MPA, 331.9, rel=0.001),
    case("F06-depth", "johnson-contact", lambda: CONVEX.depth / MM, 0.09702, rel=0.001),
    case("F07-R", "johnson-contact", lambda: combined_radius(-60 * MM, 9.5 * MM) / MM, 11.287, rel=0.001),
    case("F07-p0", "johnson-contact", lambda: HOLLOW.pressure / MPA, 835.03, rel=0.001),
    case("F09-k", "hamrock-machine", lambda: CROWN_9.ratio, 13.916, rel=0.001),
    case("F09-bx", "hamrock-machine", lambda: CROWN_9.across / MM, 0.287, rel=0.001),
    case("F09-by", "hamrock-machine", lambda: CROWN_9.along / MM, 3.994, rel=0.001),
    case("F09-p0", "hamrock-machine", lambda: CROWN_9.pressure / MPA, 833.25, rel=0.001),
    case("F09-approach", "hamrock-machine", lambda: CROWN_9.approach / UM, 8.338, rel=0.001),
    case("F09-short-k", "hamrock-machine", lambda: SHORT_9.ratio, 14.05, rel=0.001),
    case("F09-short-p0", "hamrock-machine", lambda: SHORT_9.pressure / MPA, 830.66, rel=0.001),
    case("F09-short-approach", "hamrock-machine", lambda: SHORT_9.approach / UM, 8.114, rel=0.001),
    case("F10-k", "hamrock-machine", lambda: CROWN_10.ratio, 13.894, rel=0.001),
    case("F10-p0", "hamrock-machine", lambda: CROWN_10.pressure / MPA, 1064.8, rel=0.001),
    case("F10-approach", "hamrock-machine", lambda: CROWN_10.approach / UM, 8.166, rel=0.001),
    case("F10-short-p0", "hamrock-machine", lambda: SHORT_10.pressure / MPA, 1061.5, rel=0.001),
    case("F10-short-approach", "hamrock-machine", lambda: SHORT_10.approach / UM, 7.947, rel=0.001),
    case("F11-k", "johnson-contact", lambda: SPHERE.ratio, 1.0, rel=1e-9),
    case("F11-a", "johnson-contact", lambda: SPHERE.across / MM, 0.5457, rel=1e-4),
    case("F11-p0", "johnson-contact", lambda: SPHERE.pressure / MPA, 1603.4, rel=1e-4),
    case("F11-approach", "johnson-contact", lambda: SPHERE.approach / UM, 11.911, rel=1e-4),
    case("F12", "johnson-contact", lambda: elliptic_contact.radius_ratio(2.0), 2.84275, rel=1e-5),
    case("F12-short", "hamrock-machine", lambda: elliptic_contact.approximate_ellipticity(2.84275), 1.9447, rel=1e-4),
    case("F13", "johnson-contact", lambda: elliptic_contact.radius_ratio(5.0), 11.8266, rel=1e-5),
    case("F13-short", "hamrock-machine", lambda: elliptic_contact.approximate_ellipticity(11.8266), 4.8195, rel=1e-4),
    case("F14-A", "boresi", lambda: SKEWED[0] / 1e3, 0.00838086, rel=1e-5),
    case("F14-B", "boresi", lambda: SKEWED[1] / 1e3, 0.0125486, rel=1e-5),
    case("F14-a", "boresi", lambda: SKEW.along / MM, 1.3086, rel=0.001),
    case("F14-b", "boresi", lambda: SKEW.across / MM, 1.0, rel=0.001),
    case("F14-p0", "boresi", lambda: SKEW.pressure / MPA, 1641.89, rel=0.001),
    case(
        "F15", "engineers-data-book",
        lambda: 2 * CONVEX.half_width,
        math.sqrt(16 * 3000 * (2 * (1 - 0.3**2) / 210e9) / (math.pi * 0.014 * (1 / 0.020 + 1 / 0.0095))), rel=1e-9,
    ),
    case("F24", "own-form", lambda: tappet.contact_offset(1.270, math.radians(8 / 60)) / MM, 2.9554, rel=1e-4),
    case("F25", "own-form", lambda: tappet.contact_offset(0.762, math.radians(6 / 60)) / MM, 1.3299, rel=1e-4),
    case("F26", "own-form", lambda: tappet.crown_drop(1.270, 10.7 * MM) / UM, 45.08, abs_=0.05),
    case("F27", "norton-cam", lambda: tappet.least_face(9.2 * MM, 14 * MM, 1.5 * MM) / MM, 25.051, abs_=0.001),
    case("F28", "own-form", lambda: 0.150 * 180 / math.pi, 8.5944, abs_=0.001),
    case("F28-face", "own-form", lambda: tappet.least_face(0.150 * MM * 180 / math.pi) / MM, 17.189, abs_=0.001),
    case("F29", "own-form", lambda: geometry.cam_radius_flat(15 * MM, 5 * MM, -8 * MM) / MM, 12.0, rel=1e-12),
]  # fmt: skip

ALLOWED = [
    ("F16", "gray iron class 20", 58000, 400), ("F17", "nodular iron", 72000, 496),
    ("F18", "gray iron class 30", 65000, 448), ("F19", "gray iron class 35", 78000, 538),
    ("F20", "SAE 1020", 82000, 565), ("F21", "SAE 4150", 188000, 1296),
    ("F22", "carburized steel", 226000, 1558), ("F23", "induction-hardened steel", 226000, 1558),
]  # fmt: skip


def rating(count: int, diameter: float, length: float, pitch: float, bm: float) -> tuple[Any, Any]:
    sizes = (count, diameter * MM, length * MM, pitch * MM)
    return needle.dynamic_rating(*sizes, bm), needle.static_rating(*sizes)


LIFE_1, LIFE_2 = needle.rating_life(10000.0, 2000.0), needle.rating_life(8000.0, 1000.0)
FC_ROWS = {
    0.01: 52.1, 0.02: 60.8, 0.03: 66.5, 0.04: 70.7, 0.05: 74.1, 0.06: 76.9, 0.07: 79.2, 0.08: 81.2, 0.09: 82.8,
    0.10: 84.2, 0.12: 86.4, 0.14: 87.7, 0.16: 88.5, 0.18: 88.8, 0.20: 88.7, 0.22: 88.2, 0.24: 87.5, 0.26: 86.4,
    0.28: 85.2, 0.30: 83.8,
}  # fmt: skip
NEEDLES = [
    *(case(f"F30-{gamma}", "iso-281", lambda g=gamma: needle.load_factor(g), fc, abs_=0.05) for gamma, fc in FC_ROWS.items()),
    *(case(f"F32-{gamma}", "iso-281", lambda g=gamma: needle.load_factor_formula(g), fc, rel=0.001)
      for gamma, fc in FC_ROWS.items()),
    case("F31-a", "iso-281", lambda: needle.load_factor(0.125), 86.725, abs_=0.01),
    case("F31-b", "iso-281", lambda: needle.load_factor(0.19), 88.750, abs_=0.01),
    case("F31-c", "iso-281", lambda: needle.load_factor(0.27), 85.800, abs_=0.01),
    case("F33", "iso-281", lambda: (needle.BM_DRAWN, needle.BM_MACHINED), (1.0, 1.1)),
    case("F34-Cr", "iso-281", lambda: rating(18, 2.5, 9.8, 15, 1.1)[0], 13448, rel=0.001),
    case("F34-C0r", "iso-76", lambda: rating(18, 2.5, 9.8, 15, 1.1)[1], 16170, rel=0.001),
    case("F35-Cr", "iso-281", lambda: rating(20, 2.0, 8.0, 13.2, 1.0)[0], 8847, rel=0.001),
    case("F35-C0r", "iso-76", lambda: rating(20, 2.0, 8.0, 13.2, 1.0)[1], 11947, rel=0.001),
    case("F36-Cr", "iso-281", lambda: rating(14, 7, 12, 40, 1.1)[0], 39454, rel=0.001),
    case("F36-C0r", "iso-76", lambda: rating(14, 7, 12, 40, 1.1)[1], 42689, rel=0.001),
    case("F37", "own-form", lambda: needle.most_needles(2.5 * MM, 15 * MM), 18),
    case("F38-turns", "iso-281", lambda: LIFE_1 / 1e6, 213.75, rel=0.0005),
    case("F38-hours", "iso-281", lambda: needle.life_seconds(LIFE_1, 3000 * RPM) / 3600, 1187.5, rel=0.0005),
    case("F39-turns", "iso-281", lambda: LIFE_2 / 1e6, 1024, rel=0.0005),
    case("F39-hours", "iso-281", lambda: needle.life_seconds(LIFE_2, 3500 * RPM) / 3600, 4876.2, rel=0.0005),
    case(
        "F40", "iso-281",
        lambda: needle.equivalent_load(
            np.array([3000.0, 1500.0, 800.0]), np.array([1500.0, 3000.0, 4500.0]), np.array([0.2, 0.5, 0.3])
        ), 1690.2, rel=0.0005,
    ),
    case(
        "F41", "iso-281",
        lambda: needle.equivalent_load(
            np.concatenate([np.sin(np.pi * (np.arange(3500) + 0.5) / 3500), np.zeros(6500)]), np.ones(10000),
            np.full(10000, 1e-4),
        ), 0.5568, rel=0.001,
    ),
    case("F42", "iso-281", lambda: needle_oil.reference_viscosity(500 * RPM, 20 * MM) * 1e6, 57.883, rel=0.0005),
    case("F43", "iso-281", lambda: needle_oil.reference_viscosity(3000 * RPM, 15 * MM) * 1e6, 21.213, rel=0.0005),
    case("F44", "iso-281", lambda: needle_oil.reference_viscosity(1500 * RPM, 40 * MM) * 1e6, 18.371, rel=0.0005),
    case("F45-slow", "iso-281", lambda: needle_oil.reference_viscosity(999.999999 * RPM, 1 * MM) * 1e6, 145.62, abs_=0.01),
    case("F45-fast", "iso-281", lambda: needle_oil.reference_viscosity(1000 * RPM, 1 * MM) * 1e6, 142.30, abs_=0.01),
    *(case(f"F{row}", "iso-281", lambda k=kappa, e=load: needle_oil.life_factor(k, e, 1.0, 1.0), expected, rel=0.005)
      for row, kappa, load, expected in
      ((46, 0.2, 0.1, 0.1242), (47, 0.5, 0.2, 0.2443), (48, 1, 0.1, 0.3986), (49, 2, 0.3, 1.474), (50, 4, 0.05, 0.4048))),
    case("F51", "iso-281", lambda: tuple(needle_oil.RELIABILITY.values()), (1, 0.64, 0.55, 0.47, 0.37, 0.25)),
    case("F52", "shigley-bearings", lambda: needle.rating_needed(10.279, 1440e6), 91.1, rel=0.001),
    case("F53-above", "iso-281", lambda: needle_oil.life_factor(9.0, 0.1, 1.0, 1.0),
         float(needle_oil.life_factor(4.0, 0.1, 1.0, 1.0)), rel=1e-12),
    case("F53-below", "iso-281", lambda: bool(np.isnan(needle_oil.life_factor(0.09, 0.1, 1.0, 1.0))), True),
    case("F53-additive", "iso-281", lambda: needle_oil.additive_factor(0.3, 0.3, 1.0, 1.0),
         float(needle_oil.life_factor(1.0, 0.3, 1.0, 1.0)), rel=1e-12),
    case("F53-cap", "iso-281", lambda: needle_oil.additive_factor(0.3, 1.0, 3.0, 1.0), 3.0),
    case("F56", "iso-76", lambda: needle.static_safety(16170.0, 4800.0), 3.369, abs_=0.001),
    case("F57", "bearing-catalogue", lambda: needle.greatest_needle_load(4800.0, 18), 1088, abs_=1),
]  # fmt: skip


def hertz_at_static_rating() -> float:
    """Pressure of the most loaded needle on the axle at the static rating of F34: what the rating is defined by."""
    count, diameter, length, pitch = 18, 2.5 * MM, 9.8 * MM, 15 * MM
    most = 5 * float(needle.static_rating(count, diameter, length, pitch)) / count  # with play, as the standard counts
    inner = combined_radius(diameter / 2, (pitch - diameter) / 2)
    steel = reduced_modulus(Elastic(206e9, 0.3), Elastic(206e9, 0.3))
    return float(hertz.line_contact(most, length, inner, steel).pressure) / MPA


WELD = bush.bush_pressure(150 * LBF, 1.5 * INCH, 1.5 * INCH)
MOTT_SPEED = bush.surface_speed(1.5 * INCH, 500 * RPM)
FT_MIN = 12 * INCH / 60
SWING = bush.swinging_speed(16 * MM, math.radians(24), 25)
BUSH = [
    case("F55", "iso-76", hertz_at_static_rating, 4000, rel=0.03),
    case("F58-p", "mott", lambda: bush.bush_pressure(1200.0, 12 * MM, 14 * MM) / MPA, 7.143, rel=0.001),
    case("F58-v", "mott", lambda: bush.surface_speed(14 * MM, 600 * RPM), 0.4398, rel=0.001),
    case("F58-pv", "mott", lambda: bush.bush_pressure(1200.0, 12 * MM, 14 * MM) * bush.surface_speed(14 * MM, 600 * RPM) / MPA,
         3.142, rel=0.001),
    case("F59-p", "own-form", lambda: bush.bush_pressure(2200.0, 20 * MM, 16 * MM) / MPA, 6.875, rel=0.001),
    case("F59-mean", "own-form", lambda: SWING[0], 0.1676, rel=0.001),
    case("F59-peak", "own-form", lambda: SWING[1], 0.2632, rel=0.001),
    case("F60", "own-form", lambda: parse("50000 psi ft/min", Kind.PV, None).value / MPA, 1.751, rel=0.001),
    case("F61", "shigley-bearings", lambda: _row("bronze", False), (31.026, 7.62, 1.751), rel=0.001),
    case("F62", "shigley-bearings", lambda: _row("porous iron", False), (55.158, 4.064, 1.751), rel=0.001),
    *(case(f"F63-{word}", "mott", lambda w=word: (bush.bush_limits(w, fed=False) or bush.bush_lists()[0]).pv / MPA, pv, rel=0.002)
      for word, pv in (("leaded tin bronze", 2.625), ("aluminium bronze", 4.375), ("manganese bronze", 5.25),
                       ("porous bronze", 1.75))),
    case("F64-p", "mott", lambda: WELD / PSI, 66.7, rel=0.005),
    case("F64-v", "mott", lambda: MOTT_SPEED / FT_MIN, 196, rel=0.005),
    case("F64-pv", "mott", lambda: WELD * MOTT_SPEED / PSI / FT_MIN, 13100, rel=0.005),
    *(case(f"F65-{word}", "machine-elements-351", lambda w=word: (bush.bush_limits(w, fed=True) or bush.bush_lists()[0]).pv / MPA,
           pv, rel=1e-9) for word, pv in (("tin bronze", 15), ("lead bronze", 30), ("aluminium bronze", 15))),
    case("F66", "engineers-data-book", lambda: _row("porous metal", False), (30, 7.5, 0.7), rel=1e-9),
]  # fmt: skip


def _row(material: str, fed: bool) -> tuple[float | None, ...]:
    row = bush.bush_limits(material, fed=fed)
    assert row is not None
    return (row.pressure or 0) / MPA, row.speed, (row.pv or 0) / MPA


TABLES = [
    (67, 1.0, 0.1, 1.33, 79.5, 26.4, 0.54), (68, 1.0, 0.4, 0.264, 63.1, 5.79, 0.484),
    (69, 1.0, 0.6, 0.121, 50.58, 3.22, 0.415), (70, 1.0, 0.8, 0.0446, 36.24, 1.7, 0.313),
    (71, 0.5, 0.1, 4.31, 81.62, 85.6, 0.523), (72, 0.5, 0.2, 2.03, 74.94, 40.9, 0.506),
    (73, 0.5, 0.6, 0.319, 48.14, 8.1, 0.365), (74, 0.5, 0.8, 0.0923, 33.31, 3.26, 0.267),
    (75, 0.5, 0.9, 0.0313, 23.66, 1.6, 0.206), (76, 0.25, 0.1, 16.2, 82.31, 322, 0.515),
    (77, 0.25, 0.2, 7.57, 75.18, 153, 0.489), (78, 0.25, 0.4, 2.83, 60.86, 61.1, 0.415),
    (79, 0.25, 0.8, 0.261, 31.04, 8.8, 0.24), (80, 0.25, 0.9, 0.0736, 21.85, 3.5, 0.18),
]  # fmt: skip
S_81 = journal.sommerfeld(4e-6 * REYN, 30.0, 500 * LBF, 0.75 * INCH, 0.0015 * INCH, 1.5 * INCH)
S_85 = journal.sommerfeld(4.541e-6 * REYN, 1120 / 60, 1200 * LBF, 1.25 * INCH, 0.002 * INCH, 2.5 * INCH)
S_88 = journal.sommerfeld(0.055, 1100 / 60, 1200.0, 12.5 * MM, 0.015 * MM, 12.5 * MM)
J_81, J_85, J_88 = journal.journal(S_81, 1.0), journal.journal(S_85, 1.0), journal.journal(S_88, 0.5)
W_83 = (9 / 0.020) ** 2 * 0.012 * 50 * 2 * 9 * MM * 18 * MM / 0.264
J_83 = journal.journal(journal.sommerfeld(0.012, 50.0, W_83, 9 * MM, 0.020 * MM, 18 * MM), 1.0)
JOURNAL = [
    case("F81", "shigley-bearings", lambda: S_81, 0.135, rel=0.005),
    case("F82-h0", "shigley-bearings", lambda: J_81.film, 0.42, rel=0.03),
    case("F82-phi", "shigley-bearings", lambda: np.degrees(J_81.attitude), 53, rel=0.03),
    case("F82-friction", "shigley-bearings", lambda: J_81.friction, 3.50, rel=0.03),
    case("F82-pressure", "shigley-bearings", lambda: J_81.pressure, 0.42, rel=0.03),
    case("F83-W", "raimondi-boyd", lambda: W_83, 149.1, rel=0.015),
    case("F83-h0", "raimondi-boyd", lambda: J_83.film * 20, 12.0, rel=0.015),
    case("F83-f", "raimondi-boyd", lambda: J_83.friction * 0.020 / 9, 0.01287, rel=0.015),
    case("F84", "petroff", lambda: journal.journal(1000.0, 1.0).friction / 1000, 19.739, rel=0.01),
    case("F85-S", "shigley-bearings", lambda: S_85, 0.1724, rel=0.001),
    case("F85-h0", "shigley-bearings", lambda: J_85.film, 0.482, rel=0.02),
    case("F85-phi", "shigley-bearings", lambda: np.degrees(J_85.attitude), 56, rel=0.02),
    case("F85-friction", "shigley-bearings", lambda: J_85.friction, 4.10, rel=0.02),
    case("F85-pressure", "shigley-bearings", lambda: J_85.pressure, 0.45, rel=0.02),
    case("F86-h0", "raimondi-boyd", lambda: journal.interpolated(2, 0.96, 0.77, 0.54, 0.31), 0.8755, rel=0.001),
    case("F86-p", "raimondi-boyd", lambda: journal.interpolated(2, 0.84, 0.52, 0.42, 0.28), 0.6431, rel=0.001),
    *(case(f"F87-{q}", "raimondi-boyd", lambda r=q: journal.interpolated(r, 1.0, 2.0, 3.0, 4.0), y, rel=1e-12)
      for q, y in ((1.0, 2.0), (0.5, 3.0), (0.25, 4.0))),
    case("F88-S", "shigley-bearings", lambda: S_88, 0.1824, rel=0.002),
    case("F88-h0", "reynolds-solution", lambda: J_88.film, 0.298, rel=0.03),
    case("F88-friction", "reynolds-solution", lambda: J_88.friction, 5.29, rel=0.03),
]  # fmt: skip

NASA = (10.061, 0.01, 6.4 * MM, 16 * MM, 4800.0, 114e9, 2.2e-8)
BALL_97 = math.sqrt(10 * 9.81 * 0.01 * math.sin(math.radians(45)) / 7)
MASS_97 = 7800 * math.pi / 6 * 0.03**3 * 9.81 * math.cos(math.radians(45))
FILM = [
    case("F89", "hamrock-film", lambda: film.film_ellipse(*NASA[:3], 1e9, *NASA[4:])[0] / UM, 0.323, rel=0.005),
    case("F90", "hamrock-film", lambda: film.film_ellipse(*NASA[:2], 9.6 * MM, 1e9, *NASA[4:])[0] / UM, 0.390, rel=0.005),
    case("F91-dh", "dowson-higginson", lambda: film.film_line(*NASA) / UM, 0.3926, rel=0.001),
    case("F91-h", "hamrock-film", lambda: film.film_line_hamrock(*NASA) / UM, 0.3646, rel=0.001),
    case("F92", "dowson-higginson", lambda: film.film_line(1.5, 0.01, 8 * MM, 14 * MM, 2000.0, 230.77e9 / 2, 1.8e-8) / UM,
         0.1126, rel=0.001),
    case("F93", "dowson-higginson", lambda: film.film_line(0.6, 0.006, 10 * MM, 12 * MM, 3000.0, 230.77e9 / 2, 1.8e-8) / UM,
         0.0424, rel=0.002),
    case("F94-least", "hamrock-film", lambda: film.film_ellipse(
        2.0, 0.009, 12 * MM, (760 / 12) ** (2 / math.pi), 1500.0, 230.77e9 / 2, 1.8e-8)[0] / UM, 0.1325, rel=0.001),
    case("F94-centre", "hamrock-film", lambda: film.film_ellipse(
        2.0, 0.009, 12 * MM, (760 / 12) ** (2 / math.pi), 1500.0, 230.77e9 / 2, 1.8e-8)[1] / UM, 0.1669, rel=0.001),
    case("F95", "hamrock-machine", lambda: film.film_ratio(0.30 * UM, 0.20 * UM, 0.15 * UM), 1.2, abs_=0.001),
    case("F96", "hamrock-machine", lambda: [film.regime(x).value for x in (0.99, 1.0, 2.99, 3.0)],
         ["boundary", "mixed", "mixed", "full film"]),
    # That book's R' is half of Rx, its U half of the ball's speed: its form, not ours.
    case("F97", "stachowiak", lambda: film.film_ellipse(
        BALL_97 / 2, 0.05, 7.5 * MM, 1.0339, MASS_97, 230.77e9 / 2, 2.2e-8)[0] / UM, 0.0587, rel=0.005),
]  # fmt: skip

W_98 = oil.walther((313.15, 100e-6), (373.15, 14e-6))
W_99 = oil.walther((313.15, 68e-6), (373.15, 8.7e-6))
W_113 = oil.walther((313.0, 32e-6), (373.0, 5.4e-6))
OIL = [
    case("F98-AB", "astm-d341", lambda: tuple(W_98), (7.98909, 3.08019), rel=0.001),
    *(case(f"F98-{t}", "astm-d341", lambda c=t: oil.kinematic(W_98, 273.15 + c) * 1e6, v, rel=0.001)
      for t, v in ((20, 284.1), (60, 44.51), (80, 23.46), (120, 9.161), (150, 5.501))),
    case("F99-AB", "astm-d341", lambda: tuple(W_99), (9.30969, 3.62440), rel=0.001),
    *(case(f"F99-{t}", "astm-d341", lambda c=t: oil.kinematic(W_99, 273.15 + c) * 1e6, v, rel=0.001)
      for t, v in ((60, 28.66), (90, 11.15), (130, 4.736))),
    *(case(f"F{row}", "sae-j300", lambda g=grade: _limits(g), limits, rel=1e-9) for row, grade, limits in (
        (100, "0W-16", (6.1, 8.2, 2.3)), (101, "5W-20", (6.9, 9.3, 2.6)), (102, "SAE 30", (9.3, 12.5, 2.9)),
        ("103-light", "10W-40", (12.5, 16.3, 3.5)), ("103-heavy", "20W-40", (12.5, 16.3, 3.7)),
        ("103-single", "40", (12.5, 16.3, 3.7)), (104, "60", (21.9, 26.1, 3.7)))),
    case("F105", "own-form", lambda: oil.dynamic(14e-6, 828.0) * 1e3, 11.592, abs_=0.001),
    case("F106", "own-form", lambda: oil.density(373.15), 831.38, abs_=0.01),
    case("F107", "hamrock-film", lambda: 1.5e-8 <= oil.PRESSURE_COEFFICIENT <= 2.4e-8, True),
    case("F108", "hamrock-film", lambda: oil.under_pressure(0.010, 2e-8, 100e6) * 1e3, 73.89, abs_=0.01),
    case("F113", "astm-d341", lambda: oil.kinematic(W_113, 353.0) * 1e6, 8.533, rel=0.001),
    case("F114", "seireg-dandage", lambda: oil.seireg_viscosity(30, 273.15 + 79) * 1e3, 15.19, rel=0.002),
    case("F115", "seireg-dandage", lambda: [oil.SEIREG[g] for g in (10, 20, 40, 50, 60)],
         [(0.0158, 1157.5), (0.0136, 1271.6), (0.0121, 1474.4), (0.0170, 1509.6), (0.0187, 1564.0)]),
    *(case(f"F{row}", "api-categories", lambda n=name: _phosphorus(n), limits) for row, name, limits in (
        (124, "API SM", (600, 800)), (125, "GF-5", (600, 800)), (126, "SL", (None, 1000)), ("127-SH", "SH", (None, 1200)),
        ("127-SJ", "API SJ", (None, 1000)), ("128-CJ", "CJ-4", (None, 1200)), ("128-CK", "API CK-4", (None, 1200)))),
]  # fmt: skip


def _limits(text: str) -> tuple[float, float, float]:
    hot = oil.grade_of(text).hot
    return hot.least * 1e6, hot.most * 1e6, hot.high_shear * 1e3


def _phosphorus(text: str) -> tuple[int | None, int | None]:
    found = oil.category_of(text)
    assert found is not None
    ppm = [None if each is None else round(each * 1e6) for each in (found.least, found.most)]
    return ppm[0], ppm[1]


def _bulk(pressure: float, share: float, exponent: float) -> Any:
    return bulk.bulk_modulus(pressure * 1e5, share, exponent) / MPA


DP_117 = 400 / float(plunger.plunger_area(14 * MM))
PLUNGER = [
    *(case(f"F110-{p}", "merritt", lambda q=p: _bulk(q, 0.01, 1.0), b, rel=0.002)
      for p, b in ((1.01325, 10.07), (5, 210.4), (10, 592.1), (50, 1413))),
    *(case(f"F111-{p}", "merritt", lambda q=p: _bulk(q, 0.01, 1.4), b, rel=0.002)
      for p, b in ((1.01325, 14.05), (5, 189.9), (10, 483.2), (50, 1324))),
    *(case(f"F112-{p}", "merritt", lambda q=p: _bulk(q, 0.05, 1.4), b, rel=0.002) for p, b in ((5, 41.14), (50, 886))),
    case("F117-dp", "rabie", lambda: DP_117 / MPA, 2.598, rel=0.001),
    case("F117-Q", "rabie", lambda: plunger.leak_flow(14 * MM, 3 * UM, 12 * MM, DP_117, 0.05) * 1e9, 0.4286, rel=0.001),
    case("F117-t", "rabie", lambda: plunger.leak_down_time(MM, 400.0, 14 * MM, 3 * UM, 12 * MM, 0.05), 359.2, rel=0.001),
    case("F117-t-eccentric", "merritt", lambda: plunger.leak_down_time(MM, 400.0, 14 * MM, 3 * UM, 12 * MM, 0.05, 1.0),
         143.7, rel=0.001),
    case("F118-t", "rabie", lambda: plunger.leak_down_time(0.5 * MM, 600.0, 11 * MM, 4 * UM, 10 * MM, 0.012), 4.9, rel=0.001),
    case("F118-t-eccentric", "merritt", lambda: plunger.leak_down_time(
        0.5 * MM, 600.0, 11 * MM, 4 * UM, 10 * MM, 0.012, 1.0), 1.96, rel=0.001),
    case("F119", "own-form", lambda: plunger.leak_flow(14 * MM, 4 * UM, 12 * MM, 1e6, 0.05)
         / plunger.leak_flow(14 * MM, 3 * UM, 12 * MM, 1e6, 0.05), 2.3704, abs_=0.0001),
    case("F120", "merritt", lambda: plunger.leak_flow(14 * MM, 3 * UM, 12 * MM, 1e6, 0.05, 0.6)
         / plunger.leak_flow(14 * MM, 3 * UM, 12 * MM, 1e6, 0.05), 1.54, rel=1e-12),
    case("F121", "own-form", lambda: plunger.oil_stiffness(1.5e9, 14 * MM, 5 * MM) / 1e6, 46.18, rel=0.001),
    case("F121-give", "own-form", lambda: plunger.squeeze(800.0, 14 * MM, 5 * MM, 0.0) / UM, 17.32, rel=0.001),
    case("F122", "own-form", lambda: plunger.oil_stiffness(0.3e9, 14 * MM, 5 * MM) / 1e6, 9.236, rel=0.001),
    case("F122-give", "own-form", lambda: 800 / plunger.oil_stiffness(0.3e9, 14 * MM, 5 * MM) / UM, 86.61, rel=0.001),
    case("F123", "own-form", lambda: plunger.gap_reynolds(1.071e-9, 14 * MM, 3 * UM, 0.05, 850.0), 8.28e-4, rel=0.05),
]  # fmt: skip


def _alpha(material: str) -> float:
    found = expansion.coefficient(material)
    assert found is not None
    return found[1] * 1e6


RAD = math.radians
LOWERED = lever.pivot_lowered(1 * MM, 36 * MM, 24 * MM, RAD(12), RAD(5))
SETTING = [
    case("F129", "callister", lambda: _alpha("aluminium"), 21.5, abs_=0.1),
    case("F130", "callister", lambda: _alpha("wrought aluminium"), 23.6, abs_=0.1),
    case("F131", "callister", lambda: _alpha("iron"), 11.4, abs_=0.1),
    case("F132", "callister", lambda: (_alpha("ductile iron"), _alpha("pearlitic ductile iron")), (11.2, 10.6), abs_=0.1),
    case("F133", "callister", lambda: (_alpha("steel"), _alpha("medium carbon steel"), _alpha("4130 chrome-moly")),
         (11.7, 11.3, 12.3), abs_=0.2),
    case("F134", "shigley-contact", lambda: tuple(1e6 * each.coefficient for each in expansion.mean_to_100()), (10.8, 10.6, 23.9),
         abs_=0.1),
    case("F135", "callister", lambda: _alpha("titanium"), 8.6, abs_=0.1),
    case("F136", "own-form", lambda: expansion.pushrod_change((0.25, 21.5e-6), (0, 0), (0.25, 11.7e-6), (0, 0), 70.0) / MM,
         0.1715, abs_=1e-4),
    case("F137", "own-form", lambda: expansion.pushrod_change((0.25, 11.4e-6), (0, 0), (0.25, 11.7e-6), (0, 0), 70.0) / MM,
         -0.0052, abs_=1e-4),
    case("F138", "own-form", lambda: expansion.stem_change((0.1, 12.3e-6), 300.0, (0.1, 21.5e-6), 80.0) / MM, -0.1970, abs_=1e-4),
    *(case(f"F{row}", source, lambda d=thread: parse_thread(d) / MM, pitch, abs_=1e-5) for row, source, thread, pitch in (
        (139, "asme-b1-1", "5/16-24", 1.05833), (140, "asme-b1-1", "3/8-24", 1.05833), (141, "asme-b1-1", "7/16-20", 1.27),
        (142, "asme-b1-1", "1/2-20", 1.27), ("143-a", "iso-261", "M8x1", 1.0), ("143-b", "iso-261", "M10x1.25", 1.25),
        ("143-c", "iso-261", "M10x1", 1.0))),
    case("F144", "own-form", lambda: lever.turn_depth(MM, "pushrod", 1.6).exact / MM, 1.0, rel=1e-12),
    case("F145", "own-form", lambda: lever.turn_depth(MM, "pivot", 1.6).straight / MM, 1 + 1 / 1.6, rel=1e-12),
    *(case(f"F{row}", "own-form", lambda t=turns, p=pitch, r=ratio: t * lever.turn_depth(p * MM, "pivot", r).exact / MM, depth,
           abs_=1e-4) for row, turns, pitch, ratio, depth in (
        (146, 0.5, 1.0583, 1.5, 0.8819), (147, 0.75, 1.27, 1.6, 1.5478), (148, 1, 1.25, 1.7, 1.9853))),
    case("F149", "own-form", lambda: lever.pivot_lowered(0.5 * MM, 36 * MM, 24 * MM).drop / MM, 0.833333, abs_=1e-6),
    case("F150", "own-form", lambda: lever.pivot_lowered(0.5 * MM, 36 * MM, 24 * MM, RAD(12)).drop / MM, 0.825568, abs_=1e-6),
    case("F150-first", "own-form", lambda: lever.turn_depth(0.5 * MM, "pivot", 1.5, cup_angle=RAD(12)).first_order / MM,
         0.826049, abs_=1e-6),
    case("F151", "own-form", lambda: LOWERED.drop / MM, 1.650173, abs_=1e-6),
    case("F152-side", "own-form", lambda: LOWERED.side / MM, 0.147666, abs_=1e-6),
    case("F152-along", "own-form", lambda: LOWERED.along / MM, 1.656763, abs_=1e-6),
]  # fmt: skip


@pytest.mark.parametrize(
    ("found", "expected", "tolerance"), [*CONTACT, *NEEDLES, *BUSH, *JOURNAL, *FILM, *OIL, *PLUNGER, *SETTING]
)
def test_published_value(found: Found, expected: object, tolerance: dict[str, float | None]) -> None:
    value = found()
    if tolerance["rel"] is None and tolerance["abs"] is None:
        assert value == expected
    else:
        assert value == pytest.approx(expected, rel=tolerance["rel"], abs=tolerance["abs"] or 0.0)


@pytest.mark.reference("johnson-contact")
def test_f08_a_hollow_no_wider_than_its_roller_has_no_contact() -> None:
    with pytest.raises(InputError, match="hollow"):
        combined_radius(-9 * MM, 9.5 * MM)


@pytest.mark.reference("machinerys-handbook")
@pytest.mark.parametrize(("row", "material", "psi", "mpa"), ALLOWED, ids=[each[0] for each in ALLOWED])
def test_allowable_pressures(row: str, material: str, psi: int, mpa: int) -> None:
    pair = contact_limits.pair_of(material, "steel", rolls=True)
    assert pair is not None
    assert pair.stress / MPA == pytest.approx(mpa, abs=0.5)
    assert pair.stress / PSI == pytest.approx(psi, rel=0.002)
    assert pair.seen == "memory"


@pytest.mark.reference("bearing-catalogue")
def test_f54_guide_values_stand_in_the_rule_book() -> None:
    from loadbench.findings.rulebook import program_rules

    limit = program_rules()["needle-safety"].limits["usual"]
    assert (limit.watch, limit.stop) == (1.5, 1.0)


@pytest.mark.reference("raimondi-boyd")
@pytest.mark.parametrize("row", TABLES, ids=[f"F{each[0]}" for each in TABLES])
def test_the_tables_hold_what_was_published_and_what_reynolds_equation_gives(row: tuple[float, ...]) -> None:
    _, ratio, eccentricity, *published = row
    place = int(np.argmin(np.abs(journal.ECCENTRICITIES - eccentricity)))
    tables = (journal.SOMMERFELD, journal.ATTITUDE, journal.FRICTION, journal.PRESSURE)
    ours = [float(table[ratio][place]) for table in tables]
    solved = solve(eccentricity, ratio)
    for got, wanted, from_equation, slack in zip(ours, published, solved, (0.015, 0.015, 0.015, 0.03), strict=True):
        assert got == pytest.approx(wanted, rel=slack)
        assert got == pytest.approx(from_equation, rel=slack + 0.005)


@pytest.mark.reference("reynolds-solution")
@pytest.mark.parametrize("ratio", journal.RATIOS)
def test_every_row_of_the_tables_agrees_with_reynolds_equation(ratio: float) -> None:
    for place, eccentricity in enumerate(journal.ECCENTRICITIES):
        fine = eccentricity > 0.9
        solved = solve(float(eccentricity), ratio, 480 if fine else 240, 24 if fine else 16)
        tables = (journal.SOMMERFELD, journal.ATTITUDE, journal.FRICTION, journal.PRESSURE)
        for table, wanted, slack in zip(tables, solved, (0.031, 0.016, 0.03, 0.06), strict=True):
            assert float(table[ratio][place]) == pytest.approx(wanted, rel=slack), (ratio, eccentricity)


@pytest.mark.reference("rabie")
def test_f116_the_textbook_short_form_is_softer_and_only_recorded() -> None:
    for pressure, short in ((5, 48.4), (10, 93.8), (50, 375.9)):
        p, share, liquid = pressure * 1e5, 0.01, 1.5e9
        assert 1 / (share / p + (1 - share) / liquid) / MPA == pytest.approx(short, rel=0.001)
        assert float(bulk.bulk_modulus(p, share, 1.0)) / MPA > short * 3


def test_elastic_constants_of_the_catalogue_are_within_the_usual_range() -> None:
    for each in (elastic.STEEL, elastic.CAST_IRON, elastic.CHILLED_IRON, elastic.NODULAR_IRON):
        assert 90e9 < each.modulus < 215e9
        assert 0.2 < each.poisson < 0.31
