"""What is kept from one edit to the next must never be older than the job it is told for."""

from __future__ import annotations

from pathlib import Path

import pytest

from loadbench.analysis import analyse, nest, springs
from loadbench.findings import judge, sets
from loadbench.findings.finding import Verdicts
from loadbench.job import stated
from loadbench.job.edits import removed, replaced, value_at
from loadbench.job.files import open_job
from loadbench.job.model import Job, RuleChange
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


def from_nothing(job: Job, monkeypatch: pytest.MonkeyPatch) -> Verdicts:
    with monkeypatch.context() as patch:
        for module in (nest, springs, sets, stated):
            patch.setattr(module, "_KEPT", {})
        return judged(job)


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
        assert words(judged(changed)) == words(from_nothing(changed, monkeypatch)), field
        job = changed
    for field in ("spring.readings.0", "spring.spec.0", "spring.coils.0", "springs.0", "history.0"):
        if not list_of(job, field):
            continue
        job = removed(job, field)
        assert words(judged(job)) == words(from_nothing(job, monkeypatch)), field
    assert tried > 8
