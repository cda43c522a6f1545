"""The program as a whole: first run, command line, light start, defects of ours, a clean end."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from loadbench.job.files import save_job
from loadbench.job.model import Job
from ui import app
from ui.places import log_file, recovery_folder
from ui.window import MainWindow

HEAVY = ("pint", "scipy", "openpyxl", "xlsxwriter", "defusedxml", "numba", "matplotlib")
# Starts the program as a user would, looks once the window is there, and quits.
RUN = """
import sys
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication
from ui.app import main
def look():
    (window,) = [w for w in QApplication.topLevelWidgets() if w.isVisible() and w.windowTitle()]
    print("title:", window.windowTitle())
    print("line:", len(window.shell.findings.entries()))
    print("heavy:", sorted({heavy} & set(sys.modules)))
    {then}
QTimer.singleShot(0, lambda: QTimer.singleShot({wait}, look))
sys.exit(main({arguments}))
"""


def run(*, arguments: list[str] | None = None, then: str = "window.close()", wait: int = 50) -> dict[str, str]:
    code = RUN.format(heavy=set(HEAVY), then=then, wait=wait, arguments=arguments or [])
    command = [sys.executable, "-c", code]
    done = subprocess.run(command, capture_output=True, text=True, check=False, timeout=120)
    assert done.returncode == 0, done.stderr
    assert "Traceback" not in done.stderr, done.stderr
    return dict(line.split(": ", 1) for line in done.stdout.splitlines() if ": " in line)


def test_d47_the_first_run_shows_the_demo_job_with_its_findings() -> None:
    seen = run()
    assert seen["title"].startswith("Invented demo")
    assert int(seen["line"]) > 10


def test_heavy_modules_are_not_loaded_at_start() -> None:
    assert run()["heavy"] == "[]"


def test_d10_a_job_named_on_the_command_line_opens(tmp_path: Path) -> None:
    path = tmp_path / "named.loadbench.json"
    save_job(Job(title="Named"), path)
    assert run(arguments=[str(path)])["title"].startswith("named[*]")


@pytest.mark.parametrize("factor", ["1.25", "1.5", "2"])
def test_d19_larger_scales_cut_nothing(factor: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("QT_SCALE_FACTOR", factor)
    look = (
        "from PySide6.QtWidgets import QLabel; labels = [one for one in window.findChildren(QLabel) "
        "if one.isVisible() and one.text() and not one.wordWrap()]; "
        "print('cut:', [one.text() for one in labels if one.width() + 1 < one.sizeHint().width()]); "
        "print('dots:', window.grab().width() / window.width(), len(labels) > 20); window.close()"
    )
    seen = run(then=f"window.resize(1280, 800); QApplication.processEvents(); {look}")
    assert seen["cut"] == "[]"
    assert seen["dots"] == f"{float(factor)} True"


def test_the_last_job_comes_back(tmp_path: Path) -> None:
    path = tmp_path / "last.loadbench.json"
    save_job(Job(title="Last"), path)
    run(arguments=[str(path)])
    assert run()["title"].startswith("last[*]")
    path.unlink()
    assert run()["title"].startswith("Invented demo")


@pytest.mark.parametrize("then", ["window.close()", "QApplication.quit()"])
def test_d55_a_quit_leaves_nothing_and_says_zero(then: str) -> None:
    run(then=f"window.session.set_field('spring.installed_height', '1.8 in'); window.session.undo_stack.undo(); {then}")
    assert list(recovery_folder().iterdir()) == []
    assert list(Path(os.environ["LOADBENCH_HOME"]).rglob("*.part")) == []


def test_settings_that_are_nonsense_do_not_stop_the_start() -> None:
    folder = Path(os.environ["LOADBENCH_HOME"]) / "settings"
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "window.ini").write_bytes(b"\xff\xfe[General\nunits=\x00\nlast=@Variant(x\n")
    (folder / "shop-rules.json").write_text("{nonsense")
    assert run()["title"].startswith("Invented demo")


def test_a_defect_is_logged_and_told_without_a_traceback(window: MainWindow) -> None:
    app.log_to(log_file())
    try:
        raise ZeroDivisionError("of ours")  # noqa: TRY301
    except ZeroDivisionError as error:
        app.hook(window)(ZeroDivisionError, error, error.__traceback__)
    (notice,) = window.notices.notices()
    assert "went wrong in LoadBench itself" in notice.label.text()
    assert "of ours" not in notice.label.text()
    assert "ZeroDivisionError: of ours" in log_file().read_text(encoding="utf-8")
    app.close_log()
