"""How cells look on paper: inks, fills and letters."""

from __future__ import annotations

from typing import Any

INK, QUIET, INPUT_FILL, HEAD_FILL, LINE = "#20262C", "#5A636C", "#E8F0F6", "#E6E3DD", "#8A9097"
LEVEL_INKS = {"clear": "#1D6F52", "watch": "#8A5A00", "stop": "#B02A1A", "unknown": "#5B6573"}

MONOSPACED = "Courier New"

LOOKS: dict[str, dict[str, Any]] = {
    "text": {"text_wrap": True},
    "head": {"bold": True, "text_wrap": True, "bg_color": HEAD_FILL, "left": 1, "left_color": LINE},
    "quiet": {"font_color": QUIET, "text_wrap": True, "align": "left", "indent": 1},
    "unit": {"font_color": QUIET, "align": "left", "indent": 1},
    "word": {"align": "left", "indent": 1, "text_wrap": True},
    "note": {"font_color": QUIET},
    "aside": {"font_color": QUIET, "text_wrap": True},
    "number": {"align": "right"},
    "as it came": {"font_name": MONOSPACED, "text_wrap": True},
    "at export": {"align": "right", "font_color": QUIET},
    "title": {"bold": True, "text_wrap": True, "font_size": 16},
    "section": {"bold": True, "bottom": 1, "bottom_color": LINE, "font_size": 11, "valign": "bottom"},
    "strong": {"bold": True, "text_wrap": True},
}
LOOKS |= {
    "head number": LOOKS["head"] | {"align": "right"},
    "head indented": LOOKS["head"] | {"align": "left", "indent": 1},
}
BIG = {"font_size": 14, "bottom": 1, "bottom_color": LINE, "valign": "vcenter"}
LOOKS |= {
    "big": BIG,
    "big number": BIG | {"align": "right"},
    "big box": BIG | {"font_size": 18, "align": "center"},
    "big head": LOOKS["head"] | {"font_size": 11, "valign": "bottom"},
    "big head number": LOOKS["head number"] | {"font_size": 11, "valign": "bottom"},
}
"""For a page to work by: letters that are read at arm's length."""
LOOKS |= {level: {"bold": True, "font_color": ink} for level, ink in LEVEL_INKS.items()}
INDENTED = ("quiet", "unit", "word", "head indented")
UNWRAPPED = ("unit", "note", "as it came")
"""Looks with an indent, and looks whose text runs on beside its cell."""
