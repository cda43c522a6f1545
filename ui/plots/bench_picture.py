"""The bench picture: the drawn state with its handles, its read-out and what pointing lights up."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from loadbench.analysis import LineAnalysis
from loadbench.findings.rows import rows_in_force
from loadbench.findings.rulebook import RuleBook, rule_book
from loadbench.units import Kind, Style, from_display, step, to_display
from ui.plots import wording
from ui.plots.damper_band import DamperBand, damper_description, damper_words
from ui.plots.grip import SIZE, Grip
from ui.plots.handles import Handle, HeightHandle, LiftHandle
from ui.plots.height_scale import HeightScale
from ui.plots.ink import Ink, screen_ink
from ui.plots.picture_items import PictureItems
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
    "net_valve_lift": (
        "valve_gear.lobe_lift",
        "valve_gear.valve_lift",
        "valve_gear.measured_net_lift",
        "valve_gear.lash",
    ),
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
        self.read_height: float | None = None  # m
        self._style = session.style
        self._last_said = ""
        self._books: tuple[object, RuleBook] | None = None
        self.items = PictureItems(self.view)
        self.levels = self.items.levels
        self.damper = DamperBand()
        self.view.plot.addItem(self.damper, ignoreBounds=True)
        self._make_handles()
        self._connect()
        self.restyle(screen_ink())
        self.show_state(session.state)

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
            grip.setToolTip(
                self.tr("{name}. Drag, or Up and Down; Shift for ten steps.").format(name=grip.accessibleName())
            )

    def _wire(self, grip: Grip, name: str, handle: Handle) -> None:
        begun: list[float] = [0.0]

        def take() -> None:
            begun[0] = self.levels.lines[name][0].value()
            self._freeze(frozen=True)
            handle.take()

        def pull(pixels: int) -> None:
            handle.pull(self._wanted(name, begun[0] - pixels * self.view.height_per_pixel()))

        def release(meant: bool) -> None:
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
        if text and text != self._last_said:  # a drag says it once, not at every move
            self.session.announced.emit(text)
        self._last_said = text

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
        self.items.restyle(ink)
        self.damper.restyle(ink)
        for grip in self.grips.values():
            grip.update()

    def show_state(self, state: State) -> None:
        """Draw a state."""
        line, style = self._line(), self.session.style
        self.items.show_line(state, line, self._book(state, line), style)
        self.damper.show_line(line, self.items.curves.get(line.name), style)
        self._place_grips()
        for widget in (self.view, self.view.viewport()):
            widget.setAccessibleName(self.tr("Bench picture"))
        told = (wording.description(line, style), damper_description(line, style))
        self.view.setAccessibleDescription(" ".join(filter(None, told)))

    def _book(self, state: State, line: LineAnalysis) -> RuleBook:
        """The rules in force; kept while nobody changes them."""
        rows, style = rows_in_force(line.stated), state.analysis.stated.style
        token = (self.session.shop, state.job.rules, style, rows)
        if self._books is None or self._books[0] != token:
            self._books = (token, rule_book(self.session.shop, state.job.rules, style, rows))
        return self._books[1]

    # What stands beside the views

    def _place_grips(self) -> None:
        for name, grip in self.grips.items():
            line = self.levels.lines[name][0]
            grip.setVisible(line.isVisible() and self._handle(name).possible)
            x, y = self.view.pixel_at(line.value())
            grip.move(x - SIZE // 2 - 4, y - SIZE // 2)
            figure = "installed_height" if name == "closed" else "net_valve_lift"
            grip.setAccessibleDescription(
                wording.figure_text(self._line().figures.get(figure), self.session.style) or ""
            )

    def _handle(self, name: str) -> Handle:
        return self.height_handle if name == "closed" else self.lift_handle

    # Read-out

    def _hovered(self, where: tuple[bool, float, float] | None) -> None:
        if where is None:
            return
        is_plot, x, height = where
        over = None if is_plot else self.items.dimensions.at(x, height)
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
            self.items.cross.show_at(None)
            return
        if line.load_line is not None:
            load = float(line.load_line.load(height))
            self.items.cross.show_at((to_display(load, FORCE, style), to_display(height, LENGTH, style)))
        told = (wording.read_out(line, height, style), damper_words(line, height, style))
        self.said.emit(", ".join(filter(None, told)))

    # Pointing

    def _clicked(self, is_plot: bool, x: float, height: float) -> None:
        found = None if is_plot else self.items.dimensions.at(x, height)
        if found is None:
            self.session.point_at(Pointing())
        else:
            self.session.point_at(Pointing(figures=(found.figure,), line=self.session.line, member=found.member))

    def light(self, pointing: Pointing) -> None:
        """Light up what belongs to the fields, figures and rule pointed at."""
        names = {ALSO.get(name, name) for name in pointing.figures}
        ends = tuple(field.removeprefix(f"lines.{self.session.line}.") for field in pointing.fields)
        names |= {
            name for name, fields in LIT.items() if any(end.startswith(field) for end in ends for field in fields)
        }
        self.items.dimensions.light(frozenset((name, pointing.member) for name in names))
        lit = {
            "seat_load": "closed",
            "installed_height": "closed",
            "open_load": "open",
            "net_valve_lift": "open",
            "bind_margin": "bind",
        }
        self.items.labels.light(frozenset(lit[name] for name in names if name in lit))
        self.items.limits.light(pointing.rule)
