"""What matters: how far each input, five per cent more and less, moves the speed at which contact is first lost."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Any

import numpy as np
from typing_extensions import override

from loadbench.analysis.motion.sensitivity import SHARE, Moved, rigid_sensitivity
from loadbench.motion.bands import EDGE
from loadbench.units import Kind, display_unit, to_display
from ui.motion import wording as words
from ui.motion.motion_picture import MotionPicture, speed_stride
from ui.motion.stacked import StackedScale
from ui.motion.wording import tr
from ui.plots.axes import PlainAxis
from ui.plots.ink import em, face
from ui.spring.chart import Chart, Look, Mark, Name, Shade, Shape, Stroke, Told, straight

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from PySide6.QtWidgets import QWidget

    from loadbench.analysis.motion.sensitivity import Quantity
    from loadbench.units import Style
    from ui.motion.seen import Seen
    from ui.plots.ink import Ink
    from ui.session import Session

TALL, LANE = 0.36, 0.25  # of a bar, and how far its middle is from the row's, in rows
LEAST = 1.0  # the picture reaches at least so far, in the unit on show
ROLES = {"rigid": "quiet", "dynamic": "accent"}


class MattersScale(StackedScale):
    """Bars; the names of the inputs stand on the left axis."""

    def __init__(self, parent: QWidget | None = None) -> None:
        self.names: tuple[str, ...] = ()
        super().__init__("matters_picture", 1, parent)

    def name_rows(self, names: tuple[str, ...]) -> None:
        """Name the rows from the top down."""
        if names != self.names:
            self.names = names
            self._name()

    def _name(self) -> None:
        axis: PlainAxis = self.axes[0]
        axis.setTicks([[(float(len(self.names) - place), name) for place, name in enumerate(self.names)]])
        wide = max((face(0.9).width(name) for name in self.names), default=40.0)
        axis.setWidth(round(wide + 14 * em()))

    @override
    def restyle(self, ink: Ink) -> None:
        super().restyle(ink)
        self._name()


class MattersView(MotionPicture):
    """Which input moves the speed most."""

    scale: MattersScale

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, MattersScale(), "matters", parent)

    @override
    def build_seen(self, seen: Seen, style: Style) -> Told:
        rows = sorted_rows(seen)
        self.scale.name_rows(tuple(words.quantity(each) for each, _ in rows))
        return matters_picture(seen, rows, style)

    @override
    def read_seen(self, seen: Seen, place: float, style: Style) -> str:
        return ""

    @override
    def stride(self) -> float:
        return speed_stride(self.session.style)

    @override
    def rows_seen(self, seen: Seen, style: Style) -> list[list[str]]:
        return matters_rows(seen, style)

    @override
    def title(self) -> str:
        return self.tr("What moves the speed at which contact is lost")


Row = tuple["Quantity", dict[str, Moved]]

NARROW, WIDE = 1.25, 1.8
"""How far the axis goes, over the longest bar, where one number stands beside a bar, and where two do."""


def sorted_rows(seen: Seen) -> list[Row]:
    """The inputs with what they do, the strongest first: by the dynamic run where it is there."""
    found: dict[Any, dict[str, Moved]] = {}
    for how, moved in (("rigid", rigid_sensitivity(seen.motion, seen.parts)), ("dynamic", seen.onsets or ())):
        for each in moved:
            found.setdefault(each.quantity, {})[how] = each
    held = any(each.base is not None for each in seen.onsets or ())
    first = "dynamic" if held else "rigid"

    def reach(row: Row) -> tuple[float, float]:
        """What the dynamic run tells within the width of its edges is the same for all."""
        own, rigid = (0.0 if moved is None else moved.reach for moved in (row[1].get(first), row[1].get("rigid")))
        return own if own > EDGE else 0.0, rigid

    return sorted(found.items(), key=reach, reverse=True)


def matters_picture(seen: Seen, rows: list[Row], style: Style) -> Told:
    """The bars.

    Args:
        seen: a line's motion, and what each input does to the lowest onset.
        rows: the inputs in their order.
        style: the units on show.
    """
    if not rows:
        return Told(empty=tr("Nothing pulls the follower off the lobe."))
    shades: list[Shade] = []
    strokes: list[Stroke] = []
    marks: list[Mark] = []
    says: dict[str, Callable[[], str]] = {}
    for place, (quantity, by_how) in enumerate(rows):
        key = f"input {place}"
        says[key] = partial(row_sentence, quantity, by_how, style)
        for how, moved in by_how.items():
            _add_bars(moved, how, len(rows) - place, (shades, strokes, marks), style, key)
    far = max([LEAST, *(abs(float(each)) for shade in shades for each in shade.xs),
               *(abs(float(each)) for stroke in strokes for each in stroke.xs)])  # fmt: skip
    zero = straight((0.0, 0.45), (0.0, len(rows) + 0.55), Look(role="ink", width=1.0))
    chart = Chart(
        across=words.axis(tr("Change of the speed at which contact is lost"), Kind.SPEED, style),
        x_range=(-_room(marks, -1) * far, _room(marks, 1) * far),
        y_range=(0.45, len(rows) + 0.55),
        shades=tuple(shades),
        strokes=(zero, *strokes),
        marks=tuple(marks),
    )
    notes = _notes(seen, rows, style)
    description = " ".join([*notes, *(row_sentence(*row, style) for row in rows[:3])])
    return Told(charts=(chart,), says=says, notes=notes, description=description)


def _room(marks: Sequence[Mark], side: int) -> float:
    """How far the axis goes beyond the longest bar on one side: both numbers of an input take more room than one."""
    both = any(mark.name is not None and "," in mark.name.texts[0] and side * mark.x > 0 for mark in marks)
    return WIDE if both else NARROW


def _notes(seen: Seen, rows: list[Row], style: Style) -> tuple[str, ...]:
    share = round(100 * SHARE)
    found = [tr("Filled: the input {share} % more. Outlined: {share} % less.").format(share=share)]
    bases = {how: moved.base for _, by_how in rows for how, moved in by_how.items()}
    rigid, onset = bases.get("rigid"), bases.get("dynamic")
    first = None if seen.dynamics is None or not seen.dynamics.bands else seen.dynamics.bands[0].low
    if onset is not None and first is not None and abs(first - onset) <= 2 * EDGE:
        onset = first  # found twice, each to its edge: told as in the other views
    if rigid is not None:
        found.append(tr("Upper, grey: force balance, now {speed}.").format(speed=words.speed(rigid, style)))
    if onset is not None:
        found.append(
            tr("Lower, in colour: dynamic run, contact first lost at {speed} now.").format(
                speed=words.speed(onset, style)
            )
        )
    elif seen.onsets:
        found.append(tr("The dynamic run holds contact over the whole sweep."))
    else:
        found.append(tr("The bars of the dynamic run follow."))
    return tuple(found)


def _add_bars(
    moved: Moved,
    how: str,
    y: float,
    into: tuple[list[Shade], list[Stroke], list[Mark]],
    style: Style,
    key: str,
) -> None:
    """The two bars of one input: more is filled, less is outlined."""
    shades, strokes, marks = into
    middle = y + LANE if how == "rigid" else y - LANE
    low, high = middle - TALL / 2, middle + TALL / 2
    ends = _numbers(moved, style)
    for value, filled in ((moved.less, False), (moved.more, True)):
        if value is None or moved.base is None:
            continue
        x = float(to_display(value - moved.base, Kind.SPEED, style))
        xs, ys = np.array([0.0, x, x, 0.0, 0.0]), np.array([low, low, high, high, low])
        if filled:
            shades.append(Shade(xs=xs, ys=ys, role=ROLES[how], share=0.75))
        strokes.append(Stroke(xs=xs, ys=ys, look=Look(role=ROLES[how], width=1.2)))
    for x, text in ends:
        name = Name(texts=(text,), role="ink", rank=2 if how == "dynamic" else 3, sides=_ends(x, how), must=True)
        marks.append(Mark(x=x, y=middle, shape=Shape.NONE, key=key, name=name))


def _numbers(moved: Moved, style: Style) -> list[tuple[float, str]]:
    """The numbers of the bars, each with where it stands; of two on one side both stand at the longer one's end."""
    if moved.base is None:
        return []
    found = []
    for value, word in ((moved.less, tr("{change} less")), (moved.more, tr("{change} more"))):
        x = 0.0 if value is None else float(to_display(value - moved.base, Kind.SPEED, style))
        if abs(x) >= LEAST:  # else no more than the edge is found to
            change = f"{x:+.0f}".replace("-", "\u2212")
            found.append((x, change, word.format(change=change)))
    if len(found) > 1 and found[0][0] * found[1][0] > 0:
        far = max((x for x, _, _ in found), key=abs)
        return [(far, ", ".join(word for _, _, word in found))]
    return [(x, change) for x, change, _ in found]


def _ends(x: float, how: str) -> tuple[tuple[float, float], ...]:
    """Where a number may stand at its bar's end: right beside it, a little off the other bar's, or further out."""
    off = 0.7 if how == "rigid" else 0.3  # the upper bar's goes up, the lower one's down
    places = ((0.0, 0.5), (0.0, off), (0.0, 2 * off - 0.5), (-0.4, 0.5), (-0.4, off), (-1.0, 0.5), (-1.0, off))
    return places if x >= 0 else tuple((1.0 - across, down) for across, down in places)


def row_sentence(quantity: Quantity, by_how: dict[str, Moved], style: Style) -> str:
    """What one input does, for the read-out."""
    hows = {"rigid": tr("force balance"), "dynamic": tr("dynamic run, contact first lost at")}
    parts = []
    for how, moved in by_how.items():
        more, less = (_told(each, style) for each in (moved.more, moved.less))
        parts.append(
            tr("{how} {more} with {share} % more, {less} with {share} % less").format(
                how=hows[how], more=more, less=less, share=round(100 * SHARE)
            )
        )
    return f"{words.quantity(quantity)}: {'; '.join(parts)}."


def _told(value: float | None, style: Style) -> str:
    return tr("held throughout") if value is None else words.speed(value, style)


def matters_rows(seen: Seen, style: Style) -> list[list[str]]:
    """The data behind the picture."""
    unit = display_unit(Kind.SPEED, style)
    rows = [["input", "by", *(f"{name}_{unit}" for name in ("less_5_percent", "now", "more_5_percent"))]]
    for quantity, by_how in sorted_rows(seen):
        for how, moved in by_how.items():
            values = (moved.less, moved.base, moved.more)
            texts = ["" if each is None else f"{float(to_display(each, Kind.SPEED, style)):.9g}" for each in values]
            rows.append([words.quantity(quantity), "force balance" if how == "rigid" else "dynamic run", *texts])
    return rows
