"""The columns of the grid of valves: what is stated of each, then what is planned for it."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from loadbench.units import Kind, Style, display_unit

STATED = ("id", "line", "bare_height", "retainer_to_seal", "lash", "spring", "shims", "locked")
PLANNED = ("plan_spring", "plan_shims", "plan_height", "plan_seat", "plan_open", "plan_bind", "plan_seal")
COLUMNS = STATED + PLANNED
FIRST = "bare_height"  # what is filled in first

LENGTHS = ("bare_height", "retainer_to_seal", "lash")
NUMERIC = (*LENGTHS, "plan_height", "plan_seat", "plan_open", "plan_bind", "plan_seal")

WIDEST = {
    "id": "16E",
    "line": "Exhaust",
    "bare_height": "1.850",
    "retainer_to_seal": "0.640",
    "lash": "0.016",
    "spring": "S16",
    "shims": "0.030",
    "locked": "",
    "plan_spring": "S16",
    "plan_shims": "0.030",
    "plan_height": "1.850",
    "plan_seat": "650 \u2192 650",
    "plan_open": "1500 \u2192 1500",
    "plan_bind": "0.100",
    "plan_seal": "0.100",
}
"""A usual entry of each column, which it is at least as wide as."""


TIGHT = ("bare_height", "retainer_to_seal", "plan_height", "plan_shims", "shims", "plan_bind", "plan_seal")
"""The columns whose heads can stand narrower on three lines."""


UNITS = ("in", "inch", "inches", "mm", "lbf", "n")


def head_of(column: str, style: Style, *, tight: bool = False) -> str:
    """A column's head: its words on one or two lines, with the unit of its numbers.

    Args:
        column: one of `COLUMNS`.
        style: the units on show.
        tight: on three lines where that is narrower.
    """
    length, load = display_unit(Kind.LENGTH, style), display_unit(Kind.FORCE, style)
    head = _heads()[column].format(length=length, load=load)
    if tight and column in ("plan_seat", "plan_open"):
        words, change = head.split("\n")
        return "\n".join([words.removesuffix(f", {load}"), change, load])
    if not tight or column not in TIGHT:
        return head
    words, unit = " ".join(head.split()).rsplit(" ", 1)
    return "\n".join([*words.removesuffix(",").rsplit(" ", 1), unit])


def plain_head(column: str, style: Style) -> str:
    """The same on one line, for tables that leave and for screen readers."""
    return " ".join(head_of(column, style).split())


def _heads() -> dict[str, str]:
    tr = QCoreApplication.translate
    return {
        "id": tr("Fitup", "Valve"),
        "line": tr("Fitup", "Line"),
        "bare_height": tr("Fitup", "Bare\nheight, {length}"),
        "retainer_to_seal": tr("Fitup", "To seal,\nclosed, {length}"),
        "lash": tr("Fitup", "Lash\n{length}"),
        "spring": tr("Fitup", "Spring\nnow"),
        "shims": tr("Fitup", "Shims now\n{length}"),
        "locked": tr("Fitup", "Locked"),
        "plan_spring": tr("Fitup", "Planned\nspring"),
        "plan_shims": tr("Fitup", "Planned shims\n{length}"),
        "plan_height": tr("Fitup", "Installed\nheight, {length}"),
        "plan_seat": tr("Fitup", "Seat load, {load}\nnow \u2192 plan"),
        "plan_open": tr("Fitup", "Open load, {load}\nnow \u2192 plan"),
        "plan_bind": tr("Fitup", "To bind\n{length}"),
        "plan_seal": tr("Fitup", "To seal,\nopen, {length}"),
    }


def column_named(head: str) -> str | None:
    """The stated column that a head from a spreadsheet names; "" for one that is worked out; None for neither."""
    words = head.lower().replace(",", " ").replace("(", " ").replace(")", " ").split()
    plain = " ".join(word for word in words if word not in UNITS)
    if any(plain == _bare(column) for column in PLANNED):
        return ""
    own = {_bare(column): column for column in STATED}
    return own.get(plain) or _WORDS.get(plain)


def _bare(column: str) -> str:
    words = _heads()[column].replace("{length}", "").replace("{load}", "").replace(",", " ")
    return " ".join(words.lower().split())


_WORDS = {
    "valve": "id",
    "valve no": "id",
    "id": "id",
    "line": "line",
    "side": "line",
    "height": "bare_height",
    "bare height": "bare_height",
    "installed height": "bare_height",
    "installed height bare": "bare_height",
    "retainer to seal": "retainer_to_seal",
    "retainer to seal closed": "retainer_to_seal",
    "seal": "retainer_to_seal",
    "to seal": "retainer_to_seal",
    "lash": "lash",
    "spring": "spring",
    "spring number": "spring",
    "shims": "shims",
    "locked": "locked",
}
