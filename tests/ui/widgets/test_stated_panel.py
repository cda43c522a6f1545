"""The left panel: every key has its field, nothing is cut, lines and families are followed."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractButton, QApplication, QComboBox, QLabel, QLineEdit, QWidget

from loadbench.job.edits import replaced_all
from loadbench.job.model import Job
from loadbench.units import Style
from ui.field_types import leaves
from ui.labels import label_of
from ui.session import Session
from ui.slip.slip_grid import SlipGrid
from ui.state import Pointing
from ui.widgets.card import Card
from ui.widgets.card_builder import GroupCard, PartList
from ui.widgets.field import Field
from ui.widgets.stated_panel import WIDTH, StatedPanel

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pytestqt.qtbot import QtBot

# Variants are edited side by side; printouts, recipes, photos where they are read; plan and counts at the fit-up.
ELSEWHERE = (
    "variants.",
    "printouts.",
    "recipes.",
    "photos.",
    "plan.",
    "shim_counts",
    "bucket_shim_counts",
    "check_list.",
)


def full_job() -> Job:
    """A job with one item in every list that the panel shows item by item."""
    reading = {"part": "outer", "height": "1.900 in", "load": "150 lbf"}
    springs = ({"id": "S01", "readings": (reading,)},)
    return replaced_all(
        Job(title="A job", units="inch-pound"),
        {
            "spring.installed_height": "1.900 in",
            "spring.readings": (reading, {**reading, "height": "1.250 in", "load": "423 lbf"}),
            "spring.coils": ({"name": "outer"}, {"name": "inner"}),
            "spring.shims": ("0.015 in", "0.030 in", "0.060 in"),
            "valves": ({"id": "1E"},),
            "history": ({"record": {"date": "2026-01-09"}, "springs": springs},),
            "springs": springs,
        },
    )


@pytest.fixture
def panel(qtbot: QtBot) -> Iterator[StatedPanel]:
    made = StatedPanel(Session(full_job()))
    qtbot.addWidget(made)
    made.resize(WIDTH, 800)
    made.show()
    yield made
    made.hide()


def covered(widgets: list[QWidget]) -> tuple[set[str], set[str]]:
    """The fields of single inputs, and the lists that tables show with all their columns."""
    single, tables = set(), set()
    for widget in widgets:
        field, columns = widget.property("field"), widget.property("columns")
        if isinstance(field, str) and columns:
            tables.update(f"{field}.0.{column}" for column in columns)
            tables.update(f"{field}.0.{place}" for place, _ in enumerate(columns))
        elif isinstance(field, str):
            single.add(field)
    return single, tables


def test_every_key_of_the_document_has_its_field(qtbot: QtBot, panel: StatedPanel) -> None:
    panel.open_all()
    grid = SlipGrid(panel.session)
    qtbot.addWidget(grid)
    single, tables = covered(panel.findChildren(QWidget))
    assert grid.view.property("field") == "springs"
    asked = [path for path, _ in leaves() if not path.startswith((*ELSEWHERE, "springs."))]
    assert len(asked) > 180
    assert [path for path in asked if path not in single | tables] == []


def test_every_key_has_a_label_of_its_own() -> None:
    for path, _ in leaves():
        name = path.rsplit(".", 1)[-1]
        plain = name.replace("_", " ").capitalize()
        assert label_of(path)
        assert "_" not in label_of(path)
        assert not label_of(path).endswith(".")
        single_word = "_" not in name
        assert label_of(path) != plain or single_word or plain in KNOWN, path


KNOWN = (
    "Bucket shims in stock",
    "Bare height", "Installed height", "Bind height", "Seat cup", "Seat step", "Retainer step", "Mean diameter",
    "Small mean diameter", "Active coils", "Total coils", "Free height", "Shot peened", "Rocker ratio", "Lobe lift",
    "Measured net lift", "Rocker inertia", "Body diameter", "Roller diameter", "Roller width", "Crown radius",
    "Face diameter", "Axle diameter", "Speed limit", "Idle speed", "First running", "Exhaust back pressure",
    "Firing order", "Shims in stock", "Plunger travel", "Measured by", "Calibrated on", "Oil side",
    "Load repeatability", "Tapered coils", "Retainer step diameter",
)  # fmt: skip


@pytest.mark.parametrize("points", [9, 15])
def test_d19_d21_nothing_is_cut_at_300_px(qtbot: QtBot, panel: StatedPanel, points: int) -> None:
    font = QApplication.font()
    larger = QApplication.font()
    larger.setPointSize(points)
    QApplication.setFont(larger)
    try:
        panel.open_all()
        panel.session.set_field("spring.installed_height", "420 lb/in or some such long nonsense")
        panel.resize(WIDTH if points < 12 else 1.5 * WIDTH, 800)
        qtbot.wait(1)
        inside = panel.area.widget()
        assert inside.minimumSizeHint().width() <= panel.area.viewport().width()
        cut = [label.text() for label in panel.findChildren(QLabel) if label.isVisible() and is_cut(label)]
        assert cut == []
    finally:
        QApplication.setFont(font)


def is_cut(label: QLabel) -> bool:
    if label.wordWrap():
        return label.heightForWidth(label.width()) > label.height() + 1
    return bool(label.text()) and label.sizeHint().width() > label.width()


def test_d25_targets_are_large_enough(panel: StatedPanel) -> None:
    panel.open_all()
    QApplication.processEvents()
    kinds = (QAbstractButton, QComboBox, QLineEdit)
    small = [
        (widget.objectName(), widget.width(), widget.height())
        for widget in panel.findChildren(QWidget)
        if isinstance(widget, kinds) and widget.isVisible() and (widget.height() < 24 or widget.width() < 24)
    ]
    assert small == []


def test_d26_every_input_has_a_name(panel: StatedPanel) -> None:
    panel.open_all()
    nameless = [
        (type(widget).__name__, widget.objectName(), type(widget.parentWidget()).__name__)
        for widget in panel.findChildren(QWidget)
        if widget.isVisible()
        and widget.focusPolicy() & Qt.FocusPolicy.TabFocus
        and not widget.accessibleName()
        and not (isinstance(widget, QAbstractButton) and widget.text())
    ]
    assert nameless == []


def test_d23_the_focus_goes_down_the_panel_without_a_trap(qtbot: QtBot, panel: StatedPanel) -> None:
    panel.activateWindow()
    first = panel.findChild(QLineEdit, "spring__name")
    first.setFocus()
    qtbot.waitUntil(first.hasFocus)
    heights, seen = [], []
    for _ in range(25):
        widget = QApplication.focusWidget()
        seen.append(widget)
        heights.append(widget.mapTo(panel.area.widget(), widget.rect().topLeft()).y())
        qtbot.keyClick(widget, Qt.Key.Key_Tab)
    assert len(set(map(id, seen))) == len(seen)
    assert heights == sorted(heights)


def test_d23_a_card_opened_late_has_its_place_in_the_focus_order(qtbot: QtBot, panel: StatedPanel) -> None:
    panel.activateWindow()
    card = next(card for card in panel.cards if card.title == "Job")
    card.head.setFocus()
    qtbot.keyClick(card.head, Qt.Key.Key_Space)
    names = []
    for _ in range(4):
        qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Tab)
        names.append(QApplication.focusWidget().objectName())
    assert names == ["title", "customer", "card_record_and_notes", "card_spring"]


def test_d22_from_a_field_to_a_figure_by_keys_alone(qtbot: QtBot, panel: StatedPanel) -> None:
    panel.activateWindow()
    name = panel.findChild(QLineEdit, "spring__name")
    name.setFocus()
    qtbot.waitUntil(name.hasFocus)
    for text in ("outer", "1.915", "0.015", "1.900", "1.080"):
        qtbot.keyClicks(QApplication.focusWidget(), text)
        qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Tab)
    spring = panel.session.job.spring
    assert (spring.bare_height, spring.shims, spring.bind_height) == ("1.915 in", ("0.015 in",), "1.080 in")
    assert panel.session.state.analysis.value("installed_height") == pytest.approx(1.9 * 0.0254)


def test_a_card_folds_by_key_and_keeps_its_values(qtbot: QtBot, panel: StatedPanel) -> None:
    card = next(card for card in panel.cards if card.title == "Spring")
    before = panel.session.job
    card.head.setFocus()
    qtbot.keyClick(card.head, Qt.Key.Key_Space)
    assert not card.opened
    assert "folded" in card.head.accessibleName()
    qtbot.keyClick(card.head, Qt.Key.Key_Space)
    assert card.opened
    assert panel.session.job == before


def group(panel: StatedPanel, title: str) -> GroupCard:
    return next(card for card in panel.findChildren(GroupCard) if card.group.title == title)


def test_what_does_not_concern_the_family_folds_away_and_keeps_its_values(panel: StatedPanel) -> None:
    session = panel.session
    session.set_field("follower.axle", "needle")
    assert group(panel, "Roller and axle").opened
    session.set_field("follower.family", "flat-tappet-solid")
    roller, plunger = group(panel, "Roller and axle"), group(panel, "Plunger and preload")
    assert not roller.opened
    assert not plunger.opened
    assert "not in this family" in roller.head.text()
    assert session.job.follower.axle == "needle"
    session.set_field("follower.family", "roller-hydraulic")
    assert roller.opened
    assert plunger.opened


def test_a_word_from_a_file_that_is_none_is_kept_and_marked(qtbot: QtBot) -> None:
    session = Session(replaced_all(Job(title="A job"), {"follower.family": "rocket"}))
    panel = StatedPanel(session)
    qtbot.addWidget(panel)
    box = panel.findChild(QComboBox, "follower__family")
    assert box.currentText() == "rocket"
    field = box.parentWidget()
    assert isinstance(field, Field)
    assert field.message is not None
    assert "rocket" in field.message.text.text()
    assert box.itemText(0) == "Not stated"


def test_a_wire_beyond_its_table_is_marked_and_keeps_its_figures(qtbot: QtBot) -> None:
    coil = {"wire": {"diameter": "0.500 in"}, "mean_diameter": "2.600 in", "active_coils": 3.2, "material": "music"}
    session = Session(replaced_all(Job(title="A job"), {"spring.coils": (coil,)}))
    panel = StatedPanel(session)
    qtbot.addWidget(panel)
    panel.open_all()
    editor = panel.findChild(QLineEdit, "spring__coils__0__wire__diameter")
    field = editor.parentWidget()
    while not isinstance(field, Field):
        field = field.parentWidget()
    assert editor.text().startswith("0.500")
    assert field.message is not None
    assert "strength is unknown" in field.message.text.text()
    assert session.state.analysis.value("rate") is not None
    session.set_field("spring.coils.0.wire.diameter", "0.200 in")
    assert not field.message.isVisibleTo(field)


def test_words_and_yes_or_no_are_chosen_by_key(qtbot: QtBot, panel: StatedPanel) -> None:
    panel.activateWindow()
    assert panel.reveal("duty.first_running")
    box = QApplication.focusWidget()
    assert isinstance(box, QComboBox)
    qtbot.keyClick(box, Qt.Key.Key_Down)
    assert panel.session.job.duty.first_running is True
    qtbot.keyClick(box, Qt.Key.Key_Down)
    assert panel.session.job.duty.first_running is False
    qtbot.keyClick(box, Qt.Key.Key_Delete)
    assert panel.session.job.duty.first_running is None


def test_members_are_added_removed_and_undone(panel: StatedPanel) -> None:
    session = panel.session
    members = next(one for one in panel.findChildren(PartList) if one.field == "spring.coils")
    members.add()
    assert len(session.job.spring.coils) == 3
    assert session.undo_stack.undoText() == "add member"
    members.remove(0)
    assert [coil.name for coil in session.job.spring.coils] == ["inner", None]
    assert [card.title for card in members.parts] == ["Member 1: inner", "Member 2"]
    session.undo_stack.undo()
    session.undo_stack.undo()
    assert [card.title for card in members.parts] == ["Member 1: outer", "Member 2: inner"]


def test_a_field_is_revealed_wherever_it_stands(qtbot: QtBot, panel: StatedPanel) -> None:
    panel.activateWindow()
    for field in ("spring.coils.1.wire.diameter", "follower.bush.bore", "targets.seat_load", "valves.0.lash"):
        assert panel.reveal(field)
        assert QApplication.focusWidget().property("field") == field
    assert panel.reveal("spring.readings.0.load")
    assert not panel.reveal("variants.0.name")


def test_pointing_lights_up_the_field(panel: StatedPanel) -> None:
    panel.session.point_at(Pointing(fields=("spring.installed_height",)))
    lit = [field.field for field in panel.findChildren(Field) if field._lit]
    assert lit == ["spring.installed_height"]


# Lines


def test_a_line_that_is_not_there_is_offered_given_and_taken_out(qtbot: QtBot, panel: StatedPanel) -> None:
    session, switch = panel.session, panel.switch
    assert switch.buttons["common"].isChecked()
    assert not switch.offer.isVisible()
    switch.buttons["exhaust"].click()
    assert switch.offer.text() == "Give it its own values"
    assert switch.offer.accessibleName() == "Give the exhaust its own values"
    assert session.undo_stack.count() == 0
    switch.offer.click()
    assert session.job.lines.exhaust is not None
    assert session.line == "exhaust"
    assert not switch.buttons["common"].isVisible()
    session.undo_stack.undo()
    assert session.job.lines.exhaust is None
    assert switch.buttons["common"].isVisible()
    session.undo_stack.redo()
    switch.buttons["exhaust"].click()
    assert "own values out" in switch.offer.text()
    switch.offer.click()
    assert session.job.lines.exhaust is None


def test_d37_the_units_switch_twice_leaves_the_job(panel: StatedPanel) -> None:
    before = panel.session.job
    panel.open_all()
    panel.session.set_style(Style.METRIC)
    panel.session.set_style(Style.INCH_POUND)
    assert panel.session.job == before
    assert panel.session.undo_stack.count() == 0


def test_opening_everything_changes_nothing(panel: StatedPanel) -> None:
    before = panel.session.job
    panel.open_all()
    for card in panel.findChildren(Card):
        card.set_open(False)
    assert panel.session.job == before
