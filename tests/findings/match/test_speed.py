"""Speed by motion: the dynamic run where there is one, else the rigid force balance with its blind side."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from loadbench.analysis import Analysis
from loadbench.analysis.dynamic_runs import fully_analysed
from loadbench.findings import judge
from loadbench.findings.finding import Finding, Level, Sentence
from loadbench.findings.match.match import seated
from loadbench.findings.match.recommend import Judged, ranked
from loadbench.findings.match.result import Criterion, Kit
from loadbench.findings.match.sayings import Saying
from loadbench.findings.match.speed import named
from loadbench.units import Kind, Style, tell
from tests.findings.match.test_recommend import judged
from tests.findings.match.tried import SHORT, WHEEL, cell, matched, sample

STATED = Kit.ROLLER_HYDRAULIC_SHORT


@cache
def run(name: str = SHORT, speed: str | None = None) -> Analysis:
    return fully_analysed(sample(name, {"duty.speed_limit": speed} if speed else None))


def told(analysis: Analysis) -> str:
    return matched(analysis).family.reason.told(Style.INCH_POUND)


def onset(analysis: Analysis) -> str:
    """The lowest speed at which any line loses contact, as it is told."""
    found = [line.value("onset_speed") for line in analysis.lines]
    return str(tell(min(each for each in found if each is not None), Kind.SPEED, Style.INCH_POUND))


def test_the_speed_cell_says_what_the_dynamic_run_of_the_motion_says() -> None:
    analysis = run()
    found = cell(analysis, STATED, Criterion.SPEED)
    own = [each for each in judge(analysis).findings if each.id == "contact-lost" and each.line == found.line]
    assert (found.rule, found.level) == ("contact-lost", own[0].level)
    assert found.level == "watch"
    assert found.physics is not None
    said = found.physics.told(Style.INCH_POUND)
    assert said.startswith("By the dynamic run: at the speed limit")
    assert said.endswith(own[0].sentence.told(Style.INCH_POUND)[1:])
    assert onset(analysis) in said
    assert found.disagree  # the trade runs short travel to 8000 rpm


def test_the_lowest_onset_is_told_where_the_finding_lists_only_later_bands() -> None:
    view = seated(STATED, run()).views[0]
    (found,) = (each for each in judge(run()).findings if each.id == "contact-lost" and each.line == view.line.name)
    said = named(found, view).sentence.template
    assert "first lost" not in said  # it is among the bands
    later = replace(found, sentence=Sentence("At the speed limit contact is lost."))
    assert named(later, view).sentence.template.endswith("It is first lost at {s1_onset}.")


def test_the_headline_does_not_say_that_nothing_stops_it_where_contact_is_lost() -> None:
    analysis = run()
    said = told(analysis)
    assert "nothing stops it" not in said
    assert f"by the dynamic run contact is lost at the speed limit, and first at {onset(analysis)}." in said
    assert "rigid force balance" not in said


def test_a_follower_that_moves_alike_has_the_same_run_and_another_has_none() -> None:
    analysis = run()
    for kit in (Kit.ROLLER_HYDRAULIC_STANDARD, Kit.ROLLER_SOLID_NEEDLE):
        for view, line in zip(seated(kit, analysis).views, analysis.lines, strict=True):
            assert view.line.dynamics is line.dynamics
            assert view.line.value("onset_speed") == line.value("onset_speed")
    flat = seated(Kit.FLAT_HYDRAULIC, analysis)
    assert all(view.line.dynamics is None and view.figure("onset_speed") is None for view in flat.views)
    assert "rigid force balance" in cell(analysis, Kit.FLAT_HYDRAULIC, Criterion.SPEED).sentence.template


def test_contact_that_is_held_is_told_as_held_by_the_run() -> None:
    analysis = run(speed="5000 rpm")
    found = cell(analysis, STATED, Criterion.SPEED)
    assert found.level == "clear"
    assert found.physics is not None
    assert "By the dynamic run: " in found.physics.template
    assert "as stated: nothing stops it." in told(analysis)


def test_contact_lost_below_the_limit_is_told_as_below_it() -> None:
    analysis = run(speed="6300 rpm")  # between the two bands of the intake
    assert cell(analysis, STATED, Criterion.SPEED).level == "watch"
    assert f"contact is lost below the speed limit, first at {onset(analysis)}." in told(analysis)


def test_without_a_run_the_rigid_balance_is_named_with_what_it_does_not_know() -> None:
    analysis = sample(SHORT)
    found = cell(analysis, STATED, Criterion.SPEED)
    assert found.physics is not None
    said = found.physics.template
    assert "This is the rigid force balance alone: surge and the linkage take contact earlier." in said
    assert "Contact with the lobe is by the rigid force balance alone." in told(analysis)


def test_a_measured_lobe_that_loses_contact_is_a_stop_and_no_other_family_is_better_for_want_of_a_run() -> None:
    analysis = run(WHEEL, "8500 rpm")
    own = Kit.ROLLER_SOLID_NEEDLE
    found = cell(analysis, own, Criterion.SPEED)
    assert (found.level, found.rule) == ("stop", "contact-lost")
    match = matched(analysis)
    assert match.family.choice is None
    said = told(analysis)
    assert "No family is shown to suit as it stands. Nearest is the solid roller, needle axle." in said
    changes = [each.told(Style.INCH_POUND) for each in match.changes[own]]
    assert any(each.startswith("Speed limit down to ") and "surge" in each for each in changes), changes


@pytest.mark.parametrize("level", [Level.WATCH, Level.STOP])
def test_who_was_not_run_counts_as_losing_contact_too(level: Level) -> None:
    finding = Finding(id="contact-lost", title="", group="", level=level, sentence=Sentence("."))
    own, other = judged(STATED), judged(Kit.ROLLER_SOLID_NEEDLE)
    cells = dict(own.cells)
    cells[Criterion.SPEED] = replace(cells[Criterion.SPEED], level=level, rule="contact-lost")
    said = {Criterion.SPEED: [Saying(finding=finding, physics=True)]}
    lost = Judged(kit=STATED, cells=cells, said=said, seat=own.seat)
    assert ranked([other, lost], (STATED,), cam_known=True)[0] is lost
    held = replace(other, said={Criterion.SPEED: [Saying(finding=replace(finding, level=Level.CLEAR), physics=True)]})
    assert ranked([lost, held], (STATED,), cam_known=True)[0] is held
