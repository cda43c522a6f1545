"""The text field that offers the words it knows; what is typed beside them stays as typed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QModelIndex, QObject, QRect, Qt
from PySide6.QtGui import QKeyEvent, QStandardItem, QStandardItemModel
from PySide6.QtWidgets import QCompleter, QListView, QWidget
from typing_extensions import override

from ui.field_words import KnownWord, words_known
from ui.widgets.entry_edit import EntryEdit

if TYPE_CHECKING:
    from collections.abc import Iterable

    from ui.session import Session

MOST_ROWS = 10
_TAKES = (Qt.Key.Key_Return, Qt.Key.Key_Enter)


class KnownWordEdit(EntryEdit):
    """Typing offers what contains it, Down offers all; Enter or a click takes a word, Escape leaves the text alone.

    The list only watches this line: were it the line's own completer, it would write each word it passes over.
    """

    def __init__(self, session: Session, field: str, parent: QWidget | None = None) -> None:
        self._known = words_known(field)
        self._offer: QCompleter | None = None
        self._list: QListView | None = None
        super().__init__(session, field, parent)

    @property
    def offer(self) -> QCompleter:
        """The list of words, made when it is first wanted."""
        if self._offer is None:
            self._offer = self._made()
        return self._offer

    def _made(self) -> QCompleter:
        made = QCompleter(self)
        made.setModel(_model(self._known, made))
        made.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        made.setFilterMode(Qt.MatchFlag.MatchContains)
        made.setMaxVisibleItems(MOST_ROWS)
        made.setWrapAround(False)
        made.setWidget(self)
        made.setPopup(self.word_list)
        made.activated.connect(self.choose)
        return made

    @property
    def word_list(self) -> QListView:
        """What the words stand in."""
        if self._list is None:
            self._list = QListView()
            self._list.setObjectName("known_words")
            self._list.setAccessibleName(self.tr("Words for {field}").format(field=self.accessibleName()))
            self._list.setEditTriggers(QListView.EditTrigger.NoEditTriggers)
            self._list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        return self._list

    @property
    def offering(self) -> bool:
        """Whether the list stands open."""
        return self._list is not None and self._list.isVisible()

    @override
    def _typed(self, text: str) -> None:
        super()._typed(text)
        self._show_words(text.strip())

    def _show_words(self, part: str) -> None:
        """The words that contain a text; no list where there is none, or nothing but the text itself."""
        fitting = [each.text for each in self._known if part.lower() in each.text.lower()]
        if part and fitting and [each.lower() for each in fitting] != [part.lower()]:
            self._open(part)
        elif self.offering:
            self.word_list.hide()

    def _show_all(self) -> None:
        """What Down shows: the words around what is typed, else all; the first or the present one is ready to take."""
        text = self.text().strip().lower()
        words = [each.text.lower() for each in self._known]
        part = text if text not in words and any(text in word for word in words) else ""
        self._open(part)
        place = words.index(text) if not part and text in words else 0
        self.word_list.setCurrentIndex(self.offer.completionModel().index(place, 0))

    def _open(self, part: str) -> None:
        self.offer.setCompletionPrefix(part)
        self.word_list.setCurrentIndex(QModelIndex())
        bar = self.word_list.verticalScrollBar().sizeHint().width() + 2 * self.word_list.frameWidth()
        width = max(self.width(), self.word_list.sizeHintForColumn(0) + bar)  # no word is cut, however narrow the field
        self.offer.complete(QRect(0, 0, width, self.height()))

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        if self.offering and (key == Qt.Key.Key_Escape or (key in _TAKES and self._chosen_one)):
            event.ignore()  # the list's own: it closes, or gives its word
            return
        if self.offering and key in _TAKES:
            self.word_list.hide()
        if key == Qt.Key.Key_Down and not self.offering:
            self._show_all()
            return
        super().keyPressEvent(event)

    @property
    def _chosen_one(self) -> bool:
        return self.word_list.currentIndex().isValid()


def _model(known: Iterable[KnownWord], parent: QObject) -> QStandardItemModel:
    model = QStandardItemModel(parent)
    for each in known:
        item = QStandardItem(each.text)
        item.setEditable(False)
        if each.meaning:
            item.setToolTip(each.meaning)
            item.setData(each.meaning, Qt.ItemDataRole.AccessibleDescriptionRole)
        model.appendRow(item)
    return model
