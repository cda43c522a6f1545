"""What moves together: each way of changing the height, and the lift by the field that governs it."""

from __future__ import annotations

from typing import Any

import pytest

from loadbench.analysis import analyse
from loadbench.fitup.moves import Move, Stop, Way, lift_field, move_height, move_lift, stock_of, tip_changes, written
from loadbench.job.edits import replaced_all
from loadbench.job.model import Job
from loadbench.job.stated import LineStated, read_stated
from loadbench.units import Style

IN = 0.0254
INCH = Style.INCH_POUND
GEAR = {
    "valve_gear.rocker_ratio": 1.6,
    "valve_gear.lobe_lift": "0.350 in",
    "valve_gear.retainer_to_seal": "0.640 in",
    "follower.family": "roller-solid",
    "valve_gear.lash": "0.016 in",
    "spring.bind_height": "1.080 in",
}
SHIMMED = {"spring.bare_height": "1.915 in", "spring.shims": ("0.015 in",), **GEAR}


def job_of(fields: dict[str, Any]) -> Job:
    return replaced_all(Job(title="t", units="inch-pound"), fields)


def line_of(job: Job, name: str = "common") -> LineStated:
    return read_stated(job).line(name)


def as_it_is(path: str) -> str:
    return path


def moved(fields: dict[str, Any], way: Way, height: float, style: Style = INCH) -> tuple[Move, Job]:
    job = job_of(fields)
    move = move_height(line_of(job), as_it_is, way, height * IN, style)
    after = replaced_all(job, move.changes)
    if move.reached is not None:
        found = analyse(after).value("installed_height")
        assert found == pytest.approx(move.reached, abs=2e-6)
    return move, after


def test_a_shim_changes_the_height_only() -> None:
    move, after = moved(SHIMMED, Way.SHIM, 1.885)
    assert move.changes == {"spring.shims": ("0.030 in",)}
    assert move.stop is None
    assert after.valve_gear.retainer_to_seal == "0.640 in"


def test_the_last_shim_takes_the_change_and_the_first_stay_as_typed() -> None:
    stacked = SHIMMED | {"spring.shims": ("0.015 in", "0.76 mm")}
    assert moved(stacked, Way.SHIM, 1.860)[0].changes["spring.shims"] == ("0.015 in", "0.040 in")
    assert moved(stacked, Way.SHIM, 1.905)[0].changes["spring.shims"] == ("0.010 in",)
    assert moved(stacked, Way.SHIM, 1.900)[0].changes["spring.shims"] == ("0.015 in",)


def test_a_stated_height_is_kept_in_step_with_the_shims() -> None:
    move, after = moved(SHIMMED | {"spring.installed_height": "1.900 in"}, Way.SHIM, 1.885)
    assert move.changes == {"spring.shims": ("0.030 in",), "spring.installed_height": "1.885 in"}
    assert analyse(after).problems == ()


def test_shims_only_shorten_and_the_rest_is_told() -> None:
    move, after = moved(SHIMMED, Way.SHIM, 1.927)
    assert (move.stop, move.wanting) == (Stop.BARE, pytest.approx(0.012 * IN))
    assert after.spring.shims == ()
    assert move.reached == pytest.approx(1.915 * IN)


def test_a_height_without_a_bare_one_is_set_itself() -> None:
    move, _ = moved({"spring.installed_height": "48.26 mm", **GEAR}, Way.SHIM, 1.95)
    assert move.changes == {"spring.installed_height": "1.950 in"}


def test_a_seat_cut_adds_to_the_bare_height_and_never_takes_off() -> None:
    move, _ = moved(SHIMMED, Way.SEAT_CUT, 1.920)
    assert move.changes == {"spring.bare_height": "1.935 in"}
    move, _ = moved(SHIMMED, Way.SEAT_CUT, 1.880)
    assert (move.changes, move.stop) == ({}, Stop.CUT)


def test_other_locks_or_retainer_move_the_seal_clearance_too() -> None:
    move, _ = moved(SHIMMED, Way.RETAINER, 1.950)
    assert move.changes == {"spring.bare_height": "1.965 in", "valve_gear.retainer_to_seal": "0.690 in"}
    assert moved(SHIMMED, Way.RETAINER, 1.850)[0].changes["valve_gear.retainer_to_seal"] == "0.590 in"


@pytest.mark.parametrize("way", [Way.SUNK, Way.STEM])
def test_a_sunk_valve_and_a_longer_stem_take_from_the_lash(way: Way) -> None:
    move, _ = moved(SHIMMED, way, 1.910)
    assert move.changes == {
        "spring.bare_height": "1.925 in",
        "valve_gear.retainer_to_seal": "0.650 in",
        "valve_gear.lash": "0.006 in",
    }
    assert move_height(line_of(job_of(SHIMMED)), as_it_is, way, 1.930 * IN, INCH).stop is Stop.LASH


def test_a_longer_stem_sits_the_plunger_deeper_by_its_share() -> None:
    hydraulic = SHIMMED | {
        "follower.family": "roller-hydraulic",
        "valve_gear.lash": None,
        "follower.preload.depth": "0.020 in",
    }
    move, _ = moved(hydraulic, Way.STEM, 1.916)
    assert move.changes["follower.preload.depth"] == "0.030 in"
    turned = hydraulic | {"follower.preload.depth": None, "follower.preload.turns": 0.5}
    assert moved(turned, Way.STEM, 1.916)[0].turns_left


def test_a_lash_cap_moves_the_tip_only() -> None:
    changes, turns_left = tip_changes(line_of(job_of(SHIMMED)), as_it_is, 0.010 * IN, INCH)
    assert (changes, turns_left) == ({"valve_gear.lash": "0.006 in"}, False)


def test_a_valve_is_not_unsunk_but_a_stem_may_be_shorter() -> None:
    assert moved(SHIMMED, Way.SUNK, 1.890)[0].stop is Stop.CUT
    assert moved(SHIMMED, Way.STEM, 1.890)[0].changes["valve_gear.lash"] == "0.026 in"


def test_a_spring_is_not_pushed_into_bind_at_rest() -> None:
    move, after = moved(SHIMMED, Way.SHIM, 1.000)
    assert move.stop is Stop.BIND
    assert analyse(after).problems == ()


def test_the_steps_of_a_nest_count_for_bind() -> None:
    inner = {"name": "inner", "seat_step": "0.090 in", "bind_height": "1.050 in"}
    nest = SHIMMED | {"spring.coils": ({"name": "outer", "bind_height": "1.080 in"}, inner)}
    move, after = moved(nest, Way.SHIM, 1.0)
    assert move.reached == pytest.approx(1.141 * IN)
    assert analyse(after).problems == ()


def test_metric_is_written_in_millimetres() -> None:
    move, _ = moved(SHIMMED, Way.SHIM, 47.5 / 25.4, Style.METRIC)
    assert move.changes == {"spring.shims": ("1.14 mm",)}
    assert written(1.885 * IN, Style.METRIC) == "47.88 mm"


def test_a_line_of_its_own_gets_the_change_and_can_be_without_shims() -> None:
    job = replaced_all(job_of(SHIMMED), {"lines.exhaust.valve_gear.lobe_lift": "0.355 in"})

    def own(path: str) -> str:
        return f"lines.exhaust.{path}"

    move = move_height(line_of(job, "exhaust"), own, Way.SHIM, 1.915 * IN, INCH)
    assert move.changes == {"lines.exhaust.spring.shims": ("0.000 in",)}
    after = analyse(replaced_all(job, move.changes))
    assert after.line("exhaust").value("installed_height") == pytest.approx(1.915 * IN)
    assert after.line("intake").value("installed_height") == pytest.approx(1.900 * IN)


def test_nothing_stated_nothing_moved() -> None:
    move = move_height(line_of(job_of(GEAR)), as_it_is, Way.SHIM, 1.9 * IN, INCH)
    assert (move.changes, move.stop) == ({}, Stop.UNKNOWN)


@pytest.mark.parametrize(
    ("more", "field", "text"),
    [
        ({}, "valve_gear.lobe_lift", "0.385 in"),
        ({"valve_gear.valve_lift": "0.560 in"}, "valve_gear.valve_lift", "0.616 in"),
        ({"valve_gear.measured_net_lift": "0.540 in"}, "valve_gear.measured_net_lift", "0.600 in"),
    ],
)
def test_the_lift_moves_the_field_that_governs(more: dict[str, Any], field: str, text: str) -> None:
    job = job_of(SHIMMED | more)
    line = line_of(job)
    assert lift_field(line) == field
    move = move_lift(line, as_it_is, 0.600 * IN, 0.016 * IN, INCH)
    assert move.changes == {field: text}
    assert analyse(replaced_all(job, move.changes)).value("net_valve_lift") == pytest.approx(move.reached)


def test_a_lift_ends_above_nothing() -> None:
    move = move_lift(line_of(job_of(SHIMMED)), as_it_is, -0.1 * IN, 0.016 * IN, INCH)
    assert (move.stop, move.reached is not None and move.reached > -0.016 * IN) == (Stop.NO_LIFT, True)
    faulty = job_of(SHIMMED | {"valve_gear.lobe_lift": "x"})
    assert move_lift(line_of(faulty), as_it_is, 0.5 * IN, 0.0, INCH).stop is Stop.UNKNOWN


def test_the_shims_in_stock_are_the_jobs_own_where_it_states_them() -> None:
    job = job_of(SHIMMED | {"shims_in_stock": ("0.010 in", "1 mm")})
    assert stock_of(line_of(job), (1.0,)) == pytest.approx((0.010 * IN, 0.001))
    assert stock_of(line_of(job_of(SHIMMED)), (1.0,)) == (1.0,)
