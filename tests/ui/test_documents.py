"""New, open, save, close: nothing is lost unasked, nothing is half-written, everything is told."""

from __future__ import annotations

import os
import stat
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QMimeData, QPointF, Qt, QTimer, QUrl
from PySide6.QtGui import QAction, QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QApplication, QFileDialog, QMenu, QMessageBox

from loadbench.job.files import open_job, save_job, text_of_job
from loadbench.job.model import Job
from ui.documents import sample_files
from ui.window import MainWindow
from ui.window_drops import is_for_us

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

HEIGHT = "spring.installed_height"
AS_ROOT = hasattr(os, "geteuid") and os.geteuid() == 0


@pytest.fixture
def file(tmp_path: Path) -> Path:
    made = tmp_path / "one.loadbench.json"
    save_job(Job(title="One", units="metric"), made)
    return made


def press(words: str) -> list[str]:
    """Press a button of the next box; gives back what the box offered."""
    offered: list[str] = []

    def look() -> None:
        box = QApplication.activeModalWidget()
        assert isinstance(box, QMessageBox)
        offered.extend(button.text() for button in box.buttons())
        next(button for button in box.buttons() if button.text() == words).click()

    QTimer.singleShot(0, look)
    return offered


def choose(monkeypatch: pytest.MonkeyPatch, path: Path | None) -> None:
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(path or ""), ""))
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: (str(path or ""), ""))


def told(window: MainWindow) -> str:
    return "\n".join(notice.label.text() for notice in window.notices.notices())


def test_d07_the_title_names_the_job_and_marks_changes(window: MainWindow, file: Path) -> None:
    window.documents.open_path(file)
    assert window.windowTitle() == "one[*] \u2013 LoadBench"
    assert window.windowFilePath() == str(file)
    window.session.set_field(HEIGHT, "48")
    assert window.isWindowModified()
    window.session.undo_stack.undo()
    assert not window.isWindowModified()


def test_an_untitled_job_goes_by_its_title(window: MainWindow) -> None:
    window.session.set_field("title", "Blue head [*]")
    assert window.windowTitle() == "Blue head [ * ][*] \u2013 LoadBench"


@pytest.mark.parametrize("leave", ["new", "open", "close"])
def test_d08_cancel_keeps_all(window: MainWindow, file: Path, leave: str) -> None:
    window.session.set_field(HEIGHT, "1.9 in")
    job = window.session.job
    offered = press("Cancel")
    way: dict[str, Callable[[], object]] = {
        "new": window.documents.new,
        "open": lambda: window.documents.open_path(file),
        "close": window.close,
    }
    way[leave]()
    assert offered == ["Save", "Don\u2019t save", "Cancel"] or set(offered) == {"Save", "Don\u2019t save", "Cancel"}
    assert window.session.job is job
    assert window.isVisible()
    assert window.session.undo_stack.count() == 1


def test_d08_dont_save_leaves_the_file(window: MainWindow, file: Path) -> None:
    window.documents.open_path(file)
    window.session.set_field(HEIGHT, "48 mm")
    press("Don\u2019t save")
    window.documents.new()
    assert open_job(file).spring.installed_height is None
    assert window.session.path is None


def test_d08_save_saves_and_goes_on(window: MainWindow, file: Path) -> None:
    window.documents.open_path(file)
    window.session.set_field(HEIGHT, "48 mm")
    press("Save")
    window.documents.new()
    assert open_job(file).spring.installed_height == "48 mm"


def test_d08_a_save_that_fails_keeps_the_job(window: MainWindow, monkeypatch: pytest.MonkeyPatch) -> None:
    window.session.set_field(HEIGHT, "1.9 in")
    choose(monkeypatch, None)  # the save dialog is cancelled
    press("Save")
    window.documents.new()
    assert window.session.job.spring.installed_height == "1.9 in"


def recent_entries(window: MainWindow) -> list[QAction]:
    menu = window.findChild(QMenu, "open_recent")
    assert menu is not None
    menu.aboutToShow.emit()
    return [action for action in menu.actions() if not action.isSeparator()]


def test_d09_recent_jobs_are_ten_the_newest_first_and_missing_ones_say_so(window: MainWindow, tmp_path: Path) -> None:
    for number in range(12):
        path = tmp_path / f"{number}.loadbench.json"
        save_job(Job(title=str(number)), path)
        window.documents.open_path(path)
    (tmp_path / "7.loadbench.json").unlink()
    *entries, clear = recent_entries(window)
    assert [entry.text().split(".")[0] for entry in entries] == [str(n) for n in range(11, 1, -1)]
    gone = entries[4]
    assert not gone.isEnabled()
    assert "no longer there" in gone.text()
    clear.trigger()
    assert window.documents.recent.paths() == []


def test_d09_a_recent_job_opens(window: MainWindow, file: Path) -> None:
    window.documents.open_path(file)
    window.documents.new()
    recent_entries(window)[0].trigger()
    assert window.session.path == file


def drag(window: MainWindow, *urls: QUrl) -> bool:
    data = QMimeData()
    data.setUrls(urls)
    keys, buttons = Qt.KeyboardModifier.NoModifier, Qt.MouseButton.LeftButton
    entering = QDragEnterEvent(window.rect().center(), Qt.DropAction.CopyAction, data, buttons, keys)
    QApplication.sendEvent(window, entering)
    if entering.isAccepted():
        point = QPointF(window.rect().center())
        QApplication.sendEvent(window, QDropEvent(point, Qt.DropAction.CopyAction, data, buttons, keys))
    return entering.isAccepted()


def test_d10_a_job_dropped_on_the_window_opens(window: MainWindow, file: Path) -> None:
    assert drag(window, QUrl.fromLocalFile(str(file)))
    assert window.session.job.title == "One"


@pytest.mark.parametrize(
    ("url", "said"),
    [
        ("https://example.org/a.json", "https://example.org/a.json is not a file on this computer"),
        ("file:///somewhere/picture.png", "picture.png is not a job."),
        ("{folder}", "is a folder."),
    ],
)
def test_d10_another_drop_is_told_what_was_expected(window: MainWindow, tmp_path: Path, url: str, said: str) -> None:
    (tmp_path / "jobs.json").mkdir()
    window.session.set_field(HEIGHT, "1.9 in")
    job = window.session.job
    for _ in range(2):  # the same once more stands there once
        assert drag(window, QUrl(url.format(folder=QUrl.fromLocalFile(str(tmp_path / "jobs.json")).toString())))
    assert said in told(window)
    assert "ends in .loadbench.json. Nothing was changed." in told(window)
    assert len(window.notices.notices()) == 1
    assert window.session.job is job
    assert window.session.undo_stack.count() == 1


def test_d10_of_several_dropped_the_first_job_opens_and_the_rest_is_told(window: MainWindow, file: Path) -> None:
    other = file.with_name("other.loadbench.json")
    save_job(Job(title="Other"), other)
    picture = QUrl("file:///somewhere/picture.png")
    assert drag(window, picture, QUrl.fromLocalFile(str(file)), QUrl.fromLocalFile(str(other)))
    assert window.session.job.title == "One"
    assert f"3 files were dropped, and one job is opened at a time: {file.name} was opened" in told(window)
    assert drag(window, picture, picture)
    assert "None of the 2 files dropped is a job." in told(window)
    assert window.session.job.title == "One"


def test_d08_a_drop_that_is_cancelled_loses_nothing(window: MainWindow, file: Path) -> None:
    window.session.set_field(HEIGHT, "1.9 in")
    job = window.session.job
    press("Cancel")
    assert drag(window, QUrl.fromLocalFile(str(file)), QUrl("file:///somewhere/picture.png"))
    assert window.session.job is job
    assert window.notices.notices() == []


def test_d10_text_is_none_of_our_drops(window: MainWindow) -> None:
    data = QMimeData()
    data.setText("1.9 in")
    assert not is_for_us(data)


def test_a_refused_file_is_told_and_the_job_stays(window: MainWindow, tmp_path: Path) -> None:
    bad = tmp_path / "bad.loadbench.json"
    bad.write_text('{"format": "loadbench-job", "version": 99, "title": "x"}')
    job = window.session.job
    assert not window.documents.open_path(bad)
    assert window.session.job is job
    assert "later LoadBench" in told(window)
    assert window.notices.isVisible()


def test_markup_in_a_notice_is_plain_text(window: MainWindow, tmp_path: Path) -> None:
    window.documents.open_path(tmp_path / "<b>x<b>.loadbench.json")
    assert "<b>x<b>" in told(window)
    assert window.notices.notices()[0].label.textFormat() is Qt.TextFormat.PlainText


def test_d11_a_save_is_whole_and_keeps_mode_and_link(window: MainWindow, file: Path) -> None:
    file.chmod(0o640)
    link = file.with_name("link.loadbench.json")
    link.symlink_to(file)
    window.documents.open_path(link)
    window.session.set_field(HEIGHT, "48 mm")
    assert window.documents.save()
    assert link.is_symlink()
    assert file.read_text(encoding="utf-8") == text_of_job(window.session.job)
    assert stat.S_IMODE(file.stat().st_mode) == 0o640
    assert [entry.name for entry in file.parent.iterdir() if entry.name.endswith(".part")] == []


def test_d11_a_save_that_fails_says_why_and_keeps_mark_and_file(window: MainWindow, tmp_path: Path) -> None:
    folder = tmp_path / "gone"
    folder.mkdir()
    path = folder / "one.loadbench.json"
    save_job(Job(title="One"), path)
    window.documents.open_path(path)
    window.session.set_field(HEIGHT, "48 mm")
    path.unlink()
    folder.rmdir()
    assert not window.documents.save()
    assert window.isWindowModified()
    assert "cannot be saved" in told(window)
    assert "No such file" in told(window)


@pytest.mark.skipif(AS_ROOT, reason="root may write anywhere")
def test_d11_a_read_only_folder_is_told(window: MainWindow, file: Path) -> None:
    window.documents.open_path(file)
    window.session.set_field(HEIGHT, "48 mm")
    file.parent.chmod(0o500)
    try:
        assert not window.documents.save()
    finally:
        file.parent.chmod(0o700)
    assert "cannot be saved" in told(window)


@pytest.mark.skipif(sys.platform == "win32", reason="no such limits there")
def test_d11_a_full_disk_leaves_the_old_file(file: Path) -> None:
    code = (
        "import resource, signal, sys; signal.signal(signal.SIGXFSZ, signal.SIG_IGN)\n"
        "resource.setrlimit(resource.RLIMIT_FSIZE, (100, 100))\n"
        "from loadbench.errors import SaveError\nfrom loadbench.job.files import save_job\n"
        "from loadbench.job.model import Job\n"
        "try:\n    save_job(Job(title='x' * 1000), sys.argv[1])\nexcept SaveError as error:\n    print(error)\n"
    )
    before = file.read_bytes()
    done = subprocess.run([sys.executable, "-c", code, str(file)], capture_output=True, text=True, check=False)
    assert "File too large" in done.stdout, done.stderr
    assert file.read_bytes() == before
    assert [entry.name for entry in file.parent.iterdir()] == [file.name]


def test_saving_says_so(window: MainWindow, file: Path) -> None:
    window.documents.open_path(file)
    window.session.set_field(HEIGHT, "48 mm")
    said: list[str] = []
    window.session.announced.connect(said.append)
    window.documents.save()
    assert "Saved one.loadbench.json." in said


def test_a_job_without_a_file_asks_for_one(window: MainWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    choose(monkeypatch, tmp_path / "new")
    assert window.documents.save()
    assert window.session.path == tmp_path / "new.loadbench.json"
    assert open_job(tmp_path / "new.loadbench.json").title == window.session.job.title


def test_a_name_completed_never_replaces_a_file_unasked(
    window: MainWindow, file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = file.read_bytes()
    choose(monkeypatch, file.with_name("one"))
    press("Cancel")
    assert not window.documents.save_as()
    assert file.read_bytes() == before
    press("Replace")
    assert window.documents.save_as()


def test_d12_a_file_changed_by_another_is_asked_about(
    window: MainWindow, file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    window.documents.open_path(file)
    window.session.set_field(HEIGHT, "48 mm")
    save_job(Job(title="Of another"), file)
    press("Cancel")
    assert not window.documents.save()
    assert open_job(file).title == "Of another"
    choose(monkeypatch, file.with_name("two.loadbench.json"))
    press("Save as\u2026")
    assert window.documents.save()
    assert open_job(file).title == "Of another"


def test_d12_overwriting_is_possible(window: MainWindow, file: Path) -> None:
    window.documents.open_path(file)
    window.session.set_field(HEIGHT, "48 mm")
    save_job(Job(title="Of another"), file)
    press("Overwrite")
    assert window.documents.save()
    assert open_job(file).title == "One"
    assert window.documents.save()  # our own save is no change of another's


def test_d14_a_job_open_elsewhere_is_told_and_saved_under_another_name(
    window: MainWindow, file: Path, monkeypatch: pytest.MonkeyPatch, qtbot: QtBot
) -> None:
    code = (
        "import sys; from pathlib import Path; from ui.recovery import Recovery; from ui.session import Session\n"
        "from loadbench.job.model import Job; from PySide6.QtGui import QGuiApplication; a = QGuiApplication([])\n"
        "r = Recovery(Session(Job(title='x'))); print(r.take(Path(sys.argv[1])), flush=True); sys.stdin.read()"
    )
    command = [sys.executable, "-c", code, str(file)]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as other:
        assert other.stdout is not None
        assert other.stdin is not None
        assert other.stdout.readline().strip() == "None"
        window.documents.open_path(file)
        assert f"process {other.pid}" in told(window)
        window.session.set_field(HEIGHT, "48 mm")
        choose(monkeypatch, file.with_name("mine.loadbench.json"))
        assert window.documents.save()
        assert window.session.path == file.with_name("mine.loadbench.json")
        other.stdin.close()
    assert open_job(file).spring.installed_height is None
    assert not window.documents.read_only


def test_d47_a_sample_opens_in_one_click_as_an_untitled_copy(window: MainWindow) -> None:
    menu = window.findChild(QMenu, "open_sample")
    assert menu is not None
    menu.aboutToShow.emit()
    assert len(menu.actions()) == len(sample_files()) >= 4
    for action in menu.actions():
        action.trigger()
        assert window.session.path is None
        assert window.session.undo_stack.isClean()


def test_saving_takes_what_is_being_typed(window: MainWindow, file: Path, qtbot: QtBot) -> None:
    window.documents.open_path(file)
    window.go_to_field(HEIGHT)
    qtbot.waitUntil(lambda: QApplication.focusWidget() is not None)
    field = QApplication.focusWidget()
    assert field is not None
    qtbot.keyClicks(field, "48 mm")
    assert window.session.job.spring.installed_height is None
    qtbot.keyClick(window, Qt.Key.Key_S, Qt.KeyboardModifier.ControlModifier)
    assert open_job(file).spring.installed_height == "48 mm"
    assert not window.isWindowModified()
    assert field.hasFocus()
