"""Threads of adjusters; pitches of ASME B1.1 (turns per inch) and ISO 261 (mm)."""

# ruff: noqa: RUF001 - the look-alikes are what is tested

from __future__ import annotations

import pytest

from loadbench.errors import InputError, UnfinishedEntry
from loadbench.units import parse_thread

IN = 0.0254


@pytest.mark.parametrize(
    ("text", "pitch"),
    [
        ("7/16-20", IN / 20),
        ("7/16 - 20", IN / 20),
        ("7/16 -20", IN / 20),
        (" 7/16-20 ", IN / 20),
        ("7⁄16−20", IN / 20),
        ('7/16"-20', IN / 20),
        ("7/16 in-20", IN / 20),
        ("7/16 in. - 20", IN / 20),
        ("7/16-20 tpi", IN / 20),
        ("7/16-20 UNF", IN / 20),
        ("7/16-20UNF", IN / 20),
        ("7/16-20 unf", IN / 20),
        ("7/16-20 UNF-2A", IN / 20),
        ("7/16-20 UNF 2B", IN / 20),
        ("3/8-24 UNF", IN / 24),
        ("3/8-24", IN / 24),
        ("3/8-16 UNC", IN / 16),
        ("5/16 - 24", IN / 24),
        ("5/16-18", IN / 18),
        ("1/4-28", IN / 28),
        ("0.4375-20", IN / 20),
        (".375-24", IN / 24),
        ("10-32", IN / 32),
        ("#10-32", IN / 32),
        ("1 1/8-12", IN / 12),
        ("1-1/8-12", IN / 12),
        ("M10x1.25", 0.00125),
        ("M10X1.25", 0.00125),
        ("M10×1.25", 0.00125),
        ("M10 × 1.25", 0.00125),
        ("M10x1,25", 0.00125),
        ("m10x1.25", 0.00125),
        ("M 10 x 1.25", 0.00125),
        ("M10x1.25-6H", 0.00125),
        ("M10x1.25 6g", 0.00125),
        ("M8 x 1", 0.001),
        ("M8x1", 0.001),
        ("M8x1.0", 0.001),
        ("M8x.75", 0.00075),
        ("M8x0.75", 0.00075),
        ("M12x1.5", 0.0015),
        ("Ｍ８ｘ１", 0.001),
        ("M8 x 1.0 mm", 0.001),
        ("MJ8x1", 0.001),
        ("M10x1.25-6H/6g", 0.00125),
        ("M10x1-LH", 0.001),
        ("M10x1 6g LH", 0.001),
        ("7/16-20 UNJF-3A", IN / 20),
        ("7/16-20 UNF-2A-LH", IN / 20),
        ("7/16-28 UNEF", IN / 28),
        ("1/2-20 NEF", IN / 20),
    ],
)
def test_pitch(text: str, pitch: float) -> None:
    assert parse_thread(text) == pytest.approx(pitch, rel=4e-16)


@pytest.mark.parametrize(
    "text",
    [
        "",
        " ",
        "7",
        "7/",
        "7/16",
        "7/16-",
        "7/16 -",
        '7/16"',
        "#",
        "#10",
        "10-",
        "M",
        "M8",
        "M 8",
        "M8x",
        "M8 x ",
        "M10x1.",
    ],
)
def test_a_thread_on_its_way(text: str) -> None:
    with pytest.raises(UnfinishedEntry):
        parse_thread(text)


def test_a_coarse_pitch_is_asked_for_not_guessed() -> None:
    with pytest.raises(InputError, match="M8 without its pitch") as caught:
        parse_thread("M8")
    assert "M8x1.25" in caught.value.expected


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("banana", "not a thread"),
        ("20", None),
        ("1.25 mm", "not a thread"),
        ("7/16x20", "not a thread"),
        ("7/16-20-20", "not a thread"),
        ("7/16--20", "not a thread"),
        ("7/16-20.5", "not a thread"),
        ("-7/16-20", "not a thread"),
        ("M10-1.25", "not a thread"),
        ("M10x1.25x2", "not a thread"),
        ("M-8x1", "not a thread"),
        ("=7/16-20", "not a thread"),
        ("7/16-20<b>", "not a thread"),
        ("7/16-nan", "not a thread"),
        ("7/16-0", "nothing where a number should stand"),
        ("7/0-20", "nothing where a number should stand"),
        ("1/64-20", "pitch as large as its diameter"),
        ("0/4-20", "pitch as large as its diameter"),
        ("M8x9", "cannot be cut"),
        ("M8x8", "cannot be cut"),
        ("M8x0", "cannot be cut"),
        ("M0x0", "cannot be cut"),
        ("7/16-20" + " " * 50 + "x", "longer than 40"),
    ],
)
def test_no_thread(text: str, says: str | None) -> None:
    with pytest.raises(InputError) as caught:
        parse_thread(text)
    if says is not None:
        assert type(caught.value) is InputError
        assert says in caught.value.what
