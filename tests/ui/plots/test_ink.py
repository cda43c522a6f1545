"""What the picture keeps between paintings is made anew when theme, print scale or font is another."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtGui import QFont, QFontMetricsF, QGuiApplication

from ui.palette import DARK, LIGHT
from ui.plots.ink import Face, Ink, em, face, font

if TYPE_CHECKING:
    from collections.abc import Iterator


@pytest.fixture
def larger(qapp: object) -> Iterator[QFont]:
    before = QFont(QGuiApplication.font())
    grown = QFont(before)
    grown.setPointSizeF(1.5 * before.pointSizeF())
    yield grown
    QGuiApplication.setFont(before)


def test_each_theme_and_print_scale_has_its_own_pens_and_fills(qapp: object) -> None:
    light, dark, paper = Ink(LIGHT), Ink(DARK), Ink(LIGHT, 3.0)
    for ink in (light, dark, paper, light):
        assert ink.pen("ink", 2.0).color().name() == ink.colours.ink
        assert ink.pen("ink", 2.0).widthF() == 2.0 * ink.scale
        assert ink.dashed("stop", (4.0, 2.0)).color().name() == ink.colours.stop
        assert ink.brush("accent").color().name() == ink.colours.accent
    assert light.tint("stop", 0.5).color() != dark.tint("stop", 0.5).color()


def test_a_pen_may_be_changed_by_whom_it_was_given(qapp: object) -> None:
    ink = Ink(LIGHT)
    for pen in (ink.pen("ink"), ink.dashed("ink", (4.0, 2.0)), ink.series(1, (4.0, 2.0))):
        pen.setWidthF(9.0)
        pen.setColor("red")
    assert ink.pen("ink") == Ink(LIGHT).pen("ink")
    assert ink.pen("ink").widthF() != 9.0
    assert ink.dashed("ink", (4.0, 2.0)).color().name() == LIGHT.ink


def test_another_window_font_is_measured_anew(larger: QFont) -> None:
    before, size, tall = face(0.9).width("152.6 lbf"), em(), face(0.9).tall
    QGuiApplication.setFont(larger)
    assert em() > size
    assert face(0.9).tall > tall
    assert face(0.9).width("152.6 lbf") > before
    assert face(0.9).width("152.6 lbf") == QFontMetricsF(font(0.9)).horizontalAdvance("152.6 lbf")


def test_no_more_widths_are_kept_than_agreed(qapp: object, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(Face, "MOST", 3)
    made = Face(font())
    widths = {text: made.width(text) for text in ("1", "22", "333", "4444")}
    assert all(made.width(text) == QFontMetricsF(font()).horizontalAdvance(text) == widths[text] for text in widths)
