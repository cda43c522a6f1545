"""The words of a header cell: meaning, part, height, unit."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.readings.printout.headers import note_of_word, read_header, unit_of_word
from loadbench.readings.printout.meaning import Meaning
from loadbench.readings.printout.spring_names import heading
from loadbench.readings.printout.words import direction_meant, part_meant, sums_up
from loadbench.units import Kind

M = Meaning


@pytest.mark.parametrize(
    ("text", "meaning"),
    [
        *[(word, M.SPRING) for word in ("Spring", "Spring No.", "#", "No", "Nr.", "N°", "ID", "Feder-Nr", "Ressort")],
        *[(word, M.HEIGHT) for word in ("Height", "Height in", "H1", "Länge", "Hoehe", "hauteur (mm)", "Altura", "mm")],
        *[(word, M.LOAD) for word in ("Load", "Force in N", "Seat pressure", "Kraft", "Carga", "F2", "Seat", "lbf")],
        *[(word, M.RATE) for word in ("Rate", "Spring rate (lbf/in)", "lb per in", "k", "Federrate", "stiffness N/mm")],
        *[(word, M.REPEAT) for word in ("Repeat", "Run", "Trial no.", "Test", "Wiederholung", "Reading no")],
        *[(word, M.DIRECTION) for word in ("Direction", "Dir", "Richtung")],
        *[(word, M.MARK) for word in ("Mark", "Bin", "Colour")],
        *[(word, M.UNIT) for word in ("Unit", "Load unit", "Einheit")],
        *[(word, M.NOTHING) for word in ("Date", "Free height (in)", "Load deviation", "Part no.", "Pass/Fail")],
        ("Part", M.PART),
        ("zxq", None),
        ("", None),
    ],
)  # fmt: skip
def test_a_header_has_its_meaning(text: str, meaning: Meaning | None) -> None:
    assert read_header(text).meaning is meaning


@pytest.mark.parametrize(
    ("text", "number", "height_unit", "load_unit", "part"),
    [
        ("1.900 in", "1.900", "in", None, ""),
        ("lbf @ 1.900", "1.900", None, "lbf", ""),
        ("Load at 48.3 mm (N)", "48.3", "mm", "N", ""),
        ("Load (lbf) @ 1.900 (in)", "1.900", "in", "lbf", ""),
        ("Seat 1.900", "1.900", None, None, ""),
        ('Open pressure @ 1.250" (lbs)', "1.250", "in", "lbf", ""),
        ("outer 1.900", "1.900", None, None, "outer"),
        ("Innenfeder F 48 mm", "48", "mm", None, "inner"),
        ("Kraft bei 48,3mm [N]", "48,3", "mm", "N", ""),
        ("Outer + inner at 40 mm", "40", "mm", None, "pair"),
        ("F1 [N]\n48.3 mm", "48.3", "mm", "N", ""),
        ("1.900\nlbf", "1.900", None, "lbf", ""),
        ("# @ 1.900", "1.900", None, "lbf", ""),
        ("N @ 40 mm", "40", "mm", "N", ""),
    ],
)
def test_a_header_names_height_units_and_part(
    text: str, number: str, height_unit: str | None, load_unit: str | None, part: str
) -> None:
    read = read_header(text)
    assert (read.number, read.number_unit, read.units.get(Kind.FORCE), read.part) == (
        number,
        height_unit,
        load_unit,
        part,
    )
    assert not read.unknown


@pytest.mark.parametrize(
    ("text", "order"), [("F1", "1"), ("Load 2", "2"), ("Seat load", "seat"), ("Open height", "open")]
)
def test_what_pairs_a_load_with_its_height(text: str, order: str) -> None:
    assert (read_header(text).order, read_header(text).number) == (order, "")


def test_what_is_said_of_the_rest() -> None:
    assert read_header("Max load (N)").derived
    assert read_header("Load cell 2000 lb").unknown
    assert read_header("Load @ 0.650 lift (lbf)").number == ""
    assert read_header("Unloading 40 mm (N)").direction == "unloading"
    assert read_header("x" * 500).meaning is None
    assert "kilogram" in read_header("Load (kg)").note
    assert unit_of_word("[lbs]") == (Kind.FORCE, "lbf")
    assert unit_of_word("rpm") is None
    assert note_of_word("kg", Kind.FORCE)
    assert not note_of_word("N", Kind.FORCE)


@given(st.text(max_size=90))
def test_any_text_can_stand_in_a_header(text: str) -> None:
    read_header(text)
    heading(text)
    sums_up(text)
    if text:
        part_meant(text)


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("Spring 7", ("7", "")),
        ("Spring no. S-07", ("S-07", "")),
        ("Spring: 7, outer", ("7", "outer")),
        ("Feder Nr. 12", ("12", "")),
        ("Spring A", ("A", "")),
        ("Spring rate", None),
        ("Spring test of 4 May", None),
        ("7", None),
    ],
)
def test_a_heading_names_a_spring(text: str, found: tuple[str, str] | None) -> None:
    assert heading(text) == found


def test_a_bare_number_is_a_heading_only_where_it_may_be() -> None:
    assert heading("7", bare=True) == ("7", "")
    assert heading("Page 7 of 9", bare=True) is None


@pytest.mark.parametrize(
    "text", ["Average", "AVG:", "Std dev", "Std. Dev.", "Max load", "Mean of all springs", "Mittelwert", "USL"]
)
def test_a_row_that_sums_up(text: str) -> None:
    assert sums_up(text)


@pytest.mark.parametrize("text", ["S07", "7", "Max 3 springs tested", "mark", ""])
def test_a_row_that_does_not(text: str) -> None:
    assert not sums_up(text)


def test_words_of_parts_and_directions() -> None:
    said = ("Outer", "o", "INNER", "Außen", "outer & inner", "O+I", "Pair", "damper")
    assert [part_meant(text) for text in said] == ["outer", "outer", "inner", "outer", "pair", "pair", "pair", "damper"]
    assert [direction_meant(text) for text in ("Loading", "release", "down", "sideways")] == [
        ("loading", True),
        ("unloading", True),
        ("loading", False),
        None,
    ]
