"""Intake and exhaust apart: overrides, the worst line, and the pressures that take load off the seat."""

from __future__ import annotations

import math
from typing import Any

import pytest

from tests.analysis.bench_jobs import SOLID, analysis_of, missing, shown

EXHAUST: dict[str, Any] = {
    "lines.exhaust.valve_gear.lobe_lift": "0.360 in",
    "lines.exhaust.valve_gear.head_diameter": "1.60 in",
}
AREA = {"intake": math.pi / 4 * 2.02**2, "exhaust": math.pi / 4 * 1.60**2}


def test_one_line_makes_two_and_the_other_is_the_common_part() -> None:
    apart = analysis_of(EXHAUST)
    assert [line.name for line in apart.lines] == ["intake", "exhaust"]
    assert shown(apart, "net_valve_lift", "intake") == pytest.approx(0.560)
    assert shown(apart, "net_valve_lift", "exhaust") == pytest.approx(0.576)
    assert [line.name for line in analysis_of().lines] == ["common"]


def test_an_empty_line_is_a_line() -> None:
    assert [line.name for line in analysis_of({"lines.intake": {}}).lines] == ["intake", "exhaust"]


@pytest.mark.parametrize(
    ("name", "line"),
    [
        ("bind_margin", "exhaust"),
        ("retainer_margin", "exhaust"),
        ("open_height", "exhaust"),
        ("open_load", "exhaust"),
        ("net_valve_lift", "exhaust"),
        ("follower_open_load", "exhaust"),
    ],
)
def test_each_figure_is_of_the_line_where_it_is_worst(name: str, line: str) -> None:
    apart = analysis_of(EXHAUST)
    assert apart.worst[name] == line
    assert apart.figures[name] == apart.line(line).figures[name]


def test_least_for_seat_load_greatest_for_the_followers_and_the_rate_of_the_heavier() -> None:
    softer = (
        {"height": "1.900 in", "load": "140 lbf"},
        {"height": "1.300 in", "load": "440 lbf"},
    )
    apart = analysis_of({"lines.intake.spring.readings": softer})
    assert shown(apart, "seat_load") == pytest.approx(140)
    assert shown(apart, "follower_seat_load") == pytest.approx(1.6 * 150)
    assert shown(apart, "open_load") == pytest.approx(140 + 500 * 0.560)
    assert (apart.worst["rate"], shown(apart, "rate")) == ("intake", pytest.approx(500))


def test_a_line_without_a_figure_is_skipped() -> None:
    apart = analysis_of({"lines.exhaust.valve_gear.lobe_lift": "0.36 inn"})
    assert shown(apart, "net_valve_lift", "exhaust") is None
    assert (apart.worst["net_valve_lift"], shown(apart, "net_valve_lift")) == ("intake", pytest.approx(0.560))
    assert apart.line("exhaust").figures["net_valve_lift"].missing == ("lines.exhaust.valve_gear.lobe_lift",)


def test_a_lines_own_list_replaces_the_common_one() -> None:
    apart = analysis_of(
        {"spring.installed_height": None, "spring.bare_height": "1.960 in", "spring.shims": ("0.030 in", "0.030 in")},
        {"lines.exhaust.spring.shims": ("0.015 in",)},
    )
    assert shown(apart, "installed_height", "intake") == pytest.approx(1.900)
    assert shown(apart, "installed_height", "exhaust") == pytest.approx(1.945)


# Pressure behind the head


def test_boost_acts_on_intake_and_back_pressure_on_exhaust() -> None:
    both = analysis_of(EXHAUST, {"duty.boost": "10 psi", "duty.exhaust_back_pressure": "20 psi"})
    assert shown(both, "effective_seat_load", "intake") == pytest.approx(150 - 10 * AREA["intake"])
    assert shown(both, "effective_seat_load", "exhaust") == pytest.approx(150 - 20 * AREA["exhaust"])
    assert both.worst["effective_seat_load"] == "exhaust"
    assert shown(both, "seat_load", "intake") == pytest.approx(150)


def test_a_common_line_is_both_and_the_lesser_is_shown() -> None:
    for boost, back in (("10 psi", "20 psi"), ("20 psi", "10 psi")):
        one = analysis_of({"duty.boost": boost, "duty.exhaust_back_pressure": back})
        assert shown(one, "effective_seat_load") == pytest.approx(150 - 20 * AREA["intake"])


def test_an_unstated_pressure_is_none_and_said() -> None:
    figure = analysis_of().figures["effective_seat_load"]
    assert "boost" in figure.note
    assert "exhaust back pressure" in figure.note
    assert "boost" not in analysis_of({"duty.boost": "0 psi"}).figures["effective_seat_load"].note


def test_pressure_without_a_head_is_unknown() -> None:
    headless = {"valve_gear.head_diameter": None}
    blown = analysis_of(headless, {"duty.boost": "10 psi"})
    assert (shown(blown, "effective_seat_load"), shown(blown, "seat_load")) == (None, pytest.approx(150))
    assert missing(blown, "effective_seat_load") == ("valve_gear.head_diameter",)
    assert shown(analysis_of(headless, {"duty.boost": "0 psi"}), "effective_seat_load") == pytest.approx(150)


def test_pressure_carries_the_seat_loads_uncertainty() -> None:
    blown = analysis_of({"duty.boost": "10 psi", "tester.load_accuracy_percent": 1})
    seat, effective = blown.figures["seat_load"].expanded, blown.figures["effective_seat_load"].expanded
    assert effective == seat
    assert seat == pytest.approx(2 * 0.01 / math.sqrt(3) * 150 * 4.4482216152605)


def test_solid_lines_have_their_own_lash() -> None:
    apart = analysis_of(SOLID, {"lines.exhaust.valve_gear.lash": "0.020 in"})
    assert shown(apart, "net_valve_lift", "intake") == pytest.approx(0.544)
    assert shown(apart, "net_valve_lift", "exhaust") == pytest.approx(0.540)
