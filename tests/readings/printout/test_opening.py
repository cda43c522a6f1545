"""Files and pasted text: what is no printout is refused in words, quickly, and nothing else ever comes out."""

from __future__ import annotations

import os
import time
from contextlib import suppress
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.errors import Cancelled, Problem, UnreadableFileError
from loadbench.readings.printout.opening import grid_of_pasted, read_grid

SLIP = "Spring,Height in,Load lbf\n1,1.900,120.5\n2,1.900,121\n"


def refusal(path: Path, **asked: str) -> Problem:
    with pytest.raises(UnreadableFileError) as told:
        read_grid(path, **asked)  # type: ignore[arg-type]
    (problem,) = told.value.problems
    assert problem.place.file == path.name
    assert problem.expected
    return problem


def test_a_text_is_read_whatever_its_name(tmp_path: Path) -> None:
    file = tmp_path / "slip.xlsx"
    file.write_bytes(SLIP.encode("utf-16"))
    grid = read_grid(file)
    assert (grid.name, grid.text, grid.sheet) == ("slip.xlsx", SLIP, None)
    assert grid.encoding in {"utf-16-le", "utf-16-be"}
    assert grid.rows[1].cells == ("1", "1.900", "120.5")
    assert grid.width == 3


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "empty"),
        (b" \r\n\t\n", "nothing in it but blanks"),
        (b"\xef\xbb\xbf", "nothing in it but blanks"),
        (b"\x89PNG\r\n\x1a\n" + bytes(200), "picture"),
        (b"\xff\xd8\xff\xe0" + bytes(200), "picture"),
        (b"%PDF-1.7\n1 0 obj << >> endobj\n", "PDF"),
        (b"\x1f\x8b\x08" + bytes(200), "packed"),
        (bytes(range(256)) * 8, "not text"),
        (b"PK\x05\x06" + bytes(18), "archive"),
        (b"PK\x03\x04" + bytes(500), "damaged"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(2000), "old kind"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(3_000_000) + "EncryptedPackage".encode("utf-16-le"), "password"),
    ],
)
def test_what_is_no_printout_is_refused_in_words(tmp_path: Path, data: bytes, words: str) -> None:
    file = tmp_path / "slip.csv"
    file.write_bytes(data)
    assert words in refusal(file).what


def test_a_missing_file_a_folder_and_a_device_are_refused(tmp_path: Path) -> None:
    assert "no such file" in refusal(tmp_path / "slip.csv").what
    assert "folder" in refusal(tmp_path).what
    assert "no such file" in refusal(Path("slip\0.csv")).what
    if hasattr(os, "mkfifo"):
        os.mkfifo(tmp_path / "pipe")
        assert "not a file" in refusal(tmp_path / "pipe").what


@pytest.mark.parametrize("head", [b"1,2,3\n", b"PK\x03\x04"])
def test_a_file_of_200_mb_is_refused_unread(tmp_path: Path, head: bytes) -> None:
    file = tmp_path / "slip.csv"
    with file.open("wb") as stream:
        stream.write(head)
        stream.truncate(200_000_000)
    start = time.perf_counter()
    problem = refusal(file)
    assert time.perf_counter() - start < 0.5
    assert "200 MB" in problem.what
    assert "MB" in problem.expected


def test_a_text_of_many_rows_is_refused_before_it_is_cut_up(tmp_path: Path) -> None:
    file = tmp_path / "slip.csv"
    file.write_bytes(b"1\n" * 7_900_000)
    start = time.perf_counter()
    assert "lines" in refusal(file).what
    assert time.perf_counter() - start < 2


def test_a_text_has_no_sheets(tmp_path: Path) -> None:
    file = tmp_path / "slip.csv"
    file.write_text(SLIP)
    assert "no sheets" in refusal(file, sheet="Set 1").what


def test_reading_a_text_can_be_stopped(tmp_path: Path) -> None:
    file = tmp_path / "slip.csv"
    file.write_text(SLIP)

    def stop(share: float) -> None:
        raise Cancelled

    with pytest.raises(Cancelled):
        read_grid(file, progress=stop)


def test_pasted_text_is_split_without_name_or_encoding() -> None:
    grid = grid_of_pasted("\ufeff" + SLIP)
    assert (grid.name, grid.encoding, grid.text) == ("", "", SLIP)
    assert len(grid.rows) == 3
    assert grid_of_pasted("1,2\ud800\n").rows[0].cells == ("1", "2?")


@pytest.mark.parametrize(
    ("text", "words"), [("", "blanks"), ("\x00\x01\x02", "not text"), ("1" * 16_000_001, "16 million")]
)
def test_pasted_nothing_is_refused(text: str, words: str) -> None:
    with pytest.raises(UnreadableFileError, match=words):
        grid_of_pasted(text)


@given(st.binary(max_size=400))
def test_any_bytes_are_read_or_refused(tmp_path_factory: pytest.TempPathFactory, data: bytes) -> None:
    file = tmp_path_factory.getbasetemp() / "any.csv"
    file.write_bytes(data)
    with suppress(UnreadableFileError):
        assert read_grid(file).rows


@given(st.text(max_size=400))
def test_any_pasted_text_is_read_or_refused(text: str) -> None:
    with suppress(UnreadableFileError):
        assert grid_of_pasted(text).rows
