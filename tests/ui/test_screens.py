"""The pictures wait until nothing is under way: a picture of half an answer would tell wrong counts."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ui.motion.background import BackgroundSweep

if TYPE_CHECKING:
    import pytest

    from ui.window import MainWindow


def test_a_sweep_that_waits_or_runs_counts_as_work(window: MainWindow, monkeypatch: pytest.MonkeyPatch) -> None:
    from tests.screens import at_work

    assert not at_work(window)
    (sweep,) = window.findChildren(BackgroundSweep)
    assert window.shell.kind.name == "bench"  # the sweep stands on another page
    sweep._settled.start(60_000)
    assert at_work(window)
    sweep._settled.stop()
    assert not at_work(window)
    monkeypatch.setattr(sweep.desk, "_busy", True)
    assert at_work(window)
