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


@pytest.mark.parametrize("data", [b"", b" \n", bytes(range(256)) * 20])
def test_what_is_expected_is_a_lift_table_and_no_printout(tmp_path: Path, data: bytes) -> None:
    file = tmp_path / "lobe.csv"
    file.write_bytes(data)
    with pytest.raises(UnreadableFileError) as refused:
        read_lift_file(file)
    assert "expected: a lift table" in str(refused.value)
    with pytest.raises(UnreadableFileError, match="expected: a lift table"):
        read_lift_text(" \n")


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


# Tables as people have them


@pytest.mark.parametrize(
    ("header", "worth", "kept", "unit"),
    [
        ("0.001 in", 0.0254e-3, "393.7 thou", "thou"),
        (".001 in", 0.0254e-3, "393.7 thou", "thou"),
        ('0.001"', 0.0254e-3, "393.7 thou", "thou"),
        ("1/1000 in", 0.0254e-3, "393.7 thou", "thou"),
        ("in x 1000", 0.0254e-3, "393.7 thou", "thou"),
        ("thousandths of an inch", 0.0254e-3, "393.7 thou", "thou"),
        ("0.0001 in", 0.0254e-4, "0.39370 in", "in"),
        ("0.01 mm", 1e-5, "10.000 mm", "mm"),
        ("1/100 mm", 1e-5, "10.000 mm", "mm"),
        ("0.001 mm", 1e-6, "10000.0 µm", "µm"),
    ],
)
def test_lifts_in_a_share_of_a_unit(header: str, worth: float, kept: str, unit: str) -> None:
    text = lines(lambda angle, lift: f"{angle:g};{lift / 1e3 / worth:.1f}", head=f"Cam deg;Lobe lift ({header})")
    found = read_lift_text(text, Wishes(style=Style.METRIC))
    assert found.usable
    assert found.rows[30][1] == kept
    assert (found.lift_unit, found.unit_stated) == (unit, True)
    assert found.lifts == pytest.approx(LIFTS / 1e3, abs=worth)
    assert any("they are kept in plain" in each for each in found.told) == (unit in ("in", "mm"))


def test_a_share_of_a_unit_with_decimal_commas() -> None:
    text = lines(lambda a, y: f"{a:g};{y * 100:.1f}".replace(".", ","), head="Cam deg;Lobe lift (0,01 mm)")
    assert read_lift_text(text).lifts == pytest.approx(LIFTS / 1e3, abs=1e-6)


@pytest.mark.parametrize("header", ["Lobe lift (mm), gauge of 0.01 mm", "Lobe lift (mm)", "Lobe lift mm 1"])
def test_what_a_gauge_can_tell_is_no_unit(header: str) -> None:
    text = lines(lambda angle, lift: f"{angle:g};{lift:.3f}", head=f"Cam deg;{header}")
    found = read_lift_text(text)
    assert found.lifts.max() == pytest.approx(0.010)
    assert found.rows[30][1] == "10.000 mm"


def test_a_unit_that_is_chosen_wins_over_a_share() -> None:
    text = lines(lambda a, y: f"{a:g};{y:.3f}", head="Cam deg;Lobe lift (0.001 in)")
    assert read_lift_text(text, Wishes(lift_unit="mm")).rows[30][1] == "10.000 mm"


@pytest.mark.parametrize("dash", ["\u2010", "\u2012", "\u2013", "\u2014", "\u2212"])
def test_a_dash_before_a_number_is_a_minus(dash: str) -> None:
    assert read_lift_text(lines().replace("\n-", f"\n{dash}")).rows == read_lift_text(lines()).rows


def test_a_column_that_counts_the_rows_is_no_angle() -> None:
    count = iter(range(1, 100))
    text = lines(lambda angle, lift: f"{next(count)},{angle:g},{lift:.4f}", head="")
    found = read_lift_text(text, Wishes(lift_unit="mm"))
    assert (found.angle_column, found.lift_column) == (1, 2)
    assert found.rows[30] == ("0 deg", "10.0000 mm")
    assert found.told[:2] == (
        "Column 1 counts the rows.",
        "No header names the angles; column 2 is read as the angle.",
    )
    from_one = lines(lambda angle, lift: f"{angle + 91:g},{lift:.4f}", angles=np.arange(-90, -29.0), head="")
    assert read_lift_text(from_one, Wishes(lift_unit="mm")).angle_column == 0


def test_a_second_column_that_rises_is_no_angle() -> None:
    text = lines(lambda angle, lift: f"{angle:g},{angle / 10 + 12:.2f},{lift:.4f}", head="")
    found = read_lift_text(text, Wishes(lift_unit="mm", lift_column=2))
    assert (found.angle_column, found.lift_column) == (0, 2)


def test_numbers_stay_as_they_are_written() -> None:
    assert read_lift_text(lines(lambda a, y: f"{a:g},{y:.3e}")).rows[30][1] == "1.000e+01 mm"


def test_each_of_two_lobes_beside_each_other_has_its_own_angles() -> None:
    head = "Cam deg,Intake lobe lift (mm),Cam deg,Exhaust lobe lift (mm)"
    text = lines(lambda a, y: f"{a:g},{y:.4f},{a + 110:g},{0.9 * y:.4f}", head=head)
    first, second = read_lift_text(text), read_lift_text(text, Wishes(lift_column=3))
    assert (first.angle_column, first.lift_column) == (0, 1)
    assert (second.angle_column, second.lift_column) == (2, 3)
    assert second.rows[30] == ("110 deg", "9.0000 mm")


@pytest.mark.parametrize(
    "remark", ["Duration at 0.050,110", "Max lift,10.0", "# at most 10, at 0", "// 10,0", "Nose at,0,10.0"]
)
def test_a_remark_with_numbers_beneath_the_table_is_left_out_and_told(remark: str) -> None:
    found = read_lift_text(lines() + "\n" + remark + "\n")
    assert found.usable
    assert found.rows == read_lift_text(lines()).rows
    assert any("Left out, as they are no readings: row 64" in each for each in found.told)


@pytest.mark.parametrize("text", ["abc,3.4", "nan,3.4", "#REF!,3.4", "o,3.4"])
def test_an_angle_that_cannot_be_read_amid_the_table_is_no_remark(text: str) -> None:
    (problem,) = read_lift_text(replaced(30, text)).problems
    assert (problem.place.row, problem.place.column) == (30, 1)


def test_faults_name_the_file_the_row_and_the_column(tmp_path: Path) -> None:
    file = tmp_path / "lobe.csv"
    file.write_text(replaced(32, "0,10.9").replace("\n", "\nx,").replace("Cam", "no,Cam", 1), encoding="utf-8")
    (fault,) = read_lift_file(file).faults()
    assert (fault.place.file, fault.place.row, fault.place.column) == ("lobe.csv", 32, 3)
    (fault,) = read_lift_text(replaced(40, "21,6.5")).faults()
    assert (fault.place.row, fault.place.column) == (40, 1)


def test_the_sheet_with_the_lobe_is_found_and_told(tmp_path: Path) -> None:
    import openpyxl

    book = openpyxl.Workbook()
    springs = book.active
    assert springs is not None
    springs.title = "Springs"
    springs.append(["Spring", "Height (in)", "Load (lbf)"])
    for number in range(30):
        springs.append([number, 1.9 - 0.01 * number, 100 + number])
    book.create_sheet("Empty")
    sheet = book.create_sheet("Cam")
    sheet.append(["Cam deg", "Lobe lift (mm)"])
    for angle, lift in zip(AT, LIFTS, strict=True):
        sheet.append([float(angle), round(float(lift), 4)])
    book.save(tmp_path / "all.xlsx")
    found = read_lift_file(tmp_path / "all.xlsx")
    assert (found.grid.sheet, len(found.rows), found.faults()) == ("Cam", 61, ())
    assert found.told == ('The sheet "Cam" is read, not "Springs", "Empty".',)
    assert read_lift_file(tmp_path / "all.xlsx", Wishes(style=Style.METRIC), sheet="Springs").grid.sheet == "Springs"


def test_formulas_without_results_are_told_as_such(tmp_path: Path) -> None:
    import openpyxl

    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.append(["Cam deg", "Lobe lift (mm)"])
    for angle, lift in zip(AT, LIFTS, strict=True):
        sheet.append([float(angle), f"={lift}*1"])
    book.save(tmp_path / "formulas.xlsx")
    with pytest.raises(UnreadableFileError, match="row 2: A formula has no stored result"):
        read_lift_file(tmp_path / "formulas.xlsx")


def test_angles_that_start_again_do_not_fall() -> None:
    text = lines(lambda angle, lift: f"{angle % 360:g},{lift:.4f}")
    found = read_lift_text(text)
    assert found.faults() == ()
    assert found.told == ()
    outcome = found.outcome()
    assert outcome is not None
    assert outcome.told == ("The angles start again at 0 deg in row 32; they are counted on from there.",)


def test_what_a_job_makes_of_a_table() -> None:
    rng = np.random.default_rng(1)
    angles = np.arange(-90.0, 91.0)
    lifts = LOBE(angles * DEG) * 1e3 + 0.01 * rng.normal(size=angles.size)
    rows = [f"{angle:g},{lift:.4f}" for angle, lift in zip(angles, lifts, strict=True)]
    found = read_lift_text("\n".join(["made up", "Cam deg,Lobe lift (mm)", *rows]))
    outcome = found.outcome("cam")
    assert outcome is not None
    assert outcome.rms == pytest.approx(1e-5, rel=0.2)
    assert outcome.rms < outcome.greatest < 5 * outcome.rms
    assert 3 <= outcome.row <= 183
    assert (outcome.told, outcome.kinks) == ((), ())
    slipped = lifts.copy()
    slipped[60] += 0.06
    rows[60] = f"{angles[60]:g},{slipped[60]:.4f}"
    slip = read_lift_text("\n".join(["made up", "Cam deg,Lobe lift (mm)", *rows])).outcome()
    assert slip is not None
    assert 63 in slip.kinks
    assert slip.row == 63
    assert read_lift_text(lines()).outcome("crank") is not None
    assert read_lift_text(replaced(32, "0,10.9")).outcome() is None


def test_what_the_file_tells_is_not_told_again() -> None:
    found = read_lift_text(lines(angles=-AT))
    outcome = found.outcome()
    assert outcome is not None
    assert any("fall from row to row" in line for line in found.told)
    assert outcome.told == ()


def test_no_kink_is_named_in_a_coarse_table() -> None:
    from loadbench.motion.smoothing import smooth

    sharp = LawLobe(law="constant-acceleration", lift=0.010, opening=60 * DEG, closing=60 * DEG)
    kinks = []
    for step in (1.0, 3.0):
        at = np.arange(-90.0, 91.0, step)
        lifts = sharp(at * DEG)
        assert smooth(at * DEG, lifts).kinks
        rows = [f"{angle:g},{lift * 1e3:.5f}" for angle, lift in zip(at, lifts, strict=True)]
        outcome = read_lift_text("\n".join(["Cam deg,Lobe lift (mm)", *rows])).outcome()
        assert outcome is not None
        kinks.append(bool(outcome.kinks))
    assert kinks == [True, False]
