"""The columns of the worksheet: what is measured on each valve, what is asked for, what to do about it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from loadbench.assembly.setting_result import Way
from loadbench.units import Kind, display_unit
from ui.setting.wording import tr

if TYPE_CHECKING:
    from loadbench.units import Style

STATED = ("id", "lash_found", "bucket_shim", "plunger_travel", "depth_found", "set_by")
"""What can be typed."""
MEASURED = ("lash_found", "bucket_shim", "plunger_travel", "depth_found")
NUMERIC = (*MEASURED, "wanted", "new_shim", "pushrod", "turns")
UNITS = ("in", "inch", "inches", "mm")

COLUMNS: dict[Way, tuple[str, ...]] = {
    Way.LASH: ("id", "lash_found", "wanted", "turns", "level", "do", "set_by"),
    Way.BUCKET_SHIM: ("id", "lash_found", "bucket_shim", "wanted", "new_shim", "level", "do", "set_by"),
    Way.PRELOAD_CUSTOM: ("id", "depth_found", "wanted", "turns", "level", "do", "set_by"),
    Way.PRELOAD_MINIMAL: ("id", "depth_found", "wanted", "turns", "level", "do", "set_by"),
    Way.PRELOAD_BOTTOMED: ("id", "plunger_travel", "wanted", "turns", "level", "do", "set_by"),
    Way.PUSHROD_LENGTH: ("id", "depth_found", "wanted", "pushrod", "level", "do", "set_by"),
}
NO_WAY = ("id", "lash_found", "depth_found", "set_by")
"""Before it is known how the followers are set."""


def columns_of(way: Way | None) -> tuple[str, ...]:
    """The columns of a way, from left to right."""
    return NO_WAY if way is None else COLUMNS[way]


def first_of(way: Way | None) -> str:
    """The column that is filled in first."""
    return next(each for each in columns_of(way) if each in MEASURED)


def head_of(column: str, style: Style) -> str:
    """A column's head on two lines, with the unit of its numbers."""
    return _heads()[column].format(length=display_unit(Kind.LENGTH, style))


def plain_head(column: str, style: Style) -> str:
    """The same on one line, for tables that leave and for screen readers."""
    return " ".join(head_of(column, style).split())


def _heads() -> dict[str, str]:
    return {
        "id": tr("Valve"),
        "lash_found": tr("Lash\nfound, {length}"),
        "bucket_shim": tr("Shim\nfound, {length}"),
        "plunger_travel": tr("Travel\n{length}"),
        "depth_found": tr("Depth\nfound, {length}"),
        "wanted": tr("Wanted\n{length}"),
        "turns": tr("Turns"),
        "new_shim": tr("New shim\n{length}"),
        "pushrod": tr("Pushrod\n{length}"),
        "level": tr("Stands"),
        "do": tr("What to do"),
        "set_by": tr("Initials"),
    }


WIDEST = {
    "id": "16E1",
    "lash_found": "0.0160",
    "bucket_shim": "0.1025",
    "plunger_travel": "0.160",
    "depth_found": "0.040",
    "wanted": "0.016",
    "turns": "out 0.31",
    "new_shim": "0.1025",
    "pushrod": "10.000",
    "level": "Not measured",
    "do": "",
    "set_by": "ABC",
}
"""A usual entry of each column, which it is at least as wide as."""


def column_named(head: str) -> str | None:
    """The stated column that a head from a spreadsheet names; "" for one that is worked out; None for neither."""
    words = head.lower().replace(",", " ").replace("(", " ").replace(")", " ").split()
    plain = " ".join(word for word in words if word not in UNITS)
    own = {_bare(column): column for column in _heads()}
    found = own.get(plain) or _WORDS.get(plain)
    return found if found is None or found in STATED else ""


def _bare(column: str) -> str:
    return " ".join(_heads()[column].replace("{length}", "").replace(",", " ").lower().split())


_WORDS = {
    "valve no": "id",
    "id": "id",
    "lash": "lash_found",
    "lash measured": "lash_found",
    "shim": "bucket_shim",
    "old shim": "bucket_shim",
    "bucket shim": "bucket_shim",
    "plunger travel": "plunger_travel",
    "depth": "depth_found",
    "plunger depth": "depth_found",
    "set by": "set_by",
    "who": "set_by",
}
