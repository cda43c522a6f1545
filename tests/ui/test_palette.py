"""Colours: contrast in both themes, and one place for all of them."""

from __future__ import annotations

import re
from itertools import combinations
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QSlider

import ui
from ui.palette import DARK, LIGHT, Colours, contrast, qt_palette
from ui.stylesheet import stylesheet

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

THEMES = pytest.mark.parametrize("theme", [LIGHT, DARK], ids=["light", "dark"])
LITERAL = re.compile(r"""["'(\s]#[0-9a-fA-F]{3}(?:[0-9a-fA-F]{3})?\b""")


def test_contrast_is_that_of_the_standard() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.005)  # the known first grey that fails


@THEMES
@pytest.mark.parametrize("role", ["ink", "quiet", "accent", "clear", "watch", "stop", "unknown"])
def test_d17_text_reads_on_every_ground(theme: Colours, role: str) -> None:
    for ground in (theme.page, theme.panel, theme.hover):
        assert contrast(getattr(theme, role), ground) >= 4.5


@THEMES
def test_d17_lines_and_the_focus_mark_are_seen(theme: Colours) -> None:
    for ground in (theme.page, theme.panel):
        assert contrast(theme.lines, ground) >= 3
        assert contrast(theme.accent, ground) >= 3
    assert contrast(theme.on_accent, theme.accent) >= 4.5


@THEMES
def test_d17_disabled_text_reads(theme: Colours) -> None:
    palette = qt_palette(theme)
    text = palette.color(QPalette.ColorGroup.Disabled, QPalette.ColorRole.Text).name()
    assert contrast(text, palette.color(QPalette.ColorRole.Base).name()) >= 4.5


@THEMES
def test_series_differ_from_each_other_and_stand_out(theme: Colours) -> None:
    assert all(contrast(colour, theme.panel) >= 3 for colour in theme.series)
    assert all(one != other for one, other in combinations((theme.accent, *theme.series), 2))


def test_colours_stand_in_the_palette_alone() -> None:
    assert LITERAL.search('pen("#1f5f8b")')
    assert LITERAL.search("color: #fff;")
    folder = Path(ui.__file__).parent
    files = [file for file in folder.rglob("*") if file.suffix in {".py", ".svg"} and file.name != "palette.py"]
    found = {file.name: hit.group() for file in files if (hit := LITERAL.search(file.read_text(encoding="utf-8")))}
    assert found == {}


@THEMES
def test_a_sliders_handle_and_groove_are_seen(theme: Colours) -> None:
    sheet = stylesheet(theme)
    for name in ("QSlider::handle", "QSlider::groove:horizontal"):
        colour = sheet.split(f"\n{name} {{")[1].split("}")[0].split("background: ")[1].split(";")[0]
        for ground in (theme.page, theme.panel):
            assert contrast(colour, ground) >= 3


@THEMES
def test_a_slider_is_drawn_in_those_colours(qtbot: QtBot, theme: Colours) -> None:
    slider = QSlider(Qt.Orientation.Horizontal)
    qtbot.addWidget(slider)
    slider.setStyleSheet(f"QSlider {{ background: {theme.page}; }}" + stylesheet(theme))
    slider.resize(200, 28)
    slider.show()
    drawn = slider.grab().toImage()
    row = [drawn.pixelColor(x, drawn.height() // 2).name() for x in range(drawn.width())]
    assert theme.accent in row
    assert row.count(theme.lines) > 100
