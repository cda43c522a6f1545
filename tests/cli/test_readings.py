"""`loadbench readings`: what it prints of a printout, by what, its exit codes, and what it refuses in words."""

from __future__ import annotations

import json
import os
import struct
import subprocess
import sys
import time
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from loadbench.cli import main
from loadbench.job.files import save_job
from loadbench.job.kept_parts import PrintoutColumn, Recipe
from loadbench.readings.printout.recipe_shelf import keep_recipe, shelf_path
from tests.findings.jobs import job_with

LBF, INCH = 4.4482216152605, 0.0254
SLIP = "Spring,1.900 in,1.250 in\n,lbf,lbf\n1,150,420\n2,151,422\n3,149,418\n"
BARE = "Spring,Seat 1.900,Open 1.250\n1,150,420\n2,151,422\n"
SECONDS = 1.0


def written(folder: Path, content: str | bytes, name: str = "slip.csv") -> Path:
    path = folder / name
    path.write_bytes(content.encode() if isinstance(content, str) else content)
    return path


def saved(folder: Path, changes: dict[str, Any] | None = None) -> str:
    path = folder / "job.loadbench.json"
    save_job(job_with(changes), path)
    return str(path)


def read(path: Path, capsys: pytest.CaptureFixture[str], *options: str) -> tuple[int, dict[str, Any]]:
    code = main(["readings", str(path), "--json", *options])
    return code, json.loads(capsys.readouterr().out)


def plain(path: Path, capsys: pytest.CaptureFixture[str], *options: str) -> tuple[int, str]:
    code = main(["readings", str(path), *options])
    said = capsys.readouterr()
    return code, (said.out + said.err).replace("\u2009", " ")


# What is refused though it can be opened


def test_our_own_workbook_and_job_are_no_printouts(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job, book = saved(tmp_path), tmp_path / "report.xlsx"
    assert main(["report", job, "--xlsx", str(book)]) == 0
    capsys.readouterr()
    for path, said in ((book, "This is LoadBench's own workbook"), (Path(job), "This is a LoadBench job")):
        code, told = read(path, capsys)
        assert (code, told["springs"]) == (2, [])
        assert said in told["problems"][0]["what"]
        assert told["problems"][0]["expected"] == "the tester's printout itself"


# What is printed


def test_the_keys_are_those_that_scripts_rely_on(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, told = read(written(tmp_path, SLIP), capsys)
    assert code == 0
    assert {"columns", "springs", "flags", "problems"} <= set(told)
    assert (
        told["columns"][1] | {"header": "1.900 in", "understood": "load", "unit": "lbf", "sure": True}
        == (told["columns"][1])
    )
    spring = told["springs"][0]
    assert (spring["id"], spring["flags"]) == ("1", [])
    assert {"part": "", "height_m": 1.9 * INCH, "load_N": 150 * LBF, "repeat": 1}.items() <= (
        spring["readings"][0].items()
    )
    assert spring["rate_N_per_m"] == pytest.approx(270 * LBF / (0.65 * INCH), rel=1e-12)
    assert spring["rate_N_per_m_U"] is None  # two readings and no tester stated


def test_a_flag_has_its_place_and_its_rule(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    falls = SLIP + "4,150,140\n"
    code, told = read(written(tmp_path, falls), capsys)
    assert code == 0
    (flag,) = told["flags"]
    assert {"spring": "4", "kind": "not-rising", "row": 6, "column": 3}.items() <= flag.items()
    assert "140\u2009lbf at 1.250\u2009in after 150\u2009lbf at 1.900\u2009in" in flag["sentence"]
    assert told["springs"][3]["flags"] == ["not-rising"]


def test_members_apart_have_their_own_rates_and_a_pair_is_the_whole(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rows = ["Spring\tPart\tHeight (in)\tLoad (lbf)"]
    for part, tall, short in (("outer", 100, 250), ("inner", 40, 110), ("pair", 140, 360)):
        rows += [f"1\t{part}\t1.900\t{tall}", f"1\t{part}\t1.400\t{short}"]
    _, apart = read(written(tmp_path, "\n".join(rows[:5])), capsys)
    assert apart["springs"][0]["rate_N_per_m"] is None
    rates = {part["part"]: part["rate_N_per_m"] for part in apart["springs"][0]["parts"]}
    assert rates == pytest.approx({"outer": 300 * LBF / INCH, "inner": 140 * LBF / INCH}, rel=1e-9)
    _, whole = read(written(tmp_path, "\n".join(rows)), capsys)
    assert whole["springs"][0]["rate_N_per_m"] == pytest.approx(440 * LBF / INCH, rel=1e-9)
    code, text = plain(written(tmp_path, "\n".join(rows[:5])), capsys)
    assert code == 0
    assert "outer 300 lbf/in; inner 140 lbf/in" in text


def test_a_bad_cell_costs_its_reading_and_the_rest_is_printed(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = written(tmp_path, SLIP.replace("151", "1o1"))
    code, told = read(path, capsys)
    assert code == 2
    (problem,) = told["problems"]
    assert {"file": "slip.csv", "row": 4, "column": 2}.items() <= problem.items()
    assert [len(spring["readings"]) for spring in told["springs"]] == [2, 1, 2]
    assert told["missing"] == [{"spring": "2", "part": "", "height_m": pytest.approx(1.9 * INCH), "row": 4}]
    code, text = plain(path, capsys)
    assert code == 2
    assert 'slip.csv, row 4, column 2: The load "1o1" cannot be read' in text
    assert "No load at 1.900 in: spring 2." in text


def test_a_person_reads_columns_springs_and_what_is_unsure(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job = saved(tmp_path)
    code, text = plain(written(tmp_path, BARE), capsys, "--job", job)
    assert code == 0
    assert "slip.csv: 2 springs, 4 readings: one row a spring, columns parted by commas" in text
    assert "load at 1.900 in, lbf (taken from the job)" in text
    assert "not sure: " in text
    assert "415 lbf/in" in text
    assert "No reading is doubtful by its statistics." in text


def test_a_control_character_does_not_reach_the_terminal(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    _, text = plain(written(tmp_path, SLIP.replace("Spring", "Spring\x1b[31m")), capsys)
    assert "\x1b" not in text


# By a job


def test_without_a_unit_it_is_a_problem_and_a_job_gives_one(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = written(tmp_path, BARE)
    code, told = read(path, capsys)
    assert code == 2
    assert any("unit" in problem["what"] for problem in told["problems"])
    assert not any(spring["readings"] for spring in told["springs"])
    code, told = read(path, capsys, "--job", saved(tmp_path))
    assert (code, told["problems"]) == (0, [])
    assert told["columns"][1]["assumed"] is True
    assert told["springs"][0]["readings"][0]["load_N"] == pytest.approx(150 * LBF)


def test_the_jobs_tester_gives_the_uncertainty(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job = saved(tmp_path, {"tester.load_repeatability": "1 lbf", "tester.load_accuracy_percent": 1.0})
    _, told = read(written(tmp_path, SLIP), capsys, "--job", job)
    # GUM 5.1.2: two readings 0.650 in apart, u = 1/sqrt 3 lbf each, and 1 % of the rate as a rectangular half-width.
    rate = 270 / 0.65
    anew = 2 * (1 / 3**0.5) * 2**0.5 / 0.65
    gain = 2 * 0.01 * rate / 3**0.5
    assert told["springs"][0]["rate_N_per_m_U"] == pytest.approx((anew**2 + gain**2) ** 0.5 * LBF / INCH, rel=1e-9)


def test_the_jobs_sheet_tells_a_tester_that_is_off(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    loads = [(150 + i, 420 + 2.8 * i) for i in (-1.5, -1, -0.5, 0, 0.2, 0.7, 1.1, 1.6)]
    rows = [f"{i + 1},{tall + 12:.1f},{short + 12:.1f}" for i, (tall, short) in enumerate(loads)]
    path = written(tmp_path, "Spring,1.900 in,1.250 in\n,lbf,lbf\n" + "\n".join(rows))
    spec = ({"height": "1.900 in", "load": "150 lbf"}, {"height": "1.250 in", "load": "420 lbf"})
    assert read(path, capsys)[1]["flags"] == []
    _, told = read(path, capsys, "--job", saved(tmp_path, {"spring.spec": spec}))
    assert [flag["kind"] for flag in told["flags"]] == ["tester-zero"]
    assert (told["flags"][0]["spring"], told["flags"][0]["row"]) == (None, None)


def test_a_fault_in_what_the_job_gives_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job = saved(tmp_path, {"tester.load_repeatability": "a bit", "spring.bind_height": "low"})
    code, told = read(written(tmp_path, SLIP), capsys, "--job", job)
    assert code == 2
    assert [problem["field"] for problem in told["problems"]] == ["tester.load_repeatability"]
    assert told["springs"][0]["rate_N_per_m"] is not None
    assert told["springs"][0]["rate_N_per_m_U"] is None


def test_a_job_that_cannot_be_opened_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, told = read(written(tmp_path, SLIP), capsys, "--job", str(tmp_path / "none.loadbench.json"))
    assert code == 2
    assert told["problems"][0]["file"] == "none.loadbench.json"


def test_metric_jobs_are_told_in_metric(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    _, text = plain(written(tmp_path, SLIP), capsys, "--job", saved(tmp_path, {"units": "metric"}))
    assert "N/mm" in text


# By a recipe

TURNED = Recipe(
    name="Two presses",
    columns=(
        PrintoutColumn(header="A", place=0, meaning="spring"),
        PrintoutColumn(header="B", place=1, meaning="load", height="1.900 in", unit="lbf"),
        PrintoutColumn(header="C", place=2, meaning="load", height="1.250 in", unit="lbf"),
    ),
)
CODED = "A;B;C\n1;150;420\n2;151;422\n"


def test_a_recipe_of_the_job_is_found_by_its_name_and_by_its_headers(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path, job = written(tmp_path, CODED), saved(tmp_path, {"recipes": (TURNED.model_dump(),)})
    assert read(path, capsys)[0] == 2
    for options in (("--recipe", "Two presses"), ("--recipe", " two PRESSES"), ()):
        code, told = read(path, capsys, "--job", job, *options)
        assert (code, told["problems"]) == (0, [])
        assert told["file"]["recipe"] == "Two presses"
        assert told["springs"][1]["readings"][1]["load_N"] == pytest.approx(422 * LBF)
    assert 'by the recipe "Two presses"' in plain(path, capsys, "--job", job)[1]
    assert read(written(tmp_path, SLIP), capsys, "--job", job)[1]["file"]["recipe"] is None


def test_a_recipe_of_the_shelf_is_found_by_its_name_alone(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    keep_recipe(TURNED)
    path = written(tmp_path, CODED)
    assert read(path, capsys)[0] == 2
    code, told = read(path, capsys, "--recipe", "Two presses")
    assert (code, told["file"]["recipe"]) == (0, "Two presses")


def test_the_recipe_of_the_job_comes_before_the_shelf(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    other = TURNED.columns[1].model_copy(update={"unit": "N"})
    keep_recipe(TURNED.model_copy(update={"columns": (TURNED.columns[0], other, TURNED.columns[2])}))
    job = saved(tmp_path, {"recipes": (TURNED.model_dump(),)})
    told = read(written(tmp_path, CODED), capsys, "--job", job, "--recipe", "Two presses")[1]
    assert told["columns"][1]["unit"] == "lbf"


def test_an_unknown_recipe_names_those_there_are(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = written(tmp_path, CODED)
    code, told = read(path, capsys, "--recipe", "Bench")
    assert code == 2
    assert "none is kept yet" in told["problems"][0]["expected"]
    keep_recipe(TURNED)
    job = saved(tmp_path, {"recipes": (TURNED.model_copy(update={"name": "Old"}).model_dump(),)})
    code, text = plain(path, capsys, "--job", job, "--recipe", "Bench")
    assert code == 2
    assert 'There is no recipe "Bench"' in text
    assert "one of: Old, Two presses" in text


def test_a_damaged_shelf_is_told_and_left_as_it_is(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    shelf_path().parent.mkdir(parents=True, exist_ok=True)
    shelf_path().write_text("{", encoding="utf-8")
    code, told = read(written(tmp_path, CODED), capsys, "--recipe", "Two presses")
    assert code == 2
    assert told["problems"][0]["file"] == shelf_path().name
    assert shelf_path().read_text(encoding="utf-8") == "{"
    assert read(written(tmp_path, SLIP), capsys)[0] == 0  # it was not asked for


def test_a_recipe_that_says_another_separator_is_taken_at_its_word(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    keep_recipe(TURNED.model_copy(update={"separator": "bar"}))
    code, told = read(written(tmp_path, "A|B,|C,\n1|150|420\n2|151|422\n"), capsys, "--recipe", "Two presses")
    assert told["file"]["separator"] == "bar"
    assert code == 2  # its columns B and C are named otherwise here
    assert read(written(tmp_path, CODED), capsys, "--recipe", "Two presses")[1]["file"]["separator"] == "semicolon"


# What is refused, and how quickly


def png() -> bytes:
    return b"\x89PNG\r\n\x1a\n" + struct.pack(">I", 13) + b"IHDR" + bytes(64)


def bomb(path: Path) -> None:
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as archive:
        archive.writestr("[Content_Types].xml", "<Types/>")
        archive.writestr("xl/workbook.xml", "<workbook/>")
        archive.writestr("xl/worksheets/sheet1.xml", bytes(80_000_000))


def macro_book(path: Path) -> None:
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("[Content_Types].xml", "<Types/>")
        archive.writestr("xl/workbook.xml", "<workbook/>")
        archive.writestr("xl/vbaProject.bin", "x")


def sparse(path: Path) -> None:
    with path.open("wb") as stream:
        stream.write(SLIP.encode())
        stream.truncate(200_000_000)


BAD: dict[str, tuple[Callable[[Path], object], str]] = {
    "empty.csv": (lambda path: path.write_bytes(b""), "The file is empty."),
    "blanks.txt": (lambda path: path.write_bytes(b"  \n\n \t\n"), "nothing in it but blanks"),
    "binary.dat": (lambda path: path.write_bytes(os.urandom(4000) + bytes(50)), "expected: a printout as text"),
    "photo.csv": (lambda path: path.write_bytes(png()), "This is a picture"),
    "large.csv": (sparse, "The file has 200 MB."),
    "bomb.xlsx": (bomb, "would unpack to"),
    "macros.xlsx": (macro_book, "This is a workbook with macros."),
    "cut.xlsx": (lambda path: path.write_bytes(b"PK\x03\x04" + bytes(30)), "damaged or cut short"),
    "letter.txt": (lambda path: path.write_text("Dear builder,\nthe springs are late.\n"), "expected: "),
    "folder.csv": (Path.mkdir, "This is a folder."),
    "nowhere.csv": (lambda path: None, "There is no such file."),
}


@pytest.mark.parametrize("name", BAD)
def test_what_is_no_printout_is_refused_in_words(name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    make, words = BAD[name]
    path = tmp_path / name
    make(path)
    begun = time.perf_counter()
    code, text = plain(path, capsys)
    assert time.perf_counter() - begun < SECONDS
    assert code == 2
    assert name in text
    assert words in text
    assert "Traceback" not in text
    code, told = read(path, capsys)
    assert code == 2
    assert told["problems"][0]["file"] == name
    assert told["problems"][0]["expected"]


@pytest.mark.parametrize(
    ("content", "row", "column", "words"),
    [
        (SLIP + "4,150\n5,150,420,7,8\n", 7, 4, "This row has 5 cells where the header has 3."),
        (SLIP.replace("151,422", "good,422"), 4, 2, 'The load "good" cannot be read'),
        (SLIP.replace("151,422", "-151,422"), 4, 2, "-151"),
    ],
    ids=["ragged", "text", "below zero"],
)
def test_a_fault_in_a_row_is_told_with_its_place(
    content: str, row: int, column: int, words: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    begun = time.perf_counter()
    code, told = read(written(tmp_path, content), capsys)
    assert time.perf_counter() - begun < SECONDS
    assert code == 2
    found = {(problem["row"], problem["column"]): problem["what"] for problem in told["problems"]}
    assert words in found[row, column]
    assert all(problem["file"] == "slip.csv" for problem in told["problems"])
    assert sum(len(spring["readings"]) for spring in told["springs"]) >= 5


def test_ten_thousand_rows_are_read_whole(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    rows = [f"{i},{150 + i % 7},{420 + i % 11}" for i in range(1, 10_001)]
    path = written(tmp_path, "Spring,1.900 in,1.250 in\n,lbf,lbf\n" + "\n".join(rows))
    _, told = read(path, capsys)
    assert len(told["springs"]) == 10_000


def test_it_runs_without_a_window(tmp_path: Path) -> None:
    path = written(tmp_path, SLIP)
    script = (
        "import sys; from loadbench.cli import main; code = main(['readings', sys.argv[1], '--json']); "
        "heavy = ('PySide6', 'pyqtgraph', 'pint', 'openpyxl'); "
        "assert not [name for name in sys.modules if name.startswith(heavy)]; sys.exit(code)"
    )
    done = subprocess.run(
        [sys.executable, "-c", script, str(path)], capture_output=True, text=True, check=False, timeout=60
    )
    assert done.returncode == 0, done.stderr
    assert len(json.loads(done.stdout)["springs"]) == 3


def test_a_refused_file_has_the_shape_of_one_that_was_read(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, told = read(written(tmp_path, ""), capsys)
    assert code == 2
    assert (told["columns"], told["springs"], told["flags"]) == ([], [], [])
    assert told["problems"]
