"""The handles: dragging or the arrow keys change the height or the lift, live, as one undo step."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, Signal
from typing_extensions import override

from loadbench.errors import InputError
from loadbench.fitup.moves import Move, Stop, Way, lift_field, move_height, move_lift, written
from loadbench.job.edits import replaced_all
from loadbench.job.model import Job
from loadbench.job.stated import LineStated
from loadbench.units import Kind, step
from ui.labels import label_of
from ui.session import Session


class Handle(QObject):
    """One handle. A gesture (a drag, or the focus of the keys) starts from the job as it then is."""

    told = Signal(str)  # what stopped a move, or what it does; "" when there is nothing to say

    def __init__(
        self, session: Session, move: Callable[[LineStated, float], Move], current: Callable[[], float | None]
    ) -> None:
        super().__init__()
        self.session = session
        self._move, self._current = move, current
        self._base: Job | None = None
        self._view: LineStated | None = None
        self._gesture = 0
        self._left: Job | None = None  # the job as this gesture left it
        self._last: Move | None = None

    @property
    def possible(self) -> bool:
        """Whether there is a value to move."""
        return self._current() is not None

    def take(self) -> None:
        """A drag begins: later edits of it belong to one step."""
        self._base, self._left = self.session.job, None
        self._view = self.session.state.analysis.line(self.session.line).stated
        self._gesture = self.session.gesture()
        self._last = None

    def pull(self, value: float) -> None:
        """The drag goes on: preview what this value does."""
        if self._view is None:
            self.take()
        if self._view is None:
            return
        self._last = self._move(self._view, value)
        self.session.preview_fields(dict(self._last.changes))
        self.told.emit(self._words(self._last))

    def release(self, meant: bool = True) -> None:
        """The drag ends: one undo step, or back to where it began."""
        move, self._last = self._last, None
        if move is None or not meant or not move.changes:
            self.session.drop_preview()
        else:
            self._commit(move)
        self._view = None

    def nudge(self, steps: int) -> None:
        """An arrow key: some steps of 0.001 in or 0.01 mm up (or down); presses in one focus are one undo step."""
        value = self._current()
        if value is None:
            return
        if self._view is None or self.session.job is not (self._left or self._base):
            self.take()
        if self._view is None:
            return
        move = self._move(self._view, value + steps * step(Kind.LENGTH, self.session.style))
        self._commit(move)
        self.told.emit(self._words(move))

    def leave(self) -> None:
        """The focus leaves: what comes next is another step."""
        self._view = self._base = self._left = None

    def _commit(self, move: Move) -> None:
        base = self._base
        if base is None or move.stop is Stop.UNKNOWN:
            return
        try:
            self.session.edit(self.step_name(), lambda _: replaced_all(base, move.changes), self._gesture)
        except InputError as error:
            self.told.emit(str(error))
        self._left = self.session.job

    def step_name(self) -> str:
        """What the step does, for Undo."""
        raise NotImplementedError

    def _words(self, move: Move) -> str:
        """What the move says beside its figures."""
        raise NotImplementedError

    def _length(self, value: float) -> str:
        return written(value, self.session.style)


class HeightHandle(Handle):
    """The closed line: installed height, by shims unless another way is chosen."""

    def __init__(self, session: Session) -> None:
        super().__init__(session, self._moved, self._height)
        self.way = Way.SHIM

    def _height(self) -> float | None:
        return self.session.state.analysis.line(self.session.line).value("installed_height")

    def _moved(self, view: LineStated, value: float) -> Move:
        return move_height(view, self.session.own_field, self.way, value, self.session.style)

    def choose(self, way: Way) -> None:
        """Change the height this way from now on."""
        self.leave()
        self.way = way

    @override
    def step_name(self) -> str:
        """What the step does, for Undo."""
        names = {
            Way.SHIM: self.tr("set installed height by shims"),
            Way.SEAT_CUT: self.tr("set installed height by cutting the seat"),
            Way.RETAINER: self.tr("set installed height by other locks or retainer"),
            Way.SUNK: self.tr("set installed height by sinking the valve"),
            Way.STEM: self.tr("set installed height by another stem"),
        }
        return names[self.way]

    @override
    def _words(self, move: Move) -> str:
        more = self._length(move.wanting)
        stops = {
            Stop.BARE: self.tr("Needs {more} more: cut the seat, other locks or retainer, or a longer valve."),
            Stop.CUT: self.tr("Only lengthens: a cut seat or a sunk valve gives no height back; use a shim."),
            Stop.LASH: self.tr("The lash is used up: {more} more would hold the valve open."),
            Stop.BIND: self.tr("The coils would be bound with the valve closed."),
            Stop.UNKNOWN: self.tr("State the installed height first."),
        }
        if move.stop in stops:
            return stops[move.stop].format(more=more)
        return self.tr("The preload is stated in turns: set it again.") if move.turns_left else ""


class LiftHandle(Handle):
    """The full-lift line: the lobe lift, or the valve lift or measured net lift where that governs."""

    def __init__(self, session: Session) -> None:
        super().__init__(session, self._moved, self._lift)

    def _figure(self, name: str) -> float | None:
        return self.session.state.analysis.line(self.session.line).value(name)

    def _lift(self) -> float | None:
        return self._figure("net_valve_lift") if self._figure("installed_height") is not None else None

    def _moved(self, view: LineStated, value: float) -> Move:
        gross, net = self._figure("gross_valve_lift"), self._figure("net_valve_lift")
        less = 0.0 if gross is None or net is None else gross - net
        return move_lift(view, self.session.own_field, value, less, self.session.style)

    @override
    def step_name(self) -> str:
        """What the step does, for Undo."""
        view = self.session.state.analysis.line(self.session.line).stated
        label = label_of(lift_field(view))
        return self.tr("set {field}").format(field=label[:1].lower() + label[1:])

    @override
    def _words(self, move: Move) -> str:
        if move.stop is Stop.UNKNOWN:
            return self.tr("State the lobe lift and the rocker ratio first.")
        return self.tr("A lift stays above zero.") if move.stop else ""
