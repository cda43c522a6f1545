"""Commands: each a QAction with name, text and status tip, so that menus, search and keyboard sheet agree."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtGui import QAction, QKeySequence

if TYPE_CHECKING:
    from PySide6.QtCore import QObject
    from PySide6.QtWidgets import QWidget

Keys = QKeySequence | QKeySequence.StandardKey | str
_MARK = "command"


@dataclass(frozen=True, slots=True, kw_only=True)
class Command:
    """What a command is called, says and does."""

    name: str
    text: str
    tip: str
    run: Callable[[], object]
    keys: tuple[Keys, ...] = ()
    role: QAction.MenuRole = QAction.MenuRole.NoRole


def register(action: QAction) -> QAction:
    """Make an action known as a command of its window.

    Args:
        action: with objectName, text and status tip, and a parent within the window.

    Returns:
        The same action.

    Raises:
        ValueError: one of the three is missing.
    """
    if not (action.objectName() and action.text() and action.statusTip()):
        raise ValueError(f"a command needs a name, a text and a status tip: {action.objectName()!r} {action.text()!r}")
    action.setProperty(_MARK, True)
    return action


def action_of(command: Command, parent: QWidget) -> QAction:
    """The action of a command, registered and listening for its keys in the parent's window."""
    action = QAction(command.text, parent)
    action.setObjectName(command.name)
    action.setStatusTip(command.tip)
    action.setMenuRole(command.role)
    action.setShortcuts(shortcuts(command.keys))
    if not action.shortcut().isEmpty():
        shown = action.shortcut().toString(QKeySequence.SequenceFormat.NativeText)
        action.setToolTip(f"{command.tip} ({shown})")
    else:
        action.setToolTip(command.tip)
    action.triggered.connect(lambda _checked=False: command.run())
    parent.addAction(action)
    return register(action)


def shortcuts(keys: tuple[Keys, ...]) -> list[QKeySequence]:
    """The sequences behind standard keys and texts; a text counts only where the platform knows no key before it.

    That is: StandardKey.Quit with "Ctrl+Q" after it is the platform's own Quit where there is one, else Ctrl+Q.
    """
    found: list[QKeySequence] = []
    for keys_of_one in keys:
        if isinstance(keys_of_one, QKeySequence.StandardKey):
            found += QKeySequence.keyBindings(keys_of_one)
        elif isinstance(keys_of_one, QKeySequence):
            found.append(keys_of_one)
        elif not found or not any(isinstance(key, QKeySequence.StandardKey) for key in keys):
            found.append(QKeySequence(keys_of_one))
    return found


def commands_of(window: QObject) -> tuple[QAction, ...]:
    """Every command of a window, in the order in which they were made."""
    return tuple(action for action in window.findChildren(QAction) if action.property(_MARK))


def plain_text(action: QAction) -> str:
    """A command's text without the mark of its menu key and without dots."""
    return action.text().replace("&&", "\0").replace("&", "").replace("\0", "&").removesuffix("…").strip()
