"""The figures strip: the line's key figures side by side, each a button to its formula."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPoint, QSize, Signal
from PySide6.QtWidgets import QGridLayout, QSizePolicy, QWidget
from typing_extensions import override

from ui.let_go import let_go
from ui.state import Pointing
from ui.widgets.figure_button import FigureButton
from ui.widgets.formula_pane import FormulaPane
from ui.widgets.key_figures import key_figure, key_names

if TYPE_CHECKING:
    from PySide6.QtGui import QResizeEvent

    from ui.session import Session

SPACING = 4


class FiguresStrip(QWidget):
    """The key figures of the line on show, in as few rows as the width allows."""

    field_wanted = Signal(str)

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("figures_strip")
        self.setAccessibleName(self.tr("Key figures"))
        self.session = session
        self.pane: FormulaPane | None = None
        self.buttons: list[FigureButton] = []
        self._wanted: tuple[str, ...] = ()  # by the page
        self._columns = 0
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setSpacing(SPACING)
        # A narrower strip takes more rows; the row of now must not hold the window wide.
        self._grid.setSizeConstraint(QGridLayout.SizeConstraint.SetNoConstraint)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        for signal in (session.changed, session.styled, session.line_chosen):
            signal.connect(self._show)
        session.pointed.connect(self._light)
        self._show()

    def show_names(self, names: tuple[str, ...]) -> None:
        """Show these figures of a page, as far as the line has them; none: those of the bench."""
        if names != self._wanted:
            self._wanted = names
            self._show()

    def _show(self, _what: object = None) -> None:
        analysis, line = self.session.state.analysis, self.session.line
        names = key_names(analysis, line, self._wanted)
        figures = [key_figure(analysis, line, name, self.session.style) for name in names]
        while len(self.buttons) > len(figures):
            button = self.buttons.pop()
            self._grid.removeWidget(button)
            button.hide()
            let_go(button)
            self._columns = 0
        for place, figure in enumerate(figures):
            if place == len(self.buttons):
                self._add(FigureButton(figure, self))
            self.buttons[place].show_figure(figure)
        self._arrange()

    def _add(self, button: FigureButton) -> None:
        button.clicked.connect(lambda: self.open_formula(button.figure.name))
        button.pointed.connect(lambda on: self._point(button, on))
        self.buttons.append(button)
        self._columns = 0

    # As few rows as the width allows

    def _arrange(self) -> None:
        count = len(self.buttons)
        widths = [button.needed_width() for button in self.buttons]
        columns = next((-(-count // rows) for rows in range(1, count) if self._fits(widths, -(-count // rows))), 1)
        if columns == self._columns:
            return
        self._columns = columns
        for place, button in enumerate(self.buttons):
            self._grid.addWidget(button, place // columns, place % columns)
        for column in range(max(count, self._grid.columnCount())):  # more of them before have left their columns
            self._grid.setColumnStretch(column, 1 if column < columns else 0)
        self.updateGeometry()

    def _fits(self, widths: list[int], columns: int) -> bool:
        across = sum(max(widths[column::columns]) for column in range(columns))
        return across + SPACING * (columns - 1) <= self.width()

    @override
    def minimumSizeHint(self) -> QSize:
        widest = max(button.needed_width() for button in self.buttons)
        return QSize(widest, self._grid.minimumSize().height())

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._arrange()

    # Pointing and opening

    def _point(self, button: FigureButton, on: bool) -> None:
        self.session.point_at(Pointing(figures=(button.figure.name,), line=self.session.line) if on else Pointing())

    def _light(self, pointing: Pointing) -> None:
        for button in self.buttons:
            button.light(button.figure.name in pointing.figures)

    def open_formula(self, name: str) -> FormulaPane:
        """Open the formula of a figure of the line on show, above its button."""
        if self.pane is None:
            self.pane = FormulaPane(self.session, self)
            self.pane.field_wanted.connect(self._want)
        self.pane.show_figure(name)
        button = next((button for button in self.buttons if button.figure.name == name), None)
        self.pane.resize(self.pane.sizeHint())
        if button is not None:
            corner = button.mapToGlobal(QPoint(0, -self.pane.height() - SPACING))
            screen = self.screen().availableGeometry()
            x = max(screen.left(), min(corner.x(), screen.right() - self.pane.width()))
            self.pane.move(x, max(screen.top(), corner.y()))
        self.pane.show()
        return self.pane

    def _want(self, field: str) -> None:
        self.session.point_at(Pointing(fields=(field,)))
        self.field_wanted.emit(field)
