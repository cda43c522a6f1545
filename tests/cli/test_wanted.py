"""The command wanted: what it tells, in SI and in words, its exit codes, and what it refuses."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import pytest

from loadbench.analysis import analyse
from loadbench.analysis.motion.wanted_duty import wanted_duty
from loadbench.analysis.motion.wanted_run import held_by_run
from loadbench.cli import BAD_INPUT, CLEAR, INCOMPLETE, main
from loadbench.cli_wanted import speed_and_margin
from loadbench.errors import InputError
from loadbench.job.edits import replaced_all
from loadbench.units import Style
from tests.cli.test_sweep import saved
from tests.report.motion_cases import moving, of_lines

RPM = math.pi / 30


def wanted(capsys: pytest.CaptureFixture[str], *given: str) -> tuple[int, dict[str, Any]]:
    code = main(["wanted", *given, "--json"])
    return code, json.loads(capsys.readouterr().out)


def test_both_answers_in_si(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out = wanted(capsys, saved(tmp_path), "--speed", "6500 rpm", "--left", "20 lbf")
    (one,) = out["wanted"]
    assert (code, out["problems"], one["line"], one["missing"]) == (CLEAR, [], None, [])
    line = analyse(moving()).lines[0]
    dynamic, mass, lift = line.motion.dynamic, line.value("referred_mass"), line.value("net_valve_lift")
    assert dynamic is not None
    assert mass is not None
    assert lift is not None
    margin = 20 * 4.4482216152605
    rigid, run = wanted_duty(dynamic, mass, 6500 * RPM, margin), held_by_run(dynamic, lift, 6500 * RPM, margin)
    assert one["speed_rpm"] == pytest.approx(6500)
    assert one["left_N"] == pytest.approx(margin)
    assert one["force_balance"]["seat_load_N"] == pytest.approx(rigid.seat_load)
    assert one["force_balance"]["open_load_N"] == pytest.approx(rigid.open_load)
    assert one["force_balance"]["referred_mass_kg"] == pytest.approx(rigid.mass)
    assert one["dynamic_run"]["seat_load_N"] == pytest.approx(run.seat_load)
    assert one["dynamic_run"]["least_contact_force_N"] == pytest.approx(run.least_force)
    assert one["now"]["referred_mass_kg"] == pytest.approx(mass)


def test_the_words_and_the_speed_limit(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["wanted", saved(tmp_path, of_lines())]) == CLEAR
    told = capsys.readouterr().out
    for word in ("(intake)", "(exhaust)", "Contact held to", "Force balance", "Dynamic run", "seat load", "lbf", "rpm",
                 "at most", "part makers"):  # fmt: skip
        assert word in told
    assert main(["wanted", saved(tmp_path, of_lines()), "--line", "intake"]) == CLEAR
    assert "(exhaust)" not in capsys.readouterr().out


def test_what_no_load_holds_is_said(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = saved(tmp_path)
    assert main(["wanted", path, "--speed", "20000"]) == CLEAR
    assert "no seat load does" in capsys.readouterr().out
    _, out = wanted(capsys, path, "--speed", "20000")
    assert out["wanted"][0]["dynamic_run"]["seat_load_N"] is None


def test_a_job_that_waits(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = saved(tmp_path, moving(gear={"lash": None}))
    assert main(["wanted", path]) == INCOMPLETE
    assert "waits for" in capsys.readouterr().out
    code, out = wanted(capsys, path)
    assert (code, out["wanted"][0]["missing"]) == (INCOMPLETE, ["valve_gear.lash"])
    no_limit = saved(tmp_path, replaced_all(moving(), {"duty.speed_limit": None}))
    assert wanted(capsys, no_limit)[1]["wanted"][0]["missing"] == ["duty.speed_limit"]
    assert main(["wanted", no_limit, "--speed", "6000"]) == CLEAR


def test_problems_of_the_job_are_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = saved(tmp_path, replaced_all(moving(), {"duty.boost": "lots"}))
    assert main(["wanted", path]) == BAD_INPUT
    assert "lots" in capsys.readouterr().err
    assert wanted(capsys, path)[1]["problems"][0]["field"] == "duty.boost"


@pytest.mark.parametrize(
    ("speed", "left", "word"),
    [
        ("fast", None, "--speed"), ("7000 lbf", None, "speed"), ("5 rpm", None, "100 to 50000"),
        ("90000 rpm", None, "100 to 50000"), ("7000 rpm", "-5 lbf", "--left"), ("7000 rpm", "5 in", "--left"),
    ],
)  # fmt: skip
def test_what_cannot_be_wanted(
    speed: str, left: str | None, word: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(InputError, match=word):
        speed_and_margin(speed, left, Style.INCH_POUND)
    given = ["wanted", saved(tmp_path), "--speed", speed, *([] if left is None else ["--left", left])]
    assert main(given) == BAD_INPUT
    told = capsys.readouterr()
    assert word in told.err
    assert told.out == ""
