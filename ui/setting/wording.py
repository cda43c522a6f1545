"""The words of the page: ways, turns, lengths under a head that names their unit."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication

from loadbench.assembly.setting_result import Way
from loadbench.units import Kind, Style, tell

if TYPE_CHECKING:
    from loadbench.assembly.setting_ways import Range

DASH, DEG, MINUS, TIMES = "\u2013", "\u00b0", "\u2212", "\u00d7"
LENGTH = Kind.LENGTH


def tr(text: str) -> str:
    """A text of the page in the user's language."""
    return QCoreApplication.translate("Setting", text)


def way_word(way: Way) -> str:
    """How a follower is set, as a heading."""
    words = {
        Way.LASH: tr("Lash by adjuster"),
        Way.BUCKET_SHIM: tr("Lash by bucket shims"),
        Way.PRELOAD_CUSTOM: tr("Preload, half to one turn"),
        Way.PRELOAD_MINIMAL: tr("Preload, minimal"),
        Way.PRELOAD_BOTTOMED: tr("Preload, bottomed and backed off"),
        Way.PUSHROD_LENGTH: tr("Preload by pushrod length"),
    }
    return words[way]


def way_short(way: Way) -> str:
    """A way of setting preload above its column."""
    words = {
        Way.PRELOAD_CUSTOM: tr("Half to one turn"),
        Way.PRELOAD_MINIMAL: tr("Minimal"),
        Way.PRELOAD_BOTTOMED: tr("Bottomed"),
    }
    return words.get(way) or way_word(way)


def length(value: float | None, style: Style) -> str:
    """A length with its unit; a dash where it is not known."""
    return DASH if value is None else str(tell(value, LENGTH, style))


def number(value: float | None, style: Style) -> str:
    """A length under a head that names its unit."""
    return DASH if value is None else tell(value, LENGTH, style).number


def span(pair: Range | None, style: Style) -> str:
    """From the least to the most, under a head that names the unit."""
    if pair is None:
        return DASH
    low, high = (number(each, style) for each in pair)
    return low if low == high else tr("{low} to {high}").format(low=low, high=high)


def turned(turns: float | None) -> str:
    """Turns of an adjuster: "in 0.31", "out 0.31", "0"."""
    if turns is None:
        return DASH
    if abs(turns) < 5e-3:
        return "0"
    way = tr("in {turns}") if turns > 0 else tr("out {turns}")
    return way.format(turns=f"{abs(turns):.2f}")


def within(label: str) -> str:
    """A label as it stands within a sentence."""
    return label[:1].lower() + label[1:]


def waited_for(fields: tuple[str, ...]) -> str:
    """Fields that something waits for, each once, as a list in words."""
    from ui.labels import label_of

    return ", ".join(dict.fromkeys(within(label_of(field)) for field in fields))
