"""A picture of charts with its notes on the clipboard or in a file: PNG, SVG, PDF; the data behind as CSV."""

from __future__ import annotations

import csv
import io
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QGuiApplication, QImage, QPainter

from loadbench.job.files import write_atomically
from ui.palette import LIGHT
from ui.plots.ink import Ink, face, screen_ink
from ui.plots.paper import DPI, paper_bytes, paper_image

if TYPE_CHECKING:
    from pathlib import Path

    from PySide6.QtGui import QPaintDevice

    from ui.spring.chart_picture import ChartPicture

WIDE, TALL, NOTES = 680, 460, 50
"""180 mm by 122 mm at 96 dpi, with the lines of the notes beneath the charts."""

SIZE = QSize(WIDE, TALL)
WRAPPED = Qt.TextFlag.TextWordWrap


def _paint(picture: ChartPicture, device: QPaintDevice, scale: float) -> None:
    """Draw on paper's colours at print size; the view has its own size and colours back afterwards."""
    view, size = picture.scale, QSize(picture.scale.size())
    view.point_out("", None)
    _set(picture, QSize(WIDE, TALL - NOTES), Ink(LIGHT, scale))
    painter = QPainter(device)
    view.render(painter, QRectF(0, 0, WIDE * scale, (TALL - NOTES) * scale))
    painter.scale(scale, scale)
    painter.setFont(face(0.82).font)
    painter.setPen(LIGHT.colour("quiet"))
    painter.drawText(QRectF(8, TALL - NOTES, WIDE - 16, NOTES), WRAPPED, " ".join(picture.told.notes))
    painter.end()
    _set(picture, size, screen_ink())
    view.point_out(picture.key, picture.across)


def _set(picture: ChartPicture, size: QSize, ink: Ink) -> None:
    picture.scale.resize(size)
    picture.restyle(ink)
    picture.scale.ci.layout.activate()
    QGuiApplication.sendPostedEvents()


def image_of(picture: ChartPicture, dpi: int = DPI) -> QImage:
    """The picture on paper's colours, 180 mm wide, at a resolution."""
    return paper_image(SIZE, partial(_paint, picture), dpi)


def copy_picture(picture: ChartPicture) -> None:
    """Put the picture on the clipboard."""
    QGuiApplication.clipboard().setImage(image_of(picture))


def csv_of(picture: ChartPicture) -> bytes:
    """The data behind the picture, in the units on show; they stand in the header."""
    text = io.StringIO()
    csv.writer(text, lineterminator="\r\n").writerows([_plain(cell) for cell in row] for row in picture.rows())
    return text.getvalue().encode("utf-8-sig")


def _plain(cell: str) -> str:
    """A text that no spreadsheet takes for a formula; a negative number is none."""
    try:
        float(cell)
    except ValueError:
        return f"'{cell}" if cell[:1] in {"=", "+", "-", "@", "\t", "\r"} else cell
    return cell


def save_picture(picture: ChartPicture, path: Path, title: str) -> None:
    """Write the picture, or the data behind it, in the format of the file's name.

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
        data = csv_of(picture)
    else:
        data = paper_bytes(ending, SIZE, partial(_paint, picture), title, picture.scale.accessibleDescription())
    write_atomically(path, data)
