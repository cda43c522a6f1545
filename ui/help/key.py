"""F1 in the dialogs too: the keys of a window's menu do not reach into them."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtGui import QKeySequence, QShortcut

from ui.commands import shortcuts

if TYPE_CHECKING:
    from PySide6.QtWidgets import QDialog

TOPICS_OF = {
    "rule_book": "rules",
    "variants": "variants",
    "inverse": "inverse",
    "printout": "printout",
    "photos": "printout",
    "lift_import": "motion",
}
"""A dialog's topic; the others have that of the way through the house."""


def give_help_key(dialog: QDialog, name: str, show: Callable[[str], None]) -> None:
    """Have a dialog open Help at its topic; Help itself needs none.

    Args:
        dialog: any dialog of the window.
        name: what the window calls it.
        show: opens Help at a topic.
    """
    if name == "help":
        return
    key = QShortcut(dialog)
    key.setKeys(shortcuts((QKeySequence.StandardKey.HelpContents, "F1")))
    key.activated.connect(lambda: show(TOPICS_OF.get(name, "start")))
