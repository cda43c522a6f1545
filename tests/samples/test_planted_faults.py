"""The invented printouts: each is read whole, each planted fault is found where it was planted, and nothing else."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

import loadbench
from loadbench.cli import main

SAMPLES = Path(loadbench.__file__).parent.parent / "samples"
PRINTOUTS = SAMPLES / "printouts"
JOB = SAMPLES / "printout-and-fit.loadbench.json"


@dataclass(frozen=True, kw_only=True)
class Planted:
    """What stands in a sample: springs and readings read, faults as (kind, spring, row), bad cells, missing loads."""

    springs: int
    readings: int
    faults: tuple[tuple[str, str | None, int | None], ...] = ()
    bad_cells: tuple[tuple[int, int], ...] = ()
    missing: tuple[str, ...] = ()
    with_job: tuple[tuple[str, str | None, int | None], ...] = ()


SAMPLE: dict[str, Planted] = {
    # 16 springs at two heights: the lower load of spring 5 was typed "1o3"; spring 11 carries 13 % less.
    "invented-16-springs.csv": Planted(
        springs=16, readings=31, faults=(("outlier", "11", 13),), bad_cells=((7, 2),), missing=("5",)
    ),
    # 32 springs at three heights, N and mm: no load of F09 at 32 mm; that of F23 is less than at 40 mm.
    "invented-32-federn.csv": Planted(springs=32, readings=95, faults=(("not-rising", "F23", 26),), missing=("F09",)),
    # Three pages, each with its titles and headers: spring 17 is 7 % low at 38.5 mm alone.
    "invented-slip-3-pages.txt": Planted(springs=24, readings=72, faults=(("outlier", "17", 37),)),
    # Outer, inner and pair, each twice: inner 7 repeats 9 lbf apart, outer 3 is 10 % strong.
    "invented-nests-by-reading.tsv": Planted(
        springs=12, readings=144, faults=(("repeat-disagrees", "7", 82), ("outlier", "3", 29))
    ),
    # Heights over the columns, units beneath, a column of remarks without any: spring 13 is progressive alone.
    "invented-book.xlsx": Planted(springs=20, readings=100, faults=(("curved", "13", 17),)),
    # A row a reading, the height first: 1.250 in of spring S06 was typed 1.520.
    "invented-readings-with-bars.txt": Planted(
        springs=16, readings=48, faults=(("height-typed-wrong", "S06", 21),), missing=("S06",)
    ),
    # New, and the same springs worn: all lost 3.5 %, spring 4 lost 14 %.
    "invented-drag-set-new.csv": Planted(springs=16, readings=32),
    "invented-drag-set-after-40-passes.csv": Planted(springs=16, readings=32, faults=(("outlier", "4", 6),)),
    # One set of springs like the sheet of the sample job, on a tester 9 lbf high, and on one 5.5 % low.
    "invented-tester-zero.txt": Planted(springs=18, readings=54, with_job=(("tester-zero", None, None),)),
    "invented-tester-scale.txt": Planted(springs=18, readings=54, with_job=(("tester-scale", None, None),)),
    # The set of the sample job as it was last checked: nothing is planted.
    "invented-head-set-after-90-passes.csv": Planted(springs=18, readings=54),
}
OF_THE_JOB = ("invented-tester-zero.txt", "invented-tester-scale.txt", "invented-head-set-after-90-passes.csv")


def read(name: str, capsys: pytest.CaptureFixture[str], *options: str) -> tuple[int, dict[str, Any]]:
    code = main(["readings", str(PRINTOUTS / name), "--json", *options])
    return code, json.loads(capsys.readouterr().out)


def flagged(told: dict[str, Any]) -> list[tuple[str, str | None, int | None]]:
    return sorted((flag["kind"], flag["spring"], flag["row"]) for flag in told["flags"])


def test_every_sample_is_listed_here() -> None:
    assert {file.name for file in PRINTOUTS.iterdir()} == set(SAMPLE)
    assert all(name.startswith("invented-") for name in SAMPLE)


@pytest.mark.parametrize("name", SAMPLE)
def test_what_was_planted_is_found_and_nothing_else(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    planted = SAMPLE[name]
    code, told = read(name, capsys)
    assert len(told["springs"]) == planted.springs
    assert sum(len(spring["readings"]) for spring in told["springs"]) == planted.readings
    assert flagged(told) == sorted(planted.faults)
    assert [(problem["row"], problem["column"]) for problem in told["problems"]] == list(planted.bad_cells)
    assert [each["spring"] for each in told["missing"]] == list(planted.missing)
    assert all(column["sure"] for column in told["columns"])
    assert code == (2 if planted.bad_cells else 0)
    by_spring = {spring["id"]: spring["flags"] for spring in told["springs"] if spring["flags"]}
    assert by_spring == {spring: [kind] for kind, spring, _ in planted.faults}


@pytest.mark.parametrize("name", OF_THE_JOB)
def test_the_tester_is_found_off_against_the_sheet_of_the_job(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    code, told = read(name, capsys, "--job", str(JOB))
    assert (code, told["problems"]) == (0, [])
    assert flagged(told) == sorted(SAMPLE[name].with_job)


def test_the_zero_and_the_scale_are_told_with_their_size(capsys: pytest.CaptureFixture[str]) -> None:
    flags = [read(name, capsys, "--job", str(JOB))[1]["flags"][0] for name in OF_THE_JOB[:2]]
    assert flags[0]["value"] == pytest.approx(9 * 4.448, abs=1.5 * 4.448)
    assert flags[1]["value"] == pytest.approx(-0.055, abs=0.006)


@pytest.mark.parametrize(
    ("name", "sign", "unit"),
    [("invented-16-springs.csv", ",", 4.4482216152605), ("invented-32-federn.csv", ";", 1.0)],
)
def test_rows_and_columns_are_those_of_the_file(
    name: str, sign: str, unit: float, capsys: pytest.CaptureFixture[str]
) -> None:
    lines = (PRINTOUTS / name).read_text(encoding="utf-8-sig").splitlines()
    _, told = read(name, capsys)
    for spring in told["springs"]:
        for reading in spring["readings"]:
            cells = lines[reading["row"] - 1].split(sign)
            assert cells[0] == spring["id"]
            assert reading["load_N"] == pytest.approx(
                unit * float(cells[reading["column"] - 1].replace(",", ".")), rel=1e-12
            )
    (flag,) = told["flags"]
    assert lines[flag["row"] - 1].split(sign)[0] == flag["spring"]


def test_the_worn_set_against_the_new_one(capsys: pytest.CaptureFixture[str]) -> None:
    seat = {}
    for name in ("invented-drag-set-new.csv", "invented-drag-set-after-40-passes.csv"):
        springs = read(name, capsys)[1]["springs"]
        seat[name] = {spring["id"]: spring["readings"][0]["load_N"] for spring in springs}
    new, worn = seat.values()
    lost = {name: 1 - worn[name] / new[name] for name in new}
    assert max(lost, key=lambda name: lost[name]) == "4"
    assert lost["4"] == pytest.approx(0.14, abs=0.01)
    assert sorted(lost.values())[8] == pytest.approx(0.035, abs=0.006)
