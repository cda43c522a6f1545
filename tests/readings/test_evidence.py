"""Which readings speak of which spring, and which evidence is the best there is."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from loadbench.job.edits import replaced_all
from loadbench.job.model import Job
from loadbench.job.stated import LineStated, read_stated
from loadbench.readings.evidence import accuracy_of, part_named, readings_at, readings_of_single, weigh
from loadbench.readings.strand import Evidence

GEOMETRY: dict[str, Any] = {
    "spring.coils.0.wire.diameter": "5 mm",
    "spring.coils.0.mean_diameter": "30 mm",
    "spring.coils.0.active_coils": 4.0,
    "spring.coils.0.material": "chrome-silicon",
}
# G d^4/(8 D^3 n) = 79.5e9 x 625e-12/(8 x 27e-6 x 4).
GEOMETRIC = 79.5e9 * 0.005**4 / (8 * 0.030**3 * 4)


def line(fields: dict[str, Any]) -> LineStated:
    return read_stated(replaced_all(Job(title="t"), {"units": "metric"} | fields)).line("common")


def readings(*rows: tuple[Any, ...]) -> dict[str, Any]:
    names = ("height", "load", "part", "direction")
    return {"spring.readings": tuple(dict(zip(names, row, strict=False)) for row in rows)}


def chosen(fields: dict[str, Any]) -> Any:
    view = line(fields)
    found = readings_at(view, *view.rows("spring.readings"))
    return weigh(view, "spring", found, "spring.rate", "spring.coils.0")


def test_the_parts_names() -> None:
    assert [part_named(name) for name in (None, "", " Pair ", "OUTER")] == ["", "", "", "outer"]


def test_where_a_height_was_loaded_and_unloaded_the_loading_counts() -> None:
    rows = readings(
        ("48", "700", None, "loading"),
        ("48", "690", None, "unloading"),
        ("32", "1900"),
        ("40", "1290", None, "unloading"),
    )
    assert readings_at(line(rows), "spring.readings", 4).loads.tolist() == [700.0, 1900.0]
    alone = readings(("48", "690", None, "unloading"), ("32", "1890", None, "unloading"))
    assert readings_at(line(alone), "spring.readings", 2).loads.tolist() == [690.0, 1890.0]


def test_half_a_reading_is_none_and_a_faulty_one_is_told() -> None:
    found = readings_at(
        line(readings(("48", "700"), ("40", None), (None, "1900"), ("32", "much"))), "spring.readings", 4
    )
    assert (found.count, found.faulty) == (1, ("spring.readings.3.load",))
    assert found.paths == ("spring.readings.0",)


@pytest.mark.parametrize(
    ("rows", "name", "loads"),
    [
        ([("48", "700", "outer"), ("32", "1900", "outer")], "whatever", [700.0, 1900.0]),
        ([("48", "700", "pair"), ("32", "1900", ""), ("48", "500", "outer")], "outer", [700.0, 1900.0]),
        ([("48", "500", "outer"), ("48", "200", "inner")], "Outer", [500.0]),
        ([("48", "500", "outer"), ("48", "200", "inner")], "", []),
    ],
)
def test_a_pair_and_its_members_are_never_mixed(rows: list[tuple[str, ...]], name: str, loads: list[float]) -> None:
    found = readings_of_single(line(readings(*rows)), "spring.readings", len(rows), name)
    assert found.loads.tolist() == loads


TWO = readings(("48", "700"), ("32", "1900"))
ONE = readings(("48", "700"))
RATE = {"spring.rate": "76"}
FREE = {"spring.coils.0.free_height": "57"}


@pytest.mark.parametrize(
    ("fields", "evidence", "rate", "at_48_mm"),
    [
        (TWO | RATE | GEOMETRY | FREE, Evidence.MEASURED, 75e3, 700.0),
        (ONE | RATE | GEOMETRY | FREE, Evidence.STATED, 76e3, 700.0),
        (ONE | GEOMETRY | FREE, Evidence.GEOMETRIC, GEOMETRIC, GEOMETRIC * 0.009),
        (GEOMETRY | FREE, Evidence.GEOMETRIC, GEOMETRIC, GEOMETRIC * 0.009),
        (RATE | FREE, Evidence.STATED, 76e3, 76 * 9.0),
        (RATE, Evidence.STATED, 76e3, None),
        (ONE, None, None, None),
        ({}, None, None, None),
    ],
    ids=[
        "two readings",
        "rate and reading",
        "geometry and reading",
        "geometry",
        "rate and free height",
        "rate",
        "reading",
        "nothing",
    ],
)
def test_the_order_of_evidence(
    fields: dict[str, Any], evidence: Evidence | None, rate: float | None, at_48_mm: float | None
) -> None:
    found = chosen(fields)
    assert found.rate == (None if rate is None else (pytest.approx(rate), evidence))
    if at_48_mm is None:
        assert found.strand is None
        assert found.missing
    else:
        assert float(found.strand.load(0.048)) == pytest.approx(at_48_mm)


def test_what_would_help_is_named() -> None:
    assert chosen(ONE).missing == ("spring.rate",)
    assert chosen({}).missing == ("spring.readings",)


def test_a_faulty_reading_gives_no_load_from_what_is_left() -> None:
    found = chosen(readings(("48", "700"), ("40", "1300"), ("32", "much")) | RATE)
    assert (found.strand, found.rate, found.missing) == (None, None, ("spring.readings.2.load",))


def test_the_testers_accuracies() -> None:
    stated = {"tester.load_accuracy_percent": 1, "tester.load_accuracy_fixed": "4", "tester.height_accuracy": "0.05"}
    accuracy = accuracy_of(line(stated))
    assert (accuracy.gain, accuracy.zero, accuracy.repeatability, accuracy.height) == (
        0.01,
        4.0,
        None,
        pytest.approx(5e-5),
    )
    assert not accuracy.faulty
    assert accuracy_of(line(stated | {"tester.load_repeatability": "-1"})).faulty


def test_repeats_alone_give_no_rate() -> None:
    found = readings_at(line(readings(("48", "700"), ("48", "702"))), "spring.readings", 2)
    assert (found.count, found.several_heights) == (2, False)
    assert np.mean(found.loads) == 701.0
