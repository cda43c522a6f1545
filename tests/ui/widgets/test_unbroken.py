"""No line of a text that is shown ends within a value and its unit, or at the slash of a unit."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtGui import QTextLayout

from loadbench.units import Kind, Style, parse, tell
from ui.widgets.unbroken import as_typed, unbroken
from ui.widgets.wrapped_label import WrappedLabel

if TYPE_CHECKING:
    from PySide6.QtWidgets import QLabel
    from pytestqt.qtbot import QtBot


def lines_of(label: QLabel, width: float) -> list[str]:
    """The lines that a label's text takes at a width, as the same text engine breaks them."""
    text = label.text()
    layout = QTextLayout(text, label.font())
    layout.beginLayout()
    while (line := layout.createLine()).isValid():
        line.setLineWidth(width)
    layout.endLayout()
    lines = [layout.lineAt(number) for number in range(layout.lineCount())]
    return [text[line.textStart() : line.textStart() + line.textLength()] for line in lines]


@pytest.mark.parametrize("style", list(Style))
def test_a_value_and_its_unit_stay_on_one_line_at_any_width(qtbot: QtBot, style: Style) -> None:
    rate = str(tell(73553.0, Kind.RATE, style, 950.0))
    label = WrappedLabel(unbroken(f"The measured rate, {rate}, and the stated rate, {rate}, are 0.0 % apart."))
    qtbot.addWidget(label)
    whole = unbroken(rate)
    least = label.fontMetrics().horizontalAdvance(f"{whole},") + 2
    for width in range(least, 4 * least, 3):
        assert sum(line.count(whole) for line in lines_of(label, width)) == 2, width


def test_the_slash_of_a_unit_takes_no_break_and_other_slashes_are_left() -> None:
    assert unbroken("420 lbf/in, 7.5 N/mm, 0.2 N\u00b7s/m") == "420 lbf/\u2060in, 7.5 N/\u2060mm, 0.2 N\u00b7s/\u2060m"
    for text in ("3/8-24", "and/or", "jobs/inner.json", "7/16-20"):
        assert unbroken(text) == text


def test_what_is_copied_can_be_typed_again() -> None:
    rate = str(tell(73553.0, Kind.RATE, Style.INCH_POUND))
    assert as_typed(unbroken(rate)) == rate
    assert parse(as_typed(unbroken(rate)), Kind.RATE, None).value == pytest.approx(73553.0, rel=1e-3)
