"""A candidate spring laid over the job's own: what it states wins, and nothing of the other spring speaks for it."""

from __future__ import annotations

from typing import Any

import pytest

from loadbench.analysis import analyse
from loadbench.analysis.variants import another_spring, taken_over, with_variant
from loadbench.job.model import Job
from loadbench.job.parts import Spring

INCH, LBF = 0.0254, 4.4482216152605
READINGS = [{"height": "1.900 in", "load": "150 lbf"}, {"height": "1.300 in", "load": "402 lbf"}]
OTHERS = [{"height": "1.900 in", "load": "120 lbf"}, {"height": "1.300 in", "load": "342 lbf"}]


def job_with(variant: dict[str, Any], **spring: Any) -> Job:
    own = {"installed_height": "1.900 in", "bind_height": "1.100 in", "readings": READINGS} | spring
    tree = {
        "title": "invented",
        "spring": own,
        "valve_gear": {"measured_net_lift": "0.500 in"},
        "springs": [{"id": "1", "readings": READINGS}],
        "valves": [{"id": "1E", "spring": "1"}],
        "variants": [{"name": "other", "spring": variant}],
    }
    import json

    return Job.model_validate_json(json.dumps(tree))


def seat_load(job: Job) -> float | None:
    value = analyse(job).value("seat_load")
    return None if value is None else value / LBF


def test_an_empty_variant_changes_nothing() -> None:
    job = job_with({})
    assert with_variant(job, 0) == job
    assert not another_spring(Spring())


def test_a_variant_with_readings_is_measured_by_its_own() -> None:
    job = job_with({"readings": OTHERS}, rate="420 lbf/in")
    after = with_variant(job, 0)
    # by hand: (342 - 120) lbf / 0.600 in = 370 lbf/in
    assert seat_load(after) == pytest.approx(120)
    assert analyse(after).value("rate") == pytest.approx(370 * LBF / INCH)
    assert after.spring.rate is None


def test_a_rate_alone_does_not_borrow_the_other_springs_readings() -> None:
    job = job_with({"rate": "395 lbf/in"}, coils=[{"name": "outer", "free_height": "2.257 in", "seat_step": "0 in"}])
    after = with_variant(job, 0)
    analysis = analyse(after)
    assert seat_load(job) == pytest.approx(150)
    assert analysis.value("seat_load") is None
    assert "spring.readings" in analysis.figures["seat_load"].missing
    assert analysis.value("rate") == pytest.approx(395 * LBF / INCH)
    assert analysis.figures["rate"].evidence == "stated"
    assert analysis.value("bind_margin") == analyse(job).value("bind_margin")


def test_what_was_promised_or_counted_for_the_other_spring_is_left_out() -> None:
    job = job_with(
        {"rate": "395 lbf/in"}, spec=[{"height": "1.9 in", "load": "150 lbf"}], maker_limits={"lift_max": "0.4 in"}
    )
    after = with_variant(job, 0)
    assert (after.spring.spec, after.springs, after.valves[0].spring) == ((), (), None)
    assert after.spring.maker_limits.lift_max is None


def test_a_height_alone_keeps_the_spring_and_its_readings() -> None:
    after = with_variant(job_with({"installed_height": "1.850 in"}), 0)
    assert seat_load(after) == pytest.approx(150 + 0.05 * 420)
    assert after.springs


def test_an_installed_height_takes_the_place_of_the_shims_and_shims_of_the_height() -> None:
    stack = {"bare_height": "1.915 in", "shims": ["0.015 in"]}
    by_height = with_variant(job_with({"installed_height": "1.850 in"}, **stack), 0)
    assert (by_height.spring.shims, by_height.spring.bare_height) == ((), "1.915 in")
    by_shims = with_variant(job_with({"shims": ["0.030 in"]}, **stack), 0)
    assert by_shims.spring.installed_height is None
    assert analyse(by_shims).value("installed_height") == pytest.approx(1.885 * INCH)


def test_a_bind_height_wins_over_the_members_own() -> None:
    coil = {"name": "outer", "bind_height": "1.050 in"}
    analysis = analyse(with_variant(job_with({"bind_height": "1.200 in"}, coils=[coil]), 0))
    assert analysis.value("bind_margin") == pytest.approx((1.900 - 0.500 - 1.200) * INCH)


def test_members_keep_where_they_stand() -> None:
    coils = [{"name": "outer", "seat_step": "0 in"}, {"name": "inner", "seat_step": "0.100 in", "rate": "100 lbf/in"}]
    after = with_variant(job_with({"readings": OTHERS}, coils=coils), 0)
    assert [coil.seat_step for coil in after.spring.coils] == ["0 in", "0.100 in"]
    assert after.spring.coils[1].rate is None


def test_the_retainers_step_stays_with_the_head_and_the_wire_goes_with_the_spring() -> None:
    coil = {
        "name": "outer",
        "retainer_step": "0.010 in",
        "retainer_step_diameter": "1.030 in",
        "wire": {"diameter": "0.207 in"},
        "mean_diameter": "1.243 in",
        "material": "chrome-silicon",
    }
    (kept,) = with_variant(job_with({"readings": OTHERS}, coils=[coil]), 0).spring.coils
    assert (kept.retainer_step, kept.retainer_step_diameter) == ("0.010 in", "1.030 in")
    assert (kept.wire.diameter, kept.mean_diameter, kept.material) == (None, None, None)
    (own,) = with_variant(job_with({"coils": [{"name": "own"}]}, coils=[coil]), 0).spring.coils
    assert own.retainer_step_diameter is None  # coils of its own replace the job's whole, with their steps


def test_the_lines_own_entry_gives_way() -> None:
    job = job_with({"readings": OTHERS})
    tree = job.model_dump()
    tree["lines"]["exhaust"] = {
        "spring": {"readings": ({"height": "1.900 in", "load": "180 lbf"}, {"height": "1.3 in", "load": "400 lbf"})}
    }
    both = Job.model_validate(tree)
    analysis = analyse(with_variant(both, 0))
    assert [line.value("seat_load") for line in analysis.lines] == pytest.approx([120 * LBF, 120 * LBF])


def test_taking_over_keeps_everything_that_is_not_the_spring() -> None:
    job = job_with({"readings": OTHERS, "name": "blue"})
    after = taken_over(job, 0)
    assert (after.spring.name, after.springs, after.valves, after.variants) == (
        "blue",
        job.springs,
        job.valves,
        job.variants,
    )


def test_a_part_keeps_what_the_variant_does_not_state() -> None:
    job = job_with(
        {"maker_limits": {"lift_max": "0.550 in"}}, maker_limits={"lift_max": "0.600 in", "seat_load_min": "120 lbf"}
    )
    limits = with_variant(job, 0).spring.maker_limits
    assert (limits.lift_max, limits.seat_load_min) == ("0.550 in", "120 lbf")
