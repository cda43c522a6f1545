"""The springs of a set in the dynamic run: each by its own wire, and one mass for balance and run."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from loadbench.analysis import analyse
from loadbench.analysis.line import LineAnalysis
from loadbench.job.edits import replaced_all
from loadbench.job.files import open_job
from loadbench.job.model import Job
from loadbench.motion.waves import SpringWaves

SAMPLES = Path(__file__).parents[2] / "samples"
NEST = "solid-roller-1000-lbf.loadbench.json"


def sample(name: str = NEST) -> Job:
    return open_job(SAMPLES / name)


def line_of(job: Job) -> LineAnalysis:
    return analyse(job).lines[0]


def waves_of(line: LineAnalysis) -> tuple[SpringWaves, ...]:
    assert line.motion.dynamic is not None
    return line.motion.dynamic.gear.waves


def test_each_spring_of_a_nest_swings_by_its_own_wire() -> None:
    line = line_of(sample())
    waves = waves_of(line)
    assert [each.name for each in waves] == [coil.name for coil in line.coils]
    assert len({each.name for each in waves}) == len(waves) > 1
    assert sum(each.rate_share for each in waves) == pytest.approx(1.0)
    assert [each.mass for each in waves] == pytest.approx([coil.value("moving_mass") for coil in line.coils])
    rate = sum(coil.value("geometric_rate") or 0.0 for coil in line.coils)
    for each, coil in zip(waves, line.coils, strict=True):
        assert each.speeds(rate)[0] / (2 * np.pi) == pytest.approx(coil.value("surge_frequency"), rel=1e-9)


@pytest.mark.parametrize("name", ["solid-roller-1000-lbf", "nest-of-three-with-damper", "mild-street-flat-hydraulic"])
def test_the_run_moves_the_mass_of_the_force_balance(name: str) -> None:
    line = line_of(sample(f"{name}.loadbench.json"))
    assert line.motion.dynamic is not None
    assert line.motion.dynamic.gear.waves
    assert line.motion.dynamic.gear.referred_mass == pytest.approx(line.value("referred_mass"), rel=1e-12)


def test_one_without_wire_data_is_a_rate_alone_and_is_named() -> None:
    job = sample()
    inner = job.spring.coils[-1]
    last = f"spring.coils.{len(job.spring.coils) - 1}"
    line = line_of(replaced_all(job, {f"{last}.{name}": None for name in ("material", "active_coils")}))
    waves, dynamic = waves_of(line), line.motion.dynamic
    assert dynamic is not None
    assert [each.name for each in waves] == [coil.name for coil in job.spring.coils[:-1]]
    assert 0 < sum(each.rate_share for each in waves) < 1
    assert f"{inner.name} as a rate without waves" in dynamic.typical
    own = line.coils[0].value("geometric_rate") or 0.0
    assert waves[0].rate_share * dynamic.gear.spring_rate == pytest.approx(own, rel=0.1)


def test_a_single_spring_has_no_name_to_tell() -> None:
    (wave,) = waves_of(line_of(sample("mild-street-flat-hydraulic.loadbench.json")))
    assert (wave.name, wave.rate_share) == ("", 1.0)


def test_a_beehive_swings_as_its_own_taper() -> None:
    line = line_of(sample("beehive-ovate-wire.loadbench.json"))
    (coil,) = line.coils
    assert coil.waves is not None
    spring = SpringWaves(shape=coil.waves, mass=coil.value("moving_mass") or 0.0)
    hertz = spring.speeds(coil.value("geometric_rate") or 0.0) / (2 * np.pi)
    assert coil.modes is not None
    # as many modes as the surge figures tell, of the same chain where no coil has landed
    assert hertz[0] == pytest.approx(coil.value("surge_frequency"), rel=0.02)
    assert hertz[0] >= (coil.value("surge_frequency") or 0.0) * (1 - 1e-3)
    # its wide turns at the seat give most, so that the rest moves nearly as its end does: more than a third
    assert 1 / 3 < coil.waves.carried < 0.5
