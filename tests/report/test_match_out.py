"""The match as it leaves the house without a window: JSON and plain text, by function and by command."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from loadbench import cli
from loadbench.findings import judge
from loadbench.findings.match.match import match_of, with_match
from loadbench.findings.match.result import KIT_WORDS, Criterion, Kit
from loadbench.report.json_out import as_json
from loadbench.report.plain import as_text
from tests.findings.match.tried import BUCKETS, DRAG, SAMPLES, SHORT, sample

if TYPE_CHECKING:
    import pytest

ASKED = {"family", "criterion", "level", "value", "limit", "source", "sentence"}


def test_the_json_has_a_row_for_each_family_and_criterion() -> None:
    analysis = sample(SHORT)
    match = match_of(analysis)
    family = as_json(analysis, with_match(judge(analysis), match))["advice"]["family"]
    assert (family["choice"], family["runner_up"]) == ("roller-hydraulic-short", "roller-hydraulic-standard")
    assert family["stated"] == "roller-hydraulic-short"
    assert "short-travel-max" in family["because"]
    assert family["reason"].startswith("Hydraulic roller, short travel, as stated")
    rows = family["match"]
    assert [(row["family"], row["criterion"]) for row in rows] == [(str(k), str(c)) for k in Kit for c in Criterion]
    for row, cell in zip(rows, match.cells, strict=True):
        assert row.keys() >= ASKED
        assert row["level"] == (None if cell.level is None else cell.level.value)
        assert row["value"] == cell.value
        assert row["limit"] == cell.limit
        assert (row["unit"] is None) is (cell.value_kind is None)


def test_a_level_is_null_where_a_criterion_does_not_concern_the_family() -> None:
    analysis = sample(DRAG)
    rows = as_json(analysis, with_match(judge(analysis), match_of(analysis)))["advice"]["family"]["match"]
    levels = {(row["family"], row["criterion"]): row["level"] for row in rows}
    assert levels["roller-solid-bushed", "travel"] is None
    assert levels["flat-tappet-solid", "axle-life"] is None
    assert levels["roller-solid-needle", "open-load"] == "stop"
    assert levels["roller-solid-bushed", "open-load"] == "clear"


def test_trade_and_physics_are_both_in_the_json_where_they_disagree() -> None:
    analysis = sample(DRAG)
    rows = as_json(analysis, with_match(judge(analysis), match_of(analysis)))["advice"]["family"]["match"]
    axle = next(row for row in rows if (row["family"], row["criterion"]) == ("roller-solid-bushed", "axle-life"))
    assert axle["disagree"] is True
    assert axle["physics"]
    assert axle["practice"]
    assert axle["physics"] != axle["practice"]


def test_the_terminal_has_a_line_for_each_family() -> None:
    analysis = sample(SHORT)
    text = as_text(analysis, with_match(judge(analysis), match_of(analysis)))
    lines = text.split("Which follower: ")[1].split("\n\n")[0].splitlines()
    assert lines[0].startswith("Hydraulic roller, short travel, as stated: nothing stops it.")
    assert lines[1].startswith("  Next best: Hydraulic roller, standard travel. It would take: Speed limit down to")
    assert [next(kit for kit, words in KIT_WORDS.items() if words in line) for line in lines[2:]] == list(Kit)
    told = dict(zip(Kit, lines[2:], strict=True))
    assert told[Kit.ROLLER_HYDRAULIC_SHORT] == (
        "  WATCH    Hydraulic roller, short travel (stated): watch by axle; trade and physics disagree on axle"
    )
    assert told[Kit.FLAT_SOLID].startswith("  STOP     Flat tappet, solid: stop by open load, duty; watch by ")
    assert "trade and physics disagree on speed" in told[Kit.ROLLER_HYDRAULIC_STANDARD]


def test_without_a_match_the_terminal_says_nothing_of_it() -> None:
    analysis = sample(SHORT)
    assert "Which follower" not in as_text(analysis, judge(analysis))


def test_a_persons_braces_are_text_in_every_cell() -> None:
    analysis = sample(BUCKETS, {"cam.material": "{wood}", "follower.material": "{brass}"})
    text = as_text(analysis, with_match(judge(analysis), match_of(analysis)))
    assert "{brass}" in text


def test_check_always_makes_the_match(capsys: pytest.CaptureFixture[str]) -> None:
    cli.main(["check", str(SAMPLES / f"{DRAG}.loadbench.json"), "--json"])
    family = json.loads(capsys.readouterr().out)["advice"]["family"]
    assert family["choice"] == "roller-solid-bushed"
    assert len(family["match"]) == len(Kit) * len(Criterion)
