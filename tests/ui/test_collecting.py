"""What is dropped in a ring ends on the window's thread."""

from __future__ import annotations

import gc
import subprocess
import sys
import threading
import weakref
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import pytest

from ui.collecting import LOOK_MS, PUT_OFF, Collector

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

RING = 20_000
"""Objects in rings: more than the automatic collector lets pass."""


class Ring:
    """An object that only the collector can end."""

    def __init__(self) -> None:
        self.itself = self


@pytest.fixture
def threads() -> Iterator[list[str]]:
    """The threads that collected meanwhile."""
    seen: list[str] = []

    def note(phase: str, _info: dict[str, Any]) -> None:
        if phase == "start":
            seen.append(threading.current_thread().name)

    gc.callbacks.append(note)
    yield seen
    gc.callbacks.remove(note)


def work() -> None:
    """Make rings and drop them, as Python's own part of a sweep does."""
    for _ in range(RING):
        Ring()


def on_a_worker() -> None:
    worker = threading.Thread(target=work, name="worker")
    worker.start()
    worker.join()


def test_a_worker_never_collects_and_the_window_soon_does(qtbot: QtBot, threads: list[str]) -> None:
    seen = weakref.ref(Ring())
    on_a_worker()
    assert threads == []
    qtbot.waitUntil(lambda: seen() is None, timeout=50 * LOOK_MS)
    assert set(threads) == {"MainThread"}


def test_without_it_a_worker_would_collect(threads: list[str]) -> None:
    gc.enable()
    on_a_worker()
    gc.disable()
    assert "worker" in threads


def test_a_whole_collection_waits_for_a_quiet_moment(monkeypatch: pytest.MonkeyPatch) -> None:
    collector = Collector()
    done: list[int] = []
    monkeypatch.setattr(gc, "collect", done.append)
    young, middle, old = gc.get_threshold()
    calm = ((young, 0, 0), (0, middle + 1, 0), (0, 0, old + 1))
    busy = ((young + 1, 0, 0), (young + 1, 0, old + 1), (young + 1, 0, PUT_OFF * old + 1))
    for counts in (*calm, *busy):
        monkeypatch.setattr(gc, "get_count", lambda counts=counts: counts)
        collector.look()
    assert done == [1, 2, 0, 0, 2]


def test_stop_gives_back() -> None:
    collector = Collector()
    assert not gc.isenabled()
    collector.stop()
    assert gc.isenabled()


WINDOWS = """
import gc, sys, threading
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QWidget
from ui import app

class Own(QWidget):
    pass

def look():
    gc.collect()  # the next turn is the worker's
    dropped = Own()
    dropped.itself = dropped
    dropped.show()
    del dropped
    worker = threading.Thread(target=work)
    worker.start()
    worker.join()
    print("worked", flush=True)
    QTimer.singleShot(500, app.QApplication.closeAllWindows)

class Ring:
    def __init__(self):
        self.itself = self

def work():
    for _ in range(500_000):
        Ring()

QTimer.singleShot(0, lambda: QTimer.singleShot(300, look))
sys.exit(app.main([]))
"""


def test_a_dropped_window_does_not_stop_the_program_while_a_worker_works() -> None:
    """In a program of its own: it hung, with Qt waiting on the worker for the window's thread."""
    done = subprocess.run([sys.executable, "-c", WINDOWS], capture_output=True, text=True, timeout=100, check=False)
    assert (done.returncode, done.stdout) == (0, "worked\n"), done.stderr
