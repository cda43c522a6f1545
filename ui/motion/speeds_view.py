"""Against the speed: forces, seating speed, surge, bands of lost contact; also with the follower on its own."""

from __future__ import annotations

from typing import TYPE_CHECKING

from typing_extensions import override

from ui.motion.motion_picture import MotionPicture, speed_stride
from ui.motion.speeds_charts import FULL_ONLY, speeds_picture
from ui.motion.speeds_rows import speeds_read_out, speeds_rows
from ui.motion.stacked import StackedScale

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from loadbench.units import Style
    from ui.motion.seen import Seen
    from ui.session import Session
    from ui.spring.chart import Told

PLACES = ("seat", "linkage", "lobe")


class SpeedsScale(StackedScale):
    """Forces, where contact is lost, plunger and seat, seating speed, surge; the second and third only when full."""

    shares = (1.6, 0.95, 1.1, 0.95, 1.0)
    usual = (1.0, 1.0, 1.0, 1.0, 1.0)
    spare = (3, 2)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("speeds_picture", 5, parent)
        self.show_full(full=False, names=())

    def show_full(self, *, full: bool, names: tuple[str, ...]) -> None:
        """Show the charts of the full sweep too, or not; `names` of where contact can be lost, from below."""
        self.shares = type(self).shares if full else self.usual
        if names:
            self.ups[1].name_places(names)
        self.hide_charts(frozenset() if full else FULL_ONLY)


class SpeedsView(MotionPicture):
    """What the sweep found at each speed."""

    scale: SpeedsScale

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, SpeedsScale(), "speeds", parent)

    @override
    def build_seen(self, seen: Seen, style: Style) -> Told:
        names = tuple(map(self.tr, PLACES))
        self.scale.show_full(full=seen.full is not None and seen.dynamics is not None, names=names)
        return speeds_picture(seen, style)

    @override
    def read_seen(self, seen: Seen, place: float, style: Style) -> str:
        return speeds_read_out(seen, place, style)

    @override
    def stride(self) -> float:
        return speed_stride(self.session.style)

    @override
    def rows_seen(self, seen: Seen, style: Style) -> list[list[str]]:
        return speeds_rows(seen, style)

    @override
    def title(self) -> str:
        return self.tr("Forces, seating speed and surge against the speed")
