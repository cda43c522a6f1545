"""A job's lobe from its table, law or durations: what is used, what it waits for, and what is told of it."""

from __future__ import annotations

import math

import numpy as np
import pytest

from loadbench.job.edits import replaced_all
from loadbench.job.model import Job
from loadbench.job.stated import LineStated, read_stated
from loadbench.motion.laws import LAWS
from loadbench.motion.lobe import LawLobe
from loadbench.readings.cam_lift import CamLift, How, cam_lift

DEG = math.pi / 180
AT = np.linspace(-math.pi, math.pi, 1441)
VALVE = LawLobe(law="4-5-6-7", lift=0.012, opening=66 * DEG, closing=70 * DEG)
RATIO = 1.6


def line(**changes: object) -> LineStated:
    """The common line of an empty metric job with some fields, their dots written as two underscores."""
    fields = {field.replace("__", "."): value for field, value in changes.items()}
    stated = read_stated(replaced_all(Job(title="", units="metric"), fields))
    return stated.line(next(iter(stated.lines)))


def law(name: str | None = "4-5-6-7", opening: str | None = "130 deg", closing: str | None = "140 deg") -> CamLift:
    fields = {"cam__law__name": name, "cam__law__opening": opening, "cam__law__closing": closing}
    return cam_lift(line(**fields, valve_gear__lobe_lift="8 mm"), RATIO)


def table(side: str = "valve", *, noise: float = 0.0, ratio: float | None = RATIO, **changes: object) -> CamLift:
    degrees = np.arange(-100.0, 101.0)
    lifts = VALVE(degrees * DEG) * 1e3 + noise * np.random.default_rng(4).normal(size=degrees.size)
    rows = tuple((f"{angle:g} deg", f"{lift:.5f} mm") for angle, lift in zip(degrees, lifts, strict=True))
    fields = {"cam__profile": rows, "cam__profile_angle": "cam", "cam__profile_side": side, **changes}
    return cam_lift(line(**fields), ratio)


CURVE = (("0 mm", 1.5), ("6 mm", 1.62), ("12 mm", 1.58))


# Laws


@pytest.mark.parametrize("name", LAWS)
def test_each_law_gives_its_lobe(name: str) -> None:
    found = law(name)
    assert (found.how, found.missing, found.note) == (How.LAW, (), "")
    assert found.lobe is not None
    assert found.valve is not None
    expected = LawLobe(law=name, lift=0.008, opening=65 * DEG, closing=70 * DEG)
    assert found.lobe(AT, 2) == pytest.approx(expected(AT, 2), abs=1e-12)
    assert found.valve(AT) == pytest.approx(RATIO * expected(AT), abs=1e-12)


@pytest.mark.parametrize("name", ["Cycloidal", " CYCLOIDAL ", "Modified Sine", "modified  trapezoid"])
def test_a_law_is_known_however_it_is_spelt(name: str) -> None:
    assert law(name).how is How.LAW


def test_a_law_that_nobody_knows_is_told_with_those_that_there_are() -> None:
    found = law("magic")
    assert (found.lobe, found.missing) == (None, ("cam.law.name",))
    assert 'no law of motion is called "magic"' in found.note
    assert all(name in found.note for name in LAWS)


@pytest.mark.parametrize("flank", ["0 deg", "-10 deg", "1 deg", "29 deg", "361 deg", "720 deg"])
@pytest.mark.parametrize("side", ["opening", "closing"])
def test_a_flank_that_cannot_be_is_told_at_its_field(side: str, flank: str) -> None:
    found = law(opening=flank) if side == "opening" else law(closing=flank)
    assert (found.lobe, found.missing) == (None, (f"cam.law.{side}",))
    assert f"its {side} flank is {flank} of the crank (expected: 30 to 360 deg)" in found.note


def test_a_closing_flank_is_that_of_the_opening_only_where_none_is_stated() -> None:
    found = law(closing=None)
    assert found.lobe is not None
    assert found.lobe(-AT) == pytest.approx(found.lobe(AT), abs=1e-12)
    assert law(closing="140 in").missing == ("cam.law.closing",)
    assert law(closing="abc").lobe is None


# Tables


def test_a_table_at_the_valve_has_its_lobe_behind_the_ratio() -> None:
    found = table()
    assert found.lobe is not None
    assert found.valve is not None
    assert found.lobe(AT) == pytest.approx(found.valve(AT) / RATIO, abs=1e-15)
    assert table(ratio=None).missing == ("valve_gear.rocker_ratio",)


def test_a_table_at_the_valve_has_its_lobe_behind_the_ratio_curve() -> None:
    found = table(valve_gear__ratio_curve=CURVE)
    assert found.lobe is not None
    assert found.valve is not None
    assert float(found.lobe(0.0)) == pytest.approx(float(found.valve(0.0)) / 1.58, rel=1e-3)
    back = table("lobe", valve_gear__ratio_curve=CURVE)
    assert back.lobe is not None
    # What the curve makes of that lobe is the valve's lift again, and its derivatives are slopes.
    at, step = np.radians(np.linspace(-60, 60, 41) + 0.21), 1e-5
    for order in range(3):
        slope = (found.lobe(at + step, order) - found.lobe(at - step, order)) / (2 * step)
        assert slope == pytest.approx(found.lobe(at, order + 1), rel=1e-5, abs=1e-6)
    from loadbench.motion.ratio import with_ratio_curve

    again = with_ratio_curve(found.lobe, np.array([0.0, 0.006, 0.012]), np.array([1.5, 1.62, 1.58]))
    for order in range(3):
        assert again(at, order) == pytest.approx(found.valve(at, order), rel=1e-7, abs=1e-9)
    with pytest.raises(Exception, match="derivative 4"):
        found.lobe(at, 4)


def test_one_row_of_a_ratio_curve_is_a_constant_ratio() -> None:
    one = (("6 mm", 1.5),)
    measured, at_lobe = table(valve_gear__ratio_curve=one), table("lobe", valve_gear__ratio_curve=one)
    assert measured.lobe is not None
    assert at_lobe.valve is not None
    assert float(measured.lobe(0.0)) == pytest.approx(0.012 / 1.5, rel=1e-4)
    assert float(at_lobe.valve(0.0)) == pytest.approx(0.012 * 1.5, rel=1e-4)


@pytest.mark.parametrize("side", ["lobe", "valve"])
@pytest.mark.parametrize(
    ("curve", "why"),
    [
        ((("5 mm", 1.6), ("2 mm", 1.7)), "each over the last"),
        ((("0 mm", 1.6), ("2 mm", -1.7)), "row 2 wants a lift and a ratio"),
        ((("0 mm", 1.6), (None, 1.7)), "row 2 wants a lift and a ratio"),
        ((("0 mm", 0.1), ("3 mm", 5.0), ("6 mm", 0.2)), "more lobe is less valve"),
    ],
)
def test_a_ratio_curve_that_cannot_be_used_never_falls_back_on_the_ratio(
    side: str, curve: tuple[tuple[str | None, float], ...], why: str
) -> None:
    found = table(side, valve_gear__ratio_curve=curve)
    assert found.valve is None
    assert found.missing == ("valve_gear.ratio_curve",)
    assert "The ratio curve cannot be used" in found.note
    assert why in found.note


def test_what_was_done_to_a_table_and_where_it_bends_is_told() -> None:
    assert table().note == ""
    assert table(noise=0.012).note == ""
    degrees = np.arange(-100.0, 101.0)
    kinked = LawLobe(law="constant-acceleration", lift=0.008, opening=60 * DEG, closing=60 * DEG)
    lifts = kinked(degrees * DEG) * 1e3 + 0.03
    rows = tuple((f"{angle:g} deg", f"{lift:.4f} mm") for angle, lift in zip(degrees, lifts, strict=True))
    note = table("lobe", cam__profile=rows).note
    assert "The base circle reads 0.03 mm before the lift and 0.03 mm after it" in note
    assert "bends sharply, or a reading stands off it, in row" in note
    named = {int(word) for word in note.partition("in row ")[2].partition(" of")[0].split(", ")}
    joints = {int(np.flatnonzero(degrees == joint)[0]) + 1 for joint in (-60, -30, 30, 60)}
    assert all(min(abs(row - joint) for row in named) <= 1 for joint in joints)
    coarse = rows[::4]
    assert "bends sharply" not in table("lobe", cam__profile=coarse).note


# Durations


@pytest.mark.parametrize(
    ("rows", "why"),
    [
        ((("1 mm", "250 deg"), ("1 mm", "260 deg")), "the lifts of the two durations"),
        ((("0.5 mm", "200 deg"), ("1 mm", "250 deg")), "the shorter one at the higher lift"),
        ((("0.5 mm", "400 deg"), ("1 mm", "150 deg")), "times that at the higher one"),
        ((("0.5 mm", "250 deg"), ("9 mm", "150 deg")), "below the greatest lift"),
        ((("0 mm", "280 deg"), ("1 mm", "250 deg")), "Two durations at two lifts above zero are wanted"),
    ],
)
def test_durations_that_no_lift_can_meet_are_told(rows: tuple[tuple[str, str], ...], why: str) -> None:
    from loadbench.job.parts import Duration

    durations = tuple(Duration(lift=lift, crank=crank) for lift, crank in rows)
    found = cam_lift(line(cam__durations=durations, valve_gear__lobe_lift="8 mm"), RATIO)
    assert (found.lobe, found.missing) == (None, ("cam.durations",))
    assert why in found.note
