"""Lift tables from files and pasted text: what is read, what is guessed and told, what is refused with its row."""

from __future__ import annotations

import math
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import loadbench
from loadbench.errors import UnreadableFileError
from loadbench.job.edits import replaced_all
from loadbench.job.model import Job
from loadbench.job.stated import read_stated
from loadbench.motion.lift_table import lift_table
from loadbench.motion.lobe import LawLobe
from loadbench.readings.lift_file import Wishes, read_lift_file, read_lift_text
from loadbench.units import Style

SAMPLES = Path(loadbench.__file__).parent.parent / "samples" / "lobes"
DEG = math.pi / 180
LOBE = LawLobe(law="4-5-6-7", lift=0.010, opening=66 * DEG, closing=70 * DEG)
AT = np.arange(-90.0, 91.0, 3.0)
LIFTS = LOBE(AT * DEG) * 1e3


def lines(
    form: Callable[[float, float], str] = lambda angle, lift: f"{angle:g},{lift:.4f}",
    *,
    angles: np.ndarray = AT,
    head: str = "Cam angle (deg),Lobe lift (mm)",
) -> str:
    return "\n".join([*([head] if head else []), *map(form, angles, LIFTS)]) + "\n"


def replaced(row: int, text: str) -> str:
    """The plain table with another text in one row, counted from 1."""
    rows = lines().splitlines()
    rows[row - 1] = text
    return "\n".join(rows)


# What is read


def test_a_plain_table_is_read_as_a_job_keeps_it() -> None:
    found = read_lift_text(lines())
    assert found.usable
    assert (found.profile_angle, found.profile_side) == ("cam", "lobe")
    assert found.rows[30] == ("0 deg", "10.0000 mm")
    assert (found.told, found.problems, found.faults()) == ((), (), ())
    assert [row.cells for row in found.headers] == [("Cam angle (deg)", "Lobe lift (mm)")]
    assert found.places == tuple(range(2, 63))
    assert found.angles == pytest.approx(AT * DEG, rel=1e-12)
    assert found.lifts == pytest.approx(np.round(LIFTS, 4) / 1e3, rel=1e-12)


def test_the_job_reads_the_rows_to_the_same_values() -> None:
    found = read_lift_text(lines())
    job = replaced_all(Job(title="", units="metric"), {"cam.profile": found.rows})
    values = read_stated(job).values
    assert [values[f"cam.profile.{row}.1"] for row in range(len(found.rows))] == found.lifts.tolist()
    assert [values[f"cam.profile.{row}.0"] for row in range(len(found.rows))] == found.angles.tolist()


@pytest.mark.parametrize("sign", [",", ";", "\t", "|", "   "])
def test_any_separator(sign: str) -> None:
    text = lines(lambda angle, lift: f"{angle:g}{sign}{lift:.4f}", head=f"Cam deg{sign}Lobe lift mm")
    assert read_lift_text(text).rows == read_lift_text(lines()).rows


def test_decimal_commas_in_both_columns() -> None:
    def row(angle: float, lift: float) -> str:
        return f"{angle + 107.5:g};{lift:.3f}".replace(".", ",")

    found = read_lift_text(lines(row, head="Nockenwinkel (°);Nockenhub (mm)"))
    assert found.rows[30] == ("107.5 deg", "10.000 mm")
    assert (found.profile_angle, found.profile_side) == ("cam", "lobe")
    assert found.usable


def test_thousandths_with_a_unit_row_beneath_the_names() -> None:
    text = lines(
        lambda angle, lift: f"{angle:g}\t{lift / 0.0254:.1f}", head="Angle\tLift at the valve\ncrank deg\tthou"
    )
    found = read_lift_text(text)
    assert found.rows[30] == ("0 deg", "393.7 thou")
    assert (found.profile_angle, found.profile_side) == ("crank", "valve")
    assert found.lifts.max() == pytest.approx(0.010, rel=1e-3)


def test_units_in_the_cells_say_which_column_is_which() -> None:
    text = lines(lambda angle, lift: f"{lift / 25.4:.4f} in;{angle:g} deg cam", head="")
    found = read_lift_text(text)
    assert found.rows[30] == ("0 deg", "0.3937 in")
    assert (found.angle_column, found.lift_column, found.profile_angle) == (1, 0, "cam")
    assert found.told == ()


def test_either_end_may_come_first() -> None:
    found = read_lift_text(lines(angles=-AT))
    assert found.rows[0][0] == "90 deg"
    assert found.faults() == ()
    assert any("fall from row to row" in each for each in found.told)
    rising = read_lift_text(lines())
    nose = lift_table(rising.angles, rising.lifts).nose
    assert lift_table(found.angles, found.lifts).nose == pytest.approx(-nose, abs=1e-9)


def test_a_workbook(tmp_path: Path) -> None:
    import openpyxl

    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.append(["An invented lobe"])
    sheet.append(["Crank degrees", "Tappet lift (mm)", "Velocity (mm/deg)"])
    for angle, lift in zip(2 * AT, LIFTS, strict=True):
        sheet.append([float(angle), round(float(lift), 4), 0.1])
    book.save(tmp_path / "lobe 7.xlsx")
    found = read_lift_file(tmp_path / "lobe 7.xlsx")
    assert (found.profile_name, found.profile_angle, found.profile_side) == ("lobe 7", "crank", "lobe")
    assert found.usable
    assert found.faults() == ()
    assert found.places[0] == 3
    assert found.lifts.max() == pytest.approx(0.010)


def test_titles_say_it_where_the_headers_do_not() -> None:
    head = "Cam no. 4, measured at the valve\nin crank degrees\nAngle,Lift (mm)"
    found = read_lift_text(lines(head=head))
    assert (found.profile_angle, found.profile_side) == ("crank", "valve")


# What is guessed is told


def test_what_the_table_does_not_say_is_asked() -> None:
    found = read_lift_text(lines(head="Angle,Lift (mm)"))
    assert (found.profile_angle, found.profile_side) == (None, None)


def test_more_than_a_turn_can_only_be_the_cranks() -> None:
    found = read_lift_text(lines(angles=AT * 2.2, head="Angle,Lift (mm)"))
    assert found.profile_angle == "crank"
    assert any("cover 396 deg" in each for each in found.told)
    assert found.faults() == ()


def test_cam_degrees_that_cover_more_than_a_turn_are_a_fault_with_its_row() -> None:
    (fault,) = read_lift_text(lines(angles=AT * 2.2)).faults()
    assert "covers 396 deg" in fault.what
    assert fault.place.row == 57


def test_no_header_at_all_is_told_line_by_line() -> None:
    found = read_lift_text(lines(head=""), Wishes(style=Style.METRIC))
    assert found.usable
    told = "\n".join(found.told)
    for said in ("column 1 is read as the angle", "column 2 is read as the lift", "read as degrees", "read as mm"):
        assert said in told


def test_without_any_unit_nothing_is_guessed() -> None:
    found = read_lift_text(lines(head="Angle,Lift"))
    assert not found.usable
    (problem,) = found.problems
    assert problem.what == "There is no unit for the lifts."
    assert read_lift_text(lines(head="Angle,Lift"), Wishes(lift_unit="mm")).rows[30][1] == "10.0000 mm"


def test_several_lifts_are_told_and_can_be_chosen() -> None:
    text = lines(lambda a, y: f"{a:g},{y:.3f},{1.5 * y:.3f}", head="Cam deg,Lobe lift (mm),Valve lift (mm)")
    found = read_lift_text(text)
    assert any("Several columns hold lifts" in each for each in found.told)
    other = read_lift_text(text, Wishes(lift_column=2))
    assert (other.rows[30][1], other.profile_side) == ("15.000 mm", "valve")


def test_words_beneath_and_amid_the_table_are_left_out_and_told() -> None:
    found = read_lift_text(replaced(20, "page,two") + "\nGreatest,10.000\nend of the data\n")
    assert found.usable
    assert len(found.rows) == 60
    assert any('row 20 "page two", 63 "Greatest 10.000"' in each for each in found.told)


# What is refused


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("12,1o3", 'The lift "1o3" cannot be read'),
        ("-3o,1.2", 'The angle "-3o" cannot be read'),
        ("12,", "There is no lift."),
        ("12,3.4 lbf", 'The lift "3.4 lbf" cannot be read'),
        ("12", "There is no lift."),
    ],
)
def test_a_cell_that_cannot_be_read_is_told_with_its_row(text: str, what: str) -> None:
    found = read_lift_text(replaced(30, text))
    assert not found.usable
    (problem,) = found.problems
    assert problem.what.startswith(what)
    assert problem.place.row == 30
    assert problem.expected


def test_the_first_row_with_a_slip_is_no_header() -> None:
    (problem,) = read_lift_text(replaced(2, "-90,o.0001")).problems
    assert problem.place.row == 2


def test_too_few_rows() -> None:
    found = read_lift_text("\n".join(lines().splitlines()[:15]))
    assert not found.usable
    (problem,) = found.problems
    assert (problem.what, problem.place.row) == ("The table ends after 14 rows of lift.", 15)
    assert "20" in problem.expected


@pytest.mark.parametrize(
    ("row", "text", "what"),
    [
        (32, "0,10.9", "stands"),
        (40, "21,8", "is there twice"),
        (40, "20,8", "goes back"),
        (32, "0,10000", "a lift of 10 m"),
    ],
)
def test_faults_of_value_are_told_with_the_row_of_the_file(row: int, text: str, what: str) -> None:
    found = read_lift_text(replaced(row, text))
    assert found.usable
    assert any(what in fault.what and fault.place.row == row for fault in found.faults())


@pytest.mark.parametrize(
    ("data", "what"),
    [
        (b"", "The file is empty."),
        (b" \n \n", "There is nothing in it but blanks."),
        (bytes(range(256)) * 20, "The file is not text."),
        (b"\x89PNG\r\n\x1a\n123", "This is a picture"),
        (b"Dear reader,\nthere is no table here.\n", "There is no table of numbers."),
        (b"0.1\n0.2\n0.3\n0.4\n", "There is no table of numbers."),
        (b"PK\x03\x04nonsense", ""),
    ],
)
def test_what_is_no_table_is_refused_in_words(tmp_path: Path, data: bytes, what: str) -> None:
    file = tmp_path / "lobe.csv"
    file.write_bytes(data)
    with pytest.raises(UnreadableFileError) as refused:
        read_lift_file(file)
    assert what in str(refused.value)
    assert "lobe.csv" in str(refused.value)
    assert "expected" in str(refused.value)


def test_a_hundred_megabytes_are_refused_unread(tmp_path: Path) -> None:
    file = tmp_path / "huge.csv"
    with file.open("wb") as stream:
        stream.write(b"Angle,Lift\n")
        stream.truncate(100_000_000)
    with pytest.raises(UnreadableFileError, match="The file has 100 MB"):
        read_lift_file(file)


def test_more_rows_than_any_turn_has() -> None:
    rows = "\n".join(f"{n},{n}.5" for n in range(15_002))
    with pytest.raises(UnreadableFileError, match="15,002 rows"):
        read_lift_text("Cam deg,Lift (mm)\n" + rows)


def test_a_missing_file(tmp_path: Path) -> None:
    with pytest.raises(UnreadableFileError, match="no such file"):
        read_lift_file(tmp_path / "none.csv")


@given(st.text(alphabet="0123456789.,;-+ \t\n°degmincamliftx\"'/", max_size=400))
def test_no_text_gives_anything_but_a_table_or_a_refusal(text: str) -> None:
    try:
        found = read_lift_text(text)
    except UnreadableFileError:
        return
    assert len(found.rows) == len(found.places) == found.angles.size == found.lifts.size
    assert found.usable or found.problems
    found.faults()
