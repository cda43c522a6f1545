"""The picture with its key on the clipboard or in a file: PNG at 300 dpi, SVG, PDF, and the plan behind it as CSV."""

from __future__ import annotations

import csv
import io
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QGuiApplication, QImage, QPainter

from loadbench.job.files import write_atomically
from ui.fitup.plan_table import valve_lines
from ui.palette import LIGHT
from ui.plots.ink import Ink, screen_ink
from ui.plots.paper import DPI, paper_bytes, paper_image

if TYPE_CHECKING:
    from pathlib import Path

    from PySide6.QtGui import QPaintDevice

    from ui.fitup.fit_picture import FitPicture

WIDE, TALL, KEY = 680, 380, 22
"""180 mm by 100 mm at 96 dpi, with the key's line above the views."""

SIZE = QSize(WIDE, TALL)


def _paint(picture: FitPicture, device: QPaintDevice, scale: float) -> None:
    """Draw on paper's colours at print size; the view has its own size and colours back afterwards."""
    view, ink = picture.view, Ink(LIGHT, scale)
    size, chosen = QSize(view.size()), picture.current
    picture.go_to(None)
    view.resize(QSize(WIDE, TALL - KEY))
    picture.restyle(ink)
    view.ci.layout.activate()
    QGuiApplication.sendPostedEvents()
    painter = QPainter(device)
    painter.save()
    painter.scale(scale, scale)
    picture.key.draw(painter, Ink(LIGHT), WIDE, KEY)
    painter.restore()
    view.render(painter, QRectF(0, KEY * scale, WIDE * scale, (TALL - KEY) * scale))
    painter.end()
    view.resize(size)
    picture.restyle(screen_ink())
    picture.go_to(chosen)
    view.ci.layout.activate()
    QGuiApplication.sendPostedEvents()


def image_of(picture: FitPicture, dpi: int = DPI) -> QImage:
    """The picture on paper's colours, 180 mm wide, at a resolution."""
    return paper_image(SIZE, partial(_paint, picture), dpi)


def _csv(picture: FitPicture) -> bytes:
    text = io.StringIO()
    csv.writer(text, lineterminator="\r\n").writerows(valve_lines(picture.rows, picture.session.style))
    return text.getvalue().encode("utf-8-sig")


def save_picture(picture: FitPicture, path: Path, title: str) -> None:
    """Write the picture, or the plan behind it, in the format of the file's name.

    Args:
        picture: what to draw.
        path: where; its ending is one of FORMATS.
        title: of the file's own description.

    Raises:
        SaveError: it could not be written; what stood there is untouched.
        ValueError: another ending.
    """
    ending = path.suffix.lower()
    if ending == ".csv":
        data = _csv(picture)
    else:
        data = paper_bytes(ending, SIZE, partial(_paint, picture), title, picture.view.accessibleDescription())
    write_atomically(path, data)
