"""Pictures of every page and view: python tests/screens.py OUTDIR [PAGE]; the README's own: ... screens.py readme."""

from __future__ import annotations

import os
import shutil
import sys
import tempfile
import time
from collections.abc import Iterator
from itertools import product
from pathlib import Path
from typing import Any

README_PICTURE = Path(__file__).parent.parent / "samples" / "pictures" / "bench.png"
SIZES = ((1280, 800), (1920, 1080))
WAIT_S = 60.0
SCREEN = '{"screens":[{"name":"s","x":0,"y":0,"width":1920,"height":1080,"logicalDpi":96,"dpr":1}]}'


def main(folder: Path, only: str | None = None) -> None:
    """Write one PNG for each page, size, theme and unit style."""
    from loadbench.units import Style
    from ui.app import demo_job, make_application
    from ui.session import Session
    from ui.theme import Choice, theme
    from ui.window import MainWindow

    application = make_application()
    job = demo_job()
    if job is None:
        raise SystemExit("there is no demo job")
    folder.mkdir(parents=True, exist_ok=True)
    window = MainWindow(Session(job))
    window.documents.put_untitled(job)
    window.show()
    for kind, choice in product(window.shell.kinds, (Choice.LIGHT, Choice.DARK)):
        if only not in (None, kind.name):
            continue
        theme().choose(choice)
        window.show_page(kind.name)
        for (width, height), style in product(SIZES, Style):
            window.session.set_style(style)
            window.resize(width, height)
            for view in views_of(window.shell.page):
                _settle(window)
                name = "-".join(filter(None, (kind.name, view, choice, style, f"{width}x{height}")))
                window.grab().save(str(folder / f"{name}.png"))
    window.close()
    application.processEvents()


def views_of(page: Any) -> Iterator[str]:
    """Every view of a page in its turn, by its key; one nameless one where the page has no words for them."""
    words = getattr(page, "words", None)
    for key in ("",) if words is None else tuple(words.buttons):
        if key:
            words.choose(key)
        yield key


def _settle(window: Any) -> None:
    """What is worked out beside the window is there, and axis texts settle after the layout."""
    from PySide6.QtWidgets import QApplication

    until = time.monotonic() + WAIT_S
    while at_work(window):
        if time.monotonic() > until:
            raise SystemExit(f"still at work after {WAIT_S} s: a picture of it would be one of half the answer")
        QApplication.processEvents()
        time.sleep(0.01)
    for _ in range(3):
        QApplication.processEvents()
        window.grab()


def at_work(window: Any) -> bool:
    """Whether anything beside the window is under way or about to be: a desk, or a run that waits for its turn."""
    from PySide6.QtCore import QObject

    from ui.motion.background import BackgroundSweep

    if any(getattr(each, "busy", False) is True for each in window.findChildren(QObject)):
        return True
    return any(each._settled.isActive() for each in window.findChildren(BackgroundSweep))


if __name__ == "__main__":
    sys.path[0] = str(Path(__file__).parent.parent)  # not this folder: its ui holds tests
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    with tempfile.TemporaryDirectory() as home:
        os.environ["LOADBENCH_HOME"] = home
        screen = Path(home) / "screen.json"
        screen.write_text(SCREEN, encoding="utf-8")
        if os.environ["QT_QPA_PLATFORM"] == "offscreen":
            os.environ["QT_QPA_PLATFORM"] = f"offscreen:configfile={screen}"
        if sys.argv[1] == "readme":
            main(Path(home) / "pictures", "bench")
            README_PICTURE.parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(Path(home) / "pictures" / "bench-light-inch-pound-1280x800.png", README_PICTURE)
        else:
            main(Path(sys.argv[1]), sys.argv[2] if len(sys.argv) > 2 else None)
