"""The headless face: what it prints, its exit codes, and what it refuses to overwrite."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

import loadbench
from loadbench.cli import main
from loadbench.job.files import save_job
from tests.findings.jobs import job_with, loaded

SAMPLES = Path(loadbench.__file__).parent.parent / "samples"


def saved(folder: Path, changes: Mapping[str, Any] | None = None) -> Path:
    path = folder / "job.loadbench.json"
    save_job(job_with(dict(changes or {})), path)
    return path


def checked(path: Path | str, capsys: pytest.CaptureFixture[str], *options: str) -> tuple[int, dict[str, Any]]:
    code = main(["check", str(path), "--json", *options])
    return code, json.loads(capsys.readouterr().out)


def test_a_clear_job_exits_with_0(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, told = checked(saved(tmp_path), capsys)
    assert code == 0
    assert told["complete"] is True
    assert told["figures"]["seat_load_N"] == pytest.approx(150 * 4.4482216152605, rel=1e-12)
    assert told["figures"]["seat_load_N_U"] is None
    assert told["figures"]["rate_evidence"] == "measured"
    assert told["lines"] == {}


def test_a_stop_exits_with_1(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, told = checked(saved(tmp_path, loaded(580)), capsys)
    assert code == 1
    stops = [finding["id"] for finding in told["findings"] if finding["level"] == "stop"]
    assert stops == ["short-travel-max"]


def test_a_fault_of_value_exits_with_2_and_computes_the_rest(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, told = checked(saved(tmp_path, loaded(580) | {"spring.bind_height": "1.1 furlongs"}), capsys)
    assert code == 2
    assert told["problems"][0]["field"] == "spring.bind_height"
    assert told["figures"]["bind_margin_m"] is None
    assert told["figures"]["open_load_N"] is not None


def test_an_incomplete_job_exits_with_3_only_when_strict(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = saved(tmp_path, {"spring.bind_height": None})
    assert checked(path, capsys)[0] == 0
    code, told = checked(path, capsys, "--strict")
    assert code == 3
    assert told["complete"] is False
    assert "spring.bind_height" in told["missing"]


def test_a_workbook_is_told_to_be_no_job_and_a_missing_folder_is_named(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = saved(tmp_path)
    assert main(["report", str(path), "--xlsx", str(tmp_path / "nowhere" / "o.xlsx")]) == 2
    assert f"there is no folder {tmp_path / 'nowhere'}" in capsys.readouterr().err
    assert main(["report", str(path), "--xlsx", str(tmp_path / "o.xlsx")]) == 0
    capsys.readouterr()
    assert main(["check", str(tmp_path / "o.xlsx")]) == 2
    assert "This is a workbook, not a job." in capsys.readouterr().err


def test_bad_input_goes_before_a_stop_and_a_stop_before_incomplete(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    both = loaded(580) | {"spring.bind_height": None}
    assert checked(saved(tmp_path, both), capsys, "--strict")[0] == 1
    assert checked(saved(tmp_path, both | {"duty.use": "racing"}), capsys, "--strict")[0] == 2


@pytest.mark.parametrize("content", [b"", b"{", b"[]", b'{"format": "other"}', b"\xff\xfe\x00", b"null"])
def test_a_refused_file_prints_its_problems_as_json(
    tmp_path: Path, content: bytes, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "bad.loadbench.json"
    path.write_bytes(content)
    code, told = checked(path, capsys)
    assert code == 2
    assert set(told) == {"problems"}
    assert set(told["problems"][0]) == {"field", "file", "row", "column", "what", "expected"}


def test_a_missing_file_is_told_in_words(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "nowhere.loadbench.json"]) == 2
    assert "There is no such file." in capsys.readouterr().err


def test_lines_stand_apart_and_the_worst_leads(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    exhaust = {"lines.exhaust": {"valve_gear": {"valve_lift": "0.620 in"}}}
    _, told = checked(saved(tmp_path, exhaust), capsys)
    assert set(told["lines"]) == {"intake", "exhaust"}
    apart = {name: line["figures"] for name, line in told["lines"].items()}
    assert told["figures"]["bind_margin_m"] == min(line["bind_margin_m"] for line in apart.values())
    assert told["figures"]["open_load_N"] == max(line["open_load_N"] for line in apart.values())
    assert told["figures"]["net_valve_lift_m"] == apart["exhaust"]["net_valve_lift_m"]


def test_a_line_without_a_figure_is_skipped_and_named(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    exhaust = {"lines.exhaust": {"valve_gear": {"retainer_to_seal": "soon"}}}
    _, told = checked(saved(tmp_path, exhaust), capsys)
    assert told["figures"]["retainer_margin_m"] == told["lines"]["intake"]["figures"]["retainer_margin_m"]
    assert any("exhaust" in name and "retainer" in name for name in told["missing"])


def test_which_margins_are_told_follows_the_lash(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    _, hydraulic = checked(saved(tmp_path), capsys)
    assert "bind_margin_pumped_up_m" in hydraulic["figures"]
    assert "bind_margin_zero_lash_m" not in hydraulic["figures"]
    _, solid = checked(saved(tmp_path, {"follower.family": "roller-solid", "valve_gear.lash": "0.016 in"}), capsys)
    assert solid["figures"]["bind_margin_zero_lash_m"] == pytest.approx(0.200 * 0.0254)
    assert "bind_margin_pumped_up_m" not in solid["figures"]


@pytest.mark.parametrize(
    "name",
    [
        "mild-street-flat-hydraulic",
        "short-travel-hydraulic-roller",
        "solid-roller-1000-lbf",
        "nest-of-three-with-damper",
        "beehive-ovate-wire",
        "polydyne-lobe",
    ],
)
def test_the_samples_are_sound(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    code, told = checked(SAMPLES / f"{name}.loadbench.json", capsys, "--strict")
    assert code == 0, [finding for finding in told["findings"] if finding["level"] == "stop"]
    assert told["problems"] == []


def test_the_bad_sample_opens_and_tells_every_fault(capsys: pytest.CaptureFixture[str]) -> None:
    code, told = checked(SAMPLES / "deliberately-bad.loadbench.json", capsys)
    assert code == 2
    fields = {problem["field"] for problem in told["problems"]}
    expected = {
        "spring.installed_height",
        "spring.rate",
        "valve_gear.lash",
        "cam.kind",
        "duty.use",
        "rules.bind-margin",
    }
    assert expected <= fields


def test_plain_text_names_figures_and_findings(capsys: pytest.CaptureFixture[str]) -> None:
    main(["check", str(SAMPLES / "short-travel-hydraulic-roller.loadbench.json")])
    out = capsys.readouterr().out
    for word in (
        "Seat load",
        "Coil clearance at full lift",
        "axle: needle",
        "WATCH",
        "common practice",
        "qualified engine builder",
    ):
        assert word in out


def test_a_report_never_replaces_a_strangers_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path, book = saved(tmp_path), tmp_path / "book.xlsx"
    book.write_text("mine", encoding="utf-8")
    assert main(["report", str(path), "--xlsx", str(book)]) == 2
    assert book.read_text(encoding="utf-8") == "mine"
    assert "--force" in capsys.readouterr().err
    assert main(["report", str(path), "--xlsx", str(book), "--force"]) == 0
    assert book.read_bytes().startswith(b"PK")
    assert main(["report", str(path), "--xlsx", str(book)]) == 0


def test_a_report_never_replaces_the_job_itself(tmp_path: Path) -> None:
    path = saved(tmp_path)
    before = path.read_bytes()
    assert main(["report", str(path), "--xlsx", str(path), "--force"]) == 2
    assert main(["report", str(path), "--csv", str(path), "--force"]) == 2
    assert path.read_bytes() == before
    disguised = Path(shutil.copy(path, tmp_path / "job.xlsx"))
    assert main(["report", str(disguised), "--xlsx", str(disguised), "--force"]) == 2
    assert disguised.read_bytes() == before


@pytest.mark.parametrize("name", ["foo.txt", "foo.xls", "."])
def test_a_workbook_has_a_workbooks_name(tmp_path: Path, name: str, capsys: pytest.CaptureFixture[str]) -> None:
    path = saved(tmp_path)
    assert main(["report", str(path), "--xlsx", str(tmp_path / name), "--csv", str(tmp_path / "t.csv")]) == 2
    said = capsys.readouterr().err
    assert "no name for a workbook: nothing was written." in said
    assert "ends in .xlsx" in said
    assert [each.name for each in tmp_path.iterdir()] == [path.name]


def test_a_workbooks_suffix_is_added_where_there_is_none(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["report", str(saved(tmp_path)), "--xlsx", str(tmp_path / "book")]) == 0
    assert f"Written: {tmp_path / 'book.xlsx'}" in capsys.readouterr().out
    assert (tmp_path / "book.xlsx").read_bytes().startswith(b"PK")
    (tmp_path / "mine.xlsx").write_text("mine", encoding="utf-8")
    assert main(["report", str(saved(tmp_path)), "--xlsx", str(tmp_path / "mine")]) == 2
    assert (tmp_path / "mine.xlsx").read_text(encoding="utf-8") == "mine"


def test_a_report_tells_the_entries_to_mend_by_name(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = saved(tmp_path, {"duty.use": "racing", "springs": ({"id": "A", "readings": ({"height": "tall"},)},)})
    assert main(["report", str(path), "--csv", str(tmp_path / "t.csv")]) == 2
    said = capsys.readouterr().err.splitlines()
    assert said[0] == "2 entries to mend:"
    assert said[1].startswith('  Use: "racing"')
    assert said[2].startswith("  Spring 1 (A), reading 1, height: No number")


def test_a_report_exits_as_check_does(tmp_path: Path) -> None:
    assert main(["report", str(saved(tmp_path, loaded(580))), "--csv", str(tmp_path / "table.csv")]) == 1
    assert (tmp_path / "table.csv").exists()


def test_a_report_into_a_missing_folder_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["report", str(saved(tmp_path)), "--xlsx", str(tmp_path / "no" / "book.xlsx")]) == 2
    assert "Traceback" not in capsys.readouterr().err


def test_the_command_runs_as_a_module_without_qt(tmp_path: Path) -> None:
    """Windowless: no Qt is loaded, and a closed pipe is no traceback."""
    path = shutil.copy(SAMPLES / "mild-street-flat-hydraulic.loadbench.json", tmp_path)
    script = (
        "import sys; from loadbench.cli import main; code = main(['check', sys.argv[1], '--json']); "
        "heavy = ('PySide6', 'pyqtgraph', 'pint', 'openpyxl'); "
        "assert not [name for name in sys.modules if name.startswith(heavy)]; sys.exit(code)"
    )
    done = subprocess.run(
        [sys.executable, "-c", script, str(path)], capture_output=True, text=True, check=False, timeout=60
    )
    assert done.returncode == 0, done.stderr
    assert json.loads(done.stdout)["complete"] is True
