"""The command sweep: what it prints and writes, its exit codes, and what it refuses."""

from __future__ import annotations

import csv
import json
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import loadbench
from loadbench import cli_sweep
from loadbench.analysis import analyse
from loadbench.analysis.motion.dynamics import run_dynamics
from loadbench.cli import INCOMPLETE, main
from loadbench.cli_sweep import Progress, speeds_asked
from loadbench.errors import InputError
from loadbench.job.files import save_job
from loadbench.job.model import Job
from loadbench.report.table import FULL_SWEEP_HEAD, SWEEP_HEAD, is_ours
from tests.findings.jobs import job_with, loaded
from tests.report.motion_cases import COIL, MASSES, moving, of_lines

FEW = ("--from", "3000", "--to", "4000", "--step", "250")


def saved(folder: Path, job: Job | None = None) -> str:
    path = folder / "job.loadbench.json"
    save_job(moving() if job is None else job, path)
    return str(path)


def swept(capsys: pytest.CaptureFixture[str], *given: str) -> tuple[int, dict[str, Any]]:
    code = main(["sweep", *given, "--json"])
    return code, json.loads(capsys.readouterr().out)


def test_each_speed_is_told_in_si(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job = moving({"coils": [COIL]})
    path = saved(tmp_path, job)
    code, out = swept(capsys, path, *FEW)
    assert code == main(["check", path]), "it exits as check does"
    assert [row["speed_rpm"] for row in out["sweep"]] == pytest.approx([3000, 3250, 3500, 3750, 4000])
    assert out["problems"] == out["not_swept"] == []
    run = run_dynamics(analyse(job).lines[0].motion, np.array([3000.0, 3250, 3500, 3750, 4000]) * np.pi / 30)
    assert run is not None
    for key, values in (
        ("greatest_contact_force_N", run.found.peak_force), ("least_contact_force_N", run.found.least_force),
        ("greatest_contact_force_angle_rad", run.found.peak_angle), ("greatest_lift_m", run.found.greatest_lift),
        ("lift_loss_m", run.found.lift_loss), ("loft_m", run.found.loft), ("bounce_m", run.found.bounce),
        ("surge_load_N", run.found.surge_load), ("open_load_loss_N", run.found.open_load_loss),
        ("seating_speed_m_per_s", -run.found.seating_speed),
    ):  # fmt: skip
        assert [row[key] for row in out["sweep"]] == pytest.approx(list(values)), key
    assert all(row["line"] is None and isinstance(row["periodic"], bool) and row["turns"] > 0 for row in out["sweep"])


def test_surge_is_not_zero_where_the_wire_is_not_known(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = saved(tmp_path)
    _, out = swept(capsys, path, *FEW)
    assert all(row["surge_load_N"] is None and row["open_load_loss_N"] is None for row in out["sweep"])
    main(["sweep", path, *FEW])
    assert re.search(r"^ +3000 .*\u2013 +\u2013 +\d+$", capsys.readouterr().out, re.MULTILINE)


def test_lines_one_or_both(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = saved(tmp_path, of_lines())
    _, both = swept(capsys, path, *FEW)
    assert [row["line"] for row in both["sweep"]] == ["intake"] * 5 + ["exhaust"] * 5
    _, one = swept(capsys, path, *FEW, "--line", "exhaust")
    assert one["sweep"] == both["sweep"][5:]
    common = saved(tmp_path)
    assert [row["line"] for row in swept(capsys, common, *FEW, "--line", "intake")[1]["sweep"]] == [None] * 5


def test_the_table_in_the_terminal(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["sweep", saved(tmp_path), *FEW])
    told = capsys.readouterr()
    assert re.findall(r"^ +(\d{4})  +[\d.]+  ", told.out, re.MULTILINE) == ["3000", "3250", "3500", "3750", "4000"]
    for word in ("lbf", "ft/s", "deg", "Turns", "Contact lost:", "at the valve", "taken as is typical"):
        assert word in told.out
    assert told.err == ""


def test_the_bands_stand_under_the_table(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    given = ("--from", "6000", "--to", "9000", "--step", "250")
    path = saved(tmp_path)
    _, out = swept(capsys, path, *given)
    (band, *_) = out["loss_bands"]
    assert band["cause"] in {"inertia", "linkage", "surge"}
    lost = [row for row in out["sweep"] if row["contact_lost"]]
    assert lost
    assert all(row["cause"] in {"inertia", "linkage", "surge"} for row in lost)
    assert all(row["least_contact_force_N"] == 0 for row in lost)
    main(["sweep", path, *given])
    assert f"{band['from_rpm']:.0f}" in capsys.readouterr().out


def test_a_csv_has_a_row_for_each_speed(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path, file = saved(tmp_path), tmp_path / "sweep.csv"
    code = main(["sweep", path, *FEW, "--csv", str(file)])
    assert code == main(["check", path])
    assert f"Written: {file}" in capsys.readouterr().out
    with file.open(encoding="utf-8-sig", newline="") as stream:
        head, *rows = list(csv.reader(stream))
    assert tuple(head) == SWEEP_HEAD
    assert [float(row[1]) for row in rows] == pytest.approx([3000, 3250, 3500, 3750, 4000])
    assert {row[0] for row in rows} == {"common"}


def test_the_full_sweep_tells_lobe_and_tip_apart(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path, file = saved(tmp_path), tmp_path / "full.csv"
    _, quick = swept(capsys, path, *FEW)
    _, full = swept(capsys, path, *FEW, "--full")
    assert "slack_bands" not in quick
    assert full["slack_bands"] == []
    more = {"greatest_tip_force_N", "least_tip_force_N", "held_open_m", "plunger_m", "linkage_slack"}
    assert set(full["sweep"][0]) == set(quick["sweep"][0]) | more
    for one, two in zip(quick["sweep"], full["sweep"], strict=True):
        assert two["greatest_contact_force_N"] == pytest.approx(one["greatest_contact_force_N"], rel=0.1)
        assert two["greatest_contact_force_N"] != one["greatest_contact_force_N"]
        assert not two["linkage_slack"]
    main(["sweep", path, *FEW, "--full", "--csv", str(file)])
    with file.open(encoding="utf-8-sig", newline="") as stream:
        head, *rows = list(csv.reader(stream))
    assert tuple(head) == FULL_SWEEP_HEAD
    assert {len(row) for row in rows} == {len(head)}
    assert is_ours(file)
    capsys.readouterr()
    main(["sweep", path, *FEW, "--full"])
    told = capsys.readouterr().out
    assert "at tip" in told
    assert "mass of its own" in told


def test_the_full_sweep_waits_for_the_follower_s_mass(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    bare = moving(gear={"masses": {name: mass for name, mass in MASSES.items() if name != "follower"}})
    code, out = swept(capsys, saved(tmp_path, bare), *FEW, "--full")
    assert code == INCOMPLETE
    assert out["sweep"] == []
    assert out["not_swept"] == [{"line": None, "missing": ["valve_gear.masses.follower"]}]


def test_a_strangers_file_and_the_job_itself_stay(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path, file = saved(tmp_path), tmp_path / "mine.csv"
    file.write_text("a,b\n1,2\n", encoding="utf-8")
    assert main(["sweep", path, *FEW, "--csv", str(file)]) == 2
    assert file.read_text(encoding="utf-8") == "a,b\n1,2\n"
    assert "--force" in capsys.readouterr().err
    assert main(["sweep", path, *FEW, "--csv", str(file), "--force"]) != 2
    assert main(["sweep", path, *FEW, "--csv", str(file)]) != 2, "now it is ours"
    before = Path(path).read_bytes()
    assert main(["sweep", path, *FEW, "--csv", path, "--force"]) == 2
    assert Path(path).read_bytes() == before
    assert main(["sweep", path, *FEW, "--csv", str(tmp_path / "no" / "a.csv")]) == 2


@pytest.mark.parametrize(
    ("given", "said"),
    [
        (("--from", "5000", "--to", "4000"), "is over --to 4000"),
        (("--step", "0"), "--step is 0"),
        (("--step", "-25"), "--step is -25"),
        (("--step", "nan"), "no finite number"),
        (("--to", "inf"), "no finite number"),
        (("--step", "1"), "6001 speeds"),
        (("--from", "0"), "out of range"),
        (("--to", "90000", "--step", "100"), "out of range"),
    ],
)
def test_a_sweep_that_cannot_be_is_bad_input(
    tmp_path: Path, given: tuple[str, ...], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    path = saved(tmp_path)
    assert main(["sweep", path, *given]) == 2
    assert said in capsys.readouterr().err
    code, out = swept(capsys, path, *given)
    assert code == 2
    assert said in out["problems"][0]["what"]
    assert out["sweep"] == []


@pytest.mark.parametrize("given", [("--line", "common"), ("--json", "--csv", "a.csv")])
def test_words_that_are_none_of_the_command(tmp_path: Path, given: tuple[str, ...]) -> None:
    with pytest.raises(SystemExit) as left:
        main(["sweep", saved(tmp_path), *given])
    assert left.value.code == 2


def test_a_job_without_a_lift_names_what_it_waits_for(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path, file = saved(tmp_path, job_with()), tmp_path / "sweep.csv"
    assert main(["check", path]) == 0
    capsys.readouterr()
    assert main(["sweep", path]) == 3
    assert "cannot be swept. It waits for: " in capsys.readouterr().out
    assert main(["sweep", path, "--csv", str(file)]) == 3
    assert "cannot be swept" in capsys.readouterr().err
    assert not file.exists()
    code, out = swept(capsys, path)
    assert (code, out["sweep"]) == (3, [])
    assert out["not_swept"][0]["missing"]


def test_bad_input_and_a_stop_go_before_nothing_to_sweep(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    bad = moving(gear={"lash": "wide"})
    code, out = swept(capsys, saved(tmp_path, bad), *FEW)
    assert (code, out["sweep"], out["problems"][0]["field"]) == (2, [], "valve_gear.lash")
    assert swept(capsys, saved(tmp_path, job_with(loaded(580))), *FEW)[0] == 1
    assert main(["sweep", str(tmp_path / "nowhere.json")]) == 2


@pytest.mark.parametrize(("option", "usual"), [("--from", 2000), ("--to", 8000), ("--step", 25)])
def test_a_speed_that_is_no_number_is_told_in_words(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], option: str, usual: int
) -> None:
    path = saved(tmp_path, moving())
    assert main(["sweep", path, option, "abc"]) == 2
    told = capsys.readouterr()
    expected = f"a number of rpm, such as {option} {usual}"
    assert (told.out, told.err) == ("", f'{option}: "abc" is no speed. (expected: {expected})\n')
    code, out = swept(capsys, path, option, "abc")
    assert (code, out["sweep"]) == (2, [])
    assert f'{option}: "abc" is no speed.' in out["problems"][0]["what"]


def test_a_sweep_may_be_of_one_speed(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = saved(tmp_path, moving())
    code, out = swept(capsys, path, "--from", "5000", "--to", "5000")
    assert (code, len(out["sweep"])) == (0, 1)
    many = swept(capsys, path, "--from", "4000", "--to", "5000", "--step", "500")[1]
    assert out["sweep"][0]["greatest_contact_force_N"] == pytest.approx(
        many["sweep"][-1]["greatest_contact_force_N"], rel=1e-3
    )


def test_speeds_reach_the_last_where_steps_do() -> None:
    told = speeds_asked(2000, 8000, 25) * 30 / np.pi
    assert (told.size, told[0]) == (241, pytest.approx(2000))
    assert told[-1] == pytest.approx(8000)
    assert speeds_asked(1000, 1010, 0.1).size == 101
    assert (speeds_asked(2000, 2110, 50) * 30 / np.pi)[-1] == pytest.approx(2100)
    assert speeds_asked(1000, 4999, 1).size == 4000
    with pytest.raises(InputError):
        speeds_asked(1000, 5000, 1)


class Terminal:
    """Standard error of a person who looks on."""

    def __init__(self) -> None:
        self.text = ""

    def isatty(self) -> bool:
        return True

    def write(self, text: str) -> None:
        self.text += text

    def flush(self) -> None: ...


def test_long_work_tells_how_far_it_is_and_short_work_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    terminal = Terminal()
    monkeypatch.setattr(cli_sweep.sys, "stderr", terminal)
    progress = Progress("Sweeping")
    progress(0.5)
    progress.done()
    assert terminal.text == ""
    progress.began -= 2 * cli_sweep.QUIET_S
    progress(0.5)
    progress(0.502)
    assert terminal.text.count("Sweeping: 50 %") == 1
    progress.done()
    assert terminal.text.endswith(" \r")


def test_work_that_is_stopped_is_no_traceback(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def stop(*_: object, **_more: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("loadbench.cli.swept", stop)
    assert main(["sweep", saved(tmp_path), *FEW]) == 130
    assert capsys.readouterr().err == "Stopped.\n"


def test_the_command_line_stays_light() -> None:
    script = (
        "import sys, loadbench.cli; from loadbench import fully_analysed; "
        "print(sorted({'numba', 'scipy', 'pint', 'openpyxl', 'xlsxwriter', 'PySide6'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True, timeout=60)
    assert done.stdout.strip() == "[]"
    assert "fully_analysed" in loadbench.__all__
