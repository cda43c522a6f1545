"""Going to a field, wherever it is: its line, its page, its card, then the focus."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from ui.labels import common_path

if TYPE_CHECKING:
    from ui.window import MainWindow


def widget_of(window: MainWindow, field: str) -> QWidget | None:
    """The widget that a field is typed in; for an item of a list that has none of its own, that of the list.

    Args:
        window: where to look.
        field: dotted path; a line's own path is found under the common one.
    """
    widgets = {
        name: widget
        for widget in window.shell.findChildren(QWidget)
        if isinstance(name := widget.property("field"), str) and widget.focusPolicy() is not Qt.FocusPolicy.NoFocus
    }
    steps = common_path(field).split(".")
    while steps:
        if ".".join(steps) in widgets:
            return widgets[".".join(steps)]
        steps.pop()
    return None


def go_to_field(window: MainWindow, field: str) -> bool:
    """Show a field on its line and put the focus into it; False where no widget shows it."""
    window.shell.complete()
    steps = field.split(".")
    if steps[0] == "lines" and len(steps) > 1:
        window.session.choose_line(steps[1])
    widget = widget_of(window, field)
    if widget is not None:
        go_to(window, widget)
        return True
    _show_stated(window)
    return window.shell.stated.reveal(field)


def go_to(window: MainWindow, widget: QWidget) -> None:
    """Show a widget, wherever it is folded away, and put the focus into it."""
    _show_page_of(window, widget)
    above = widget.parentWidget()
    while above is not None and above is not window:
        unfold = getattr(above, "set_open", None)  # a card
        if callable(unfold):
            unfold(True)
        reveal = getattr(above, "ensureWidgetVisible", None)  # a scroll area
        if callable(reveal):
            reveal(widget)
        above = above.parentWidget()
    window.activateWindow()
    widget.setFocus(Qt.FocusReason.ShortcutFocusReason)


def _show_page_of(window: MainWindow, widget: QWidget) -> None:
    shell = window.shell
    for index, kind in enumerate(shell.kinds):
        page = shell.stack.widget(index)
        if page is not None and page.isAncestorOf(widget):
            window.show_page(kind.name)
    if shell.stated.isAncestorOf(widget):
        _show_stated(window)


def _show_stated(window: MainWindow) -> None:
    """A page beside which the panel of what is stated stands."""
    if not window.shell.kind.stated:
        window.show_page(next(kind.name for kind in window.shell.kinds if kind.stated))
