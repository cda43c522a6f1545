"""A view of the Spring page with a sample job on the table."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from loadbench.job.files import open_job
from ui.session import Session
from ui.spring.chart_picture import ChartPicture

if TYPE_CHECKING:
    from collections.abc import Callable

    from pytestqt.qtbot import QtBot

SAMPLES = Path(__file__).parents[3] / "samples"
View = TypeVar("View", bound=ChartPicture)


def opened(qtbot: QtBot, sample: str, kind: Callable[[Session], View]) -> View:
    """A view that shows a sample's first line."""
    session = Session(open_job(SAMPLES / f"{sample}.loadbench.json"))
    made = kind(session)
    qtbot.addWidget(made)
    made.resize(620, 380)
    made.show()
    qtbot.waitExposed(made)
    made.show_state(session.state, session.line, None)
    return made
