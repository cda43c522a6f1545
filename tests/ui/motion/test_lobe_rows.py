"""The Lift view's tables: durations with and without lash, two lobes, and what each row says."""

from __future__ import annotations

import math

import pytest

from loadbench.analysis.motion.other_lobe import OtherLobe
from loadbench.motion.durations import area, compare, duration
from loadbench.motion.lobe import LawLobe
from loadbench.units import Style
from ui.motion.comparison import LOBE, VALVE, Beside
from ui.motion.lobe_rows import LobeRows, compared_rows, duration_rows, levels_of
from ui.motion.wording import per_degree

ONE = LawLobe(law="3-4-5", lift=12e-3, opening=1.2, closing=1.3)
OTHER = LawLobe(law="cycloidal", lift=11e-3, opening=1.3, closing=1.3)
INCH, LASH = 0.0254, 0.016 * 0.0254


def beside(side: str = VALVE) -> Beside:
    return Beside(name="exhaust", own="intake", side=side, lobe=OtherLobe(lobe=OTHER, valve=OTHER))


def cells(rows: LobeRows, label: str) -> list[str]:
    row = next(each for each in rows.figures.rows if each.label == label)
    return [cell.told.number if cell.told else "" for cell in row.cells]


def test_durations_stand_in_crank_degrees_a_column_for_each_lash() -> None:
    rows = duration_rows(ONE, LASH, None, VALVE, Style.INCH_POUND)
    assert rows.figures.coils == ("No lash", "Lash, 0.016\u2009in", "Lash, 0.014\u2009in", "Lash, 0.018\u2009in")
    wanted = [
        f"{2 * math.degrees(float(duration(ONE, 0.050 * INCH + lash * INCH))):.1f}" for lash in (0, 0.016, 0.014, 0.018)
    ]
    assert cells(rows, "At 0.050\u2009in") == wanted
    assert next(row.label for row in rows.figures.rows if not row.heading) == "Off the seat"
    without, own = (float(each) for each in wanted[:2])
    said = rows.says["duration 3"]
    assert f"{own:.1f} deg of the crank" in said
    assert f"takes {without - own:.1f} of {without:.1f} deg" in said


def test_the_area_is_over_degrees_of_the_crank() -> None:
    rows = duration_rows(ONE, LASH, None, VALVE, Style.METRIC)
    told = [float(each) for each in cells(rows, "Under the lift that is left")]
    assert told[0] == pytest.approx(2 * math.degrees(float(area(ONE))) * 1e3, rel=5e-3)
    assert told[1] == pytest.approx(2 * math.degrees(float(area(ONE, LASH))) * 1e3, rel=5e-3)
    assert "lash takes" in rows.says["area"]


def test_a_typed_lift_stands_in_its_place_and_once() -> None:
    assert levels_of(Style.INCH_POUND, 0.030 * INCH)[3] == pytest.approx(0.030 * INCH)
    assert levels_of(Style.INCH_POUND, 0.050 * INCH) == levels_of(Style.INCH_POUND, None)
    rows = duration_rows(ONE, 0.0, 0.030 * INCH, VALVE, Style.INCH_POUND)
    assert rows.figures.coils == ("No lash",)
    assert "At 0.030\u2009in" in [row.label for row in rows.figures.rows]


def test_at_the_lobe_lash_takes_nothing() -> None:
    rows = duration_rows(ONE, LASH, None, LOBE, Style.INCH_POUND)
    assert rows.figures.coils == ("Value",)
    assert "lash" not in " ".join(rows.says.values())


def test_a_lift_that_is_never_reached_says_so() -> None:
    rows = duration_rows(ONE, None, 20e-3, VALVE, Style.METRIC)
    row = next(each for each in rows.figures.rows if each.label == "At 20.00\u2009mm")
    assert row.cells[0].told is None
    assert "never" in row.cells[0].waits_for
    assert "never" in rows.says[row.name]


@pytest.mark.parametrize("style", list(Style))
def test_two_lobes_stand_side_by_side_with_what_is_between_them(style: Style) -> None:
    rows = compared_rows(ONE, beside(), None, style)
    assert rows.figures.coils == ("Intake", "Exhaust", "Difference")
    found = compare(ONE, OTHER, levels_of(style, None))
    assert len([row for row in rows.figures.rows if not row.heading]) == len(found)
    greatest = next(each for each in found if each.what == "greatest speed")
    own, other, more = (each.replace("\u2212", "-") for each in cells(rows, "Greatest velocity"))
    scale = math.radians(1) / (INCH if style is Style.INCH_POUND else 1e-3)
    assert float(own) == pytest.approx(greatest.one * scale, rel=6e-3)
    assert float(other) == pytest.approx(greatest.other * scale, rel=6e-3)
    assert float(more) == pytest.approx((greatest.other - greatest.one) * scale, rel=6e-3)
    row = next(each for each in rows.figures.rows if each.label == "Greatest jerk")
    assert row.cells[0].told is not None
    assert row.cells[0].told.unit == per_degree(3, style)
    longer = cells(rows, "Duration off the seat")
    assert longer[2] == f"+{2 * math.degrees(0.1):.1f}"
    said = rows.says[next(each.name for each in rows.figures.rows if each.label == "Greatest lift")]
    assert said.startswith("Greatest lift: intake ")
    assert "exhaust" in said


def test_without_another_lobe_there_are_no_rows() -> None:
    assert compared_rows(ONE, None, None, Style.METRIC).figures.rows == ()
    wanting = Beside(name="x", own="y", side=VALVE, lobe=OtherLobe(lobe=OTHER))
    assert compared_rows(ONE, wanting, None, Style.METRIC).figures.rows == ()
