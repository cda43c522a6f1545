"""Verdicts on lobe, pushrod and motion, on both sides of every limit; limits are common practice."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache
from typing import Any

import numpy as np
import pytest

from loadbench.analysis import Analysis, analyse
from loadbench.analysis.dynamic_runs import fully_analysed, with_dynamics
from loadbench.analysis.motion.result import Dynamics
from loadbench.findings import Finding, judge
from loadbench.findings.rulebook import program_rules
from loadbench.motion.bands import Cause, LossBand
from loadbench.motion.lobe import PowerLobe
from loadbench.motion.power_lift import fitted
from loadbench.readings.cam_lift import How
from loadbench.units import Kind, Style
from tests.findings.jobs import job_with

RPM, INCH = math.pi / 30, 0.0254
DYNAMIC = ("contact-lost", "least-contact-force", "seating-velocity", "surge-resonance")
RULES = ("float-margin", *DYNAMIC, "pushrod-column", "lobe-undercut", "lobe-hollow")

COIL: dict[str, Any] = {
    "name": "outer",
    "wire": {"shape": "round", "diameter": "0.187 in"},
    "mean_diameter": "1.243 in",
    "active_coils": 4.2,
    "total_coils": 6.2,
    "free_height": "2.275 in",
    "ends": "closed and ground",
    "material": "chrome-silicon",
}
DURATIONS = ({"lift": "0.050 in", "crank": "242 deg"}, {"lift": "0.200 in", "crank": "160 deg"})
MASSES = {
    "valve": "100 g",
    "retainer": "18 g",
    "locks": "6 g",
    "pushrod": "68 g",
    "follower": "118 g",
    "rocker_inertia": "9.0e-5 kg m^2",
    "rocker_valve_arm": "36 mm",
}
MOVING: dict[str, Any] = {
    "valve_gear.masses": MASSES,
    "valve_gear.pushrod.diameter": "0.3125 in",
    "valve_gear.pushrod.wall": "0.080 in",
    "valve_gear.pushrod.length": "7.200 in",
    "cam.kind": "roller",
    "cam.base_radius": "0.600 in",
    "cam.durations": DURATIONS,
    "follower.roller_diameter": "0.750 in",
    "duty.speed_limit": "7000 rpm",
    "duty.idle_speed": "900 rpm",
    "spring.coils": (COIL,),
}


@cache
def lobe() -> PowerLobe:
    found = fitted((0.05 * INCH, 0.2 * INCH), (math.radians(121), math.radians(80)), 0.375 * INCH)
    half = found.half_duration
    return PowerLobe(powers=found.powers, lift=0.375 * INCH, half_opening=half, half_closing=half)


def table() -> dict[str, Any]:
    """The same lobe as a table, every two degrees of the cam."""
    angles = np.arange(-100.0, 102.0, 2.0)
    rows = tuple((f"{a:g} deg", f"{float(lobe()(math.radians(a))) / INCH:.5f} in") for a in angles)
    return {"cam.profile": rows, "cam.profile_angle": "cam", "cam.profile_side": "lobe"}


def moving(**changes: Any) -> Analysis:
    """An analysis of the moving job without its run; fields by their paths."""
    return analyse(job_with(MOVING | changes))


@cache
def _run(items: tuple[tuple[str, Any], ...]) -> Dynamics:
    line = fully_analysed(moving(**dict(items))).lines[0]
    assert line.dynamics is not None
    return line.dynamics


def run(**changes: Any) -> Dynamics:
    """The dynamic run of the moving job, kept between tests."""
    return _run(tuple(changes.items()))


def ran(dynamics: Dynamics, **changes: Any) -> Analysis:
    """An analysis with a given run."""
    return measured(with_dynamics(moving(**changes), {"common": dynamics}))


def measured(analysis: Analysis) -> Analysis:
    """The same as if its lobe had been measured, not estimated from durations."""
    (line,) = analysis.lines
    assert line.motion.shown is not None
    shown = replace(line.motion.shown, how=How.TABLE.value)
    return replace(analysis, lines=(replace(line, motion=replace(line.motion, shown=shown)),))


def of(rule: str, analysis: Analysis) -> list[Finding]:
    return [each for each in judge(analysis).findings if each.id == rule]


def only(rule: str, analysis: Analysis) -> Finding:
    (finding,) = of(rule, analysis)
    return finding


def text(finding: Finding) -> str:
    """The sentence in metric units, its thin spaces as plain ones."""
    return finding.sentence.told(Style.METRIC).replace("\u2009", " ")


def changed(rule: str, name: str, end: str, limit: str | float) -> dict[str, Any]:
    return {"rules": {rule: {name: {end: limit}}}}


def sided(rule: str, name: str, value: float, *, least: bool, unit: str = " %", **more: Any) -> None:
    """A limit put just on either side of the value: past it is a watch, short of it clear."""
    dynamics = run(**more)
    for share, wanted in ((1e-6, "clear"), (-1e-6, "watch")):
        limit = float(value) * (1 - share if least else 1 + share)
        entry = f"{limit!r}{unit}" if unit else limit
        finding = only(rule, ran(dynamics, **more, **changed(rule, name, "watch", entry)))
        assert finding.level.value == wanted, (rule, share)
        assert (finding.fix is not None) is (wanted == "watch")
        text(finding)


# What is asked of a line, and when


def test_the_limits_are_those_of_the_book() -> None:
    stood = {
        (rule, name): (limit.watch, limit.stop)
        for rule in RULES
        for name, limit in program_rules()[rule].limits.items()
    }
    assert stood == {
        ("float-margin", "usual"): (0.10, 0.0),
        ("contact-lost", "usual"): (0.05, 0.0),
        ("least-contact-force", "usual"): (0.10, 0.0),
        ("seating-velocity", "hydraulic"): (0.6, None),
        ("seating-velocity", "solid"): (0.8, None),
        ("surge-resonance", "usual"): (0.10, None),
        ("pushrod-column", "usual"): (4, 2),
        ("lobe-undercut", "usual"): (None, 0.0),
        ("lobe-hollow", "roller"): (None, 1),
        ("lobe-hollow", "wheel"): (pytest.approx(2 * INCH), None),
    }
    assert {program_rules()[rule].group for rule in RULES} == {"Motion"}


def test_a_job_without_a_lobe_is_asked_once() -> None:
    findings = [each for each in judge(analyse(job_with())).findings if each.group == "Motion"]
    assert [(each.id, each.level.value) for each in findings] == [("float-margin", "unknown")]
    assert findings[0].missing == (
        "duty.speed_limit", "valve_gear.masses.valve", "valve_gear.masses.follower", "cam.profile"
    )  # fmt: skip


def test_two_lines_without_a_lobe_are_asked_once() -> None:
    changes = {"lines.intake.valve_gear.masses.valve": "110 g", "lines.exhaust.valve_gear.head_diameter": "1.6 in"}
    finding = only("float-margin", analyse(job_with(changes)))
    assert finding.line is None
    assert "valve_gear.masses.valve" in finding.missing


def test_the_line_that_lacks_a_lobe_is_named() -> None:
    plain = {name: value for name, value in MOVING.items() if name != "cam.durations"}
    changes = plain | {"lines.intake.cam.durations": DURATIONS, "lines.exhaust.valve_gear.head_diameter": "1.6 in"}
    found = {each.line: each.level.value for each in of("float-margin", analyse(job_with(changes)))}
    assert found == {"intake": "clear", "exhaust": "unknown"}


def test_two_lines_alike_are_told_once() -> None:
    analysis = moving(**{"lines.exhaust.valve_gear.head_diameter": "1.6 in"})
    assert only("float-margin", analysis).line is None
    assert only("lobe-undercut", analysis).line is None


def test_durations_that_give_no_lift_say_so() -> None:
    swapped = ({"lift": "0.050 in", "crank": "160 deg"}, {"lift": "0.200 in", "crank": "242 deg"})
    finding = only("float-margin", moving(**{"cam.durations": swapped}))
    assert finding.missing == ("cam.durations",)
    assert "The durations give no lift" in text(finding)
    assert not any(of(rule, moving(**{"cam.durations": swapped})) for rule in DYNAMIC)


@pytest.mark.parametrize("rule", DYNAMIC)
def test_until_the_run_is_there_it_is_computing(rule: str) -> None:
    finding = only(rule, moving())
    assert (finding.level.value, finding.missing) == ("unknown", ())
    assert "makes the dynamic run" in text(finding)


@pytest.mark.parametrize("rule", [*DYNAMIC, "float-margin", "pushrod-column"])
@pytest.mark.parametrize("mass", ["valve", "follower"])
def test_nothing_is_judged_by_typical_masses(rule: str, mass: str) -> None:
    field = f"valve_gear.masses.{mass}"
    finding = only(rule, fully_analysed(moving(**{field: None})))
    assert (finding.level.value, finding.missing) == ("unknown", (field,))
    text(finding)


def test_other_masses_may_be_typical() -> None:
    finding = only("float-margin", moving(**{"valve_gear.masses.retainer": None}))
    assert finding.level.value == "clear"
    assert "taken as is typical: the retainer" in text(finding)


@pytest.mark.parametrize("rule", [*DYNAMIC, "float-margin"])
def test_without_a_speed_limit_nothing_of_the_motion_is_judged(rule: str) -> None:
    finding = only(rule, fully_analysed(moving(**{"duty.speed_limit": None})))
    assert finding.level.value == "unknown"
    assert finding.missing == ("duty.speed_limit",)
    text(finding)


@pytest.mark.parametrize("rule", ["least-contact-force", "surge-resonance"])
def test_a_run_for_another_limit_is_not_taken_for_this_one(rule: str) -> None:
    finding = only(rule, ran(run(), **{"duty.speed_limit": "6500 rpm"}))
    assert finding.level.value == "unknown"
    assert "makes the dynamic run" in text(finding)
    assert only(rule, ran(run(), **{"duty.speed_limit": None})).missing == ("duty.speed_limit",)


def test_what_is_complete_does_not_wait_for_the_motion() -> None:
    assert judge(analyse(job_with())).complete
    assert judge(moving()).complete
    assert judge(moving(**{"valve_gear.masses.valve": None})).complete


# The rigid gear


def test_the_margin_to_floating() -> None:
    analysis = moving()
    separation = analysis.value("separation_speed")
    assert separation is not None
    for share, wanted in ((0.101, "clear"), (0.099, "watch"), (0.001, "watch"), (-0.001, "stop")):
        limit = separation / RPM / (1 + share)
        finding = only("float-margin", moving(**{"duty.speed_limit": f"{limit!r} rpm"}))
        assert finding.level.value == wanted, share
        assert finding.value == pytest.approx(share, abs=1e-6)
        assert f"{100 * abs(share):.1f} % {'over' if share > 0 else 'under'} the speed limit" in text(finding)
        assert f"{separation / RPM:.0f} rpm" in text(finding)
        assert (finding.fix is not None) is (wanted != "clear")


def test_an_estimated_lobe_is_told_and_a_table_is_none() -> None:
    assert "The lobe is estimated" in text(only("float-margin", moving()))
    assert "estimated" not in text(only("float-margin", moving(**table())))


def test_the_pushrod_as_a_column() -> None:
    factor = moving().value("pushrod_factor")
    assert factor is not None
    for end, wanted in (("watch", "watch"), ("stop", "stop")):
        for share, past in ((1e-6, False), (-1e-6, True)):
            limits = {"watch": 100.0, "stop": 0.0} if end == "stop" else {"watch": 0.0, "stop": 0.0}
            limits[end] = factor * (1 - share)
            finding = only("pushrod-column", moving(rules={"pushrod-column": limits}))
            assert finding.level.value == (wanted if past else "watch" if end == "stop" else "clear")
    assert "at the speed limit" in text(only("pushrod-column", moving()))
    assert "at idle" in text(only("pushrod-column", moving(**{"duty.speed_limit": None})))


@pytest.mark.parametrize(("diameter", "wanted"), [("0.500 in", "clear"), ("0.3125 in", "watch"), ("0.250 in", "stop")])
def test_the_books_own_limits_of_the_pushrod(diameter: str, wanted: str) -> None:
    assert only("pushrod-column", moving(**{"valve_gear.pushrod.diameter": diameter})).level.value == wanted


def test_a_pushrod_stands_still_without_a_lobe() -> None:
    still = moving(**{"cam.durations": (), "valve_gear.masses.valve": None})
    assert "standing still" in text(only("pushrod-column", still))
    unsized = {"cam.durations": (), "valve_gear.pushrod.wall": None}
    assert not of("pushrod-column", moving(**unsized))
    finding = only("pushrod-column", moving(**{"valve_gear.pushrod.wall": None}))
    assert (finding.level.value, finding.missing) == ("unknown", ("valve_gear.pushrod.wall",))
    assert not of("pushrod-column", moving(**{"follower.family": "bucket"}))


# The lobe


def test_an_undercut_lobe() -> None:
    flat = {"follower.family": "flat-tappet-hydraulic", "cam.kind": "flat"}
    least = moving(**flat).value("least_cam_radius")
    assert least is not None
    for past, wanted in ((1e-6, "clear"), (0.0, "stop"), (-1e-6, "stop")):
        base = 0.6 * INCH - least + past  # the radius of a flat follower's lobe goes with the base circle
        estimated = moving(**flat, **{"cam.base_radius": f"{base!r} m"})
        assert only("lobe-undercut", estimated).level.value == {"stop": "watch"}.get(wanted, wanted)  # not that sure
        finding = only("lobe-undercut", measured(estimated))
        assert finding.level.value == wanted, past
        assert ("is undercut" in text(finding)) is (wanted == "stop" and past < 0) or past == 0
        assert finding.source == "shigley-uicker"
        assert "smaller roller" not in str(finding.fix)


def test_an_undercut_lobe_of_a_roller() -> None:
    assert only("lobe-undercut", moving()).level.value == "clear"
    short = {"cam.durations": (), "cam.law.name": "4-5-6-7", "cam.law.opening": "90 deg", "cam.law.closing": "90 deg"}
    finding = only("lobe-undercut", moving(**short, **{"cam.base_radius": "0.300 in"}))
    assert finding.level.value == "stop"
    assert "smaller roller" in str(finding.fix)


def with_hollow(radius: float) -> Analysis:
    """The moving job with the hollow's radius as given: a lobe made for one roller may be run with another."""
    analysis = measured(moving())
    line = analysis.lines[0]
    figures = {**line.figures, "hollow_radius": replace(line.figures["hollow_radius"], value=radius)}
    return replace(analysis, lines=(replace(line, figures=figures),))


def test_a_hollow_flank() -> None:
    roller = 0.375 * INCH
    for radius, wanted in (
        (roller * (1 - 1e-6), "stop"),
        (roller * (1 + 1e-6), "watch"),
        (2 * INCH * (1 - 1e-6), "watch"),
        (2 * INCH * (1 + 1e-6), "clear"),
    ):
        finding = only("lobe-hollow", with_hollow(radius))
        assert finding.level.value == wanted, radius
        assert f"{1e3 * radius:.2f} mm" in text(finding)
    assert only("lobe-hollow", moving()).value == moving().value("hollow_radius")


def test_a_lobe_without_a_hollow_and_a_lobe_for_a_flat_follower() -> None:
    convex = only("lobe-hollow", moving(**{"cam.base_radius": "1.500 in"}))
    assert (convex.level.value, convex.value) == ("clear", None)
    assert not of("lobe-hollow", moving(**{"follower.family": "flat-tappet-solid"}))


@pytest.mark.parametrize("rule", ["lobe-undercut", "lobe-hollow"])
def test_a_lobe_waits_for_its_base_circle(rule: str) -> None:
    finding = only(rule, moving(**{"cam.base_radius": None}))
    assert (finding.level.value, finding.missing) == ("unknown", ("cam.base_radius",))


# The run


def onset() -> float:
    """The lowest speed at which the moving job loses contact, rpm."""
    (band,) = run().bands
    return band.low / RPM


@pytest.mark.parametrize(("over", "wanted"), [(0.051, "clear"), (0.049, "watch"), (0.001, "watch"), (-0.001, "stop")])
def test_the_speed_limit_under_the_lowest_onset(over: float, wanted: str) -> None:
    limit = onset() / (1 + over)
    finding = only("contact-lost", ran(run(), **{"duty.speed_limit": f"{limit!r} rpm"}))
    assert finding.level.value == wanted
    assert finding.value == pytest.approx(over, abs=1e-9)
    assert f"from {onset():.0f} rpm up (order 9 of the lift near mode 1 of the spring)" in text(finding)
    assert (finding.fix is not None) is (wanted != "clear")


def test_the_cause_of_the_runs_own_band() -> None:
    (own,) = run().bands
    assert (own.cause, own.order, own.mode) == (Cause.SURGE, 9, 1)
    waveless = {"spring.coils": ()}
    assert "(the linkage's ringing)" in text(only("contact-lost", ran(run(**waveless), **waveless)))


def test_a_limit_found_by_the_run_itself() -> None:
    limit = {"duty.speed_limit": f"{onset() * 1.02:.1f} rpm"}
    assert only("contact-lost", measured(fully_analysed(moving(**limit)))).level.value == "stop"
    assert only("least-contact-force", measured(fully_analysed(moving(**limit)))).level.value == "stop"
    # a lobe that is only estimated stops nothing
    assert only("contact-lost", fully_analysed(moving(**limit))).level.value == "watch"
    assert only("least-contact-force", fully_analysed(moving(**limit))).level.value == "watch"


def banded(*bands: LossBand, limit: str = "5000 rpm", **more: Any) -> Finding:
    """What contact-lost says of given bands within the moving job's sweep."""
    found = replace(run().found, least_force=np.ones_like(run().found.least_force))
    return only("contact-lost", ran(replace(run(), found=found, bands=bands), **{"duty.speed_limit": limit}, **more))


def band(low: float, high: float | None, cause: Cause = Cause.INERTIA, **more: Any) -> LossBand:
    return LossBand(low=low * RPM, high=None if high is None else high * RPM, cause=cause, **more)


SURGE = band(4100, 4300, Cause.SURGE, order=11, mode=1)


def test_contact_held_throughout() -> None:
    finding = banded()
    assert (finding.level.value, finding.value, finding.margin) == ("clear", None, None)
    assert "held from 2000 rpm to 8100 rpm" in text(finding)


def test_a_sweep_that_ends_too_soon_to_tell() -> None:
    finding = banded(limit="7500 rpm", **changed("contact-lost", "usual", "watch", "10 %"))
    assert finding.level.value == "watch"
    assert "The sweep ends before" in text(finding)


@pytest.mark.parametrize(
    ("limit", "wanted"), [("3900", "clear"), ("4000", "watch"), ("4200", "stop"), ("4301", "watch"), ("4099", "watch")]
)
def test_a_band_is_passed_or_not(limit: str, wanted: str) -> None:
    finding = banded(SURGE, limit=f"{limit} rpm")
    assert finding.level.value == wanted
    assert "4100 rpm to 4300 rpm (order 11 of the lift near mode 1 of the spring)" in text(finding)
    assert (finding.fix is None) is (wanted == "clear")
    assert wanted == "clear" or "damper" in str(finding.fix)


def test_bands_below_about_and_above_the_limit() -> None:
    above = band(6000, None)
    finding = banded(SURGE, above)
    assert finding.level.value == "watch"
    assert finding.value == pytest.approx(0.2)
    assert "Below the limit contact is lost from 4100 rpm" in text(finding)
    assert "next lost from 6000 rpm up (inertia against load), 20.0 % over it" in text(finding)
    inside = banded(SURGE, band(4900, 5100), above)
    assert inside.level.value == "stop"
    assert inside.value == pytest.approx(-0.02)
    assert "contact is lost, from 4900 rpm to 5100 rpm" in text(inside)
    assert "lost again from 6000 rpm up" in text(inside)


def test_many_bands_are_counted_and_the_first_may_begin_below_the_sweep() -> None:
    bands = [band(2000, 2100, begins_below=True), *(band(low, low + 50) for low in (2200, 2400, 2600, 2800))]
    finding = banded(*bands)
    assert "in 2 bands below these" in text(finding)
    assert "2200" not in text(finding)
    assert "from below 2000 rpm to 2100 rpm" in text(banded(bands[0]))


def test_a_limit_that_was_not_swept() -> None:
    for limit in ("1500 rpm", "9500 rpm"):
        finding = banded(SURGE, limit=limit)
        assert finding.level.value == "unknown"
        assert "misses it" in text(finding)


def test_bands_while_dragging_have_no_cause_yet() -> None:
    found = replace(run(), bands=())
    for limit, wanted in (("7500 rpm", "stop"), ("4000 rpm", "clear")):
        finding = only("contact-lost", ran(found, **{"duty.speed_limit": limit}))
        assert finding.level.value == wanted
        assert "(" not in text(finding)
    lost = found.found.speeds[found.found.lost]
    finding = only("contact-lost", ran(found, **{"duty.speed_limit": "7500 rpm"}))
    assert f"from {lost[0] / RPM:.0f} rpm up" in text(finding)


def test_a_spring_without_waves_is_told() -> None:
    bare = {"spring.coils": ()}
    analysis = ran(run(**bare), **bare)
    assert "waves are not in it" in text(only("contact-lost", analysis))
    assert not of("surge-resonance", analysis)
    assert "waves" not in text(only("contact-lost", ran(run())))


INNER = {"name": "inner", "wire": {"shape": "round", "diameter": "0.130 in"}, "mean_diameter": "0.860 in"}


def test_the_waves_of_one_spring_of_two_are_missed_by_its_name() -> None:
    two = {"spring.coils": (COIL, INNER)}
    sentence = text(only("contact-lost", measured(fully_analysed(moving(**two)))))
    assert "The waves of inner are not in it" in sentence
    assert "\u201couter\u201d" in sentence  # it surges, by its name


def test_a_damper_is_told_as_left_out_and_is_no_advice_where_there_is_one() -> None:
    there = {"spring.damper.load": "8 lbf"}
    assert "rubbing is not in it" in text(only("contact-lost", ran(run(**there), **there)))
    for rule in ("contact-lost", "surge-resonance"):
        low = changed("surge-resonance", "usual", "watch", "0.1 %")
        plain, damped = (only(rule, ran(run(**some), **some, **low)) for some in ({}, there))
        assert plain.fix is not None
        assert damped.fix is not None
        assert plain.fix.template.startswith("A damper")
        assert damped.fix.template.startswith("A stiffer and lighter coil")
        assert "rubbing" in text(damped)
        assert "rubbing" not in text(plain)


def test_a_coil_half_stated_is_asked_for_the_rest() -> None:
    half = {"spring.coils": ({"wire": {"shape": "round", "diameter": "0.187 in"}},)}
    finding = only("surge-resonance", fully_analysed(moving(**half)))
    assert finding.level.value == "unknown"
    assert "spring.coils.0.mean_diameter" in finding.missing


SLOW = {"duty.speed_limit": "5600 rpm"}


def test_the_least_contact_force() -> None:
    analysis = ran(run(**SLOW), **SLOW)
    finding = only("least-contact-force", analysis)
    least, seat = analysis.value("least_contact_force"), analysis.value("seat_load")
    assert least is not None
    assert seat is not None
    assert finding.value == pytest.approx(least / seat)
    sided("least-contact-force", "usual", 100 * least / seat, least=True, **SLOW)


@pytest.mark.parametrize(("force", "wanted"), [(0.101, "clear"), (0.099, "watch"), (1e-6, "watch"), (0.0, "stop")])
def test_the_books_own_limits_of_the_contact_force(force: float, wanted: str) -> None:
    found = run()
    seat = moving().value("seat_load") or 0.0
    figure = replace(found.figures["least_contact_force"], value=force * seat)
    analysis = ran(replace(found, figures={**found.figures, "least_contact_force": figure}))
    finding = only("least-contact-force", analysis)
    assert finding.level.value == wanted
    assert ("contact is lost" in text(finding)) is (wanted == "stop")


def test_a_force_that_was_never_had_is_not_judged() -> None:
    found = run()
    figure = replace(found.figures["least_contact_force"], value=math.nan)
    analysis = ran(replace(found, figures={**found.figures, "least_contact_force": figure}))
    assert only("least-contact-force", analysis).level.value == "unknown"


def test_a_motion_that_never_settles_is_told() -> None:
    found = run()
    note = "The motion does not come again from turn to turn: the extremes of the last turns."
    figures = {name: replace(figure, note=note) for name, figure in found.figures.items()}
    assert note in text(only("least-contact-force", ran(replace(found, figures=figures))))
    assert note not in text(only("least-contact-force", ran(run(**SLOW), **SLOW)))


def seated(speed: float, **changes: Any) -> Finding:
    """What is said of a seating speed, by a table of the lobe."""
    found = run()
    figure = replace(found.figures["seating_speed"], value=speed)
    analysis = ran(replace(found, figures={**found.figures, "seating_speed": figure}), **table(), **changes)
    return only("seating-velocity", analysis)


@pytest.mark.parametrize(
    ("family", "limit"),
    [("roller-hydraulic", 0.6), ("flat-tappet-hydraulic", 0.6), ("roller-solid", 0.8), ("bucket", 0.8)],
)
def test_how_fast_the_valve_seats(family: str, limit: float) -> None:
    changes: dict[str, Any] = {"follower.family": family, "valve_gear.lash": "0.010 in"}
    if family == "bucket":
        changes |= {"valve_gear.rocker_ratio": None, "valve_gear.valve_lift": None, "valve_gear.lobe_lift": "0.375 in"}
    for share, wanted in ((1 - 1e-6, "clear"), (1 + 1e-6, "watch")):
        finding = seated(limit * share, **changes)
        assert finding.level.value == wanted, share
        assert finding.value_kind is Kind.VELOCITY


def test_an_unstated_family_is_judged_by_the_stricter_row_and_a_changed_row_is_its_own() -> None:
    bare = {"follower.family": None, "valve_gear.lash": "0.010 in"}
    assert "the stricter row is taken" in text(seated(0.7, **bare))
    assert seated(0.7, **bare).level.value == "watch"
    solid = {"follower.family": "roller-solid", "valve_gear.lash": "0.010 in"}
    looser = {"rules": {"seating-velocity": {"watch": "1.0 m/s"}}}
    assert seated(0.9, **solid).level.value == "watch"
    assert seated(0.9, **solid, **looser).level.value == "clear"


def test_a_lobe_without_ramps_cannot_tell_how_the_valve_seats() -> None:
    finding = only("seating-velocity", with_dynamics(moving(), {"common": run()}))
    assert (finding.level.value, finding.missing) == ("unknown", ("cam.ramps.height", "cam.profile"))
    assert "ramps" in text(finding)
    analysis = fully_analysed(moving(**table()))
    assert only("seating-velocity", analysis).value == analysis.value("seating_speed")


def test_what_surge_takes() -> None:
    found = run(**SLOW)
    reached = found.found.speeds <= 5600 * RPM * (1 + 1e-9)
    worst = found.found.open_load_loss[reached].max()
    full = moving().value("open_load")
    assert full is not None
    finding = only("surge-resonance", ran(found, **SLOW))
    assert finding.value == pytest.approx(worst / full)
    sided("surge-resonance", "usual", 100 * worst / full, least=False, **SLOW)


@pytest.mark.parametrize(("share", "wanted"), [(0.0999, "clear"), (0.1001, "watch")])
def test_surge_counts_anywhere_up_to_the_limit_and_not_above(share: float, wanted: str) -> None:
    found = run()
    full = moving().value("open_load") or 0.0
    loss = np.zeros_like(found.found.open_load_loss)
    loss[10], loss[-1] = share * full, full
    finding = only("surge-resonance", ran(replace(found, found=replace(found.found, open_load_loss=loss))))
    assert finding.level.value == wanted
    assert f"at {found.found.speeds[10] / RPM:.0f} rpm" in text(finding)
