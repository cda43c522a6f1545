"""What is recommended, why, and what would have to change for the others."""

from __future__ import annotations

from dataclasses import replace

import pytest

from loadbench.findings import judge
from loadbench.findings.finding import Amount, Level, Sentence
from loadbench.findings.match.match import seated, with_match
from loadbench.findings.match.recommend import Judged, by_advice, ranked
from loadbench.findings.match.result import Cell, Criterion, Kit, Match
from loadbench.findings.match.sayings import joined
from loadbench.report.plain import as_text
from loadbench.units import Kind, Style
from tests.findings.jobs import loaded
from tests.findings.match.tried import BUCKETS, DRAG, SHORT, STREET, WHEEL, Changes, base, matched, sample


@pytest.mark.parametrize(
    ("name", "choice", "runner_up", "words"),
    [
        (STREET, "flat-tappet-hydraulic", "flat-tappet-solid", ("251", "341", "oil additive")),
        (SHORT, "roller-hydraulic-short", "roller-hydraulic-standard", ("399", "500", "7000", "8000")),
        (DRAG, "roller-solid-bushed", None, ("1055", "1000", "needles are past their load")),
        (WHEEL, "roller-solid-needle", "roller-solid-bushed", ("under 850", "needles carry it", "axle")),
        (BUCKETS, "bucket", None, ("as stated",)),
    ],
)
def test_the_samples_get_what_a_builder_would_say(
    name: str, choice: str, runner_up: str | None, words: tuple[str, ...]
) -> None:
    match = matched(sample(name))
    assert (match.family.choice, match.family.runner_up) == (choice, runner_up)
    reason = match.family.reason.told(Style.INCH_POUND).replace("\u2009", " ")
    for word in words:
        assert word in reason
    assert "as stated: nothing stops it." in reason
    assert match.family.because
    assert Kit(choice) not in match.changes
    assert set(match.changes) == set(Kit) - {Kit(choice)}


@pytest.mark.parametrize(
    ("open_lbf", "speed", "choice"),
    [
        (380, "6000 rpm", "roller-hydraulic-standard"),
        (480, "7000 rpm", "roller-hydraulic-short"),
        (700, "7000 rpm", "roller-solid-needle"),
        (1100, "7000 rpm", "roller-solid-bushed"),
    ],
)
def test_more_load_takes_another_family(open_lbf: float, speed: str, choice: str) -> None:
    """On a roller camshaft whose lobes have no word on lash; nothing is stated of the follower."""
    changes = loaded(open_lbf) | {
        "follower.family": None, "follower.travel": None, "follower.axle": None, "follower.oil_feed": "pressure",
        "cam.kind": "roller", "duty.use": "drag", "duty.speed_limit": speed, "valve_gear.head": "iron",
        "valve_gear.block": "iron", "duty.idle_share": 0.1, "valve_gear.measured_net_lift": "0.600 in",
    }  # fmt: skip
    assert matched(base(changes)).family.choice == choice


def test_a_flat_camshaft_wants_flat_tappets_and_another_one_is_the_change() -> None:
    match = matched(sample(STREET))
    assert [each.template for each in match.changes[Kit.ROLLER_HYDRAULIC_STANDARD]] == [
        "Another camshaft: a cam ground for roller followers."
    ]
    assert [each.template for each in match.changes[Kit.BUCKET]] == [
        "Another cylinder head, with its cams over buckets."
    ]


def changes_told(kit: Kit, changes: Changes, name: str | None = None) -> list[str]:
    match = matched(base(changes) if name is None else sample(name, changes))
    return [each.told(Style.INCH_POUND).replace("\u2009", " ") for each in match.changes[kit]]


@pytest.mark.parametrize(
    ("kit", "name", "changes", "expected"),
    [
        (Kit.FLAT_HYDRAULIC, None, {}, "Spring open load down to 360 lbf, from 390 lbf."),
        (Kit.FLAT_HYDRAULIC, None, {"valve_gear.rocker_ratio": 1.7}, "Spring open load down to 339 lbf, from 390 lbf."),
        (Kit.ROLLER_HYDRAULIC_STANDARD, None, loaded(480), "Spring open load down to 475 lbf, from 480 lbf."),
        (Kit.ROLLER_HYDRAULIC_SHORT, None, loaded(600), "Spring open load down to 575 lbf, from 600 lbf."),
        (Kit.ROLLER_SOLID_NEEDLE, DRAG, {}, "Spring open load under 1000 lbf, from 1055 lbf, or a bushed axle."),
        (
            Kit.ROLLER_SOLID_NEEDLE,
            None,
            loaded(900) | {"duty.use": "circuit"},
            "Spring open load under 850 lbf, from 900 lbf, or the oil feed stated, or a bushed axle.",
        ),
        (
            Kit.ROLLER_SOLID_BUSHED,
            None,
            loaded(900) | {"follower.oil_feed": "splash"},
            "Pressure oil to the axle.",
        ),
        (
            Kit.ROLLER_HYDRAULIC_STANDARD,
            None,
            {"duty.speed_limit": "7000 rpm"},
            "Speed limit down to 6500 rpm, from 7000 rpm.",
        ),
        (
            Kit.ROLLER_HYDRAULIC_STANDARD,
            SHORT,
            {},
            "A plunger set no deeper than 0.034 in, or 0.010 in more room to the coils' bind.",
        ),
        (
            Kit.ROLLER_HYDRAULIC_STANDARD,
            SHORT,
            {"spring.coils.0.bind_height": "1.290 in", "spring.coils.1.bind_height": "1.290 in"},
            "more room to the coils' bind: more installed height or less lift.",
        ),
        (Kit.FLAT_SOLID, STREET, {}, "Oil with an anti-wear additive: 1200 ppm of phosphorus or more."),
        (Kit.FLAT_SOLID, STREET, {}, "Another camshaft: lobes for solid followers, or little lash."),
        (Kit.ROLLER_HYDRAULIC_SHORT, DRAG, {}, "Another camshaft: lobes for hydraulic followers."),
        (Kit.FLAT_SOLID, STREET, {}, "Contact pressure down to 110.2 kpsi, from 188.3 kpsi: less load"),
        (Kit.ROLLER_SOLID_NEEDLE, SHORT, {"duty.use": "street"}, "Oil to the axle at idle, and an inspection interval"),
        (Kit.ROLLER_SOLID_NEEDLE, SHORT, {}, "A lash check at an interval that is kept, or a hydraulic follower."),
        (Kit.ROLLER_SOLID_NEEDLE, SHORT, {}, "Lash set hot, or cold with the difference."),
        (
            Kit.FLAT_SOLID,
            None,
            loaded(300) | {"cam.kind": "flat", "cam.lash_kind": "hydraulic"},
            "Spring open load down to 280 lbf for the first run, from 300 lbf.",
        ),
        (
            Kit.ROLLER_HYDRAULIC_STANDARD,
            SHORT,
            {"follower.material": "steel", "cam.material": "iron"},
            "A follower of a material that the camshaft's maker names for it.",
        ),
        (Kit.FLAT_HYDRAULIC, BUCKETS, {}, "Another cylinder head, with rockers."),
    ],
)
def test_what_would_have_to_change(kit: Kit, name: str | None, changes: Changes, expected: str) -> None:
    told = changes_told(kit, changes, name)
    assert any(expected in each for each in told), told


def test_a_speed_past_the_float_is_told_with_the_speed_that_would_do() -> None:
    told = changes_told(Kit.ROLLER_HYDRAULIC_STANDARD, {"duty.speed_limit": "8200 rpm"}, SHORT)
    assert any("or more load, less mass or a gentler lobe." in each for each in told), told


def test_the_makers_own_limits_are_changes_of_the_stated_follower() -> None:
    """Where nothing suits every follower has its changes, the stated one with its maker's."""
    stopped = {"follower.maker_limits.open_load_max": "200 lbf", "cam.kind": "flat", "duty.speed_limit": "7000 rpm",
               "follower.maker_limits.speed_max": "5000 rpm"}  # fmt: skip
    told = changes_told(Kit.ROLLER_HYDRAULIC_SHORT, stopped)
    assert "Spring open load down to 200 lbf, as the follower's maker says." in told
    assert "Speed limit down to 5000 rpm, as the follower's maker says." in told


def test_no_family_suits_and_the_nearest_is_named_with_its_changes() -> None:
    match = matched(sample(DRAG, {"cam.kind": "flat"}))
    assert (match.family.choice, match.family.runner_up) == (None, None)
    reason = match.family.reason.told(Style.INCH_POUND)
    assert reason.startswith("No family suits as it stands. Nearest is the solid roller, bushed axle.")
    assert "Another camshaft" in reason
    assert set(match.changes) == set(Kit)


def test_the_stated_follower_is_told_what_stops_it() -> None:
    match = matched(sample(DRAG, {"follower.axle": "needle"}))
    assert match.family.choice == "roller-solid-bushed"
    reason = match.family.reason.told(Style.INCH_POUND)
    assert "The stated solid roller, needle axle is stopped by open load and axle." in reason
    assert "as stated" not in reason


def test_the_stated_follower_is_told_where_it_is_behind() -> None:
    changes = loaded(390) | {"follower.travel": "standard", "duty.speed_limit": "7000 rpm", "cam.kind": "roller",
                             "follower.preload.depth": "0.090 in", "follower.plunger.travel": "0.200 in"}  # fmt: skip
    match = matched(base(changes))
    assert match.family.choice == "roller-hydraulic-short"
    assert "The stated hydraulic roller, standard travel is behind in speed and plunger travel." in (
        match.family.reason.told(Style.INCH_POUND)
    )


# The advice


def reason(match: Match) -> str:
    return match.family.reason.told(Style.INCH_POUND).replace("\u2009", " ")


@pytest.mark.parametrize("travel", ["standard", "short", None])
def test_the_advised_travel_is_not_behind_for_want_of_data(travel: str | None) -> None:
    """Nothing is stated of the stated follower's setting; of the other it is taken as is usual."""
    duty = {"duty.speed_limit": "6200 rpm", "cam.kind": "roller", "follower.travel": travel}
    analysis = base(loaded(320) | duty)
    match = matched(analysis)
    assert judge(analysis).advice.travel.choice == "standard"
    assert (match.family.choice, match.family.runner_up) == ("roller-hydraulic-standard", "roller-hydraulic-short")
    said = reason(match)
    assert "Not known yet: speed, contact of lobe and follower" in said
    assert "behind" not in said
    assert ("The stated hydraulic roller, short travel would serve too, by what is known." in said) is (
        travel == "short"
    )
    assert ("Its travel is not stated." in said) is (travel is None)


def test_the_printout_sample_has_one_answer() -> None:
    analysis = sample("printout-and-fit")
    assert judge(analysis).advice.travel.choice == "standard"
    assert matched(analysis).family.choice == "roller-hydraulic-standard"


SOLID = {"follower.family": "roller-solid", "follower.travel": None, "valve_gear.lash": "0.016 in",
         "valve_gear.measured_net_lift": "0.600 in", "cam.kind": "roller"}  # fmt: skip


@pytest.mark.parametrize("axle", [None, "needle", "bushed"])
def test_an_open_question_of_the_axle_is_one_in_the_headline_too(axle: str | None) -> None:
    match = matched(base(SOLID | loaded(941) | {"follower.axle": axle}))
    said = reason(match)
    assert "no rule stops it, but its axle is an open question. 941 lbf open is between 850 lbf and 1000 lbf" in said
    assert "nothing stops it" not in said


def test_an_axle_that_the_trade_would_not_take_is_told_as_such() -> None:
    match = matched(base(SOLID | loaded(941) | {"follower.axle": "needle", "follower.oil_feed": "splash"}))
    assert "no rule stops it, but the trade would take neither axle. 941 lbf open is past 850 lbf" in reason(match)


def test_an_advised_travel_that_a_watch_speaks_against_is_told_with_the_watch() -> None:
    """Standard travel set as deep as is usual would pump up into bind."""
    tight = loaded(380) | {"duty.speed_limit": "6200 rpm", "cam.kind": "roller", "spring.bind_height": "1.220 in",
                           "follower.preload.depth": "0.012 in"}  # fmt: skip
    match = matched(base(tight))
    assert match.family.choice == "roller-hydraulic-short"
    assert "The trade would take the standard travel; here plunger travel speaks against it." in reason(match)


def test_what_is_not_stated_is_never_called_stated() -> None:
    for changes in (loaded(637) | {"follower.travel": None}, SOLID | loaded(1202) | {"follower.axle": None}):
        analysis = base(changes | {"cam.kind": "roller"})
        text = as_text(analysis, with_match(judge(analysis), matched(analysis)))
        assert "(stated)" not in text
        assert "as stated" not in text.split("Which follower")[1].split("Findings")[0]
    told = reason(matched(base(loaded(637) | {"follower.travel": None, "cam.kind": "roller"})))
    for word in ("standard", "short"):
        assert f"Hydraulic roller, {word} travel, of the stated family, is stopped by open load." in told


# The order


SEAT = seated(Kit.ROLLER_HYDRAULIC_SHORT, base())
"""Any follower that has a place in the head."""


def judged(kit: Kit, **levels: str) -> Judged:
    """A follower that is clear but for some criteria."""
    cells = {each: Cell(kit=kit, criterion=each, level=Level.CLEAR, sentence=Sentence(".")) for each in Criterion}
    for name, word in levels.items():
        criterion = Criterion[name.upper()]
        cells[criterion] = replace(cells[criterion], level=Level(word))
    return Judged(kit=kit, cells=cells, said={}, seat=SEAT)


def first(*each: Judged, stated: Kit | None = None, cam_known: bool = True) -> Kit:
    return ranked(each, () if stated is None else (stated,), cam_known=cam_known)[0].kit


STANDARD, BRIEF, NEEDLE, FLAT = (
    Kit.ROLLER_HYDRAULIC_STANDARD, Kit.ROLLER_HYDRAULIC_SHORT, Kit.ROLLER_SOLID_NEEDLE, Kit.FLAT_SOLID,
)  # fmt: skip


def test_a_stop_outweighs_any_watches() -> None:
    watches = dict.fromkeys(("speed", "contact", "travel", "duty", "oil_to_axle"), "watch")
    assert first(judged(STANDARD, open_load="stop"), judged(BRIEF, **watches)) is BRIEF


def test_a_watch_outweighs_two_unknowns_but_not_three() -> None:
    watch = judged(STANDARD, speed="watch")
    assert first(watch, judged(BRIEF, speed="unknown", contact="unknown")) is BRIEF
    assert first(watch, judged(BRIEF, speed="unknown", contact="unknown", duty="unknown")) is STANDARD


def test_a_clear_that_waits_for_physics_counts_as_unknown() -> None:
    cells = dict(judged(STANDARD).cells)
    cells[Criterion.AXLE_LIFE] = replace(cells[Criterion.AXLE_LIFE], missing=("follower.needles.count",))
    doubtful = replace(judged(STANDARD), cells=cells)
    assert doubtful.unknown() == (Criterion.AXLE_LIFE,)
    assert first(doubtful, judged(BRIEF)) is BRIEF


def test_what_is_there_stays_unless_another_is_better_by_more_than_a_doubt() -> None:
    assert first(judged(STANDARD), judged(BRIEF), stated=BRIEF) is BRIEF
    assert first(judged(STANDARD), judged(BRIEF, speed="unknown"), stated=BRIEF) is BRIEF
    unmeasured = dict.fromkeys(("speed", "contact", "travel", "duty", "oil_to_axle"), "unknown")
    assert first(judged(STANDARD), judged(BRIEF, **unmeasured), stated=BRIEF) is BRIEF
    assert first(judged(STANDARD), judged(BRIEF, speed="watch"), stated=BRIEF) is STANDARD


def test_where_the_camshaft_is_not_stated_the_stated_follower_tells_of_it() -> None:
    roller, flat = judged(NEEDLE, speed="watch", contact="watch"), judged(FLAT)
    assert first(roller, flat, stated=NEEDLE, cam_known=True) is FLAT
    assert first(judged(NEEDLE, speed="watch"), flat, stated=NEEDLE, cam_known=False) is NEEDLE


def test_what_is_advised_comes_first_unless_a_stop_or_a_watch_speaks_against_it() -> None:
    """At 390 lbf the advice is standard travel."""
    short = judged(BRIEF)
    for levels, wanted in (
        ({}, STANDARD),
        (dict.fromkeys(("speed", "contact", "travel", "duty", "oil_to_axle"), "unknown"), STANDARD),
        ({"travel": "watch"}, BRIEF),
        ({"travel": "stop"}, BRIEF),
    ):
        assert by_advice([short, judged(NEEDLE), judged(STANDARD, **levels)])[0].kit is wanted
    both = [judged(BRIEF, travel="watch"), judged(STANDARD, speed="watch", contact="unknown")]
    assert by_advice(both)[0].kit is STANDARD


def test_another_head_is_the_last_that_anybody_wants() -> None:
    elsewhere = replace(judged(Kit.BUCKET, duty="stop"), seat=None)
    stopped = judged(FLAT, open_load="stop", speed="stop", contact="stop", duty="stop")
    assert first(elsewhere, stopped) is FLAT


# Sentences put together


def test_amounts_of_the_same_name_stay_apart() -> None:
    one, other = (Sentence("It has {load}.", {"load": Amount(value, Kind.FORCE)}) for value in (445.0, 890.0))
    told = joined(one, Sentence("Braces {{stay}}."), other).told(Style.METRIC).replace("\u2009", " ")
    assert told == "It has 445 N. Braces {stay}. It has 890 N."
