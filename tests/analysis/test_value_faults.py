"""A fault of value leaves unknown what rests on the entry, and everything else stays."""

from __future__ import annotations

from typing import Any

import pytest

from loadbench.analysis import Analysis
from tests.analysis.bench_jobs import BASE, COILS, SOLID, analysis_of, missing, shown

ROOM = {"bind_margin", "retainer_margin", "open_height", "net_valve_lift", "open_load"}
LOADS = {"seat_load", "open_load", "effective_seat_load", "follower_seat_load", "follower_open_load"}
TESTER: dict[str, Any] = {"tester.load_accuracy_percent": 1.0, "tester.load_repeatability": "0.5 lbf"}


def unknown(analysis: Analysis) -> set[str]:
    return {name for name in ROOM | LOADS | {"rate", "installed_height", "ratio"} if analysis.value(name) is None}


def faults(analysis: Analysis) -> list[str | None]:
    return [problem.place.field for problem in analysis.problems]


FAULTS: list[tuple[dict[str, Any], str, set[str]]] = [
    (
        {"spring.installed_height": "1.9 inn"},
        "spring.installed_height",
        {"installed_height", "bind_margin", "open_height"} | LOADS,
    ),
    (
        {"spring.installed_height": "1,900"},
        "spring.installed_height",
        {"installed_height", "bind_margin", "open_height"} | LOADS,
    ),
    ({"spring.bind_height": "1.950 in"}, "spring.bind_height", {"bind_margin"}),
    ({"spring.bind_height": "-1 in"}, "spring.bind_height", {"bind_margin"}),
    (
        {"valve_gear.rocker_ratio": 0},
        "valve_gear.rocker_ratio",
        ROOM | {"ratio", "follower_seat_load", "follower_open_load"},
    ),
    ({"valve_gear.lobe_lift": "420 lbf/in"}, "valve_gear.lobe_lift", ROOM | {"follower_open_load"}),
    ({"valve_gear.lobe_lift": "3.50 in"}, "valve_gear.lobe_lift", ROOM | {"follower_open_load"}),
    ({"valve_gear.measured_net_lift": "5 in"}, "valve_gear.measured_net_lift", ROOM | {"follower_open_load"}),
    ({"valve_gear.retainer_to_seal": "nan in"}, "valve_gear.retainer_to_seal", {"retainer_margin"}),
    ({"spring.readings.1.load": "400 in"}, "spring.readings.1.load", LOADS | {"rate"}),
    ({"spring.readings.1.direction": "sideways"}, "spring.readings.1.direction", LOADS | {"rate"}),
    ({"duty.boost": "-5 psi"}, "duty.boost", {"effective_seat_load"}),
    ({"follower.family": "roler"}, "follower.family", ROOM | {"follower_open_load"}),
    ({"targets.seat_load": "400 lbf", "targets.open_load": "150 lbf"}, "targets.open_load", set()),
    ({"duty.idle_speed": "7200 rpm", "duty.speed_limit": "6800 rpm"}, "duty.speed_limit", set()),
]


@pytest.mark.parametrize(
    ("changes", "field", "lost"), FAULTS, ids=[f"{each[1]}:{next(iter(each[0].values()))}" for each in FAULTS]
)
def test_what_a_fault_takes_with_it(changes: dict[str, Any], field: str, lost: set[str]) -> None:
    found = analysis_of(changes)
    assert field in faults(found)
    assert unknown(found) == lost
    for name in lost:
        assert found.figures[name].missing, name


def test_a_bare_number_without_units_is_a_fault() -> None:
    found = analysis_of({"spring.readings.1.load": "402", "units": None})
    assert faults(found) == ["spring.readings.1.load"]
    assert shown(analysis_of({"spring.readings.1.load": "402"}), "rate") == pytest.approx(420)


def test_a_faulty_family_is_not_guessed_from_lobe_or_lash() -> None:
    for rest in ({"cam.lash_kind": "hydraulic"}, {"valve_gear.lash": "0.016 in"}):
        found = analysis_of({"follower.family": "roler"}, rest)
        assert shown(found, "net_valve_lift") is None
        assert missing(found, "net_valve_lift") == ("follower.family",)


def test_the_lift_measured_net_needs_no_family() -> None:
    found = analysis_of({"follower.family": "roler", "valve_gear.measured_net_lift": "0.550 in"})
    assert shown(found, "net_valve_lift") == pytest.approx(0.550)


def test_a_lash_as_large_as_the_lift() -> None:
    found = analysis_of(SOLID, {"valve_gear.lash": "0.6 in"})
    assert faults(found) == ["valve_gear.lash"]
    assert shown(found, "net_valve_lift") is None
    assert shown(found, "bind_margin_zero_lash") == pytest.approx(0.260)


@pytest.mark.parametrize(
    "loads",
    [("150 lbf", "171 lbf", "402 lbf"), ("150 lbf", "150 lbf", "140 lbf"), ("150 lbf", "150 lbf", "150 lbf")],
    ids=["repeats apart", "falling", "flat"],
)
def test_readings_that_cannot_be_of_one_spring(loads: tuple[str, ...]) -> None:
    rows = tuple(
        {"height": height, "load": load} for height, load in zip(("1.9 in", "1.9 in", "1.3 in"), loads, strict=True)
    )
    found = analysis_of({"spring.readings": rows})
    assert all(str(field).startswith("spring.readings.") for field in faults(found))
    assert (shown(found, "rate"), shown(found, "seat_load")) == (None, None)
    assert shown(found, "bind_margin") == pytest.approx(0.260)


def test_two_readings_close_together_that_fall() -> None:
    rows = ({"height": "1.900 in", "load": "150 lbf"}, {"height": "1.890 in", "load": "149 lbf"})
    assert shown(analysis_of({"spring.readings": rows}), "rate") is None


def test_repeats_within_five_percent_are_averaged() -> None:
    rows = tuple(
        {"height": h, "load": f"{load} lbf"} for h, load in (("1.9 in", 147), ("1.9 in", 153), ("1.3 in", 402))
    )
    assert shown(analysis_of({"spring.readings": rows}), "seat_load") == pytest.approx(150)


def test_repeats_are_known_by_their_part_however_it_is_written() -> None:
    rows = (
        {"part": "Pair", "height": "1.9 in", "load": "150 lbf"},
        {"part": " pair", "height": "1.9 in", "load": "200 lbf"},
        {"part": "", "height": "1.3 in", "load": "402 lbf"},
    )
    assert faults(analysis_of({"spring.readings": rows})) == ["spring.readings.0.load", "spring.readings.1.load"]


def test_a_coils_unreadable_bind_height_is_not_replaced_by_the_springs() -> None:
    for coils in (({"name": "outer", "bind_height": "1.2 inn"},), ({**COILS[0], "bind_height": "1.2 inn"}, COILS[1])):
        found = analysis_of({"spring.coils": coils})
        assert shown(found, "bind_margin") is None
        assert missing(found, "bind_margin") == ("spring.coils.0.bind_height",)


def test_a_coil_that_binds_above_its_own_height() -> None:
    found = analysis_of({"spring.coils": (COILS[0], {**COILS[1], "bind_height": "1.850 in"})})
    assert faults(found) == ["spring.coils.1.bind_height"]


def test_an_unreadable_rate_is_not_replaced_by_the_geometry() -> None:
    coil = {
        "wire": {"diameter": "0.207 in"},
        "mean_diameter": "1.243 in",
        "active_coils": 3.2,
        "free_height": "2.257 in",
        "material": "chrome-silicon",
    }
    found = analysis_of({"spring.readings": (), "spring.coils": (coil,), "spring.rate": "420 in"})
    assert (shown(found, "rate"), missing(found, "rate")) == (None, ("spring.rate",))
    measured = analysis_of({"spring.coils": (coil,), "spring.rate": "420 in"})
    assert shown(measured, "rate") == pytest.approx(420)


def test_an_unreadable_step_leaves_the_member_without_a_place() -> None:
    found = analysis_of({"spring.coils": (COILS[0], {**COILS[1], "seat_step": "?"})})
    assert (shown(found, "seat_load"), shown(found, "bind_margin")) == (None, None)
    assert "spring.coils.1.seat_step" in missing(found, "seat_load")
    assert shown(found, "rate") == pytest.approx(400)


@pytest.mark.parametrize(
    "field", ["load_accuracy_percent", "load_accuracy_fixed", "load_repeatability", "height_accuracy"]
)
def test_an_unusable_accuracy_takes_the_uncertainty_and_leaves_the_load(field: str) -> None:
    bad: Any = 200.0 if field == "load_accuracy_percent" else "half a pound"
    found = analysis_of(TESTER, {f"tester.{field}": bad})
    assert faults(found) == [f"tester.{field}"]
    assert shown(found, "seat_load") == pytest.approx(150)
    assert (found.figures["seat_load"].expanded, found.figures["rate"].expanded) == (None, None)
    assert analysis_of(TESTER).figures["seat_load"].expanded is not None


def test_an_unusable_instrument_takes_its_own_margins_only() -> None:
    stated = {
        "instruments.installed_height": "0.002 in",
        "instruments.bind_height": "0.003 in",
        "instruments.lift": "wide",
    }
    found = analysis_of(TESTER, stated)
    assert found.figures["seat_load"].expanded is not None
    assert (found.figures["open_load"].expanded, found.figures["bind_margin"].expanded) == (None, None)


def test_faults_of_the_lines_stand_at_the_lines_own_path() -> None:
    found = analysis_of({"lines.exhaust.spring.bind_height": "1.95 in"})
    assert faults(found) == ["lines.exhaust.spring.bind_height"]
    assert shown(found, "bind_margin", "intake") == pytest.approx(0.260)
    assert shown(found, "bind_margin", "exhaust") is None


def test_a_pair_and_members_without_coils_are_not_mixed() -> None:
    rows = tuple(
        {"part": part, "height": height, "load": load}
        for part, height, load in (
            ("pair", "1.9 in", "150 lbf"),
            ("pair", "1.3 in", "402 lbf"),
            ("outer", "1.9 in", "100 lbf"),
            ("outer", "1.3 in", "300 lbf"),
        )
    )
    assert shown(analysis_of({"spring.readings": rows}), "rate") == pytest.approx(420)
    assert shown(analysis_of({"spring.readings": rows[2:]}), "rate") == pytest.approx(333.3333333)
    two = (*rows[2:], {**rows[2], "part": "inner"}, {**rows[3], "part": "inner"})
    assert shown(analysis_of({"spring.readings": two}), "rate") is None


@pytest.mark.parametrize("name", ["Outer ", "pair"])
def test_members_that_readings_cannot_tell_apart(name: str) -> None:
    rows = tuple({**row, "part": part} for part in ("outer", "pair") for row in BASE["spring.readings"])
    coils = ({"name": "outer", "seat_step": "0 in"}, {"name": name, "seat_step": "0 in"})
    found = analysis_of({"spring.readings": rows, "spring.coils": coils})
    assert faults(found) == ["spring.coils.1.name"]
    # The pair's own readings hold all the same; the outer's are not counted twice.
    assert shown(found, "seat_load") == pytest.approx(150)
