"""The plunger: both travels side by side at this job's load and speed, the oil beneath them drawn to one scale."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np
from PySide6.QtWidgets import QVBoxLayout, QWidget
from typing_extensions import override

from loadbench.units import Kind, display_unit, tell, to_display
from ui.followers.wording import DASH, axis, tr
from ui.motion.stacked import StackedScale
from ui.spring.chart import Chart, Look, Mark, Name, Shade, Shape, Stroke, Told, straight
from ui.spring.chart_picture import ChartPicture
from ui.trust.list_table import ListTable
from ui.trust.lists import Listed, ListRow

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from loadbench.analysis import LineAnalysis
    from loadbench.analysis.followers.result import TravelShown
    from loadbench.units import Style
    from ui.session import Session
    from ui.state import State

WALL, PLUNGER, STOP = Look(role="ink", width=1.6), Look(role="accent", width=1.6), Look(role="lines", width=0.8)
TALL = 1.25
"""Of a drawn plunger, in travels of the longer one."""


class PlungerPicture(ChartPicture):
    """Two plungers in their bores, to one scale."""

    scale: StackedScale

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        self.line: LineAnalysis | None = None
        super().__init__(session, StackedScale("plunger_picture", 1), "plunger", parent)
        self.scale.plots[0].getAxis("bottom").setStyle(showValues=False)

    @override
    def build(self, state: State, line: str, member: str | None, style: Style) -> Told:
        self.line = state.analysis.line(line)
        return plunger_picture(self.line, style)

    @override
    def read_at(self, place: float) -> str:
        if self.line is None or not self.line.follower.travels:
            return ""
        travels = self.line.follower.travels
        return travel_sentence(travels[0 if place < 1.5 else len(travels) - 1], self.session.style)

    @override
    def stride(self) -> float:
        return 1.0

    @override
    def rows(self) -> list[list[str]]:
        return [] if self.line is None else plunger_rows(self.line, self.session.style)

    @override
    def title(self) -> str:
        return tr("Standard and short travel side by side")


class PlungerView(QWidget):
    """The picture over a table of what each plunger does."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.setObjectName("plunger_page_view")
        self.picture, self.table = PlungerPicture(session), ListTable("plunger_table", tr("What each plunger does"))
        self.said = self.picture.said
        self._shown: tuple[State, str] | None = None
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(self.picture, 1)
        column.addWidget(self.table)
        session.styled.connect(self._restyled)

    def show_state(self, state: State, line: str) -> None:
        """Show a line of a state."""
        self._shown = (state, line)
        self.picture.show_state(state, line, None)
        travels = state.analysis.line(line).follower.travels
        self.table.show_list(travels_listed(travels, self.session.style))
        view = self.table.view
        rows = sum(view.rowHeight(row) for row in range(len(_values(travels[0], self.session.style)) if travels else 0))
        view.setFixedHeight(rows + view.horizontalHeader().sizeHint().height() + 2 * view.frameWidth() + 2)
        self.table.setVisible(bool(travels))

    def _restyled(self, _style: Style) -> None:
        if self._shown is not None:
            self.show_state(*self._shown)

    def reset_view(self) -> None:
        """The whole picture again."""
        self.picture.reset_view()

    def copy_picture(self) -> None:
        """Copy the picture."""
        self.picture.copy_picture()

    def save_picture(self) -> None:
        """Ask where, and save the picture or the data behind it."""
        self.picture.save_picture()

    def save_picture_as(self, path: Path) -> None:
        """Save in the format of the file's name."""
        self.picture.save_picture_as(path)


def travels_listed(travels: tuple[TravelShown, ...], style: Style) -> Listed:
    """Each quantity a row, each travel a column."""
    if not travels:
        return Listed(heads=(), rows=())
    words = {"standard": tr("Standard travel"), "short": tr("Short travel")}
    heads = [words[each.name] + (tr(" (stated)") if each.stated else tr(" (as is usual)")) for each in travels]
    columns = [_values(each, style) for each in travels]
    rows = tuple(
        ListRow(cells=(label[:1].upper() + label[1:], *(column[place][1] for column in columns)))
        for place, (label, _) in enumerate(columns[0])
    )
    return Listed(heads=(tr("At this job"), *heads), rows=rows)


def plunger_picture(line: LineAnalysis, style: Style) -> Told:
    """Both travels.

    Args:
        line: on show.
        style: the units on show.
    """
    travels = line.follower.travels
    if not travels:
        figure = line.figures.get("plunger_stiffness")
        if figure is None:
            return Told(empty=tr("This follower has no plunger."))
        from ui.labels import label_of

        fields = ", ".join(dict.fromkeys(label_of(field)[:1].lower() + label_of(field)[1:] for field in figure.missing))
        return Told(empty=tr("The plunger waits for: {fields}.").format(fields=fields or figure.note))
    longest = max(each.travel for each in travels)
    strokes: list[Stroke] = []
    shades: list[Shade] = []
    marks: list[Mark] = []
    says: dict[str, Callable[[], str]] = {}
    for place, each in enumerate(travels):
        _draw(each, 1.0 + place, longest, (strokes, shades, marks), style)
        key = f"travel {place}"
        says[key] = partial(travel_sentence, each, style)
        y = -float(to_display(each.depth, Kind.LENGTH, style))
        marks.append(Mark(x=1.0 + place, y=y, shape=Shape.DIAMOND, look=PLUNGER, key=key, filled=True))
    low, high = (float(to_display(each, Kind.LENGTH, style)) for each in (-1.35 * longest, TALL * 0.75 * longest))
    chart = Chart(
        up=axis(tr("Plunger below its stop (down)"), Kind.LENGTH, style), x_range=(0.4, len(travels) + 0.6),
        y_range=(low, high), shades=tuple(shades), strokes=tuple(strokes), marks=tuple(marks),
        across=tr("At this job\u2019s loads and speed limit"),
    )  # fmt: skip
    notes = (
        tr("Nearer to its bottom there is less oil under a plunger: it is stiffer, pumps up less and recovers sooner."),
        tr("The travel that is not stated is drawn with a usual travel and depth."),
    )
    description = " ".join(travel_sentence(each, style) for each in travels)
    return Told(charts=(chart,), says=says, notes=notes, description=description)


def _draw(
    each: TravelShown, x: float, longest: float, into: tuple[list[Stroke], list[Shade], list[Mark]], style: Style
) -> None:
    """One bore with its plunger: the stop at nought, the bottom at the travel."""
    strokes, shades, marks = into
    half = 0.28

    def up(metres: float) -> float:
        return float(to_display(metres, Kind.LENGTH, style))

    bottom, depth, head = up(-each.travel), up(-each.depth), up(-each.depth + TALL * longest * 0.55)
    wall = up(TALL * longest * 0.7)
    xs = np.array([x - half, x - half, x + half, x + half])
    strokes.append(Stroke(xs=xs, ys=np.array([wall, bottom, bottom, wall]), look=WALL))
    shades.append(Shade(xs=xs[[0, 0, 2, 2]], ys=np.array([bottom, depth, depth, bottom]), role="watch", share=0.25))
    inner = 0.94 * half
    box = np.array([x - inner, x - inner, x + inner, x + inner, x - inner])
    shades.append(Shade(xs=box[:4], ys=np.array([depth, head, head, depth]), role="accent", share=0.18))
    strokes.append(Stroke(xs=box, ys=np.array([depth, head, head, depth, depth]), look=PLUNGER))
    strokes.append(straight((x - half - 0.06, 0.0), (x + half + 0.06, 0.0), STOP))
    word = tr("standard travel") if each.name == "standard" else tr("short travel")
    stated = tr(" (stated)") if each.stated else tr(" (as is usual)")
    marks.append(Mark(x=x, y=bottom, shape=Shape.NONE, name=Name(texts=(word + stated,), role="ink", bold=each.stated,
                                                                  sides=((0.5, 0.0),), rank=0, must=True)))  # fmt: skip
    marks.append(
        Mark(x=x + half + 0.06, y=0.0, shape=Shape.NONE, name=Name(texts=(tr("stop"),), sides=((0.0, 0.5),), rank=1))
    )
    oil = tr("oil {height}").format(height=tell(each.travel - each.depth, Kind.LENGTH, style))
    marks.append(
        Mark(x=x, y=(bottom + depth) / 2, shape=Shape.NONE, name=Name(texts=(oil,), sides=((0.5, 0.5),), rank=1))
    )


def travel_sentence(each: TravelShown, style: Style) -> str:
    """One travel in words."""
    word = tr("Standard travel") if each.name == "standard" else tr("Short travel")
    said = [f"{label} {shown}" for label, shown in _values(each, style)]
    return f"{word}: {', '.join(said)}."


def _values(each: TravelShown, style: Style) -> list[tuple[str, str]]:
    def told(value: float | None, kind: Kind) -> str:
        return DASH if value is None else str(tell(value, kind, style))

    return [
        (tr("travel"), told(each.travel, Kind.LENGTH)),
        (tr("depth"), told(each.depth, Kind.LENGTH)),
        (tr("stiffness"), told(each.stiffness, Kind.RATE)),
        (tr("give under load"), told(each.squeeze, Kind.LENGTH)),
        (tr("leak-down"), told(each.leak_down_time, Kind.TIME)),
        (tr("lift lost an event"), told(each.lift_loss, Kind.LENGTH)),
        (tr("pumps up to"), told(each.pump_up, Kind.LENGTH)),
        (tr("recovers in"), told(each.recovery_time, Kind.TIME)),
    ]


def plunger_rows(line: LineAnalysis, style: Style) -> list[list[str]]:
    """The data behind the picture: a row a travel."""
    kinds = (
        ("travel", Kind.LENGTH), ("depth", Kind.LENGTH), ("stiffness", Kind.RATE), ("squeeze", Kind.LENGTH),
        ("leak_down_time", Kind.TIME), ("lift_loss", Kind.LENGTH), ("pump_up", Kind.LENGTH),
        ("recovery_time", Kind.TIME),
    )  # fmt: skip
    rows = [["kind", *(f"{name}_{display_unit(kind, style)}" for name, kind in kinds)]]
    for each in line.follower.travels:
        values = [(getattr(each, name), kind) for name, kind in kinds]
        rows.append(
            [each.name, *("" if v is None else f"{float(to_display(v, kind, style)):.9g}" for v, kind in values)]
        )
    return rows
