"""The gauge's handle: dragging or the arrow keys change the depth, the turns or the lash, live, as one undo step."""

from __future__ import annotations

from typing import TYPE_CHECKING

from typing_extensions import override

from loadbench.fitup.moves import Move, rounded, written
from ui.plots.handles import Handle
from ui.setting.wording import tr

if TYPE_CHECKING:
    from loadbench.job.stated import LineStated
    from ui.session import Session

DEPTH, TURNS, LASH = "follower.preload.depth", "follower.preload.turns", "valve_gear.lash"
TRAVEL = "follower.plunger.travel"


class SettingHandle(Handle):
    """Moves what is stated: the plunger's depth, or the turns that it follows from, or the lash."""

    def __init__(self, session: Session) -> None:
        super().__init__(session, self._moved, self._value)

    @property
    def lash(self) -> bool:
        """Whether the follower is set by lash."""
        family = str(self._stated.value("follower.family") or "")
        return bool(family) and not family.endswith("hydraulic")

    @property
    def _stated(self) -> LineStated:
        return self.session.state.analysis.line(self.session.line).stated

    def _value(self) -> float | None:
        """Depth or lash as it stands, m."""
        line = self.session.state.analysis.line(self.session.line)
        if self.lash:
            value: float | None = line.stated.value(LASH)
            return value
        return line.value("plunger_depth") if "plunger_depth" in line.figures else None

    def _moved(self, view: LineStated, value: float) -> Move:
        style = self.session.style
        wanted = max(rounded(value, style), 0.0)
        if self.lash:
            return Move(changes={self.session.own_field(LASH): written(wanted, style)}, reached=wanted)
        travel = view.value(TRAVEL)
        reached = wanted if travel is None else min(wanted, travel)
        turn = self.session.state.analysis.line(self.session.line).value("depth_a_turn")
        if view.value(DEPTH) is None and view.value(TURNS) is not None and turn:
            return Move(changes={TURNS: round(reached / turn, 3)}, reached=reached)
        return Move(changes={DEPTH: written(reached, style)}, reached=reached)

    @override
    def step_name(self) -> str:
        """What the step does, for Undo."""
        return tr("set lash") if self.lash else tr("set plunger depth")

    @override
    def _words(self, move: Move) -> str:
        reached = move.reached or 0.0
        if reached <= 0:
            return tr("No lash: the valve may be held open.") if self.lash else tr("Zero lash: there is no preload.")
        travel = None if self.lash else self._stated.value(TRAVEL)
        return tr("The plunger stands on its bottom.") if travel is not None and reached >= travel * (1 - 1e-9) else ""
