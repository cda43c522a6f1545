"""The coil's picture in a file: PNG at 300 dpi, SVG, PDF, and the load lines behind it as CSV."""

from __future__ import annotations

import csv
import io
from typing import TYPE_CHECKING

from loadbench.errors import SaveError
from loadbench.job.files import write_atomically
from loadbench.units import Kind, Style, display_unit, to_display
from ui.plots.export import bytes_of, plain_name
from ui.plots.paper import asked_path

if TYPE_CHECKING:
    from pathlib import Path

    from ui.spring.coil_view import CoilView
    from ui.spring.load_lines import LoadLines

LENGTH, FORCE = Kind.LENGTH, Kind.FORCE


def csv_of_lines(lines: LoadLines, style: Style) -> str:
    """The load lines behind the picture.

    Args:
        lines: of the coils and of all together.
        style: the units of the columns; they stand in the header.

    Returns:
        CSV with a header row; `kind` is line or landing, `coil` is empty for all together.
    """
    text = io.StringIO()
    out = csv.writer(text, lineterminator="\r\n")
    force = display_unit(FORCE, style)
    heads = [f"height_{display_unit(LENGTH, style)}", f"load_{force}", f"loading_{force}", f"unloading_{force}"]
    out.writerow(["coil", "kind", *heads])
    for each in lines.coils:
        for height, load in zip(each.heights, each.loads, strict=True):
            out.writerow([plain_name(each.name), "line", *_row((float(height), float(load), None, None), style)])
        for height, load in each.landings:
            out.writerow([plain_name(each.name), "landing", *_row((height, load, None, None), style)])
    if lines.whole is not None and (len(lines.coils) > 1 or lines.friction):
        for height, load in zip(lines.whole.heights, lines.whole.loads, strict=True):
            high, low = lines.band_at(float(height)) or (None, None)
            out.writerow(["", "line", *_row((float(height), float(load), high, low), style)])
    return text.getvalue()


def _row(values: tuple[float, float, float | None, float | None], style: Style) -> list[str]:
    kinds = (LENGTH, FORCE, FORCE, FORCE)
    return [
        "" if value is None else f"{to_display(value, kind, style):.9g}"
        for value, kind in zip(values, kinds, strict=True)
    ]


def ask_and_save(view: CoilView) -> None:
    """Ask where, and save the picture or the data behind it."""
    kinds = view.tr("PNG, 300 dpi (*.png);;SVG (*.svg);;PDF (*.pdf);;CSV, the data behind (*.csv)")
    path = asked_path(view, view.tr("Save picture"), kinds)
    if path is not None:
        save_coil_picture(view, path)


def save_coil_picture(view: CoilView, path: Path) -> None:
    """Save in the format of the file's name; a failure is told and leaves the old file.

    Raises:
        ValueError: another ending than those of a picture.
    """
    session, ending = view.session, path.suffix.lower()
    title = session.state.job.title
    if ending == ".csv":
        data = csv_of_lines(view.items.lines, session.style).encode("utf-8-sig")
    else:
        data = bytes_of(view, ending, title)
    try:
        write_atomically(path, data)
    except SaveError as error:
        session.failed.emit(str(error))
        return
    session.announce(view.tr("Picture saved as {name}.").format(name=path.name))
