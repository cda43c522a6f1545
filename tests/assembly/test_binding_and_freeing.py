"""Where no plan holds: the named limits do forbid it, and every change that is offered frees one and no less does."""

from __future__ import annotations

import copy
from typing import Any

import pytest

from loadbench.assembly.answer import FitAnswer
from loadbench.assembly.fit import fit
from loadbench.units import Style
from tests.assembly.heads import INCH, analysed, head
from tests.assembly.test_pairs_of_a_job import nest

SPRINGS = [("A", 150.0, 400.0), ("B", 150.0, 400.0), ("C", 150.0, 400.0)]
AT_ONE_SHIM = {"seat_load": "150 lbf", "tolerance_percent": 1}


def told(answer: FitAnswer) -> list[str]:
    return [each.sentence.told(Style.INCH_POUND).replace("\u2009", " ") for each in answer.frees]


def offered(answer: FitAnswer, kind: str) -> float:
    return next(each.amount for each in answer.frees if each.kind == kind)


def short_of_shims() -> dict[str, Any]:
    """Three valves at 1.815 in: 144 lbf, 1 % of 150 wants the 0.015 in shim under each; there is one."""
    return head(SPRINGS, [1.815] * 3, targets=AT_ONE_SHIM, shims_in_stock=["0.015 in"], shim_counts=[1])


def test_where_the_count_of_shims_forbids_a_plan_every_offer_keeps_to_the_count() -> None:
    answer = fit(analysed(short_of_shims()))
    assert {bar.limit for bar in answer.binding} == {"seat-tolerance", "shim-counts"}
    assert "2 more shims of 0.015 in." in told(answer)
    assert not [each for each in answer.frees if each.kind == "lift"]  # it changes no seat load
    for more, feasible in ((offered(answer, "tolerance"), True), (offered(answer, "tolerance") - 0.001, False)):
        tree = short_of_shims()
        tree["targets"] = AT_ONE_SHIM | {"tolerance_percent": 1 + 100 * more}
        assert fit(analysed(tree)).feasible is feasible
    tree = short_of_shims() | {"shims_in_stock": ["0.015 in", f"{offered(answer, 'shim') / INCH:.6f} in"]}
    assert fit(analysed(tree)).feasible
    tree = short_of_shims() | {"shim_counts": [3]}
    assert fit(analysed(tree)).feasible


def test_new_springs_do_not_free_a_valve_whose_spring_is_locked() -> None:
    tree = head([("A", 190.0, 400.0), *SPRINGS[1:]], [1.800, 1.800], targets=AT_ONE_SHIM)
    tree["valves"][0] |= {"spring": "A", "locked": True}
    answer = fit(analysed(tree))
    assert {bar.limit for bar in answer.binding} == {"seat-tolerance", "locked"}
    assert all(bar.valves == ("1",) for bar in answer.binding)
    assert not [each for each in answer.frees if each.kind == "springs"]


def test_new_springs_do_not_free_where_the_limits_on_load_contradict_each_other() -> None:
    tree = head(SPRINGS, [1.800], targets={"seat_load": "170 lbf", "tolerance_percent": 2})
    tree["spring"]["maker_limits"] = {"seat_load_max": "160 lbf"}
    answer = fit(analysed(tree))
    assert {bar.limit for bar in answer.binding} == {"maker", "seat-tolerance"}
    assert not [each for each in answer.frees if each.kind == "springs"]


def test_limits_that_bind_only_together_are_all_named_with_their_own_valves() -> None:
    tree = head(SPRINGS, [1.620, 1.800], targets={"seat_load": "150 lbf", "tolerance_percent": 1})
    tree["springs"] = tree["springs"][:2]  # valve 1 lacks room, and with its room would carry 222 lbf
    answer = fit(analysed(tree))
    assert {(bar.limit, bar.valves) for bar in answer.binding} == {("bind", ("1",)), ("seat-tolerance", ("1",))}
    assert all("not alone" in bar.sentence.told(Style.METRIC) for bar in answer.binding)


def test_a_locked_stack_that_is_not_in_stock_is_no_choice_of_others_when_locks_are_left_out() -> None:
    tree = head(SPRINGS, [1.821, 1.821], targets=AT_ONE_SHIM, shims_in_stock=["0.060 in"])
    tree["valves"][0] |= {"shims": ["0.021 in"], "locked": True}
    answer = fit(analysed(tree))  # valve 2 wants 0.021 in as well
    assert [bar.limit for bar in answer.binding] == ["seat-tolerance"]
    assert answer.binding[0].valves == ("2",)


@pytest.mark.parametrize("kind", ["height", "tolerance"])
def test_pairs_are_told_the_least_that_frees_too(kind: str) -> None:
    targets = {"seat_load": "140 lbf", "tolerance_percent": 1}
    answer = fit(analysed(nest([1.780, 1.780], targets=targets)))
    assert [bar.limit for bar in answer.binding] == ["seat-tolerance"]
    amount = offered(answer, kind)
    step = 0.001 * INCH if kind == "height" else 0.001
    for more, feasible in ((amount, True), (amount - step, False)):
        bare = 1.780 + (more / INCH if kind == "height" else 0)
        wider = targets | {"tolerance_percent": 1 + (100 * more if kind == "tolerance" else 0)}
        assert fit(analysed(nest([bare, bare], targets=wider))).feasible is feasible


def test_a_limit_that_forbids_pairs_by_itself_is_named() -> None:
    tree = nest([1.800, 1.800])
    tree["follower"] |= {"maker_limits": {"open_load_max": "300 lbf"}}
    assert [bar.limit for bar in fit(analysed(tree)).binding] == ["maker"]


def test_in_metric_the_least_is_sought_in_what_is_told() -> None:
    tree = head(SPRINGS[:1], [1.780], units="metric", targets=AT_ONE_SHIM)
    answer = fit(analysed(tree))  # 158 lbf at 1.780 in; 151.5 at 1.79625: 0.4128 mm
    height = next(each for each in answer.frees if each.kind == "height")
    assert height.amount == pytest.approx(0.42e-3)
    assert height.sentence.told(Style.METRIC).replace("\u2009", " ").startswith("0.42 mm more height on valve 1:")
    after = copy.deepcopy(tree)
    after["valves"][0]["bare_height"] = f"{1.780 * 25.4 + 0.42:.4f} mm"
    assert fit(analysed(after)).feasible


def test_where_every_spring_is_too_weak_as_many_new_ones_are_counted() -> None:
    weak = [(f"S{place}", 90.0, 400.0) for place in range(14)]
    answer = fit(analysed(head(weak, [1.800] * 12, targets=AT_ONE_SHIM)))
    assert offered(answer, "springs") == 12
    assert answer.binding[0].sentence.told(Style.METRIC) == (
        "The seat load's tolerance leaves too few choices on every valve."
    )
