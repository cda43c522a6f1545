"""The figures of one line against arithmetic written out beside them: lift, lash, heights, room, loads."""

from __future__ import annotations

from typing import Any

import pytest

from tests.analysis.bench_jobs import COILS, PAIR, SOLID, analysis_of, missing, shown

MANY = pytest.mark.parametrize


@MANY(
    ("name", "by_hand"),
    [
        ("rate", 420.0),  # (402 - 150)/0.600
        ("installed_height", 1.900),
        ("net_valve_lift", 0.560),  # 1.6 x 0.350
        ("open_height", 1.340),
        ("seat_load", 150.0),
        ("open_load", 385.2),  # 150 + 420 x 0.560
        ("effective_seat_load", 150.0),
        ("bind_margin", 0.260),  # 1.340 - 1.080
        ("retainer_margin", 0.080),  # 0.640 - 0.560
        ("follower_seat_load", 240.0),  # 1.6 x 150
        ("follower_open_load", 616.32),  # 1.6 x 385.2
        ("lift_pumped_up", 0.5792),  # 0.560 + 1.6 x 0.012
        ("bind_margin_pumped_up", 0.2408),
    ],
)
def test_hydraulic(name: str, by_hand: float) -> None:
    assert shown(analysis_of(), name) == pytest.approx(by_hand, abs=1e-9)


@MANY(
    ("name", "by_hand"),
    [
        ("net_valve_lift", 0.544),  # 0.560 - 0.016 at the valve
        ("open_load", 378.48),  # 150 + 420 x 0.544
        ("bind_margin", 0.276),
        ("retainer_margin", 0.096),
        ("lift_at_zero_lash", 0.560),
        ("bind_margin_zero_lash", 0.260),
    ],
)
def test_solid(name: str, by_hand: float) -> None:
    assert shown(analysis_of(SOLID), name) == pytest.approx(by_hand, abs=1e-9)


def test_zero_lash_belongs_to_solid_and_pumping_up_to_hydraulic() -> None:
    assert "bind_margin_zero_lash" not in analysis_of().figures
    assert "bind_margin_pumped_up" not in analysis_of(SOLID).figures


def test_preload_leaves_the_net_lift_alone() -> None:
    deep = analysis_of({"follower.preload.depth": "0.060 in"})
    assert shown(deep, "net_valve_lift") == pytest.approx(0.560)
    assert shown(deep, "lift_pumped_up") == pytest.approx(0.560 + 1.6 * 0.060)


def test_lash_of_a_hydraulic_follower_is_not_taken_off() -> None:
    assert shown(analysis_of({"valve_gear.lash": "0.016 in"}), "net_valve_lift") == pytest.approx(0.560)


def test_the_order_of_the_lifts() -> None:
    gross = {"valve_gear.valve_lift": "0.565 in"}
    measured = {"valve_gear.measured_net_lift": "0.530 in"}
    assert shown(analysis_of(SOLID, gross), "net_valve_lift") == pytest.approx(0.549)
    assert shown(analysis_of(SOLID, gross, measured), "net_valve_lift") == pytest.approx(0.530)
    assert shown(analysis_of(gross), "net_valve_lift") == pytest.approx(0.565)
    # With the lash taken up, what was measured net is higher by it.
    assert shown(analysis_of(SOLID, measured), "bind_margin_zero_lash") == pytest.approx(1.900 - 0.546 - 1.080)


def test_a_bucket_is_one_to_one() -> None:
    bucket = analysis_of(SOLID, {"follower.family": "bucket", "valve_gear.rocker_ratio": None})
    assert shown(bucket, "net_valve_lift") == pytest.approx(0.350 - 0.016)
    assert shown(bucket, "follower_open_load") == pytest.approx(shown(bucket, "open_load"))


@MANY(
    ("changes", "height"),
    [
        ({"spring.bare_height": "1.915 in", "spring.shims": ("0.015 in",), "spring.installed_height": None}, 1.900),
        (
            {
                "spring.bare_height": "1.960 in",
                "spring.shims": ("0.015 in", "0.030 in"),
                "spring.installed_height": None,
            },
            1.915,
        ),
        ({"spring.bare_height": "1.950 in", "spring.installed_height": None}, 1.950),
        ({"spring.bare_height": "1.950 in", "spring.shims": ("0.015 in",)}, 1.900),
    ],
)
def test_installed_height(changes: dict[str, Any], height: float) -> None:
    assert shown(analysis_of(changes), "installed_height") == pytest.approx(height)


@MANY(
    ("adjuster", "thread", "ratio", "depth"),
    [
        ("pivot", "7/16-20", 1.7, 0.079412),
        ("pushrod", "3/8-24", 1.5, 0.0416667),
        ("valve-tip", "7/16-20", 1.6, 0.03125),
    ],
)
def test_one_turn_as_plunger_depth(adjuster: str, thread: str, ratio: float, depth: float) -> None:
    gear = {"valve_gear.adjuster.at": adjuster, "valve_gear.adjuster.thread": thread, "valve_gear.rocker_ratio": ratio}
    turned = analysis_of(gear, {"follower.preload.depth": None, "follower.preload.turns": 1})
    assert shown(turned, "plunger_depth") == pytest.approx(depth, abs=1e-6)
    assert shown(turned, "lift_pumped_up") == pytest.approx(ratio * (0.350 + depth), abs=1e-5)


def test_depth_wins_over_turns() -> None:
    both = analysis_of(
        {"follower.preload.turns": 1, "valve_gear.adjuster.at": "pivot", "valve_gear.adjuster.thread": "7/16-20"}
    )
    assert shown(both, "plunger_depth") == pytest.approx(0.012)


def test_turns_without_a_thread_wait_for_it() -> None:
    turned = analysis_of({"follower.preload.depth": None, "follower.preload.turns": 1})
    assert missing(turned, "plunger_depth") == ("valve_gear.adjuster.at", "valve_gear.adjuster.thread")
    assert shown(turned, "bind_margin_pumped_up") is None
    assert shown(turned, "bind_margin") == pytest.approx(0.260)


# Members, a pair, steps


def nest(*changes: dict[str, Any]) -> Any:
    return analysis_of({"spring.coils": COILS, "spring.readings": (), "spring.bind_height": None}, *changes)


def test_members_stand_each_at_its_own_height() -> None:
    both = nest()
    assert shown(both, "rate") == pytest.approx(400.0)  # 300 + 100
    assert shown(both, "seat_load") == pytest.approx(190.0)  # 150 + 40 at 1.800
    assert shown(both, "open_load") == pytest.approx(190 + 400 * 0.560)
    outer, inner = both.lines[0].members
    assert inner.figures["bind_margin"].value == pytest.approx((1.900 - 0.100 - 0.560 - 1.020) * 0.0254)
    assert outer.figures["bind_margin"].value == pytest.approx(0.260 * 0.0254)
    assert shown(both, "bind_margin") == pytest.approx(0.220)  # the least
    assert inner.figures["member_seat_load"].value == pytest.approx(40 * 4.4482216152605)


def test_members_win_over_the_pair_and_are_never_added_to_it() -> None:
    assert shown(nest({"spring.readings": PAIR}), "seat_load") == pytest.approx(190.0)
    assert shown(nest({"spring.readings": PAIR, "spring.readings_on": "retainer"}), "open_load") == pytest.approx(414.0)


def coils(*, steps: bool, readings: bool) -> tuple[dict[str, Any], ...]:
    own = [dict(coil) for coil in COILS]
    for coil in own:
        coil["readings"] = coil["readings"] if readings else ()
        if not steps:
            coil |= {"seat_step": "0 in", "retainer_step": "0 in"}
    return tuple(own)


def test_a_pair_tested_flat_is_not_the_pair_in_the_head() -> None:
    flat = nest(
        {"spring.coils": coils(steps=True, readings=False), "spring.readings": PAIR, "spring.readings_on": "flat"}
    )
    assert shown(flat, "seat_load") is None
    assert "spring.readings_on" in missing(flat, "seat_load")
    assert shown(flat, "rate") == pytest.approx(400.0)  # the rate does not mind where they stand: (435 - 195)/0.6
    assert shown(flat, "bind_margin") == pytest.approx(0.220)


def test_a_pair_tested_in_its_retainer_is_the_pair_in_the_head() -> None:
    in_head = {
        "spring.coils": coils(steps=True, readings=False),
        "spring.readings": PAIR,
        "spring.readings_on": "retainer",
    }
    assert shown(nest(in_head), "seat_load") == pytest.approx(195.0)


def test_a_pair_without_steps_is_the_same_anywhere() -> None:
    level = {"spring.coils": coils(steps=False, readings=False), "spring.readings": PAIR, "spring.readings_on": "flat"}
    assert shown(nest(level), "seat_load") == pytest.approx(195.0)


def test_readings_of_the_common_list_are_found_by_the_members_name() -> None:
    rows = tuple({**row, "part": coil["name"].upper()} for coil in COILS for row in coil["readings"])
    named = nest({"spring.coils": coils(steps=True, readings=False), "spring.readings": rows})
    assert shown(named, "seat_load") == pytest.approx(190.0)


def test_members_bind_heights_win_over_the_springs() -> None:
    assert shown(nest({"spring.bind_height": "1.300 in"}), "bind_margin") == pytest.approx(0.220)


def test_a_member_without_one_stands_under_the_springs() -> None:
    own = ({**COILS[0], "bind_height": None}, COILS[1])
    assert shown(nest({"spring.coils": own, "spring.bind_height": "1.200 in"}), "bind_margin") == pytest.approx(0.140)
    assert missing(nest({"spring.coils": own}), "bind_margin") == ("spring.coils.0.bind_height",)


def test_members_readings_of_one_only_do_not_make_a_nest() -> None:
    own = (COILS[0], {**COILS[1], "readings": ()})
    half = nest({"spring.coils": own})
    assert (shown(half, "seat_load"), shown(half, "rate")) == (None, None)
    assert "spring.coils.1.readings" in missing(half, "seat_load")


def test_stated_rate_with_one_reading() -> None:
    stated = analysis_of({"spring.readings": ({"height": "1.900 in", "load": "150 lbf"},), "spring.rate": "420 lbf/in"})
    assert stated.figures["rate"].evidence == "stated"
    assert shown(stated, "open_load") == pytest.approx(385.2)
    assert stated.figures["open_load"].expanded is None


def test_the_readings_win_over_the_stated_rate() -> None:
    both = analysis_of({"spring.rate": "395 lbf/in"})
    assert (both.figures["rate"].evidence, shown(both, "rate")) == ("measured", pytest.approx(420.0))
    assert shown(both, "rate_stated") == pytest.approx(395.0)


def test_the_geometry_is_the_last_resort() -> None:
    coil = {
        "name": "outer",
        "wire": {"diameter": "0.207 in"},
        "mean_diameter": "1.243 in",
        "active_coils": 3.2,
        "free_height": "2.257 in",
        "material": "chrome-silicon",
    }
    shape = analysis_of({"spring.readings": (), "spring.coils": (coil,)})
    # G 79.5 GPa is 11.5305e6 psi: 11.5305e6 x 0.207^4/(8 x 1.243^3 x 3.2) = 430.6 lbf/in.
    by_hand = 79.5e9 / 6894.757293168361 * 0.207**4 / (8 * 1.243**3 * 3.2)
    assert shape.figures["rate"].evidence == "geometric"
    assert shown(shape, "rate") == pytest.approx(by_hand, rel=1e-9)
    assert by_hand == pytest.approx(430.6, abs=0.05)
    assert shown(shape, "seat_load") == pytest.approx(by_hand * (2.257 - 1.900), rel=1e-9)
    half = analysis_of(
        {"spring.readings": (), "spring.coils": (coil | {"wire": {"width": "0.2 in", "shape": "ovate"}},)}
    )
    assert shown(half, "rate") is None
    cone = analysis_of({"spring.readings": (), "spring.coils": (coil | {"small_mean_diameter": "1.0 in"},)})
    # G d^4/(2 n (D1 + D2)(D1^2 + D2^2)); where its coils land, and so its loads, hangs on the ends.
    of_cone = 79.5e9 / 6894.757293168361 * 0.207**4 / (2 * 3.2 * 2.243 * (1 + 1.243**2))
    assert shown(cone, "rate") == pytest.approx(of_cone, rel=1e-9)
    assert shown(cone, "seat_load") is None
