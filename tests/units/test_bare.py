"""Numbers without a unit, notes beside the field, and what is stored when an entry is committed."""

from __future__ import annotations

import math

import pytest

from loadbench.errors import AmbiguousEntry, InputError, UnfinishedEntry
from loadbench.units import Kind, Style, display_unit, everyday_unit, parse, with_unit

IP, METRIC = Style.INCH_POUND, Style.METRIC

# the everyday units, as the job document states them
BARE = [
    (Kind.LENGTH, IP, "in", 0.0254),
    (Kind.LENGTH, METRIC, "mm", 0.001),
    (Kind.FORCE, IP, "lbf", 4.4482216152605),
    (Kind.FORCE, METRIC, "N", 1.0),
    (Kind.RATE, IP, "lbf/in", 4.4482216152605 / 0.0254),
    (Kind.RATE, METRIC, "N/mm", 1000.0),
    (Kind.MASS, IP, "lb", 0.45359237),
    (Kind.MASS, METRIC, "g", 0.001),
    (Kind.PRESSURE, IP, "psi", 4.4482216152605 / 0.0254**2),
    (Kind.PRESSURE, METRIC, "bar", 1e5),
    (Kind.SPEED, IP, "rpm", math.pi / 30),
    (Kind.SPEED, METRIC, "rpm", math.pi / 30),
    (Kind.ANGLE, IP, "deg", math.pi / 180),
    (Kind.ANGLE, METRIC, "deg", math.pi / 180),
    (Kind.INERTIA, IP, "kg·m²", 1.0),
    (Kind.INERTIA, METRIC, "kg·m²", 1.0),
    (Kind.DAMPING, IP, "N·s/m", 1.0),
    (Kind.DAMPING, METRIC, "N·s/m", 1.0),
]
FORMS = [
    ("1.900", 1.9),
    ("1,9", 1.9),
    ("1 7/8", 1.875),
    ("1⅞", 1.875),
    ("160", 160),
    ("-3", -3),
    ("1 000", 1000),
    ("2e2", 200),
]


@pytest.mark.parametrize(("kind", "style", "unit", "worth"), BARE)
@pytest.mark.parametrize(("text", "number"), FORMS)
def test_a_bare_number_takes_the_everyday_unit(
    kind: Kind, style: Style, unit: str, worth: float, text: str, number: float
) -> None:
    parsed = parse(text, kind, style)
    assert (parsed.unit, parsed.bare) == (unit, True)
    assert parsed.value == pytest.approx(number * worth, rel=4e-16)
    assert everyday_unit(kind, style) == unit


@pytest.mark.parametrize(
    ("style", "text", "kelvin"), [(IP, "212", 373.15), (METRIC, "100", 373.15), (IP, "-40", 233.15)]
)
def test_a_bare_temperature(style: Style, text: str, kelvin: float) -> None:
    assert parse(text, Kind.TEMPERATURE, style).value == pytest.approx(kelvin, rel=1e-15)


@pytest.mark.parametrize("kind", Kind)
@pytest.mark.parametrize("text", ["1.900", "7/8", "0", "160"])
def test_without_a_style_a_bare_number_is_refused(kind: Kind, text: str) -> None:
    with pytest.raises(InputError, match="a number without a unit") as caught:
        parse(text, kind, None)
    assert type(caught.value) is InputError
    assert " such as " in caught.value.expected


@pytest.mark.parametrize(
    ("kind", "text", "unit", "note"),
    [
        (Kind.FORCE, "70 kg", "kgf", "kg read as kilogram-force"),
        (Kind.FORCE, "70 KG", "kgf", "kg read as kilogram-force"),
        (Kind.FORCE, "70 kp", "kgf", "kp read as kilogram-force"),
        (Kind.FORCE, "70 kgf", "kgf", None),
        (Kind.FORCE, "160 lb", "lbf", None),
        (Kind.FORCE, "160#", "lbf", None),
        (Kind.RATE, "7 kg/mm", "kgf/mm", "kg read as kilogram-force"),
        (Kind.RATE, "7 kgf/mm", "kgf/mm", None),
        (Kind.RATE, "420 lb/in", "lbf/in", None),
        (Kind.LENGTH, "18 mil", "thou", "mil is 0.001 in"),
        (Kind.LENGTH, "18 mils", "thou", "mil is 0.001 in"),
        (Kind.LENGTH, "18 thou", "thou", None),
        (Kind.LENGTH, '1.9"', "in", None),
        (Kind.MASS, "70 kg", "kg", None),
        (Kind.MASS, "70 lb", "lb", None),
        (Kind.SPEED, "50 Hz", "Hz", "Hz read as turns a second"),
        (Kind.TEMPERATURE, "100 degC", "°C", None),
        (Kind.INERTIA, "1 kg m^2", "kg·m²", None),
        (Kind.LENGTH, "5 um", "µm", None),
    ],
)
def test_unit_and_note(kind: Kind, text: str, unit: str, note: str | None) -> None:
    parsed = parse(text, kind, IP)
    assert (parsed.unit, parsed.note) == (unit, note)


def test_a_bare_mass_in_an_inch_pound_file_is_told() -> None:
    assert parse("0.25", Kind.MASS, IP).note == "read as pounds of mass"
    assert parse("112", Kind.MASS, METRIC).note is None
    assert parse("0.25 lb", Kind.MASS, IP).note is None


@pytest.mark.parametrize(
    ("text", "kind", "style", "stored"),
    [
        ("1.900", Kind.LENGTH, IP, "1.900 in"),
        ("  1.900  ", Kind.LENGTH, IP, "1.900 in"),
        ("48,26", Kind.LENGTH, METRIC, "48,26 mm"),
        ("1 7/8", Kind.LENGTH, IP, "1 7/8 in"),
        ("1⅞", Kind.LENGTH, IP, "1⅞ in"),
        ("160", Kind.FORCE, IP, "160 lbf"),
        ("700", Kind.FORCE, METRIC, "700 N"),
        ("420", Kind.RATE, IP, "420 lbf/in"),
        ("73.6", Kind.RATE, METRIC, "73.6 N/mm"),
        ("112", Kind.MASS, IP, "112 g"),
        ("112", Kind.MASS, METRIC, "112 g"),
        ("14.5", Kind.PRESSURE, IP, "14.5 psi"),
        ("6800", Kind.SPEED, METRIC, "6800 rpm"),
        ("212", Kind.TEMPERATURE, IP, "212 °F"),
        ("9e-5", Kind.INERTIA, IP, "9e-5 kg·m²"),
        ("1.9in", Kind.LENGTH, METRIC, "1.9in"),
        ("160#", Kind.FORCE, METRIC, "160#"),
        (" 15 thou ", Kind.LENGTH, METRIC, "15 thou"),
        ("48,26\u00a0mm", Kind.LENGTH, IP, "48,26\u00a0mm"),
        ("100 degC", Kind.TEMPERATURE, IP, "100 degC"),
        ("", Kind.LENGTH, IP, ""),
        ("   ", Kind.FORCE, METRIC, ""),
    ],
)
def test_what_is_stored(text: str, kind: Kind, style: Style, stored: str) -> None:
    assert with_unit(text, kind, style) == stored


@pytest.mark.parametrize(
    ("text", "error"),
    [
        ("1,250", AmbiguousEntry),
        ("1,250 in", AmbiguousEntry),
        ("1.", UnfinishedEntry),
        ("in", UnfinishedEntry),
        ("abc", InputError),
    ],
)
def test_a_doubtful_text_is_not_stored(text: str, error: type[InputError]) -> None:
    with pytest.raises(error) as caught:
        with_unit(text, Kind.LENGTH, IP)
    assert type(caught.value) is error


def test_a_text_that_grows_too_long_with_its_unit_is_refused() -> None:
    assert parse("0." + "1" * 38, Kind.RATE, IP).bare
    with pytest.raises(InputError, match="longer than 40"):
        with_unit("0." + "1" * 38, Kind.RATE, IP)


@pytest.mark.parametrize("kind", Kind)
@pytest.mark.parametrize("style", Style)
def test_the_unit_on_show_is_the_everyday_unit_but_for_masses(kind: Kind, style: Style) -> None:
    assert display_unit(kind, style) == ("g" if kind is Kind.MASS else everyday_unit(kind, style))
