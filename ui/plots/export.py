"""The picture on the clipboard or in a file: PNG at 300 dpi, SVG, PDF, and the data behind as CSV."""

from __future__ import annotations

import csv
import io
from functools import partial
from pathlib import Path
from typing import Any, Protocol

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QGuiApplication, QImage, QPaintDevice, QPainter

from loadbench.analysis import Analysis
from loadbench.job.files import write_atomically
from loadbench.units import Kind, Style, display_unit, to_display
from ui.palette import LIGHT
from ui.plots.bench_picture import BenchPicture
from ui.plots.curves import curves_of
from ui.plots.ink import Ink, screen_ink
from ui.plots.paper import DPI, paper_bytes, paper_image

PRINT_WIDTH, PRINT_HEIGHT = 680, 510
"""180 mm by 135 mm at 96 dpi: the width of the type area of an A4 or Letter page."""

SIZE = QSize(PRINT_WIDTH, PRINT_HEIGHT)


class HeightPicture(Protocol):
    """A drawing and a plot on one height scale: the bench's, or another page's."""

    @property
    def view(self) -> Any:
        """The two views."""
        ...

    @property
    def items(self) -> Any:
        """What is drawn, its read-out's cross among it."""
        ...

    def restyle(self, ink: Ink) -> None:
        """Draw everything with this ink."""
        ...


class PrintSize:
    """Gives the view its print size and paper's colours, and its own back."""

    def __init__(self, picture: HeightPicture, scale: float) -> None:
        self._picture, self._scale = picture, scale
        self._size = QSize(picture.view.size())

    def __enter__(self) -> None:
        self._set(QSize(PRINT_WIDTH, PRINT_HEIGHT), Ink(LIGHT, self._scale), seen=False)

    def __exit__(self, *_: object) -> None:
        self._set(self._size, screen_ink(), seen=True)

    def _set(self, size: QSize, ink: Ink, *, seen: bool) -> None:
        picture = self._picture
        picture.items.cross.setVisible(seen)
        picture.view.resize(size)
        picture.restyle(ink)
        picture.view.ci.layout.activate()
        QGuiApplication.sendPostedEvents()


def _paint(picture: HeightPicture, device: QPaintDevice, scale: float) -> None:
    with PrintSize(picture, scale):
        painter = QPainter(device)
        picture.view.render(painter, QRectF(0, 0, PRINT_WIDTH * scale, PRINT_HEIGHT * scale))
        painter.end()


def image_of(picture: HeightPicture, dpi: int = DPI) -> QImage:
    """The picture on paper's colours, 180 mm wide, at a resolution."""
    return paper_image(SIZE, partial(_paint, picture), dpi)


def copy_picture(picture: HeightPicture) -> None:
    """Put the picture on the clipboard."""
    QGuiApplication.clipboard().setImage(image_of(picture))


def bytes_of(picture: HeightPicture, ending: str, title: str) -> bytes:
    """The picture as the bytes of a file, by the ending of its name; ValueError for another than a picture's."""
    return paper_bytes(ending, SIZE, partial(_paint, picture), title, picture.view.accessibleDescription())


def csv_of(analysis: Analysis, style: Style) -> str:
    """The data behind the picture: every line's load line, and its readings.

    Args:
        analysis: of the job.
        style: the units of the columns; they stand in the header.

    Returns:
        CSV with a header row; `kind` is line or reading, U (k = 2) is empty where unknown.
    """
    length, force = display_unit(Kind.LENGTH, style), display_unit(Kind.FORCE, style)
    rate = display_unit(Kind.RATE, style).replace("/", "_per_")
    text = io.StringIO()
    out = csv.writer(text, lineterminator="\r\n")
    out.writerow(
        [
            "line",
            "kind",
            "part",
            f"height_{length}",
            f"lift_{length}",
            f"load_{force}",
            f"load_U_{force}",
            f"rate_{rate}",
        ]
    )
    for line in analysis.lines:
        curves = curves_of(line)
        if curves is None:
            continue
        closed = line.value("installed_height")
        for place, height in enumerate(curves.heights):
            band = None if curves.band is None else float(curves.band[place])
            values = (float(height), closed, float(curves.loads[place]), band, float(curves.rates[place]))
            out.writerow([line.name, "line", "", *_row(values, style)])
        read = [("", curves.heights_read, curves.loads_read)]
        read += [(plain_name(member.name), member.heights_read, member.loads_read) for member in curves.members]
        for part, heights, loads in read:
            for height, load in zip(heights, loads, strict=True):
                out.writerow(
                    [line.name, "reading", part, *_row((float(height), closed, float(load), None, None), style)]
                )
    return text.getvalue()


def plain_name(name: str) -> str:
    """A name that no spreadsheet takes for a formula."""
    return f"'{name}" if name[:1] in "=+-@\t\r" else name


def _row(values: tuple[float, float | None, float, float | None, float | None], style: Style) -> list[str]:
    height, closed, load, band, rate = values
    lift = None if closed is None else closed - height
    cells = ((height, Kind.LENGTH), (lift, Kind.LENGTH), (load, Kind.FORCE), (band, Kind.FORCE), (rate, Kind.RATE))
    return ["" if value is None else f"{to_display(value, kind, style):.9g}" for value, kind in cells]


def save_picture(picture: BenchPicture, path: Path, title: str) -> None:
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
        data = csv_of(picture.session.state.analysis, picture.session.style).encode("utf-8-sig")
    else:
        data = bytes_of(picture, ending, title)
    write_atomically(path, data)
