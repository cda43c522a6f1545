"""The three ways of setting preload side by side, the adjuster's lever, and the change from cold to warm."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QSize, Qt, Signal
from PySide6.QtWidgets import (
    QFrame,
    QLabel,
    QScrollArea,
    QSplitter,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QVBoxLayout,
    QWidget,
)
from typing_extensions import override

from loadbench.assembly.setting_ways import TRAVEL, WayShown, hot_change, setting_ways
from loadbench.findings.finding import Level
from loadbench.units import Kind, display_unit, tell
from ui.icons import level_icon
from ui.level_words import level_word
from ui.setting import wording
from ui.setting.gauge_drawn import ways_drawn
from ui.setting.setting_picture import SettingPicture
from ui.setting.wording import tr
from ui.spring.chart import Told
from ui.trust.list_table import ListTable
from ui.trust.lists import Listed, ListRow
from ui.trust.word_row import WordRow

if TYPE_CHECKING:
    from pathlib import Path

    from loadbench.analysis import LineAnalysis
    from loadbench.assembly.setting_result import LeverShown
    from loadbench.units import Style
    from ui.session import Session
    from ui.setting.sheets import Sheets
    from ui.state import State

WAY = "follower.preload.way"


class WaysPicture(SettingPicture):
    """Three plungers on one scale."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, "setting_ways", parent)
        self.ways: tuple[WayShown, ...] = ()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.scale)

    def show_ways(self, ways: tuple[WayShown, ...], travel: float | None) -> None:
        """Draw these."""
        style = self.session.style
        self.ways = ways
        up = tr("Plunger depth, {unit}").format(unit=display_unit(Kind.LENGTH, style))
        self.scale.show_drawn(ways_drawn(ways, travel, style), up, "")
        notes = (tr("Left of each centre line the least depth, right of it the most."),)
        told = [f"{wording.way_short(each.way)} {wording.span(each.depth, style)}" for each in ways]
        self.told = Told(notes=notes, description="; ".join(told) + ".")
        self.describe(tr("Three ways of setting preload"), self.told.description)

    @override
    def read_at(self, height: float) -> str:
        return tr("Depth {value}").format(value=str(tell(-height, Kind.LENGTH, self.session.style)))

    @override
    def rows(self) -> list[list[str]]:
        listed = ways_listed(self.ways, self.session.style)
        return [[" ".join(head.split()) for head in listed.heads], *([*row.cells] for row in listed.rows)]


class LevelDelegate(QStyledItemDelegate):
    """A level's word has its sign beside it."""

    @override
    def initStyleOption(self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex) -> None:
        super().initStyleOption(option, index)
        level = next((each for each in Level if level_word(each) == index.data()), None)
        if level is not None:
            option.icon = level_icon(level)
            option.decorationSize = QSize(16, 16)
            option.features |= QStyleOptionViewItem.ViewItemFeature.HasDecoration


class WaysView(QWidget):
    """The picture above its tables; the way in use is chosen between them."""

    said = Signal(str)
    field_wanted = Signal(str)

    def __init__(self, session: Session, sheets: Sheets, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session, self.sheets = session, sheets
        self.setObjectName("setting_ways_view_whole")
        self.picture = WaysPicture(session)
        self.table = ListTable("setting_ways_table", tr("The three ways"))
        self.lever = ListTable("setting_lever_table", tr("One turn of the adjuster"))
        self.change = ListTable("setting_change_table", tr("From cold to warm"))
        self.table.view.setItemDelegate(LevelDelegate(self.table.view))
        self.in_use = QLabel(tr("In use"))
        self._lay_out()
        self.picture.said.connect(self.said)
        for each in (self.table, self.lever, self.change):
            each.copied.connect(self._copied)
        self.choice.chosen.connect(self._choose)

    def _lay_out(self) -> None:
        words = [
            ("custom", tr("Half to one turn"), tr("Set by turns past zero lash")),
            ("minimal", tr("Minimal"), tr("Set just below the stop")),
            ("bottomed", tr("Bottomed"), tr("Bled down, bottomed and backed off, valve by valve")),
            ("", tr("Not stated"), tr("The way is not stated: half to one turn is taken")),
        ]
        self.choice = WordRow("setting_way", words)
        self.in_use.setContentsMargins(8, 0, 8, 0)
        inside = QWidget()
        self._rows = QVBoxLayout(inside)
        self._rows.setContentsMargins(8, 0, 8, 4)
        self._rows.setSpacing(6)
        parts: tuple[QWidget, ...] = (self.in_use, self.choice, self.table, self.lever, self.change)
        for part in parts:
            self._rows.addWidget(part)
        self._rows.addStretch(1)
        scroller = QScrollArea()
        scroller.setWidget(inside)
        scroller.setWidgetResizable(True)
        scroller.setFrameShape(QFrame.Shape.NoFrame)
        scroller.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        scroller.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        scroller.setObjectName("setting_ways_scroller")
        self.splitter = QSplitter(Qt.Orientation.Vertical)
        for place, each in enumerate((self.picture, scroller)):
            self.splitter.addWidget(each)
            self.splitter.setCollapsible(place, False)
            self.splitter.setStretchFactor(place, 1)
        self.splitter.setSizes([220, 260])
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.splitter)

    # Showing

    def show_state(self, state: State, line_name: str) -> None:
        """Show a line of a state."""
        line, style = state.analysis.line(line_name), self.session.style
        ways = setting_ways(line, self.picture.book(state, line))
        shown: tuple[QWidget, ...] = (self.picture, self.table, self.choice, self.in_use)
        for part in shown:
            part.setVisible(bool(ways))
        self.picture.ways = ways
        if ways:
            self.picture.show_ways(ways, line.stated.value(TRAVEL))
            _show(self.table, ways_listed(ways, style))
            chosen = next((each.word for each in ways if each.chosen), "")
            self.choice.blockSignals(True)
            self.choice.choose(chosen)
            self.choice.blockSignals(False)
        sheet = self.sheets.sheet(state.analysis)
        _show(self.lever, lever_listed(sheet.lever, line, style))
        _show(self.change, change_listed(line, style))

    def _choose(self, word: str) -> None:
        if (self.session.job.follower.preload.way or "") != word:
            self.session.set_field(WAY, word or None)

    def _copied(self, count: int) -> None:
        self.session.announce(self.tr("%n row(s) copied.", "", count))

    # Taking it away

    def reset_view(self) -> None:
        """The whole picture again."""
        self.picture.reset_view()

    @property
    def has_picture(self) -> bool:
        """Whether there are ways to draw: a solid follower has none."""
        return bool(self.picture.ways)

    def _drawn(self) -> bool:
        if not self.has_picture:
            self.session.announce(tr("There is no picture on show."))
        return self.has_picture

    def copy_picture(self) -> None:
        """Copy the picture."""
        if self._drawn():
            self.picture.copy_picture()

    def save_picture(self) -> None:
        """Ask where, and save the picture or the data behind it."""
        if self._drawn():
            self.picture.save_picture()

    def save_picture_as(self, path: Path) -> None:
        """Save in the format of the file's name."""
        if self._drawn():
            self.picture.save_picture_as(path)

    def copy_table(self) -> None:
        """The three ways to the clipboard."""
        self.table.copy_rows(None)


def _show(table: ListTable, listed: Listed) -> None:
    """Show a list as tall as it is: what is around it scrolls."""
    table.show_list(listed)
    view = table.view
    rows = sum(view.rowHeight(row) for row in range(len(listed.rows)))
    view.setFixedHeight(rows + view.horizontalHeader().sizeHint().height() + 2 * view.frameWidth() + 2)
    table.setVisible(bool(listed.rows or listed.sentence))


def ways_listed(ways: tuple[WayShown, ...], style: Style) -> Listed:
    """The three ways as a table: each quantity a row, each way a column."""
    unit = display_unit(Kind.LENGTH, style)
    rows = [
        (tr("Depth cold, {unit}").format(unit=unit), [wording.span(each.depth, style) for each in ways]),
        (tr("Turns"), [_turns(each) for each in ways]),
        (tr("Travel left, {unit}").format(unit=unit), [wording.span(each.left, style) for each in ways]),
        (tr("Depth warm, {unit}").format(unit=unit), [wording.span(each.hot, style) for each in ways]),
        (tr("Stands"), [wording.DASH if each.level is None else level_word(each.level) for each in ways]),
        (tr("Meant for"), [_meant(each) for each in ways]),
    ]
    waits = dict.fromkeys(field for each in ways for field in each.missing)
    sentence = tr("Waits for: {fields}.").format(fields=wording.waited_for(tuple(waits))) if waits else ""
    heads = (tr("Way"), *(wording.way_short(each.way) for each in ways))
    return Listed(heads=heads, rows=tuple(ListRow(cells=(head, *cells)) for head, cells in rows), sentence=sentence)


def _turns(way: WayShown) -> str:
    if way.turns is None:
        return wording.DASH
    low, high = (f"{each:.2f}" for each in way.turns)
    return (tr("out {low} to {high}") if way.word == "bottomed" else tr("in {low} to {high}")).format(
        low=low, high=high
    )


def _meant(way: WayShown) -> str:
    kind = tr("standard travel") if way.word == "custom" else tr("short travel")
    return kind if way.suits is not False else tr("{kind}, not this one").format(kind=kind)


def lever_listed(lever: LeverShown | None, line: LineAnalysis, style: Style) -> Listed:
    """What one turn does: exactly, to first order, and by the shortcuts with their error."""
    solid = not str(line.stated.value("follower.family") or "").endswith("hydraulic")
    if lever is None:
        if line.stated.value("follower.family") == "bucket":
            return Listed(heads=(tr("One turn"),), rows=(), sentence=tr("A bucket has no adjuster: its shims set it."))
        missing = line.figures["depth_a_turn"].missing if "depth_a_turn" in line.figures else ()
        waits = tr("One turn waits for: {fields}.").format(fields=wording.waited_for(missing))
        none = tr("There is no adjuster that turns.")
        return Listed(heads=(tr("One turn"),), rows=(), sentence=waits if missing else none)
    unit = display_unit(Kind.LENGTH, style)
    shown = (
        (tr("Exact, by the lever\u2019s geometry"), lever.exact),
        (tr("To first order"), lever.first_order),
        (tr("Arms in one line"), lever.straight),
        (tr("Shortcut: pitch {times} ratio").format(times=wording.TIMES), lever.pitch_times_ratio),
    )
    rows = tuple(
        ListRow(cells=(name, tell(value, Kind.LENGTH, style).number, _off(value, lever.exact))) for name, value in shown
    )
    at = tr("at the pushrod") if solid else tr("at the plunger")
    heads = (tr("One turn of the adjuster"), tr("{at}, {unit}").format(at=at, unit=unit), tr("Off by"))
    return Listed(heads=heads, rows=rows, right=(1, 2))


def _off(value: float, exact: float) -> str:
    off = 100 * (value / exact - 1)
    return wording.DASH if abs(off) < 0.05 else f"{off:+.1f} %".replace("-", wording.MINUS)


def change_listed(line: LineAnalysis, style: Style) -> Listed:
    """How lash and depth change as it warms: computed beside custom."""
    computed, custom = hot_change(line)
    if line.stated.value("follower.family") == "bucket":
        custom = None
    ratio, depth = line.value("ratio"), line.value("plunger_depth") if "plunger_depth" in line.figures else None
    unit = display_unit(Kind.LENGTH, style)
    heads = (
        tr("From cold to warm"), tr("Lash at the valve, {unit}").format(unit=unit),
        tr("Plunger depth, {unit}").format(unit=unit),
    )  # fmt: skip
    rows = []
    for name, change in ((tr("Computed from lengths and materials"), computed), (tr("By custom"), custom)):
        at_plunger = None if change is None or not ratio or depth is None else change / ratio
        rows.append(
            ListRow(cells=(name, _signed(None if change is None else -change, style), _signed(at_plunger, style)))
        )
    figure = line.figures.get("hot_lash_change")
    waits = () if computed is not None or figure is None else figure.missing
    sentence = tr("Computed waits for: {fields}.").format(fields=wording.waited_for(waits)) if waits else ""
    return Listed(heads=heads, rows=tuple(rows), right=(1, 2), sentence=sentence)


def _signed(value: float | None, style: Style) -> str:
    """A change with its sign: above zero it grows."""
    if value is None:
        return wording.DASH
    number = tell(value, Kind.LENGTH, style).number
    return number if value <= 0 or number.strip("0.") == "" else f"+{number}"
