"""The three columns: what is stated, the page's one picture, what it means; and the figures beneath."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QByteArray, QSize, Qt, Signal
from PySide6.QtWidgets import QSplitter, QStackedWidget, QVBoxLayout, QWidget
from typing_extensions import override

from ui import composition
from ui.composition import PageKind
from ui.drawer import Drawer
from ui.let_go import let_go
from ui.session import Session

if TYPE_CHECKING:
    from PySide6.QtGui import QResizeEvent

LEFT, RIGHT, PICTURE = 300, 320, 560
NARROW = 1100


class Pages(QStackedWidget):
    """The pages; only the one on show says how much room is needed."""

    @override
    def minimumSizeHint(self) -> QSize:
        page = self.currentWidget()
        return page.minimumSizeHint() if page is not None else QSize()


class Shell(QWidget):
    """Holds one of each panel; the pages share them, so that changing the page moves nothing else.

    `late`: only the first page is made at once, so that the window is soon there; the others when first wanted.
    """

    built = Signal(int)

    def __init__(self, session: Session, kinds: tuple[PageKind, ...], *, late: bool = False) -> None:
        super().__init__()
        self.kinds = kinds
        self._session = session
        self._unbuilt: set[int] = set(range(1, len(kinds))) if late else set()
        self._narrow = False
        self._opened = RIGHT
        self.stack = Pages()
        self.stack.setMinimumWidth(360)
        for index, kind in enumerate(kinds):
            self.stack.addWidget(QWidget() if index in self._unbuilt else kind.make(session))
        self.stated = composition.stated_panel(session)
        self.findings = composition.findings_panel(session)
        self.figures = composition.figures_strip(session)
        self._splitter = QSplitter(Qt.Orientation.Horizontal)
        for panel in (self.stated, self.stack, self.findings):
            self._splitter.addWidget(panel)
            self._splitter.setCollapsible(self._splitter.count() - 1, False)
        self._splitter.setStretchFactor(1, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 6, 8, 6)
        column.setSpacing(6)
        column.addWidget(self._splitter, 1)
        column.addWidget(self.figures)
        self.drawer = Drawer(self.findings, self)
        self.reset()

    @property
    def page(self) -> QWidget:
        """The page on show."""
        return self.stack.currentWidget()

    @property
    def kind(self) -> PageKind:
        """What page is on show."""
        return self.kinds[self.stack.currentIndex()]

    def show_page(self, name: str) -> None:
        """Show a page by name; an unknown name shows the first."""
        index = next((index for index, kind in enumerate(self.kinds) if kind.name == name), 0)
        self._build(index)
        self.stack.setCurrentIndex(index)
        self.stack.updateGeometry()
        self.stated.setVisible(self.kinds[index].stated)
        self.figures.show_names(self.kinds[index].figures)
        self.figures.setVisible(self.kinds[index].stated)
        self.findings.put_first(self.kinds[index].first)
        self.findings.setVisible(self.kinds[index].findings)
        if not self.kinds[index].findings:
            self.drawer.shut()

    def build_next(self) -> bool:
        """Make one of the pages that are not made yet; False where there is none."""
        if self._unbuilt:
            self._build(min(self._unbuilt))
        return bool(self._unbuilt)

    def complete(self) -> None:
        """Make every page that is not made yet."""
        while self.build_next():
            pass

    def _build(self, index: int) -> None:
        if index not in self._unbuilt:
            return
        self._unbuilt.remove(index)
        empty = self.stack.widget(index)
        self.stack.insertWidget(index, self.kinds[index].make(self._session))
        if empty is not None:
            self.stack.removeWidget(empty)
            let_go(empty)
        self.built.emit(index)

    def reset(self) -> None:
        """The columns as they come."""
        self._splitter.setSizes([LEFT, PICTURE, RIGHT])

    def splitters(self) -> QByteArray:
        """Where the splitters stand, for the settings."""
        return self._splitter.saveState()

    def restore(self, splitters: QByteArray) -> None:
        """Put the splitters where they stood."""
        if not splitters.isEmpty():
            self._splitter.restoreState(splitters)

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.drawer.place()
        narrow = event.size().width() < NARROW
        if narrow != self._narrow:
            self._narrow = narrow
            self._fold(folded=narrow)

    def _fold(self, *, folded: bool) -> None:
        """Fold the meaning to its counts, or open it; what it gives or takes, the picture takes or gives."""
        left, picture, right = self._splitter.sizes()
        self._opened = right if folded else self._opened
        if folded:
            self.findings.set_folded(True)
            self.drawer.take_list()
        else:
            self.drawer.give_back()
            self.findings.set_folded(False)
        wanted = self.findings.maximumWidth() if folded else self._opened
        self._splitter.setSizes([left, picture + right - wanted, wanted])
