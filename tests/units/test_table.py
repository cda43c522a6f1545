"""The table of units against pint, which defines them, and against the exact definitions."""

from __future__ import annotations

import json
import subprocess
import sys
from typing import Any

import pytest

from loadbench.units import Kind, Style, display_unit, parse, unit_words
from loadbench.units.table import UNITS, WORDS, Unit, unit_key

# pint's name where it is not our canonical text; every unit must be found here or carry pint's own name
PINT = {
    "°F": "degF",
    "°C": "degC",
    "K": "kelvin",
    "lbf": "pound_force",
    "ozf": "force_ounce",
    "kgf": "kilogram_force",
    "gf": "force_gram",
    "daN": "decanewton",
    "psi": "pound_force_per_square_inch",
    "inHg": "inHg",
    "mmHg": "mmHg",
    "thou": "thou",
    "µm": "micrometer",
    "deg": "degree",
    "rad": "radian",
    "g": "gram",
    "mbar": "millibar",
    "rpm": "rpm",
    "Hz": "revolution/second",
    "kpsi": "kilopound_force_per_square_inch",
    "kHz": "kilohertz",
    "mPa": "millipascal",
    "µin": "microinch",
    "min": "minute",
}
SI = {
    Kind.LENGTH: "m",
    Kind.FORCE: "N",
    Kind.RATE: "N/m",
    Kind.MASS: "kg",
    Kind.PRESSURE: "Pa",
    Kind.STRESS: "Pa",
    Kind.FREQUENCY: "hertz",
    Kind.SPEED: "rad/s",
    Kind.ANGLE: "rad",
    Kind.TEMPERATURE: "kelvin",
    Kind.INERTIA: "kg*m**2",
    Kind.DAMPING: "N*s/m",
    Kind.ENERGY: "J",
    Kind.VELOCITY: "m/s",
    Kind.FILM: "m",
    Kind.TIME: "s",
    Kind.LIFE: "s",
    Kind.PV: "W/m**2",
    Kind.VISCOSITY: "Pa*s",
    Kind.POWER: "W",
}


@pytest.fixture(scope="module")
def registry() -> Any:
    import pint

    return pint.UnitRegistry(autoconvert_offset_to_baseunit=True)


def _pint_name(text: str) -> str:
    whole = text.replace("²", "**2")
    for mark in "·/":
        whole = whole.replace(mark, f" {'*' if mark == '·' else mark} ")
    return " ".join(PINT.get(part, part) for part in whole.split(" "))


@pytest.mark.parametrize("unit", UNITS, ids=lambda unit: f"{unit.kind}:{unit.text}")
@pytest.mark.parametrize("size", [1.0, 7.5, -3.25])
def test_every_unit_is_worth_what_pint_says(unit: Unit, size: float, registry: Any) -> None:
    name = "hertz" if (unit.kind, unit.text) == (Kind.FREQUENCY, "Hz") else _pint_name(unit.text)
    # a density of mercury of 13595.1 kg/m3 and g: pint's conventional mmHg agrees to 1e-12 as well
    theirs = registry.Quantity(size, name).to(SI[unit.kind]).magnitude
    assert parse(f"{size} {unit.text}", unit.kind, None).value == pytest.approx(theirs, rel=1e-12)


@pytest.mark.parametrize(
    ("kind", "text", "exact"),
    [
        # yard and pound agreement of 1959; CGPM 1901; SI brochure; ISO 80000-4 (mmHg)
        (Kind.LENGTH, "1 in", 0.0254),
        (Kind.MASS, "1 lb", 0.45359237),
        (Kind.FORCE, "1 lbf", 4.4482216152605),
        (Kind.FORCE, "1 kgf", 9.80665),
        (Kind.PRESSURE, "1 bar", 1e5),
        (Kind.PRESSURE, "1 atm", 101325.0),
        (Kind.TEMPERATURE, "0 °C", 273.15),
        (Kind.TEMPERATURE, "-459.67 °F", 0.0),
        (Kind.TEMPERATURE, "-273.15 °C", 0.0),
    ],
)
def test_definitions_hold_exactly(kind: Kind, text: str, exact: float) -> None:
    assert parse(text, kind, None).value == exact


WORD_CASES = [(kind, word) for kind in Kind for word in unit_words(kind)]


@pytest.mark.parametrize(("kind", "word"), WORD_CASES)
def test_every_word_is_read_in_every_case(kind: Kind, word: str) -> None:
    plain = parse(f"7.5 {word}", kind, None)
    glued = f"7.5{word}" if not word[0].isdigit() else f"7.5 {word}"  # 7.51/min is 7.51 a minute
    for text in (glued, f"7.5 {word.upper()}", f"7.5 {word.lower()}", f"7.5\u202f{word}", f"7,5  {word} "):
        assert parse(text, kind, None).value == plain.value


@pytest.mark.parametrize("unit", UNITS, ids=lambda unit: f"{unit.kind}:{unit.text}")
def test_the_canonical_text_reads_as_its_unit(unit: Unit) -> None:
    assert parse(f"1 {unit.text}", unit.kind, None).unit == unit.text


@pytest.mark.parametrize("kind", Kind)
def test_no_word_means_two_units(kind: Kind) -> None:
    texts = [unit.text for unit in UNITS if unit.kind is kind]
    assert len(texts) == len(set(texts))
    assert {unit_key(word) for word in unit_words(kind)} == WORDS[kind].keys()
    assert all(WORDS[kind][unit_key(text)].text == text for text in texts)


@pytest.mark.parametrize("kind", Kind)
@pytest.mark.parametrize("style", Style)
def test_display_units_are_units(kind: Kind, style: Style) -> None:
    assert parse(f"1 {display_unit(kind, style)}", kind, None).unit == display_unit(kind, style)


def test_a_start_loads_neither_pint_nor_numpy() -> None:
    code = (
        "import json, sys, loadbench.units as u; u.parse('1 in', u.Kind.LENGTH, None); "
        "u.tell(1.0, u.Kind.LENGTH, u.Style.METRIC); print(json.dumps([*sys.modules]))"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert not {"pint", "numpy", "scipy", "pydantic"} & set(json.loads(run.stdout))
