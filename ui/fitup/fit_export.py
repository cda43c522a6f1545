"""The picture with its key on the clipboard or in a file: PNG at 300 dpi, SVG, PDF, and the plan behind it as CSV."""

from __future__ import annotations

import csv
import io
from typing import TYPE_CHECKING

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QMarginsF, QRectF, QSize, QSizeF
from PySide6.QtGui import QGuiApplication, QImage, QPageSize, QPainter, QPdfWriter
from PySide6.QtSvg import QSvgGenerator

from loadbench.job.files import write_atomically
from ui.fitup.plan_table import valve_lines
from ui.palette import LIGHT
from ui.plots.ink import Ink, screen_ink

if TYPE_CHECKING:
    from pathlib import Path

    from PySide6.QtGui import QPaintDevice

    from ui.fitup.fit_picture import FitPicture

WIDE, TALL, KEY = 680, 380, 22
"""180 mm by 100 mm at 96 dpi, with the key's line above the views."""

DPI, SCREEN_DPI = 300, 96
MM = 25.4
FORMATS = (".png", ".svg", ".pdf", ".csv")


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
    """The picture on paper's colours, 180 mm wide.

    Args:
        picture: what to draw.
        dpi: pixels to the inch.

    Returns:
        The image; it knows its own resolution.
    """
    scale = dpi / SCREEN_DPI
    image = QImage(round(WIDE * scale), round(TALL * scale), QImage.Format.Format_RGB32)
    image.fill(LIGHT.colour("panel"))
    _paint(picture, image, scale)
    for place in (image.setDotsPerMeterX, image.setDotsPerMeterY):
        place(round(dpi / MM * 1000))
    return image


def _png(picture: FitPicture, buffer: QBuffer, _title: str) -> None:
    image_of(picture).save(buffer, "PNG")  # type: ignore[call-overload]


def _svg(picture: FitPicture, buffer: QBuffer, title: str) -> None:
    maker = QSvgGenerator()
    maker.setOutputDevice(buffer)
    maker.setResolution(SCREEN_DPI)
    maker.setSize(QSize(WIDE, TALL))
    maker.setViewBox(QRectF(0, 0, WIDE, TALL))
    maker.setTitle(title)
    maker.setDescription(picture.view.accessibleDescription())
    _paint(picture, maker, 1.0)


def _pdf(picture: FitPicture, buffer: QBuffer, title: str) -> None:
    writer = QPdfWriter(buffer)
    writer.setTitle(title)
    writer.setCreator("LoadBench")
    writer.setResolution(SCREEN_DPI)
    millimetres = QSizeF(WIDE * MM / SCREEN_DPI, TALL * MM / SCREEN_DPI)
    writer.setPageSize(QPageSize(millimetres, QPageSize.Unit.Millimeter, "", QPageSize.SizeMatchPolicy.ExactMatch))
    writer.setPageMargins(QMarginsF(0, 0, 0, 0))
    _paint(picture, writer, 1.0)


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
        write_atomically(path, _csv(picture))
        return
    makers = {".png": _png, ".svg": _svg, ".pdf": _pdf}
    if ending not in makers:
        raise ValueError(ending)
    data = QByteArray()
    buffer = QBuffer(data)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    makers[ending](picture, buffer, title)
    write_atomically(path, bytes(data.data()))
