"""The map while the installed height is dragged: how often it is swept, drawn and painted anew, end to end."""

from __future__ import annotations

import os
import statistics
import time
from collections.abc import Callable
from itertools import pairwise
from typing import Any

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

LIMITS = {"map_over_edit_ratio": 2.0, "edits_a_map": 1.2}
"""A map may take as long as two edits without one: an edit is shown and painted in 16 ms, so there are 30 maps a
second. And every edit that is shown gets its map. The maps a second themselves hang on what else the machine does."""

EDITS, SECONDS, HAND_MS = 40, 4.0, 8
"""Edits that are timed without a map; how long is dragged, and how often the hand moves: more often than maps come."""

Drag = dict[str, float]


def dragged(width: int, height: int) -> Drag:
    """Drag the installed height of the demo with the map on show, and count what comes of it."""
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
    window.show_page("bench")
    edit_ms = edited_ms(session, application)
    window.show_page("motion")
    page: Any = window.shell.page
    page.words.choose("map")
    wait(application, lambda: page.sweeper.held is not None and page.sweeper.held.refined)
    counted = Counted(page)
    session.changed.connect(counted.edited)
    counted.begin()
    step, begun = 0, time.perf_counter()
    while (gone := time.perf_counter() - begun) < SECONDS:
        if 1e3 * gone > HAND_MS * step:
            step += 1
            session.preview("spring.installed_height", f"{1.840 - 0.0002 * (step % 200):.4f} in")
        application.processEvents()
        time.sleep(0.0005)
    found = counted.told()
    found["map_over_edit_ratio"] = found["map_ms"] / edit_ms
    session.drop_preview()
    window.show_page("bench")  # what the window remembers is as it was
    session.undo_stack.setClean()
    window.close()
    window.shut_down()
    return found


def edited_ms(session: Any, application: Any) -> float:
    """Median time of an edit of the installed height until it is shown and painted, no sweep beside it, ms."""
    spent = []
    for step in range(EDITS):
        session.preview("spring.installed_height", f"{1.838 - 0.0002 * step:.4f} in")
        before = time.perf_counter()
        session._show_preview()
        application.processEvents()
        spent.append(1e3 * (time.perf_counter() - before))
    session.drop_preview()
    for _ in range(5):
        application.processEvents()
    return statistics.median(spent)


class Counted:
    """Counts edits that are shown and maps that are painted, and times the sweeps."""

    def __init__(self, page: Any) -> None:
        from ui.motion import sweeper

        self.page, self.scale = page, page.view.scale
        self.edits = 0
        self.maps: list[float] = []
        self.sweeps: list[float] = []
        self._last: object = None
        self._paint, self.scale.paintEvent = self.scale.paintEvent, self.painted
        self._run, sweeper.run_dynamics = sweeper.run_dynamics, self.swept

    def begin(self) -> None:
        """Count from now on."""
        self.edits, self.maps, self.sweeps = 0, [], []
        self._cpu = time.thread_time()

    def edited(self, _state: object) -> None:
        """An edit is shown."""
        self.edits += 1

    def painted(self, event: Any) -> None:
        """The picture is painted; it counts where it is of another sweep."""
        self._paint(event)
        held = self.page.sweeper.held
        if held is not None and held.dynamics is not self._last:
            self._last = held.dynamics
            self.maps.append(time.perf_counter())

    def swept(self, *args: Any, **given: Any) -> Any:
        """A sweep, on its own thread."""
        before = time.perf_counter()
        found = self._run(*args, **given)
        self.sweeps.append(1e3 * (time.perf_counter() - before))
        return found

    def told(self) -> Drag:
        """What was counted; from now on nothing is."""
        from ui.motion import sweeper

        cpu = time.thread_time() - self._cpu
        sweeper.run_dynamics = self._run
        return {
            "maps_a_second": (len(self.maps) - 1) / (self.maps[-1] - self.maps[0]),
            "map_ms": 1e3 * statistics.median(after - before for before, after in pairwise(self.maps)),
            "window_works_a_map_ms": 1e3 * cpu / len(self.maps),
            "sweep_of_a_drag_ms": statistics.median(self.sweeps),
            "edits_a_map": self.edits / len(self.maps),
        }


def wait(application: Any, until: Callable[[], bool], seconds: float = 60.0) -> None:
    """Let the window work until something is so."""
    end = time.monotonic() + seconds
    while not until():
        if time.monotonic() > end:
            raise RuntimeError("the sweep did not come")
        application.processEvents()
        time.sleep(0.002)


def measure() -> dict[str, float]:
    """Of a window of 1280 by 800; and the maps a second of one of 1920 by 1080."""
    return {**dragged(1280, 800), "maps_a_second_1920": dragged(1920, 1080)["maps_a_second"]}
