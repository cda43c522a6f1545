"""The window of Help: topics to the left, the text to the right."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QHBoxLayout, QListWidget, QListWidgetItem, QTextBrowser, QWidget

from ui.help.topics import TOPICS, text_of, title_of

_TOPIC = Qt.ItemDataRole.UserRole


class HelpDialog(QDialog):
    """Shows one topic; the others are a click or an arrow key away."""

    def __init__(self, window: QWidget, topic: str) -> None:
        super().__init__(window)
        self.setObjectName("help_dialog")
        self.setWindowTitle(self.tr("Help"))
        self.list = QListWidget()
        self.list.setAccessibleName(self.tr("Topics"))
        self.list.setFixedWidth(220)
        self.list.setWordWrap(True)
        self.text = QTextBrowser()
        self.text.setAccessibleName(self.tr("Text of the topic"))
        self.text.setOpenLinks(False)
        for name in TOPICS:
            item = QListWidgetItem(title_of(name))
            item.setData(_TOPIC, name)
            self.list.addItem(item)
        self.list.currentItemChanged.connect(self._show)
        row = QHBoxLayout(self)
        row.addWidget(self.list)
        row.addWidget(self.text, 1)
        self.list.setCurrentRow(TOPICS.index(topic) if topic in TOPICS else 0)
        self.resize(860, 600)

    @property
    def topic(self) -> str:
        """The topic on show."""
        return str(self.list.currentItem().data(_TOPIC))

    def _show(self, item: QListWidgetItem) -> None:
        self.text.setMarkdown(text_of(item.data(_TOPIC)))
