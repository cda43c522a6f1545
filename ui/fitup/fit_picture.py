"""The picture: which valve gets which seat load on which stack, before and after, against the wanted band."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QVBoxLayout, QWidget

from loadbench.fitup.inverse import TALLEST_STACK
from loadbench.units import Kind, Style, display_unit, to_display
from ui.fitup import wording
from ui.fitup.fit_items import LoadMarks, Mark, Stacks
from ui.fitup.fit_key import FitKey
from ui.fitup.fit_scale import FitScale
from ui.plots.ink import Ink, screen_ink
from ui.theme import theme
from ui.widgets.wrapped_label import WrappedLabel

if TYPE_CHECKING:
    from ui.fitup.rows import ValveRow
    from ui.session import Session

PAD = 0.08  # of the loads' span, above and below
TOP = 0.14  # above them where words stand
LEAST_SPAN = 0.06  # of the load: small differences are not blown up to the whole picture


class FitPicture(QWidget):
    """Draws rows; the valve that is read out is the page's current one."""

    chosen = Signal(int)

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.rows: tuple[ValveRow, ...] = ()
        self.current: int | None = None
        self.stale = False
        self.key, self.view = FitKey(), FitScale()
        self.marks, self.stacks = LoadMarks(), Stacks()
        self.view.loads.addItem(self.marks, ignoreBounds=True)
        self.view.stacks.addItem(self.stacks, ignoreBounds=True)
        self.read_out = WrappedLabel(role="quiet")
        self.read_out.setObjectName("fitup_read_out")
        self.read_out.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.read_out.setMinimumHeight(2 * self.fontMetrics().lineSpacing())  # its second line moves nothing
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(2)
        rows.addWidget(self.key)
        rows.addWidget(self.view, 1)
        rows.addWidget(self.read_out)
        self._connect()
        self.restyle(screen_ink())

    def _connect(self) -> None:
        self.view.hovered.connect(self._read)
        self.view.clicked.connect(self.chosen)
        self.view.stepped.connect(self._step)
        self.view.jumped.connect(lambda last: self.chosen.emit(len(self.rows) - 1 if last else 0))
        self.view.copied.connect(self.copy)
        self.view.resized.connect(self._fit)
        theme().changed.connect(self._themed)

    def _themed(self) -> None:
        self.restyle(screen_ink())

    def restyle(self, ink: Ink) -> None:
        """Draw with another ink from now on."""
        self.view.restyle(ink)
        self.marks.restyle(ink)
        self.stacks.restyle(ink)

    # Showing

    def show_rows(self, rows: tuple[ValveRow, ...], *, stale: bool) -> None:
        """Draw the valves."""
        self.rows, self.stale = rows, stale
        style = self.session.style
        marks = tuple(_mark(row, style) for row in rows)
        self.view.load_axis.say(self.tr("Seat load, {unit}").format(unit=display_unit(Kind.FORCE, style)))
        self.view.shim_axis.say(self.tr("Shims, {unit}").format(unit=display_unit(Kind.LENGTH, style)))
        self.view.settle_labels()
        for item in (self.marks, self.stacks):
            item.show_marks(marks, stale=stale)
        self.key.planned = any(mark.after is not None for mark in marks)
        self.key.band = any(mark.target is not None for mark in marks)
        self.key.update()
        self._fit()
        self._describe()
        self.go_to(self.current)

    def _fit(self) -> None:
        marks = self.marks.marks
        loads = [load for mark in marks for load in (mark.before, mark.after, mark.low, mark.high, mark.target) if load]
        low, high = (min(loads), max(loads)) if loads else (0.0, 1.0)
        middle, span = (low + high) / 2, max(high - low, LEAST_SPAN * (low + high) / 2, 1e-6)
        top = TOP if any(mark.words for mark in marks) else 0.0
        around = (middle - (0.5 + PAD) * span, middle + (0.5 + PAD + top) * span)
        self.view.fit(len(marks), around, 1.04 * to_display(TALLEST_STACK, Kind.LENGTH, self.session.style))

    def _describe(self) -> None:
        for widget in (self.view, self.view.viewport()):
            widget.setAccessibleName(self.tr("Fit-up picture"))
        text = self.tr(
            "Seat load of %n valve(s) in cylinder order, now and planned, over their shims.", "", len(self.rows)
        )
        self.view.setAccessibleDescription(text)

    def light(self, valves: tuple[str, ...]) -> None:
        """Light up valves by name; () puts the light out."""
        for item in (self.marks, self.stacks):
            item.lit = frozenset(valves)
            item.update()

    # Read-out

    def go_to(self, place: int | None) -> None:
        """Read out one valve; None puts the read-out away."""
        self.current = place if place is not None and place < len(self.rows) else None
        for item in (self.marks, self.stacks):
            item.chosen = self.current
            item.update()
        self._read(self.current)

    def _read(self, place: int | None) -> None:
        if place is None or place >= len(self.rows):
            self.read_out.tell(self.tr("Arrow keys or the pointer read out a valve.") if self.rows else "")
            return
        self.read_out.tell(wording.valve_told(self.rows[place], self.session.style))

    def _step(self, by: int) -> None:
        if self.rows:
            start = -1 if self.current is None and by > 0 else self.current or 0
            self.chosen.emit(min(max(start + by, 0), len(self.rows) - 1))

    def copy(self) -> None:
        """Copy the read-out as text."""
        QGuiApplication.clipboard().setText(self.read_out.text())
        self.session.announce(self.tr("Read-out copied."))


def _mark(row: ValveRow, style: Style) -> Mark:
    def shown(load: float | None) -> float | None:
        return None if load is None else to_display(load, Kind.FORCE, style)

    placed, target, share = row.placed, shown(row.target), row.tolerance
    known = target is not None and share is not None
    words = [wording.limit_word(bar) for bar in row.bars] or ([wording.locked_word()] if row.locked else [])
    shims = placed.shims if placed is not None else row.shims
    return Mark(
        name=row.id,
        before=shown(row.seat),
        after=shown(placed.seat_load) if placed is not None else None,
        low=target * (1 - share) if known else None,  # type: ignore[operator]
        high=target * (1 + share) if known else None,  # type: ignore[operator]
        target=target,
        shims=tuple(to_display(shim, Kind.LENGTH, style) for shim in shims),
        locked=row.locked,
        barred=bool(row.bars),
        words=", ".join(words),
    )
