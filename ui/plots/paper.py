"""A picture on paper's colours as an image, as PNG at 300 dpi, as SVG and as PDF, whatever paints it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QMarginsF, QRectF, QSize, QSizeF
from PySide6.QtGui import QImage, QPageSize, QPaintDevice, QPdfWriter
from PySide6.QtSvg import QSvgGenerator
from PySide6.QtWidgets import QFileDialog, QWidget

from ui.palette import LIGHT

DPI, SCREEN_DPI = 300, 96
MM = 25.4
FORMATS = (".png", ".svg", ".pdf", ".csv")

Paint = Callable[[QPaintDevice, float], None]
"""Paints the whole picture on a device, each screen pixel so many of the device's."""


def paper_image(size: QSize, paint: Paint, dpi: int = DPI) -> QImage:
    """The picture as an image.

    Args:
        size: at 96 dpi.
        paint: the picture.
        dpi: pixels to the inch.

    Returns:
        The image; it knows its own resolution.
    """
    scale = dpi / SCREEN_DPI
    image = QImage(round(size.width() * scale), round(size.height() * scale), QImage.Format.Format_RGB32)
    image.fill(LIGHT.colour("panel"))
    paint(image, scale)
    image.setDotsPerMeterX(round(dpi / MM * 1000))
    image.setDotsPerMeterY(round(dpi / MM * 1000))
    return image


def _buffer() -> tuple[QByteArray, QBuffer]:
    data = QByteArray()
    buffer = QBuffer(data)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    return data, buffer


def paper_png(size: QSize, paint: Paint) -> bytes:
    """The picture as PNG at 300 dpi."""
    data, buffer = _buffer()
    paper_image(size, paint).save(buffer, "PNG")  # type: ignore[call-overload]
    return bytes(data.data())


def paper_svg(size: QSize, paint: Paint, title: str, description: str) -> bytes:
    """The picture as SVG, with its texts as text."""
    data, buffer = _buffer()
    maker = QSvgGenerator()
    maker.setOutputDevice(buffer)
    maker.setResolution(SCREEN_DPI)
    maker.setSize(size)
    maker.setViewBox(QRectF(0, 0, size.width(), size.height()))
    maker.setTitle(title)
    maker.setDescription(description)
    paint(maker, 1.0)
    return bytes(data.data())


def paper_pdf(size: QSize, paint: Paint, title: str) -> bytes:
    """The picture as PDF, a page of its own size."""
    data, buffer = _buffer()
    writer = QPdfWriter(buffer)
    writer.setTitle(title)
    writer.setCreator("LoadBench")
    writer.setResolution(SCREEN_DPI)
    millimetres = QSizeF(size.width() * MM / SCREEN_DPI, size.height() * MM / SCREEN_DPI)
    writer.setPageSize(QPageSize(millimetres, QPageSize.Unit.Millimeter, "", QPageSize.SizeMatchPolicy.ExactMatch))
    writer.setPageMargins(QMarginsF(0, 0, 0, 0))
    paint(writer, 1.0)
    return bytes(data.data())


def paper_bytes(ending: str, size: QSize, paint: Paint, title: str, description: str) -> bytes:
    """A picture as the bytes of a file.

    Args:
        ending: of the file's name: ".png", ".svg" or ".pdf".
        size: at 96 dpi.
        paint: draws it.
        title: of the file's own description.
        description: what is to be seen.

    Returns:
        All of it.

    Raises:
        ValueError: another ending.
    """
    if ending == ".png":
        return paper_png(size, paint)
    if ending == ".svg":
        return paper_svg(size, paint, title, description)
    if ending == ".pdf":
        return paper_pdf(size, paint, title)
    raise ValueError(ending)


def asked_path(parent: QWidget, title: str, kinds: str) -> Path | None:
    """Ask where to save a picture.

    Args:
        parent: of the dialog.
        title: of the dialog.
        kinds: the file kinds, as Qt takes them, each with its ending of FORMATS.

    Returns:
        The path with an ending of FORMATS, that of the kind chosen where none was typed; None where nothing was chosen.
    """
    chosen, kind = QFileDialog.getSaveFileName(parent, title, "", kinds)
    if not chosen:
        return None
    path = Path(chosen)
    if path.suffix.lower() in FORMATS:
        return path
    return path.with_name(path.name + next((each for each in FORMATS if f"*{each}" in kind), FORMATS[0]))
