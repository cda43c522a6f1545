"""Charts one above the other over one axis of angle or speed; crank degrees stand above a cam's."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import Qt
from typing_extensions import override

from ui.motion.wording import tr
from ui.plots.axes import PlainAxis
from ui.plots.ink import Ink, em, face, font
from ui.spring.chart import Chart, Mark, Name, Point, Shape
from ui.spring.chart_scale import ChartScale

if TYPE_CHECKING:
    from PySide6.QtGui import QPaintEvent
    from PySide6.QtWidgets import QWidget

BETWEEN, TOP_HEIGHT, LOW_HEIGHT = 4, 34, 35  # px: the axis between two charts, that of the crank, the lowest one
SIDE_WIDTH = 62  # px: the axes to the left
NICE = (1.0, 2.0, 2.5, 3.0, 4.0, 5.0)
SMALL = 90  # px: lower than what is drawn needs, so that a low window cuts the picture and not the words beneath it
LEAST = 24.0  # px: a chart of one share is no lower
ROOMY = 1.05  # times its height: what a number of an axis to the left needs
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


class UpAxis(PlainAxis):
    """Numbers where they do not run into each other, never as powers of ten; or words, at places that are given."""

    @override
    def tickStrings(self, values: list[float], scale: float, spacing: float) -> list[str]:
        power = math.floor(math.log10(spacing))
        places = max(-power, 0) + bool(round(spacing / 10.0**power, 6) % 1)  # one more for steps such as 0.25
        rounded = (round(value, places) for value in values)
        return [f"{value:.{places}f}" if value else "0" for value in rounded]

    @override
    def tickSpacing(self, minVal: float, maxVal: float, size: float) -> list[tuple[float, float]]:
        least = ROOMY * face(0.9).tall * (maxVal - minVal) / max(size, 1.0)
        found = [(spacing, offset) for spacing, offset in super().tickSpacing(minVal, maxVal, size) if spacing >= least]
        if found or not 0 < least < math.inf:
            return found
        power = 10.0 ** math.floor(math.log10(least))
        return [(next((each * power for each in NICE if each * power >= least), 10 * power), 0.0)]

    def name_places(self, names: tuple[str, ...]) -> None:
        """Words in place of the numbers, at 0, 1, 2 and so on."""
        self.setTicks([list(zip(map(float, range(len(names))), names, strict=True))])


def headed(chart: Chart, corner: Point) -> Chart:
    """A chart whose quantity and unit stand in its corner, always, and not along its side: several have no room there.

    A chart without a title keeps what stands along its side.
    """
    if not chart.title:
        return chart
    words = f"{chart.title}, {chart.up}" if chart.up else chart.title
    name = Name(texts=(words,), bold=True, must=True, rank=0, sides=((0.0, 0.0),))
    head = Mark(x=corner[0], y=corner[1], shape=Shape.NONE, name=name)
    return Chart(
        across=chart.across, x_range=chart.x_range, y_range=chart.y_range, shades=chart.shades, strokes=chart.strokes,
        marks=(*chart.marks, head),
    )  # fmt: skip


class StackedScale(ChartScale):
    """Only the lowest chart carries the numbers of the shared axis; all are equally tall, or as `shares` says."""

    shares: tuple[float, ...] = ()
    spare: tuple[int, ...] = ()
    """Charts between the first and the last that a low window does without, the first of them first."""

    def __init__(self, name: str, count: int, parent: QWidget | None = None, *, crank: bool = False) -> None:
        self.crank: AngleAxis | None = None
        self.hidden: frozenset[int] = frozenset()
        self._given: tuple[Chart, ...] = ()
        super().__init__(name, count, parent)
        self.setMinimumSize(260, SMALL)
        self.ups = [UpAxis("left") for _ in self.plots]
        for place, (plot, axis) in enumerate(zip(self.plots, self.ups, strict=True)):
            plot.setAxisItems({"left": axis})
            self.axes[2 * place] = axis
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
        below, last = round(LOW_HEIGHT * em()), len(self.plots) - 1
        shares = self.shares or (1.0,) * (last + 1)
        hidden, spare = set(self.hidden), [place for place in self.spare if place not in self.hidden]
        while (each := self._height_of_one(above + below, shares, hidden)) < LEAST and spare:
            hidden.add(spare.pop(0))
        for place, (plot, share) in enumerate(zip(self.plots, shares, strict=True)):
            plot.setVisible(place not in hidden)
            own = (
                share * max(each, LEAST) + FRAME + (above if place == 0 else 0) + (below if place == last else BETWEEN)
            )
            self.ci.layout.setRowFixedHeight(place, 0 if place in hidden else own)
        self.ci.layout.activate()  # a chart that comes back has its height before it is painted

    def _height_of_one(self, axes: float, shares: tuple[float, ...], hidden: set[int]) -> float:
        """What a chart of one share gets beside the axes, px."""
        count = len(self.plots) - len(hidden)
        _, top, _, bottom = self.ci.layout.getContentsMargins()
        # one that is left out still keeps its frame's own least height
        kept = sum(self.plots[place].effectiveSizeHint(Qt.SizeHint.MinimumSize).height() for place in hidden)
        gaps = self.ci.layout.verticalSpacing() * (len(self.plots) - 1)
        spaces = gaps + (BETWEEN + FRAME) * count + top + bottom + kept
        whole = sum(share for place, share in enumerate(shares) if place not in hidden)
        return float((self.height() - axes - spaces) / whole)

    @override
    def paintEvent(self, ev: QPaintEvent) -> None:
        """Nothing is drawn into a chart without height: its lines would end in infinity, and Qt with them."""
        if any(plot.isVisible() and plot.getViewBox().height() < 1.0 for plot in self.plots):
            self.ci.layout.activate()
        super().paintEvent(ev)

    def hide_charts(self, hidden: frozenset[int]) -> None:
        """Leave some of the charts between the first and the last out."""
        if hidden != self.hidden:
            self.hidden = hidden
            self._share_height()

    @override
    def show_charts(self, charts: tuple[Chart, ...]) -> None:
        self._given = charts
        super().show_charts(
            tuple(headed(chart, self._corner(place, chart)) for place, chart in enumerate(charts))
        )  # fmt: skip
        if self.crank is not None and self.crank.words != (words := tr("Crank from the nose, deg")):
            self.crank.say(words)
            self.crank.resizeEvent(None)  # it places its label when it is resized, not when its words change

    def _corner(self, place: int, chart: Chart) -> Point:
        """The upper left corner of what is seen."""
        if not self.zoomed:
            return chart.x_range[0], chart.y_range[1]
        across, up = self.plots[place].getViewBox().viewRange()
        return across[0], up[1]

    @override
    def _zoom(self, *_: object) -> None:
        super()._zoom()
        self.show_charts(self._given)

    @override
    def reset(self) -> None:
        super().reset()
        self.show_charts(self._given)

    @override
    def restyle(self, ink: Ink) -> None:
        super().restyle(ink)
        for plot in self.plots:
            plot.getAxis("left").setWidth(round(SIDE_WIDTH * em()))
        for plot in self.plots[:-1]:
            plot.getAxis("bottom").setHeight(BETWEEN)
        self.plots[-1].getAxis("bottom").setHeight(round(LOW_HEIGHT * em()))
        if self.crank is not None:
            self.crank.restyle(ink)
        self._share_height()

    @override
    def settle_labels(self) -> None:
        super().settle_labels()
        if self.crank is not None:
            self.crank.resizeEvent(None)

    def set_grey(self, grey: bool) -> None:
        """Draw what is out of date paler, or not."""
        for item in self.items:
            item.setOpacity(GREY if grey else 1.0)
