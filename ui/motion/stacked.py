"""Charts one above the other over one axis of angle or speed; crank degrees stand above a cam's."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from PySide6.QtCore import Qt
from typing_extensions import override

from ui.motion.wording import tr
from ui.plots.axes import BOTTOM_HEIGHT, PlainAxis
from ui.plots.ink import Ink, em, face, font
from ui.spring.chart_scale import ChartScale

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from ui.spring.chart import Chart

BETWEEN, TOP_HEIGHT, SIDE_WIDTH = 4, 34, 62  # px: the axis between two charts, that of the crank, those to the left
FRAME = 2  # px that a chart keeps about itself
GREY, APART = 0.4, 10.0  # opacity; px between two numbers
CRANK = 2.0


class AngleAxis(PlainAxis):
    """The cam's degrees beneath, or the crank's above; marks end where there is nothing more to be seen."""

    def __init__(self, orientation: str) -> None:
        super().__init__(orientation)
        self.times = CRANK if orientation == "top" else 1.0
        self.most: float | None = None

    def end_at(self, most: float | None) -> None:
        """Have no marks beyond this angle of the cam, deg."""
        if most != self.most:
            self.most = most
            self.picture = None
            self.update()

    @override
    def restyle(self, ink: Ink) -> None:
        if self.orientation == "bottom":
            super().restyle(ink)
            return
        self.setPen(ink.pen("lines", 1.0))
        self.setTextPen(ink.pen("quiet", 1.0))
        self.setTickFont(font(0.9))
        self.setLabel(self.words, **{"color": ink.colours.quiet, "font-size": f"{font(0.9).pixelSize()}px"})
        self.setHeight(round(TOP_HEIGHT * em()))

    @override
    def tickValues(self, minVal: float, maxVal: float, size: float) -> list[tuple[Any, list[float]]]:
        found = super().tickValues(self.times * minVal, self.times * maxVal, size)
        most = float("inf") if self.most is None else self.most
        return [
            (spacing, [value / self.times for value in values if value / self.times <= most])
            for spacing, values in found
        ]

    @override
    def tickStrings(self, values: list[float], scale: float, spacing: float) -> list[str]:
        strings: list[str] = super().tickStrings([self.times * value for value in values], scale, spacing)
        low, high = self.range
        room = spacing / self.times * self.geometry().width() / max(high - low, 1e-9)
        widest = max((face(0.9).width(text) for text in strings), default=0.0)
        return strings if widest + APART <= room else ["" for _ in strings]


class StackedScale(ChartScale):
    """Only the lowest chart carries the numbers of the shared axis; all are equally tall."""

    def __init__(self, name: str, count: int, parent: QWidget | None = None, *, crank: bool = False) -> None:
        self.crank: AngleAxis | None = None
        self.hidden: frozenset[int] = frozenset()
        super().__init__(name, count, parent)
        for plot in self.plots[:-1]:
            plot.getAxis("bottom").setStyle(showValues=False)
        if crank:
            self.crank = AngleAxis("top")
            self.plots[0].setAxisItems({"top": self.crank})
            self.plots[0].showAxis("top")

    @override
    def _arrange(self) -> None:
        if self.beside is None:
            self.beside = False
            for place, plot in enumerate(self.plots):
                self.ci.addItem(plot, row=place, col=0)
            return
        self._share_height()

    def _share_height(self) -> None:
        """The axes above the first and beneath the last come on top of what each chart gets."""
        above = 0 if self.crank is None else round(TOP_HEIGHT * em())
        below, last, count = round(BOTTOM_HEIGHT * em()), len(self.plots) - 1, len(self.plots) - len(self.hidden)
        _, top, _, bottom = self.ci.layout.getContentsMargins()
        # one that is left out still keeps its frame's own least height
        kept = sum(self.plots[place].effectiveSizeHint(Qt.SizeHint.MinimumSize).height() for place in self.hidden)
        spaces = self.ci.layout.verticalSpacing() * last + (BETWEEN + FRAME) * count + top + bottom + kept
        each = max((self.height() - above - below - spaces) / count, 24.0)
        for place in range(last + 1):
            own = each + FRAME + (above if place == 0 else 0) + (below if place == last else BETWEEN)
            self.ci.layout.setRowFixedHeight(place, 0 if place in self.hidden else own)

    def hide_charts(self, hidden: frozenset[int]) -> None:
        """Leave some of the charts between the first and the last out."""
        if hidden != self.hidden:
            self.hidden = hidden
            for place, plot in enumerate(self.plots):
                plot.setVisible(place not in hidden)
            self._share_height()

    @override
    def show_charts(self, charts: tuple[Chart, ...]) -> None:
        super().show_charts(charts)
        if self.crank is not None:
            self.crank.say(tr("Crank from the nose, deg"))

    @override
    def restyle(self, ink: Ink) -> None:
        super().restyle(ink)
        for plot in self.plots:
            plot.getAxis("left").setWidth(round(SIDE_WIDTH * em()))
        for plot in self.plots[:-1]:
            plot.getAxis("bottom").setHeight(BETWEEN)
        if self.crank is not None:
            self.crank.restyle(ink)
        self._share_height()

    def set_grey(self, grey: bool) -> None:
        """Draw what is out of date paler, or not."""
        for item in self.items:
            item.setOpacity(GREY if grey else 1.0)
