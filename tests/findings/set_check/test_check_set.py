"""The numbered springs judged as a set: figures by hand, windows, bins, what to order, what to test again."""

from __future__ import annotations

import math
from typing import Any

import pytest

from loadbench.analysis import Analysis, analyse
from loadbench.findings.finding import Level
from loadbench.findings.set_check.check_set import check_set
from loadbench.findings.set_check.result import SetCheck
from loadbench.readings.trust.flag import FlagKind
from loadbench.units import Style
from tests.findings.jobs import job_with

INCH, LBF = 0.0254, 4.4482216152605
SPEC = (
    {"height": "1.900 in", "load": "150 lbf", "minus": "6 lbf", "plus": "6 lbf"},
    {"height": "1.300 in", "load": "390 lbf", "minus": "15 lbf", "plus": "15 lbf"},
)


def spring(name: str, *pairs: tuple[float, float], part: str | None = None, mark: str | None = None) -> dict[str, Any]:
    readings = tuple({"height": f"{height} in", "load": f"{load!r} lbf", "part": part} for height, load in pairs)
    return {"id": name, "mark": mark, "readings": readings}


def by_share(name: str, share: float) -> dict[str, Any]:
    return spring(name, (1.9, 150 * share), (1.6, 270 * share), (1.3, 390 * share))


def analysed(springs: list[dict[str, Any]], changes: dict[str, Any] | None = None) -> Analysis:
    return analyse(job_with({"springs": tuple(springs)} | (changes or {})))


def checked(springs: list[dict[str, Any]], changes: dict[str, Any] | None = None) -> SetCheck:
    return check_set(analysed(springs, changes))


USUAL = [by_share(str(place + 1), 1 + off) for place, off in enumerate((-0.02, 0.01, 0.0, -0.01, 0.02, 0.005))]


def test_each_spring_carries_its_own_loads_with_their_uncertainty() -> None:
    found = checked([by_share("7", 1.0)], {"tester.load_repeatability": "1 lbf", "springs.0.mark": "blue"})
    (own,) = found.springs
    assert (own.id, own.index, own.mark) == ("7", 0, "blue")
    assert (own.height, own.open_height) == pytest.approx((1.9 * INCH, 1.3 * INCH))
    assert (own.seat_load, own.open_load) == pytest.approx((150 * LBF, 390 * LBF))
    assert own.rate == pytest.approx(400 * LBF / INCH)
    # GUM H.3: three heights 0.3 in apart, u = 1/sqrt 3 lbf each; S = 2 x 0.3^2.
    u = 1 / math.sqrt(3)
    assert own.rate_expanded == pytest.approx(2 * u / math.sqrt(0.18) * LBF / INCH, rel=1e-9)
    at_end = 2 * u * math.sqrt(1 / 3 + 0.3**2 / 0.18)
    assert own.seat_expanded == pytest.approx(at_end * LBF, rel=1e-9)
    assert own.extrapolated is False


def test_without_a_stated_tester_no_uncertainty_is_made_up() -> None:
    (own,) = checked([spring("7", (1.9, 150), (1.3, 390))]).springs
    assert (own.rate_expanded, own.seat_expanded, own.open_expanded) == (None, None, None)


def test_residuals_stand_at_their_own_readings() -> None:
    # Through 150, 276, 390 at equal steps the line runs 152, 272, 392: off by -2, 4, -2.
    (own,) = checked([spring("7", (1.9, 150), (1.6, 276), (1.3, 390))]).springs
    assert [each.off / LBF for each in own.residuals] == pytest.approx([-2, 4, -2])
    assert [each.place for each in own.residuals] == [f"springs.0.readings.{place}" for place in range(3)]


def test_the_members_of_a_nest_have_residuals_each_by_its_own_line() -> None:
    coils = (
        {"name": "outer", "seat_step": "0 in", "retainer_step": "0 in", "bind_height": "1.1 in"},
        {"name": "inner", "seat_step": "0.1 in", "retainer_step": "0 in", "bind_height": "1.0 in"},
    )
    outer = spring("1", (1.9, 100), (1.6, 196), (1.3, 280), part="outer")
    inner = spring("1", (1.8, 40), (1.2, 100), part="inner")
    both = {"id": "1", "mark": None, "readings": (*outer["readings"], *inner["readings"])}
    found = checked([both], {"spring.coils": coils, "spring.bind_height": None, "spring.readings": ()})
    assert [(each.part, round(each.off / LBF, 6)) for each in found.springs[0].residuals] == [
        ("outer", -2),
        ("outer", 4),
        ("outer", -2),
        ("inner", 0),
        ("inner", 0),
    ]


def test_one_bad_cell_does_not_stop_the_rest() -> None:
    broken = {"id": "4", "readings": ({"height": "1.9 in", "load": "1o3 lbf"}, {"height": "1.3 in", "load": "390 lbf"})}
    found = checked([*USUAL[:3], broken, *USUAL[4:]], {"spring.spec": SPEC})
    assert [each.seat_load is None for each in found.springs] == [False, False, False, True, False, False]
    assert [each.verdict.level for each in found.springs].count(Level.CLEAR) == 5
    assert (found.passed, found.failed, found.unknown) == (5, 0, 1)


def test_what_fails_is_to_be_ordered_for_the_valves_there_are() -> None:
    valves = tuple({"id": name} for name in ("1I", "1E", "2I", "2E", "3I", "3E"))
    weak = [by_share("W", 0.9), by_share("X", 0.91)]
    assert checked(USUAL, {"valves": valves, "spring.spec": SPEC}).order_more == 0
    found = checked([*USUAL[:4], *weak], {"valves": valves, "spring.spec": SPEC})
    assert (found.needed, found.failed, found.order_more) == (6, 2, 2)
    assert checked([*USUAL, *weak], {"valves": valves, "spring.spec": SPEC}).order_more == 0
    without = checked([*USUAL, *weak], {"spring.spec": SPEC})
    assert (without.needed, without.order_more) == (None, 2)


def test_flags_have_their_place_in_the_job_and_say_what_to_test_again() -> None:
    falls = spring("F", (1.9, 150), (1.6, 270), (1.3, 100))
    found = checked([*USUAL, falls])
    (flag,) = found.flags
    assert (flag.kind, flag.spring, flag.path) == (FlagKind.NOT_RISING, "F", "springs.6.readings.2")
    assert found.springs[6].flags == (flag,)
    assert found.test_again == ("F",)
    assert "100\u2009lbf" in flag.told(Style.INCH_POUND)


def test_the_sheet_tells_a_tester_that_is_off() -> None:
    high = [
        spring(str(place), (1.9, 150 * (1 + off) + 15), (1.3, 390 * (1 + off) + 15))
        for place, off in enumerate((-0.02, 0.01, 0.0, -0.01, 0.02, 0.005))
    ]
    assert [flag.kind for flag in checked(high, {"spring.spec": SPEC}).flags] == [FlagKind.TESTER_ZERO]
    assert checked(high).flags == ()
    assert checked(USUAL, {"spring.spec": SPEC}).flags == ()


def test_other_springs_on_the_exhaust_are_a_set_of_their_own() -> None:
    strong = [by_share(f"E{place}", 1.3 + off) for place, off in enumerate((-0.02, 0.01, 0.0, -0.01, 0.02, 0.005))]
    valves = tuple({"id": each["id"], "line": "exhaust", "spring": each["id"]} for each in strong)
    more = {"height": "1.900 in", "load": "195 lbf"}, {"height": "1.300 in", "load": "507 lbf"}
    changes = {"valves": valves, "spring.spec": SPEC, "lines.exhaust": {"spring": {"spec": more}}}
    assert checked([*USUAL, *strong], changes).flags == ()
    weak = by_share("E9", 1.1)
    named = {**changes, "valves": (*valves, {"id": "9E", "line": "exhaust", "spring": "E9"})}
    (flag,) = checked([*USUAL, *strong, weak], named).flags
    assert (flag.kind, flag.spring) == (FlagKind.OUTLIER, "E9")


def test_another_height_alone_makes_no_other_springs() -> None:
    weak = by_share("E9", 0.85)
    valves = ({"id": "1E", "line": "exhaust", "spring": "E9"},)
    taller = {"valves": valves, "lines.exhaust": {"spring": {"installed_height": "1.950 in"}}}
    (flag,) = checked([*USUAL, weak], taller).flags
    assert (flag.kind, flag.spring) == (FlagKind.OUTLIER, "E9")
    assert checked([*USUAL, weak], {**taller, "lines.exhaust": {"spring": {"rate": "350 lbf/in"}}}).flags == ()


def test_repeats_apart_are_told_though_the_analysis_leaves_them_out() -> None:
    twice = [
        spring(str(place), (1.9, 149.5 + place), (1.9, 150.0 + place), (1.3, 390 + place), (1.3, 390.4 + place))
        for place in range(6)
    ]
    twice[2]["readings"] = (*twice[2]["readings"][:3], {"height": "1.3 in", "load": "423 lbf"})
    found = checked(twice)
    (flag,) = found.flags
    assert (flag.kind, flag.spring, flag.path) == (FlagKind.REPEAT_DISAGREES, "2", "springs.2.readings.3")
    assert (found.test_again, found.springs[2].seat_load) == (("2",), None)


def test_bins_hold_no_more_than_the_rule_books_spread() -> None:
    found = checked([by_share(str(place), 0.94 + 0.02 * place) for place in range(7)])
    loads = {each.bin: [] for each in found.springs}  # type: dict[str, list[float]]
    for each in found.springs:
        loads[each.bin].append(each.seat_load or 0.0)
    mean = sum(each.seat_load or 0.0 for each in found.springs) / 7
    assert list(loads) == ["A", "B", "C"]
    assert all(max(own) - min(own) <= 0.05 * mean * (1 + 1e-9) for own in loads.values())
    assert found.spread == pytest.approx(0.12)
    assert found.spread_level is Level.WATCH
    assert checked(USUAL).spread_level is Level.CLEAR


def test_strips_hold_the_mean_of_repeats_with_the_window_of_the_height() -> None:
    twice = spring("R", (1.9, 148), (1.9, 152), (1.3, 390))
    found = checked([twice, by_share("S", 1.0)], {"spring.spec": SPEC})
    assert [round(strip.height / INCH, 3) for strip in found.strips] == [1.9, 1.6, 1.3]
    tall = found.strips[0]
    assert [each.load / LBF for each in tall.loads] == pytest.approx([150, 150])
    assert (tall.mean / LBF, tall.spread) == pytest.approx((150, 0))
    assert tall.window is not None
    assert ((tall.window.least or 0) / LBF, (tall.window.greatest or 0) / LBF) == pytest.approx((144, 156))
    assert found.strips[1].window is None


def test_the_repeatability_is_the_pooled_one() -> None:
    twice = [spring(str(place), (1.9, 149.0), (1.9, 151.0), (1.3, 390), (1.3, 390 + 2.0)) for place in range(3)]
    # Pairs 2 lbf apart: s = 2 / sqrt 2 (GUM 4.2.4).
    assert checked(twice).repeatability == pytest.approx(math.sqrt(2) * LBF)
    assert checked(USUAL).repeatability is None


def test_the_strip_list_runs_in_cylinder_order_by_the_plan() -> None:
    valves = tuple(
        {"id": name, "spring": spring_} for name, spring_ in (("2E", "1"), ("1E", "2"), ("2I", "3"), ("1I", "4"))
    )
    found = checked(USUAL, {"valves": valves})
    assert [(each.valve, each.spring) for each in found.laid_out] == [
        ("1I", "4"),
        ("1E", "2"),
        ("2I", "3"),
        ("2E", "1"),
    ]
    assert found.laid_out[0].seat_load == pytest.approx(150 * 0.99 * LBF)
    planned = checked(USUAL, {"valves": valves, "plan.placed": ({"valve": "1I", "spring": "6"},)})
    assert [each.spring for each in planned.laid_out] == ["6", "2", "3", "1"]
    assert [each.spring for each in checked(USUAL).laid_out] == ["1", "2", "3", "4", "5", "6"]


def test_a_valve_without_a_spring_has_its_place_in_the_list() -> None:
    found = checked(USUAL, {"valves": ({"id": "1I"}, {"id": "1E", "spring": "gone"})})
    assert [(each.spring, each.seat_load) for each in found.laid_out] == [("", None), ("gone", None)]


def test_a_job_without_springs_is_an_empty_set() -> None:
    found = checked([])
    assert (found.springs, found.flags, found.strips, found.order_more, found.past) == ((), (), (), 0, None)
    assert (found.spread, found.spread_level) == (None, Level.UNKNOWN)
