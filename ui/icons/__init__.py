"""Our own icons: SVGs of one line weight, drawn in the colours on show, sharp at every scale."""

from __future__ import annotations

from functools import cache, lru_cache
from importlib import resources
from typing import TYPE_CHECKING

from PySide6.QtCore import QByteArray, QRectF, Qt
from PySide6.QtGui import QIcon, QPainter, QPixmap
from PySide6.QtSvg import QSvgRenderer

from ui.palette import colours

if TYPE_CHECKING:
    from loadbench.findings import Level

RATIOS = (1, 2, 3)
SIZES = (16, 24, 32)
APP_SIZES = (16, 32, 64, 256)


@cache
def _source(name: str) -> str:
    return resources.files(__package__).joinpath(f"{name}.svg").read_text(encoding="utf-8")


@lru_cache(maxsize=512)
def _drawn(name: str, colour: str, accent: str, size: int, ratio: float) -> QPixmap:
    text = (
        _source(name).replace("currentColor", colour).replace('"ink"', f'"{colour}"').replace('"accent"', f'"{accent}"')
    )
    pixmap = QPixmap(round(size * ratio), round(size * ratio))
    pixmap.fill(Qt.GlobalColor.transparent)
    painter = QPainter(pixmap)
    QSvgRenderer(QByteArray(text.encode())).render(painter, QRectF(0, 0, pixmap.width(), pixmap.height()))
    painter.end()
    pixmap.setDevicePixelRatio(ratio)
    return pixmap


def pixmap(name: str, size: int = 16, role: str = "ink", ratio: float = 2.0) -> QPixmap:
    """One icon as a picture.

    Args:
        name: the file's name without its ending.
        size: width and height, in device-independent pixels.
        role: the colour, by its role in the palette.
        ratio: device pixels for each of those.
    """
    return _drawn(name, getattr(colours(), role), colours().accent, size, ratio)


def icon(name: str, role: str = "ink") -> QIcon:
    """One icon in the colours on show; ask again when the theme changes."""
    made = QIcon()
    for size in APP_SIZES if name == "app" else SIZES:
        for ratio in RATIOS:
            made.addPixmap(pixmap(name, size, role, ratio))
    return made


def level_pixmap(level: Level, size: int = 16, ratio: float = 2.0) -> QPixmap:
    """A level's sign in its colour; the word belongs beside it."""
    return pixmap(str(level), size, str(level), ratio)


def level_icon(level: Level, size: int = 16) -> QIcon:
    """A level's sign as an icon, at least for `size`."""
    made = QIcon()
    for ratio in RATIOS:
        made.addPixmap(level_pixmap(level, size, ratio))
    return made
