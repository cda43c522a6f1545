"""The tests' own guard: each kind of leftover fails, a tidy test passes, the user's settings stay untouched."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import settings

HERE = Path(__file__).parent

TIDY = """
def test_it(qtbot):
    import pyqtgraph
    from PySide6.QtCore import QTimer
    from PySide6.QtWidgets import QMainWindow, QComboBox
    window = QMainWindow()
    qtbot.addWidget(window)
    window.setCentralWidget(pyqtgraph.PlotWidget())
    window.menuBar().addMenu("File")
    window.addToolBar("Tools").addWidget(QComboBox())
    window.timer = QTimer(window)
    window.timer.start(10_000)
    window.show()
    qtbot.waitExposed(window)
"""
WINDOW = """
from PySide6.QtWidgets import QWidget
kept = []
def test_it(qapp):
    kept.append(QWidget())
"""
TIMER = """
from PySide6.QtCore import QTimer
kept = []
def test_it(qapp):
    kept.append(QTimer())
    kept[0].start(10_000)
"""
QT_THREAD = """
from PySide6.QtCore import QThread
kept = []
def test_it(qapp):
    kept.append(QThread())
    kept[0].start()
def test_end():
    kept[0].quit()
    kept[0].wait()
"""
THREAD = """
from concurrent.futures import ThreadPoolExecutor
kept = []
def test_it():
    kept.append(ThreadPoolExecutor(1))
    kept[0].submit(print)
"""
UNKNOWN_SOURCE = """
import pytest
@pytest.mark.reference("a-source-nobody-entered")
def test_it():
    pass
"""


def run(folder: Path, code: str) -> subprocess.CompletedProcess[str]:
    """Run a test file beside a copy of our conftest, with our settings."""
    (folder / "conftest.py").write_text((HERE / "conftest.py").read_text(encoding="utf-8"), encoding="utf-8")
    file = folder / "test_sample.py"
    file.write_text(code, encoding="utf-8")
    command = [sys.executable, "-m", "pytest", "-c", str(HERE.parent / "pyproject.toml"), "--rootdir", str(folder)]
    return subprocess.run(
        [*command, "-p", "no:cacheprovider", str(file)], cwd=folder, capture_output=True, text=True, check=False
    )


def test_a_tidy_test_with_window_plot_and_timer_passes(tmp_path: Path) -> None:
    done = run(tmp_path, TIDY)
    assert done.returncode == 0, done.stdout


@pytest.mark.parametrize(
    ("code", "named"),
    [(WINDOW, "window QWidget"), (TIMER, "running QTimer"), (QT_THREAD, "running QThread"), (THREAD, "thread Thread")],
    ids=["window", "timer", "qt thread", "thread"],
)
def test_what_is_left_behind_fails(tmp_path: Path, code: str, named: str) -> None:
    done = run(tmp_path, code)
    assert done.returncode == 1, done.stdout
    assert f"left behind: {named}" in done.stdout


def test_a_source_that_is_not_in_the_bibliography_is_refused(tmp_path: Path) -> None:
    done = run(tmp_path, UNKNOWN_SOURCE)
    assert done.returncode == 4, done.stdout
    assert "a-source-nobody-entered" in done.stderr


def test_settings_and_data_are_the_tests_own(qapp: object) -> None:
    from PySide6.QtCore import QSettings

    home = Path(os.environ["LOADBENCH_HOME"]).parent
    stored = QSettings(QSettings.Format.IniFormat, QSettings.Scope.UserScope, "loadbench", "loadbench")
    assert Path(stored.fileName()).is_relative_to(home)
    assert all(Path(os.environ[f"XDG_{name}_HOME"]).is_relative_to(home) for name in ("CONFIG", "DATA", "CACHE"))


def test_nothing_stays_from_the_test_before() -> None:
    home = Path(os.environ["LOADBENCH_HOME"])
    assert not home.exists()
    home.mkdir(parents=True)
    (home / "left.txt").write_text("x", encoding="utf-8")


def test_nothing_stays_from_the_test_before_that() -> None:
    test_nothing_stays_from_the_test_before()


def test_the_profiles_are_those_of_the_two_runs() -> None:
    assert settings.get_profile("ci").max_examples == 50
    assert settings.get_profile("ci").deadline is None
    assert settings.get_profile("strength").max_examples == 2000
