"""How tall a wrapped text stands in a cell: not every spreadsheet makes room for it by itself."""

from __future__ import annotations

import math

FONT = "Arial"
"""Wide-spread, and with metric twins where it is not: columns and breaks come out alike everywhere."""
BODY = 10
PIXELS_PER_WIDTH = 7.0
PIXELS_PER_POINT = 96 / 72
SAFETY = 0.97
"""Of a column's width; print breaks lines a little earlier than the screen."""
LINE_SPACING = 1.26
PADDING = 2.0
TALLEST = 409.0

_NARROW, _SLIM, _MIDDLE, _WIDE, _CAPITAL, _REST = 0.28, 0.34, 0.50, 0.84, 0.68, 0.56
_CLASSES = {
    " ijl.,:;'|!ftI[]/\u2009": _NARROW, "r()-\"*": _SLIM, "ckJsvxyz": _MIDDLE, "mwMW%\u2014": _WIDE,
}  # fmt: skip
_WIDTHS = {letter: width for letters, width in _CLASSES.items() for letter in letters}


def text_pixels(text: str, size: float = BODY, *, bold: bool = False) -> float:
    """The width of a text on one line.

    Args:
        text: without a line end.
        size: of the letters, points.
        bold: whether they are bold.

    Returns:
        Pixels at 96 dpi, rather too many than too few.
    """
    ems = sum(_WIDTHS.get(letter, _CAPITAL if letter.isupper() else _REST) for letter in text)
    ems += sum(0.44 for letter in text if ord(letter) > 0x2E7F)
    return ems * size * PIXELS_PER_POINT * (1.07 if bold else 1.01)


def lines_of(text: str, width: float, size: float = BODY, *, bold: bool = False) -> int:
    """How many lines a text takes, words kept whole where they fit.

    Args:
        text: any, with line ends.
        width: of the column or columns, in their unit.
        size: of the letters, points.
        bold: whether they are bold.

    Returns:
        At least 1.
    """
    room = max(20.0, width * PIXELS_PER_WIDTH * SAFETY)
    space = text_pixels(" ", size, bold=bold)
    lines = 0
    for part in text.split("\n"):
        lines, at = lines + 1, 0.0
        for word in part.split(" "):
            wide = text_pixels(word, size, bold=bold)
            if at and at + wide > room:
                lines, at = lines + 1, 0.0
            if wide > room:
                broken = math.ceil(wide / room) - 1
                lines, wide = lines + broken, wide - broken * room
            at += wide + space
    return max(1, lines)


def height_of(lines: int, size: float = BODY) -> float:
    """The height of a row with so many lines, points."""
    return min(TALLEST, lines * size * LINE_SPACING + PADDING)
