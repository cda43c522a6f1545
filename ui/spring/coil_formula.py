"""The formula pane on a coil's figure: the same pane, with the numbers of one coil of the nest."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from typing_extensions import override

from ui.spring.wording import tr
from ui.widgets.formula_pane import FormulaPane

if TYPE_CHECKING:
    from PySide6.QtGui import QHideEvent
    from PySide6.QtWidgets import QWidget

    from loadbench.analysis.figure import Figure
    from ui.session import Session


class CoilFormulaPane(FormulaPane):
    """Looks a figure up in a coil first, then in the line: a coil's figures rest on both."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        self.coil = ""
        super().__init__(session, parent)

    def show_coil_figure(self, coil: str, name: str) -> None:
        """Show a figure of a coil of the line on show; the way back begins here."""
        self.coil = coil
        self.show_figure(name)

    @property
    @override
    def figure(self) -> Figure | None:
        """The figure on show as it stands now, named after its coil where there are several."""
        line = self.session.state.analysis.line(self.session.line)
        coil = next((each for each in line.coils if each.name == self.coil), None)
        own = None if coil is None else coil.figures.get(self.name)
        if own is None:
            return super().figure
        if len(line.coils) < 2:
            return own
        return replace(own, label=tr("{figure}, {coil}").format(figure=own.label, coil=self.coil))

    @override
    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        if not event.spontaneous():
            self.name = ""  # put away, it follows no edit
