"""What a job says of a coil's wire and turns: read, completed by the ends, and named where it is wanting."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from loadbench.job.checks import checked
from loadbench.job.edits import replaced, replaced_all
from loadbench.job.model import Job
from loadbench.job.stated import LineStated, read_stated
from loadbench.readings.coil_geometry import CoilGeometry, coil_geometry, with_coils_of_rate
from loadbench.readings.coil_line import strand_of_geometry, winding_of
from loadbench.readings.strand import Evidence
from loadbench.spring.ends import Ends
from loadbench.spring.section import Shape

COIL = "spring.coils.0"
ROUND: dict[str, Any] = {
    "wire.diameter": "5 mm",
    "mean_diameter": "30 mm",
    "active_coils": 4.0,
    "total_coils": 6.0,
    "ends": "closed and ground",
    "material": "chrome-silicon",
    "free_height": "57 mm",
}
OVATE: dict[str, Any] = {
    **ROUND,
    "wire.diameter": None,
    "wire.shape": "ovate",
    "wire.width": "5 mm",
    "wire.thickness": "4 mm",
}
CONE: dict[str, Any] = {
    **ROUND,
    "wire.diameter": "4 mm",
    "mean_diameter": "32 mm",
    "small_mean_diameter": "20 mm",
    "active_coils": 6.0,
    "total_coils": 8.0,
    "free_height": "68 mm",
}
BEEHIVE: dict[str, Any] = {**CONE, "tapered_coils": 2.0}
G = 79.5e9


def job(fields: dict[str, Any]) -> Job:
    return replaced_all(Job(title="t"), {"units": "metric"} | {f"{COIL}.{name}": at for name, at in fields.items()})


def line(fields: dict[str, Any]) -> LineStated:
    return checked(read_stated(job(fields))).line("common")


def read(fields: dict[str, Any], **changes: Any) -> CoilGeometry:
    return coil_geometry(line(fields | {name.replace("__", "."): value for name, value in changes.items()}), COIL)


def own(*names: str) -> tuple[str, ...]:
    return tuple(f"{COIL}.{name}" for name in names)


def test_a_round_cylinder() -> None:
    found = read(ROUND)
    assert found.section is not None
    assert (found.section.shape, float(found.section.radial)) == (Shape.ROUND, pytest.approx(0.005))
    assert (found.mean_diameter, found.small_mean_diameter, found.tapered_coils) == (0.03, 0.03, 0.0)
    assert (found.active_coils, found.total_coils, found.ends) == (4.0, 6.0, Ends.CLOSED_GROUND)
    assert (found.missing, found.tapers, found.concerned) == ((), False, True)
    assert found.rate == G * 0.005**4 / (8 * 0.03**3 * 4.0)


def test_width_is_across_and_thickness_along() -> None:
    section = read(OVATE).section
    assert section is not None
    assert (float(section.radial), float(section.axial)) == (pytest.approx(0.005), pytest.approx(0.004))


@pytest.mark.parametrize(
    ("changes", "active", "total"),
    [
        ({"active_coils": None}, 4.0, 6.0),
        ({"total_coils": None}, 4.0, 6.0),
        ({"active_coils": None, "ends": "plain and ground"}, 5.0, 6.0),
        ({"total_coils": None, "ends": "plain"}, 4.0, 4.0),
    ],
)
def test_the_ends_tell_active_coils_from_total(changes: dict[str, Any], active: float, total: float) -> None:
    found = read(ROUND, **changes)
    assert (found.active_coils, found.total_coils, found.missing) == (active, total, ())
    assert found.active_by_ends is ("active_coils" in changes)
    assert found.total_by_ends is ("total_coils" in changes)


@pytest.mark.parametrize(
    ("changes", "missing"),
    [
        ({"wire.diameter": None}, own("wire.diameter")),
        ({"wire.diameter": "thick"}, own("wire.diameter")),
        ({"wire.shape": "oval"}, own("wire.shape")),
        ({"wire.diameter": None, "wire.width": "5", "wire.thickness": "4"}, own("wire.shape")),
        ({"wire.shape": "ovate", "wire.width": "5"}, own("wire.thickness")),
        ({"mean_diameter": None}, own("mean_diameter")),
        ({"material": "cheese"}, own("material")),
        ({"ends": "curly"}, own("ends")),
        ({"free_height": None}, own("free_height")),
        ({"active_coils": None, "ends": "curly"}, own("ends")),
        ({"active_coils": None, "total_coils": None}, own("active_coils", "total_coils")),
        ({"total_coils": 1.5, "active_coils": None}, own("total_coils")),
        ({"small_mean_diameter": "40 mm"}, own("small_mean_diameter")),
        ({"tapered_coils": 2.0}, own("small_mean_diameter")),
    ],
)
def test_what_is_wanting_is_named(changes: dict[str, Any], missing: tuple[str, ...]) -> None:
    assert read(ROUND, **changes).missing == missing


def test_a_faulty_entry_gives_nothing_nor_does_another_in_its_place() -> None:
    more = read(ROUND, active_coils=9.0)  # more than in all
    assert (more.active_coils, more.rate, more.missing) == (None, None, own("active_coils"))
    assert more.faulty == frozenset(own("active_coils"))
    wide = read(ROUND, mean_diameter="300 mm")  # an index of 60
    assert (wide.mean_diameter, wide.rate, wide.concerned) == (None, None, True)
    assert read(CONE, tapered_coils=7.0).rate is None
    assert read({"wire.diameter": "thick"}).concerned


def test_a_wire_beyond_its_strength_table_still_gives_a_rate() -> None:
    view = line(ROUND | {"wire.diameter": "12 mm", "mean_diameter": "72 mm"})
    assert f"{COIL}.wire.diameter" in view.stated.problems
    assert coil_geometry(view, COIL).rate == pytest.approx(G * 0.012**4 / (8 * 0.072**3 * 4))


def test_a_name_alone_says_nothing_of_the_wire() -> None:
    assert not read({"name": "outer", "bind_height": "30 mm", "material": "music"}).concerned


def rate_of(diameters: Any, turns: Any, torsion: float) -> float:
    """Compliances of many short pieces added: pi D^3/(4 G J) a turn."""
    return float(1 / np.sum(np.pi * np.asarray(diameters) ** 3 / (4 * G * torsion) * turns))


def test_rates_of_every_section_and_taper() -> None:
    ellipse = math.pi * 0.0025**3 * 0.002**3 / (0.0025**2 + 0.002**2)
    assert read(OVATE).rate == pytest.approx(rate_of([0.03], [4], ellipse))
    flat = 0.22868 * 0.004 * 0.002**3  # k1 at sides of 2 to 1, as tabled
    rectangle = {**OVATE, "wire.shape": "rectangular", "wire.width": "4 mm", "wire.thickness": "2 mm"}
    assert read(rectangle).rate == pytest.approx(rate_of([0.03], [4], flat), rel=2e-5)
    round_wire, steps = math.pi * 0.004**4 / 32, 20000
    middles = 0.032 - 0.012 * (np.arange(steps) + 0.5) / steps
    assert read(CONE).rate == pytest.approx(rate_of(middles, np.full(steps, 6 / steps), round_wire), rel=1e-6)
    sizes, turns = np.append(middles, 0.032), np.append(np.full(steps, 2 / steps), 4)
    assert read(BEEHIVE).rate == pytest.approx(rate_of(sizes, turns, round_wire), rel=1e-6)
    # The published conical formula: S151 of the check values, 79.5 GPa.
    assert read(CONE).rate == pytest.approx(22904.06, rel=1e-6)


def test_all_coils_of_a_cone_taper_unless_it_is_said() -> None:
    assert (read(CONE).tapered_coils, read(BEEHIVE).tapered_coils) == (6.0, 2.0)
    assert read(CONE, small_mean_diameter="32 mm").tapered_coils == 0.0


@pytest.mark.parametrize("fields", [ROUND, OVATE, CONE, BEEHIVE], ids=["round", "ovate", "cone", "beehive"])
def test_coils_counted_from_a_rate_give_that_rate(fields: dict[str, Any]) -> None:
    whole, unknown = read(fields), read(fields, active_coils=None, total_coils=None)
    assert whole.rate is not None
    found = with_coils_of_rate(unknown, whole.rate)
    assert found is not None
    assert found.active_inferred
    assert found.active_coils == pytest.approx(whole.active_coils)
    assert found.total_coils == pytest.approx(whole.total_coils)
    assert (found.rate, found.missing) == (pytest.approx(whole.rate), ())
    assert found.tapered_coils == pytest.approx(whole.tapered_coils)


def test_coils_cannot_be_counted_without_the_wire_nor_from_too_high_a_rate() -> None:
    assert with_coils_of_rate(read(ROUND, active_coils=None, total_coils=None, material=None), 5e4) is None
    tapered_alone = read(BEEHIVE, active_coils=2.0, total_coils=4.0).rate or 0.0
    unknown = read(BEEHIVE, active_coils=None, total_coils=None)
    assert with_coils_of_rate(unknown, 1.01 * tapered_alone) is None


def test_the_line_of_a_cylinder_is_straight_and_needs_only_the_free_height() -> None:
    rate, strand, missing = strand_of_geometry(read(ROUND, ends=None))
    assert (rate, missing) == (pytest.approx(G * 0.005**4 / (8 * 0.03**3 * 4)), ())
    assert strand is not None
    assert strand.knots is None
    assert float(strand.load(0.047)) == pytest.approx(rate * 0.010)
    assert strand_of_geometry(read(ROUND, free_height=None))[1:] == (None, own("free_height"))


@pytest.mark.parametrize("fields", [CONE, BEEHIVE], ids=["cone", "beehive"])
def test_the_curve_of_a_taper_follows_its_coils_as_they_land(fields: dict[str, Any]) -> None:
    geometry = read(fields)
    rate, strand, missing = strand_of_geometry(geometry)
    winding = winding_of(geometry)
    assert strand is not None
    assert winding is not None
    assert (strand.evidence, strand.coverage, missing) == (Evidence.GEOMETRIC, None, ())
    # Each short piece yields F c until its own gap is used up; the gap is the free pitch less the landed height.
    steps, torsion, tapered = 6000, math.pi * 0.004**4 / 32, geometry.tapered_coils
    turn = (np.arange(steps) + 0.5) * 6 / steps
    diameters = 0.032 - 0.012 * np.clip((turn - (6 - tapered)) / tapered, 0, None)
    soft = np.pi * diameters**3 / (4 * G * torsion) * 6 / steps
    landed = np.where(diameters < 0.032, 0.004 * math.sqrt(1 - (0.012 / 2 / tapered / 0.004) ** 2), 0.004)
    gap = (0.060 / 6 - landed) * 6 / steps
    for load in (100.0, 300.0, 450.0, 600.0, 1000.0, 1500.0, 1800.0):
        height = 0.068 - float(np.minimum(load * soft, gap).sum())
        assert float(strand.load(height)) == pytest.approx(load, rel=3e-3)
    assert float(strand.load(0.070)) == 0.0
    assert float(strand.rate_at(0.060)) == pytest.approx(rate)
    assert winding.bind_height == pytest.approx(0.008 + float(landed.sum()) * 6 / steps)
    heights = np.linspace(winding.bind_height, 0.068, 3000)
    assert np.all(np.diff(strand.load(heights)) <= 1e-9)


def test_the_curve_of_a_taper_needs_the_ends_and_a_free_height_above_bind() -> None:
    rate, strand, missing = strand_of_geometry(read(CONE, ends=None))
    assert rate is not None
    assert (strand, missing) == (None, own("ends"))
    assert strand_of_geometry(read(CONE, free_height="30 mm"))[1:] == (None, own("free_height"))


def test_a_coil_is_read_again_only_when_it_changes() -> None:
    before = job(ROUND)
    first = coil_geometry(read_stated(before).line("common"), COIL)
    other = replaced(before, "spring.installed_height", "45 mm")
    assert coil_geometry(read_stated(other).line("common"), COIL) is first
    loaded = replaced(other, f"{COIL}.bind_height", "31 mm")
    assert coil_geometry(read_stated(loaded).line("common"), COIL) is first
    thicker = replaced(loaded, f"{COIL}.wire.diameter", "5.1 mm")
    assert coil_geometry(read_stated(thicker).line("common"), COIL).rate == pytest.approx(
        (first.rate or 0.0) * 1.02**4, rel=1e-9
    )
