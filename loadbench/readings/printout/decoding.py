"""From the bytes of a printout to its text: which encoding they are in, or that they are no text at all."""

from __future__ import annotations

import codecs
import re

from loadbench.errors import Place, Problem, UnreadableFileError

# Marks before the text. UTF-32's first: its little-endian mark begins with that of UTF-16.
MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF32_LE, "utf-32-le"),
    (codecs.BOM_UTF32_BE, "utf-32-be"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)
# Characters that no text holds many of; a printer's line feed, form feed, escape and end-of-file are not among them.
CONTROLS = re.compile(r"[\x00-\x06\x0e-\x19\x1c-\x1f\x7f\x80-\x84\x86-\x9f\ufffd\ufffe\uffff]")
CONTROL_BYTES = bytes({*range(9), *range(14, 32), 127} - {0x1A, 0x1B})
MOST_CONTROLS = 0.05
SAMPLE = 65536
NUL_SHARE = 0.25
PADDING = "\x00\x1a"


def decoded(data: bytes, *, name: str = "") -> tuple[str, str]:
    """The text that the bytes of a printout hold.

    Args:
        data: the whole file.
        name: the file's label, for the message.

    Returns:
        The text without a mark before it, and the codec's name. Bytes that are neither marked nor valid UTF-8 are
        taken for Windows' western code page, or Latin-1 where that has no such character.

    Raises:
        UnreadableFileError: the bytes are no text.
    """
    for mark, encoding in MARKS:
        if data.startswith(mark):
            return _checked(data[len(mark) :].decode(encoding.removesuffix("-sig"), errors="replace"), name), encoding
    if (wide := _wide(data)) is not None:
        return _checked(data[: len(data) // 2 * 2].decode(wide, errors="replace"), name), wide
    if _mostly_controls(data):
        raise no_text(name)
    for encoding in ("utf-8", "cp1252"):
        try:
            return _checked(data.decode(encoding), name), encoding
        except UnicodeDecodeError:
            continue
    return _checked(data.decode("latin-1"), name), "latin-1"


def no_text(name: str, what: str = "The file is not text.") -> UnreadableFileError:
    """The refusal of something that cannot be a printout.

    Args:
        name: the file's label.
        what: what it is instead, as a sentence.
    """
    expected = "a printout as text (CSV, tabs, columns of blanks) or a workbook (.xlsx)"
    return UnreadableFileError((Problem(what=what, expected=expected, place=Place(file=name or None)),))


def is_text(text: str) -> bool:
    """Whether characters are a text: hardly any control characters, and no NUL."""
    found = len(CONTROLS.findall(text))
    return "\x00" not in text and found <= MOST_CONTROLS * len(text)


def _checked(text: str, name: str) -> str:
    text = text.rstrip(PADDING)
    if not is_text(text):
        raise no_text(name)
    return text


def _mostly_controls(data: bytes) -> bool:
    sample = data[:SAMPLE].rstrip(PADDING.encode())
    controls = len(sample) - len(sample.translate(None, CONTROL_BYTES))
    return b"\x00" in sample or controls > MOST_CONTROLS * len(sample)


def _wide(data: bytes) -> str | None:
    """UTF-16 without a mark: printouts are mostly ASCII, so that every other byte is zero."""
    sample = data[: min(SAMPLE, len(data) // 2 * 2)]
    pairs = len(sample) // 2
    if pairs == 0 or b"\x00" not in sample:
        return None
    first, second = sample[::2].count(0), sample[1::2].count(0)
    for here, there, encoding in ((second, first, "utf-16-le"), (first, second, "utf-16-be")):
        if here >= NUL_SHARE * pairs and there <= 0.02 * pairs:
            return encoding
    return None
