"""What is kept from one edit to the next must never be older than the job it is told for."""

from __future__ import annotations

from pathlib import Path

import pytest

from loadbench.analysis import Analysis, analyse, nest, springs
from loadbench.analysis.coils import kept
from loadbench.findings import coils as coil_findings
from loadbench.findings import judge, sets
from loadbench.findings.finding import Verdicts
from loadbench.job import stated
from loadbench.job.edits import removed, replaced, value_at
from loadbench.job.files import open_job
from loadbench.job.model import Job, RuleChange
from loadbench.readings import coil_geometry
from loadbench.units import Style

ROOT = Path(__file__).parents[2]
SAMPLES = [*sorted((ROOT / "samples").glob("*.loadbench.json")), ROOT / "tests/job/data/example.loadbench.json"]
CHANGES: tuple[tuple[str, object], ...] = (
    ("spring.installed_height", "1.795 in"),
    ("spring.readings.0.load", "151 lbf"),
    ("spring.readings.1.height", "1.205 in"),
    ("spring.readings.0.part", "outer"),
    ("spring.rate", "555 lbf/in"),
    ("spring.bind_height", "1.01 in"),
    ("spring.readings_on", "retainer"),
    ("spring.name", "another"),
    ("spring.spec.0.load", "170 lbf"),
    ("spring.coils.0.seat_step", "0.02 in"),
    ("spring.coils.0.rate", "300 lbf/in"),
    ("spring.coils.0.total_coils", 6.5),
    ("spring.coils.0.ends", "closed and ground"),
    ("spring.coils.0.mean_diameter", "1.21 in"),
    ("spring.coils.0.shot_peened", False),
    ("spring.coils.0.retainer_step_diameter", "0.7 in"),
    ("spring.coils.0.bind_height", "1.0 in"),
    ("spring.damper.load", "9 lbf"),
    ("spring.damper.thickness", "0.03 in"),
    ("duty.speed_limit", "6000 rpm"),
    ("duty.oil.temperature", "90 degC"),
    ("valve_gear.rocker_ratio", 1.55),
    ("cam.profile", (("-60", "0 in"), ("0", "0.34 in"), ("60", "0 in"))),
    ("cam.profile_side", "valve"),
    ("cam.profile_angle", "crank"),
    ("spring.coils.0.wire.diameter", "0.500 in"),
    ("spring.coils.0.material", "VDSiCrV"),
    ("spring.coils.0.wire.diameter", "0.190 in"),
    ("spring.coils.0.small_mean_diameter", "1.100 in"),
    ("spring.coils.0.tapered_coils", 1.5),
    ("spring.coils.0.active_coils", 99.0),
    ("spring.coils.0.free_height", "1.002 in"),
    ("spring.bind_height", "1.003 in"),
    ("spring.bind_height", "1.001 in"),
    ("lines.exhaust.spring.bind_height", "1.004 in"),
    ("valve_gear.masses.valve", "99 g"),
    ("valve_gear.masses.locks", None),
    ("spring.mass", "88 g"),
    ("valve_gear.lobe_lift", "0.330 in"),
    ("valve_gear.lash", "0.012 in"),
    ("valve_gear.stiffness", "30000 lbf/in"),
    ("valve_gear.pushrod.wall", "0.075 in"),
    ("valve_gear.pushrod.wall", "0.9 in"),
    ("cam.base_radius", "0.500 in"),
    ("cam.durations.0.crank", "236 deg"),
    ("cam.durations.0.crank", "100 deg"),
    ("follower.roller_diameter", "0.815 in"),
    ("follower.offset", "0.030 in"),
    ("follower.family", "bucket"),
    ("follower.family", "flat-tappet-solid"),
    ("duty.idle_speed", "800 rpm"),
    ("duty.boost", "9 psi"),
    ("duty.cylinder_pressure_at_opening", "60 psi"),
    ("valve_gear.masses.follower", "-3 g"),
    ("lines.exhaust.valve_gear.masses.valve", "92 g"),
    ("lines.exhaust.valve_gear.lobe_lift", "0.310 in"),
    ("tester.load_accuracy_percent", 3.0),
    ("tester.height_accuracy", "0.01 in"),
    ("springs.0.id", "S"),
    ("springs.0.readings.0.load", "99 lbf"),
    ("history.0.springs.0.readings.0.load", "199 lbf"),
    ("lines.exhaust.spring.rate", "333 lbf/in"),
    ("lines.exhaust.spring.installed_height", "1.77 in"),
    ("units", "metric"),
    ("spring.readings.0.load", "not a load"),
    ("rules.load-loss", RuleChange(watch="1 %", stop="2 %")),
)


def judged(job: Job) -> Verdicts:
    return judge(analyse(job))


def coil_figures(analysis: Analysis) -> list[object]:
    """Every figure of every line and of every coil, and what the pictures draw."""
    told: list[object] = []
    for line in analysis.lines:
        told.append(line.figures)
        if line.motion.limit is not None:
            told.append(line.motion.limit.contact.tolist())
        told.append((line.surge.speed_limit, None if line.surge.harmonics is None else line.surge.harmonics.tolist()))
        for coil in line.coils:
            drawn = None if coil.curve is None else (coil.curve.heights.tolist(), coil.curve.loads.tolist())
            told += [coil.name, coil.path, coil.figures, coil.heights, drawn]
    return told


def from_nothing(job: Job, monkeypatch: pytest.MonkeyPatch) -> tuple[Verdicts, list[object]]:
    with monkeypatch.context() as patch:
        for module in (nest, springs, sets, stated, coil_geometry, kept, coil_findings):
            patch.setattr(module, "_KEPT", {})
        analysis = analyse(job)
        return judge(analysis), coil_figures(analysis)


def words(verdicts: Verdicts) -> list[object]:
    return [
        (each.id, each.line, each.level, each.value, each.margin, each.missing, each.about, each.sentence.told(style))
        for each in verdicts.findings
        for style in Style
    ]


def list_of(job: Job, item: str) -> object:
    return value_at(job, item.rpartition(".")[0])


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_an_edit_is_judged_as_if_nothing_were_kept(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    job, tried = open_job(path), 0
    for field, value in CHANGES:
        judged(job)
        try:
            changed = replaced(job, field, value)
        except (LookupError, ValueError):
            continue  # this sample has no such item
        tried += 1
        check(changed, monkeypatch, field)
        job = changed
    for field in ("spring.readings.0", "spring.spec.0", "spring.coils.0", "springs.0", "history.0"):
        if not list_of(job, field):
            continue
        job = removed(job, field)
        check(job, monkeypatch, field)
    assert tried > 8


def check(job: Job, monkeypatch: pytest.MonkeyPatch, field: str) -> None:
    analysis = analyse(job)
    verdicts, figures = from_nothing(job, monkeypatch)
    assert words(judge(analysis)) == words(verdicts), field
    assert coil_figures(analysis) == figures, field
