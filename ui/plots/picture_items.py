"""Everything drawn in the two views, and how a state of one line becomes it."""

from __future__ import annotations

import numpy as np

from loadbench.analysis import LineAnalysis
from loadbench.arrays import Floats
from loadbench.findings.rulebook import RuleBook
from loadbench.units import Kind, Style, display_unit, tell, to_display
from ui.plots import wording
from ui.plots.curves import Curves, curves_of
from ui.plots.dimensions import Dimensions, dimensions_of
from ui.plots.half_section import RIM, SEAT, TIP, HalfSection
from ui.plots.height_scale import Extent, HeightScale
from ui.plots.ink import CURVE, DASHES, Ink
from ui.plots.levels import Levels
from ui.plots.limits import LoadLimit, limits_of
from ui.plots.load_curve import Band, LoadCurve
from ui.plots.load_items import Cross, Key, Labels, LevelLabel, LimitMark, Limits, Readings, Series, Zone
from ui.plots.section import Section, bound_height, section_of
from ui.plots.side_names import SideNames
from ui.state import State

LENGTH, FORCE = Kind.LENGTH, Kind.FORCE
NOTHING: Floats = np.empty(0)

NAMES_ROOM = 110.0
"""Room for the names of the limits at the foot of the plot, px."""


class PictureItems:
    """The items of both views; they are kept and updated, never made anew."""

    def __init__(self, view: HeightScale) -> None:
        self.view = view
        self.curves: dict[str, Curves] = {}
        self.section: Section | None = None
        self.half_section, self.dimensions, self.names = HalfSection(), Dimensions(), SideNames()
        self.zone = Zone()
        self.band, self.limits, self.readings = Band(), Limits(), Readings()
        self.labels, self.key, self.cross = Labels(), Key(), Cross()
        self.drawn = (self.half_section, self.dimensions, self.names)
        self.plotted = (self.zone, self.band, self.limits, self.readings, self.labels, self.key, self.cross)
        self.inside, self.beyond, self.other = (LoadCurve() for _ in range(3))
        self._sampled: tuple[object, ...] = ()  # the curves and units on show
        for item in self.drawn:
            self.view.drawing.addItem(item, ignoreBounds=True)
        for item in (self.other, self.beyond, self.inside, *self.plotted):
            self.view.plot.addItem(item, ignoreBounds=True)
        self.levels = Levels((self.view.drawing, self.view.plot))

    def restyle(self, ink: Ink) -> None:
        """Draw everything with this ink."""
        self.view.restyle(ink)
        for item in (*self.drawn, *self.plotted):
            item.restyle(ink)
        self.levels.restyle(ink)
        self.inside.set_pen(ink.pen("accent", CURVE))
        self.beyond.set_pen(ink.dashed("accent", DASHES[0], CURVE * 0.75))
        self.other.set_pen(ink.dashed("quiet", DASHES[2], 1.0))

    def show_line(self, state: State, line: LineAnalysis, book: RuleBook, style: Style) -> None:
        """Draw one line of a state in full, the other one in quiet.

        Args:
            state: what holds now.
            line: the line on show.
            book: the rules in force.
            style: the units on show.
        """
        self.section = section_of(line)
        self.curves = {each.name: found for each in state.analysis.lines if (found := curves_of(each)) is not None}
        bind = bound_height(line)
        self._show_axes(line, bind, style)
        self._show_drawing(state, line, style)
        self._show_curves(line, style)
        self._show_levels(line, bind, style)
        self._show_limits(state, line, book, style)
        rows = wording.key_rows(line, state.verdicts.findings, style)
        foot = NAMES_ROOM if self.limits.marks else 4.0
        self.key.show_rows(tuple(rows), to_display(bind or 0.0, LENGTH, style), foot)
        self._need(line, bind, style)

    def _show_axes(self, line: LineAnalysis, bind: float | None, style: Style) -> None:
        unit = display_unit(LENGTH, style)
        self.view.height_axis.say(wording.tr("spring height, {unit}").format(unit=unit))
        self.view.lift_axis.say(wording.tr("valve lift, {unit}").format(unit=unit))
        self.view.load_axis.say(wording.tr("spring load, {unit}").format(unit=display_unit(FORCE, style)))
        closed = line.value("installed_height")
        most = (closed or 0.0) - (bind or 0.0)
        scale = to_display(1.0, LENGTH, style)
        self.view.lift_axis.set_closed(None if closed is None else closed * scale, most * scale)

    def _show_drawing(self, state: State, line: LineAnalysis, style: Style) -> None:
        scale = to_display(1.0, LENGTH, style)
        self.half_section.show_section(self.section, scale)
        texts = wording.dimension_texts(line, state.verdicts.findings, style)
        found = () if self.section is None else dimensions_of(self.section, texts)
        self.dimensions.show_dimensions(found, scale)
        low = 0.0 if self.section is None else -(self.section.shims + SEAT * self.section.height) * scale
        half = 0.0 if self.section is None else self.section.radius * scale
        opened = self.section is not None and self.section.open_height is not None
        typical = self.section is not None and self.section.typical
        note = wording.tr("dashed: typical sizes" if typical else "half section, to scale")
        self.names.show_names((wording.tr("closed"), wording.tr("full lift") if opened else ""), note, low, half)

    def _show_curves(self, line: LineAnalysis, style: Style) -> None:
        mine = self.curves.get(line.name)
        other = next((curve for name, curve in self.curves.items() if name != line.name), None)
        if self._sampled and all(a is b for a, b in zip(self._sampled, (mine, other, style), strict=True)):
            return  # an edit of the height leaves them as they are
        self._sampled = (mine, other, style)
        length, force = to_display(1.0, LENGTH, style), to_display(1.0, FORCE, style)
        if mine is None:
            self.inside.show_curve(NOTHING, NOTHING)
            self.beyond.show_curve(NOTHING, NOTHING)
            self.readings.show_series(())
            self.band.show_band(NOTHING, NOTHING, None)
        else:
            heights, loads = mine.heights * length, mine.loads * force
            self.inside.show_curve(_only(loads, mine.inside), heights)
            self.beyond.show_curve(_only(loads, 1 - mine.inside), heights)
            self.band.show_band(heights, loads, None if mine.band is None else mine.band * force)
            self.readings.show_series(_series(mine, length, force))
        if other is None:
            self.other.show_curve(NOTHING, NOTHING)
        else:
            self.other.show_curve(other.loads * force, other.heights * length)

    def _show_levels(self, line: LineAnalysis, bind: float | None, style: Style) -> None:
        scale = to_display(1.0, LENGTH, style)
        heights = {"closed": line.value("installed_height"), "open": line.value("open_height"), "bind": bind}
        for name, height in heights.items():
            self.levels.show_at(name, None if height is None else height * scale)
        self.zone.show_bind(None if bind is None else bind * scale)
        self.labels.show_labels(tuple(self._labels(line, heights, style)))

    def _labels(self, line: LineAnalysis, heights: dict[str, float | None], style: Style) -> list[LevelLabel]:
        scale = to_display(1.0, LENGTH, style)
        rows = (
            ("closed", wording.tr("closed  {load}"), wording.tr("closed"), "seat_load", "ink", True),
            ("open", wording.tr("full lift  {load}"), wording.tr("full lift"), "open_load", "accent", True),
            ("bind", "", wording.tr("coils bind"), "", "stop", False),
        )
        labels = []
        for name, template, plain, figure, role, above in rows:
            height, load = heights[name], line.figures.get(figure)
            if height is None:
                continue
            told = (wording.figure_text(load, style), wording.short_text(load, style))
            texts = (*(template.format(load=each) for each in told if each), plain)
            if name == "bind":
                texts = (self._bind_words(height, style), plain)
            known = name == "closed" and load is not None and load.value is not None
            at = to_display(load.value, FORCE, style) if known and load is not None and load.value is not None else None
            labels.append(LevelLabel(name=name, texts=texts, height=height * scale, role=role, above=above, load=at))
        return labels

    def _bind_words(self, bind: float, style: Style) -> str:
        return wording.tr("coils bind  {height}").format(height=wording.length(bind, style))

    def _show_limits(self, state: State, line: LineAnalysis, book: RuleBook, style: Style) -> None:
        force = to_display(1.0, FORCE, style)
        found = limits_of(state.analysis, line, book)
        marks = tuple(
            LimitMark(
                rule=each.rule, level=each.level, load=each.load * force,
                text=_named(each, style),
            )
            for each in found
        )  # fmt: skip
        self.limits.show_marks(marks)

    def _need(self, line: LineAnalysis, bind: float | None, style: Style) -> None:
        if self.section is None:
            return
        scale, force = to_display(1.0, LENGTH, style), to_display(1.0, FORCE, style)
        tall, mine = self.section.height, self.curves.get(line.name)
        tops = [tall * (1 + TIP + 0.02)] + ([float(mine.heights[-1])] if mine else [])
        most = max((float(curve.loads.max()) for curve in self.curves.values()), default=100.0)
        seen = [mark.load / force for mark in self.limits.marks if mark.load / force < 1.3 * most]
        self.view.need(
            Extent(
                low=-(self.section.shims + SEAT * tall + 0.1 * tall) * scale,
                high=max(tops) * scale,
                most_load=1.06 * max(most, *seen, 0.0) * force if seen else 1.06 * most * force,
                half_width=(self.section.radius + 2 * RIM * tall) * scale,
                dimensions=sum(each.figure == "bind_margin" for each in self.dimensions.dimensions),
            )
        )


def _only(values: Floats, where: Floats) -> Floats:
    """The values where they belong, nothing elsewhere; neighbours stay joined."""
    wide = where > 0
    wide[1:] |= where[:-1] > 0
    return np.asarray(np.where(wide, values, np.nan))


def _series(curves: Curves, length: float, force: float) -> tuple[Series, ...]:
    if not curves.members:
        return (Series(name="", loads=curves.loads_read * force, heights=curves.heights_read * length),)
    return tuple(
        Series(
            name=member.name,
            loads=member.loads_read * force,
            heights=member.heights_read * length,
            place=place,
            curve=(member.loads * force, curves.heights * length),
        )
        for place, member in enumerate(curves.members)
    )


def _named(limit: LoadLimit, style: Style) -> str:
    return limit.name.format(load=tell(limit.load, FORCE, style))
