"""The table of wires: every row with a source, strengths that fall, names as typed, odd rows told with their place."""

from __future__ import annotations

import math

import numpy as np
import pytest

from loadbench.errors import InputError
from loadbench.sources import SOURCES
from loadbench.spring.materials import Material, equal_area_diameter, material, materials, read_materials
from loadbench.spring.strength import Steps

ROW = """[x]
label = "X"
aliases = []
shear_modulus_Pa = 8e10
elastic_modulus_Pa = 2e11
density_kg_per_m3 = 7850.0
source = "gum"
other_shear_modulus_Pa = 8e10
other_elastic_modulus_Pa = 2e11
other_source = "gum"
strength = { at_one_mm_Pa = 2e9, exponent = 0.1, least_diameter_m = 1e-3, most_diameter_m = 5e-3 }
strength_source = "gum"
static_share = 0.5
static_share_preset_low = 0.6
static_share_preset_high = 0.7
static_source = "gum"
zimmerli = true
"""
LAW = ROW.splitlines()[10]
NAMES = ["music", "hard-drawn", "oil-tempered", "chrome-vanadium", "chrome-silicon", "VDSiCr", "VDSiCrV"]


def step(over: float, to: float, low: float = 1.9e9, high: float = 2.0e9, seen: str = "read") -> str:
    return f'{{ over_m = {over}, to_m = {to}, low_Pa = {low}, high_Pa = {high}, seen = "{seen}" }}'


def steps(*rows: str) -> str:
    return f"strength = [{', '.join(rows)}]"


def test_shipped_wires_have_sources_and_the_moduli_of_steel() -> None:
    assert list(materials()) == NAMES
    for row in materials().values():
        assert {row.source, row.other_source, row.strength_source, row.static_source} <= SOURCES.keys()
        # Spring steels lie between 76 and 83 GPa in every handbook, and the two sets are not far apart.
        assert 76e9 < row.other_shear_modulus_Pa < row.shear_modulus_Pa < 83e9
        assert row.other_shear_modulus_Pa == pytest.approx(row.shear_modulus_Pa, rel=0.04)
        assert 190e9 < row.other_elastic_modulus_Pa < row.elastic_modulus_Pa < 210e9
        assert 0 < row.static_share < row.static_share_preset_low < row.static_share_preset_high < 1


@pytest.mark.parametrize("name", NAMES)
def test_strength_falls_with_the_diameter(name: str) -> None:
    row = materials()[name]
    diameters = np.linspace(row.least_diameter_m * 1.001, row.most_diameter_m, 400)
    low, high = row.tensile_band(diameters)
    assert np.all(np.diff(low) <= 0)
    assert np.all(np.diff(high) <= 0)
    assert low[0] > low[-1]
    assert np.all(low <= high)
    assert row.tensile_strength(diameters).tolist() == low.tolist()
    assert np.all((low > 1.0e9) & (high < 3.2e9))


@pytest.mark.parametrize("name", NAMES)
def test_outside_its_range_a_strength_is_unknown(name: str) -> None:
    row = materials()[name]
    outside = np.array([row.least_diameter_m * 0.999, row.most_diameter_m * 1.001, np.nan])
    assert np.isnan(row.tensile_band(outside)).all()
    assert [row.holds_for(float(each)) for each in outside] == [False] * 3
    assert row.strength_seen(float(outside[0])) == row.strength_seen(float(outside[1])) == ""
    assert row.holds_for(row.most_diameter_m)
    # Typed in inches the edge comes back a rounding away, and still counts.
    assert row.holds_for(row.most_diameter_m / 0.0254 * 0.0254 * (1 + 1e-12))
    assert row.tensile_strength(np.full((2, 3), row.most_diameter_m)).shape == (2, 3)


def test_what_a_strength_rests_on_is_told() -> None:
    grade = materials()["VDSiCr"]
    seen = [grade.strength_seen(each) for each in (0.0018, 0.0022, 0.0028, 0.0048)]
    assert seen == ["memory", "read", "bounded", "read"]
    assert materials()["music"].strength_seen(0.004) == "read"


def test_a_bounded_step_is_held_by_its_neighbours() -> None:
    strength = materials()["VDSiCr"].strength
    assert isinstance(strength, Steps)
    held = [place for place, each in enumerate(strength.steps) if each.seen == "bounded"]
    assert held
    for place in held:
        thin, here, thick = strength.steps[place - 1 : place + 2]
        assert (here.low_Pa, here.high_Pa) == (thick.low_Pa, thin.high_Pa)


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("Music", "music"),
        ("piano wire", "music"),
        ("HARD drawn", "hard-drawn"),
        (" Chrome Silicon ", "chrome-silicon"),
        ("CHROME-VANADIUM", "chrome-vanadium"),
        ("oil_tempered wire", "oil-tempered"),
        ("ASTM  A401", "chrome-silicon"),
        ("vdsicr", "VDSiCr"),
        ("EN 10270-2 VDSiCrV", "VDSiCrV"),
        ("valve spring chrome silicon", "VDSiCr"),
    ],
)
def test_wire_by_the_name_typed(typed: str, name: str) -> None:
    found = material(typed)
    assert found is not None
    assert found.name == name


def test_no_two_wires_share_a_name() -> None:
    words = [word for row in materials().values() for word in (row.name, row.label, *row.aliases)]
    plain = {" ".join(word.lower().replace("-", " ").split()): material(word) for word in words}
    assert all(found is not None for found in plain.values())
    for row in materials().values():
        assert {material(word) for word in (row.name, row.label, *row.aliases)} == {row}


@pytest.mark.parametrize("name", [None, "", "unobtainium"])
def test_an_unknown_wire_is_none(name: str | None) -> None:
    assert material(name) is None


def test_another_section_is_read_at_its_equal_round() -> None:
    assert equal_area_diameter(math.pi * np.array([0.004, 0.005]) ** 2 / 4) == pytest.approx([0.004, 0.005], rel=1e-12)


def read(text: str) -> Material:
    return read_materials(text, "odd.toml")["x"]


def test_a_sound_row_is_read() -> None:
    assert read(ROW).tensile_strength(0.001) == pytest.approx(2e9)
    assert read(ROW).upper_temperature_K is None
    stepped = read(ROW.replace(LAW, steps(step(1e-3, 2e-3), step(2e-3, 3e-3, 1.8e9, 1.9e9))))
    assert stepped.tensile_strength(np.array([1e-3, 2e-3, 2.1e-3, 3e-3]))[1:] == pytest.approx([1.9e9, 1.8e9, 1.8e9])
    assert not stepped.holds_for(1e-3)


@pytest.mark.parametrize(
    ("text", "named"),
    [
        (ROW.replace("shear_modulus_Pa = 8e10\nel", "el"), "shear_modulus_Pa"),
        (ROW + 'colour = "blue"', "colour"),
        (ROW + 'name = "y"', "name"),
        (ROW.replace('\nsource = "gum"', '\nsource = "hearsay"'), "hearsay"),
        (ROW.replace('strength_source = "gum"', 'strength_source = "hearsay"'), "strength_source 'hearsay'"),
        (ROW + "upper_temperature_K = 400.0", "temperature"),
        (ROW.replace("exponent = 0.1, ", ""), "exponent"),
        (ROW.replace(LAW, "strength = []"), "strength"),
        (ROW.replace(LAW, steps(step(1e-3, 2e-3, seen="heard"))), "strength"),
        (ROW.replace(LAW, steps(step(2e-3, 1e-3))), "step over 0.002"),
        (ROW.replace(LAW, steps(step(1e-3, 2e-3), step(2.5e-3, 3e-3))), "step over 0.0025"),
        (ROW.replace(LAW, steps(step(1e-3, 2e-3), step(2e-3, 3e-3, 1.95e9))), "step over 0.002"),
    ],
)
def test_an_odd_row_is_told_with_its_place(text: str, named: str) -> None:
    with pytest.raises(InputError, match=named) as told:
        read(text)
    assert (told.value.place.file, told.value.place.field) == ("odd.toml", "x")


# Shigley Tables 10-4 and 10-6, from memory: A MPa at 1 mm, m, least and most diameter mm; shares not preset, preset.
TABLE = {
    "music": (2211, 0.145, 0.10, 6.5, 0.45, 0.60, 0.70),
    "hard-drawn": (1783, 0.190, 0.7, 12.7, 0.45, 0.60, 0.70),
    "oil-tempered": (1855, 0.187, 0.5, 12.7, 0.50, 0.65, 0.75),
    "chrome-vanadium": (2005, 0.168, 0.8, 11.1, 0.50, 0.65, 0.75),
    "chrome-silicon": (1974, 0.108, 1.6, 9.5, 0.50, 0.65, 0.75),
}


@pytest.mark.reference("shigley")
@pytest.mark.parametrize("name", list(TABLE))
def test_constants_ranges_and_shares_row_by_row(name: str) -> None:
    A, m, least, most, plain, low, high = TABLE[name]
    wire = materials()[name]
    assert (wire.least_diameter_m * 1e3, wire.most_diameter_m * 1e3) == (pytest.approx(least), pytest.approx(most))
    assert float(wire.tensile_strength(least * 1e-3)) == pytest.approx(A * 1e6 / least**m, rel=1e-9)
    assert float(wire.tensile_strength(most * 1e-3)) == pytest.approx(A * 1e6 / most**m, rel=1e-9)
    assert (wire.static_share, wire.static_share_preset_low, wire.static_share_preset_high) == (plain, low, high)
