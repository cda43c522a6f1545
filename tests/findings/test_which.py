"""Which follower: every row of the decision tables, both sides of every limit, and the missing input."""

from __future__ import annotations

from typing import Any

import pytest

from loadbench.job.model import RuleChange
from loadbench.units import Style
from tests.findings.jobs import level, loaded, told, verdicts

LBF = 4.4482216152605
SOLID = {"follower.family": "roller-solid", "valve_gear.measured_net_lift": "0.600 in", "valve_gear.lash": "0.016 in"}


@pytest.mark.parametrize(
    ("family", "kind", "expected"),
    [
        ("roller-hydraulic", "roller", "clear"),
        ("roller-hydraulic", "flat", "stop"),
        ("roller-solid", "bucket", "stop"),
        ("flat-tappet-solid", "flat", "clear"),
        ("flat-tappet-hydraulic", "roller", "stop"),
        ("flat-tappet-solid", "bucket", "clear"),
        ("bucket", "bucket", "clear"),
        ("bucket", "flat", "clear"),
        ("bucket", "roller", "stop"),
        ("roller-solid", None, "unknown"),
        (None, "roller", "unknown"),
    ],
)
def test_follower_on_the_right_kind_of_lobe(family: str | None, kind: str | None, expected: str) -> None:
    changes = {"follower.family": family, "cam.kind": kind, "valve_gear.rocker_ratio": None}
    assert level("cam-follower-kind", changes) == expected


@pytest.mark.parametrize(
    ("family", "follower", "cam", "expected"),
    [
        ("flat-tappet-solid", "iron", "iron", "clear"),
        ("flat-tappet-solid", "tool-steel", "iron", "clear"),
        ("flat-tappet-solid", "tool steel", "tool steel", "clear"),
        ("flat-tappet-hydraulic", "iron", "steel", "stop"),
        ("flat-tappet-solid", "steel", "iron", "unknown"),
        ("roller-solid", "steel", "steel", "clear"),
        ("roller-solid", "steel", "iron", "watch"),
        ("roller-solid", "iron", "iron", "unknown"),
        ("bucket", "steel", "iron", "clear"),
        ("bucket", "steel", "steel", "clear"),
        ("bucket", "iron", "steel", "unknown"),
        ("roller-solid", None, "steel", "unknown"),
        ("roller-solid", "steel", None, "unknown"),
    ],
)
def test_materials_that_run_together(family: str, follower: str | None, cam: str | None, expected: str) -> None:
    changes = {
        "follower.family": family,
        "follower.material": follower,
        "cam.material": cam,
        "valve_gear.rocker_ratio": None,
    }
    assert level("cam-follower-material", changes) == expected


@pytest.mark.parametrize(
    ("family", "lobe", "expected"),
    [
        ("roller-hydraulic", "hydraulic", "clear"),
        ("roller-hydraulic", "solid", "stop"),
        ("roller-solid", "hydraulic", "watch"),
        ("roller-solid", "solid", "clear"),
        ("roller-solid", None, "unknown"),
    ],
)
def test_lobe_and_follower_on_lash(family: str, lobe: str | None, expected: str) -> None:
    assert level("lobe-lash-kind", {"follower.family": family, "cam.lash_kind": lobe}) == expected


def axle(open_load: float, **more: Any) -> dict[str, Any]:
    return SOLID | loaded(open_load) | {name.replace("__", "."): value for name, value in more.items()}


@pytest.mark.parametrize(
    ("changes", "choice", "runner_up", "stated", "expected"),
    [
        (axle(1000, follower__oil_feed="pressure"), "bushed", None, "needle", "stop"),
        (axle(1000), "bushed", None, "needle", "stop"),
        (axle(1000, follower__oil_feed="splash"), "neither", None, "needle", "stop"),
        (axle(999.99, follower__oil_feed="pressure"), "bushed", "needle", "needle", "watch"),
        (axle(850, follower__oil_feed="pressure"), "bushed", "needle", "needle", "watch"),
        (axle(850, duty__use="drag"), "bushed", "needle", "needle", "watch"),
        (axle(850, duty__use="endurance"), "bushed", "needle", "needle", "watch"),
        (axle(850, duty__use="drag", follower__oil_feed="splash"), "neither", None, "needle", "watch"),
        (axle(850, duty__use="circuit", follower__oil_feed="splash"), "neither", None, "needle", "watch"),
        (axle(850, duty__use="circuit"), "open", None, "needle", "watch"),
        (axle(849.99), "needle", None, "needle", "clear"),
        (axle(849.99, follower__oil_feed="splash"), "needle", None, "needle", "clear"),
        (axle(600, follower__oil_feed="pressure", duty__idle_share=0.21), "needle", "bushed", "needle", "clear"),
        (axle(600, follower__oil_feed="pressure", duty__idle_share=0.2), "needle", None, "needle", "clear"),
        (axle(600, follower__oil_feed="splash", duty__idle_share=0.5), "needle", None, "needle", "clear"),
        (axle(1200, follower__oil_feed="splash"), "neither", None, "bushed", "clear"),
        (axle(600), "needle", None, "bushed", "clear"),
        (axle(1100), "bushed", None, None, "unknown"),
        (axle(999.99, follower__oil_feed="splash"), "neither", None, None, "unknown"),
        (axle(1000, follower__oil_feed="splash"), "neither", None, None, "unknown"),
    ],
)
def test_needle_or_bushed(
    changes: dict[str, Any], choice: str, runner_up: str | None, stated: str | None, expected: str
) -> None:
    judged = verdicts(changes | {"follower.axle": stated})
    assert (judged.advice.axle.choice, judged.advice.axle.runner_up) == (choice, runner_up)
    assert judged.advice.axle.because[0] == "bushed-axle"
    assert level("bushed-axle", changes | {"follower.axle": stated}) == expected


def test_a_flat_tappet_has_no_axle() -> None:
    judged = verdicts({"follower.family": "flat-tappet-solid", "valve_gear.lash": "0.016 in"})
    assert judged.advice.axle.choice is None
    assert not [each for each in judged.findings if each.id == "bushed-axle"]


@pytest.mark.parametrize(
    ("feed", "idle", "expected"),
    [
        ("splash", 0.2, "clear"),
        ("splash", 0.21, "watch"),
        ("pressure", 0.9, "clear"),
        (None, 0.1, "unknown"),
        ("splash", None, "unknown"),
    ],
)
def test_oil_for_the_needles(feed: str | None, idle: float | None, expected: str) -> None:
    assert level("needle-oiling", {"follower.oil_feed": feed, "duty.idle_share": idle}) == expected


def test_needle_oiling_concerns_needles() -> None:
    assert level("needle-oiling", {"follower.axle": "bushed"}) is None
    assert level("needle-oiling", {"follower.axle": None}) is None


@pytest.mark.parametrize(
    ("feed", "open_load", "expected"),
    [("splash", 849.99, "watch"), ("splash", 850, "stop"), ("pressure", 1200, "clear"), (None, 400, "unknown")],
)
def test_oil_for_the_bush(feed: str | None, open_load: float, expected: str) -> None:
    assert level("bush-oiling", axle(open_load, follower__axle="bushed", follower__oil_feed=feed)) == expected


@pytest.mark.parametrize(
    ("open_load", "rpm", "choice", "standard", "short"),
    [
        (400, 6500, "standard", "clear", "clear"),
        (400.01, 6500, "short", "watch", "clear"),
        (400, 6501, "short", "watch", "clear"),
        (575, 8000, "short", "watch", "clear"),
        (575.01, 8000, "neither", "clear", "clear"),
        (300, 8001, "neither", "watch", "watch"),
        (300, None, "standard", "clear", "clear"),
        (450, None, "short", "watch", "clear"),
    ],
)
def test_standard_or_short_travel(open_load: float, rpm: float | None, choice: str, standard: str, short: str) -> None:
    changes = loaded(open_load) | {"duty.speed_limit": f"{rpm} rpm" if rpm else None}
    assert verdicts(changes).advice.travel.choice == choice
    assert level("short-travel", changes | {"follower.travel": "standard"}) == standard
    assert level("short-travel", changes | {"follower.travel": "short"}) == short
    assert level("short-travel", changes | {"follower.travel": None}) == "unknown"


UNSTATED = {"follower.travel": None, "follower.axle": None}


@pytest.mark.parametrize("open_load", [637, 1221])
def test_a_load_past_either_travel_is_a_stop_whichever_the_travel(open_load: float) -> None:
    (finding,) = told("short-travel-max", loaded(open_load) | UNSTATED)
    assert finding.level == "stop"
    said = finding.sentence.told(Style.INCH_POUND).replace("\u2009", " ")
    assert said == f"Whichever the travel: {open_load} lbf at full lift; the rule book allows 575 lbf at most."
    assert finding.missing == ("follower.travel",)
    assert finding.margin == pytest.approx((575 - open_load) * LBF)
    assert told("standard-travel-max", loaded(open_load) | UNSTATED) == []
    (advice,) = told("short-travel", loaded(open_load) | UNSTATED)
    assert advice.level == "unknown"


def test_whichever_the_travel_goes_by_the_limits_on_the_open_load_and_the_makers() -> None:
    looser = {"short-travel-max": RuleChange.model_validate({"stop": "700 lbf"})}
    judged = verdicts(loaded(637) | UNSTATED, shop=looser).findings
    assert [each.level for each in judged if each.id == "standard-travel-max"] == ["unknown"]
    (finding,) = told("short-travel-max", loaded(390) | UNSTATED | {"follower.maker_limits.open_load_max": "380 lbf"})
    assert (finding.level, finding.house) == ("stop", "maker")


def test_an_axle_not_stated_is_unknown_whatever_the_load_and_the_advice_is_given() -> None:
    (finding,) = told("bushed-axle", axle(1202, follower__axle=None, follower__oil_feed="splash"))
    assert finding.level == "unknown"
    assert finding.missing == ("follower.axle",)


def test_speed_not_stated_is_said() -> None:
    (finding,) = told("short-travel")
    assert "by load alone" in finding.sentence.template


@pytest.mark.parametrize(
    ("use", "idle", "expected"),
    [
        ("street", 0.0, "watch"),
        ("street", None, "watch"),
        ("street-strip", 0.21, "watch"),
        ("street-strip", 0.2, "clear"),
        ("street-strip", None, "unknown"),
        ("drag", 0.9, "clear"),
        (None, 0.1, "unknown"),
    ],
)
def test_a_solid_roller_on_the_street(use: str | None, idle: float | None, expected: str) -> None:
    assert level("solid-roller-street", SOLID | {"duty.use": use, "duty.idle_share": idle}) == expected
    assert level("solid-roller-street", {"duty.use": use}) is None


@pytest.mark.parametrize(
    ("ppm", "open_load", "first", "expected"),
    [
        (1200, 200, False, "clear"),
        (1199, 200, False, "watch"),
        (900, 300, True, "watch"),
        (899, 280, False, "watch"),
        (899, 280.01, False, "stop"),
        (899, 200, True, "stop"),
        (None, 200, False, "unknown"),
    ],
)
def test_oil_additive(ppm: float | None, open_load: float, first: bool, expected: str) -> None:
    flat = {"follower.family": "flat-tappet-hydraulic", "duty.first_running": first, "duty.oil.phosphorus_ppm": ppm}
    assert level("flat-oil", flat | loaded(open_load)) == expected
    assert level("flat-oil", {"duty.oil.phosphorus_ppm": ppm}) is None


@pytest.mark.parametrize(
    ("offset", "side", "guide", "expected"),
    [
        ("0.150 in", None, "keyed", "watch"),
        ("0 in", "left", "keyed", "watch"),
        ("0 in", None, "keyed", "clear"),
        (None, None, "tie-bar", "clear"),
        (None, None, None, "unknown"),
        ("0 in", None, None, "clear"),
    ],
)
def test_way_round(offset: str | None, side: str | None, guide: str | None, expected: str) -> None:
    changes = {"follower.offset": offset, "follower.oil_side": side, "follower.guide": guide}
    assert level("orientation", changes) == expected


def test_washing_and_soaking_is_always_told() -> None:
    (finding,) = told("prep", {"follower.family": None})
    assert (finding.level.value, finding.nature.value) == ("clear", "advice")
    assert "mineral spirits" in finding.sentence.template
