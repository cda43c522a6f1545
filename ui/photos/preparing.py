"""A picture made small enough to be kept in a job, as a part of the document and back."""

from __future__ import annotations

import base64
import binascii
from typing import TYPE_CHECKING

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QSize, Qt
from PySide6.QtGui import QImage, QImageReader

from loadbench.errors import Place, Problem, UnreadableFileError
from loadbench.job.kept_parts import Photo

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

LONGEST_SIDE = 1600
MOST_BYTES = 1_500_000
MOST_FILE = 64_000_000
MOST_PIXELS = 120_000_000
"""More than any camera in a shop takes; a picture that claims more is refused unread."""

QUALITIES = (88, 78, 66, 52, 40)
MEDIA = {"jpeg": "image/jpeg", "png": "image/png"}


def prepared(path: Path, progress: Callable[[float], None]) -> Photo:
    """Read a picture and make it fit for a job.

    Args:
        path: a JPEG or PNG file.
        progress: told the share done; it may raise Cancelled.

    Returns:
        The photo, upright, at most LONGEST_SIDE pixels long and MOST_BYTES large; a PNG stays one where it fits.

    Raises:
        UnreadableFileError: it is missing, too large, or no picture of these kinds.
    """
    image, kind = _read(path)
    progress(0.5)
    if max(image.width(), image.height()) > LONGEST_SIDE:
        size = QSize(LONGEST_SIDE, LONGEST_SIDE)
        image = image.scaled(size, Qt.AspectRatioMode.KeepAspectRatio, Qt.TransformationMode.SmoothTransformation)
    progress(0.7)
    data, kind = _packed(image, kind)
    progress(1.0)
    return Photo(name=path.name, media=MEDIA[kind], data=base64.b64encode(data).decode("ascii"))


def _read(path: Path) -> tuple[QImage, str]:
    try:
        size = path.stat().st_size
    except OSError as error:
        raise _refused(path, f"The file cannot be read: {error.strerror or error}.") from error
    if path.is_dir():
        raise _refused(path, "This is a folder.")
    if size > MOST_FILE:
        raise _refused(path, f"The file has {size / 1e6:.0f} MB.", "a picture of at most 64 MB")
    reader = QImageReader(str(path))
    reader.setDecideFormatFromContent(True)
    reader.setAutoTransform(True)  # cameras write how they were held
    kind = bytes(reader.format().data()).decode("ascii", "replace").lower().replace("jpg", "jpeg")
    if kind not in MEDIA:
        raise _refused(path, "This is no JPEG or PNG picture.")
    whole = reader.size()
    if whole.width() * whole.height() > MOST_PIXELS:
        raise _refused(path, f"The picture has {whole.width()} by {whole.height()} pixels.", "a smaller picture")
    image = reader.read()
    if image.isNull():
        raise _refused(path, "The picture is damaged.")
    return image, kind


def _packed(image: QImage, kind: str) -> tuple[bytes, str]:
    """The picture as a file: as PNG where it was one and fits, else as a JPEG of the best quality that fits."""
    if kind == "png" and len(data := _written(image, "png", -1)) <= MOST_BYTES:
        return data, "png"
    flat = image.convertToFormat(QImage.Format.Format_RGB32)
    if image.hasAlphaChannel():
        flat.fill(Qt.GlobalColor.white)
        _paint_over(flat, image)
    data = b""
    for quality in QUALITIES:
        data = _written(flat, "jpeg", quality)
        if len(data) <= MOST_BYTES:
            return data, "jpeg"
    return _packed(flat.scaledToWidth(flat.width() // 2, Qt.TransformationMode.SmoothTransformation), "jpeg")


def _paint_over(ground: QImage, image: QImage) -> None:
    from PySide6.QtGui import QPainter

    painter = QPainter(ground)
    painter.drawImage(0, 0, image)
    painter.end()


def _written(image: QImage, kind: str, quality: int) -> bytes:
    store = QByteArray()
    buffer = QBuffer(store)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    image.save(buffer, kind.upper(), quality)  # type: ignore[call-overload]  # the stubs want bytes; PySide takes text
    buffer.close()
    return bytes(store.data())


def image_of(photo: Photo) -> QImage:
    """The picture of a photo; a null one where what the job holds is none."""
    try:
        data = base64.b64decode(photo.data or "", validate=True)
    except (binascii.Error, ValueError):
        return QImage()
    return QImage.fromData(QByteArray(data))


def _refused(path: Path, what: str, expected: str = "a JPEG or PNG picture") -> UnreadableFileError:
    return UnreadableFileError((Problem(what=what, expected=expected, place=Place(file=path.name)),))
