"""A button of a dialog: named, tall enough for a finger, and never pressed by Enter in a field."""

from __future__ import annotations

from PySide6.QtWidgets import QPushButton


def dialog_button(name: str, text: str) -> QPushButton:
    """A button that Enter does not press from elsewhere.

    Args:
        name: the object's name.
        text: in the user's language.
    """
    button = QPushButton(text)
    button.setObjectName(name)
    button.setAutoDefault(False)
    button.setMinimumHeight(28)
    return button
