"""The numbered springs as readings: texts that read back, offered only where there are none, each line's own."""

from __future__ import annotations

from typing import Any

import pytest

from loadbench.analysis import analyse
from loadbench.findings.set_check.set_mean import set_mean
from loadbench.job.edits import replaced, replaced_all
from loadbench.job.model import Job
from loadbench.units import Kind, Style, parse

LBF = 4.4482216152605
IN = Style.INCH_POUND


def spring(name: str, *loads: float) -> dict[str, Any]:
    heights = ("1.900 in", "1.300 in")
    return {
        "id": name,
        "readings": tuple({"height": h, "load": f"{load} lbf"} for h, load in zip(heights, loads, strict=False)),
    }


SET = (spring("S1", 143, 402), spring("S2", 145, 405), spring("S3", 141, 398))


def job(**changes: Any) -> Job:
    whole = {"springs": SET, "spring.installed_height": "1.900 in", "valve_gear.measured_net_lift": "0.600 in"}
    return replaced_all(Job(title="set"), whole | {name.replace("__", "."): value for name, value in changes.items()})


def test_the_means_are_texts_with_units_that_read_back() -> None:
    found = set_mean(analyse(job()), "common", IN)
    assert found is not None
    assert [(each.height, each.load) for each in found.readings] == [
        ("1.900 in", "143 lbf"),
        ("1.300 in", "401.67 lbf"),
    ]
    assert parse(found.readings[1].load or "", Kind.FORCE, IN).value == pytest.approx(1205 / 3 * LBF, abs=0.01 * LBF)
    assert found.shared


def test_the_bench_has_its_load_from_them() -> None:
    before = job()
    found = set_mean(analyse(before), "common", IN)
    assert found is not None
    assert analyse(before).line("common").value("seat_load") is None
    after = analyse(replaced(before, "spring.readings", found.readings)).line("common")
    assert after.value("seat_load") == pytest.approx(143 * LBF, rel=1e-6)
    assert after.value("open_load") == pytest.approx(1205 / 3 * LBF, rel=1e-4)


@pytest.mark.parametrize(
    "changes",
    [
        {"spring.readings": ({"height": "1.900 in", "load": "150 lbf"},)},
        {"spring.coils": ({"name": "outer", "readings": ({"height": "1.900 in", "load": "150 lbf"},)},)},
        {"springs": ()},
        {"springs": (spring("S1"),)},
    ],
)
def test_it_is_offered_only_where_it_is_wanted(changes: dict[str, Any]) -> None:
    assert set_mean(analyse(replaced_all(job(), changes)), "common", IN) is None


def test_without_a_common_height_there_is_nothing_to_take() -> None:
    other = {"id": "S2", "readings": ({"height": "1.850 in", "load": "160 lbf"},)}
    found = set_mean(analyse(job(springs=(spring("S1", 143, 402), other))), "common", IN)
    assert found is not None
    assert found.readings == ()


def test_lines_with_springs_of_their_own_take_their_own_valves_springs() -> None:
    apart = job(
        lines__exhaust={"spring": {"bind_height": "1.000 in"}},
        valves=({"id": "1I", "line": "intake", "spring": "S1"}, {"id": "1E", "line": "exhaust", "spring": "S2"},
                {"id": "2E", "line": "exhaust", "spring": "S3"}),
    )  # fmt: skip
    exhaust = set_mean(analyse(apart), "exhaust", IN)
    assert exhaust is not None
    assert not exhaust.shared
    assert (exhaust.mean.springs, exhaust.readings[0].load) == (2, "143 lbf")
    intake = set_mean(analyse(apart), "intake", IN)
    assert intake is not None
    assert (intake.mean.springs, intake.readings[1].load) == (1, "402 lbf")


def test_lines_that_differ_in_height_alone_share_the_mean() -> None:
    found = set_mean(analyse(job(lines__exhaust={"spring": {"installed_height": "1.850 in"}})), "exhaust", IN)
    assert found is not None
    assert found.shared
    assert found.mean.springs == 3
