"""Oil by grade and temperature: the formula's own constants, grades as typed, what shear leaves, phosphorus."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.errors import InputError
from loadbench.follower import oil
from loadbench.follower.oil_in_use import AT_150, high_shear_share, viscosities

GRADES = ("0W-8", "0W-12", "0W-16", "0W-20", "5W-20", "5W-30", "10W-30", "0W-40", "10W-40", "15W-40", "20W-50",
          "10W-60", "25W-60", "SAE 20", "30", "SAE40", "50", "60")  # fmt: skip


@given(thin=st.floats(2.5, 30.0), times=st.floats(2.0, 20.0), share=st.floats(0.0, 1.0))
def test_the_formula_goes_through_both_points_and_falls_between(thin: float, times: float, share: float) -> None:
    ends = (oil.AT_100, thin * oil.CST), (oil.AT_40, thin * times * oil.CST)
    constants = oil.walther(*ends)
    assert constants == oil.walther(*reversed(ends))
    for temperature, viscosity in ends:
        assert float(oil.kinematic(constants, temperature)) == pytest.approx(viscosity, rel=1e-9)
    between = float(oil.kinematic(constants, oil.AT_40 + 60 * share))
    assert thin * oil.CST * (1 - 1e-9) <= between <= thin * times * oil.CST * (1 + 1e-9)


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ((313.15, 100e-6), (313.15, 14e-6)),
        ((313.15, 14e-6), (373.15, 100e-6)),
        ((313.15, 14e-6), (373.15, 14e-6)),
        ((313.15, 14e-6), (373.15, 1.99e-6)),
        ((0.0, 14e-6), (373.15, 4e-6)),
        ((313.15, np.nan), (373.15, 4e-6)),
    ],
)
def test_what_is_no_pair_of_viscosities(first: tuple[float, float], second: tuple[float, float]) -> None:
    with pytest.raises(InputError):
        oil.walther(first, second)


@pytest.mark.parametrize(
    ("text", "winter", "hot"),
    [("10W-40", 10, "40 light"), (" sae 10w40 ", 10, "40 light"), ("20W/50", 20, "50"), ("15w 40", 15, "40"),
     ("SAE 30", None, "30"), ("40", None, "40"), ("0W-16", 0, "16"), ("SAE60", None, "60")],
)  # fmt: skip
def test_grades_as_typed(text: str, winter: int | None, hot: str) -> None:
    found = oil.grade_of(text)
    assert (found.winter, found.hot.name) == (winter, hot)
    assert found.least_100 == found.hot.least
    assert found.hot.least < found.at_100 < found.hot.most


@pytest.mark.parametrize(
    "text", ["", "10W", "10W-45", "7W-40", "75W-90", "40 light", "SAE", "5-30W", "ten", "10W-40-50"]
)
def test_what_is_no_grade(text: str) -> None:
    with pytest.raises(InputError):
        oil.grade_of(text)


@pytest.mark.parametrize("text", GRADES)
def test_a_grade_has_its_typical_and_its_thinnest_oil(text: str) -> None:
    grade = oil.grade_of(text)
    temperature = np.array([313.15, 353.15, 373.15, 393.15, AT_150])
    found = viscosities(grade, temperature)
    assert np.all(found.sheared <= found.low)
    assert np.all(found.low < found.typical)
    for each in found:
        assert np.all(np.diff(each) < 0)
    weight = oil.density(oil.AT_100)
    assert float(found.low[2] / weight) == pytest.approx(grade.hot.least, rel=1e-9)
    assert float(found.typical[2] / weight) == pytest.approx((grade.hot.least + grade.hot.most) / 2, rel=1e-9)


@pytest.mark.reference("sae-j300")
@pytest.mark.parametrize("text", GRADES)
def test_under_shear_at_150_degrees_no_oil_is_thinner_than_its_grade_allows(text: str) -> None:
    grade = oil.grade_of(text)
    found = viscosities(grade, AT_150)
    share = high_shear_share(grade)
    assert 0.5 < share <= 1  # the widest grades of 60 may lose nearly half and still pass
    if grade.winter is None or share == 1:
        assert float(found.sheared) == float(found.low)
    else:
        assert float(found.sheared) == pytest.approx(grade.hot.high_shear, rel=1e-9)


def test_a_wider_grade_loses_more_to_shear() -> None:
    assert high_shear_share(oil.grade_of("10W-60")) < high_shear_share(oil.grade_of("20W-50")) < 1


@pytest.mark.reference("sae-j300")
def test_other_hot_grades_from_memory() -> None:
    for name, limits in (("8", (4.0, 6.1, 1.7)), ("12", (5.0, 7.1, 2.0)), ("50", (16.3, 21.9, 3.7))):
        row = oil.hot_grades()[name]
        assert (row.least * 1e6, row.most * 1e6, row.high_shear * 1e3) == pytest.approx(limits, rel=1e-9)
        assert row.seen == "memory"
    assert {oil.hot_grades()[name].seen for name in ("16", "20", "30", "40", "40 light", "60")} == {"read"}


@pytest.mark.reference("seireg-dandage")
@pytest.mark.parametrize("grade", [20, 30, 40, 50, 60])
@pytest.mark.parametrize("celsius", [60, 80, 100])
def test_two_ways_to_the_viscosity_of_a_single_grade_agree(grade: int, celsius: int) -> None:
    # Charts of other years and a typical oil: the fit lies within the grade's range and a fifth around it.
    temperature = celsius + 273.15
    found = oil.grade_of(str(grade))
    weight = float(oil.density(temperature))
    least, most = (
        weight
        * float(oil.kinematic(oil.walther((oil.AT_40, found.at_40 * s), (oil.AT_100, found.at_100 * s)), temperature))
        for s in (found.hot.least / found.at_100, found.hot.most / found.at_100)
    )
    assert 0.8 * least < float(oil.seireg_viscosity(grade, temperature)) < 1.2 * most


def test_a_grade_without_a_fit() -> None:
    with pytest.raises(InputError):
        oil.seireg_viscosity(16, 350.0)


@pytest.mark.reference("hamrock-film")
def test_f107_the_coefficient_lies_within_its_range() -> None:
    least, most = oil.PRESSURE_COEFFICIENTS
    assert (least, most) == (1.5e-8, 2.4e-8)
    assert least <= oil.PRESSURE_COEFFICIENT <= most


def test_pressure_thickens_and_heat_thins() -> None:
    assert float(oil.under_pressure(0.01, 2e-8, 0.0)) == 0.01
    assert np.all(np.diff(oil.under_pressure(0.01, 2e-8, np.linspace(0, 1e9, 9))) > 0)
    assert float(oil.density(288.15)) == 880.0
    assert float(oil.dynamic(14e-6, oil.density(373.15))) == pytest.approx(11.639e-3, abs=1e-6)  # F106


@pytest.mark.reference("api-categories")
def test_f125_what_stays_of_the_phosphorus_and_for_whom_the_limit_holds() -> None:
    found = oil.category_of("ILSAC GF-5")
    assert found is not None
    assert found.kept == pytest.approx(0.79)
    assert "memory" in found.seen
    assert "ILSAC" in found.applies
    older = oil.category_of("gf4")
    assert older is not None
    assert older.kept is None


def test_an_oil_of_no_category() -> None:
    for text in ("", "racing", "SA", "API"):
        assert oil.category_of(text) is None
    for each in oil.categories():
        assert each.applies
        assert each.seen
