"""Commands: each a QAction with name, text and status tip, so that menus, search and keyboard sheet agree."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, cast

from PySide6.QtCore import QKeyCombination, Qt
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
    keys = keys_told(action)
    action.setToolTip(f"{command.tip} ({keys})" if keys else command.tip)
    action.triggered.connect(lambda _checked=False: command.run())
    parent.addAction(action)
    return register(action)


def shortcuts(keys: tuple[Keys, ...]) -> list[QKeySequence]:
    """The sequences behind standard keys and texts; a text counts only where the platform knows no key before it.

    That is: StandardKey.Quit with "Ctrl+Q" after it is the platform's own Quit where there is one, else Ctrl+Q.
    """
    found: list[QKeySequence] = []
    standard = [key for key in keys if isinstance(key, QKeySequence.StandardKey)]
    typable = any(_typable(key) for one in standard for key in QKeySequence.keyBindings(one))
    for keys_of_one in keys:
        if isinstance(keys_of_one, QKeySequence.StandardKey):
            found += QKeySequence.keyBindings(keys_of_one)
        elif isinstance(keys_of_one, QKeySequence):
            found.append(keys_of_one)
        elif not typable:
            found.append(QKeySequence(keys_of_one))
    return sorted(found, key=lambda key: not _typable(key))


def _typable(key: QKeySequence) -> bool:
    """Whether every keyboard has it: keys such as Open or Exit stand on few."""
    combination: QKeyCombination = cast("Any", key)[0]  # the stubs do not know it
    code = combination.key()
    function = Qt.Key.Key_F1 <= code <= Qt.Key.Key_F35
    plain = code < Qt.Key.Key_Escape or function
    return plain and (function or combination.keyboardModifiers() != Qt.KeyboardModifier.NoModifier)


def keys_told(action: QAction) -> str:
    """A command's keys as a person reads them: those that every keyboard has."""
    keys = [key for key in action.shortcuts() if _typable(key)]
    return ", ".join(key.toString(QKeySequence.SequenceFormat.NativeText) for key in keys)


def commands_of(window: QObject) -> tuple[QAction, ...]:
    """Every command of a window, in the order in which they were made."""
    return tuple(action for action in window.findChildren(QAction) if action.property(_MARK))


def plain_text(action: QAction) -> str:
    """A command's text without the mark of its menu key and without dots."""
    return action.text().replace("&&", "\0").replace("&", "").replace("\0", "&").removesuffix("…").strip()
