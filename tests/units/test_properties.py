"""What holds for every entry: round trips, comma like point, no text that breaks the grammar."""

# ruff: noqa: RUF001 - the look-alikes are what is tested

from __future__ import annotations

import time
from fractions import Fraction

import pytest
from hypothesis import example as case
from hypothesis import given, settings
from hypothesis import strategies as st

from loadbench.errors import AmbiguousEntry, InputError
from loadbench.units import (
    Kind,
    Parsed,
    Style,
    display_unit,
    from_display,
    nudged,
    parse,
    parse_thread,
    tell,
    to_display,
    unit_words,
    with_unit,
)

THREE_DIGITS = {Kind.INERTIA, Kind.DAMPING, Kind.TIME, Kind.LIFE, Kind.PV, Kind.VISCOSITY, Kind.POWER}
kinds = st.sampled_from(Kind)
styles = st.sampled_from(Style)
sizes = st.floats(min_value=1e-6, max_value=1e6) | st.floats(min_value=-1e6, max_value=-1e-6) | st.just(0.0)
ALPHABET = "0123456789 .,'/+-−½⅞eEin#\"lbfNmgk°CFrpda·²^*x±\u2009\u202f\u00a0"
garbage = st.text(max_size=60) | st.text(alphabet=ALPHABET, max_size=45)


@given(text=garbage, kind=kinds, style=styles | st.none())
@settings(max_examples=1500, deadline=None)
@case(text="1e99999999", kind=Kind.LENGTH, style=Style.METRIC)
@case(text="1" + " 1" * 19 + "x", kind=Kind.LENGTH, style=None)
@case(text="1,111" * 8, kind=Kind.LENGTH, style=None)
@case(text="1 111" * 8, kind=Kind.RATE, style=None)
@case(text="1'111" * 8, kind=Kind.RATE, style=None)
@case(text=" " * 39 + "1", kind=Kind.RATE, style=None)
@case(text="1" + " " * 38 + "1", kind=Kind.LENGTH, style=None)
@case(text="\ud800", kind=Kind.LENGTH, style=None)
def test_any_text_is_read_or_told_and_soon(text: str, kind: Kind, style: Style | None) -> None:
    start = time.perf_counter()
    outcome = _read(text, kind, style)
    assert time.perf_counter() - start < 0.5
    if isinstance(outcome, InputError):
        assert outcome.what
        assert outcome.expected
        str(outcome).encode()  # can be written anywhere
    else:
        assert abs(outcome.value) < float("inf")
        assert any(ch.isnumeric() for ch in text)
        assert len(text.strip()) <= 40


def _read(text: str, kind: Kind, style: Style | None) -> Parsed | InputError:
    try:
        return parse(text, kind, style)
    except InputError as error:
        return error


@given(text=garbage, kind=kinds, style=styles, steps=st.integers(-100, 100))
@settings(max_examples=800, deadline=None)
def test_any_text_can_be_stepped_or_stored_or_is_told(text: str, kind: Kind, style: Style, steps: int) -> None:
    try:
        stored = with_unit(text, kind, style)
        moved = nudged(text, kind, style, steps)
    except InputError:
        return
    assert with_unit(stored, kind, style) == stored
    parse(moved, kind, style)


@given(text=garbage | st.text(alphabet='0123456789/-#Mmx. UNF"', max_size=20))
@settings(max_examples=500, deadline=None)
def test_any_text_is_a_thread_or_told(text: str) -> None:
    try:
        pitch = parse_thread(text)
    except InputError:
        return
    assert 0 < pitch < 0.2


@given(number=st.decimals(min_value=0, max_value=9999, places=2), kind=kinds, data=st.data())
def test_comma_reads_like_point(number: object, kind: Kind, data: st.DataObject) -> None:
    text = f"{number} {data.draw(st.sampled_from(unit_words(kind)))}"
    assert parse(text.replace(".", ",", 1), kind, None).value == parse(text, kind, None).value


@given(whole=st.integers(1, 999), after=st.integers(0, 999), kind=kinds, style=styles)
def test_a_comma_before_three_digits_is_always_asked_about(whole: int, after: int, kind: Kind, style: Style) -> None:
    with pytest.raises(AmbiguousEntry) as caught:
        parse(f"{whole},{after:03d}", kind, style)
    large, small = (parse(choice, kind, style).value for choice in caught.value.choices)
    if kind is not Kind.TEMPERATURE:
        assert large == pytest.approx(1000 * small)


@given(number=st.integers(0, 10**12), gap=st.sampled_from(" '’\u00a0\u202f\u2009"))
def test_groups_of_thousands_read_as_the_number(number: int, gap: str) -> None:
    assert parse(f"{number:,} mm".replace(",", gap), Kind.LENGTH, None).value == number / 1000


@given(whole=st.integers(0, 99), under=st.integers(2, 128), data=st.data(), joint=st.sampled_from([" ", "-", "  "]))
def test_whole_and_fraction_add(whole: int, under: int, data: st.DataObject, joint: str) -> None:
    over = data.draw(st.integers(1, under - 1))
    exact = (whole + Fraction(over, under)) * Fraction(254, 10000)
    assert parse(f"{whole}{joint}{over}/{under} in", Kind.LENGTH, None).value == float(exact)


@given(shown=sizes, kind=kinds, style=styles)
def test_typed_in_a_style_reads_and_shows_the_same(shown: float, kind: Kind, style: Style) -> None:
    unit = display_unit(kind, style)
    value = parse(f"{shown!r} {unit}", kind, None).value
    assert value == pytest.approx(from_display(shown, kind, style), rel=1e-15)
    assert to_display(value, kind, style) == pytest.approx(
        shown, rel=1e-15, abs=2e-13 if kind is Kind.TEMPERATURE else 0
    )


@given(value=sizes, kind=kinds, style=styles)
def test_there_and_back(value: float, kind: Kind, style: Style) -> None:
    there = to_display(value, kind, style)
    assert from_display(there, kind, style) == pytest.approx(
        value, rel=1e-15, abs=2e-13 if kind is Kind.TEMPERATURE else 0
    )


@given(value=st.floats(10, 1e6) | st.floats(-1e6, -10), kind=kinds, style=styles)
def test_what_is_told_reads_back_to_its_place_and_tells_the_same(value: float, kind: Kind, style: Style) -> None:
    told = tell(from_display(value, kind, style), kind, style)
    back = parse(str(told), kind, None).value
    place = 5 if (kind, style) == (Kind.FORCE, Style.METRIC) else 1
    slack = abs(value) * 5.1e-3 if kind in THREE_DIGITS else place / 2 * (1 + 1e-9)
    assert abs(to_display(back, kind, style) - value) <= slack
    assert tell(back, kind, style) == told


@given(value=sizes, share=st.floats(1e-4, 10), kind=st.sampled_from([Kind.LENGTH, Kind.FORCE, Kind.RATE]), style=styles)
def test_rounding_stays_far_below_the_uncertainty(value: float, share: float, kind: Kind, style: Style) -> None:
    expanded = max(abs(value), 1e-3) * share
    told = tell(from_display(value, kind, style), kind, style, from_display(expanded, kind, style))
    assert told.uncertainty is not None
    assert float(told.uncertainty) == pytest.approx(expanded, rel=0.051)
    assert len(told.uncertainty.replace(".", "").strip("0")) <= 2
    assert abs(float(told.number.replace("−", "-")) - value) <= 0.0501 * expanded * 1.1


@given(number=st.decimals(min_value=0, max_value=9999, places=3), kind=kinds, style=styles, steps=st.integers(-50, 50))
def test_steps_up_and_down_again_come_back(number: object, kind: Kind, style: Style, steps: int) -> None:
    text = f"{number} {display_unit(kind, style)}"
    back = nudged(nudged(text, kind, style, steps), kind, style, -steps)
    assert parse(back, kind, style).value == parse(text, kind, style).value


@given(text=st.sampled_from(["1.900", "160", "7/8", "1⅞", "48,26", "1 000", "-3"]), kind=kinds, style=styles)
def test_stored_text_means_the_same_in_both_styles(text: str, kind: Kind, style: Style) -> None:
    stored = with_unit(text, kind, style)
    assert stored.startswith(text)
    assert len({parse(stored, kind, each).value for each in (*Style, None)}) == 1
