"""Texts in which a line break parts no value from its unit and no unit at its slash."""

from __future__ import annotations

import re

_SLASH_OF_UNIT = re.compile(r"(?<=[A-Za-z])/(?=(?:in|[cm]?m|s)\b)")
_JOINER = "\u2060"


def unbroken(text: str) -> str:
    """A text to be shown that breaks neither at thin spaces nor within "lbf/in"."""
    return _SLASH_OF_UNIT.sub(f"/{_JOINER}", text.replace("\u2009", "\u202f"))


def as_typed(text: str) -> str:
    """A shown text as it may be copied and typed again: without joiners, with thin spaces."""
    return text.replace(_JOINER, "").replace("\u202f", "\u2009")
