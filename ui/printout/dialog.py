"""The window that reads a printout: beside the work, changing nothing until Import is pressed."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QGuiApplication, QKeyEvent, QKeySequence
from PySide6.QtWidgets import (
    QApplication,
    QDialog,
    QFileDialog,
    QHBoxLayout,
    QLineEdit,
    QSplitter,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)
from typing_extensions import override

from loadbench.errors import InputError, SaveError, UnreadableFileError
from loadbench.readings.printout.to_job import near_names
from ui.printout.choices_bar import ChoicesBar
from ui.printout.keeping import RecordRow, RememberRow, WayRow
from ui.printout.known_recipes import Recipes, known_recipes
from ui.printout.preview import Preview, problem_told
from ui.printout.reader import Reader
from ui.printout.taking_over import remember, shared_ids, taken_over
from ui.printout.understood_side import UnderstoodSide
from ui.printout.waiting import WaitingPage
from ui.printout.wording import name_of, springs_word
from ui.widgets.dialog_button import dialog_button
from ui.widgets.entry_edit import Judgement, Sign
from ui.widgets.message_row import MessageRow
from ui.work_bar import WorkBar

if TYPE_CHECKING:
    from PySide6.QtGui import QDragEnterEvent, QDropEvent

    from loadbench.errors import LoadBenchError
    from loadbench.job.kept_parts import Recipe
    from loadbench.readings.printout.meaning import Understood
    from loadbench.units import Style
    from ui.session import Session
    from ui.settings import Settings

FIRST_SIZE = QSize(1180, 760)
KINDS = ("csv", "tsv", "txt", "xlsx", "prn", "asc", "dat", "tab")


class PrintoutDialog(QDialog):
    """One printout; it ends with its window, and its threads with it."""

    taken = Signal(str, int)  # the printout's name and how many springs it has: the job has it now

    def __init__(self, session: Session, settings: Settings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("printout")
        self.setWindowTitle(self.tr("Read a printout"))
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setAcceptDrops(True)
        self.session, self._settings = session, settings
        self.recipes = Recipes()
        self.reader = Reader(self)
        self.choices = ChoicesBar()
        self.preview = Preview()
        self.side = UnderstoodSide()
        self.remember, self.record, self.ways = RememberRow(), RecordRow(), WayRow()
        self.waiting = WaitingPage()
        self.work = WorkBar(self.reader.desk)
        self.message = MessageRow()
        self.import_button = dialog_button("printout_import", self.tr("&Import"))
        self.cancel_button = dialog_button("printout_cancel", self.tr("Cancel"))
        self._lay_out()
        self._connect()
        self._learn_recipes()
        self.record.begin(session.job)
        self._show_page(None)

    # The parts

    def _lay_out(self) -> None:
        self._splitter = QSplitter(Qt.Orientation.Horizontal)
        self._splitter.addWidget(self.preview)
        self._splitter.addWidget(self.side)
        self._splitter.setStretchFactor(0, 1)
        self._splitter.setChildrenCollapsible(False)
        self._splitter.setSizes([FIRST_SIZE.width() - 320, 300])
        page = QWidget()
        rows = QVBoxLayout(page)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(6)
        rows.addWidget(self.choices)
        rows.addWidget(self._splitter, 1)
        for widget in (self.remember, self.record, self.ways):
            rows.addWidget(widget)
        self.preview.before = self.choices.header.box
        self.pages = QStackedWidget()
        self.pages.addWidget(self.waiting)
        self.pages.addWidget(page)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(12, 10, 12, 10)
        whole.addWidget(self.pages, 1)
        whole.addLayout(self._foot())
        room = self.screen().availableSize() - QSize(40, 60)  # room for its frame
        self.resize(FIRST_SIZE.boundedTo(room))

    def _foot(self) -> QHBoxLayout:
        foot = QHBoxLayout()
        foot.setSpacing(8)
        foot.addWidget(self.work)
        foot.addWidget(self.message, 1)
        foot.addStretch(0)
        foot.addWidget(self.import_button)
        foot.addWidget(self.cancel_button)
        return foot

    def _connect(self) -> None:
        reader, choices = self.reader, self.choices
        reader.begun.connect(self._begun)
        reader.read.connect(self._show_page)
        reader.failed.connect(self._refuse)
        self.preview.corrected.connect(reader.correct)
        choices.layout_chosen.connect(lambda layout: reader.correct(layout=layout))
        choices.decimal_chosen.connect(lambda decimal: reader.correct(decimal=decimal))
        choices.header_chosen.connect(reader.correct_header)
        choices.recipe_chosen.connect(lambda recipe: reader.read_by(recipe, self._style))
        choices.sheet_chosen.connect(self._read_sheet)
        choices.forget_wanted.connect(self._forget)
        self.side.problem_wanted.connect(lambda problem, focus: self.preview.go_to_problem(problem, focus=focus))
        self.side.column_wanted.connect(self._go_to_column)
        self.waiting.file_wanted.connect(self.choose_file)
        self.waiting.paste_wanted.connect(self.paste)
        self.import_button.clicked.connect(self.take_over)
        self.cancel_button.clicked.connect(self.close)
        self.session.changed.connect(self._show_shared)
        self.session.styled.connect(self._restyle)
        self.session.loaded.connect(self._begin_again)

    # Bringing a printout in

    @property
    def _style(self) -> Style:
        """The units that a printout without any is read in: the job's, else those on show."""
        return self.session.state.analysis.stated.style or self.session.style

    def _offered(self) -> list[Recipe]:
        return [one.recipe for one in self.recipes.known]

    def choose_file(self) -> None:
        """Ask for a file and read it."""
        wanted = " ".join(f"*.{kind}" for kind in KINDS)
        kinds = self.tr("Printouts ({kinds});;All files (*)").format(kinds=wanted)
        title = self.tr("Read a printout")
        chosen, _ = QFileDialog.getOpenFileName(self, title, self._settings.folder, kinds)
        if chosen:
            self.read_path(Path(chosen))

    def read_path(self, path: Path, sheet: str | None = None) -> None:
        """Read a file."""
        self._settings.put("folder", str(path.absolute().parent))
        self.reader.open(path, self._style, self._offered(), sheet)

    def read_pasted(self, text: str) -> None:
        """Read a text."""
        self.reader.paste(text, self._style, self._offered())

    def paste(self) -> None:
        """Read what is on the clipboard."""
        self.read_pasted(QGuiApplication.clipboard().text())

    def _read_sheet(self, sheet: str) -> None:
        if self.reader.book is not None:
            self.read_path(self.reader.book, sheet)

    def _begun(self, name: str) -> None:
        self.message.tell(Judgement())
        self.work.begin(self.tr("Reading {name}").format(name=name or self.tr("pasted text")))

    def _refuse(self, error: LoadBenchError) -> None:
        name = "" if self.reader.path is None else self.reader.path.name
        why = "\n".join(map(problem_told, getattr(error, "problems", ()))) or str(error)
        if self.reader.current is not None:  # another sheet of the same book
            self._show(self.reader.current)
            self._tell_wrong(why)
            return
        self.waiting.refuse(name, why)
        self.session.announce(self.waiting.head.text())
        self._show_page(None)
        self.waiting.file_button.setFocus(Qt.FocusReason.OtherFocusReason)

    # Showing

    def _show_page(self, found: Understood | None) -> None:
        self.pages.setCurrentIndex(0 if found is None else 1)
        self.import_button.setVisible(found is not None)
        self.waiting.file_button.setDefault(found is None)
        if found is None:
            return
        first = self.preview.understood is None or self.preview.understood.grid is not found.grid
        self._show(found)
        if first:
            self.record.begin(self.session.job)
            if found.recipe:
                self.remember.name.setText(found.recipe)
                self.record.propose_tester(self.choices.chosen_recipe)
            self.preview.table.setFocus(Qt.FocusReason.OtherFocusReason)
            self.session.announce(self.side.counts.text())

    def _show(self, found: Understood) -> None:
        style = self.session.style
        self.choices.show_printout(found, self.recipes)
        self.preview.show_printout(found, style)
        self.side.show_printout(found, style, self.preview.column_of, self.preview.model.missing)
        words = self.tr("&Import {springs}").format(springs=springs_word(len(found.springs)))
        self.import_button.setText(words if found.count else self.tr("&Import"))
        self.import_button.setEnabled(found.count > 0)
        self.import_button.setToolTip("" if found.count else self.tr("There is no reading to import yet"))
        self._show_shared()

    def _show_shared(self, _state: object = None) -> None:
        found, job = self.reader.current, self.session.job
        if found is not None:
            shared = len(shared_ids(job, found))
            self.ways.show_shared(job, shared, len(found.springs), near_names(job, found))

    def _restyle(self, _style: object = None) -> None:
        if self.reader.current is not None:
            self._show(self.reader.current)

    def _begin_again(self) -> None:
        """Another job is on the table: its recipes, its record, its springs."""
        self._learn_recipes()
        self.record.begin(self.session.job)
        self._restyle()

    def _go_to_column(self, place: int, focus: bool) -> None:
        if focus:
            self.preview.go_to_column(place)
        else:
            self.preview.choose_column(place)

    # Recipes

    def _learn_recipes(self) -> None:
        self.recipes = known_recipes(self.session.job)
        if self.recipes.refused:
            self._tell_wrong(self.tr("Your recipes were not read. {why}").format(why=self.recipes.refused))

    def _forget(self, name: str) -> None:
        from loadbench.readings.printout.recipe_shelf import forget_recipe

        try:
            forget_recipe(name)
        except (SaveError, UnreadableFileError) as error:
            self._tell_wrong(str(error))
            return
        self._learn_recipes()
        found = self.reader.current
        self.choices.show_recipes(self.recipes, found.recipe if found is not None else None)
        self.choices.recipe.box.setFocus(Qt.FocusReason.OtherFocusReason)
        self.session.announce(self.tr("The recipe {name} is forgotten.").format(name=name))

    # Into the job

    def take_over(self) -> None:
        """Put the printout into the job, as one step."""
        self._settle()
        found = self.reader.current
        if found is None or not found.count:
            return
        try:
            record, recipe, way = self.record.record(), self.remember.wanted(), self.ways.way
            if recipe:
                remember(found, recipe, record.tester or recipe)
            name = name_of(found.grid)
            step = self.tr("read printout {name}").format(name=name)
            self.session.edit(step, lambda job: taken_over(job, found, record, way, recipe))
        except InputError as error:
            self._tell_wrong(error.what, error.expected)
        except (SaveError, UnreadableFileError) as error:
            self._tell_wrong(str(error))
        else:
            self.close()
            self.taken.emit(name, len(found.springs))  # first: another page drops what was said on the one before
            told = self.tr("{springs} read from {name}. Undo takes them out again.")
            self.session.announce(told.format(springs=springs_word(len(found.springs)), name=name))

    def _settle(self) -> None:
        """A height that is being typed counts."""
        focused = QApplication.focusWidget()
        if isinstance(focused, QLineEdit) and self.isAncestorOf(focused):
            focused.clearFocus()

    def _tell_wrong(self, what: str, expected: str = "") -> None:
        self.message.tell(Judgement(sign=Sign.WRONG, what=what, expected=expected))
        self.session.announce(what)

    # Events

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.matches(QKeySequence.StandardKey.Cancel) and self.reader.desk.busy:
            self.work.cancel()
        elif event.matches(QKeySequence.StandardKey.Paste):
            self.paste()
        else:
            super().keyPressEvent(event)

    @override
    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if event.mimeData().hasUrls() or event.mimeData().hasText():
            event.acceptProposedAction()

    @override
    def dropEvent(self, event: QDropEvent) -> None:
        event.acceptProposedAction()
        urls = event.mimeData().urls()
        if urls and urls[0].isLocalFile():
            self.read_path(Path(urls[0].toLocalFile()))
        elif event.mimeData().hasText() and not urls:
            self.read_pasted(event.mimeData().text())

    @override
    def done(self, result: int) -> None:
        self.reader.desk.shutdown()  # every way out comes by here
        super().done(result)
