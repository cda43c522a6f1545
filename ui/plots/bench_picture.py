"""The bench picture: the state drawn into the two views, with handles, read-out and what pointing lights up."""

from __future__ import annotations

import numpy as np
import pyqtgraph as pg
from numpy.typing import NDArray
from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from loadbench.analysis import LineAnalysis
from loadbench.arrays import Floats
from loadbench.findings.rows import rows_in_force
from loadbench.findings.rulebook import RuleBook, rule_book
from loadbench.units import Kind, Style, display_unit, from_display, step, tell, to_display
from ui.plots import wording
from ui.plots.curves import Curves, curves_of
from ui.plots.dimensions import Dimensions, dimensions_of
from ui.plots.grip import SIZE, Grip
from ui.plots.half_section import FLANGE, RIM, SEAT, TIP, HalfSection
from ui.plots.handles import Handle, HeightHandle, LiftHandle
from ui.plots.height_scale import Extent, HeightScale
from ui.plots.ink import CURVE, DASHES, Ink, screen_ink
from ui.plots.levels import Levels
from ui.plots.limits import LoadLimit, limits_of
from ui.plots.load_items import Band, Cross, Key, Labels, LevelLabel, LimitMark, Limits, Readings, Series, Zone
from ui.plots.section import Section, bound_height, section_of
from ui.plots.side_names import SideNames
from ui.session import Session
from ui.state import Pointing, State
from ui.theme import theme

LENGTH, FORCE = Kind.LENGTH, Kind.FORCE
LIT = {
    "installed_height": ("spring.installed_height", "spring.bare_height", "spring.shims"),
    "bind_margin": ("spring.bind_height",),
    "retainer_margin": ("valve_gear.retainer_to_seal",),
    "seat_load": (),
    "open_load": (),
    "net_valve_lift": ("valve_gear.lobe_lift", "valve_gear.valve_lift", "valve_gear.measured_net_lift", "valve_gear.lash"),
}
"""Which figures of the picture light up with which fields."""

ALSO = {
    "bind_margin_zero_lash": "bind_margin",
    "bind_margin_pumped_up": "bind_margin",
    "effective_seat_load": "seat_load",
    "follower_seat_load": "seat_load",
    "follower_open_load": "open_load",
    "open_height": "net_valve_lift",
}


class BenchPicture(QWidget):
    """Draws the session's state; owns no value."""

    said = Signal(str)  # the read-out, or what a handle has to say

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.view = HeightScale(self)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.view)
        self.curves: dict[str, Curves] = {}
        self.section: Section | None = None
        self.read_height: float | None = None  # m
        self._style = session.style
        self._books: tuple[object, RuleBook] | None = None
        self._make_items()
        self._make_handles()
        self._connect()
        self.restyle(screen_ink())
        self.show_state(session.state)

    def _make_items(self) -> None:
        self.half_section, self.dimensions, self.names = HalfSection(), Dimensions(), SideNames()
        self.zone = Zone()
        self.band, self.limits, self.readings = Band(), Limits(), Readings()
        self.labels, self.key, self.cross = Labels(), Key(), Cross()
        self.drawn = (self.half_section, self.dimensions, self.names)
        self.plotted = (self.zone, self.band, self.limits, self.readings, self.labels, self.key, self.cross)
        self.inside, self.beyond, self.other = (pg.PlotCurveItem(antialias=True, connect="finite") for _ in range(3))
        for item in self.drawn:
            self.view.drawing.addItem(item, ignoreBounds=True)
        for item in (self.other, self.beyond, self.inside, *self.plotted):
            self.view.plot.addItem(item, ignoreBounds=True)
        self.levels = Levels((self.view.drawing, self.view.plot))

    def _make_handles(self) -> None:
        self.height_handle, self.lift_handle = HeightHandle(self.session), LiftHandle(self.session)
        self.grips: dict[str, Grip] = {}
        for name, handle, role in (("closed", self.height_handle, "ink"), ("open", self.lift_handle, "accent")):
            grip = Grip(f"{name}_handle", role, self.view)
            self.grips[name] = grip
            self._wire(grip, name, handle)
        self.grips["closed"].setAccessibleName(self.tr("Closed line: installed height"))
        self.grips["open"].setAccessibleName(self.tr("Full-lift line: lift"))
        for grip in self.grips.values():
            grip.setToolTip(self.tr("{name}. Drag, or Up and Down; Shift for ten steps.").format(name=grip.accessibleName()))

    def _wire(self, grip: Grip, name: str, handle: Handle) -> None:
        begun: list[float] = [0.0]

        def take() -> None:
            begun[0] = self.levels.lines[name][0].value()
            self._freeze(frozen=True)
            handle.take()

        def pull(pixels: int) -> None:
            handle.pull(self._wanted(name, begun[0] - pixels * self.view.height_per_pixel()))

        def release(meant: bool) -> None:  # noqa: FBT001 - a signal's argument
            handle.release(meant)
            self._freeze(frozen=False)

        grip.taken.connect(take)
        grip.pulled.connect(pull)
        grip.let_go.connect(release)
        # up is a taller height, and so a smaller lift
        grip.stepped.connect(lambda steps: handle.nudge(steps if name == "closed" else -steps))
        grip.left.connect(handle.leave)
        handle.told.connect(self._handle_said)
        for line in self.levels.lines[name]:
            line.taken.connect(take)
            line.pulled.connect(lambda height: handle.pull(self._wanted(name, height)))
            line.let_go.connect(release)

    def _wanted(self, name: str, height: float) -> float:
        """What a handle moves, m, for its line at a height in the unit on show."""
        at = from_display(height, LENGTH, self.session.style)
        closed = self._line().value("installed_height") or 0.0
        return at if name == "closed" else closed - at

    def _freeze(self, *, frozen: bool) -> None:
        self.view.frozen = frozen
        if not frozen:
            self.show_state(self.session.state)

    def _handle_said(self, text: str) -> None:
        self.said.emit(text)
        if text:
            self.session.announced.emit(text)

    def _connect(self) -> None:
        self.session.changed.connect(self.show_state)
        self.session.line_chosen.connect(self._line_chosen)
        self.session.styled.connect(self._restyled)
        self.session.pointed.connect(self.light)
        self.view.ranged.connect(self._place_grips)
        self.view.hovered.connect(self._hovered)
        self.view.clicked.connect(self._clicked)
        self.view.keyed.connect(self._keyed)
        theme().changed.connect(self._themed)

    # Showing

    def _line(self) -> LineAnalysis:
        return self.session.state.analysis.line(self.session.line)

    def _line_chosen(self, _: str) -> None:
        self.show_state(self.session.state)

    def _themed(self) -> None:
        self.restyle(screen_ink())

    def _restyled(self, style: Style) -> None:
        heights = to_display(1.0, LENGTH, style) / to_display(1.0, LENGTH, self._style)
        loads = to_display(1.0, FORCE, style) / to_display(1.0, FORCE, self._style)
        self._style = style
        self.view.scale_ranges(heights, loads)
        self.show_state(self.session.state)
        self._read()

    def restyle(self, ink: Ink) -> None:
        """Draw everything with this ink."""
        self.view.restyle(ink)
        for item in (*self.drawn, *self.plotted):
            item.restyle(ink)
        self.levels.restyle(ink)
        self.inside.setPen(ink.pen("accent", CURVE))
        self.beyond.setPen(ink.dashed("accent", DASHES[0], CURVE * 0.75))
        self.other.setPen(ink.dashed("quiet", DASHES[2], 1.0))
        for grip in self.grips.values():
            grip.update()

    def show_state(self, state: State) -> None:
        """Draw a state."""
        line, style = self._line(), self.session.style
        scale = to_display(1.0, LENGTH, style)
        self.section = section_of(line)
        self.curves = {each.name: found for each in state.analysis.lines if (found := curves_of(each)) is not None}
        bind = bound_height(line)
        self._show_axes(line, bind, style)
        self._show_drawing(state, line, scale)
        self._show_curves(line, style)
        self._show_levels(line, bind, style)
        self._show_limits(state, line, style)
        rows = wording.key_rows(line, state.verdicts.findings, style)
        self.key.show_rows(tuple(rows), (bind or 0.0) * scale)
        self._need(line, bind, style)
        self._place_grips()
        self.view.setAccessibleName(self.tr("Bench picture"))
        self.view.setAccessibleDescription(wording.description(line, style))

    def _show_axes(self, line: LineAnalysis, bind: float | None, style: Style) -> None:
        unit = display_unit(LENGTH, style)
        self.view.height_axis.say(self.tr("spring height, {unit}").format(unit=unit))
        self.view.lift_axis.say(self.tr("valve lift, {unit}").format(unit=unit))
        self.view.load_axis.say(self.tr("spring load, {unit}").format(unit=display_unit(FORCE, style)))
        closed = line.value("installed_height")
        most = (closed or 0.0) - (bind or 0.0)
        scale = to_display(1.0, LENGTH, style)
        self.view.lift_axis.set_closed(None if closed is None else closed * scale, most * scale)

    def _show_drawing(self, state: State, line: LineAnalysis, scale: float) -> None:
        self.half_section.show_section(self.section, scale)
        texts = wording.dimension_texts(line, state.verdicts.findings, self.session.style)
        found = () if self.section is None else dimensions_of(self.section, texts)
        self.dimensions.show_dimensions(found, scale)
        low = 0.0 if self.section is None else -(self.section.shims + SEAT * self.section.height) * scale
        half = 0.0 if self.section is None else self.section.radius * scale
        opened = self.section is not None and self.section.open_height is not None
        typical = self.section is not None and self.section.typical
        note = self.tr("dashed: sizes not stated, drawn typical") if typical else self.tr("half section, to scale")
        self.names.show_names((self.tr("closed"), self.tr("full lift") if opened else ""), note, low, half)

    def _show_curves(self, line: LineAnalysis, style: Style) -> None:
        mine = self.curves.get(line.name)
        others = [curve for name, curve in self.curves.items() if name != line.name]
        length, force = to_display(1.0, LENGTH, style), to_display(1.0, FORCE, style)
        if mine is None:
            self.inside.setData([], [])
            self.beyond.setData([], [])
            self.readings.show_series(())
            self.band.show_band(np.empty(0), np.empty(0), None)
        else:
            heights, loads = mine.heights * length, mine.loads * force
            inside = mine.inside > 0
            self.inside.setData(_only(loads, inside), heights)
            self.beyond.setData(_only(loads, ~inside), heights)
            self.band.show_band(heights, loads, None if mine.band is None else mine.band * force)
            self.readings.show_series(_series(mine, length, force))
        if others:
            self.other.setData(others[0].loads * force, others[0].heights * length)
        else:
            self.other.setData([], [])

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
            ("closed", self.tr("closed  {load}"), self.tr("closed"), "seat_load", "ink", True),
            ("open", self.tr("full lift  {load}"), self.tr("full lift"), "open_load", "accent", True),
            ("bind", "", self._bind_words(heights["bind"], style), "", "stop", False),
        )
        labels = []
        for name, template, plain, figure, role, above in rows:
            height, load = heights[name], line.figures.get(figure)
            if height is not None:
                told = wording.figure_text(load, style)
                at = to_display(load.value, FORCE, style) if name == "closed" and load and load.value is not None else None
                text = template.format(load=told) if told else plain
                labels.append(LevelLabel(name=name, text=text, height=height * scale, role=role, above=above, load=at))
        return labels

    def _bind_words(self, bind: float | None, style: Style) -> str:
        return "" if bind is None else self.tr("coils bind  {height}").format(height=wording.length(bind, style))

    def _show_limits(self, state: State, line: LineAnalysis, style: Style) -> None:
        closed = line.value("installed_height")
        scale, force = to_display(1.0, LENGTH, style), to_display(1.0, FORCE, style)
        if closed is None:
            self.limits.show_marks(())
            return
        found = limits_of(state.analysis, line, self._book(state, line))
        marks = tuple(
            LimitMark(
                rule=each.rule, level=each.level, load=each.load * force, top=closed * scale, whole=not each.closed,
                text=_named(each, style),
            )
            for each in found
        )  # fmt: skip
        self.limits.show_marks(marks)

    def _book(self, state: State, line: LineAnalysis) -> RuleBook:
        """The rules in force; kept while nobody changes them."""
        rows, style = rows_in_force(line.stated), state.analysis.stated.style
        token = (self.session.shop, state.job.rules, style, rows)
        if self._books is None or self._books[0] != token:
            self._books = (token, rule_book(self.session.shop, state.job.rules, style, rows))
        return self._books[1]

    def _need(self, line: LineAnalysis, bind: float | None, style: Style) -> None:
        if self.section is None:
            return
        scale, force = to_display(1.0, LENGTH, style), to_display(1.0, FORCE, style)
        tall, mine = self.section.height, self.curves.get(line.name)
        tops = [tall * (1 + TIP + 0.02)] + ([float(mine.heights[-1])] if mine else [])
        most = max((float(curve.loads.max()) for curve in self.curves.values()), default=100.0)
        seen = [mark.load / force for mark in self.limits.marks if mark.whole and mark.load / force < 1.3 * most]
        self.view.need(
            Extent(
                low=-(self.section.shims + SEAT * tall + 0.1 * tall) * scale,
                high=max(tops) * scale,
                most_load=1.06 * max(most, *seen, 0.0) * force if seen else 1.06 * most * force,
                half_width=(self.section.radius + 2 * RIM * tall) * scale,
                dimensions=sum(each.figure == "bind_margin" for each in self.dimensions.dimensions),
            )
        )

    # What stands beside the views

    def _place_grips(self) -> None:
        for name, grip in self.grips.items():
            line = self.levels.lines[name][0]
            grip.setVisible(line.isVisible() and self._handle(name).possible)
            x, y = self.view.pixel_at(line.value())
            grip.move(x - SIZE // 2 - 4, y - SIZE // 2)
            figure = "installed_height" if name == "closed" else "net_valve_lift"
            grip.setAccessibleDescription(wording.figure_text(self._line().figures.get(figure), self.session.style) or "")

    def _handle(self, name: str) -> Handle:
        return self.height_handle if name == "closed" else self.lift_handle

    # Read-out

    def _hovered(self, where: tuple[bool, float, float] | None) -> None:
        if where is None:
            return
        is_plot, x, height = where
        over = None if is_plot else self.dimensions.at(x, height)
        self.view.viewport().setCursor(Qt.CursorShape.PointingHandCursor if over else Qt.CursorShape.ArrowCursor)
        if is_plot:
            self.read_at(from_display(height, LENGTH, self.session.style))

    def _keyed(self, steps: int) -> None:
        start = self.read_height if self.read_height is not None else self._line().value("installed_height")
        if start is not None:
            by = step(LENGTH, self.session.style)
            self.read_at(round(start / by) * by + steps * by)

    def read_at(self, height: float | None) -> None:
        """Put the read-out at a height, m; None puts it away."""
        self.read_height = height
        self._read()

    def _read(self) -> None:
        line, style, height = self._line(), self.session.style, self.read_height
        if height is None or height <= 0 or line.value("installed_height") is None:
            self.cross.show_at(None)
            return
        if line.load_line is not None:
            load = float(line.load_line.load(height))
            self.cross.show_at((to_display(load, FORCE, style), to_display(height, LENGTH, style)))
        self.said.emit(wording.read_out(line, height, style))

    # Pointing

    def _clicked(self, is_plot: bool, x: float, height: float) -> None:  # noqa: FBT001 - a signal's argument
        found = None if is_plot else self.dimensions.at(x, height)
        if found is None:
            self.session.point_at(Pointing())
        else:
            self.session.point_at(Pointing(figures=(found.figure,), line=self.session.line, member=found.member))

    def light(self, pointing: Pointing) -> None:
        """Light up what belongs to the fields, figures and rule pointed at."""
        names = {ALSO.get(name, name) for name in pointing.figures}
        ends = tuple(field.removeprefix(f"lines.{self.session.line}.") for field in pointing.fields)
        names |= {name for name, fields in LIT.items() if any(end.startswith(field) for end in ends for field in fields)}
        self.dimensions.light(frozenset((name, pointing.member) for name in names))
        lit = {"seat_load": "closed", "installed_height": "closed", "open_load": "open", "net_valve_lift": "open", "bind_margin": "bind"}
        self.labels.light(frozenset(lit[name] for name in names if name in lit))
        self.limits.light(pointing.rule)


def _only(values: Floats, where: NDArray[np.bool_]) -> Floats:
    """The values where they belong, nothing elsewhere; neighbours stay joined."""
    wide = where.copy()
    wide[1:] |= where[:-1]
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
