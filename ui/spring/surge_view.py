"""The surge picture of a nest: orders of the cam against the coils' own frequencies, with the shapes of the modes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from typing_extensions import override

from loadbench.units import Kind, step, to_display
from ui.spring.chart import Told
from ui.spring.chart_picture import ChartPicture
from ui.spring.chart_scale import ChartScale
from ui.spring.mode_strip import WIDE, ModeStrip
from ui.spring.surge_charts import read_at, surge_picture
from ui.spring.surge_reach import Reach, reach_of
from ui.spring.surge_rows import surge_rows

if TYPE_CHECKING:
    from PySide6.QtGui import QResizeEvent
    from PySide6.QtWidgets import QWidget

    from loadbench.analysis.coils.result import CoilAnalysis, SurgeRange
    from loadbench.units import Style
    from ui.plots.ink import Ink
    from ui.session import Session
    from ui.state import State

STRIP_SHARE = 0.22  # of the width at most: narrower, the strip makes way for the picture


class SurgeScale(ChartScale):
    """The chart with the strip beside it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("surge_picture", 1, parent)
        self.strip = ModeStrip()
        self.ci.addItem(self.strip, row=0, col=1)

    @override
    def restyle(self, ink: Ink) -> None:
        super().restyle(ink)
        self.strip.restyle(ink)

    @override
    def point_out(self, key: str, cursor: float | None) -> None:
        super().point_out(key, cursor)
        self.strip.choose(int(key.split()[1]) if key else 0)

    @override
    def resizeEvent(self, ev: QResizeEvent) -> None:
        super().resizeEvent(ev)
        if hasattr(self, "strip"):
            shown = STRIP_SHARE * self.width() > WIDE
            self.strip.setVisible(shown)
            self.ci.layout.setColumnMaximumWidth(1, WIDE * 3 if shown else 0)


def _key(coils: tuple[CoilAnalysis, ...], surge: SurgeRange) -> object:
    """All that the picture is made of."""
    arrays = [surge.harmonics]
    arrays += [each for coil in coils for each in (coil.modes, coil.modes_closed, coil.modes_open)]
    held = tuple(None if each is None else each.tobytes() for each in arrays)
    texts = tuple((coil.name, coil.concerned, coil.figures["surge_frequency"].missing) for coil in coils)
    tapers = tuple(coil.geometry is not None and coil.geometry.tapers for coil in coils)
    return held, texts, tapers, surge.idle_speed, surge.speed_limit, surge.friction


class SurgeView(ChartPicture):
    """Which order of the cam meets which mode of which coil, and how fast the engine turns then."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        self.coils: tuple[CoilAnalysis, ...] = ()
        self.reach: Reach | None = None
        self._built = Told()
        self._built_for: object = None
        super().__init__(session, SurgeScale(), "surge", parent)

    @override
    def build(self, state: State, line: str, member: str | None, style: Style) -> Told:
        found = state.analysis.line(line)
        return self.build_of(found.coils, found.surge, member, style)

    def build_of(
        self, coils: tuple[CoilAnalysis, ...], surge: SurgeRange, member: str | None, style: Style
    ) -> Told:  # fmt: skip
        """The picture of springs that are already computed; most edits move nothing in it."""
        self.coils = coils
        key = (_key(coils, surge), member, style)
        if key != self._built_for:
            self._built_for = key
            self.reach, self._built = reach_of(coils, surge, member, style), surge_picture(coils, surge, member, style)
        return self._built

    @override
    def read_at(self, place: float) -> str:
        return "" if self.reach is None or place < 0 else read_at(self.reach, place)

    @override
    def stride(self) -> float:
        return to_display(step(Kind.SPEED, self.session.style), Kind.SPEED, self.session.style)

    @override
    def rows(self) -> list[list[str]]:
        return surge_rows(self.coils, self.reach, self.session.style)

    @override
    def title(self) -> str:
        return self.tr("Surge picture")
