"""A card that folds: a head to press, and a body that is built when it is first opened."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import QFrame, QSizePolicy, QToolButton, QVBoxLayout, QWidget

from ui.icons import icon
from ui.theme import theme

Build = Callable[[], Iterable[QWidget]]


def takes_focus(widget: QWidget) -> bool:
    """Whether Tab can come to a widget."""
    return bool(widget.focusPolicy() & Qt.FocusPolicy.TabFocus)


def chained(within: QWidget) -> list[QWidget]:
    """The widgets inside one, in the focus order."""
    found: list[QWidget] = []
    widget = within.nextInFocusChain()
    while widget is not None and widget is not within:
        if within.isAncestorOf(widget):
            found.append(widget)
        widget = widget.nextInFocusChain()
    return found


class Card(QFrame):
    """A titled group of fields; inner cards are drawn lighter."""

    toggled = Signal(bool)

    def __init__(self, title: str, build: Build, *, opened: bool = False, inner: bool = False, name: str = "") -> None:
        super().__init__()
        self.title = title
        self._build: Build | None = build
        self.head = QToolButton()
        self.head.setObjectName(f"card_{name or title.lower().replace(' ', '_')}")
        self.head.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        self.head.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.head.setIconSize(QSize(16, 16))
        self.head.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.head.setMinimumHeight(26)
        font = self.head.font()
        font.setBold(not inner)
        self.head.setFont(font)
        self.head.clicked.connect(lambda _=False: self.set_open(not self.opened))
        self.body = QWidget()
        self.rows = QVBoxLayout(self.body)
        self.rows.setContentsMargins(8 if inner else 2, 0, 2, 6)
        self.rows.setSpacing(2)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addWidget(self.head)
        whole.addWidget(self.body)
        self._made = False  # what is built with the card comes in its order by itself
        self.opened: bool = not opened
        theme().changed.connect(self._draw)
        self.set_open(opened)
        self._made = True

    def set_title(self, title: str) -> None:
        """Rename the card."""
        self.title = title
        self._draw()

    def build(self) -> None:
        """Build the body now, if it isn't there."""
        build, self._build = self._build, None
        if build is None:
            return
        for widget in build():
            self.rows.addWidget(widget)
        if self._made:
            self.take_focus_after(self.head)

    def take_focus_after(self, before: QWidget) -> None:
        """Put the body's inputs after a widget in the focus order; what is built late would else come last."""
        for widget in [each for each in chained(self) if each is not self.head and takes_focus(each)]:
            QWidget.setTabOrder(before, widget)
            before = widget

    def last_input(self) -> QWidget:
        """The last of the card in the focus order."""
        if self._build is not None:
            return self.head
        return next((each for each in reversed(chained(self)) if takes_focus(each)), self.head)

    def set_open(self, opened: bool) -> None:
        """Open or fold; what is folded keeps its values."""
        if opened == self.opened:
            return
        self.opened = opened
        if opened:
            self.build()
        self.body.setVisible(opened)
        self._draw()
        self.toggled.emit(opened)

    def _draw(self) -> None:
        self.head.setText(self.title)
        self.head.setIcon(icon("fold-open" if self.opened else "fold-shut", "quiet"))
        state = self.tr("open") if self.opened else self.tr("folded")
        self.head.setAccessibleName(self.tr("{title}, {state}").format(title=self.title, state=state))
