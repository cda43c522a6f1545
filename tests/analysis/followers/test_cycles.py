"""What the follower carries over the turn: the force balance where there is a lobe, else the static load."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest

from loadbench.analysis import analyse
from loadbench.job.files import open_job
from loadbench.job.reading_in import job_from_text

ROOT = Path(__file__).parents[3]
SAMPLES = ROOT / "samples"


def test_with_a_lobe_the_cycle_is_the_force_balance() -> None:
    line = analyse(open_job(SAMPLES / "lobe-from-a-degree-wheel.loadbench.json")).lines[0]
    idle, limit = line.follower.idle, line.follower.limit
    assert idle is not None
    assert limit is not None
    assert line.motion.idle is not None
    assert not idle.static
    assert idle.contact[idle.nose] == pytest.approx(line.motion.idle.contact[360])
    assert np.all(idle.contact >= 0)
    # At idle the nose carries most; at speed inertia takes load off the nose.
    assert limit.contact[limit.nose] < idle.contact[idle.nose]


def test_without_a_lobe_the_static_load_stands_at_the_nose() -> None:
    tree = json.loads((SAMPLES.parent / "tests/job/data/example.loadbench.json").read_text(encoding="utf-8"))
    tree["cam"]["durations"] = []
    line = analyse(job_from_text(json.dumps(tree))).lines[0]
    idle = line.follower.idle
    assert idle is not None
    assert idle.static
    assert idle.contact.tolist() == [line.value("follower_open_load")]
    assert idle.radius is None
