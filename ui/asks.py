"""The few questions that stop the user: only for decisions, each button a verb."""

from __future__ import annotations

from enum import Enum

from PySide6.QtCore import QCoreApplication, Qt
from PySide6.QtWidgets import QLabel, QMessageBox, QPushButton, QWidget

from ui.let_go import let_go

Role = QMessageBox.ButtonRole


class Unsaved(Enum):
    """What becomes of unsaved changes."""

    SAVE = "save"
    DROP = "drop"
    CANCEL = "cancel"


class Changed(Enum):
    """What becomes of a file that another program changed."""

    OVERWRITE = "overwrite"
    SAVE_AS = "save as"
    CANCEL = "cancel"


def _tr(text: str) -> str:
    return QCoreApplication.translate("Asks", text)


def about_unsaved(parent: QWidget, name: str) -> Unsaved:
    """Ask what becomes of the changes of a job; closing the box is Cancel."""
    box = _box(parent, _tr("Save the changes to “{name}”?").format(name=name), _tr("What isn\u2019t saved is lost."))
    save = _button(box, _tr("Save"), Role.AcceptRole)
    drop = _button(box, _tr("Don\u2019t save"), Role.DestructiveRole)
    cancel = _button(box, _tr("Cancel"), Role.RejectRole)
    pressed = _pressed(box, save, cancel)
    return Unsaved.SAVE if pressed is save else Unsaved.DROP if pressed is drop else Unsaved.CANCEL


def about_changed(parent: QWidget, name: str) -> Changed:
    """Ask what becomes of a file that changed on disk since it was opened."""
    what = _tr("“{name}” was changed on disk by another program since it was opened here.").format(name=name)
    box = _box(parent, what, _tr("Overwriting it loses those changes."))
    overwrite = _button(box, _tr("Overwrite"), Role.DestructiveRole)
    other = _button(box, _tr("Save as…"), Role.AcceptRole)
    cancel = _button(box, _tr("Cancel"), Role.RejectRole)
    pressed = _pressed(box, other, cancel)
    return Changed.OVERWRITE if pressed is overwrite else Changed.SAVE_AS if pressed is other else Changed.CANCEL


def about_existing(parent: QWidget, name: str) -> bool:
    """Ask whether a file that is already there may be replaced."""
    box = _box(parent, _tr("“{name}” exists already.").format(name=name), _tr("Replacing it loses what it holds."))
    replace = _button(box, _tr("Replace"), Role.DestructiveRole)
    cancel = _button(box, _tr("Cancel"), Role.RejectRole)
    return _pressed(box, cancel, cancel) is replace


def _box(parent: QWidget, what: str, more: str) -> QMessageBox:
    box = QMessageBox(parent)
    box.setIcon(QMessageBox.Icon.NoIcon)
    box.setWindowTitle("LoadBench")
    box.setText(what)
    box.setInformativeText(more)
    box.setTextFormat(Qt.TextFormat.PlainText)
    for label in box.findChildren(QLabel):
        label.setTextFormat(Qt.TextFormat.PlainText)  # the lesser text has no switch of its own
    return box


def _button(box: QMessageBox, words: str, role: QMessageBox.ButtonRole) -> QPushButton:
    button = box.addButton(words, role)
    button.setMinimumHeight(26)
    return button


def _pressed(box: QMessageBox, default: QPushButton, escape: QPushButton) -> QPushButton | None:
    box.setDefaultButton(default)
    box.setEscapeButton(escape)
    box.exec()
    pressed = box.clickedButton()
    let_go(box)
    return pressed if isinstance(pressed, QPushButton) else None
