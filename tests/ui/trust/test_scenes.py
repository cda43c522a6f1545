"""What each picture shows of a set."""

from __future__ import annotations

from dataclasses import replace

import pytest

from loadbench.findings.set_check.result import SetCheck
from loadbench.job.edits import replaced_all
from loadbench.units import Kind, Style, to_display
from tests.ui.trust.sets import FAULTS, FOUR, TALL, TEN, a_set, checked
from ui.trust.pictures import pictures
from ui.trust.scene import Scene, Sign

IP, METRIC = Style.INCH_POUND, Style.METRIC
BUILD = {picture.name: picture.build for picture in pictures()}


def shown(name: str, check: SetCheck, style: Style = IP) -> Scene:
    return BUILD[name](check, style)


@pytest.fixture(scope="module")
def faulty() -> SetCheck:
    return checked(a_set(faults=FAULTS))


def test_loads_stand_off_the_middle_of_their_window(faulty: SetCheck) -> None:
    scene = shown("loads", faulty)
    assert [place.name for place in scene.places] == ["1.900", "1.300"]
    assert [place.note for place in scene.places] == ["wanted 150", "wanted 402"]
    tall = [dot for dot in scene.dots if dot.place == 0]
    strip = faulty.strips[0]
    for dot in tall:
        load = next(each.load for each in strip.loads if each.spring == dot.spring)
        assert dot.y == pytest.approx(to_display(load, Kind.FORCE, IP) - 150, abs=1e-9)
    assert {dot.spring for dot in tall if dot.sign is Sign.OUTSIDE} == {"S07", "S12"}
    assert {dot.spring for dot in tall if dot.doubted} == {flag.spring for flag in faulty.flags}
    assert (scene.bands[0].low, scene.bands[0].high) == pytest.approx((-8, 8))
    assert (scene.bands[1].low, scene.bands[1].high) == pytest.approx((-20, 20))


def test_a_mark_reads_out_as_a_builder_would_say_it(faulty: SetCheck) -> None:
    scene = shown("loads", faulty)
    low = next(dot for dot in scene.dots if dot.spring == "S07" and dot.place == 0)
    told = scene.read(low).replace("\u2009", " ")
    assert told.startswith("S07: 13")
    assert "lbf at 1.900 in, " in told
    assert told.endswith(" lbf low; doubted.")
    fine = next(dot for dot in scene.dots if dot.spring == "S01" and dot.place == 0)
    assert scene.read(fine).endswith("within its window.")


def test_one_wild_height_does_not_press_the_others_flat() -> None:
    scene = shown("loads", checked(a_set(faults={(3, TALL): 200.0})))
    assert scene.y_range[1] < 40
    assert max(dot.y for dot in scene.dots) > 190


def test_without_a_window_the_means_are_the_middle() -> None:
    scene = shown("loads", checked(a_set(spec=False)))
    assert scene.bands == ()
    assert all(place.note.startswith("mean ") for place in scene.places)
    assert sum(dot.y for dot in scene.dots if dot.place == 1) == pytest.approx(0, abs=1e-6)
    assert {dot.sign for dot in scene.dots} == {Sign.PLAIN}
    assert "mean" in scene.read(scene.dots[0])


def test_a_nest_has_a_column_for_each_part_and_height() -> None:
    scene = shown("loads", checked(a_set(parts={"outer": 0.7, "inner": 0.3, "pair": 1.0})))
    assert [(place.part, place.name.split("\n")[0]) for place in scene.places] == [
        ("", "1.900"),
        ("", "1.300"),
        ("inner", "1.900"),
        ("inner", "1.300"),
        ("outer", "1.900"),
        ("outer", "1.300"),
    ]
    assert [band.left for band in scene.bands] == [-0.5, 0.5]  # the spec is of the whole


def test_metric_shows_other_numbers_of_the_same_loads(faulty: SetCheck) -> None:
    inch, metric = shown("loads", faulty), shown("loads", faulty, METRIC)
    assert metric.dots[0].y == pytest.approx(inch.dots[0].y * 4.4482216, rel=1e-6)
    assert metric.up.endswith("N")
    assert metric.places[0].name == "48.26"


def test_rate_stands_against_load_with_its_uncertainty() -> None:
    stated = {"tester.load_accuracy_percent": 0.5, "tester.load_repeatability": "0.5 lbf"}
    check = checked(a_set(heights=FOUR, more=stated))
    scene = shown("rates", check)
    spring = check.springs[2]
    dot = next(each for each in scene.dots if each.spring == spring.id)
    assert spring.rate is not None
    assert dot.y == pytest.approx(to_display(spring.rate, Kind.RATE, IP))
    assert dot.tall == pytest.approx(to_display(spring.rate_expanded or 0.0, Kind.RATE, IP))
    assert dot.wide is not None
    assert "±" in scene.read(dot)
    assert [(band.low, band.high) for band in scene.bands] == [pytest.approx((142, 158))]
    assert shown("rates", checked(a_set())).dots[0].tall is None


def test_residuals_are_those_of_the_check_and_two_heights_have_none() -> None:
    check = checked(a_set(heights=FOUR))
    scene = shown("residuals", check)
    assert len(scene.dots) == 16 * 4
    offs = sorted(to_display(each.off, Kind.FORCE, IP) for spring in check.springs for each in spring.residuals)
    assert sorted(dot.y for dot in scene.dots) == pytest.approx(offs)
    assert scene.joined
    two = shown("residuals", checked(a_set()))
    assert "three heights" in two.empty
    assert two.dots == ()
    repeated = shown("residuals", checked(a_set(repeats=2)))
    assert len(repeated.dots) == 16 * 4
    assert not repeated.joined  # a spring has two marks in one column


def test_losses_are_ranked_with_the_rule_books_lines() -> None:
    check = checked(a_set(losses=(0.0, 0.07), faults={(4, TALL): -10.0}))
    scene = shown("lost", check)
    heights = [dot.y for dot in scene.dots]
    assert heights == sorted(heights, reverse=True)
    assert scene.dots[0].spring == "S05"
    assert scene.dots[0].sign is Sign.OUTSIDE  # 7 % and 10 lbf of 150
    assert scene.dots[-1].sign is Sign.WATCHED
    assert [stroke.words for stroke in scene.strokes if stroke.words] == [
        "watch over 5.0\u2009%",
        "stop over 10.0\u2009%",
    ]
    assert "the earliest check" in scene.up
    assert "at the earliest check" in scene.read(scene.dots[0])


def test_losses_against_the_sheet_where_there_is_no_earlier_check() -> None:
    scene = shown("lost", checked(a_set()))
    assert "the sheet" in scene.up
    nothing = shown("lost", checked(a_set(spec=False)))
    assert "sheet" in nothing.empty


def test_before_and_after_join_each_spring() -> None:
    check = checked(a_set(losses=(0.0, 0.02, 0.13)))
    scene = shown("before", check)
    assert [place.name for place in scene.places] == ["2025-02-11, 10 h", "2025-09-11, 20 h"]
    assert len(scene.strokes) == 16
    assert {dot.sign for dot in scene.dots if dot.place == 1} == {Sign.OUTSIDE}
    assert "lost" in scene.read(scene.dots[0])
    assert "earlier check" in shown("before", checked(a_set())).empty


def test_a_spring_of_one_check_only_is_told_so() -> None:
    check = checked(a_set(losses=(0.0, 0.02)))
    assert check.past is not None
    first = replace(check.past.compared[0], before=None)
    scene = shown("before", replace(check, past=replace(check.past, compared=(first, *check.past.compared[1:]))))
    assert len(scene.strokes) == 15
    assert scene.read(scene.dots[0]) == f"{first.spring}: not tested before."


def test_loss_over_time_runs_over_hours_with_its_trend() -> None:
    scene = shown("time", checked(a_set(losses=(0.0, 0.02, 0.04, 0.06))))
    means = [dot for dot in scene.dots if dot.sign is Sign.WITHIN]
    assert [dot.x for dot in means] == [0, 10, 20, 30]
    assert [dot.y for dot in means] == pytest.approx([0, 2, 4, 6], abs=0.3)
    assert scene.across == "Hours"
    assert "loses 2.0" in scene.told.replace("\u2009", " ")
    assert "It meets 5.0" in scene.told
    assert any(stroke.pattern == (8.0, 3.0, 2.0, 3.0) for stroke in scene.strokes)
    assert "earlier check" in shown("time", checked(a_set())).empty


def test_without_hours_the_loss_runs_over_days_or_check_by_check() -> None:
    job = a_set(losses=(0.0, 0.02, 0.04))
    days = replaced_all(job, {f"history.{k}.record.hours": None for k in (0, 1)} | {"record.hours": None})
    scene = shown("time", checked(days))
    assert scene.across == "Days since the first check"
    assert [dot.x for dot in scene.dots if dot.sign is Sign.WITHIN] == [0, 31, 243]
    wrong = checked(days)
    assert wrong.past is not None
    points = (replace(wrong.past.checks[0], date="some day"), *wrong.past.checks[1:])
    told = shown("time", replace(wrong, past=replace(wrong.past, checks=points)))
    assert len([dot for dot in told.dots if dot.sign is Sign.WITHIN]) == 2
    unstated = replaced_all(days, {f"history.{k}.record.date": None for k in (0, 1)} | {"record.date": None})
    scene = shown("time", checked(unstated))
    assert scene.across == "Check"
    assert "No trend" in scene.told


def test_passes_count_as_hours_do() -> None:
    job = a_set(losses=(0.0, 0.02, 0.04))
    none = {f"history.{k}.record.hours": None for k in (0, 1)} | {"record.hours": None}
    passes = {"history.0.record.passes": 0, "history.1.record.passes": 20, "record.passes": 40}
    scene = shown("time", checked(replaced_all(job, none | passes)))
    assert scene.across == "Passes"
    assert "for every 10 passes" in scene.told
    assert "20 passes" in scene.read(next(dot for dot in scene.dots if dot.x == 20))


def test_two_checks_make_no_trend() -> None:
    assert "no trend yet" in shown("time", checked(a_set(losses=(0.0, 0.05)))).told


@pytest.mark.parametrize("name", list(BUILD))
@pytest.mark.parametrize("style", list(Style))
def test_every_picture_stands_every_set(name: str, style: Style) -> None:
    jobs = (a_set(1), a_set(64, TEN, faults=FAULTS), a_set(0), a_set(2, spec=False), a_set(losses=(0.0, 0.01, 0.02)))
    for job in jobs:
        scene = shown(name, checked(job), style)
        assert bool(scene.empty) != bool(scene.dots)
        assert scene.x_range[0] < scene.x_range[1]
        assert scene.y_range[0] < scene.y_range[1]
        assert all(scene.read(dot) for dot in scene.dots)
