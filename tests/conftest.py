"""What every test stands on: no screen, no settings of the user's, and nothing left behind."""

from __future__ import annotations

import gc
import importlib
import importlib.util
import os
import shutil
import sys
import tempfile
import threading
import time
import tomllib
import weakref
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, settings

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
# Set before anything of ours is imported, and inherited by programs that a test starts.
HOME = Path(tempfile.mkdtemp(prefix="loadbench-tests-"))
os.environ["LOADBENCH_HOME"] = str(HOME / "home")
for _name in ("CONFIG", "DATA", "STATE", "CACHE"):
    os.environ[f"XDG_{_name}_HOME"] = str(HOME / _name.lower())

# The everyday run must give the same answer twice; strength looks for new examples each time.
settings.register_profile(
    "ci", deadline=None, max_examples=50, derandomize=True, suppress_health_check=[HealthCheck.too_slow]
)
settings.register_profile(
    "strength", deadline=None, max_examples=2000, print_blob=True, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("ci")

THREAD_SECONDS = 2.0
MANY = 2000
# Threads and windows that belong to a library, live once for the whole run and hold nothing of ours.
FOREIGN_THREADS = ("_DummyThread", "TMonitor")
FOREIGN_WINDOWS = ("QTipLabel",)


def pytest_unconfigure() -> None:
    """Remove the run's own home."""
    shutil.rmtree(HOME, ignore_errors=True)


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Refuse a published value whose source isn't in loadbench/sources.py; of dear tests take a few cases a day."""
    _rest_is_strength(items)
    named = [(item.nodeid, mark.args) for item in items for mark in item.iter_markers("reference")]
    if not named:
        return
    try:
        known = set(importlib.import_module("loadbench.sources").SOURCES)
    except ModuleNotFoundError:
        known = set()
    unknown = [f"{node}: {args}" for node, args in named if len(args) != 1 or args[0] not in known]
    if unknown:
        raise pytest.UsageError("reference() wants one id of loadbench/sources.py:\n" + "\n".join(unknown))


def _rest_is_strength(items: list[pytest.Item]) -> None:
    """Mark the cases of a test beyond the number that everyday.toml gives."""
    listed = Path(__file__).with_name("everyday.toml")
    if not listed.exists():
        return
    most = tomllib.loads(listed.read_text(encoding="utf-8"))
    seen: Counter[tuple[str, str]] = Counter()
    for item in items:
        file, name = item.nodeid.split("::", 1)[0], getattr(item, "originalname", "")
        if name in most.get(file, {}):
            seen[file, name] += 1
            if seen[file, name] > most[file][name]:
                item.add_marker(pytest.mark.strength)


def pytest_collection_finish(session: pytest.Session) -> None:
    """Take what the libraries hold for good out of the collector's sight: it is called after many a test of the window.

    In a run of a few tests loading them all would cost more than it saves.
    """
    if len(session.items) < MANY:
        return
    for name in ("numba", "scipy.interpolate", "scipy.optimize", "scipy.stats", "formulas", "openpyxl", "xlsxwriter"):
        importlib.import_module(name)
    gc.collect()
    gc.freeze()


@pytest.fixture(autouse=True)
def _own_settings() -> Iterator[None]:
    """Give each test empty settings and data folders."""
    yield
    for entry in HOME.iterdir():
        # A font cache is kept: making it anew would cost each test some tenths of a second.
        if entry.name != "cache":
            shutil.rmtree(entry, ignore_errors=True)


@pytest.fixture(scope="session", autouse=True)
def _own_qt_settings() -> None:
    """Turn Qt's settings and data folders away from the user's own."""
    if importlib.util.find_spec("PySide6") is None:
        return
    from PySide6.QtCore import QSettings, QStandardPaths

    QStandardPaths.setTestModeEnabled(True)
    for scope in (QSettings.Scope.UserScope, QSettings.Scope.SystemScope):
        QSettings.setPath(QSettings.Format.IniFormat, scope, str(HOME / "qsettings" / scope.name))


@pytest.fixture(autouse=True)
def _nothing_left_behind(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Fail a test that leaves a thread, a running timer or a window behind."""
    threads = set(threading.enumerate())
    running = _watch_starts(monkeypatch)
    windows = set(map(id, _windows()))
    yield
    left = [f"thread {thread.name}" for thread in _threads_left(threads)]
    left += _qt_left(running, windows)
    if left:
        pytest.fail("left behind: " + "; ".join(left), pytrace=False)


def _threads_left(before: set[threading.Thread]) -> list[threading.Thread]:
    """Threads begun since that don't end within a moment of their own."""
    end = time.monotonic() + THREAD_SECONDS
    while left := [
        thread
        for thread in threading.enumerate()
        if thread not in before and type(thread).__name__ not in FOREIGN_THREADS
    ]:
        if time.monotonic() > end:
            return left
        time.sleep(0.01)
    return []


def _watch_starts(monkeypatch: pytest.MonkeyPatch) -> list[weakref.ref[Any]]:
    """Note each QTimer and QThread that is started; Qt keeps no list of them."""
    started: list[weakref.ref[Any]] = []
    if "PySide6.QtCore" not in sys.modules:
        return started
    from PySide6.QtCore import QThread, QTimer

    for kind in (QTimer, QThread):

        def start(self: Any, *args: Any, _start: Any = kind.start) -> None:
            started.append(weakref.ref(self))
            _start(self, *args)

        monkeypatch.setattr(kind, "start", start)
    return started


def _windows() -> list[Any]:
    """The widgets that stand alone, if there is a Qt application."""
    if "PySide6.QtWidgets" not in sys.modules:
        return []
    from PySide6.QtWidgets import QApplication

    if QApplication.instance() is None:
        return []
    alone = (widget for widget in QApplication.topLevelWidgets() if widget.parent() is None)
    return [widget for widget in alone if type(widget).__name__ not in FOREIGN_WINDOWS]


def _qt_left(started: list[weakref.ref[Any]], windows: set[int]) -> list[str]:
    """What Qt still holds once everything that waits to be deleted is."""
    if not started and not _windows():
        return []
    from PySide6.QtCore import QCoreApplication, QEvent

    def look() -> list[str]:
        QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
        named = [f"window {type(w).__name__} {w.objectName()!r}" for w in _windows() if id(w) not in windows]
        return named + [f"running {type(one).__name__}" for ref in started if _runs(one := ref())]

    if not look():
        return []
    # A ring of Python references keeps a dropped widget until the collector comes by.
    gc.collect()
    return look()


def _runs(thing: Any) -> bool:
    """Tell whether a timer or Qt thread is alive and going."""
    from PySide6.QtCore import QTimer
    from shiboken6 import isValid

    if thing is None or not isValid(thing):
        return False
    return bool(thing.isActive() if isinstance(thing, QTimer) else thing.isRunning())
