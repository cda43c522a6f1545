"""Bytes of printouts become text in whatever usual encoding they are; other bytes are refused."""

from __future__ import annotations

import codecs

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.errors import UnreadableFileError
from loadbench.readings.printout.decoding import decoded

SLIP = "Feder;Höhe mm;Kraft N\r\n1;48,26;356,2\r\n2;48,26;±0,5\r\n"
LETTERS = st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cs", "Cn")), max_size=60)


@pytest.mark.parametrize(
    ("data", "encoding"),
    [
        (SLIP.encode(), "utf-8"),
        (codecs.BOM_UTF8 + SLIP.encode(), "utf-8-sig"),
        (codecs.BOM_UTF16_LE + SLIP.encode("utf-16-le"), "utf-16-le"),
        (codecs.BOM_UTF16_BE + SLIP.encode("utf-16-be"), "utf-16-be"),
        (codecs.BOM_UTF32_LE + SLIP.encode("utf-32-le"), "utf-32-le"),
        (SLIP.encode("utf-16-le"), "utf-16-le"),
        (SLIP.encode("utf-16-be"), "utf-16-be"),
        (SLIP.encode("latin-1"), "cp1252"),
        (SLIP.encode("utf-8") + b"\x1a", "utf-8"),
        (SLIP.encode("utf-8") + bytes(40), "utf-8"),
    ],
)
def test_each_encoding_gives_the_same_text(data: bytes, encoding: str) -> None:
    assert decoded(data) == (SLIP, encoding)


def test_a_byte_that_the_western_page_lacks_is_latin_1() -> None:
    text, encoding = decoded(b"1;48,26\xb0 \x81 and some more letters to be mostly a text;356\r\n")
    assert encoding == "latin-1"
    assert text.startswith("1;48,26° ")


def test_a_wide_text_cut_within_a_letter_loses_that_letter_only() -> None:
    assert decoded(SLIP.encode("utf-16-le")[:-1]) == (SLIP[:-1], "utf-16-le")


@pytest.mark.parametrize("data", [bytes(100), bytes(range(256)) * 4, b"\x89\x01\x02\x03" * 30, b"1,2\x00\x00,3\n4,5\n"])
def test_bytes_that_are_no_text_are_refused_by_name(data: bytes) -> None:
    if data == bytes(100):
        # Padding alone is an empty text; whoever opens it says so.
        assert decoded(data) == ("", "utf-8")
        return
    with pytest.raises(UnreadableFileError) as told:
        decoded(data, name="slip.bin")
    assert told.value.problems[0].place.file == "slip.bin"
    assert "CSV" in told.value.problems[0].expected


@given(LETTERS)
def test_any_text_in_utf_8_comes_back(text: str) -> None:
    assert decoded(text.encode("utf-8"))[0] == text.removeprefix("\ufeff")


@given(LETTERS)
def test_any_text_with_a_mark_comes_back(text: str) -> None:
    assert decoded(codecs.BOM_UTF16_BE + text.encode("utf-16-be"))[0] == text


@given(st.binary(max_size=200))
def test_any_bytes_are_text_or_refused(data: bytes) -> None:
    try:
        text, encoding = decoded(data)
    except UnreadableFileError:
        return
    assert "\x00" not in text
    assert codecs.lookup(encoding)
