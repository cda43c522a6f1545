"""What a fit takes from a job: locks as stated, faults told with exit by the caller, what is assumed said."""

from __future__ import annotations

from typing import Any

import pytest

from loadbench.assembly.answer import FitAnswer
from loadbench.assembly.fit import fit
from loadbench.units import Style
from tests.assembly.heads import INCH, analysed, head
from tests.assembly.test_pairs_of_a_job import INNERS, OUTERS, STEP, nest

SPRINGS = [("A", 150.0, 400.0), ("B", 156.0, 400.0), ("C", 147.0, 400.0)]


def two(**more: Any) -> dict[str, Any]:
    return head(SPRINGS, [1.815, 1.815], **more)


def whole(name: str) -> dict[str, Any]:
    """A whole spring of the nest: one outer with one inner."""
    readings = [
        {"part": part, "height": f"{height - step:.3f} in", "load": f"{load + rate * (1.8 - height):.2f} lbf"}
        for part, step, (_, load, rate) in (("outer", 0.0, OUTERS[0]), ("inner", STEP, INNERS[0]))
        for height in (1.8, 1.3)
    ]
    return {"id": name, "readings": readings}


def fields(answer: FitAnswer) -> list[str]:
    assert not answer.feasible
    return [problem.place.field or "" for problem in answer.problems]


def notes(answer: FitAnswer) -> str:
    return " ".join(note.told(Style.INCH_POUND).replace("\u2009", " ") for note in answer.unchecked)


def test_a_lock_on_a_pair_is_a_fault_where_springs_are_whole() -> None:
    tree = two()
    tree["valves"][0] |= {"spring": "A + B", "locked": True}
    assert fields(fit(analysed(tree))) == ["valves.0.spring"]


@pytest.mark.parametrize("name", ["O1 + O2", "O1 + Q", "W", "O1 + W"])
def test_a_lock_that_is_no_pair_is_a_fault_and_never_dropped(name: str) -> None:
    tree = nest([1.800, 1.800])
    tree["springs"].append(whole("W"))
    tree["valves"][0] |= {"spring": name, "locked": True}
    assert fields(fit(analysed(tree))) == ["valves.0.spring"]


def test_a_shim_of_no_thickness_locks_the_valve_without_shims() -> None:
    tree = head([("A", 156.0, 400.0), ("B", 150.0, 400.0)], [1.815, 1.815])
    tree["valves"][0] |= {"spring": "B", "shims": ["0 in"], "locked": True}
    answer = fit(analysed(tree))  # 144 lbf on 1.815 in; one shim would bring B to 150
    assert answer.plan[0].shims == ()
    assert answer.shims_used == 0
    assert answer.shopping == {}


def test_a_locked_stack_past_the_limits_of_a_stack_stays_and_is_told() -> None:
    tree = two()
    tree["valves"][0] |= {"shims": ["0.015 in"] * 4, "locked": True}
    answer = fit(analysed(tree))
    assert answer.plan[0].shims == pytest.approx((0.015 * INCH,) * 4)
    assert "The shims locked on valve 1 are past the limits of a stack" in notes(answer)


def test_springs_of_one_name_are_a_fault() -> None:
    tree = two()
    tree["springs"][1]["id"] = "A"
    assert fields(fit(analysed(tree))) == ["springs.1.id"]


def test_a_rule_that_cannot_be_read_is_a_fault_of_the_fit() -> None:
    answer = fit(analysed(two(rules={"bind-margin-min": {"stop": "abc"}, "seat-load-min": {"stop": "abc"}})))
    assert fields(answer) == ["rules.bind-margin-min.stop"]


def test_less_than_no_shims_in_stock_are_a_fault() -> None:
    assert fields(fit(analysed(two(shim_counts=[1, -1, None])))) == ["shim_counts.1"]


def test_a_valve_that_does_not_open_or_opens_too_far_is_a_fault() -> None:
    tree = two()
    tree["valves"][0]["lash"] = "0.600 in"
    tree["valves"][1]["bare_height"] = "0.400 in"
    assert fields(fit(analysed(tree))) == ["valves.0.lash", "valves.1.bare_height"]


def test_a_faulty_entry_is_not_told_as_unstated_too() -> None:
    tree = two(targets={"seat_load": "150 lbf", "tolerance_percent": -3})
    tree["valves"][0]["bare_height"] = "1.8x in"
    tree["spring"]["bind_height"] = "1.1 inn"
    answer = fit(analysed(tree))
    assert set(fields(answer)) == {"valves.0.bare_height", "spring.bind_height", "targets.tolerance_percent"}
    assert notes(answer) == ""


def test_the_usual_stock_is_told_where_none_is_stated() -> None:
    tree = two()
    assert "stock" not in notes(fit(analysed(tree)))
    tree.pop("shims_in_stock")
    assert "0.015 in, 0.030 in, 0.060 in are taken" in notes(fit(analysed(tree)))


def test_counts_of_one_size_in_two_units_are_added() -> None:
    tree = head([SPRINGS[0], ("D", 150.0, 400.0), SPRINGS[1]], [1.815] * 3)
    tree |= {"shims_in_stock": ["0.015 in", "0.38100001 mm"], "shim_counts": [1, 1]}
    answer = fit(analysed(tree))
    assert answer.seat_spread == pytest.approx(0, abs=1e-3)
    assert answer.shims_used == 2


def test_what_a_lift_waits_for_is_named_in_words() -> None:
    tree = two(valve_gear={"lash": "0 in"})
    answer = fit(analysed(tree))
    assert {problem.expected for problem in answer.problems} == {"lobe lift; rocker ratio"}


def test_a_stray_outer_and_inner_do_not_hide_a_set_of_whole_springs() -> None:
    tree = nest([1.800, 1.800])
    strays = [tree["springs"][0], tree["springs"][len(OUTERS)]]
    tree["springs"] = [*(whole(name) for name in ("W1", "W2", "W3")), *strays]
    answer = fit(analysed(tree))
    assert [placed.spring for placed in answer.plan] == ["W1", "W2"]
    assert "Spring O1 is one member of the nest only (outer): it is not chosen." in notes(answer)
