"""A cell's number is the same float that the grammar of typed quantities gives."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.errors import InputError
from loadbench.readings.printout.cells import Decimal
from loadbench.readings.printout.numbers_in import Cell, Converter, NoUnit, is_missing, limits, plain_number
from loadbench.units import Kind, parse

UNITS = {
    Kind.LENGTH: ("in", "mm", "thou", "cm", "m", "ft", "µm"),
    Kind.FORCE: ("lbf", "N", "kgf", "ozf", "kN", "daN", "gf"),
    Kind.RATE: ("lbf/in", "N/mm", "kgf/mm"),
}
kinds_and_units = st.sampled_from([(kind, unit) for kind, units in UNITS.items() for unit in units])
digits = st.text("0123456789", min_size=1, max_size=6)


@given(which=kinds_and_units, whole=digits, after=st.one_of(st.just(""), digits), decimal=st.sampled_from(Decimal))
def test_a_plain_number_is_what_the_grammar_reads(
    which: tuple[Kind, str], whole: str, after: str, decimal: Decimal
) -> None:
    kind, unit = which
    mark = "." if decimal is Decimal.POINT else ","
    read = Converter(kind, unit, decimal).read(f"{whole}{mark}{after}" if after else whole)
    wanted = parse(f"{whole}.{after} {unit}" if after else f"{whole} {unit}", kind, None).value
    held = limits(kind)
    if wanted > held.most or (wanted == 0 and kind is not Kind.FORCE):
        assert isinstance(read, InputError)
        return
    assert isinstance(read, Cell)
    assert read.value == wanted
    assert parse(read.text, kind, None).value == wanted


@given(which=kinds_and_units, value=st.integers(1000, 9_999_999), decimal=st.sampled_from(Decimal), data=st.data())
def test_groups_of_thousands_are_read(
    which: tuple[Kind, str], value: int, decimal: Decimal, data: st.DataObject
) -> None:
    kind, unit = which
    gap = data.draw(st.sampled_from([" ", "'", "," if decimal is Decimal.POINT else "."]))
    read = Converter(kind, unit, decimal).read(f"{value:,}".replace(",", gap))
    wanted = parse(f"{value} {unit}", kind, None).value
    if wanted <= limits(kind).most:
        assert isinstance(read, Cell)
        assert (read.value, parse(read.text, kind, None).value) == (wanted, wanted)


@given(text=st.text("0123456789.,-+ 'e/ablfNmin#\"½*", max_size=12), decimal=st.sampled_from(Decimal))
def test_nothing_but_a_quantity_or_an_error_comes_of_a_cell(text: str, decimal: Decimal) -> None:
    for kind, unit in ((Kind.LENGTH, "in"), (Kind.FORCE, "N"), (Kind.FORCE, None)):
        read = Converter(kind, unit, decimal).read(text.strip())
        if isinstance(read, Cell):
            assert parse(read.text, kind, None).value == read.value
            assert 0 <= read.value <= limits(kind).most
        elif read is not None:
            assert read.what
            assert read.expected


@pytest.mark.parametrize(
    ("text", "decimal", "wanted"),
    [
        ("1,250.5 lbf", Decimal.POINT, ("1250.5", "lbf")),
        ("1.250,5 N", Decimal.COMMA, ("1250.5", "N")),
        ("1,250", Decimal.POINT, ("1250", "")),
        ("1,250", Decimal.COMMA, ("1.250", "")),
        ("150.", Decimal.POINT, ("150", "")),
        (".5", Decimal.POINT, ("0.5", "")),
        ("-3", Decimal.POINT, ("-3", "")),
        ("1.5E2", Decimal.POINT, ("1.5E2", "")),
        ("1.2.3", Decimal.POINT, None),
        ("150,5", Decimal.POINT, None),
        ("x", Decimal.POINT, None),
    ],
)
def test_the_number_that_a_cell_begins_with(text: str, decimal: Decimal, wanted: tuple[str, str] | None) -> None:
    assert plain_number(text, decimal) == wanted


def test_missing_units_and_own_units() -> None:
    bare = Converter(Kind.FORCE, None, Decimal.COMMA)
    assert isinstance(bare.read("150"), NoUnit)
    own = bare.read("1,250 N")
    assert own == Cell(1.25, "1.250 N")
    assert Converter(Kind.FORCE, "lbf", Decimal.POINT).read("150 N") == Cell(150.0, "150 N")
    assert Converter(Kind.LENGTH, "in", Decimal.POINT).read("1 7/8") == Cell(0.047625, "1 7/8 in")
    assert Converter(Kind.LENGTH, "mm", Decimal.POINT).read('1.9"') == Cell(0.04826, '1.9"')


@pytest.mark.parametrize("text", ["", "-", "--", "–", "n/a", "NA", "*", "***", "...", "NaN", "not tested", "?"])  # noqa: RUF001
def test_marks_of_nothing(text: str) -> None:
    assert is_missing(text)
    assert Converter(Kind.FORCE, "N", Decimal.POINT).read(text) is None


@pytest.mark.parametrize("text", ["0", "-1", "#N/A", "150*", "x"])
def test_marks_of_something(text: str) -> None:
    assert not is_missing(text)
