"""The main window: menus, page row, columns, status line; hears the session and remembers its own shape."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, QSize, Qt, QTimer
from PySide6.QtGui import (
    QAccessible,
    QAccessibleAnnouncementEvent,
    QAction,
    QCloseEvent,
    QDragEnterEvent,
    QDropEvent,
    QGuiApplication,
    QKeyEvent,
    QKeySequence,
)
from PySide6.QtWidgets import QApplication, QDialog, QMainWindow, QVBoxLayout, QWidget
from typing_extensions import override

from loadbench.findings import Level
from loadbench.units import Style
from ui import composition
from ui.documents import Documents
from ui.exporting import Exporting
from ui.help.key import give_help_key
from ui.icons import icon
from ui.let_go import let_go
from ui.listening import Listening
from ui.notice import NoticeArea
from ui.page_row import PageRow
from ui.session import Session
from ui.settings import Settings
from ui.shell import Shell
from ui.theme import Choice, theme
from ui.window_drops import is_for_us, take
from ui.window_menus import Menus

FIRST_SIZE = QSize(1280, 800)
ANNOUNCED_MS = 8000


LATE_MS = 250
"""After the window is there, before each page that was left for later."""


class MainWindow(QMainWindow):
    """One window on one session."""

    def __init__(self, session: Session, settings: Settings | None = None, *, late: bool = False) -> None:
        super().__init__()
        self.session = session
        self.settings = settings or Settings()
        self.setObjectName("main_window")
        self.setAcceptDrops(True)
        self.notices = NoticeArea()
        self.documents = Documents(session, self, self.notices, self.settings)
        self.exporting = Exporting(session, self, self.documents, self.notices, self.settings)
        self.shell = Shell(session, composition.pages(), late=late)
        self.menus = Menus(self)
        self.shell.built.connect(self.menus.add_page)
        self._soon = QTimer(self, singleShot=True, interval=LATE_MS)
        self._soon.timeout.connect(self._build_pages)
        if late:
            self._soon.start()
        self._dialogs: dict[str, QDialog] = {}
        self._compose()
        self._connect()
        self._restore()

    def _compose(self) -> None:
        middle = QWidget()
        column = QVBoxLayout(middle)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        self._row = PageRow(self.menus.pages, self.menus.units)
        column.addWidget(self._row)
        column.addWidget(self.notices)
        column.addWidget(self.shell, 1)
        self.setCentralWidget(middle)
        self.statusBar().addPermanentWidget(self.exporting.bar)
        self._draw_icon()

    def _connect(self) -> None:
        session = self.session
        session.undo_stack.moved.connect(self._mark)
        session.renamed.connect(self._name)
        session.announced.connect(self.announce)
        session.failed.connect(self._tell_failure)
        session.styled.connect(self._styled)
        session.loaded.connect(self.statusBar().clearMessage)  # what was said there spoke of the job before
        theme().changed.connect(self._draw_icon)
        self.listening = Listening(session, self.notices)
        self.shell.findings.field_wanted.connect(self.go_to_field)
        self.shell.findings.rule_wanted.connect(self.show_rule_book)
        self.shell.figures.field_wanted.connect(self.go_to_field)
        self._name()

    def _build_pages(self) -> None:
        """The pages that were left for later, one at a time, once the window stands."""
        if self.shell.build_next():
            self._soon.start()

    # What the commands do

    def show_page(self, name: str) -> None:
        """Show a page by name."""
        before = self.shell.kind
        self.shell.show_page(name)
        if self.shell.kind is not before:
            self.statusBar().clearMessage()  # what was said there spoke of the page before
        action = self.findChild(QAction, f"page_{self.shell.kind.name}")
        if action is not None:
            action.setChecked(True)
        self._row.question.setText(self.shell.kind.shown_question)
        for name_of_command in ("copy_picture", "save_picture", "reset_view"):
            command = self.findChild(QAction, name_of_command)
            if command is not None:
                command.setEnabled(hasattr(self.shell.page, name_of_command))

    def ask_page(self, name: str) -> None:
        """Have the page on show do something, if it can."""
        getattr(self.shell.page, name, lambda: None)()

    def ask_focus(self, name: str) -> None:
        """Cut, copy or paste where the focus is: by the widget's own method, else by its own keys."""
        widget = QApplication.focusWidget()
        method = getattr(widget, name, None)
        if callable(method):
            method()
        elif widget is not None:
            keys = {"cut": Qt.Key.Key_X, "copy": Qt.Key.Key_C, "paste": Qt.Key.Key_V}
            event = QKeyEvent(QEvent.Type.KeyPress, keys[name], Qt.KeyboardModifier.ControlModifier)
            QApplication.sendEvent(widget, event)

    def choose_theme(self, choice: Choice) -> None:
        """Take the user's choice of colours and remember it."""
        theme().choose(choice)
        self.settings.put("theme", str(choice))

    def toggle_full_screen(self) -> None:
        """Full screen, or back."""
        self.setWindowState(self.windowState() ^ Qt.WindowState.WindowFullScreen)

    def search(self) -> None:
        """Open the search for commands, fields and rules."""
        self.shell.complete()
        from ui.command_search import CommandSearch

        self._open("search", CommandSearch(self))

    def go_to_field(self, field: str) -> None:
        """Put the focus into a field, by its dotted path."""
        from ui.going import go_to_field

        go_to_field(self, field)

    def show_rule_book(self, rule: str | None = None) -> None:
        """Open the rule book, at a rule where one is named."""
        book = self._kept("rule_book", lambda: composition.rule_book(self.session, self))
        if rule is not None:
            composition.turn_to(book, rule)

    def show_variants(self) -> None:
        """Open the candidate springs."""
        self._kept("variants", lambda: composition.variants(self.session, self))

    def show_inverse(self) -> None:
        """Open the inverse answers."""
        self._kept("inverse", lambda: composition.inverse(self.session, self))

    def make_polydyne(self) -> None:
        """Make the law of the line on show the polydyne lobe of its bench."""
        from ui.motion.lobe_maker import make_polydyne

        make_polydyne(self.session, self.go_to_field, lambda text: self.notices.tell(Level.WATCH, text))

    def show_help(self, topic: str | None = None) -> None:
        """Open Help at a topic; the page's own where none is named."""
        from ui.help import HelpDialog

        self._open("help", HelpDialog(self, topic or self.shell.kind.topic))

    def show_keyboard(self) -> None:
        """Open the sheet of commands and keys."""
        from ui.keyboard_sheet import KeyboardSheet

        self._open("keyboard", KeyboardSheet(self))

    def show_about(self) -> None:
        """Open About."""
        from ui.about import AboutDialog

        self._open("about", AboutDialog(self))

    def _open(self, name: str, dialog: QDialog) -> None:
        """Show a dialog beside the work; the one of the same name before it goes."""
        old = self._dialogs.pop(name, None)
        if old is not None:
            old.close()
            let_go(old)
        self._dialogs[name] = dialog
        give_help_key(dialog, name, self.show_help)
        _bring(dialog)

    def _kept(self, name: str, make: Callable[[], QDialog]) -> QDialog:
        """Show a dialog that listens to the session: made once, it lives as long as the window."""
        if name not in self._dialogs:
            self._dialogs[name] = make()
            give_help_key(self._dialogs[name], name, self.show_help)
        dialog = self._dialogs[name]
        _bring(dialog)
        return dialog

    # What the session says

    def _name(self) -> None:
        mark = self.tr("{name}[*] – LoadBench")  # noqa: RUF001
        self.setWindowTitle(mark.format(name=self.documents.name.replace("[*]", "[ * ]")))
        self.setWindowFilePath(str(self.session.path or ""))
        self.setWindowModified(not self.session.undo_stack.isClean())

    def _tell_failure(self, why: str) -> None:
        self.notices.tell(Level.STOP, why)

    def _mark(self) -> None:
        self.setWindowModified(not self.session.undo_stack.isClean())

    def announce(self, sentence: str) -> None:
        """Say a sentence on the status line and to screen readers."""
        self.statusBar().showMessage(sentence, ANNOUNCED_MS)
        event = QAccessibleAnnouncementEvent(self, sentence)
        QAccessible.updateAccessibility(event)

    def _draw_icon(self) -> None:
        self.setWindowIcon(icon("app"))

    def _styled(self, style: Style) -> None:
        self.settings.put("units", str(style))
        action = self.findChild(QAction, f"units_{style.value.replace('-', '_')}")
        if action is not None:
            action.setChecked(True)

    # Its own shape

    def _restore(self) -> None:
        self.resize(FIRST_SIZE)
        geometry = self.settings.state("window")
        if not geometry.isEmpty():
            self.restoreGeometry(geometry)  # Qt brings a window back that would be off every screen
        self._keep_on_screen()
        self.shell.restore(self.settings.state("splitters"))
        self.show_page(self.settings.text("page", "bench"))
        self.setFocus()

    def _keep_on_screen(self) -> None:
        screens = [screen.availableGeometry() for screen in QGuiApplication.screens()]
        if not any(screen.intersects(self.frameGeometry()) for screen in screens):
            self.move(screens[0].topLeft())

    def remember(self) -> None:
        """Write the window's shape to the settings."""
        self.settings.put("window", self.saveGeometry())
        self.settings.put("splitters", self.shell.splitters())
        self.settings.put("page", self.shell.kind.name)
        self.settings.put("last", str(self.session.path or ""))
        self.settings.flush()

    def reset_layout(self) -> None:
        """The window and its columns as they came."""
        for key in ("window", "splitters"):
            self.settings.forget(key)
        self.showNormal()
        self.resize(FIRST_SIZE)
        self.shell.reset()

    # Drops and closing

    @override
    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if is_for_us(event.mimeData()):
            event.acceptProposedAction()

    @override
    def dropEvent(self, event: QDropEvent) -> None:
        if is_for_us(event.mimeData()):
            event.acceptProposedAction()
            take(self, event.mimeData())

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.matches(QKeySequence.StandardKey.Cancel) and self.exporting.desk.busy:
            self.exporting.bar.cancel()
            return
        super().keyPressEvent(event)

    @override
    def closeEvent(self, event: QCloseEvent) -> None:
        if not self.documents.may_leave():
            event.ignore()
            return
        self.shut_down()
        event.accept()

    def shut_down(self) -> None:
        """Leave nothing running and no file behind; also after a quit that asked nobody."""
        self.remember()
        self.session.drop_preview()
        self.exporting.desk.shutdown()
        self.documents.recovery.release()
        for dialog in self._dialogs.values():
            dialog.close()


def _bring(dialog: QDialog) -> None:
    dialog.show()
    dialog.raise_()
    dialog.activateWindow()
