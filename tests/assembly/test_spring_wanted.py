"""What a job asks of a spring to be found, and what taking one over does to the job."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import pytest

from loadbench.analysis import LineAnalysis, analyse
from loadbench.analysis.variants import with_variant
from loadbench.assembly.spring_wanted import (
    Asked,
    Choices,
    asked_of,
    choices_of,
    coil_changes,
    left_of_old,
    length_text,
    variant_changes,
    ways_of,
    wire_text,
)
from loadbench.findings.rows import rows_in_force
from loadbench.findings.rulebook import rule_book
from loadbench.job.edits import replaced_all
from loadbench.job.files import open_job
from loadbench.job.model import Job
from loadbench.spring.design import search
from loadbench.spring.materials import materials
from loadbench.spring.wanted import Candidate
from loadbench.spring.wires import stock_wires
from loadbench.units import Style

IN, LBF = 0.0254, 4.4482216152605
SAMPLES = Path(__file__).parents[2] / "samples"


def sample(name: str, **changes: Any) -> Job:
    found = open_job(SAMPLES / f"{name}.loadbench.json")
    job = found if isinstance(found, Job) else found.job
    return replaced_all(job, {field.replace("__", "."): value for field, value in changes.items()})


def nest(**changes: Any) -> Job:
    """180 lbf at 1.900 in, 445 lbf after 0.578 in; 1.520 in outside, 0.490 in inside, 1.170 in at bind; 7000 rpm."""
    return sample("nest-of-three-with-damper", **changes)


def line_of(job: Job, name: str | None = None) -> LineAnalysis:
    return analyse(job).line(name)


def asked(job: Job, line: str | None = None, **choices: Any) -> Asked:
    found = line_of(job, line)
    book = rule_book(None, job.rules, found.stated.stated.style, rows_in_force(found.stated))
    return asked_of(found, book, Choices(**choices))


def best(job: Job, line: str | None = None, **choices: Any) -> Candidate:
    """The best spring for a job."""
    told = asked(job, line, **choices)
    assert told.wanted is not None
    answer = search(told.wanted, told.wire, stock_wires("all"))
    return answer.candidates[0]


# What is asked


def test_the_wants_are_the_targets_the_heights_and_the_rule_book() -> None:
    wanted = asked(nest()).wanted
    assert wanted is not None
    assert wanted.seat_load == pytest.approx(180 * LBF)
    assert wanted.open_load == pytest.approx(445 * LBF)
    assert wanted.installed_height == pytest.approx(1.900 * IN)
    assert wanted.travel == pytest.approx(0.578 * IN)
    assert wanted.outer_diameter_max == pytest.approx(1.520 * IN)
    assert wanted.inner_diameter_min == pytest.approx(0.490 * IN)
    assert wanted.bind_height_max == pytest.approx(1.170 * IN)
    assert wanted.bind_margin == pytest.approx(0.060 * IN)
    assert (wanted.index_low, wanted.index_high) == (4, 12)
    assert (wanted.stress_share_open_max, wanted.stress_share_bind_max) == (0.5, 0.5)
    assert wanted.surge_frequency_min is None
    assert wanted.fatigue_factor_min is None


def test_limits_of_the_job_are_held() -> None:
    rules = {
        "bind-margin-min": {"watch": "0.100 in"},
        "spring-index": {"least": {"watch": 5}, "most": {"watch": 9}},
        "stress-share": {"not-preset": {"watch": "40 %"}},
        "bind-stress": {"not-preset": {"watch": "45 %"}},
        "fatigue-factor": {"watch": 1.3},
    }
    wanted = asked(nest(rules=rules), hold_fatigue=True).wanted
    assert wanted is not None
    assert wanted.bind_margin == pytest.approx(0.100 * IN)
    assert (wanted.index_low, wanted.index_high) == (5, 9)
    assert (wanted.stress_share_open_max, wanted.stress_share_bind_max) == (0.40, 0.45)
    assert wanted.fatigue_factor_min == 1.3


def test_a_bucket_takes_its_own_clearance() -> None:
    wanted = asked(nest(follower__family="bucket", valve_gear__measured_net_lift="0.400 in")).wanted
    assert wanted is not None
    assert wanted.bind_margin == pytest.approx(0.040 * IN)


def test_surge_is_held_when_asked_at_half_the_engines_speed() -> None:
    wanted = asked(nest(), hold_surge=True).wanted
    assert wanted is not None
    assert wanted.surge_frequency_min == pytest.approx(15 * 7000 / 60 / 2)


def test_surge_without_a_speed_limit_waits_for_it() -> None:
    job = nest(duty__speed_limit=None)
    assert asked(job).missing == ()
    assert asked(job, hold_surge=True).missing == ("duty.speed_limit",)


def test_drawn_wire_takes_less_stress() -> None:
    wanted = asked(nest(), material="music").wanted
    assert wanted is not None
    assert (wanted.stress_share_open_max, wanted.stress_share_bind_max) == (0.45, 0.45)


@pytest.mark.parametrize("job", [nest(), sample("mild-street-flat-hydraulic")], ids=["bind decides", "either decides"])
def test_no_preset_spring_takes_more_than_the_book_allows(job: Job) -> None:
    """The book's shares of a preset spring, 65 % and 75 %, are of the stress with direct shear alone."""
    told = asked(job, material="VDSiCrV", preset=True, peened=True)
    assert told.wanted is not None
    assert told.share_open == 0.65
    springs = search(told.wanted, told.wire, stock_wires("all")).candidates
    assert springs
    for spring in springs:
        direct = (1 + 0.5 / spring.spring_index) / spring.wahl_factor
        assert spring.stress_share_open * direct <= 0.65 * (1 + 1e-8)
        assert spring.stress_share_bind * direct <= 0.75 * (1 + 1e-8)


def test_where_bind_decides_its_whole_share_is_used() -> None:
    """458 lbf/in down to 1.170 in is 515 lbf, 1.16 times the open load: 75 % at bind leaves less than 65 % open."""
    told = asked(nest(), material="VDSiCrV", preset=True)
    assert told.wanted is not None
    assert told.wanted.stress_share_bind_max is None
    assert told.wire.static_share_preset_low == 0.75
    assert materials()["VDSiCrV"].static_share_preset_low == 0.65


def test_steps_under_the_spring_are_taken_from_the_height() -> None:
    wanted = asked(nest(spring__coils__0__seat_step="0.050 in", spring__coils__0__retainer_step="0.020 in")).wanted
    assert wanted is not None
    assert wanted.installed_height == pytest.approx(1.830 * IN)


# What is missing or wrong


def test_it_waits_for_what_is_not_stated() -> None:
    job = nest(targets__open_load=None, targets__seat_load=None)
    told = asked(job)
    assert told.wanted is None
    assert told.missing == ("targets.seat_load", "targets.open_load")
    assert told.faults == ()


def test_it_waits_for_the_heights() -> None:
    told = asked(Job(title="", targets={"seat_load": "150 lbf", "open_load": "390 lbf"}))  # type: ignore[arg-type]
    assert told.wanted is None
    assert any(field.startswith("spring.") for field in told.missing)
    assert any(field.startswith("valve_gear.") for field in told.missing)


def test_a_limit_that_cannot_be_read_is_not_left_out() -> None:
    told = asked(nest(targets__outer_diameter_max="wide"))
    assert told.wanted is None
    assert [fault.place.field for fault in told.faults] == ["targets.outer_diameter_max"]


def test_an_open_load_below_the_seat_load_is_told_at_its_field() -> None:
    told = asked(nest(targets__open_load="150 lbf"))
    assert told.wanted is None
    assert [fault.place.field for fault in told.faults] == ["targets.open_load"]
    assert told.missing == ()


def test_an_inside_above_the_outside_is_told_at_a_field_of_the_room() -> None:
    told = asked(nest(targets__inner_diameter_min="1.600 in"))
    assert told.wanted is None
    assert {fault.place.field for fault in told.faults} <= {
        "targets.inner_diameter_min",
        "targets.outer_diameter_max",
    }
    assert told.faults


def test_a_rule_that_contradicts_itself_is_told_at_the_rule() -> None:
    told = asked(nest(rules={"spring-index": {"least": {"watch": 13}}}))
    assert told.wanted is None
    assert "rules.spring-index" in {fault.place.field for fault in told.faults}


def test_a_line_has_its_own_lift_and_its_own_places() -> None:
    job = sample("short-travel-hydraulic-roller", lines__exhaust__targets={"open_load": "100 lbf"})
    intake = asked(job, "intake").wanted
    assert intake is not None
    assert intake.travel == pytest.approx(0.578 * IN)
    assert [fault.place.field for fault in asked(job, "exhaust").faults] == ["lines.exhaust.targets.open_load"]


# Choices


def test_choices_start_from_the_first_coil() -> None:
    assert choices_of(line_of(nest())) == Choices(material="VDSiCrV", peened=True, preset=True)
    assert choices_of(line_of(Job(title=""))) == Choices(material="chrome-silicon")


# Taking over


def test_a_spring_taken_over_is_the_one_that_was_found() -> None:
    """With nothing measured in the way the job's own loads are the wanted ones: from its geometry, to rounding."""
    bare = nest(spring__coils=(), spring__damper={}, spring__mass=None)
    spring = best(bare, material="VDSiCrV", preset=True, peened=True)
    choices = Choices(material="VDSiCrV", preset=True, peened=True)
    for style in Style:
        changes = coil_changes(spring, line_of(bare), choices, str, style)
        line = line_of(replaced_all(bare, changes))
        assert line.value("seat_load") == pytest.approx(180 * LBF, rel=2e-3)
        assert line.value("open_load") == pytest.approx(445 * LBF, rel=2e-3)
        (coil,) = line.coils
        assert coil.value("spring_index") == pytest.approx(spring.spring_index, rel=1e-3)
        assert coil.value("stress_share_open") == pytest.approx(spring.stress_share_open, rel=2e-3)
        assert coil.value("fatigue_factor_goodman") == pytest.approx(spring.fatigue_factor_goodman, rel=2e-3)
        assert coil.value("surge_frequency") == pytest.approx(spring.surge_frequency, rel=2e-3)
        assert coil.value("wire_mass") == pytest.approx(spring.wire_mass, rel=2e-3)
        assert not line.stated.stated.problems


def test_what_would_contradict_goes_and_what_was_measured_stays() -> None:
    job = sample("beehive-ovate-wire")
    line = line_of(job)
    spring = best(job, material="VDSiCrV", preset=True)
    changes = coil_changes(spring, line, Choices(), str, Style.METRIC)
    after = replaced_all(job, changes)
    (coil,) = after.spring.coils
    assert (coil.wire.shape, coil.wire.width, coil.wire.thickness) == ("round", None, None)
    assert coil.wire.diameter is not None
    assert coil.small_mean_diameter is None
    assert coil.tapered_coils is None
    assert (coil.material, coil.shot_peened, coil.preset) == ("chrome-silicon", False, False)
    assert coil.name == "beehive"
    assert coil.retainer_step_diameter == job.spring.coils[0].retainer_step_diameter
    assert after.spring.readings == job.spring.readings
    assert replaced_all(job, {"spring.coils": after.spring.coils}) == after  # nothing else has changed


def test_it_stands_in_place_of_the_whole_nest() -> None:
    job = nest()
    spring = best(job, material="VDSiCrV", preset=True)
    after = replaced_all(job, coil_changes(spring, line_of(job), Choices(), str, Style.INCH_POUND))
    assert [coil.name for coil in after.spring.coils] == ["outer"]


def test_what_is_left_of_the_old_spring_is_named() -> None:
    left = left_of_old(line_of(nest()))
    assert {"spring.mass", "spring.damper", "spring.coils.0.readings"} <= set(left)
    assert "spring.readings" not in left
    assert left_of_old(line_of(Job(title=""))) == ()
    assert "spring.readings" in left_of_old(line_of(sample("beehive-ovate-wire")))


@pytest.mark.parametrize("style", Style)
def test_every_stock_wire_is_written_as_itself(style: Style) -> None:
    from loadbench.units import Kind, parse

    for wire in stock_wires("all"):
        assert math.isclose(parse(wire_text(float(wire), style), Kind.LENGTH, None).value, wire, rel_tol=1e-9)


def test_lengths_are_written_with_their_unit() -> None:
    assert length_text(0.03, Style.METRIC) == "30.000 mm"
    assert length_text(0.0254, Style.INCH_POUND) == "1.0000 in"
    assert wire_text(0.0041, Style.INCH_POUND) == "4.10 mm"


def test_a_variant_is_the_found_spring_alone_and_the_job_stays() -> None:
    """Laid over the job, nothing that was measured of its own nest speaks for it."""
    job, choices = nest(), Choices(material="VDSiCrV", preset=True, peened=True)
    spring = best(job, material="VDSiCrV", preset=True, peened=True)
    after = replaced_all(job, variant_changes(spring, job, choices, Style.METRIC, "found"))
    assert after.variants[-1].name == "found"
    assert after.model_copy(update={"variants": job.variants}) == job
    line = line_of(with_variant(after, len(job.variants)))
    assert line.value("seat_load") == pytest.approx(180 * LBF, rel=2e-3)
    assert line.value("open_load") == pytest.approx(445 * LBF, rel=2e-3)
    (coil,) = line.coils
    assert coil.value("stress_share_open") == pytest.approx(spring.stress_share_open, rel=2e-3)


def test_the_ways_lead_to_what_the_line_states() -> None:
    ways = ways_of(line_of(nest(targets__inner_diameter_min=None)))
    assert "targets.outer_diameter_max" in ways
    assert "targets.inner_diameter_min" not in ways
    assert "spring.installed_height" in ways
    assert ways[-1] == "rules.bind-margin-min"
    bare = ways_of(line_of(nest(spring__installed_height=None, valve_gear__measured_net_lift="14 mm")))
    assert "spring.bare_height" in bare
    assert "valve_gear.measured_net_lift" in bare
    own = sample("short-travel-hydraulic-roller", lines__exhaust__targets={"open_load": "300 lbf"})
    assert "lines.exhaust.targets.open_load" in ways_of(line_of(own, "exhaust"))
    assert "targets.open_load" in ways_of(line_of(own, "intake"))
