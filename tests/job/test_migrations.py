"""Every older version of the document opens as the present one, with all that it stated."""

from __future__ import annotations

import json
from pathlib import Path

from loadbench.job.files import open_job, save_job
from loadbench.job.migrations import STEPS
from loadbench.job.model import VERSION

FROZEN = {1: Path(__file__).parent / "data" / "example.loadbench.json"}


def test_there_is_a_step_and_a_frozen_file_for_every_older_version() -> None:
    assert sorted(STEPS) == sorted(FROZEN) == list(range(1, VERSION))
    for version, file in FROZEN.items():
        assert json.loads(file.read_text(encoding="utf-8"))["version"] == version


def test_version_1_opens_with_its_shims_and_gains_the_printouts(tmp_path: Path) -> None:
    job = open_job(FROZEN[1])
    assert job.version == VERSION
    assert job.shims_in_stock == ("0.015 in", "0.030 in", "0.060 in")
    assert (job.printouts, job.recipes, job.photos, job.plan.placed) == ((), (), (), ())
    save_job(job, tmp_path / "a.loadbench.json")
    assert open_job(tmp_path / "a.loadbench.json") == job
