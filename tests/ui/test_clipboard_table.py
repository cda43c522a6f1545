"""Text from spreadsheets to cells and back."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ui.clipboard_table import MOST_CELLS, cells_of, text_of


@pytest.mark.parametrize(
    ("text", "cells"),
    [
        ("150\t423\n149\t420\n", [["150", "423"], ["149", "420"]]),
        ("150\t423\r\n149\t420\r\n", [["150", "423"], ["149", "420"]]),
        ('"1 7/8 in"\t"a ""b"""\n', [["1 7/8 in", 'a "b"']]),
        ('"two\nlines"\t3', [["two lines", "3"]]),
        ("48,26;667,2\n31,75;1881", [["48,26", "667,2"], ["31,75", "1881"]]),
        ("150.5,423\n149.5,420", [["150.5", "423"], ["149.5", "420"]]),
        ("150,5\n149,5\n", [["150,5"], ["149,5"]]),
        ("a\t\tb\n\nc", [["a", "", "b"], [], ["c"]]),
        ("", []),
        ("\n\n", []),
    ],
)
def test_d43_a_block_from_a_spreadsheet_is_read(text: str, cells: list[list[str]]) -> None:
    assert cells_of(text) == cells


def test_a_huge_clipboard_is_cut_short() -> None:
    assert sum(map(len, cells_of("1\t2\n" * 3 * MOST_CELLS))) <= MOST_CELLS


plain = st.text(
    st.characters(codec="utf-8", exclude_categories=("Cc", "Zl", "Zp", "Zs", "Cs", "Cf")), min_size=1, max_size=12
)


@given(st.integers(2, 4).flatmap(lambda n: st.lists(st.lists(plain, min_size=n, max_size=n), min_size=1, max_size=5)))
def test_d43_what_is_copied_is_pasted_alike(rows: list[list[str]]) -> None:
    assert cells_of(text_of(rows)) == rows
