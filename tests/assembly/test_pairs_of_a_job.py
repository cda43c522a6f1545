"""Inner and outer springs numbered apart: pairs on valves, locks, what is lacking, and the loads once taken over."""

from __future__ import annotations

import itertools
from typing import Any

import pytest

from loadbench.analysis import analyse
from loadbench.assembly.fit import fit
from loadbench.assembly.plan_edits import applied
from loadbench.units import Style
from tests.assembly.heads import INCH, POUND, analysed, head

OUTERS = [("O1", 110.0, 300.0), ("O2", 116.0, 302.0), ("O3", 104.0, 297.0)]
INNERS = [("I1", 40.0, 110.0), ("I2", 46.0, 112.0), ("I3", 35.0, 108.0)]
STEP = 0.080


def nest(bare: list[float], **more: Any) -> dict[str, Any]:
    """A head with loose outers and inners; the inner stands 0.080 in higher, loads are at 1.800 in of the nest."""
    tree = head([], bare, **more)
    tree["spring"] |= {
        "coils": [
            {"name": "outer", "bind_height": "1.100 in"},
            {"name": "inner", "seat_step": f"{STEP} in", "bind_height": "1.000 in"},
        ]
    }
    tree["springs"] = [
        {
            "id": name,
            "readings": [
                {"part": part, "height": f"{1.8 - step:.3f} in", "load": f"{load} lbf"},
                {"part": part, "height": f"{1.3 - step:.3f} in", "load": f"{load + 0.5 * rate} lbf"},
            ],
        }
        for part, step, springs in (("outer", 0.0, OUTERS), ("inner", STEP, INNERS))
        for name, load, rate in springs
    ]
    return tree


def test_heavy_inners_go_with_light_outers() -> None:
    answer = fit(analysed(nest([1.800, 1.800, 1.800], shims_in_stock=["0.060 in"])))
    assert (answer.feasible, answer.proved) == (True, True)
    pairs = {placed.spring: placed.inner for placed in answer.plan}
    assert pairs == {"O1": "I1", "O2": "I3", "O3": "I2"}
    assert answer.seat_spread == pytest.approx(1 * POUND)  # 150, 151, 150
    assert answer.spare == ()


def test_the_plan_of_pairs_is_the_best_of_all() -> None:
    bare = [1.812, 1.821]
    answer = fit(analysed(nest(bare)))
    stacks = [(), (0.015,), (0.030,), (0.030, 0.015), (0.060,), (0.060, 0.015), (0.060, 0.030)]
    best = min(
        max(loads) - min(loads)
        for outers in itertools.permutations(OUTERS, 2)
        for inners in itertools.permutations(INNERS, 2)
        for under in itertools.product(stacks, repeat=2)
        for loads in [
            [
                o[1] + i[1] + (o[2] + i[2]) * (1.8 - height + sum(stack))
                for o, i, height, stack in zip(outers, inners, bare, under, strict=True)
            ]
        ]
    )
    assert answer.seat_spread == pytest.approx(best * POUND, abs=1e-6)


def test_a_plan_of_pairs_gives_its_loads_once_taken_over() -> None:
    analysis = analysed(nest([1.812, 1.821, 1.805]))
    answer = fit(analysis)
    after = analyse(applied(analysis.job, answer, style=Style.INCH_POUND))
    assert not after.problems
    assert [valve.seat_load for valve in after.set.valves] == pytest.approx([each.seat_load for each in answer.plan])
    assert [valve.open_load for valve in after.set.valves] == pytest.approx([each.open_load for each in answer.plan])
    again = fit(after)
    assert again.seat_spread == pytest.approx(answer.seat_spread)
    assert [each.seat_load_before for each in again.plan] == pytest.approx([each.seat_load for each in answer.plan])


def test_a_locked_pair_stays() -> None:
    tree = nest([1.800, 1.800])
    tree["valves"][1] |= {"spring": "O3 + I3", "locked": True}
    placed = fit(analysed(tree)).plan[1]
    assert (placed.spring, placed.inner) == ("O3", "I3")


def test_what_is_lacking_is_counted() -> None:
    tree = nest([1.800] * 4)
    answer = fit(analysed(tree))
    assert [bar.limit for bar in answer.binding] == ["springs", "springs"]
    assert answer.frees[0].amount == 2
    assert answer.frees[0].sentence.told(Style.METRIC) == ("1 more outer and 1 more inner that carry the wanted loads.")


def test_a_target_out_of_reach_is_named() -> None:
    tree = nest([1.800] * 2, targets={"seat_load": "300 lbf", "tolerance_percent": 5})
    assert [bar.limit for bar in fit(analysed(tree)).binding] == ["seat-tolerance"]


def test_no_room_is_named() -> None:
    barred = fit(analysed(nest([1.625, 1.700])))
    assert [(bar.limit, bar.valves) for bar in barred.binding] == [("bind", ("1",))]
    assert fit(analysed(nest([1.640, 1.700]))).plan[0].bind_margin == pytest.approx(0.040 * INCH)
