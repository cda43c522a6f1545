"""A job says the same whether it is written in inches and pounds or in millimetres and newtons."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.analysis import analyse
from loadbench.findings import Verdicts, judge
from loadbench.job.edits import replaced_all, value_at
from loadbench.job.files import open_job
from loadbench.job.kinds import Quantity
from loadbench.job.model import Job
from loadbench.job.stated import mark_of, read_stated
from loadbench.units import Kind, Style
from tests.analysis.bench_jobs import BASE, COILS, SOLID, job_with

ROOT = Path(__file__).parent.parent
JOBS = [ROOT / "tests" / "job" / "data" / "example.loadbench.json", *sorted((ROOT / "samples").glob("*.json"))]
INCH, LBF = 0.0254, 4.4482216152605
# One unit of each style as SI, by definition: inch and pound-force exactly, psi as lbf/in2, °F as 5/9 K from 459.67.
UNITS: dict[tuple[Kind, Style], tuple[str, float, float]] = {
    (Kind.LENGTH, Style.METRIC): ("mm", 1e-3, 0.0),
    (Kind.LENGTH, Style.INCH_POUND): ("in", INCH, 0.0),
    (Kind.FORCE, Style.METRIC): ("N", 1.0, 0.0),
    (Kind.FORCE, Style.INCH_POUND): ("lbf", LBF, 0.0),
    (Kind.RATE, Style.METRIC): ("N/mm", 1e3, 0.0),
    (Kind.RATE, Style.INCH_POUND): ("lbf/in", LBF / INCH, 0.0),
    (Kind.PRESSURE, Style.METRIC): ("bar", 1e5, 0.0),
    (Kind.PRESSURE, Style.INCH_POUND): ("psi", LBF / INCH**2, 0.0),
    (Kind.MASS, Style.METRIC): ("g", 1e-3, 0.0),
    (Kind.MASS, Style.INCH_POUND): ("lb", 0.45359237, 0.0),
    (Kind.TEMPERATURE, Style.METRIC): ("degC", 1.0, 273.15),
    (Kind.TEMPERATURE, Style.INCH_POUND): ("degF", 5 / 9, 459.67 * 5 / 9),
}


def rewritten(job: Job, style: Style) -> Job:
    """The same job with every length, load, rate, pressure, mass and temperature in the units of a style."""
    stated = read_stated(job)
    changes: dict[str, Any] = {"units": str(style)}
    for path, value in stated.values.items():
        mark = None if path.endswith("#") else mark_of(path)
        if isinstance(mark, Quantity) and (mark.kind, style) in UNITS:
            unit, size, zero = UNITS[mark.kind, style]
            changes[path] = f"{(value - zero) / size!r} {unit}"
    return replaced_all(job, changes)


def unitless(job: Job) -> Job:
    """The same job with the units that its style would add anyway left off."""
    style = Style(job.units or "")
    changes: dict[str, Any] = {}
    for path in read_stated(job).values:
        mark = None if path.endswith("#") else mark_of(path)
        if isinstance(mark, Quantity) and (mark.kind, style) in UNITS:
            text, unit = value_at(job, path), UNITS[mark.kind, style][0]
            changes[path] = text.removesuffix(f" {unit}")
    return replaced_all(job, changes)


def judged(job: Job) -> Verdicts:
    return judge(analyse(job))


def near(one: float | None, other: float | None, slack: float = 1e-9) -> bool:
    if one is None or other is None:
        return one is other
    return math.isclose(one, other, rel_tol=slack, abs_tol=1e-11)


def same(one: Job, other: Job) -> None:
    first, second = judged(one), judged(other)
    assert [str(each) for each in first.missing] == [str(each) for each in second.missing]
    assert len(first.findings) == len(second.findings)
    for a, b in zip(first.findings, second.findings, strict=True):
        assert (a.id, a.level, a.line, a.member, a.valve, a.missing) == (
            b.id,
            b.level,
            b.line,
            b.member,
            b.valve,
            b.missing,
        )
        assert (a.about, a.source, a.nature, a.fix is None) == (b.about, b.source, b.nature, b.fix is None)
        for name in ("value", "limit", "margin"):
            assert near(getattr(a, name), getattr(b, name)), (a.id, name)
        assert near(a.chance, b.chance, 1e-6), a.id
    for name in ("axle", "travel", "family"):
        one_choice, other_choice = getattr(first.advice, name), getattr(second.advice, name)
        assert (one_choice.choice, one_choice.runner_up, one_choice.because) == (
            other_choice.choice,
            other_choice.runner_up,
            other_choice.because,
        )
    figures, others = analyse(one).figures, analyse(other).figures
    assert list(figures) == list(others)
    for name, figure in figures.items():
        assert near(figure.value, others[name].value), name
        assert near(figure.expanded, others[name].expanded), name


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.name.split(".")[0])
def test_a_whole_job_in_metric(path: Path) -> None:
    job = open_job(path)
    metric = rewritten(job, Style.METRIC)
    assert metric.units == "metric"
    if not read_stated(job).problems:
        assert "mm" in str(value_at(metric, "valve_gear.retainer_to_seal"))
        same(job, metric)
        same(rewritten(metric, Style.INCH_POUND), metric)
    assert len(read_stated(metric).problems) == len(read_stated(job).problems)


@pytest.mark.parametrize(
    "path", [path for path in JOBS if "bad" not in path.name], ids=lambda path: path.name.split(".")[0]
)
@pytest.mark.parametrize("style", Style)
def test_bare_numbers_take_the_units_of_the_file(path: Path, style: Style) -> None:
    job = rewritten(open_job(path), style)
    bare = unitless(job)
    assert value_at(bare, "valve_gear.retainer_to_seal").replace(".", "").isdigit()
    same(job, bare)


# The example job around it: each of these moves a figure across a limit somewhere in its range.
changes = st.fixed_dictionaries(
    {
        "spring.installed_height": st.floats(1.70, 2.10).map(lambda x: f"{x:.4f} in"),
        "valve_gear.lobe_lift": st.floats(0.25, 0.50).map(lambda x: f"{x:.4f} in"),
        "valve_gear.retainer_to_seal": st.floats(0.4, 0.9).map(lambda x: f"{x:.4f} in"),
        "duty.boost": st.floats(0, 40).map(lambda x: f"{x:.2f} psi"),
        "follower.travel": st.sampled_from([None, "standard", "short"]),
        "spring.coils": st.sampled_from([(), COILS]),
        "tester.load_accuracy_percent": st.sampled_from([None, 1.0, 3.0]),
        "tester.load_repeatability": st.sampled_from([None, "0.5 lbf"]),
        "duty.use": st.sampled_from(["street", "drag", None]),
        "duty.speed_limit": st.sampled_from([None, "6000 rpm", "8500 rpm"]),
    }
)


@given(changes, st.booleans())
def test_any_job_in_metric(fields: dict[str, Any], solid: bool) -> None:
    job = job_with(fields, SOLID if solid else {})
    same(job, rewritten(job, Style.METRIC))


def test_rewriting_changes_texts() -> None:
    metric = rewritten(job_with(), Style.METRIC)
    assert BASE["spring.installed_height"] == "1.900 in"
    assert value_at(metric, "spring.installed_height") == "48.26 mm"
