"""What the grammar does not read: doubtful, unfinished and wrong entries, and the words it says so in."""

# ruff: noqa: RUF001 - the look-alikes are what is tested

from __future__ import annotations

import pytest

from loadbench.errors import AmbiguousEntry, InputError, UnfinishedEntry
from loadbench.units import Kind, Style, example, parse

IP = Style.INCH_POUND


@pytest.mark.parametrize(
    ("text", "choices"),
    [
        ("1,250", ("1250", "1.250")),
        ("1,250 in", ("1250 in", "1.250 in")),
        ("1,250in", ("1250in", "1.250in")),
        ("-1,250 in", ("-1250 in", "-1.250 in")),
        ("12,500 mm", ("12500 mm", "12.500 mm")),
        ("123,456 mm", ("123456 mm", "123.456 mm")),
        ("1,000 mm", ("1000 mm", "1.000 mm")),
        ("  1,250 mm ", ("1250 mm", "1.250 mm")),
        ("1,250e1 mm", ("1250e1 mm", "1.250e1 mm")),
        ("１，２５０ mm", ("１２５０ mm", "１.２５０ mm")),
    ],
)
def test_a_doubtful_comma_offers_both_readings(text: str, choices: tuple[str, str]) -> None:
    with pytest.raises(AmbiguousEntry) as caught:
        parse(text, Kind.LENGTH, IP)
    assert caught.value.choices == choices
    large, small = (parse(choice, Kind.LENGTH, IP).value for choice in choices)
    assert large == pytest.approx(1000 * small)
    assert all(choice in caught.value.what for choice in choices)


UNFINISHED = [
    (Kind.LENGTH, text)
    for text in (
        *("", " ", "-", "+", "−", "- ", ".", ",", "-.", "-,", "1.", "1,", "-1.", "12,", "1 000.", "1,234.", "1.234,"),
        *("1 7", "1 7/", "7/", "1-", "1-7", "1-7/", "-1 7/", "1 12", "12 34", "1 0", "1 00", "1'0", "1'", "1 000 0"),
        *("1e", "1e-", "1e+", "1.9e", "9.0e-", "1,5e", "1.234.5", "1.234.56", "1,234,5", "1,234,56"),
        *("1 9/1", "1 15/1", "1 3/3", "1 8/8"),
        *("in", "mm", '"', "i", "m", "thou", "- in", ". in", "1. in", "1, mm", "1 7/ in", "7/ in", "1e in", "1e- in"),
        *(
            "1.9 i",
            "1.9i",
            "1.9 inc",
            "1.9 t",
            "1.9 th",
            "48.26 mi",
            "48.26 millim",
            "5 µ",
            "5 micro",
            "1.9 '",
            "1 f",
            "1.9 I",
        ),
    )
] + [
    (Kind.FORCE, "160 l"),
    (Kind.FORCE, "160 poun"),
    (Kind.FORCE, "70 k"),
    (Kind.FORCE, "112 g"),
    (Kind.FORCE, "70 d"),
    (Kind.RATE, "420 lb"),
    (Kind.RATE, "420 #"),
    (Kind.RATE, "420 lb/"),
    (Kind.RATE, "420 lb/i"),
    (Kind.RATE, "420 lb /"),
    (Kind.RATE, "420 lb p"),
    (Kind.RATE, "420 lb per"),
    (Kind.RATE, "73.6 N"),
    (Kind.RATE, "73.6 N/"),
    (Kind.MASS, "112 gra"),
    (Kind.PRESSURE, "14 p"),
    (Kind.PRESSURE, "14 in"),
    (Kind.PRESSURE, "14 lb/in^"),
    (Kind.PRESSURE, "14 M"),
    (Kind.SPEED, "6800 r"),
    (Kind.SPEED, "6800 1/"),
    (Kind.SPEED, "6800 1/m"),
    (Kind.SPEED, "6800 min"),
    (Kind.SPEED, "6800 min-"),
    (Kind.SPEED, "6800 min^-"),
    (Kind.SPEED, "712 rad"),
    (Kind.ANGLE, "230 d"),
    (Kind.ANGLE, "230 de"),
    (Kind.TEMPERATURE, "100 °"),
    (Kind.TEMPERATURE, "100 deg"),
    (Kind.INERTIA, "9e-5 kg"),
    (Kind.INERTIA, "9e-5 kg m"),
    (Kind.INERTIA, "9e-5 kg m^"),
    (Kind.INERTIA, "9e-5 kg·"),
    (Kind.INERTIA, "9e-5 k"),
    (Kind.DAMPING, "120 N"),
    (Kind.DAMPING, "120 N·"),
    (Kind.DAMPING, "120 N·s"),
    (Kind.DAMPING, "120 N·s/"),
]


@pytest.mark.parametrize(("kind", "text"), UNFINISHED)
def test_on_its_way(kind: Kind, text: str) -> None:
    with pytest.raises(UnfinishedEntry) as caught:
        parse(text, kind, IP)
    assert caught.value.what
    assert example(kind, IP) in caught.value.expected


WRONG = [
    (Kind.LENGTH, text, says)
    for text, says in [
        ("nan", "no number"),
        ("nan mm", "no number"),
        ("NaN in", "no number"),
        ("inf", "no number"),
        ("inf mm", "no number"),
        ("-inf mm", "no number"),
        ("infinity in", "no number"),
        ("abc", "no number"),
        ("see sheet", "no number"),
        ("?", "no number"),
        ("٣ mm", "no number"),
        ("e5 mm", "does not begin with a number"),
        ("in 1.9", "does not begin with a number"),
        ("$1.9", "does not begin with a number"),
        ("=1+1", "does not begin with a number"),
        ("@1.9 in", "does not begin with a number"),
        ("<b>1.9 in</b>", "does not begin with a number"),
        ("(1.9) in", "does not begin with a number"),
        ("~1.9 in", "does not begin with a number"),
        ("ca. 1.9 in", "does not begin with a number"),
        ("<1.9 in", "does not begin with a number"),
        ("±0.002 in", "does not begin with a number"),
        ("1.9.0 in", "not well formed"),
        ("1..9 in", "not well formed"),
        ("1,,9 in", "not well formed"),
        ("1,23,456 in", "not well formed"),
        ("1,2.3 in", "not well formed"),
        ("12,34.5 in", "not well formed"),
        ("0,234.5 in", "not well formed"),
        ("1.23,4 in", "not well formed"),
        ("1,234,56 in", "not well formed"),
        ("1,234.567.8 in", "not well formed"),
        ("--1 in", "not well formed"),
        ("+-1 in", "not well formed"),
        ("-−1 in", "not well formed"),
        ("1½½ in", "not well formed"),
        ("½1 in", "not well formed"),
        ("–3 mm", "a dash stands where a minus sign should"),
        ("— 3 mm", "a dash stands where a minus sign should"),
        ("7/0 in", "nothing below the line"),
        ("7/00 in", "nothing below the line"),
        ("1 7/0 in", "nothing below the line"),
        ("7/0", "nothing below the line"),
        ("1 9/8 in", "not between nothing and one"),
        ("1 8/8 in", "not between nothing and one"),
        ("1 0/8 in", "not between nothing and one"),
        ("1 7 in", "more than one number"),
        ("1 00 mm", "more than one number"),
        ("10 50 mm", "more than one number"),
        ("1 0000 mm", "more than one number"),
        ("0 250 mm", "more than one number"),
        ("1234 567 mm", "more than one number"),
        ("1 000 00 mm", "more than one number"),
        ("1 2½ in", "more than one number"),
        ("1 ft 2 in", "more than one number"),
        ("1 ft 2", "more than one number"),
        ("1' 2\"", "more than one number"),
        ("1.9 in 48 mm", "more than one number"),
        ("1 in 7/8", "a sum, a range or a tolerance"),
        ("10**9**9 mm", "a sum, a range or a tolerance"),
        ("2*3 in", "a sum, a range or a tolerance"),
        ("1+1 in", "a sum, a range or a tolerance"),
        ("1 + 7/8 in", "a sum, a range or a tolerance"),
        ("2-1 in", "a sum, a range or a tolerance"),
        ("1.9-2.0 in", "a sum, a range or a tolerance"),
        ("1.9 – 2.0 in", "a sum, a range or a tolerance"),
        ("1/2/3 in", "a sum, a range or a tolerance"),
        ("2^3 in", "a sum, a range or a tolerance"),
        ("9×10 in", "a sum, a range or a tolerance"),
        ("1.900 ± 0.002 in", "a sum, a range or a tolerance"),
        ("1.9 in ± 0.002 in", "a sum, a range or a tolerance"),
        ("1_000 mm", "more than one number"),
        ("0x10 mm", "more than one number"),
        ("1.9 inn", "did you mean in"),
        ("1.9 inhces", "did you mean inches"),
        ("1.9 milimetres", "did you mean millimetre"),
        ("1.9 furlong", "not known"),
        ("1.9%", "not known"),
        ("1.9 in;", "not known"),
        ("1.9 in<br>", "not known"),
        ("1.9 in..", "not known"),
        ("1.9 in in", "not known"),
        ("1.9 in mm", "not known"),
        ("1,5j", "not known"),
        ("1⁷/8 in", "not known"),
        ("25 ft lb", "measures a torque"),
        ("25 lb-ft", "measures a torque"),
        ("25 Nm", "measures a torque"),
        ("25 N·m", "measures a torque"),
        ("160 lb", '"lb" measures a load or a mass; this field wants a length'),
        ("160#", '"#" measures a load; this field wants a length'),
        ("420 lb/in", '"lb/in" measures a rate; this field wants a length'),
        ("73.6 N/mm", '"N/mm" measures a rate; this field wants a length'),
        ("6800 rpm", '"rpm" measures a speed; this field wants a length'),
        ("14 psi", '"psi" measures a pressure; this field wants a length'),
        ("100 °C", '"°C" measures a temperature; this field wants a length'),
        ("9e-5 kg m^2", '"kg m^2" measures a moment of inertia; this field wants a length'),
        ("12 N s/m", '"N s/m" measures a damping; this field wants a length'),
        ("112 g", '"g" measures a mass; this field wants a length'),
        ("1e999 in", "too large or too small"),
        ("1e400 in", "too large or too small"),
        ("1e99999999 in", "too large or too small"),
        ("1 000'000 mm", "more than one number"),
        ("1'000 000 mm", "more than one number"),
        ("1e-400 in", "too large or too small"),
        ("1e99999999999999999999 in", "too large or too small"),
        ("1e-99999999999999999999 in", "too large or too small"),
        ("9.9e308 ft", "too large or too small"),
        ("1.9\u200b in", "U+200B"),
        ("1.9\ufeffin", "U+FEFF"),
        ("\u200e1.9 in", "U+200E"),
        ("1.9\x00in", "U+0000"),
        ("1.9\tin", "U+0009"),
        ("1.9\nin", "U+000A"),
        ("1.9 \ud800", "U+D800"),
        ("1" * 41, "longer than 40 characters"),
        ("1.9 in" + "." * 50, "longer than 40 characters"),
        ("9" * 100_000, "longer than 40 characters"),
        ("1 " * 30, "longer than 40 characters"),
    ]
] + [
    (Kind.FORCE, "1.9 in", '"in" measures a length; this field wants a load'),
    (Kind.FORCE, "420 lb/in", '"lb/in" measures a rate; this field wants a load'),
    (Kind.FORCE, "25 ft lb", "measures a torque; this field wants a load"),
    (Kind.FORCE, "1 MN", "not known"),
    (Kind.FORCE, "160 lb p", "not known"),
    (Kind.RATE, "1.9 in", '"in" measures a length; this field wants a rate'),
    (Kind.RATE, "420 lb*in", "torque"),
    (Kind.RATE, "420 lb/ft", "not known"),
    (Kind.MASS, "700 N", '"N" measures a load; this field wants a mass'),
    (Kind.PRESSURE, "8 lb boost", "not known"),
    (Kind.SPEED, "850 deg", '"deg" measures an angle; this field wants a speed'),
    (Kind.TEMPERATURE, "100 mm", '"mm" measures a length; this field wants a temperature'),
    (Kind.ANGLE, "6800 rpm", '"rpm" measures a speed; this field wants an angle'),
]


@pytest.mark.parametrize(("kind", "text", "says"), WRONG)
def test_wrong(kind: Kind, text: str, says: str) -> None:
    with pytest.raises(InputError) as caught:
        parse(text, kind, IP)
    assert type(caught.value) is InputError
    assert says in caught.value.what
    assert example(kind, IP) in caught.value.expected
    assert all(ch.isprintable() for ch in str(caught.value))


def test_a_message_reads_as_a_builder_would_say_it() -> None:
    with pytest.raises(InputError) as caught:
        parse("420 lb/in", Kind.LENGTH, IP)
    said = '"lb/in" measures a rate; this field wants a length (expected: a length such as 1.900 in or 48.26 mm)'
    assert str(caught.value) == said


def test_the_example_follows_the_style() -> None:
    assert example(Kind.LENGTH, Style.INCH_POUND) == "1.900 in or 48.26 mm"
    assert example(Kind.LENGTH, Style.METRIC) == "48.26 mm or 1.900 in"
    assert example(Kind.MASS, Style.METRIC) == example(Kind.MASS, Style.INCH_POUND) == "112 g or 0.247 lb"


@pytest.mark.parametrize("kind", Kind)
@pytest.mark.parametrize("style", Style)
def test_examples_are_right_and_say_one_thing_twice(kind: Kind, style: Style) -> None:
    first, second = (parse(text, kind, None).value for text in example(kind, style).split(" or "))
    assert first == pytest.approx(second, rel=6e-3)


@pytest.mark.parametrize(
    "whole",
    [
        "1.900 in",
        "48,26 mm",
        "1 7/8 in",
        "1-7/8 in",
        "1 15/16 in",
        "1 000 mm",
        "1,234.5 mm",
        "1.234,5 mm",
        "2e-4 in",
        "-0.015 in",
        "15 thou",
        "1'250 mm",
    ],
)
def test_no_stage_of_typing_is_called_wrong(whole: str) -> None:
    for end in range(len(whole)):
        try:
            parse(whole[:end], Kind.LENGTH, IP)
        except (UnfinishedEntry, AmbiguousEntry):
            continue


@pytest.mark.parametrize(
    ("kind", "whole"),
    [
        (Kind.FORCE, "160 pounds"),
        (Kind.RATE, "420 lb/in"),
        (Kind.RATE, "73.6 N/mm"),
        (Kind.RATE, "420 lb per inch"),
        (Kind.SPEED, "6800 1/min"),
        (Kind.SPEED, "6800 min-1"),
        (Kind.SPEED, "712 rad/s"),
        (Kind.PRESSURE, "14.5 lbf/in^2"),
        (Kind.TEMPERATURE, "100 degC"),
        (Kind.INERTIA, "9.0e-5 kg m^2"),
        (Kind.INERTIA, "9.0e-5 kg·m²"),
        (Kind.DAMPING, "120 N·s/m"),
        (Kind.DAMPING, "120 N/(m/s)"),
    ],
)
def test_no_stage_of_typing_a_unit_is_called_wrong(kind: Kind, whole: str) -> None:
    for end in range(len(whole)):
        try:
            parse(whole[:end], kind, IP)
        except UnfinishedEntry:
            continue
