"""Up and Down on a typed entry."""

# ruff: noqa: RUF001 - the look-alikes are what is tested

from __future__ import annotations

import pytest

from loadbench.errors import AmbiguousEntry, InputError, UnfinishedEntry
from loadbench.units import Kind, Style, nudged, parse, step

IP, METRIC = Style.INCH_POUND, Style.METRIC


@pytest.mark.parametrize(
    ("text", "kind", "steps", "result"),
    [
        ("1.900 in", Kind.LENGTH, 1, "1.901 in"),
        ("1.900 in", Kind.LENGTH, -1, "1.899 in"),
        ("1.900 in", Kind.LENGTH, 10, "1.910 in"),
        ("1.900in", Kind.LENGTH, 1, "1.901in"),
        ('1.900"', Kind.LENGTH, 1, '1.901"'),
        ("1.9 IN", Kind.LENGTH, 1, "1.901 IN"),
        ("1.9000 in", Kind.LENGTH, 1, "1.9010 in"),
        ("1.9999 in", Kind.LENGTH, 1, "2.0009 in"),
        ("1.999 in", Kind.LENGTH, 1, "2.000 in"),
        ("2 in", Kind.LENGTH, 1, "2.001 in"),
        (".9 in", Kind.LENGTH, 1, "0.901 in"),
        (" 1.900 in ", Kind.LENGTH, 1, "1.901 in"),
        ("1.900\u202fin", Kind.LENGTH, 1, "1.901\u202fin"),
        ("48,26 mm", Kind.LENGTH, 1, "48,27 mm"),
        ("48,26 mm", Kind.LENGTH, -10, "48,16 mm"),
        ("48.26 mm", Kind.LENGTH, 1, "48.27 mm"),
        ("48 mm", Kind.LENGTH, 1, "48.01 mm"),
        ("1 000 mm", Kind.LENGTH, 1, "1000.01 mm"),
        ("1.234,5 mm", Kind.LENGTH, 1, "1234,51 mm"),
        ("1,234.5 mm", Kind.LENGTH, 1, "1234.51 mm"),
        ("0,999 mm", Kind.LENGTH, 1, "1,0090 mm"),
        ("1,0090 mm", Kind.LENGTH, 1, "1,0190 mm"),
        ("0,250 mm", Kind.LENGTH, 1, "0,260 mm"),
        ("1 7/8 in", Kind.LENGTH, 1, "1.876 in"),
        ("1 7/8 in", Kind.LENGTH, -1, "1.874 in"),
        ("1⅞ in", Kind.LENGTH, 1, "1.876 in"),
        ("½ in", Kind.LENGTH, 1, "0.501 in"),
        ("7/64 in", Kind.LENGTH, 1, "0.110375 in"),
        ("1/3 in", Kind.LENGTH, 1, "0.334333 in"),
        ("-1 7/8 in", Kind.LENGTH, 1, "-1.874 in"),
        ("0.000 in", Kind.LENGTH, -1, "-0.001 in"),
        ("-0.001 in", Kind.LENGTH, 1, "0.000 in"),
        ("−0.002 in", Kind.LENGTH, 1, "-0.001 in"),
        ("15 thou", Kind.LENGTH, 1, "16 thou"),
        ("15 mil", Kind.LENGTH, 1, "16 mil"),
        ("5 µm", Kind.LENGTH, 1, "15 µm"),
        ("4.826 cm", Kind.LENGTH, 1, "4.827 cm"),
        ("160 lb", Kind.FORCE, 1, "161 lb"),
        ("160#", Kind.FORCE, 1, "161#"),
        ("160.5 lbf", Kind.FORCE, 1, "161.5 lbf"),
        ("700 N", Kind.FORCE, 1, "705 N"),
        ("702 N", Kind.FORCE, -1, "697 N"),
        ("0.7 kN", Kind.FORCE, 1, "0.705 kN"),
        ("70 kg", Kind.FORCE, 1, "70.5 kg"),
        ("420 lb/in", Kind.RATE, 1, "421 lb/in"),
        ("73.6 N/mm", Kind.RATE, 1, "73.7 N/mm"),
        ("73600 N/m", Kind.RATE, 1, "73700 N/m"),
        ("7.5 kg/mm", Kind.RATE, 1, "7.51 kg/mm"),
        ("112 g", Kind.MASS, 1, "113 g"),
        ("0.112 kg", Kind.MASS, 1, "0.113 kg"),
        ("14.5 psi", Kind.PRESSURE, 1, "15.5 psi"),
        ("1 bar", Kind.PRESSURE, 1, "1.1 bar"),
        ("6800 rpm", Kind.SPEED, 1, "6850 rpm"),
        ("6800 rpm", Kind.SPEED, -10, "6300 rpm"),
        ("230 deg", Kind.ANGLE, 1, "231 deg"),
        ("100 degC", Kind.TEMPERATURE, 1, "101 degC"),
        ("212 °F", Kind.TEMPERATURE, -1, "211 °F"),
        ("9.0e-5 kg m^2", Kind.INERTIA, 1, "9.1e-5 kg m^2"),
        ("9e-5 kg m^2", Kind.INERTIA, 1, "9.1e-5 kg m^2"),
        ("120 N s/m", Kind.DAMPING, 1, "121 N s/m"),
        ("1.900 in", Kind.LENGTH, 0, "1.900 in"),
    ],
)
def test_a_step_keeps_what_was_typed(text: str, kind: Kind, steps: int, result: str) -> None:
    assert nudged(text, kind, IP, steps) == nudged(text, kind, METRIC, steps) == result


@pytest.mark.parametrize(
    ("text", "kind", "style", "result"),
    [
        ("1.9", Kind.LENGTH, IP, "1.901"),
        ("48,26", Kind.LENGTH, METRIC, "48,27"),
        ("160", Kind.FORCE, IP, "161"),
        ("700", Kind.FORCE, METRIC, "705"),
        ("112", Kind.MASS, IP, "113"),
        ("1 7/8", Kind.LENGTH, IP, "1.876"),
    ],
)
def test_a_bare_number_steps_in_the_unit_on_show(text: str, kind: Kind, style: Style, result: str) -> None:
    assert nudged(text, kind, style, 1) == result


@pytest.mark.parametrize(
    ("text", "error"),
    [
        ("", UnfinishedEntry),
        ("1.", UnfinishedEntry),
        ("in", UnfinishedEntry),
        ("1,250 in", AmbiguousEntry),
        ("abc", InputError),
        ("160 lb", InputError),
        ("1e-300 in", InputError),
        ("1e300 in", InputError),
    ],
)
def test_what_cannot_be_read_cannot_be_stepped(text: str, error: type[InputError]) -> None:
    with pytest.raises(error) as caught:
        nudged(text, Kind.LENGTH, IP, 1)
    assert type(caught.value) is error


@pytest.mark.parametrize(
    ("text", "kind", "style"),
    [
        ("1.900 in", Kind.LENGTH, IP),
        ("48.26 mm", Kind.LENGTH, METRIC),
        ("700 N", Kind.FORCE, METRIC),
        ("420 lbf/in", Kind.RATE, IP),
    ],
)
def test_a_step_is_the_step_of_the_style(text: str, kind: Kind, style: Style) -> None:
    moved = parse(nudged(text, kind, style, 1), kind, style).value - parse(text, kind, style).value
    assert moved == pytest.approx(step(kind, style), rel=1e-9)
