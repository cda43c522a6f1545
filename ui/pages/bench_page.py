"""The Bench page: does it fit, and does it hold? Its picture, what the picture still needs, and the read-out."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import QAction, QActionGroup, QGuiApplication
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QInputDialog,
    QLabel,
    QPushButton,
    QSizePolicy,
    QStackedWidget,
    QToolButton,
    QVBoxLayout,
    QWidget,
)
from typing_extensions import override

from loadbench.analysis import LineAnalysis
from loadbench.errors import InputError, SaveError
from loadbench.fitup.moves import Way, tip_changes
from loadbench.units import Kind, parse
from ui.icons import icon
from ui.labels import common_path
from ui.plots.bench_picture import BenchPicture
from ui.plots.export import copy_picture, save_picture
from ui.plots.paper import asked_path
from ui.session import Session
from ui.slip.set_mean import mean_offered, take_mean, why_told, words_of
from ui.state import Pointing, State
from ui.theme import theme
from ui.widgets.flow_bar import FlowBar
from ui.widgets.stated_panel import StatedPanel
from ui.widgets.waiting_page import WaitingPage, named

WANTED = ("installed_height", "net_valve_lift", "seat_load")
"""The figures that the picture is made of; without the first there is none."""

USUAL = {
    "installed_height": "spring.installed_height",
    "net_valve_lift": "valve_gear.lobe_lift",
    "seat_load": "spring.readings",
}
"""Where to start when a figure does not say what it waits for."""


class BenchPage(QWidget):
    """The picture only: what is stated stands to its left, what it means to its right."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("bench_page")
        self.session = session
        self.picture = BenchPicture(session, self)
        self.ways = QComboBox()
        self.reset_button = QToolButton()
        self.read_out = QLabel()
        self.needs, self.fill_button, self.mean_button = QLabel(), QPushButton(), QPushButton()
        self.waiting = WaitingPage("fill_first")
        self._missing = ""
        self._head = self._make_head()
        self._notice = self._make_notice()
        self._stack = QStackedWidget()
        self._stack.addWidget(self.picture)
        self._stack.addWidget(self.waiting)
        self._lay_out()
        self._say()
        self._connect()
        self._show(session.state)

    # Making

    def _make_head(self) -> QWidget:
        head = FlowBar(last_right=True)
        head.setContentsMargins(8, 4, 8, 0)
        self._ways_label = QLabel()
        self._ways_label.setBuddy(self.ways)
        self.ways.setObjectName("height_way")
        self.ways.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.reset_button.setObjectName("reset_view_button")
        self.reset_button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        self.reset_button.setMinimumSize(24, 24)
        choice = QWidget()
        row = QHBoxLayout(choice)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self._ways_label)
        row.addWidget(self.ways)
        head.add(choice)
        head.add(self.reset_button)
        return head

    def _make_notice(self) -> QWidget:
        notice = QWidget()
        self.needs.setTextFormat(Qt.TextFormat.PlainText)
        self.needs.setWordWrap(True)
        self.fill_button.setObjectName("fill_missing")
        self.mean_button.setObjectName("take_set_mean")
        buttons = QVBoxLayout()
        buttons.setSpacing(4)
        buttons.addWidget(self.mean_button)
        buttons.addWidget(self.fill_button)
        row = QHBoxLayout(notice)
        row.setContentsMargins(8, 2, 8, 2)
        row.addWidget(self.needs, 1)
        row.addLayout(buttons)
        return notice

    def _lay_out(self) -> None:
        self.read_out.setObjectName("read_out")
        self.read_out.setTextFormat(Qt.TextFormat.PlainText)
        self.read_out.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.read_out.setContentsMargins(8, 0, 8, 4)
        self.read_out.setWordWrap(True)
        self.read_out.setMinimumHeight(self.read_out.fontMetrics().height() + 6)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(self._head)
        column.addWidget(self._notice)
        column.addWidget(self._stack, 1)
        column.addWidget(self.read_out)
        self.setTabOrder(self.ways, self.reset_button)
        self.setTabOrder(self.reset_button, self.mean_button)
        self.setTabOrder(self.mean_button, self.fill_button)
        self.setTabOrder(self.fill_button, self.picture.grips["closed"])
        self.setTabOrder(self.picture.grips["closed"], self.picture.grips["open"])
        self.setTabOrder(self.picture.grips["open"], self.picture.view)

    def _connect(self) -> None:
        self.session.changed.connect(self._show)
        self.session.line_chosen.connect(self._line_chosen)
        self.session.loaded.connect(self._say_how_to_read)  # what stands there was read from the job before
        self.ways.currentIndexChanged.connect(self._way_chosen)
        self.reset_button.clicked.connect(self.reset_view)
        self.picture.said.connect(self.read_out.setText)
        self.picture.view.copied.connect(self.copy)
        self.fill_button.clicked.connect(self._fill)
        self.mean_button.clicked.connect(self._take_mean)
        self.waiting.wanted.connect(self._fill)
        theme().changed.connect(self._say_icon)

    def _say(self) -> None:
        self._ways_label.setText(self.tr("Closed line moves by"))
        names = {
            Way.SHIM: (self.tr("Shims"), self.tr("Changes the installed height only.")),
            Way.SEAT_CUT: (self.tr("Seat cut"), self.tr("Changes the installed height only; it can only grow.")),
            Way.RETAINER: (self.tr("Locks or retainer"), self.tr("Changes the height and the seal clearance.")),
            Way.SUNK: (self.tr("Valve sunk"), self.tr("Changes height, seal clearance, and lash or preload.")),
            Way.STEM: (self.tr("Longer stem"), self.tr("Changes height, seal clearance, and lash or preload.")),
        }
        for way, (name, tip) in names.items():
            self.ways.addItem(name, str(way))
            self.ways.setItemData(self.ways.count() - 1, tip, Qt.ItemDataRole.ToolTipRole)
        self._offer_at_the_grip(names)
        self.ways.setAccessibleName(self._ways_label.text())
        self.ways.setToolTip(
            self.tr("What moves together when the closed line is dragged; a lash cap is in the menu of its grip.")
        )
        self.reset_button.setText(self.tr("Reset view"))
        self.reset_button.setToolTip(self.tr("The whole picture again: Home, or a double click in it."))
        self.read_out.setAccessibleName(self.tr("Read-out"))
        self._say_how_to_read()
        self._say_icon()

    def _say_how_to_read(self) -> None:
        self.read_out.setText(
            self.tr("Point at the plot, or press Up and Down in it, to read height, lift, load and rate.")
        )

    def _offer_at_the_grip(self, names: dict[Way, tuple[str, str]]) -> None:
        """The same choice in the context menu of the closed line's grip, and the lash cap."""
        grip, group = self.picture.grips["closed"], QActionGroup(self)
        grip.setContextMenuPolicy(Qt.ContextMenuPolicy.ActionsContextMenu)
        for place, (way, (name, _)) in enumerate(names.items()):
            action = group.addAction(name)
            action.setCheckable(True)
            action.setChecked(place == self.ways.currentIndex())
            action.setData(str(way))
            grip.addAction(action)
        group.triggered.connect(lambda action: self.ways.setCurrentIndex(self.ways.findData(action.data())))
        self._way_actions = group
        cap = QAction(self.tr("Lash cap…"), self)
        cap.triggered.connect(self._ask_lash_cap)
        grip.addAction(cap)

    def _say_icon(self) -> None:
        self.reset_button.setIcon(icon("reset-view"))

    # Showing

    def _line(self) -> LineAnalysis:
        return self.session.state.analysis.line(self.session.line)

    def _line_chosen(self, _: str) -> None:
        self._show(self.session.state)

    def _show(self, state: State) -> None:
        line = state.analysis.line(self.session.line)
        wanting = [name for name in WANTED if line.value(name) is None]
        empty = "installed_height" in wanting
        self._stack.setCurrentIndex(1 if empty else 0)
        self._head.setVisible(not empty)
        self.read_out.setVisible(not empty)
        self._notice.setVisible(bool(wanting) and not empty)
        if wanting:
            self._missing = self._first_missing(line, wanting[0])
            self._tell_need(self._missing, empty=empty)
        self._offer_mean(wanted="seat_load" in wanting and not empty)

    def _offer_mean(self, *, wanted: bool) -> None:
        """Springs on the slip are no readings of the one spring that the bench shows: offer their mean."""
        offered = mean_offered(self.session) if wanted else None
        self.mean_button.setVisible(offered is not None and bool(offered.readings))
        if offered is not None:
            self.mean_button.setText(words_of(offered))
            self.needs.setText(f"{self.needs.text()} {why_told(offered)}")

    def _take_mean(self) -> None:
        said = take_mean(self.session)
        if said:
            self.read_out.setText(said)

    def _first_missing(self, line: LineAnalysis, name: str) -> str:
        missing = [field for field in line.figures[name].missing if "figures." not in field]
        return missing[0] if missing else USUAL[name]

    def _tell_need(self, field: str, *, empty: bool) -> None:
        if empty:
            sentence = self.tr(
                "The picture needs the installed height: state it, or the bare height and the shims.\n"
                "It waits for: {name}."
            )
            self.waiting.tell(sentence, field)
        else:
            name = named(field)
            self.needs.setText(self.tr("The picture waits for: {name}.").format(name=name))
            self.fill_button.setText(self.tr("Enter {name}").format(name=name))

    def _fill(self) -> None:
        """Put the focus into the field that the picture waits for."""
        self.session.point_at(Pointing(fields=(self._missing,)))
        panel = self.window().findChild(StatedPanel)
        if panel is not None and (panel.reveal(self._missing) or panel.reveal(f"{self._missing}.0.height")):
            return
        wanted = {self._missing, common_path(self._missing)}
        for widget in self.window().findChildren(QWidget):
            if widget.property("field") in wanted and widget.focusPolicy() != Qt.FocusPolicy.NoFocus:
                widget.setFocus(Qt.FocusReason.OtherFocusReason)
                return

    def _way_chosen(self, _: int) -> None:
        way = self.ways.currentData()
        self.picture.height_handle.choose(Way(way))
        for action in self._way_actions.actions():
            action.setChecked(action.data() == way)

    def _ask_lash_cap(self) -> None:
        title, asked = self.tr("Lash cap"), self.tr("Thickness of the lash cap; it moves the tip only:")
        text, meant = QInputDialog.getText(self, title, asked)
        if meant:
            self.fit_lash_cap(text)

    def fit_lash_cap(self, text: str) -> None:
        """Put a cap on the stem: the lash shrinks, or the plunger sits deeper; a wrong entry is told.

        Args:
            text: its thickness as typed.
        """
        session, line = self.session, self._line().stated
        try:
            thickness = parse(text, Kind.LENGTH, session.style).value
        except InputError as error:
            self.picture.said.emit(str(error))
            return
        lash = line.value("valve_gear.lash")
        if lash is not None and thickness > lash:
            self.picture.said.emit(self.tr("The cap is thicker than the lash: it would hold the valve open."))
            return
        changes, turns_left = tip_changes(line, session.own_field, thickness, session.style)
        if changes:
            session.set_fields(self.tr("fit lash cap"), dict(changes))
        if turns_left or not changes:
            self.picture.said.emit(self.tr("Set lash or preload again: the tip stands higher now."))

    @override
    def minimumSizeHint(self) -> QSize:
        """For the width of now: Qt would reckon with the tools wrapped as in the narrowest page."""
        least, layout = super().minimumSizeHint(), self.layout()
        height = least.height() if layout is None else layout.minimumHeightForWidth(max(self.width(), least.width()))
        return QSize(least.width(), height)

    # What the commands of the window ask of the page

    def reset_view(self) -> None:
        """The whole picture again."""
        self.picture.view.reset()

    def copy(self) -> None:
        """Copy the read-out as text."""
        QGuiApplication.clipboard().setText(self.read_out.text())
        self.session.announced.emit(self.tr("Read-out copied."))

    def copy_picture(self) -> None:
        """Copy the picture."""
        copy_picture(self.picture)
        self.session.announced.emit(self.tr("Picture copied."))

    def save_picture(self) -> None:
        """Ask where, and save the picture or the data behind it."""
        kinds = self.tr("PNG, 300 dpi (*.png);;SVG (*.svg);;PDF (*.pdf);;CSV, the data behind (*.csv)")
        path = asked_path(self, self.tr("Save picture"), kinds)
        if path is not None:
            self.save_picture_as(path)

    def save_picture_as(self, path: Path) -> None:
        """Save the picture in the format of the file's name; a failure is told and leaves the old file."""
        try:
            save_picture(self.picture, path, self.session.state.job.title)
        except SaveError as error:
            self.session.failed.emit(str(error))
            return
        self.session.announced.emit(self.tr("Picture saved as {name}.").format(name=path.name))

    @override
    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "read_out"):
            self.read_out.setMinimumHeight(self.read_out.fontMetrics().height() + 6)
