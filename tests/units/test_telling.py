"""Figures as they are shown: conversion, digits by uncertainty, the usual places without one, steps."""

# ruff: noqa: RUF001 - the look-alikes are what is tested

from __future__ import annotations

import math

import numpy as np
import pytest

from loadbench.units import Kind, Style, display_unit, from_display, parse, step, tell, to_display
from loadbench.units.table import UNITS, Unit
from loadbench.units.telling import step_in

IP, METRIC = Style.INCH_POUND, Style.METRIC
IN = 0.0254
LBF = 4.4482216152605


@pytest.mark.parametrize(
    ("value", "kind", "style", "number", "unit"),
    [
        (163.2 * LBF, Kind.FORCE, IP, "163", "lbf"),
        (163.5 * LBF, Kind.FORCE, IP, "164", "lbf"),
        (162.5 * LBF, Kind.FORCE, IP, "163", "lbf"),
        (1000.4 * LBF, Kind.FORCE, IP, "1000", "lbf"),
        (726.0, Kind.FORCE, METRIC, "725", "N"),
        (727.5, Kind.FORCE, METRIC, "730", "N"),
        (722.4, Kind.FORCE, METRIC, "720", "N"),
        (3.0, Kind.FORCE, METRIC, "5", "N"),
        (-726.0, Kind.FORCE, METRIC, "−725", "N"),
        (1.9 * IN, Kind.LENGTH, IP, "1.900", "in"),
        (0.0305 * IN, Kind.LENGTH, IP, "0.031", "in"),
        (0.0304 * IN, Kind.LENGTH, IP, "0.030", "in"),
        (-0.0305 * IN, Kind.LENGTH, IP, "−0.031", "in"),
        (0.04826, Kind.LENGTH, METRIC, "48.26", "mm"),
        (0.0482649, Kind.LENGTH, METRIC, "48.26", "mm"),
        (0.048265, Kind.LENGTH, METRIC, "48.27", "mm"),
        (420.4 * LBF / IN, Kind.RATE, IP, "420", "lbf/in"),
        (73553.0, Kind.RATE, METRIC, "73.6", "N/mm"),
        (0.112, Kind.MASS, IP, "112.0", "g"),
        (0.112, Kind.MASS, METRIC, "112.0", "g"),
        (14.5 * LBF / IN**2, Kind.PRESSURE, IP, "14.5", "psi"),
        (1e5, Kind.PRESSURE, METRIC, "1.00", "bar"),
        (6800 * math.pi / 30, Kind.SPEED, IP, "6800", "rpm"),
        (6805 * math.pi / 30, Kind.SPEED, METRIC, "6805", "rpm"),
        (math.radians(230), Kind.ANGLE, IP, "230.0", "deg"),
        (373.15, Kind.TEMPERATURE, IP, "212", "°F"),
        (373.15, Kind.TEMPERATURE, METRIC, "100", "°C"),
        (233.15, Kind.TEMPERATURE, METRIC, "−40", "°C"),
        (255.372, Kind.TEMPERATURE, METRIC, "−18", "°C"),
        (9e-5, Kind.INERTIA, IP, "9.00e-5", "kg·m²"),
        (9.876e-5, Kind.INERTIA, METRIC, "9.88e-5", "kg·m²"),
        (-9.876e-5, Kind.INERTIA, METRIC, "−9.88e-5", "kg·m²"),
        (0.0123, Kind.INERTIA, METRIC, "0.0123", "kg·m²"),
        (120.0, Kind.DAMPING, IP, "120", "N·s/m"),
        (123.4, Kind.DAMPING, METRIC, "123", "N·s/m"),
        # what would vanish at the usual place, and is no rounding noise
        (0.0002 * IN, Kind.LENGTH, IP, "0.00020", "in"),
        (0.00021 * IN, Kind.LENGTH, IP, "0.00021", "in"),
        (-0.0004 * IN, Kind.LENGTH, IP, "−0.00040", "in"),
        (0.5e-6, Kind.LENGTH, METRIC, "0.00050", "mm"),
        (0.3 * LBF, Kind.FORCE, IP, "0.30", "lbf"),
        (2.0, Kind.FORCE, METRIC, "2.0", "N"),
        # rounding noise of a difference is nothing, and nothing has no sign
        (0.0, Kind.LENGTH, IP, "0.000", "in"),
        (-0.0, Kind.LENGTH, IP, "0.000", "in"),
        (1e-17, Kind.LENGTH, IP, "0.000", "in"),
        (-1e-17, Kind.LENGTH, METRIC, "0.00", "mm"),
        (0.3 - 0.1 - 0.2, Kind.LENGTH, METRIC, "0.00", "mm"),
        (-1e-13, Kind.FORCE, METRIC, "0", "N"),
        (-1e-13, Kind.FORCE, IP, "0", "lbf"),
        (0.0, Kind.INERTIA, IP, "0", "kg·m²"),
        (273.15 - 1e-12, Kind.TEMPERATURE, METRIC, "0", "°C"),
        # cannot be had
        (math.nan, Kind.FORCE, IP, "–", "lbf"),
        (math.inf, Kind.LENGTH, METRIC, "–", "mm"),
        (-math.inf, Kind.LENGTH, METRIC, "–", "mm"),
        (1.7e308, Kind.LENGTH, IP, "–", "in"),
    ],
)
def test_digits_without_an_uncertainty(value: float, kind: Kind, style: Style, number: str, unit: str) -> None:
    told = tell(value, kind, style)
    assert (told.number, told.unit, told.uncertainty) == (number, unit, None)


# GUM (JCGM 100), 7.2.6: an uncertainty to two digits, the estimate to the same place
@pytest.mark.parametrize(
    ("value", "expanded", "number", "uncertainty"),
    [
        (163.2, 5.8, "163.2", "5.8"),
        (163.24, 5.84, "163.2", "5.8"),
        (163.25, 5.85, "163.3", "5.9"),
        (163.2, 0.58, "163.20", "0.58"),
        (163.2, 12.0, "163", "12"),
        (163.2, 58.0, "163", "58"),
        (1632.0, 580.0, "1630", "580"),
        (1635.0, 580.0, "1640", "580"),
        (163.2, 0.996, "163.2", "1.0"),
        (163.2, 9.96, "163", "10"),
        (163.2, 99.6, "160", "100"),
        (163.2, 0.0994, "163.200", "0.099"),
        (-163.2, 5.8, "−163.2", "5.8"),
        (0.0, 5.8, "0.0", "5.8"),
        (-0.01, 5.8, "0.0", "5.8"),
        (3.0, 580.0, "0", "580"),
        (0.006, 0.0058, "0.0060", "0.0058"),
    ],
)
def test_digits_by_uncertainty(value: float, expanded: float, number: str, uncertainty: str) -> None:
    told = tell(value * LBF, Kind.FORCE, IP, expanded * LBF)
    assert (told.number, told.uncertainty) == (number, uncertainty)


@pytest.mark.parametrize("none", [None, 0.0, -1.0, math.nan, math.inf, 1e-300, 1e-19])
def test_no_uncertainty_worth_telling(none: float | None) -> None:
    assert tell(1.9 * IN, Kind.LENGTH, IP, none) == tell(1.9 * IN, Kind.LENGTH, IP)


def test_an_uncertainty_of_a_temperature_has_no_zero() -> None:
    told = tell(373.15, Kind.TEMPERATURE, IP, 1.0)
    assert (told.number, told.uncertainty) == ("212.0", "1.8")


def test_an_inertia_and_its_uncertainty_share_a_power() -> None:
    told = tell(9e-5, Kind.INERTIA, IP, 1.2e-6)
    assert (told.number, told.uncertainty) == ("9.00e-5", "0.12e-5")


def test_as_one_text() -> None:
    told = tell(163.2 * LBF, Kind.FORCE, IP, 5.8 * LBF)
    assert str(told) == "163.2\u2009±\u20095.8\u2009lbf"
    assert str(tell(-0.015 * IN, Kind.LENGTH, IP)) == "\u22120.015\u2009in"


@pytest.mark.parametrize("kind", Kind)
@pytest.mark.parametrize("style", Style)
@pytest.mark.parametrize("value", [0.0, -0.0, 1e-320, 5e-324, -1e-9, 1.0, -2.5, 1e12, -1e30, 1e300])
@pytest.mark.parametrize("expanded", [None, 5e-324, 1e-12, 0.3, 1e300])
def test_any_size_is_told_without_a_minus_nothing(
    kind: Kind, style: Style, value: float, expanded: float | None
) -> None:
    told = tell(value, kind, style, expanded)
    assert told.unit == display_unit(kind, style)
    assert not told.number.startswith("−0") or any(ch in "123456789" for ch in told.number.partition("e")[0])
    assert len(told.number) < 40


@pytest.mark.parametrize(
    ("si", "kind", "style", "shown"),
    [
        (0.04826, Kind.LENGTH, IP, 1.9),
        (0.04826, Kind.LENGTH, METRIC, 48.26),
        (73600.0, Kind.RATE, METRIC, 73.6),
        (160 * LBF, Kind.FORCE, IP, 160),
        (700.0, Kind.FORCE, METRIC, 700),
        (0.112, Kind.MASS, IP, 112),
        (373.15, Kind.TEMPERATURE, IP, 212),
        (373.15, Kind.TEMPERATURE, METRIC, 100),
        (2 * math.pi, Kind.SPEED, IP, 60),
        (math.pi, Kind.ANGLE, METRIC, 180),
    ],
)
def test_conversion(si: float, kind: Kind, style: Style, shown: float) -> None:
    assert to_display(si, kind, style) == pytest.approx(shown, rel=1e-15)
    assert from_display(shown, kind, style) == pytest.approx(si, rel=1e-15)


@pytest.mark.parametrize("kind", Kind)
@pytest.mark.parametrize("style", Style)
def test_arrays_convert_whole_and_there_and_back(kind: Kind, style: Style) -> None:
    shown = np.linspace(1.0, 2000.0, 4001).reshape(-1, 1)
    si = from_display(shown, kind, style)
    assert si.shape == shown.shape
    assert np.allclose(to_display(si, kind, style), shown, rtol=0 if kind is Kind.TEMPERATURE else 1e-15, atol=3e-13)
    assert all(float(si[i, 0]) == from_display(float(shown[i, 0]), kind, style) for i in range(0, 4001, 500))


@pytest.mark.parametrize(
    ("kind", "style", "text"),
    [
        (Kind.LENGTH, IP, "0.001 in"),
        (Kind.LENGTH, METRIC, "0.01 mm"),
        (Kind.FORCE, IP, "1 lbf"),
        (Kind.FORCE, METRIC, "5 N"),
        (Kind.RATE, IP, "1 lbf/in"),
        (Kind.RATE, METRIC, "0.1 N/mm"),
        (Kind.MASS, IP, "1 g"),
        (Kind.PRESSURE, IP, "1 psi"),
        (Kind.PRESSURE, METRIC, "0.1 bar"),
        (Kind.SPEED, IP, "50 rpm"),
        (Kind.SPEED, METRIC, "50 rpm"),
        (Kind.ANGLE, METRIC, "1 deg"),
        (Kind.INERTIA, IP, "1e-6 kg m^2"),
        (Kind.DAMPING, IP, "1 N s/m"),
    ],
)
def test_a_step_is_fit_for_its_unit(kind: Kind, style: Style, text: str) -> None:
    assert step(kind, style) == pytest.approx(parse(text, kind, None).value, rel=1e-15)


def test_a_step_of_temperature_has_no_zero() -> None:
    assert step(Kind.TEMPERATURE, METRIC) == 1.0
    assert step(Kind.TEMPERATURE, IP) == pytest.approx(5 / 9)


@pytest.mark.parametrize("unit", UNITS, ids=lambda unit: f"{unit.kind}:{unit.text}")
def test_a_step_in_any_unit_is_tidy_and_about_the_same_size(unit: Unit) -> None:
    tidy = step_in(unit)
    assert tidy.normalize().as_tuple().digits in {(1,), (2,), (5,)}
    si = float(tidy) * unit.numerator / unit.denominator
    assert 0.6 < si / step(unit.kind, unit.style) < 1.6


def test_a_figure_rounded_up_to_the_next_power_keeps_its_digits() -> None:
    assert tell(999_500.0, Kind.INERTIA, Style.METRIC).number == "1.00e6"
    assert tell(999_499.0, Kind.INERTIA, Style.METRIC).number == "9.99e5"
