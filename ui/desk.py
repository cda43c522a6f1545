"""Work over 0.2 s, off the window's thread: progress, cancel, and the newest input wins."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from threading import Event
from typing import Any

from PySide6.QtCore import QObject, Signal

from loadbench.errors import Cancelled

Progress = Callable[[float], None]


class Desk(QObject):
    """One desk for each task. New work cancels its own old; answers to cancelled work are dropped.

    The function gets a plain progress(share), which raises Cancelled once its work is no longer wanted.
    """

    progress = Signal(float)
    done = Signal(object)
    failed = Signal(object)
    _said = Signal(Event, str, object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._pool: ThreadPoolExecutor | None = None  # no thread before the first work
        self._stop = Event()
        self._busy = False
        self._said.connect(self._hear)

    @property
    def busy(self) -> bool:
        """Whether an answer is awaited."""
        return self._busy

    def start(self, function: Callable[[Progress], Any]) -> None:
        """Begin a piece of work; what was under way is cancelled."""
        self.cancel()
        self._stop = Event()
        self._busy = True
        if self._pool is None:
            self._pool = ThreadPoolExecutor(1, thread_name_prefix="loadbench-desk")
        self._pool.submit(self._run, self._stop, function)

    def cancel(self) -> None:
        """Want no answer any more."""
        self._stop.set()
        self._busy = False

    def shutdown(self) -> None:
        """Cancel and wait for the thread to end; the next work has another."""
        self.cancel()
        pool, self._pool = self._pool, None
        if pool is not None:
            pool.shutdown(wait=True, cancel_futures=True)

    def _run(self, stop: Event, function: Callable[[Progress], Any]) -> None:
        """On the worker's thread."""

        def progress(share: float) -> None:
            if stop.is_set():
                raise Cancelled
            self._said.emit(stop, "progress", share)

        try:
            answer = function(progress)
        except Cancelled:
            return
        except Exception as error:  # noqa: BLE001 - told to the user by whoever listens
            self._said.emit(stop, "failed", error)
        else:
            self._said.emit(stop, "done", answer)

    def _hear(self, stop: Event, kind: str, value: object) -> None:
        """On the window's thread. An answer already queued when cancel came is dropped here."""
        if stop.is_set():
            return
        if kind != "progress":
            self._busy = False
        {"progress": self.progress, "done": self.done, "failed": self.failed}[kind].emit(value)
