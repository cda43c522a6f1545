"""The travel gauge: the plunger in its travel, or the lash, cold and warm, with the rule book's limits as bands."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QVBoxLayout, QWidget
from typing_extensions import override

from loadbench.assembly.setting_gauge import Gauge, setting_gauge
from loadbench.units import Kind, display_unit, from_display, tell, to_display
from ui.level_words import level_word
from ui.plots.grip import SIZE, Grip
from ui.setting import wording
from ui.setting.gauge_drawn import gauge_drawn
from ui.setting.gauge_handle import SettingHandle
from ui.setting.setting_picture import SettingPicture
from ui.setting.wording import tr
from ui.spring.chart import Told
from ui.widgets.wrapped_label import WrappedLabel

if TYPE_CHECKING:
    from loadbench.analysis import LineAnalysis
    from ui.session import Session
    from ui.state import State


class GaugeView(SettingPicture):
    """Draws the line on show; its handle moves what is stated."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, "setting_gauge", parent)
        self.gauge: Gauge | None = None
        self.handle = SettingHandle(session)
        self.grip = Grip("setting_grip", "ink", self.scale)
        self.notes = WrappedLabel(role="quiet")
        self.notes.setObjectName("setting_gauge_notes")
        self.notes.setContentsMargins(8, 0, 8, 0)
        self._last_told = ""
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(self.scale, 1)
        column.addWidget(self.notes)
        self._wire()
        self.scale.ranged.connect(self._place_grip)

    def _wire(self) -> None:
        begun = [0.0]

        def take() -> None:
            begun[0] = self._sign() * self._shown(self._handled())
            self.scale.frozen = True
            self.handle.take()

        def pull(pixels: int) -> None:
            height = begun[0] - pixels * self.scale.height_per_pixel()
            self.handle.pull(self._sign() * from_display(height, Kind.LENGTH, self.session.style))

        def release(meant: bool) -> None:
            self.handle.release(meant)
            self.scale.frozen = False
            self.show_state(self.session.state, self.session.line)

        self.grip.taken.connect(take)
        self.grip.pulled.connect(pull)
        self.grip.let_go.connect(release)
        self.grip.stepped.connect(lambda steps: self.handle.nudge(round(self._sign()) * steps))
        self.grip.left.connect(self.handle.leave)
        self.handle.told.connect(self._handle_told)

    def _handle_told(self, text: str) -> None:
        if text:
            self.said.emit(text)
            if text != self._last_told:  # a drag says it once, not at every move
                self.session.announce(text)
        self._last_told = text

    # Showing

    def show_state(self, state: State, line_name: str) -> None:
        """Draw a line of a state."""
        line, style = state.analysis.line(line_name), self.session.style
        gauge = self.gauge = setting_gauge(line, self.book(state, line))
        if gauge is None:
            return
        unit = display_unit(Kind.LENGTH, style)
        up = tr("Plunger depth, {unit}") if gauge.depth else tr("Lash at the valve, {unit}")
        turns = tr("Turns past zero lash") if gauge.depth else tr("Turns from zero lash")
        self.scale.show_drawn(gauge_drawn(gauge, style), up.format(unit=unit), turns if gauge.turn else "")
        notes = self._notes(gauge, line)
        self.told = Told(notes=notes, description=self._description(gauge))
        self.notes.tell(" ".join(notes))
        self.describe(tr("Travel gauge") if gauge.depth else tr("Lash gauge"), self.told.description)
        self._place_grip()

    def _notes(self, gauge: Gauge, line: LineAnalysis) -> tuple[str, ...]:
        notes = []
        if gauge.missing:
            notes.append(tr("Waits for: {fields}.").format(fields=wording.waited_for(gauge.missing)))
        if gauge.warm is None and gauge.warm_missing:
            notes.append(tr("Warm waits for: {fields}.").format(fields=wording.waited_for(gauge.warm_missing)))
        if gauge.warm is not None and gauge.warm_from:
            by = {
                "computed": tr("Warm: from lengths and materials."),
                "custom": tr("Warm: by custom for this block and head; state lengths and temperatures to compute it."),
            }
            notes.append(by[gauge.warm_from])
        if gauge.warm is not None and gauge.warm_least is not None:
            least = wording.length(gauge.warm_least, self.session.style)
            notes.append(tr("Dashed: the least depth asked for when warm, {least}.").format(least=least))
        if gauge.depth and not gauge.bands:
            notes.append(tr("No limits: state standard or short travel."))
        if gauge.depth and gauge.travel is None:
            notes.append(tr("The plunger\u2019s whole travel is not stated."))
        if gauge.turn is None and line.stated.value("follower.family") != "bucket":
            notes.append(tr("No turns: the adjuster or its thread is not stated."))
        return tuple(notes)

    def _description(self, gauge: Gauge) -> str:
        style = self.session.style
        parts = []
        for word, value in ((tr("cold"), gauge.cold), (tr("warm"), gauge.warm)):
            if value is not None:
                parts.append(tr("{word} {value}").format(word=word, value=wording.length(value, style)))
        stands = gauge.level_at(gauge.cold)
        told = (tr("Plunger depth") if gauge.depth else tr("Lash")) + ": " + (", ".join(parts) or tr("not known"))
        if gauge.travel is not None:
            told += tr(" of {travel} travel").format(travel=wording.length(gauge.travel, style))
        return f"{told}. {level_word(stands)}." if stands is not None else f"{told}."

    # The grip

    def _sign(self) -> float:
        return -1.0 if self.gauge is None or self.gauge.depth else 1.0

    def _handled(self) -> float:
        """What the handle moves, m."""
        gauge = self.gauge
        if gauge is None:
            return 0.0
        hot = not gauge.depth and self.line().stated.value("valve_gear.lash_at") == "hot"
        return (gauge.warm if hot else gauge.cold) or 0.0

    def _shown(self, value: float) -> float:
        return to_display(value, Kind.LENGTH, self.session.style)

    def _place_grip(self) -> None:
        gauge = self.gauge
        self.grip.setVisible(gauge is not None and not gauge.missing)
        if gauge is None or gauge.missing:
            return
        point = self.scale.pixel_at(self._sign() * self._shown(self._handled()))
        self.grip.move(round(point.x()) + 2, round(point.y()) - SIZE // 2)
        self.grip.setAccessibleName(tr("Plunger depth, cold") if gauge.depth else tr("Lash as stated"))
        self.grip.setAccessibleDescription(wording.length(self._handled(), self.session.style))
        self.grip.setToolTip(
            tr("{name}. Drag, or Up and Down; Shift for ten steps.").format(name=self.grip.accessibleName())
        )

    # Read-out

    @override
    def start(self) -> float:
        """Where the arrow keys start, m upwards."""
        return self._sign() * self._handled()

    @override
    def read_at(self, height: float) -> str:
        """Depth or lash at a height, its turns, what is left, and how it stands."""
        gauge, style = self.gauge, self.session.style
        if gauge is None:
            return ""
        value = self._sign() * height
        parts = [tr("Depth {value}") if gauge.depth else tr("Lash {value}")]
        parts[0] = parts[0].format(value=str(tell(value, Kind.LENGTH, style)))
        if gauge.turn:
            parts.append(tr("{turns} turns").format(turns=f"{value / gauge.turn:.2f}".replace("-", wording.MINUS)))
        if gauge.travel is not None:
            parts.append(tr("{left} left").format(left=str(tell(gauge.travel - value, Kind.LENGTH, style))))
        level = gauge.level_at(value)
        if level is not None:
            parts.append(level_word(level))
        return ", ".join(parts)

    @override
    def rows(self) -> list[list[str]]:
        """The data behind the picture, a header first."""
        gauge, style = self.gauge, self.session.style
        if gauge is None:
            return []
        unit = display_unit(Kind.LENGTH, style)
        found = [["what", f"value_{unit}", f"to_{unit}"]]
        values = (("cold", gauge.cold), ("warm", gauge.warm), ("travel", gauge.travel), ("one turn", gauge.turn))
        found += [[name, self._cell(value), ""] for name, value in values]
        found += [[str(band.level), self._cell(band.low), self._cell(band.high)] for band in gauge.bands]
        return found

    def _cell(self, value: float | None) -> str:
        return "" if value is None else f"{self._shown(value):.9g}"
