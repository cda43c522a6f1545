"""Faults of the follower between entries: each told at its field, and its value withdrawn."""

from __future__ import annotations

import json
from typing import Any

import pytest

from loadbench.analysis import analyse
from loadbench.job.checks import checked
from loadbench.job.reading_in import job_from_text
from loadbench.job.stated import Stated, read_stated


def stated(**parts: Any) -> Stated:
    tree = {"format": "loadbench-job", "version": 4, "title": "t", "units": "metric"} | parts
    return checked(read_stated(job_from_text(json.dumps(tree))))


NEEDLES = {"diameter": "2 mm", "length": "8 mm", "axle_diameter": "9 mm"}
FOLLOWER: tuple[tuple[dict[str, Any], str, str], ...] = (
    ({"follower": {"needles": NEEDLES | {"count": 18}}}, "follower.needles.count", "do not fit round the axle"),
    ({"follower": {"needles": NEEDLES | {"count": 16.5}}}, "follower.needles.count", "16.5 needles"),
    (
        {"follower": {"roller_width": "15.1 mm"}, "cam": {"face_width": "15 mm"}},
        "follower.roller_width",
        "wider than its lobe",
    ),
    (
        {"follower": {"plunger": {"travel": "3 mm"}, "preload": {"depth": "3.1 mm"}}},
        "follower.preload.depth",
        "deeper than its whole travel",
    ),
    ({"follower": {"preload": {"turns": -0.25}}}, "follower.preload.turns", "below zero lash"),
    (
        {"follower": {"plunger": {"travel": "3 mm"}}, "valves": [{"id": "1", "depth_found": "3.2 mm"}]},
        "valves.0.depth_found",
        "deeper than its whole travel",
    ),
    (
        {"follower": {"body_diameter": "21.4 mm", "bore": {"diameter": "21.4 mm"}}},
        "follower.bore.diameter",
        "does not go into its bore",
    ),
    (
        {"follower": {"bore": {"lower_end": "10 mm", "upper_end": "9 mm"}}},
        "follower.bore.upper_end",
        "ends below where it begins",
    ),
    (
        {"follower": {"oil_band": {"lower": "10 mm", "upper": "9 mm"}}},
        "follower.oil_band.upper",
        "ends below where it begins",
    ),
    (
        {"follower": {"bush": {"bore": "9 mm", "clearance": "0.9 mm"}}},
        "follower.bush.clearance",
        "tenth of the bush's bore",
    ),
)


@pytest.mark.parametrize(("parts", "field", "what"), FOLLOWER, ids=[f"{each[1]}: {each[2]}" for each in FOLLOWER])
def test_a_fault_is_told_at_its_field(parts: dict[str, Any], field: str, what: str) -> None:
    found = stated(**parts)
    assert what in found.problems[field].what
    assert found.problems[field].expected
    assert (field in found.values) is (field == "follower.roller_width")  # a width is right in itself


@pytest.mark.parametrize(
    "parts",
    [
        {"follower": {"needles": NEEDLES | {"count": 17}}},
        {"follower": {"roller_width": "15 mm"}, "cam": {"face_width": "15 mm"}},
        {"follower": {"plunger": {"travel": "3 mm"}, "preload": {"depth": "3 mm"}}},
        {"follower": {"preload": {"turns": 0}}},
        {"follower": {"body_diameter": "21.4 mm", "bore": {"diameter": "21.43 mm"}}},
    ],
)
def test_what_just_fits_is_no_fault(parts: dict[str, Any]) -> None:
    assert not stated(**parts).problems


def test_a_roller_is_held_against_each_lines_lobe() -> None:
    lines = {"exhaust": {"cam": {"face_width": "11 mm"}}}
    found = stated(follower={"roller_width": "12 mm"}, cam={"face_width": "15 mm"}, lines=lines)
    assert "follower.roller_width" in found.problems


def test_needles_that_do_not_fit_leave_no_rating() -> None:
    tree = {"format": "loadbench-job", "version": 4, "title": "t", "units": "metric"}
    tree |= {"follower": {"family": "roller-solid", "axle": "needle", "needles": NEEDLES | {"count": 18}}}
    line = analyse(job_from_text(json.dumps(tree))).lines[0]
    assert line.value("needle_dynamic_rating") is None
    assert line.value("needle_places") == 17
