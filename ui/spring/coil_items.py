"""Everything drawn in the coil's picture, and how a line of the job becomes it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from loadbench.units import Kind, Style, display_unit, to_display
from ui.plots import wording as bench_words
from ui.plots.axes import BOTTOM_HEIGHT
from ui.plots.dimensions import OUT, Dimension, Dimensions
from ui.plots.height_scale import Extent
from ui.plots.ink import em
from ui.plots.levels import LevelLine
from ui.plots.load_items import Cross, Key, Labels, LevelLabel, Zone
from ui.spring import wording
from ui.spring.coil_sections import PLATE, CoilSections, Layout
from ui.spring.load_items import LoadLinesItem
from ui.spring.load_lines import LoadLines, load_lines_of
from ui.spring.stands import Stands, stands_of

if TYPE_CHECKING:
    from loadbench.analysis import LineAnalysis
    from ui.plots.ink import Ink
    from ui.spring.coil_scale import CoilScale

LENGTH, FORCE = Kind.LENGTH, Kind.FORCE
LEVELS = ("closed", "open", "bind")
FIGURE = {"free": "free_height", "closed": "installed_height", "open": "open_height", "bind": "bind_height"}
ROLES = {"closed": "ink", "open": "accent", "bind": "stop"}
TEXT_ROOM = 44.0  # px under the drawing, for its words


class CoilItems:
    """The items of both views; they are kept and updated, never made anew."""

    def __init__(self, view: CoilScale) -> None:
        self.view = view
        self.stands: Stands = Stands(stands=(), profiles=(), lacking=())
        self.lines: LoadLines = LoadLines(coils=(), whole=None)
        self.sections, self.dimensions = CoilSections(), Dimensions()
        self.zone, self.curves, self.labels = Zone(), LoadLinesItem(), Labels()
        self.key, self.cross = Key(), Cross()
        self.drawn = (self.sections, self.dimensions)
        self.plotted = (self.zone, self.curves, self.labels, self.key, self.cross)
        for item in self.drawn:
            view.drawing.addItem(item, ignoreBounds=True)
        for item in self.plotted:
            view.plot.addItem(item, ignoreBounds=True)
        self.levels = {name: [LevelLine(name, movable=False) for _ in range(2)] for name in LEVELS}
        for lines in self.levels.values():
            for plot, level in zip((view.drawing, view.plot), lines, strict=True):
                level.setZValue(-2)  # behind the coils: nothing here is dragged
                plot.addItem(level, ignoreBounds=True)

    def restyle(self, ink: Ink) -> None:
        """Draw everything with this ink."""
        self.view.restyle(ink)
        for item in (*self.drawn, *self.plotted):
            item.restyle(ink)
        for lines in self.levels.values():
            for level in lines:
                level.restyle(ink)

    def show_line(self, line: LineAnalysis, member: str | None, style: Style) -> None:
        """Draw a coil alone, or the whole nest.

        Args:
            line: the line on show.
            member: a coil by name; None for all.
            style: the units on show.
        """
        self.stands, self.lines = stands_of(line, member), load_lines_of(line, member)
        self._show_axes(style)
        self._show_drawing(style)
        self.curves.show_lines(self.lines, style, _names_at(self.stands))
        self._show_levels(style)
        bind = self.stands.height("bind")
        scale = to_display(1.0, LENGTH, style)
        self.zone.show_bind(None if bind is None else bind * scale)
        self.key.show_rows(wording.key_rows(self.lines), (bind or 0.0) * scale, 4.0)
        self._need(style)

    def _show_axes(self, style: Style) -> None:
        unit = display_unit(LENGTH, style)
        self.view.height_axis.say(bench_words.tr("spring height, {unit}").format(unit=unit))
        self.view.lift_axis.say(bench_words.tr("valve lift, {unit}").format(unit=unit))
        self.view.load_axis.say(bench_words.tr("spring load, {unit}").format(unit=display_unit(FORCE, style)))
        closed, scale = self.stands.height("closed"), to_display(1.0, LENGTH, style)
        most = (closed or 0.0) - (self.stands.height("bind") or 0.0)
        self.view.lift_axis.set_closed(None if closed is None else closed * scale, most * scale)

    def _show_drawing(self, style: Style) -> None:
        scale = to_display(1.0, LENGTH, style)
        note = wording.not_drawn(self.stands) or wording.tr("half sections, to scale")
        self.sections.show_stands(self.stands, scale, note)
        layout = self.sections.layout
        found = () if layout is None else tuple(_dimensions(self.stands, layout, style))
        self.dimensions.show_dimensions(found, scale)

    def _show_levels(self, style: Style) -> None:
        scale, force = to_display(1.0, LENGTH, style), to_display(1.0, FORCE, style)
        labels = []
        for name, lines in self.levels.items():
            height = self.stands.height(name)
            for level in lines:
                level.show_at(None if height is None else height * scale)
            if height is None:
                continue
            load = self.lines.whole_at(height)
            labels.append(
                LevelLabel(
                    name=name, texts=wording.level_texts(name, height, load, style), height=height * scale,
                    role=ROLES[name], above=name != "bind",
                    load=load * force if name == "closed" and load is not None else None,
                )
            )  # fmt: skip
        self.labels.show_labels(tuple(labels))

    def _need(self, style: Style) -> None:
        scale, force = to_display(1.0, LENGTH, style), to_display(1.0, FORCE, style)
        tall, layout = self.stands.tallest, self.sections.layout
        if layout is None:
            return
        most = self.lines.greatest or 100.0
        room = min(1.2 * TEXT_ROOM * em() / max(self.view.height() - BOTTOM_HEIGHT, 100), 0.3)
        self.view.need(
            Extent(
                low=-(PLATE + room) * tall * scale,
                high=1.06 * tall * scale,
                most_load=1.08 * most * force,
                half_width=layout.half_width * scale,
                dimensions=1,
            )
        )


def _dimensions(stands: Stands, layout: Layout, style: Style) -> list[Dimension]:
    """Each height beside its half, outside of it."""
    found = []
    for place, stand in enumerate(stands.stands):
        side = layout.side(place)
        found.append(
            Dimension(
                figure=FIGURE[stand.state], member=None, low=0.0, high=stand.height,
                start=side * layout.centre(place) + layout.radius, side=side, place=OUT,
                text=wording.length(stand.height, style),
            )
        )  # fmt: skip
    return found


def _names_at(stands: Stands) -> float:
    """Half way between closed and full lift, else low in what is known: there the lines lie apart."""
    known = [height for state in ("closed", "open") if (height := stands.height(state)) is not None]
    ends = known if len(known) > 1 else [stands.height("bind") or 0.5 * stands.tallest, stands.tallest]
    return 0.5 * ends[0] + 0.5 * ends[1]
