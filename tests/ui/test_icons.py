"""Icons: sharp at every scale, in the colours on show, one line weight."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QSize
from PySide6.QtGui import QColor, QPixmap

import ui.icons
from loadbench.findings import Level
from ui.icons import icon, level_icon, level_pixmap, pixmap
from ui.palette import DARK, LIGHT
from ui.theme import Choice, theme

FILES = sorted(Path(ui.icons.__file__).parent.glob("*.svg"))


@pytest.fixture(autouse=True)
def _back_to_light() -> Iterator[None]:
    yield
    theme().choose(Choice.LIGHT)


def solid(picture: QPixmap) -> set[str]:
    image = picture.toImage()
    dots = (image.pixelColor(x, y) for x in range(image.width()) for y in range(image.height()))
    return {dot.name() for dot in dots if dot.alpha() == 255}


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_d52_every_icon_draws(file: Path) -> None:
    assert solid(pixmap(file.stem, 16))


def test_d52_twice_the_scale_is_twice_the_dots() -> None:
    assert icon("search").pixmap(QSize(16, 16), 2.0).width() == 32
    assert level_icon(Level.STOP).pixmap(QSize(16, 16), 2.0).width() == 32


@pytest.mark.parametrize("level", Level)
def test_d52_levels_follow_the_palette(level: Level) -> None:
    light = QColor(getattr(LIGHT, level)).name()
    dark = QColor(getattr(DARK, level)).name()
    assert light in solid(level_pixmap(level, 24))
    theme().choose(Choice.DARK)
    assert dark in solid(level_pixmap(level, 24))


def test_d18_levels_differ_in_shape() -> None:
    shapes = []
    for level in Level:
        image = level_pixmap(level, 16).toImage()
        shapes.append(tuple(image.pixelColor(x, y).alpha() > 128 for x in range(32) for y in range(32)))
    assert len(set(shapes)) == len(Level)
    grid = range(len(shapes))
    assert all(sum(a != b for a, b in zip(shapes[i], shapes[j], strict=True)) > 60 for i in grid for j in grid if i < j)
