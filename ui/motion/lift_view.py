"""The view of the lift: this lobe with its velocity, acceleration and jerk, or two lobes one over the other."""

from __future__ import annotations

from typing import TYPE_CHECKING

from typing_extensions import override

from loadbench.analysis.motion.held_lift import Same
from ui.motion.lift_curves import lift_picture, lift_read_out, lift_rows
from ui.motion.motion_picture import MotionPicture
from ui.motion.overlay import overlay_picture, overlay_read_out, overlay_rows
from ui.motion.stacked import StackedScale
from ui.spring.chart import Told

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from loadbench.units import Style
    from ui.motion.seen import Seen
    from ui.session import Session


class LiftScale(StackedScale):
    """Lift, what a table's points lie off it, velocity, acceleration, jerk; the second is left out without a table."""

    spare = (3, 2, 1)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("lift_picture", 5, parent, crank=True)


class LiftView(MotionPicture):
    """How the valve and the follower move over the cam\u2019s angle; beside another lobe, one side of both."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, LiftScale(), "lift", parent)
        self._built_for: object = None
        self._built = Told()

    @override
    def build_seen(self, seen: Seen, style: Style) -> Told:
        shown, beside = seen.motion.shown, seen.beside
        arrays = () if shown is None else (shown.valve, shown.lobe, shown.net, shown.residuals)
        other = () if beside is None else (Same(beside.lobe), beside.side, beside.name)
        key = (*map(Same, arrays), *other, style)
        if key != self._built_for:
            told = overlay_picture(seen, style)
            residuals = told is None and shown is not None and shown.residuals is not None
            self._built_for, self._built = key, told or lift_picture(seen, style)
            self.scale.hide_charts(frozenset() if residuals else frozenset({1}))
        return self._built

    @override
    def read_seen(self, seen: Seen, place: float, style: Style) -> str:
        return overlay_read_out(seen, place, style) or lift_read_out(seen, place, style)

    @override
    def rows_seen(self, seen: Seen, style: Style) -> list[list[str]]:
        return overlay_rows(seen, style) or lift_rows(seen.motion.shown, style)

    @override
    def title(self) -> str:
        return self.tr("Lift, velocity, acceleration and jerk over the cam\u2019s angle")
