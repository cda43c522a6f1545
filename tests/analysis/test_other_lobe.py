"""Another lobe beside a line's: it is what it says, on this line's valve gear, and the job stays as it is."""

from __future__ import annotations

import math

import numpy as np
import pytest

from loadbench.analysis import LineAnalysis, analyse
from loadbench.analysis.motion.other_lobe import CHECK, lobe_of_law, lobe_of_motion, lobe_of_table
from loadbench.motion.durations import duration
from loadbench.motion.laws import LAWS
from loadbench.motion.lobe import LawLobe, PowerLobe
from loadbench.motion.power_lift import fitted
from tests.analysis.test_motion import job

INCH = 0.0254
ANGLES = np.linspace(-1.2, 1.2, 241)


def line(**changes: object) -> LineAnalysis:
    return analyse(job(**changes)).lines[0]


def lobe() -> PowerLobe:
    top = 0.340 * INCH
    made = fitted((0.050 * INCH, 0.200 * INCH), (math.radians(118), math.radians(75)), top)
    return PowerLobe(powers=made.powers, lift=top, half_opening=made.half_duration, half_closing=made.half_duration)


def rows(of: PowerLobe, factor: float = 1.0, turn: float = 1.0) -> tuple[tuple[str, str], ...]:
    degrees = np.arange(-90.0, 90.5, 2.0)
    return tuple((f"{turn * each:g} deg", f"{factor * float(of(math.radians(each))):.9f} m") for each in degrees)


def test_a_table_at_the_lobe_stands_on_this_lines_ratio() -> None:
    own, other = line(), lobe()
    before = own.stated.stated.job
    found = lobe_of_table(own.stated, own.value("ratio"), rows(other), "cam", "lobe")
    assert found.lobe is not None
    assert found.valve is not None
    assert found.note == ""
    assert found.lobe(ANGLES) == pytest.approx(other(ANGLES), abs=3e-6)
    assert found.valve(ANGLES) == pytest.approx(1.6 * other(ANGLES), abs=5e-6)
    assert own.stated.stated.job is before


@pytest.mark.parametrize(("side", "factor", "angle", "turn"), [("valve", 1.6, "cam", 1.0), ("lobe", 1.0, "crank", 2.0)])
def test_crank_degrees_and_lift_at_the_valve_come_to_the_same(
    side: str, factor: float, angle: str, turn: float
) -> None:
    own, other = line(), lobe()
    found = lobe_of_table(own.stated, own.value("ratio"), rows(other, factor, turn), angle, side)
    assert found.lobe is not None
    assert found.lobe(ANGLES) == pytest.approx(other(ANGLES), abs=3e-6)


def test_a_lines_own_gear_and_a_cam_of_its_own_are_looked_past() -> None:
    found = analyse(
        job(**{"lines.exhaust": {"valve_gear": {"rocker_ratio": 1.5}, "cam": {"profile": rows(lobe(), 0.9)}}})
    )
    own = found.line("exhaust")
    other = lobe_of_table(own.stated, own.value("ratio"), rows(lobe()), "cam", "lobe")
    assert other.valve is not None
    assert float(other.valve(0.0)) == pytest.approx(1.5 * 0.340 * INCH, rel=1e-3)


def test_a_table_with_faults_gives_none_and_says_so() -> None:
    own = line()
    table = list(rows(lobe()))
    table[20] = table[19]
    found = lobe_of_table(own.stated, own.value("ratio"), table, "cam", "lobe")
    assert found.lobe is None
    assert "faults" in found.note


def test_without_a_ratio_the_valve_waits() -> None:
    own = line(**{"valve_gear.rocker_ratio": None, "valve_gear.lobe_lift": None})
    found = lobe_of_table(own.stated, own.value("ratio"), rows(lobe()), "cam", "lobe")
    assert found.lobe is not None
    assert found.valve is None
    assert "ratio" in found.note


@pytest.mark.parametrize("law", LAWS)
def test_a_law_has_the_lift_and_the_duration_of_the_lobe_beside_it(law: str) -> None:
    own = line()
    assert own.motion.lobe is not None
    found = lobe_of_law(own.stated, own.value("ratio"), own.motion.lobe, law)
    assert isinstance(found.lobe, LawLobe)
    assert found.valve is not None
    assert found.check == CHECK
    assert float(found.lobe(0.0)) == pytest.approx(float(own.motion.lobe(0.0)), rel=1e-12)
    assert float(duration(found.lobe, CHECK)) == pytest.approx(float(duration(own.motion.lobe, CHECK)), rel=1e-9)
    assert found.valve(ANGLES) == pytest.approx(1.6 * found.lobe(ANGLES), rel=1e-12)


def test_a_law_follows_an_asymmetrical_lobe() -> None:
    own = line()
    leaning = LawLobe(law="cycloidal", lift=8e-3, opening=1.1, closing=1.4)
    found = lobe_of_law(own.stated, 1.6, leaning, "cycloidal")
    assert isinstance(found.lobe, LawLobe)
    assert (found.lobe.opening, found.lobe.closing) == pytest.approx((1.1, 1.4), rel=1e-9)


def test_a_low_lobe_is_held_at_half_its_lift() -> None:
    own = line()
    low = LawLobe(law="3-4-5", lift=1.5e-3, opening=1.0, closing=1.0)
    found = lobe_of_law(own.stated, 1.6, low, "3-4-5")
    assert found.check == pytest.approx(0.75e-3)
    assert isinstance(found.lobe, LawLobe)
    assert found.lobe.opening == pytest.approx(1.0, rel=1e-9)


def test_a_flank_of_more_than_half_a_turn_is_refused() -> None:
    own = line()
    long = LawLobe(law="constant-acceleration", lift=9e-3, opening=3.1, closing=3.1)
    found = lobe_of_law(own.stated, 1.6, long, "4-5-6-7")
    assert found.lobe is None
    assert "half a turn" in found.note


def test_another_lines_lobe_is_its_own() -> None:
    own = line()
    found = lobe_of_motion(own.motion)
    assert found.lobe is own.motion.lobe
    assert found.valve is own.motion.valve
