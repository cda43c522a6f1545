"""The Motion page: views, slider, the sweep beside the window, what it waits for, what it costs while hidden."""

from __future__ import annotations

import math
import sys
import threading
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QSplitter, QWidget

from loadbench.analysis.motion import dynamics
from loadbench.errors import Cancelled
from loadbench.findings.finding import Level
from loadbench.job.model import Job
from loadbench.units import Style
from tests.ui.lengthened import everything_longer
from tests.ui.motion.made import RPM
from tests.ui.spring.spring_jobs import pair
from tests.ui.test_fitting import cut
from ui.help.topics import TOPICS
from ui.motion import sweeper
from ui.motion import sweeper as sweeper_module
from ui.motion.figure_table import GROUPS, MotionFormulaPane
from ui.motion.views import views
from ui.pages.motion_page import MotionPage
from ui.session import Session
from ui.settings import Settings
from ui.state import Failed, Pending, Ready
from ui.window import MainWindow

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

Key = Qt.Key
Open = Callable[[Job], MainWindow]
VIEWS = [kind.key for kind in views()]
PICTURES = [kind.key for kind in views() if kind.picture]
LONG = 30_000  # ms: the first sweep of a run may have to be compiled


@pytest.fixture(autouse=True)
def _coarse(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """A sweep of a dozen speeds, its bands sought at once: what the page does with them is the same.

    The slider's own tests have all the speeds that a user has.
    """
    if "slider" not in request.node.name:
        monkeypatch.setattr(dynamics, "STEP", 500 * math.pi / 30)
    monkeypatch.setattr(sweeper, "IDLE_MS", 20)


@pytest.fixture
def opened(qtbot: QtBot) -> Open:
    def make(job: Job) -> MainWindow:
        window = MainWindow(Session(job), Settings(), late=True)
        window._soon.stop()  # the other pages are not wanted here
        qtbot.addWidget(window, before_close_func=lambda made: made.session.undo_stack.setClean())
        window.resize(1280, 800)
        window.show()
        window.show_page("motion")
        qtbot.waitExposed(window)
        settle(window)
        return window

    return make


@pytest.fixture
def swept(opened: Open, qtbot: QtBot) -> MotionPage:
    page = page_of(opened(pair()))
    qtbot.waitUntil(lambda: page.sweeper.held is not None and page.sweeper.held.refined, timeout=LONG)
    return page


def page_of(window: MainWindow) -> MotionPage:
    page = window.shell.page
    assert isinstance(page, MotionPage)
    return page


def settle(window: QWidget) -> None:
    for _ in range(3):
        QApplication.processEvents()
        window.grab()


def empty() -> Job:
    return Job(title="empty", units="inch-pound")


def no_masses() -> Job:
    """A lift, and no spring: the lift is shown, forces are not."""
    return pair(spring__readings=(), spring__rate=None, spring__coils=())


# Views


def test_the_page_stands_after_spring_and_asks_its_question(opened: Open) -> None:
    window = opened(pair())
    names = [kind.name for kind in window.shell.kinds]
    assert names.index("motion") == names.index("spring") + 1
    assert window.shell.kind.shown_question == "How fast can it turn?"
    assert window.shell.kind.topic in TOPICS
    assert window.shell.stated.isVisible()


def test_arrow_keys_go_from_word_to_word_and_each_view_is_made_when_wanted(opened: Open) -> None:
    page = page_of(opened(pair()))
    assert list(page.made) == ["lift"]
    page.words.buttons["lift"].setFocus()
    for key in VIEWS[1:]:
        QTest.keyClick(QApplication.focusWidget(), Key.Key_Right)  # type: ignore[arg-type]
        assert page.words.key == key
        assert page.view is page.made[key]


def test_the_figures_beneath_follow_the_view_and_open_their_formula(swept: MotionPage) -> None:
    for kind in views():
        swept.words.choose(kind.key)
        rows = swept.table.figures.figures.rows
        assert [row.name for row in rows if row.heading] == [group for group in kind.groups if group in GROUPS]
    swept.words.choose("map")
    pane = swept.table.open_formula("", "onset_speed")
    assert isinstance(pane, MotionFormulaPane)
    held = swept.sweeper.held
    assert held is not None
    assert pane.figure is held.dynamics.figures["onset_speed"]
    assert "Lowest speed" in pane.text()
    pane.close()


# The slider


def test_the_slider_starts_at_the_limit_and_keys_go_to_the_next_swept_speed(swept: MotionPage) -> None:
    limit = swept.line().motion.speed_limit
    assert limit is not None
    assert swept.speed.speed == pytest.approx(limit)
    swept.words.choose("speeds")
    QTest.keyClick(swept.speed.slider, Key.Key_Left)
    assert swept.speed.speed == pytest.approx(limit - 100 * RPM)
    assert swept.speed.value.text().startswith(f"{limit / RPM - 100:.0f}")
    assert swept.view is not None
    assert swept.view.seen is not None
    assert swept.view.seen.speed == swept.speed.speed
    QTest.keyClick(swept.speed.slider, Key.Key_Home)
    assert swept.speed.speed == pytest.approx(2000 * RPM)
    QTest.keyClick(swept.speed.slider, Key.Key_PageUp)
    assert swept.speed.speed == pytest.approx(2500 * RPM)


def test_the_slider_stands_at_swept_speeds_only_and_keeps_its_place_through_edits(
    swept: MotionPage, qtbot: QtBot
) -> None:
    swept.speed.slider.setValue(3148)
    assert swept.speed.speed == pytest.approx(3100 * RPM)
    assert swept.speed.slider.value() == 3100
    swept.session.set_field("spring.installed_height", "1.840 in")
    qtbot.waitUntil(lambda: not swept.sweeper.stale, timeout=LONG)
    assert swept.speed.speed == pytest.approx(3100 * RPM)


def test_beneath_the_lift_stand_durations_and_another_lobe(swept: MotionPage, qtbot: QtBot) -> None:
    swept.words.choose("lift")
    beneath = swept.beneath
    assert beneath.tools.isVisible()
    beneath.words.choose("durations")
    assert beneath.stack.currentWidget() is beneath.lobes
    beneath.lobes.setFocus()
    QTest.keyClick(beneath.lobes, Key.Key_Return)
    assert "deg of the crank" in swept.read_out.text()
    beneath.words.choose("lobes")
    beneath.comparison.choose("law 4-5-6-7")
    assert swept.view is not None
    assert "the law 4-5-6-7" in swept.view.told.notes[0]
    assert cut(swept) == []
    beneath.words.choose("figures")  # another lobe is looked at beneath its own word only
    assert "law" not in swept.view.told.notes[0]
    swept.words.choose("map")
    assert not beneath.tools.isVisible()
    assert beneath.stack.currentWidget() is swept.table


def test_what_is_wanted_follows_the_edits_and_has_no_picture(swept: MotionPage, qtbot: QtBot) -> None:
    swept.words.choose("wanted")
    view: Any = swept.view
    assert not swept.speed.isVisible()
    assert not swept.reset_button.isVisible()
    before = [each.answer for each in view.answers]
    assert len(before) == 5
    swept.session.set_field("spring.installed_height", "1.830 in")
    assert [each.answer for each in view.answers] != before
    with qtbot.waitSignal(swept.session.announced) as said:
        swept.copy_picture()
    assert said.args == ["There is no picture on show."]


def test_what_matters_has_no_slider(swept: MotionPage) -> None:
    swept.words.choose("matters")
    assert not swept.speed.isVisible()
    swept.words.choose("map")
    assert swept.speed.isVisible()


# The sweep


def test_an_edit_makes_the_picture_stale_and_a_sweep_brings_it_up_to_date(swept: MotionPage, qtbot: QtBot) -> None:
    sweeper = swept.sweeper
    before = sweeper.held
    assert before is not None
    assert isinstance(sweeper.slow, Ready)
    swept.session.set_fields("height", {"spring.installed_height": "1.800 in", "spring.bare_height": None})
    assert sweeper.stale
    assert isinstance(sweeper.slow, Pending)
    qtbot.waitUntil(lambda: not sweeper.stale, timeout=LONG)
    assert sweeper.held is not None
    low, high = (each.dynamics.found.least_force[0] for each in (before, sweeper.held))
    assert high > low  # a shorter spring presses harder
    qtbot.waitUntil(lambda: isinstance(sweeper.slow, Ready), timeout=LONG)


def test_an_edit_that_moves_nothing_sweeps_nothing(swept: MotionPage) -> None:
    swept.session.set_field("customer", "somebody")
    assert not swept.sweeper.busy
    assert not swept.sweeper.stale


def test_dragging_is_followed_and_ends_at_the_last_height(
    swept: MotionPage, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A sweep under way is let finish; then the newest entries are swept, and starts from the last."""
    calls: list[dict[str, Any]] = []
    run = sweeper_module.run_dynamics

    def counted(motion: Any, *args: Any, **given: Any) -> Any:
        calls.append({"gear": motion.dynamic.gear, **given})
        return run(motion, *args, **given)

    monkeypatch.setattr(sweeper_module, "run_dynamics", counted)
    for step in range(12):
        swept.session.preview("spring.installed_height", f"{1.840 - 0.001 * step:.3f} in")
        QTest.qWait(25)
    qtbot.waitUntil(lambda: not swept.sweeper.stale and not swept.sweeper.busy, timeout=LONG)
    dynamic = swept.line().motion.dynamic
    assert dynamic is not None
    quick = [each for each in calls if not each["refine"]]
    assert 1 <= len(quick) <= 13
    assert all(each["start"] is not None for each in quick)
    assert all(each["turns"] == sweeper_module.DRAG_TURNS for each in quick)  # the hand is at it: a few turns do
    assert quick[-1]["gear"] == dynamic.gear


def test_a_map_under_the_hand_is_drawn_once_for_each_sweep(
    swept: MotionPage, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    swept.words.choose("map")
    view = swept.made["map"]
    drawn: list[object] = []
    build = view.build_seen
    monkeypatch.setattr(view, "build_seen", lambda seen, style: drawn.append(seen.dynamics) or build(seen, style))
    for step in range(8):
        swept.session.preview("spring.installed_height", f"{1.838 - 0.001 * step:.3f} in")
        QTest.qWait(25)
    qtbot.waitUntil(lambda: not swept.sweeper.stale, timeout=LONG)
    assert drawn
    assert len({id(each) for each in drawn}) == len(drawn)


def test_threads_take_turns_more_often_only_while_the_page_is_on_show(swept: MotionPage) -> None:
    window = swept.window()
    assert isinstance(window, MainWindow)
    assert sys.getswitchinterval() == pytest.approx(sweeper_module.TURN_S)
    window.show_page("bench")
    assert sys.getswitchinterval() > sweeper_module.TURN_S


def test_the_map_may_be_the_first_view_before_any_sweep(
    opened: Open, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    slow = Slow(monkeypatch)
    page = page_of(opened(pair()))
    page.words.choose("map")
    assert page.view is page.made["map"]
    assert page.table.figures.figures.rows == ()
    slow.go.set()
    qtbot.waitUntil(lambda: page.sweeper.held is not None, timeout=LONG)
    assert page.table.figures.figures.rows


class Slow:
    """A run that waits until it is let go, or cancelled."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.begun, self.go, self.cancelled = threading.Event(), threading.Event(), threading.Event()
        self.run = sweeper_module.run_dynamics
        monkeypatch.setattr(sweeper_module, "run_dynamics", self)

    def __call__(self, motion: Any, *, progress: Callable[[float], None], **given: Any) -> Any:
        self.begun.set()
        while not self.go.wait(0.005):
            try:
                progress(0.4)
            except Cancelled:
                self.cancelled.set()
                raise
        return self.run(motion, progress=progress, **given)


def test_progress_is_told_and_cancel_stops_the_work(
    opened: Open, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    slow = Slow(monkeypatch)
    page = page_of(opened(pair()))
    qtbot.waitUntil(page.work.isVisible)
    qtbot.waitUntil(lambda: page.work.progress.value() == 40)
    assert isinstance(page.sweeper.slow, Pending)
    assert page.work.button.text() == "Cancel"
    QTest.mouseClick(page.work.button, Qt.MouseButton.LeftButton)
    assert slow.cancelled.wait(2.0)
    assert page.sweeper.stopped
    assert page.work.button.text() == "Go on"
    slow.go.set()
    QTest.mouseClick(page.work.button, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: page.sweeper.held is not None and page.sweeper.held.refined, timeout=LONG)
    qtbot.waitUntil(lambda: not page.work.isVisible())


def test_escape_stops_the_work_from_the_picture(opened: Open, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    slow = Slow(monkeypatch)
    window = opened(pair())
    page = page_of(window)
    assert slow.begun.wait(2.0)
    window.activateWindow()
    view = page.view
    assert view is not None
    view.scale.setFocus()
    QTest.keyClick(view.scale, Key.Key_Escape)
    assert slow.cancelled.wait(2.0)
    assert page.sweeper.stopped


def test_a_sweep_with_its_bands_is_handed_on(opened: Open, qtbot: QtBot) -> None:
    page = page_of(opened(pair()))
    with qtbot.waitSignal(page.sweeper.answered, timeout=LONG) as said:
        pass
    held = page.sweeper.held
    assert held is not None
    assert said.args == ["common", held.key, held.dynamics]
    # the session judges by it: nothing is told as computing any more
    verdicts = page.session.state.verdicts
    assert next(each for each in verdicts.findings if each.id == "contact-lost").level is not Level.UNKNOWN
    assert page.session.state.analysis.value("greatest_contact_force") is not None


def test_a_stale_picture_is_greyed_and_a_new_one_is_not(
    swept: MotionPage, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    swept.words.choose("speeds")
    view = swept.made["speeds"]
    assert view.scale.items[0].opacity() == 1.0
    slow = Slow(monkeypatch)
    swept.session.set_field("spring.installed_height", "1.840 in")
    qtbot.waitUntil(lambda: view.scale.items[0].opacity() < 0.5)
    slow.go.set()
    qtbot.waitUntil(lambda: view.scale.items[0].opacity() == 1.0, timeout=LONG)


def test_what_fails_is_told_and_leaves_the_page_alive(
    opened: Open, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    run = sweeper_module.run_dynamics

    def broken(*_: Any, **__: Any) -> Any:
        raise ZeroDivisionError

    monkeypatch.setattr(sweeper_module, "run_dynamics", broken)
    page = page_of(opened(pair()))
    qtbot.waitUntil(lambda: isinstance(page.sweeper.slow, Failed))
    assert page.work.word.text() == "The sweep could not be worked out."
    monkeypatch.setattr(sweeper_module, "run_dynamics", run)
    page.work.button.click()
    qtbot.waitUntil(lambda: page.sweeper.held is not None, timeout=LONG)
    qtbot.waitUntil(lambda: not page.sweeper.busy, timeout=LONG)


def test_the_onsets_of_each_input_come_when_they_are_looked_at(swept: MotionPage, qtbot: QtBot) -> None:
    held = swept.sweeper.held
    assert held is not None
    assert held.onsets is None
    swept.words.choose("matters")
    qtbot.waitUntil(lambda: held.onsets is not None, timeout=LONG)
    assert swept.view is not None
    assert "dynamic run" in " ".join(swept.view.told.notes)


def test_nothing_is_swept_while_the_page_is_hidden(swept: MotionPage, monkeypatch: pytest.MonkeyPatch) -> None:
    window = swept.window()
    assert isinstance(window, MainWindow)
    calls: list[object] = []
    monkeypatch.setattr(sweeper_module, "run_dynamics", lambda *args, **_: calls.append(args))
    window.show_page("bench")
    window.session.set_field("spring.installed_height", "1.840 in")
    QTest.qWait(400)
    assert calls == []
    assert not swept.sweeper.busy


def test_each_line_has_its_own_sweep(opened: Open, qtbot: QtBot) -> None:
    job = pair(lines__exhaust={"valve_gear": {"masses": {"valve": "150 g"}}})
    window = opened(job)
    page = page_of(window)
    qtbot.waitUntil(lambda: page.sweeper.held is not None, timeout=LONG)
    first = page.sweeper.held
    window.session.choose_line("exhaust")
    qtbot.waitUntil(lambda: page.sweeper.held not in (None, first) and not page.sweeper.busy, timeout=LONG)
    window.session.choose_line("intake")
    assert page.sweeper.held is not None
    assert not page.sweeper.stale


# What it waits for


def test_d29_an_empty_job_says_what_is_wanted_and_goes_there(opened: Open, qtbot: QtBot) -> None:
    window = opened(empty())
    page = page_of(window)
    assert page.view is None
    assert "waits for" in page.waiting.needs.text()
    assert not page.table.isVisible()
    assert not page.head.isVisible()
    went: list[str] = []
    window.go_to_field = went.append  # type: ignore[method-assign, assignment]
    QTest.keyClick(page.waiting.button, Key.Key_Space)
    assert went == ["cam.profile"]


def test_a_lift_without_loads_is_shown_and_the_forces_wait(opened: Open) -> None:
    page = page_of(opened(no_masses()))
    assert page.view is page.made["lift"]
    page.words.choose("map")
    assert page.view is None
    assert page._missing
    assert not page.sweeper.busy


@pytest.mark.parametrize(
    "make", [pair, *(pytest.param(each, marks=pytest.mark.strength) for each in (empty, no_masses))]
)
def test_no_job_breaks_a_view(opened: Open, make: Callable[[], Job]) -> None:
    window = opened(make())
    for style in Style:
        window.session.set_style(style)
        for key in VIEWS:
            page_of(window).words.choose(key)
            settle(window)
            assert page_of(window).stack.currentWidget() is not None


# Room and names


@pytest.mark.parametrize("style", [Style.INCH_POUND, pytest.param(Style.METRIC, marks=pytest.mark.strength)])
def test_d20_nothing_is_cut_at_1280_by_800(swept: MotionPage, style: Style) -> None:
    window = swept.window()
    assert isinstance(window, MainWindow)
    window.session.set_style(style)
    for key in VIEWS:
        swept.words.choose(key)
        settle(window)
        assert (window.width(), window.height()) == (1280, 800)
        assert swept.view is not None
        assert swept.view.minimumSizeHint().height() <= swept.view.height()
        assert swept.rect().contains(swept.read_out.geometry())
        assert not swept.table.horizontalScrollBar().isVisible()
        assert cut(window.shell.stack) == []
        if key not in PICTURES:
            continue
        layout = swept.view.scale.ci.layout
        rows = sum(layout.rowMaximumHeight(row) for row in range(layout.rowCount()))
        assert rows <= swept.view.scale.height()


def test_the_table_keeps_the_height_that_it_was_given(swept: MotionPage, opened: Open) -> None:
    window = swept.window()
    assert isinstance(window, MainWindow)
    total = sum(swept.splitter.sizes())
    QTest.qWait(20)
    swept.splitter.moveSplitter(total - 120, 1)
    given = swept.splitter.sizes()[1]
    for key in (*VIEWS, "lift"):
        swept.words.choose(key)
        QTest.qWait(20)
    assert swept.splitter.sizes()[1] == given
    other = page_of(opened(pair()))
    QTest.qWait(20)
    assert abs(other.splitter.sizes()[1] - given) <= 2


@pytest.mark.parametrize("make", [pair, pytest.param(empty, marks=pytest.mark.strength)])
def test_d50_texts_two_fifths_longer_are_not_cut(opened: Open, make: Callable[[], Job]) -> None:
    with everything_longer():
        window = opened(make())
        for key in VIEWS:
            page_of(window).words.choose(key)
            settle(window)
            assert (window.width(), window.height()) == (1280, 800)
            assert cut(window.shell.stack) == []


def test_d20_a_squeezed_page_wraps_its_tools(opened: Open) -> None:
    window = opened(pair())
    window.resize(1024, 640)
    for splitter in window.shell.findChildren(QSplitter):
        if splitter.orientation() is Qt.Orientation.Horizontal:
            splitter.setSizes([1000, 1, 1])
    for key in VIEWS:
        page_of(window).words.choose(key)
        settle(window)
        assert cut(window.shell.stack) == []
        assert window.height() == 640


def test_d26_everything_that_takes_the_focus_has_a_name(swept: MotionPage) -> None:
    for key in VIEWS:
        swept.words.choose(key)
        settle(swept)
        for widget in swept.findChildren(QWidget):
            takes = widget.focusPolicy() & Qt.FocusPolicy.TabFocus
            if takes and widget.isVisible() and widget.objectName() != "qt_scrollarea_viewport":
                assert widget.accessibleName() or getattr(widget, "text", lambda: "")(), widget


def test_d22_tab_goes_from_the_words_over_slider_and_picture_to_the_table(swept: MotionPage) -> None:
    swept.words.choose("map")
    settle(swept)
    swept.window().activateWindow()
    swept.words.buttons["map"].setFocus()
    seen = []
    for _ in range(12):
        QTest.keyClick(QApplication.focusWidget(), Key.Key_Tab)  # type: ignore[arg-type]
        focused = QApplication.focusWidget()
        assert focused is not None
        seen.append(focused.objectName())
        if seen[-1] == "motion_table":
            break
    wanted = ["motion_speed", "map_picture", "motion_table"]
    assert [name for name in seen if name in wanted] == wanted


# The window's commands


def test_d42_pictures_and_data_are_copied_and_saved(swept: MotionPage, tmp_path: Path) -> None:
    for key in PICTURES:
        swept.words.choose(key)
        for ending in (".png", ".svg", ".pdf", ".csv"):
            path = tmp_path / f"{key}{ending}"
            swept.save_picture_as(path)
            assert path.stat().st_size > 500
    QGuiApplication.clipboard().clear()
    swept.copy_picture()
    assert not QGuiApplication.clipboard().image().isNull()
    swept.copy()
    assert QGuiApplication.clipboard().text() == swept.read_out.text()


def test_without_a_picture_the_commands_say_so(opened: Open, qtbot: QtBot) -> None:
    window = opened(empty())
    with qtbot.waitSignal(window.session.announced) as said:
        page_of(window).copy_picture()
    assert said.args == ["There is no picture on show."]
