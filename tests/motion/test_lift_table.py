"""Lift tables: what is accepted, either end first, and what is told with its row."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from loadbench.arrays import Floats
from loadbench.errors import UnreadableFileError
from loadbench.motion.laws import LAWS
from loadbench.motion.lift_table import from_degrees, lift_table, table_faults
from loadbench.motion.lobe import LawLobe, hydraulic_ramp, solid_ramp

MM = 1e-3
INCH = 0.0254
DATA = Path(__file__).parent.parent / "reference" / "data"
rad = math.radians


def lobe(law: str = "3-4-5", half: float = 60.0) -> LawLobe:
    ramps = solid_ramp(0.3 * MM, rad(30)), hydraulic_ramp(0.2 * MM, rad(20))
    return LawLobe(
        law=law,
        lift=10.5 * MM,
        opening=rad(half),
        closing=rad(half + 5),
        opening_ramp=ramps[0],
        closing_ramp=ramps[1],
    )


DEGREES = np.arange(-120.0, 121.0)


def lifts(degrees: Floats = DEGREES) -> Floats:
    return lobe()(np.radians(degrees))


def told(degrees: Floats, measured: Floats) -> list[str]:
    return [str(fault) for fault in table_faults(np.radians(degrees), measured)]


def test_a_table_is_put_on_its_nose() -> None:
    table = from_degrees(DEGREES + 107.0, lifts())
    assert math.degrees(table.nose) == pytest.approx(107.0, abs=0.6)
    assert table.angles + table.nose == pytest.approx(np.radians(DEGREES + 107.0), rel=1e-12)
    assert table.lifts.tolist() == lifts().tolist()
    assert table.base == pytest.approx((0.0, 0.0), abs=0.05 * MM)
    assert table.told == ()


def test_either_end_may_come_first_and_it_is_told() -> None:
    rising, falling = from_degrees(DEGREES, lifts()), from_degrees(DEGREES[::-1], lifts()[::-1])
    assert falling.angles.tolist() == rising.angles.tolist()
    assert falling.lifts.tolist() == rising.lifts.tolist()
    assert falling.places[0] == DEGREES.size - 1
    assert "turned round" in falling.told[0]


def test_crank_degrees_are_halved() -> None:
    assert (
        from_degrees(2 * DEGREES, lifts(), crank=True).angles.tolist() == from_degrees(DEGREES, lifts()).angles.tolist()
    )


@pytest.mark.parametrize("nose", [0.0, 5.0, 108.0, 180.0, 350.0])
def test_a_whole_turn_may_begin_anywhere(nose: float) -> None:
    around = np.arange(0.0, 361.0)
    table = from_degrees(around, lifts((around - nose + 180) % 360 - 180))
    assert math.degrees(table.nose) % 360 == pytest.approx(nose, abs=0.6)
    assert table.angles.size == 360
    assert -math.pi <= table.angles[0] < table.angles[-1] < math.pi
    assert np.all(np.diff(table.angles) > 0)
    assert "counted once" in table.told[0]
    assert (table.lifts[0], table.lifts[-1]) == (0.0, 0.0)


@pytest.mark.parametrize("name", ["A_rounded", "A_noisy", "B_rounded", "B_noisy"])
def test_the_nose_of_a_noisy_table(name: str) -> None:
    rows = np.loadtxt(DATA / f"lobe_{name}.csv", delimiter=",", skiprows=3)
    assert math.degrees(from_degrees(rows[:, 0], rows[:, 1] * INCH).nose) == pytest.approx(0.0, abs=0.05)


@settings(max_examples=60, deadline=None)
@given(
    st.sampled_from(LAWS),
    st.sampled_from([45.0, 60.0, 75.0]),
    st.sampled_from([0.1, 0.5, 1.0, 2.0, 5.0]),
    st.sampled_from([0.0, 1e-6, 5e-6, 1e-5]),
    st.integers(0, 2**32 - 1),
)
def test_good_tables_are_left_alone(law: str, half: float, step: float, noise: float, seed: int) -> None:
    degrees = np.arange(-120.0, 120.01, step)
    measured = lobe(law, half)(np.radians(degrees))
    noisy = measured + noise * np.random.default_rng(seed).normal(size=degrees.size)
    assert told(degrees, noisy) == []


@pytest.mark.parametrize(("step", "least"), [(0.1, 0.06), (0.5, 0.06), (1.0, 0.06), (2.0, 0.10), (5.0, 0.5)])
@pytest.mark.parametrize("sign", [-1, 1])
def test_a_spike_is_told_with_its_row(step: float, least: float, sign: int) -> None:
    degrees = np.arange(-120.0, 120.01, step)
    measured = lobe()(np.radians(degrees))
    for place in (degrees.size // 3, degrees.size // 2 + 1):
        spiky = measured.copy()
        spiky[place] += sign * least * MM
        (fault,) = table_faults(np.radians(degrees), spiky)
        assert fault.place.row == place + 1
        assert "off its neighbours" in fault.what


def test_unit_mix_ups_are_told_with_the_row() -> None:
    around = np.arange(0.0, 361.0)
    once = lifts(around - 180)
    assert told(2 * around, once) == [
        "row 182: the table covers 720 deg of the cam (expected: 360 deg at most; are these crank degrees?)"
    ]
    assert "less than 1 m; is the unit right" in told(around, once / MM)[0]
    assert told(around, once / INCH)[0].startswith("row 181: a greatest lift of 413.4 mm")
    assert "is the unit right" in told(around, once * MM)[0]


def test_angles_that_stand_still_or_go_back_are_told_with_the_row() -> None:
    twice, back = DEGREES.copy(), DEGREES.copy()
    twice[50], back[50] = twice[49], back[49] - 5
    assert told(twice, lifts()) == ["row 51: the angle -71 deg is there twice (expected: rising angles, each once)"]
    assert told(back, lifts()) == ["row 51: the angle -76 deg goes back (expected: rising angles, each once)"]
    falling = twice[::-1]
    assert told(falling, lifts()[::-1]) == [
        "row 192: the angle -71 deg is there twice (expected: falling angles, each once)"
    ]


def test_a_table_that_does_not_close_is_told_with_the_row() -> None:
    assert told(DEGREES[60:], lifts()[60:])[0].startswith("row 1: the table begins at")
    assert told(DEGREES[:180], lifts()[:180])[0].startswith("row 180: the table ends at")
    around = np.arange(0.0, 361.0)
    drifting = lifts(around - 180) + around * 1e-6
    assert told(around, drifting)[0].startswith("row 361: the turn ends at 0.36 mm and began at 0 mm")
    raised = lifts(around - 180) + 0.3 * MM
    assert "zero on the base circle" in told(around, raised)[0]
    sunk = lifts() - 0.2 * MM
    assert "zero on the base circle" in told(DEGREES, sunk)[0]


def test_too_few_rows_and_rows_without_numbers() -> None:
    assert told(DEGREES[:19], lifts()[:19]) == ["row 19: the table ends after 19 rows of lift (expected: 20 or more)"]
    assert told(DEGREES[:0], lifts()[:0]) == ["no rows of lift (expected: 20 or more)"]
    holes = lifts()
    holes[[4, 9]] = np.nan
    assert told(DEGREES, holes) == [
        "row 5: a row without a number (expected: an angle and a lift)",
        "row 10: a row without a number (expected: an angle and a lift)",
    ]
    assert told(DEGREES, lifts()[:-1])[0].startswith("angles and lifts of different number")


def test_all_faults_come_at_once_by_the_rows_of_the_file() -> None:
    twice = DEGREES.copy()
    twice[[50, 90]] = twice[[49, 89]]
    with pytest.raises(UnreadableFileError) as refused:
        lift_table(np.radians(twice), lifts(), row_of=lambda place: place + 4)
    assert [problem.place.row for problem in refused.value.problems] == [54, 94]


# Tables as people have them


def on_wheel(first: float, last: float, step: float = 1.0, wheel: float = 360.0) -> tuple[Floats, Floats]:
    """What a wheel shows from one angle to another, and the lifts there; the nose is at zero."""
    angles = np.arange(first, last + step / 2, step)
    return angles % wheel, lifts(angles)


def test_a_wheel_that_starts_again_from_zero_is_counted_on_and_told() -> None:
    shown, measured = on_wheel(-110, 110)
    assert told(shown, measured) == []
    table = from_degrees(shown, measured, row_of=lambda place: place + 4)
    assert table.angles == pytest.approx(from_degrees(DEGREES[10:-10], lifts()[10:-10]).angles, abs=1e-9)
    assert table.told == ("The angles start again at 0 deg in row 114; they are counted on from there.",)
    backwards = from_degrees(shown[::-1], measured[::-1])
    assert backwards.angles == pytest.approx(table.angles, abs=1e-9)
    crank, measured = on_wheel(-220, 220, 2.0)
    assert told(crank / 2, lifts(np.arange(-220.0, 221.0, 2.0) / 2)) == []


def test_a_second_table_beneath_the_first_is_no_wheel_that_starts_again() -> None:
    twice, around = np.tile(DEGREES, 2), np.tile(np.arange(0.0, 360.0), 2)
    assert told(twice, np.tile(lifts(), 2))[0].startswith("row 242: the angle -120 deg goes back")
    once = lifts(np.arange(0.0, 360.0) - 180)
    assert told(around, np.tile(once, 2))[0].startswith("row 361: the angle 0 deg goes back")
    shown, measured = on_wheel(-110, 110)
    for turned in (0.0, 0.3, 0.45):
        doubled, again = np.insert(shown, 110, 360.0) + turned, np.insert(measured, 110, measured[110])
        assert told(doubled, again)[0].startswith(f"row 112: the angle {turned:g} deg is there twice")
    left = np.r_[0:110, 118 : shown.size]
    assert told(shown[left], measured[left])[0].startswith("row 111: the angle 8 deg goes back")


@pytest.mark.parametrize("nose", [0.0, 5.0, 40.0, 108.0, 350.0])
def test_a_whole_turn_without_its_first_row_told_again(nose: float) -> None:
    around = np.arange(0.0, 360.0)
    measured = lifts((around - nose + 180) % 360 - 180)
    assert told(around, measured) == []
    assert from_degrees(around, measured).angles.size == 360
    spiky = measured.copy()
    spiky[0] += 0.3 * MM
    assert [fault.split(":")[0] for fault in told(around, spiky)] == ["row 1"]
    dipped = measured.copy()
    dipped[(int(nose) + 180) % 360] -= 0.3 * MM
    assert [fault.split(":")[0] for fault in told(around, dipped)] == [f"row {(int(nose) + 180) % 360 + 1}"]
    drifting = measured + around * 3e-6
    assert any("off its neighbours" in fault or "the turn ends" in fault for fault in told(around, drifting))


def test_a_table_that_starts_in_mid_lobe_and_stops_short_of_a_turn_is_told() -> None:
    around = np.arange(0.0, 350.0)
    assert told(around, lifts((around + 180) % 360 - 180))[0].startswith("row 1: the table begins at 10.5 mm")


@pytest.mark.parametrize(("before", "after"), [(0.05, 0.05), (-0.05, -0.05), (0.0, 0.08), (0.06, -0.03)])
def test_a_gauge_off_zero_is_taken_off_and_told(before: float, after: float) -> None:
    off = np.interp(DEGREES, (-110, 110), (before * MM, after * MM))
    table = from_degrees(DEGREES, lifts() + off)
    assert table.lifts == pytest.approx(lifts(), abs=0.003 * MM)
    assert table.base == pytest.approx((before * MM, after * MM), abs=0.005 * MM)
    (line,) = table.told
    assert line.startswith("The base circle reads")
    assert f"{table.base[0] * 1e3:.3g} mm before" in line


def test_a_base_circle_that_reads_nothing_is_left_as_it_is() -> None:
    rng = np.random.default_rng(2)
    noisy = lifts() + 0.02 * MM * rng.normal(size=DEGREES.size)
    for measured in (lifts(), noisy):
        table = from_degrees(DEGREES, measured)
        assert table.lifts.tolist() == measured.tolist()
        assert table.told == ()
    # A table that begins on the ramp shows no base circle: its first readings are no offset.
    ramp = from_degrees(DEGREES[32:-36], lifts()[32:-36])
    assert ramp.lifts.tolist() == lifts()[32:-36].tolist()
    assert ramp.base == (0.0, 0.0)


@pytest.mark.parametrize("step", [0.1, 0.25, 0.5, 1.0, 2.0, 5.0])
@pytest.mark.parametrize("inches", [0.0005, 0.001, 0.002])
def test_a_poor_gauge_makes_no_faults(step: float, inches: float) -> None:
    degrees = np.arange(-180.0, 180.01, step)
    for seed in range(4):
        rng = np.random.default_rng(seed)
        noisy = lifts(degrees) + inches * INCH * rng.normal(size=degrees.size)
        assert told(degrees, np.round(noisy / INCH, 3) * INCH) == []


def test_a_gauge_that_turned_backwards_is_told_as_one() -> None:
    (fault,) = table_faults(np.radians(DEGREES), -lifts())
    assert "below zero by more than any is above" in fault.what
    assert fault.place.row == 121
    assert "backwards" in fault.expected


@pytest.mark.parametrize("greatest", [0.45, 0.6, 1.1])
def test_inches_read_as_mm_and_mm_read_as_inches(greatest: float) -> None:
    inches = lifts() / lifts().max() * greatest
    assert "is the unit right" in told(DEGREES, inches * MM)[0]
    assert "is the unit right" in told(DEGREES, 10 * inches * INCH)[0]
    assert told(DEGREES, inches * INCH) == []


@pytest.mark.parametrize("sign", [-1, 1])
@pytest.mark.parametrize("least", [0.010, 0.1])
@pytest.mark.parametrize("place", [0, 1, 2, 12, 70, 85, 120, 121, 150, 240])
@pytest.mark.parametrize("noise", [0.0, 0.0002, 0.0005])
def test_a_slip_anywhere_is_told_once_with_its_row(sign: int, least: float, place: int, noise: float) -> None:
    spiky = np.round(lifts() / INCH + noise * np.random.default_rng(3).normal(size=DEGREES.size), 4)
    spiky[place] += sign * least
    faults = table_faults(np.radians(DEGREES), spiky * INCH)
    assert {fault.place.row for fault in faults} == {place + 1}


def test_rows_that_are_missing_are_told_with_the_row_after_them() -> None:
    for first, last in ((60, 70), (118, 121), (150, 154)):
        left = np.r_[0:first, last : DEGREES.size]
        (fault,) = table_faults(np.radians(DEGREES[left]), lifts()[left])
        assert fault.place.row == first + 1
        assert fault.what.startswith(f"no lift between the angles {DEGREES[first - 1]:g} deg and {DEGREES[last]:g}")
        assert "are rows missing" in fault.expected


def test_a_step_left_out_is_told_and_used() -> None:
    left = np.delete(np.arange(DEGREES.size), 90)
    assert told(DEGREES[left], lifts()[left]) == []
    assert from_degrees(DEGREES[left], lifts()[left]).told == (
        "A row seems to be left out before row 91; the lift is taken straight across.",
    )


def test_steps_may_change_and_the_base_circle_needs_few_rows() -> None:
    mixed = np.concatenate(
        (np.arange(-120, -60, 5.0), np.arange(-60, -20, 1.0), np.arange(-20, 20, 0.5), DEGREES[140:])
    )
    assert told(mixed, lifts(mixed)) == []
    assert from_degrees(mixed, lifts(mixed)).told == ()
    wide = np.concatenate(([-180.0, -150.0], DEGREES[20:-20], [150.0, 180.0]))
    assert told(wide, lifts(wide)) == []
    few = np.concatenate(([-180.0, -179.0, -178.0], DEGREES[10:-10], [178.0, 179.0, 180.0]))
    assert told(few, lifts(few)) == []
    jitter = DEGREES + np.random.default_rng(5).uniform(-0.4, 0.4, DEGREES.size)
    assert told(jitter, lifts(jitter)) == []
    assert from_degrees(jitter, lifts(jitter)).told == ()


def test_two_lobes_in_one_table_are_told_with_the_row_of_the_other_nose() -> None:
    around = np.arange(0.0, 361.0)
    second = 0.8 * lifts((around - 290 + 180) % 360 - 180)
    both = np.maximum(lifts((around - 100 + 180) % 360 - 180), second)
    (fault,) = table_faults(np.radians(around), both)
    assert fault.what.startswith("the lift rises again by")
    assert abs((fault.place.row or 0) - 291) <= 1
    (open_,) = table_faults(np.radians(around[:-2]), both[:-2])
    assert abs((open_.place.row or 0) - 291) <= 1


def test_angles_in_rad_and_crank_degrees_that_are_read_as_the_cams_degrees_are_told() -> None:
    (fault,) = table_faults(np.radians(np.radians(DEGREES)), lifts())
    assert "by its angles the table stands above half its lift for 1.0" in fault.what
    assert fault.place.row == 121
    assert fault.expected == "10 to 110 deg; are the angles in rad?"
    (fault,) = table_faults(np.radians(2 * DEGREES[31:-31]), lifts()[31:-31])
    assert fault.place.row == 90
    assert fault.expected.endswith("are these crank degrees?")


@pytest.mark.parametrize(("turns", "asked"), [(0.5, "cam's and not the crank's"), (1.0, ""), (1.65, "crank's and not")])
def test_cam_and_crank_degrees_that_may_be_taken_for_each_other_are_asked_about(turns: float, asked: str) -> None:
    table = from_degrees(turns * DEGREES[31:-31], lifts()[31:-31])
    assert any(asked in line for line in table.told) if asked else table.told == ()


def test_no_more_than_twenty_angles_are_told() -> None:
    faults = table_faults(np.zeros(DEGREES.size), lifts())
    assert len(faults) == 21
    assert faults[-1].what == "220 more angles from this one on are out of order"
    assert faults[-1].place.row == 22


def test_a_table_too_coarse_to_show_its_nose_is_told_at_its_highest_row() -> None:
    degrees = [-83.0, -77.1, -77.0, -71.5, -65.6, -61.1, -59.1, -53.6, -43.3, -37.3, -35.8, -34.9, -27.0, -17.9, -17.7]
    degrees += [-17.2, -7.1, 35.7, 56.5, 58.6, 60.5, 69.9, 79.5]
    measured = [0.03, 0.0, 0.01, -0.01, -0.01, 0.01, 0.03, 0.91, 5.46, 9.38, 10.45, 11.13, 17.17, 23.52, 23.63, 23.93]
    measured += [28.42, 10.59, 0.32, 0.06, -0.02, -0.02, 0.02]
    assert told(np.array(degrees), np.array(measured) * MM) == [
        "row 17: a lift table without a nose (expected: a lift that rises to its greatest and falls again)"
    ]
