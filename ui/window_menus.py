"""The menu bar: commands in their menus, the choices of page, units and theme, recent jobs and samples."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtGui import QAction, QActionGroup, QKeySequence
from PySide6.QtWidgets import QMenu

from loadbench.job.files import SUFFIX
from loadbench.units import Style
from ui import window_commands as commands
from ui.commands import Command, action_of, commands_of, register
from ui.documents import sample_files
from ui.history import StepAction
from ui.theme import Choice, theme

if TYPE_CHECKING:
    from ui.window import MainWindow

Key = QKeySequence.StandardKey


class Menus(QObject):
    """Builds the menus of a window and keeps the groups that its page row shows."""

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self._window = window
        bar = window.menuBar()
        self._file(bar.addMenu(self.tr("&File")))
        self._edit(bar.addMenu(self.tr("&Edit")))
        self.pages = self._choices(self._page_choices())
        self.units = self._choices(self._unit_choices())
        self.themes = self._choices(self._theme_choices())
        self._view(bar.addMenu(self.tr("&View")))
        self._fill(bar.addMenu(self.tr("&Tools")), commands.tools_commands(window))
        self._fill(bar.addMenu(self.tr("&Help")), commands.help_commands(window))
        window.documents.printouts.watch_pastes(window.shell)

    # Menus

    def _fill(self, menu: QMenu, wanted: Iterable[Command | None]) -> None:
        for command in wanted:
            if command is None:
                menu.addSeparator()
            else:
                menu.addAction(action_of(command, self._window))

    def _file(self, menu: QMenu) -> None:
        first, *rest = (list(part) for part in _parts(commands.file_commands(self._window)))
        self._fill(menu, first)
        menu.addMenu(self._lazy_menu("open_recent", self.tr("Open &recent"), self._fill_recent))
        menu.addMenu(self._lazy_menu("open_sample", self.tr("Open a sa&mple"), self._fill_samples))
        for part in rest:
            menu.addSeparator()
            self._fill(menu, part)
        menu.addSeparator()
        menu.addAction(action_of(commands.quit_command(self._window), self._window))

    def _edit(self, menu: QMenu) -> None:
        stack = self._window.session.undo_stack
        undo = StepAction(stack, self.tr("&Undo"), redo=False, parent=self._window)
        redo = StepAction(stack, self.tr("&Redo"), redo=True, parent=self._window)
        self._adopt(undo, "undo", self.tr("Take back the last change to the job"), Key.Undo)
        self._adopt(redo, "redo", self.tr("Make the change again that was taken back"), Key.Redo)
        menu.addActions([undo, redo])
        self._fill(menu, commands.edit_commands(self._window))
        menu.addSeparator()
        self._edit_menu = menu
        menu.aboutToShow.connect(self._window.shell.complete)
        for number in range(len(self._window.shell.kinds)):
            self.add_page(number)

    def add_page(self, number: int) -> None:
        """The commands of a page in the Edit menu."""
        kind, page = self._window.shell.kinds[number], self._window.shell.stack.widget(number)
        own = commands_of(page) if page is not None else ()
        if own:
            below = self._edit_menu.addMenu(kind.shown_word)
            below.setObjectName(f"edit_{kind.name}")
            below.addActions(own)

    def _adopt(self, action: QAction, name: str, tip: str, key: QKeySequence.StandardKey) -> None:
        action.setObjectName(name)
        action.setStatusTip(tip)
        action.setShortcuts(key)
        self._window.addAction(action)
        register(action)

    def _view(self, menu: QMenu) -> None:
        for group in (self.pages, self.units, self.themes):
            menu.addActions(group.actions())
            menu.addSeparator()
        self._fill(menu, commands.view_commands(self._window))

    # Choices

    def _choices(self, wanted: Iterable[tuple[Command, bool]]) -> QActionGroup:
        group = QActionGroup(self._window)
        for command, chosen in wanted:
            action = action_of(command, self._window)
            action.setCheckable(True)
            action.setChecked(chosen)
            group.addAction(action)
        return group

    def _page_choices(self) -> Iterable[tuple[Command, bool]]:
        for number, kind in enumerate(self._window.shell.kinds, start=1):
            run = partial(self._window.show_page, kind.name)
            text, tip = f"&{kind.shown_word}", kind.shown_question
            name = f"page_{kind.name}"
            yield Command(name=name, text=text, tip=tip, run=run, keys=(f"Ctrl+{number}",)), number == 1

    def _unit_choices(self) -> Iterable[tuple[Command, bool]]:
        words = {
            Style.INCH_POUND: (self.tr("&Inch-pound"), self.tr("Show inches and pounds; the job stays as typed")),
            Style.METRIC: (self.tr("&Metric"), self.tr("Show millimetres and newtons; the job stays as typed")),
        }
        keys = {Style.INCH_POUND: "Ctrl+Alt+I", Style.METRIC: "Ctrl+Alt+M"}
        for style, (text, tip) in words.items():
            run = partial(self._window.session.set_style, style)
            name = f"units_{style.value.replace('-', '_')}"
            command = Command(name=name, text=text, tip=tip, run=run, keys=(keys[style],))
            yield command, style is self._window.session.style

    def _theme_choices(self) -> Iterable[tuple[Command, bool]]:
        words = {
            Choice.SYSTEM: (self.tr("&System colours"), self.tr("Light or dark as the system is")),
            Choice.LIGHT: (self.tr("&Light"), self.tr("Dark on light")),
            Choice.DARK: (self.tr("&Dark"), self.tr("Light on dark")),
        }
        for choice, (text, tip) in words.items():
            run = partial(self._window.choose_theme, choice)
            yield Command(name=f"theme_{choice}", text=text, tip=tip, run=run), choice is theme().choice

    # Menus that are filled when they are opened

    def _lazy_menu(self, name: str, title: str, fill: Callable[[QMenu], None]) -> QMenu:
        menu = QMenu(title, self._window)
        menu.setObjectName(name)
        menu.setToolTipsVisible(True)
        menu.menuAction().setObjectName(name)
        menu.menuAction().setStatusTip(title.replace("&", ""))

        def refill() -> None:
            menu.clear()
            fill(menu)

        menu.aboutToShow.connect(refill)
        return menu

    def _fill_recent(self, menu: QMenu) -> None:
        files = self._window.documents
        paths = files.recent.paths()
        for number, path in enumerate(paths):
            gone = not path.is_file()
            text = self.tr("{name} (no longer there)").format(name=path.name) if gone else path.name
            action = _entry(menu, f"recent_{number}", text, str(path), partial(files.open_path, path))
            action.setEnabled(not gone)
        if not paths:
            nothing = _entry(menu, "recent_none", self.tr("No recent jobs"), self.tr("Jobs opened or saved"), _inform)
            nothing.setEnabled(False)
        menu.addSeparator()
        clear = _entry(menu, "recent_clear", self.tr("Clear"), self.tr("Forget the recent jobs"), files.recent.clear)
        clear.setEnabled(bool(paths))

    def _fill_samples(self, menu: QMenu) -> None:
        for number, path in enumerate(sample_files()):
            tip = self.tr("An invented job; saving it asks for a name")
            _entry(menu, f"sample_{number}", sample_title(path), tip, partial(self._window.documents.open_sample, path))


def _inform() -> None:
    """Nothing to do: the entry only informs."""


def _entry(menu: QMenu, name: str, text: str, tip: str, run: Callable[[], object]) -> QAction:
    action = QAction(text.replace("&", "&&"), menu)
    action.setObjectName(name)
    action.setStatusTip(tip)
    action.setToolTip(tip)
    action.triggered.connect(lambda _checked=False: run())
    menu.addAction(action)
    return action


def sample_title(path: Path) -> str:
    """A sample's name in words."""
    return path.name.removesuffix(SUFFIX).replace("-", " ").capitalize()


def _parts(wanted: Iterable[Command | None]) -> list[list[Command]]:
    """Commands cut at the lines."""
    parts: list[list[Command]] = [[]]
    for command in wanted:
        if command is None:
            parts.append([])
        else:
            parts[-1].append(command)
    return parts
