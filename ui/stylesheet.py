"""The flat drawing of Qt's own widgets: no gradients, no shadows, one line weight, a focus that is always seen."""

from __future__ import annotations

from string import Template

from ui.palette import Colours

_SHEET = Template("""
QToolTip { background: $panel; color: $ink; border: 1px solid $lines; padding: 4px 6px; }
QMainWindow::separator { background: $hairline; width: 1px; height: 1px; }
QMenuBar { background: $page; color: $ink; border-bottom: 1px solid $hairline; }
QMenuBar::item { padding: 5px 9px; background: transparent; }
QMenuBar::item:selected { background: $hover; }
QMenu { background: $panel; color: $ink; border: 1px solid $lines; padding: 4px 0; }
QMenu::item { padding: 5px 26px 5px 26px; }
QMenu::item:selected { background: $accent; color: $on_accent; }
QMenu::item:disabled { color: $quiet; }
QMenu::item:disabled:selected { background: $hover; color: $quiet; }
QMenu::separator { height: 1px; background: $hairline; margin: 4px 0; }
QStatusBar { background: $page; color: $quiet; border-top: 1px solid $hairline; }
QStatusBar::item { border: none; }
QSplitter::handle { background: transparent; }
QSplitter::handle:horizontal { width: 9px; border-left: 1px solid $hairline; margin-left: 4px; }
QSplitter::handle:vertical { height: 9px; border-top: 1px solid $hairline; margin-top: 4px; }
QSplitter::handle:hover { border-color: $accent; }
QPushButton { background: $panel; color: $ink; border: 1px solid $lines; border-radius: 3px; padding: 4px 12px;
    min-height: 16px; }
QPushButton:hover { background: $hover; }
QPushButton:pressed { background: $hairline; }
QPushButton:default { border-color: $accent; color: $accent; }
QPushButton:disabled, QToolButton:disabled { color: $quiet; border-color: $hairline; }
QPushButton:focus { border: 2px solid $accent; padding: 3px 11px; }
QPushButton:flat { background: transparent; border-color: transparent; }
QPushButton:flat:hover { background: $hover; }
QPushButton:flat:focus { border: 2px solid $accent; }
QPushButton#more_findings { color: $accent; padding: 2px 7px; }
QPushButton#more_findings:focus { padding: 1px 6px; }
QToolButton { background: transparent; color: $ink; border: 2px solid transparent; border-radius: 3px; padding: 2px 4px;
    min-height: 18px; min-width: 16px; }
QToolButton:hover { background: $hover; }
QToolButton:focus { border-color: $accent; }
QToolButton:checked { background: $hover; }
QLineEdit, QPlainTextEdit, QTextEdit, QComboBox, QAbstractSpinBox { background: $panel; color: $ink;
    border: 1px solid $lines; border-radius: 3px; padding: 3px 5px; selection-background-color: $accent;
    selection-color: $on_accent; placeholder-text-color: $quiet; }
QLineEdit:focus, QPlainTextEdit:focus, QTextEdit:focus, QComboBox:focus, QAbstractSpinBox:focus {
    border: 2px solid $accent; padding: 2px 4px; }
QLineEdit:disabled, QComboBox:disabled { color: $quiet; border-color: $hairline; }
QLineEdit[state="wrong"] { border: 2px solid $stop; padding: 2px 4px; }
QComboBox::drop-down { border: none; width: 18px; }
QComboBox::down-arrow { image: none; width: 0; height: 0; border-left: 4px solid $panel; border-right: 4px solid $panel;
    border-top: 5px solid $quiet; margin-right: 5px; }
QComboBox QAbstractItemView { background: $panel; color: $ink; border: 1px solid $lines;
    selection-background-color: $accent; selection-color: $on_accent; outline: none; }
QAbstractItemView { background: $panel; color: $ink; border: 1px solid $hairline; selection-background-color: $accent;
    selection-color: $on_accent; gridline-color: $hairline; }
QListView#known_words { border: 1px solid $lines; outline: none; }
QListView#known_words::item:hover:!selected { background: $hover; }
QListView::item, QTreeView::item { min-height: 22px; padding: 1px 4px; }
QHeaderView { background: $page; border: none; }
QHeaderView::section { background: $page; color: $quiet; border: none; border-right: 1px solid $hairline;
    border-bottom: 1px solid $lines; padding: 4px 6px; }
QHeaderView::section:vertical { border-bottom: 1px solid $hairline; border-right: 1px solid $lines; }
QTableCornerButton::section { background: $page; border: none; border-bottom: 1px solid $lines; }
QScrollArea { background: transparent; border: none; }
QScrollBar:vertical { background: transparent; width: 12px; margin: 0; }
QScrollBar:horizontal { background: transparent; height: 12px; margin: 0; }
QScrollBar::handle { background: $lines; border-radius: 3px; margin: 3px; min-height: 28px; min-width: 28px; }
QScrollBar::handle:hover { background: $accent; }
QScrollBar::add-line, QScrollBar::sub-line, QScrollBar::add-page, QScrollBar::sub-page { background: none; border: none;
    width: 0; height: 0; }
QSlider::groove:horizontal { background: $lines; height: 2px; border: none; }
QSlider::groove:vertical { background: $lines; width: 2px; border: none; }
QSlider::handle { background: $accent; border: 2px solid $accent; border-radius: 4px; }
QSlider::handle:horizontal { width: 8px; margin: -9px 0; }
QSlider::handle:vertical { height: 8px; margin: 0 -9px; }
QSlider::handle:hover, QSlider::handle:focus { border-color: $ink; }
QSlider::handle:disabled { background: $lines; border-color: $lines; }
QProgressBar { background: $panel; color: $ink; border: 1px solid $lines; border-radius: 3px; text-align: center; }
QProgressBar::chunk { background: $hover; }
QLabel[role="quiet"] { color: $quiet; }
QLabel[role="stop"] { color: $stop; }
QLabel[role="heading"] { font-weight: 600; }
QFrame#meaning_drawer { background: $page; border: 1px solid $lines; }
QWidget#page_row { background: $page; border-bottom: 1px solid $hairline; }
QToolButton[row="page"] { border-radius: 0; border: none; border-bottom: 3px solid transparent; padding: 6px 12px 4px;
    background: transparent; }
QToolButton[row="page"]:hover { border-bottom-color: $lines; }
QToolButton[row="page"]:checked { border-bottom-color: $accent; color: $accent; font-weight: 600; }
QToolButton[row="page"]:focus { border: 2px solid $accent; border-bottom: 3px solid $accent; padding: 4px 10px; }
QToolButton[row="units"] { border: 1px solid $lines; border-radius: 0; padding: 3px 10px; }
QToolButton[row="units"]:checked { background: $accent; color: $on_accent; border-color: $accent; }
QToolButton[row="units"]:focus { border: 2px solid $ink; padding: 2px 9px; }
""")


def stylesheet(of: Colours) -> str:
    """The style sheet of one theme."""
    roles = {name: getattr(of, name) for name in Colours.__slots__ if isinstance(getattr(of, name), str)}
    return _SHEET.substitute(roles)
