"""`loadbench fit`: the plan as data and as text, its exit codes, and the sample it is shown on."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

import loadbench
from loadbench.cli import main
from tests.assembly.heads import INCH, POUND, head

SAMPLE = Path(loadbench.__file__).parent.parent / "samples" / "printout-and-fit.loadbench.json"
SPRINGS = [("A", 150.0, 400.0), ("B", 156.0, 400.0), ("C", 147.0, 400.0)]
KEYS = {
    "feasible",
    "proved",
    "plan",
    "seat_spread_N",
    "target_deviation_N",
    "shims_used",
    "binding",
    "frees",
    "spare",
}
PLAN_KEYS = {"valve", "spring", "shims_m", "installed_height_m", "seat_load_N", "open_load_N", "bind_margin_m"}


def written(folder: Path, tree: dict[str, Any]) -> Path:
    path = folder / "head.loadbench.json"
    path.write_text(json.dumps(tree), encoding="utf-8")
    return path


def fitted(path: Path, capsys: pytest.CaptureFixture[str]) -> tuple[int, dict[str, Any]]:
    code = main(["fit", str(path), "--json"])
    return code, json.loads(capsys.readouterr().out)


def plain(path: Path, capsys: pytest.CaptureFixture[str]) -> tuple[int, str]:
    code = main(["fit", str(path)])
    said = capsys.readouterr()
    return code, (said.out + said.err).replace("\u2009", " ")


def test_a_plan_exits_with_0_and_stands_in_si(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    # 400 lbf/in: a 0.015 in shim is 6 lbf. A on 1.815 in carries 144 lbf, with one 150; B without carries 150.
    code, told = fitted(written(tmp_path, head(SPRINGS[:2], [1.815, 1.815])), capsys)
    assert code == 0
    assert set(told) >= KEYS
    assert (told["feasible"], told["proved"], told["shims_used"], told["spare"]) == (True, True, 1, [])
    assert (told["binding"], told["frees"]) == ([], [])
    assert told["seat_spread_N"] == pytest.approx(0, abs=1e-6)
    plan = {each["spring"]: each for each in told["plan"]}
    assert all(set(each) >= PLAN_KEYS for each in told["plan"])
    assert plan["A"]["shims_m"] == pytest.approx([0.015 * INCH])
    assert plan["A"]["installed_height_m"] == pytest.approx(1.800 * INCH)
    assert plan["B"]["seat_load_N"] == pytest.approx(150 * POUND)
    assert plan["B"]["open_load_N"] == pytest.approx(350 * POUND)
    assert plan["B"]["bind_margin_m"] == pytest.approx((1.815 - 0.5 - 1.1) * INCH)
    assert [each["valve"] for each in told["plan"]] == ["1", "2"]


def test_no_plan_exits_with_1_and_says_which_limit_and_what_would_free_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    tree = head(SPRINGS, [1.810] * 3, targets={"seat_load": "200 lbf", "tolerance_percent": 5})
    path = written(tmp_path, tree)
    code, told = fitted(path, capsys)
    assert code == 1
    assert (told["feasible"], told["plan"], told["seat_spread_N"]) == (False, [], None)
    assert [bar["limit"] for bar in told["binding"]] == ["seat-tolerance"]
    assert {"kind", "amount", "sentence"} <= set(told["frees"][0])
    code, text = plain(path, capsys)
    assert code == 1
    assert "No plan holds every limit." in text
    assert told["frees"][0]["sentence"].replace("\u2009", " ") in text


def test_too_few_springs_exit_with_1(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, told = fitted(written(tmp_path, head(SPRINGS, [1.81] * 5)), capsys)
    assert code == 1
    assert told["frees"][0] | {"kind": "springs", "amount": 2} == told["frees"][0]


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"valves": []}, "valves"),
        ({"springs": []}, "springs"),
        ({"valves": [{"id": "1", "bare_height": "tall"}]}, "valves.0.bare_height"),
        ({"valve_gear": {}}, None),
        ({"shims_in_stock": ["thin"]}, "shims_in_stock.0"),
        ({"targets": {"seat_load": "some"}}, "targets.seat_load"),
        ({"spring": {"bind_height": "low"}}, "spring.bind_height"),
    ],
    ids=["valves", "springs", "a height", "lift", "a shim", "a target", "bind"],
)
def test_bad_input_exits_with_2_and_names_it(
    change: dict[str, Any], field: str | None, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = written(tmp_path, head(SPRINGS, [1.81, 1.82]) | change)
    code, told = fitted(path, capsys)
    assert code == 2
    assert told["problems"]
    assert field is None or field in {problem["field"] for problem in told["problems"]}
    code, text = plain(path, capsys)
    assert code == 2
    assert "Traceback" not in text
    assert told["problems"][0]["what"].lower() in text.lower()
    assert "valves.0" not in text  # entries are named as the window labels them


@pytest.mark.parametrize("content", ["", "{", "[]", '{"format": "other"}'])
def test_a_refused_job_exits_with_2(content: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "bad.loadbench.json"
    path.write_text(content, encoding="utf-8")
    code, told = fitted(path, capsys)
    assert (code, set(told)) == (2, {"problems"})


def test_the_sample_head_is_fitted(capsys: pytest.CaptureFixture[str]) -> None:
    code, told = fitted(SAMPLE, capsys)
    assert code == 0
    job = json.loads(SAMPLE.read_text(encoding="utf-8"))
    heights = {valve["id"]: float(valve["bare_height"].removesuffix(" in")) for valve in job["valves"]}
    plan = told["plan"]
    assert {each["valve"] for each in plan} == set(heights)
    assert len({each["spring"] for each in plan}) == 16
    assert set(told["spare"]) | {each["spring"] for each in plan} == {spring["id"] for spring in job["springs"]}
    for each in plan:
        assert each["installed_height_m"] / INCH == pytest.approx(heights[each["valve"]] - sum(each["shims_m"]) / INCH)
        assert len(each["shims_m"]) <= 3
        assert sum(each["shims_m"]) <= 0.090 * INCH + 1e-9
        assert each["seat_load_N"] == pytest.approx(140 * POUND, rel=0.05 + 1e-9)
        assert each["bind_margin_m"] > 0.060 * INCH
    loads = [each["seat_load_N"] for each in plan]
    assert told["seat_spread_N"] == pytest.approx(max(loads) - min(loads))
    assert told["seat_spread_N"] < 2 * POUND
    before = [each["seat_load_before_N"] for each in plan if each["seat_load_before_N"]]
    assert max(before) - min(before) > 10 * POUND
    locked = next(each for each in plan if each["valve"] == "3E")
    assert (locked["spring"], locked["locked"]) == ("6", True)


def test_the_plan_is_told_valve_by_valve(capsys: pytest.CaptureFixture[str]) -> None:
    code, text = plain(SAMPLE, capsys)
    assert code == 0
    for words in ("3E (locked)", "0.060 in", "Spread of seat load 1 lbf", "proved", "Shims to fetch: ", "left over: "):
        assert words in text
