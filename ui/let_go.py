"""Deletes a widget so that nothing of it is left in between: Python lets go only after Qt has.

The Python halves of a dropped widget and of what is in it hold each other alone. Where Qt deletes it, the binding frees
them one by one, some while it still works on them: the program would crash.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from shiboken6 import isValid

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

_GOING: list[list[QObject]] = []
"""Those that Qt may not have deleted yet, each with all that is in it."""


def let_go(widget: QWidget) -> None:
    """Have a widget deleted once what is under way is done.

    Args:
        widget: of which nobody wants anything any more.
    """
    _GOING[:] = [held for held in _GOING if isValid(held[0])]
    _GOING.append([widget, *widget.findChildren(QObject)])
    widget.deleteLater()
