"""The way back from a line's own value to the common one."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QPushButton

from ui.labels import label_of

if TYPE_CHECKING:
    from ui.session import Session
    from ui.widgets.own_value import Standing


class BackButton(QPushButton):
    """Shown where the line on show has its own entry; takes it out, so that the common one holds again."""

    def __init__(self, session: Session, field: str) -> None:
        super().__init__()
        self.session, self.field = session, field
        self._empty: object = None
        self.setText(self.tr("Back to the common value"))
        self.setAccessibleName(self.tr("{label}: back to the common value").format(label=label_of(field)))
        self.setToolTip(self.tr("Take this line's own value out; the common one holds again"))
        self.setMinimumHeight(26)
        self.setVisible(False)
        self.clicked.connect(self._give_back)

    def follow(self, found: Standing) -> None:
        """Show the button where there is something to give back."""
        self._empty = () if isinstance(found.value, tuple) else None
        self.setVisible(found.overriding)

    def _give_back(self) -> None:
        text = self.tr("take the common value of {field}").format(field=label_of(self.field).lower())
        self.session.set_fields(text, {self.session.own_field(self.field): self._empty})
