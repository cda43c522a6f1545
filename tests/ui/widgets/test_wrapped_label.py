"""A wrapped label keeps its measures only while they are true."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QFontMetricsF
from PySide6.QtWidgets import QLabel

from ui.widgets.wrapped_label import DIGITS, WrappedLabel

if TYPE_CHECKING:
    import pytest
    from pytestqt.qtbot import QtBot

TEXTS = (
    "Coils clear by 0.058 in at full lift; this shop asks for 0.060.",
    "Coils clear by 0.111 in at full lift; this shop asks for 0.999.",
    "Coils clear by 10.058 in at full lift; this shop asks for 0.060 in and not for a hair less than that.",
    "Short.",
    "1111111 1111111 1111111 1111111 1111111 1111111",
    "4040404 4040404 4040404 4040404 4040404 4040404",
)


def plain(qtbot: QtBot, like: WrappedLabel) -> QLabel:
    """A stock label with the same text and font: it keeps nothing."""
    label = QLabel(like.text())
    qtbot.addWidget(label)
    label.setFont(like.font())
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setWordWrap(True)
    label.setMinimumWidth(40)
    return label


def agree(qtbot: QtBot, label: WrappedLabel) -> None:
    stock = plain(qtbot, label)
    for _ in range(2):  # the second time from what is kept
        assert [label.heightForWidth(width) for width in (90, 140, 270)] == [
            stock.heightForWidth(width) for width in (90, 140, 270)
        ]
        assert label.sizeHint() == stock.sizeHint()
        assert label.minimumSizeHint() == stock.minimumSizeHint()


def test_every_text_measures_as_in_a_stock_label(qtbot: QtBot) -> None:
    label = WrappedLabel()
    qtbot.addWidget(label)
    for text in (*TEXTS, *reversed(TEXTS)):
        label.tell(text)
        agree(qtbot, label)


def test_another_font_is_measured_anew(qtbot: QtBot) -> None:
    label = WrappedLabel(TEXTS[0])
    qtbot.addWidget(label)
    agree(qtbot, label)
    small = label.heightForWidth(140)
    font = label.font()
    font.setPointSizeF(1.6 * font.pointSizeF())
    label.setFont(font)
    agree(qtbot, label)
    assert label.heightForWidth(140) > small


def test_a_font_with_digits_of_several_widths_is_measured_at_every_text(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    stock = QFontMetricsF.horizontalAdvance

    def uneven(self: QFontMetricsF, text: str) -> float:
        return stock(self, text) - (text == DIGITS[1])

    monkeypatch.setattr(QFontMetricsF, "horizontalAdvance", uneven)
    label = WrappedLabel(TEXTS[4])
    qtbot.addWidget(label)
    label.heightForWidth(140)
    label.tell(TEXTS[5])
    asked: list[int] = []
    monkeypatch.setattr(QLabel, "heightForWidth", lambda _self, width: asked.append(width) or 7)
    assert label.heightForWidth(140) == 7
    assert asked == [140]
