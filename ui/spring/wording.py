"""The words of the coil's picture: its states, level labels, read-out, and the one sentence that describes it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication

from loadbench.units import Kind, Style, tell

if TYPE_CHECKING:
    from ui.spring.load_lines import LoadLines
    from ui.spring.stands import Stands

CONTEXT = "SpringPage"


def tr(text: str) -> str:
    """A text of the page in the user's language."""
    return QCoreApplication.translate(CONTEXT, text)


def state_word(state: str) -> str:
    """What a height of the coil is called."""
    words = {"free": tr("free"), "closed": tr("closed"), "open": tr("full lift"), "bind": tr("bind")}
    return words[state]


def length(value: float, style: Style) -> str:
    """A length with its unit."""
    return str(tell(value, Kind.LENGTH, style))


def load(value: float, style: Style) -> str:
    """A load with its unit."""
    return str(tell(value, Kind.FORCE, style))


def level_texts(state: str, height: float, force: float | None, style: Style) -> tuple[str, ...]:
    """What stands at a level, the longest first."""
    word = tr("coils bind") if state == "bind" else state_word(state)
    told = length(height, style) if force is None else load(force, style)
    return tr("{word}  {value}").format(word=word, value=told), word


def read_out(height: float, closed: float | None, lines: LoadLines, style: Style) -> str:
    """What the read-out says at a height, m: height, lift, the load of each coil and of the whole, friction."""
    parts = [tr("height {height}").format(height=length(height, style))]
    if closed is not None:
        parts.append(tr("lift {lift}").format(lift=length(closed - height, style)))
    whole = lines.whole_at(height)
    if whole is not None:
        parts.append(tr("load {load}").format(load=load(whole, style)))
    if len(lines.coils) > 1:
        for each in lines.coils:
            own = each.at(height)
            if own is not None:
                parts.append(tr("{name} {load}").format(name=each.name, load=load(own, style)))
    band = lines.band_at(height)
    if band is not None:
        told = tr("loading {high}, unloading {low}")
        parts.append(told.format(high=load(band[0], style), low=load(band[1], style)))
    text = ", ".join(parts)
    return text[:1].upper() + text[1:]


def key_rows(lines: LoadLines) -> tuple[tuple[str, str], ...]:
    """The rows of the key: text and role."""
    rows = []
    if lines.friction and lines.whole is not None:
        rows.append((tr("Shaded: the damper's friction; solid edge loading, dashed edge unloading."), "quiet"))
    if any(each.landings for each in lines.coils):
        rows.append((tr("Short strokes: one more turn has landed, and the rate rises."), "quiet"))
    return tuple(rows)


def not_drawn(stands: Stands) -> str:
    """Which coils are lacking in the drawing, and what they wait for; "" where all are there."""
    told = [
        tr("{name} is not drawn: it waits for {fields}").format(name=name, fields=fields)
        for name, fields in stands.lacking
    ]
    return "; ".join(told)


def description(stands: Stands, lines: LoadLines, style: Style) -> str:
    """One sentence on what the picture shows, for those who do not see it."""
    heights = ", ".join(
        tr("{state} {height}").format(state=state_word(stand.state), height=length(stand.height, style))
        for stand in stands.stands
    )
    names = ", ".join(each.name for each in lines.coils) or tr("no coil")
    return tr(
        "Half sections of the coil to scale and its load line on one height scale; heights: {heights}; load lines of: "
        "{names}."
    ).format(heights=heights or tr("none known"), names=names)
