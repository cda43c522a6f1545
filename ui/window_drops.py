"""What a drop on the window holds for us."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from PySide6.QtCore import QMimeData


def job_in(data: QMimeData) -> Path | None:
    """The first file on this machine in what is dragged; None where there is none."""
    local = (Path(url.toLocalFile()) for url in data.urls() if url.isLocalFile())
    return next((path for path in local if path.suffix.lower() == ".json"), None)
