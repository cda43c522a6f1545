"""Loads: both sides of every limit, and the missing input."""

from __future__ import annotations

from typing import Any

import pytest

from loadbench.units import Style
from tests.findings.jobs import level, loaded, seated, told, verdicts

LBF = 4.4482216152605


def family(name: str, **more: Any) -> dict[str, Any]:
    solid = (
        {}
        if name.endswith("hydraulic")
        else {"valve_gear.lash": "0.010 in", "valve_gear.measured_net_lift": "0.600 in"}
    )
    bucket = {"valve_gear.rocker_ratio": None} if name == "bucket" else {}
    return {
        "follower.family": name,
        **solid,
        **bucket,
        **{key.replace("__", "."): value for key, value in more.items()},
    }


@pytest.mark.parametrize(
    ("who", "watch", "stop"),
    [
        (family("flat-tappet-hydraulic"), 75, 55),
        (family("flat-tappet-solid"), 100, 80),
        (family("roller-hydraulic", follower__travel="standard"), 85, 65),
        (family("roller-hydraulic", follower__travel=None), 85, 65),
        (family("roller-hydraulic", follower__travel="short"), 120, 95),
        (family("roller-solid", duty__use="street"), 150, 120),
        (family("roller-solid", duty__use=None), 150, 120),
        (family("roller-solid", duty__use="tow"), 150, 120),
        (family("roller-solid", duty__use="drag"), 200, 160),
        (family("roller-solid", duty__use="circuit"), 200, 160),
        (family("roller-solid", duty__use="endurance"), 200, 160),
        (family("bucket"), 45, None),
    ],
)
def test_least_seat_load_of_each_family(who: dict[str, Any], watch: float, stop: float | None) -> None:
    assert level("seat-load-min", who | seated(watch)) == "clear"
    assert level("seat-load-min", who | seated(watch - 0.01)) == "watch"
    if stop is None:
        assert level("seat-load-min", who | seated(1.0)) == "watch"
    else:
        assert level("seat-load-min", who | seated(stop)) == "watch"
        assert level("seat-load-min", who | seated(stop - 0.01)) == "stop"


def test_what_was_assumed_for_the_seat_load_is_said() -> None:
    (finding,) = told("seat-load-min", {"follower.travel": None})
    assert "standard travel" in finding.sentence.template
    (finding,) = told("seat-load-min", family("roller-solid"))
    assert "street" in finding.sentence.template


def test_boost_takes_load_off_the_seat() -> None:
    boosted = {"duty.boost": "10 psi", "valve_gear.head_diameter": "2.00 in", **seated(140)}
    (finding,) = told("seat-load-min", boosted)
    assert finding.level == "watch"
    assert finding.value == pytest.approx((140 - 10 * 3.14159265358979) * LBF, rel=1e-9)
    assert level("seat-load-min", boosted | {"valve_gear.head_diameter": None}) == "unknown"


def test_seat_load_without_a_family_is_unknown() -> None:
    (finding,) = told("seat-load-min", {"follower.family": None})
    assert finding.level == "unknown"
    assert "follower.family" in finding.missing


@pytest.mark.parametrize(
    ("who", "rule", "watch", "stop"),
    [
        (family("flat-tappet-hydraulic"), "flat-hydraulic-max", 320, 360),
        (family("flat-tappet-solid"), "flat-solid-max", 360, 420),
        (
            family("flat-tappet-solid", follower__material="tool steel", cam__material="tool-steel"),
            "flat-solid-max",
            450,
            600,
        ),
        (
            family("flat-tappet-solid", follower__material="tool steel", cam__material="iron"),
            "flat-solid-max",
            360,
            420,
        ),
        (family("roller-hydraulic", follower__travel="standard"), "standard-travel-max", 400, 475),
        (family("roller-hydraulic", follower__travel="short"), "short-travel-max", 500, 575),
    ],
)
def test_most_open_load_of_each_family(who: dict[str, Any], rule: str, watch: float, stop: float) -> None:
    assert level(rule, who | loaded(watch)) == "clear"
    assert level(rule, who | loaded(watch + 0.01)) == "watch"
    assert level(rule, who | loaded(stop)) == "watch"
    assert level(rule, who | loaded(stop + 0.01)) == "stop"
    assert level(rule, who | {"spring.readings": ()}) == "unknown"


def test_flat_limits_are_quoted_at_a_ratio_of_1_6() -> None:
    assert (
        level("flat-hydraulic-max", family("flat-tappet-hydraulic", valve_gear__rocker_ratio=1.5) | loaded(341))
        == "clear"
    )
    assert (
        level("flat-hydraulic-max", family("flat-tappet-hydraulic", valve_gear__rocker_ratio=1.7) | loaded(310))
        == "watch"
    )


def said(rule: str, changes: dict[str, Any]) -> str:
    (finding,) = told(rule, changes)
    return finding.sentence.told(Style.INCH_POUND).replace("\u2009", " ")


def flat(ratio: float, open_load: float, **more: Any) -> dict[str, Any]:
    return family("flat-tappet-hydraulic", valve_gear__rocker_ratio=ratio, **more) | loaded(open_load)


IRON = {"follower__material": "iron", "cam__material": "iron"}


def test_a_flat_tappets_load_is_told_as_it_is_and_as_it_counts() -> None:
    """The rule: limits are quoted at a ratio of 1.6 and compared with the open load x R/1.6."""
    assert said("flat-hydraulic-max", flat(1.5, 320, **IRON)) == (
        "320 lbf at full lift and a ratio of 1.5 counts as 300 lbf at 1.6; "
        "the rule book allows 320 lbf for a flat hydraulic tappet at that ratio."
    )
    assert said("flat-hydraulic-max", flat(1.6, 320, **IRON)) == (
        "320 lbf at full lift; the rule book allows 320 lbf for a flat hydraulic tappet at a ratio of 1.6."
    )
    assert said("flat-break-in", flat(1.5, 320, duty__first_running=True)) == (
        "On the first run 320 lbf at full lift and a ratio of 1.5 counts as 300 lbf at 1.6; over 280 lbf at that ratio "
        "a flat tappet may wipe its lobe. Take the inner springs out or fit a lower ratio for the first run."
    )
    assert said("flat-break-in", flat(1.6, 270, duty__first_running=True)) == (
        "On the first run 270 lbf at full lift; over 280 lbf at a ratio of 1.6 a flat tappet may wipe its lobe."
    )


def test_a_makers_limit_on_a_flat_tappet_is_told_as_its_sheet_has_it() -> None:
    sheet = {"follower__maker_limits__open_load_max": "304 lbf"}
    assert said("flat-hydraulic-max", flat(1.5, 320, **IRON, **sheet)) == (
        "320 lbf at full lift and a ratio of 1.5 counts as 300 lbf at 1.6; "
        "the part maker allows 304 lbf, which counts as 285 lbf."
    )


def test_what_clears_a_flat_tappets_load_moves_the_load_as_it_is() -> None:
    """At 1.5, 400 lbf counts as 375, 15 over 360: 16 lbf too much at the valve, on a rate of 250 lbf in 0.6 in."""
    (finding,) = told("flat-hydraulic-max", flat(1.5, 400))
    assert finding.fix is not None
    assert finding.fix.amounts["move"].value == pytest.approx(16 / (250 / 0.6) * 0.0254)


def test_travel_not_stated_leaves_the_open_load_unknown() -> None:
    (finding,) = told("standard-travel-max", {"follower.travel": None})
    assert finding.level == "unknown"
    assert finding.missing == ("follower.travel",)
    assert not told("short-travel-max", {"follower.travel": None})


@pytest.mark.parametrize(
    ("first", "open_load", "expected"),
    [(True, 280, "clear"), (True, 280.01, "watch"), (False, 500, None), (None, 200, "unknown")],
)
def test_first_running_of_a_flat_tappet(first: bool | None, open_load: float, expected: str | None) -> None:
    assert (
        level("flat-break-in", family("flat-tappet-hydraulic", duty__first_running=first) | loaded(open_load))
        == expected
    )


@pytest.mark.parametrize(
    ("stated", "expected"),
    [
        ("420 lbf/in", "clear"),
        ("420.1 lbf/in", "watch"),
        ("440 lbf/in", "watch"),
        ("440.1 lbf/in", "stop"),
        (None, None),
    ],
)
def test_stated_against_measured_rate(stated: str | None, expected: str | None) -> None:
    assert level("rate-agreement", {"spring.rate": stated}) == expected


def test_a_geometric_rate_that_is_off_is_a_watch_and_never_a_stop() -> None:
    coil = {
        "wire": {"diameter": "0.207 in"},
        "mean_diameter": "1.243 in",
        "active_coils": 3.2,
        "material": "chrome-silicon",
    }
    assert level("rate-agreement", {"spring.coils": (coil,)}) == "clear"
    assert level("rate-agreement", {"spring.coils": (coil | {"active_coils": 2.0},)}) == "watch"


@pytest.mark.parametrize(
    ("sheet", "expected"),
    [("157.8 lbf", "clear"), ("158 lbf", "watch"), ("166.6 lbf", "watch"), ("166.7 lbf", "stop"), (None, None)],
)
def test_load_lost_against_the_sheet(sheet: str | None, expected: str | None) -> None:
    spec = ({"height": "1.900 in", "load": sheet},) if sheet else ()
    assert level("load-loss", {"spring.spec": spec}) == expected


def test_load_lost_against_the_earliest_check() -> None:
    now = ({"id": "A", "readings": both_ends(140, 380)},)
    older = {"record": {"date": "2026-01-01"}, "springs": ({"id": "A", "readings": both_ends(150, 400)},)}
    newer = {"record": {"date": "2026-02-01"}, "springs": ({"id": "A", "readings": both_ends(141, 381)},)}
    (finding,) = told("load-loss", {"springs": now, "history": (newer, older)})
    assert finding.level == "watch"
    assert finding.value == pytest.approx(10 / 150, rel=1e-9)


def both_ends(closed: float, opened: float) -> tuple[dict[str, str], ...]:
    return ({"height": "1.900 in", "load": f"{closed} lbf"}, {"height": "1.300 in", "load": f"{opened} lbf"})


def test_spread_across_the_set() -> None:
    def springs(*closed: float) -> tuple[dict[str, Any], ...]:
        return tuple({"id": str(place), "readings": both_ends(load, 390)} for place, load in enumerate(closed))

    assert level("set-spread", {"springs": springs(150)}) is None
    assert level("set-spread", {"springs": springs(100, 105)}) == "clear"
    assert level("set-spread", {"springs": springs(100, 105.2)}) == "watch"


@pytest.mark.parametrize(
    ("target", "tolerance", "expected"),
    [("157.8 lbf", 5, "clear"), ("158 lbf", 5, "watch"), ("150 lbf", None, "unknown"), (None, 5, None)],
)
def test_target_seat_load(target: str | None, tolerance: float | None, expected: str | None) -> None:
    assert level("target-met", {"targets.seat_load": target, "targets.tolerance_percent": tolerance}) == expected


def test_seat_and_open_targets_are_told_apart() -> None:
    changes = {"targets.seat_load": "150 lbf", "targets.open_load": "500 lbf", "targets.tolerance_percent": 5}
    assert [finding.level.value for finding in told("target-met", changes)] == ["watch", "clear"]


MAKERS = [
    ("spring.maker_limits.lift_max", "0.600 in", "0.599 in"),
    ("spring.maker_limits.seat_load_min", "150 lbf", "151 lbf"),
    ("spring.maker_limits.seat_load_max", "150 lbf", "149 lbf"),
    ("spring.maker_limits.open_load_max", "390 lbf", "389 lbf"),
    ("spring.maker_limits.bind_height", "1.300 in", "1.301 in"),
    ("follower.maker_limits.open_load_max", "390 lbf", "389 lbf"),
    ("follower.maker_limits.speed_max", "7000 rpm", "6900 rpm"),
    ("follower.maker_limits.preload_min", "0.012 in", "0.013 in"),
    ("follower.maker_limits.preload_max", "0.012 in", "0.011 in"),
]


@pytest.mark.parametrize(("field", "kept", "broken"), MAKERS)
def test_past_a_makers_limit_is_a_stop(field: str, kept: str, broken: str) -> None:
    rest = {"duty.speed_limit": "7000 rpm", "follower.preload.depth": "0.012 in"}
    assert level("maker-limits", rest | {field: kept}) == "clear"
    assert level("maker-limits", rest | {field: broken}) == "stop"


def test_a_stricter_makers_limit_becomes_the_rules_stop() -> None:
    (finding,) = told("seat-load-min", {"spring.maker_limits.seat_load_min": "160 lbf"})
    assert (finding.level.value, finding.house) == ("stop", "maker")
    (finding,) = told("short-travel-max", {"follower.maker_limits.open_load_max": "380 lbf"})
    assert (finding.level.value, finding.house) == ("stop", "maker")


def test_a_looser_makers_limit_leaves_the_rule_as_it_is() -> None:
    (finding,) = told("short-travel-max", {"follower.maker_limits.open_load_max": "900 lbf", **loaded(580)})
    assert (finding.level.value, finding.house) == ("stop", "program")


def test_float_is_not_judged_without_a_lobe() -> None:
    (finding,) = told("float-margin")
    assert finding.level == "unknown"
    assert "cam.profile" in finding.missing


def test_too_much_and_too_little_are_both_told() -> None:
    ids = {
        finding.id
        for finding in verdicts(seated(90) | {"spring.rate": "900 lbf/in"}).findings
        if finding.level == "stop"
    }
    assert "seat-load-min" in ids


def test_a_targets_limit_is_the_edge_of_its_window() -> None:
    (finding,) = told("target-met", {"targets.seat_load": "145 lbf", "targets.tolerance_percent": 5})
    assert finding.value == pytest.approx(150 * LBF, rel=1e-9)
    assert finding.limit == pytest.approx(145 * 1.05 * LBF, rel=1e-9)
    assert finding.margin == pytest.approx((145 * 1.05 - 150) * LBF, rel=1e-6)
