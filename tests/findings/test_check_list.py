"""The check list before fitting: what it asks of each family, what the job's numbers say, whose initials it keeps."""

from __future__ import annotations

from typing import Any

import pytest

from loadbench.analysis import analyse
from loadbench.findings import judge
from loadbench.findings.check_items import CheckItem
from loadbench.findings.check_list import check_list
from loadbench.findings.check_texts import ITEMS
from loadbench.findings.rulebook import rule_book
from loadbench.job.kinds import FAMILIES
from loadbench.job.stated import mark_of
from loadbench.units import Style
from tests.findings.jobs import job_with

STYLE = Style.INCH_POUND


def items(changes: dict[str, Any] | None = None) -> dict[str, CheckItem]:
    return {item.id: item for item in check_list(analyse(job_with(changes)))}


def said(item: CheckItem) -> str:
    return "" if item.found is None else item.found.told(STYLE).replace("\u2009", " ")


@pytest.mark.parametrize(
    ("family", "asked", "not_asked"),
    [
        ("flat-tappet-solid", {"face-crown", "lobe-taper", "spins", "paste", "break-in-load", "again"},
         {"guide", "not-pumped", "first-start", "hot", "shim-seated"}),
        ("flat-tappet-hydraulic", {"face-crown", "break-in-run", "not-pumped", "first-start", "oil-band"},
         {"guide", "again", "roller-on-lobe"}),
        ("roller-hydraulic", {"guide", "roller-on-lobe", "needles-oiled", "not-pumped", "hot"},
         {"face-crown", "spins", "paste", "break-in-load", "bush-oiled", "again"}),
        ("roller-solid", {"guide", "needles-oiled", "again"}, {"not-pumped", "face-crown", "first-start"}),
        ("bucket", {"shim-seated", "spins", "again"}, {"pushrods", "oil-band", "guide", "way-round", "break-in-run"}),
    ],
)  # fmt: skip
def test_it_knows_the_family(family: str, asked: set[str], not_asked: set[str]) -> None:
    found = items({"follower.family": family})
    assert asked <= found.keys()
    assert not not_asked & found.keys()


@pytest.mark.parametrize("family", [None, *FAMILIES.words])
def test_the_makers_sheet_comes_first_and_washing_and_soaking_are_always_asked(family: str | None) -> None:
    found = list(items({"follower.family": family}))
    assert found[0] == "sheet"
    assert {"clean", "soak", "bore-clearance", "oil", "primed"} <= set(found)


def test_without_a_family_only_what_every_family_needs_is_asked() -> None:
    found = items({"follower.family": None})
    assert all(found.keys() <= items({"follower.family": family}).keys() for family in FAMILIES.words)


@pytest.mark.parametrize(("axle", "asked"), [("needle", {"needles-oiled"}), ("bushed", {"bush-oiled"}), (None, set())])
def test_the_axle_is_oiled_by_its_kind(axle: str | None, asked: set[str]) -> None:
    assert items({"follower.axle": axle}).keys() & {"needles-oiled", "bush-oiled"} == asked


@pytest.mark.parametrize(("way", "asked"), [("bottomed", True), ("minimal", False), (None, False)])
def test_bleeding_down_belongs_to_the_bottomed_way(way: str | None, asked: bool) -> None:
    assert ("bled" in items({"follower.preload.way": way})) is asked


def test_a_body_guided_follower_has_no_bar_to_clear() -> None:
    assert "guide" in items({"follower.guide": "tie-bar"})
    assert "guide" not in items({"follower.guide": "body"})


@pytest.mark.parametrize(("first", "asked"), [(True, True), (None, True), (False, False)])
def test_parts_that_have_run_are_not_run_in_again(first: bool | None, asked: bool) -> None:
    found = items({"follower.family": "flat-tappet-solid", "duty.first_running": first})
    assert ("break-in-load" in found, "break-in-run" in found) == (asked, asked)


def test_an_item_stands_as_its_rule_does() -> None:
    changes = {"follower.family": "flat-tappet-hydraulic", "duty.oil.phosphorus_ppm": 1100, "duty.first_running": False}
    item = items(changes)["oil"]
    assert (item.level, said(item)) == ("watch", "1100 ppm of phosphorus in the oil; a flat tappet asks for 1200 ppm.")
    assert "duty.oil.phosphorus_ppm" in item.about


@pytest.mark.parametrize(("load", "level"), [("280 lbf", "clear"), ("281 lbf", "watch")])
def test_the_first_run_is_on_reduced_load(load: str, level: str) -> None:
    readings = ({"height": "1.900 in", "load": "100 lbf"}, {"height": "1.300 in", "load": load})
    changes = {"follower.family": "flat-tappet-hydraulic", "duty.first_running": True, "spring.readings": readings}
    assert items(changes)["break-in-load"].level == level


def test_the_worst_of_several_findings_speaks() -> None:
    item = items({"valve_gear.retainer_to_seal": "0.620 in"})["turned"]
    assert item.level == "stop"
    assert said(item).startswith("The retainer clears the seal by 0.020 in")


def test_what_a_rule_waits_for_can_be_gone_to() -> None:
    item = items({"follower.guide": None, "follower.offset": None})["way-round"]
    assert item.level == "unknown"
    assert item.about[:2] == ("follower.offset", "follower.guide")


@pytest.mark.parametrize(("lobe", "level"), [("0.450 in", "clear"), ("0.449 in", "stop"), (None, None)])
def test_a_roller_must_not_be_wider_than_its_lobe(lobe: str | None, level: str | None) -> None:
    item = items({"follower.roller_width": "0.450 in", "cam.face_width": lobe})["roller-on-lobe"]
    assert item.level == level


def test_the_narrowest_lobe_speaks() -> None:
    changes = {"follower.roller_width": "0.450 in", "cam.face_width": "0.600 in"}
    item = items(changes | {"lines.exhaust.cam.face_width": "0.500 in"})["roller-on-lobe"]
    assert said(item) == "The roller is 0.450 in wide, the lobe 0.500 in."


@pytest.mark.parametrize(
    ("rule", "changes", "level"),
    [
        ("oil-band", {"bore.upper_end": "2.2 in", "oil_band.upper": "1.800 in"}, "clear"),
        ("oil-band", {"bore.upper_end": "2.2 in", "oil_band.upper": "1.815 in"}, "watch"),
        ("oil-band", {"bore.upper_end": "2.2 in", "oil_band.upper": "1.826 in"}, "stop"),
        ("bore-clearance", {"bore.diameter": "0.8437 in", "body_diameter": "0.8422 in"}, "clear"),
        ("bore-clearance", {"bore.diameter": "0.8437 in", "body_diameter": "0.8400 in"}, "watch"),
        ("guide", {"guide_clearance": "0.050 in"}, "clear"),
        ("guide", {"guide_clearance": "0 in"}, "stop"),
    ],
)
def test_the_body_in_its_bore(rule: str, changes: dict[str, Any], level: str) -> None:
    """0.600 in of valve lift at a ratio of 1.6 lifts the follower by 0.375 in."""
    band = {"oil_band.lower": "0.900 in", "bore.lower_end": "0.300 in"}
    fields = (band if rule == "oil-band" else {}) | changes
    assert items({f"follower.{name}": value for name, value in fields.items()})[rule].level == level


def test_where_the_job_says_nothing_no_level_is_told() -> None:
    item = items()["bore-clearance"]
    assert (item.level, item.found, item.about[0]) == (None, None, "follower.bore.diameter")


def test_a_crown_is_told_though_no_rule_judges_it() -> None:
    """R - sqrt(R^2 - r^2) for R 50 in and r 0.42 in is 0.00176 in."""
    changes = {"follower.family": "flat-tappet-solid", "follower.crown_radius": "50 in"}
    item = items(changes | {"follower.face_diameter": "0.840 in"})["face-crown"]
    assert item.level is None
    assert "falls by" in said(item)


def test_the_stated_sheet_and_oil_are_named_as_they_are() -> None:
    found = items({"follower.maker_limits.sheet": "{sheet} 7", "duty.oil.grade": "10W-40"})
    assert said(found["sheet"]) == "Stated: {sheet} 7."
    assert said(found["oil"]) == "Stated: 10W-40."


def test_initials_and_dates_are_those_kept_in_the_job() -> None:
    kept = ({"item": "soak", "initials": "AB", "date": "2026-03-14"}, {"item": "gone", "initials": "X"})
    found = items({"check_list": kept})
    assert (found["soak"].initials, found["soak"].date) == ("AB", "2026-03-14")
    assert (found["clean"].initials, "gone" in found) == ("", False)


def test_the_shops_limits_hold_where_its_verdicts_are_given() -> None:
    analysis = analyse(job_with({"valve_gear.retainer_to_seal": "0.670 in"}))
    shop = job_with({"rules": {"retainer-margin-min": {"watch": "0.080 in"}}}).rules
    levels = [
        next(item.level for item in check_list(analysis, each) if item.id == "turned")
        for each in (None, judge(analysis, shop))
    ]
    assert levels == ["clear", "watch"]


def test_every_rule_and_every_field_it_names_exists() -> None:
    rules = {rule for item in ITEMS for rule in item.rules}
    known = set(rule_book(None, {}, None, {}).rules)
    assert rules <= known
    for field in (field for item in ITEMS for field in item.about if field != "valves"):
        mark_of(field)


def test_ids_are_kept_apart_and_sentences_end() -> None:
    assert len({item.id for item in ITEMS}) == len(ITEMS)
    assert all(item.sentence.endswith(".") and "!" not in item.sentence for item in ITEMS)
