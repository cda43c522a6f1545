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
    assert told(DEGREES[:19], lifts()[:19]) == ["19 rows of lift (expected: 20 or more)"]
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
