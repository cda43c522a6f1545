"""Text of users as it may stand in a file that a spreadsheet opens: nothing in it can become a formula or a link."""

from __future__ import annotations

MOST_UNITS = 32767
"""The most UTF-16 units that a spreadsheet's cell holds."""

CUT_MARK = " [cut here: longer than a cell]"
ACTIVE_STARTS = ("=", "+", "-", "@", "\t", "\r")
"""What makes a spreadsheet take a text of a CSV file for a formula."""


def cell_text(text: str) -> str:
    """A text without what a workbook cannot hold.

    Args:
        text: anything.

    Returns:
        The same without control characters (but tab and line end) and noncharacters, cut to a cell's length.
    """
    kept = "".join(letter for letter in text.replace("\r\n", "\n").replace("\r", "\n") if _allowed(letter))
    if _units(kept) <= MOST_UNITS:
        return kept
    room = MOST_UNITS - len(CUT_MARK)
    while _units(kept) > room:
        kept = kept[: len(kept) - max(1, (_units(kept) - room) // 2)]
    return kept + CUT_MARK


def _units(text: str) -> int:
    return len(text) + sum(ord(letter) > 0xFFFF for letter in text)


def _allowed(letter: str) -> bool:
    code = ord(letter)
    if letter in "\t\n":
        return True
    control = code < 0x20 or 0x7F <= code < 0xA0
    return not (control or 0xD800 <= code <= 0xDFFF or 0xFDD0 <= code <= 0xFDEF or code & 0xFFFE == 0xFFFE)


def guarded(text: str) -> str:
    """A text for a CSV cell: with an apostrophe before it where a spreadsheet would take it for a formula."""
    return f"'{text}" if text.startswith(ACTIVE_STARTS) else text
