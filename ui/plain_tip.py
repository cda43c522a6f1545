"""Tool tips of what a user typed: plain text, whatever it looks like."""

from __future__ import annotations

from html import escape

LONG = 80
"""Characters from which a tip is wrapped; only a rich one is."""


def plain_tip(text: str) -> str:
    """A text as a tool tip that shows it letter by letter.

    Args:
        text: as typed or read from a file.

    Returns:
        The text, or the same escaped where Qt would take it for markup or leave it on one endless line.
    """
    if len(text) <= LONG and "<" not in text:  # without a tag Qt takes nothing for markup
        return text
    return f'<p style="white-space: pre-wrap">{escape(text)}</p>'
