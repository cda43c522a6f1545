"""The window: from an edit to everything updated and painted, and from nothing to a usable window."""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

LIMITS = {"edit_to_painted_ms": 16.0, "start_over_bare_import_ratio": 2.0}

BARE = "import PySide6.QtWidgets, pyqtgraph"
START = (
    "import sys; sys.argv = ['loadbench']; from ui.app import demo_job, make_application; "
    "from ui.session import Session; from ui.window import MainWindow; application = make_application(); "
    "window = MainWindow(Session(demo_job()), late=True); window.resize(1280, 800); window.show(); "
    "application.processEvents(); window.grab(); import os; os._exit(0)"
)


def edits_ms(width: int, height: int, times: int = 60) -> float:
    """Median time of an edit of the installed height until every figure, finding and plot is updated and painted."""
    from ui.app import demo_job, make_application
    from ui.session import Session
    from ui.window import MainWindow

    application = make_application()
    job = demo_job()
    if job is None:
        raise RuntimeError("there is no demo job")
    session = Session(job)
    window = MainWindow(session)
    window.resize(width, height)
    window.show()
    for _ in range(10):
        application.processEvents()
    spent = []
    for count in range(times):
        before = time.perf_counter()
        session.set_field("spring.installed_height", f"{1.830 + 0.0005 * count:.4f} in")
        application.processEvents()
        spent.append(1e3 * (time.perf_counter() - before))
        for _ in range(3):
            application.processEvents()
    session.undo_stack.setClean()
    window.close()
    window.shut_down()
    return statistics.median(spent)


# As the program itself starts: pages that are not on show are made a quarter of a second later, or when first wanted.


def run_s(code: str, compiled: str) -> float:
    """Wall time of a fresh process, s; a warm start finds every module compiled, whatever the machine forbids."""
    home = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    environment = home | {"PYTHONPYCACHEPREFIX": compiled, "LOADBENCH_HOME": compiled}
    folder = Path(__file__).parents[2]
    before = time.perf_counter()
    done = [sys.executable, "-c", code]
    subprocess.run(done, check=True, capture_output=True, cwd=folder, env=environment, timeout=120)
    return time.perf_counter() - before


def measure() -> dict[str, float]:
    """Medians; the start as a ratio to the bare import of the two libraries, both in this run."""
    with tempfile.TemporaryDirectory() as compiled:
        for code in (BARE, START):
            run_s(code, compiled)
        pairs = [(run_s(BARE, compiled), run_s(START, compiled)) for _ in range(7)]
    bare, start = (statistics.median(each) for each in zip(*pairs, strict=True))
    return {
        "edit_to_painted_ms": edits_ms(1280, 800),
        "edit_to_painted_1920_ms": edits_ms(1920, 1080),
        "bare_import_s": bare,
        "start_to_painted_s": start,
        "start_over_bare_import_ratio": start / bare,
    }
