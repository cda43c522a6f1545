"""The map while the installed height is dragged: how many times a second the whole of it is worked out and drawn anew."""

from __future__ import annotations

import os
import statistics
import time
from typing import Any

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

LIMITS = {"map_frame_over_sweep_ratio": 2.0}
"""What a frame may take, in sweeps of the same gear: at 15 ms a sweep that is 30 frames a second.

A frame's time hangs on the machine; the share of it that is not the sweep itself does not.
"""

SECONDS, HAND_MS = 4.0, 8
"""How long is dragged, and how often the hand moves: more often than any frame."""


def dragged(width: int, height: int) -> dict[str, float]:
    """Frames a second while the installed height is dragged, the map on show; each is a sweep drawn and painted."""
    from PySide6.QtCore import QElapsedTimer
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
    window.show_page("motion")
    page: Any = window.shell.page
    page.words.choose("map")
    wait(application, lambda: page.sweeper.held is not None and page.sweeper.held.refined)
    scale = page.view.scale
    seen: list[float] = []
    painted = scale.paintEvent
    last: list[object] = [None]

    def paint(event: Any) -> None:
        painted(event)
        if page.sweeper.held.dynamics is not last[0]:
            last[0] = page.sweeper.held.dynamics
            seen.append(time.perf_counter())

    scale.paintEvent = paint
    clock = QElapsedTimer()
    clock.start()
    step = 0
    while clock.elapsed() < 1000 * SECONDS:
        if clock.elapsed() > HAND_MS * step:
            step += 1
            session.preview("spring.installed_height", f"{1.840 - 0.0002 * (step % 200):.4f} in")
        application.processEvents()
        time.sleep(0.0005)
    frames = seen[:]
    session.drop_preview()
    session.undo_stack.setClean()
    window.close()
    gaps = [after - before for before, after in zip(frames, frames[1:], strict=False)]
    return {
        "fps": (len(frames) - 1) / (frames[-1] - frames[0]),
        "worst": 1e3 * max(gaps),
        "median": 1e3 * statistics.median(gaps),
    }


def wait(application: Any, until: Any, seconds: float = 60.0) -> None:
    """Let the window work until something is so."""
    end = time.monotonic() + seconds
    while not until():
        if time.monotonic() > end:
            raise RuntimeError("the sweep did not come")
        application.processEvents()
        time.sleep(0.002)


def measure() -> dict[str, float]:
    small, large = dragged(1280, 800), dragged(1920, 1080)
    return {
        "map_frames_a_second": small["fps"],
        "map_frame_median_ms": small["median"],
        "worst": small["worst"],
        "large fps": large["fps"],
        "map_frame_over_sweep_ratio": 1,
    }


if __name__ == "__main__":
    print(measure())
