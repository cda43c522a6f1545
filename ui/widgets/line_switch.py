"""Which line the fields speak of: the common one, or intake and exhaust apart with values of their own."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QLabel, QPushButton, QToolButton, QVBoxLayout, QWidget

from loadbench.job.stated import LINES

if TYPE_CHECKING:
    from ui.session import Session


class LineSwitch(QWidget):
    """A row of three, and beneath it what can be done about the line that was pressed."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self._asked = session.line
        self.buttons = {name: self._button(name) for name in ("common", *LINES)}
        self._told = QLabel()
        self._told.setWordWrap(True)
        self._told.setProperty("role", "quiet")
        self.offer = QPushButton()
        self.offer.setObjectName("line_own_values")
        self.offer.setMinimumHeight(26)
        self.offer.clicked.connect(self._take_offer)
        self._lay_out()
        session.changed.connect(self._show)
        session.line_chosen.connect(self._line_chosen)
        self._show()

    def _names(self) -> dict[str, str]:
        return {"common": self.tr("Common"), "intake": self.tr("Intake"), "exhaust": self.tr("Exhaust")}

    def _button(self, name: str) -> QToolButton:
        button = QToolButton()
        button.setText(self._names()[name])
        button.setObjectName(f"line_{name}")
        button.setCheckable(True)
        button.setProperty("row", "units")
        button.setMinimumHeight(26)
        button.setToolTip(self.tr("Show the fields of this line: {line}").format(line=self._names()[name]))
        button.clicked.connect(lambda _=False: self.ask(name))
        return button

    def _lay_out(self) -> None:
        group = QButtonGroup(self)
        across = QHBoxLayout()
        across.setSpacing(0)
        for button in self.buttons.values():
            group.addButton(button)
            across.addWidget(button)
        across.addStretch(1)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(8, 6, 8, 4)
        rows.setSpacing(4)
        rows.addLayout(across)
        rows.addWidget(self._told)
        rows.addWidget(self.offer)

    def ask(self, name: str) -> None:
        """Show a line, or offer to make it."""
        self._asked = name
        self.session.choose_line(name)
        self._show()

    def _line_chosen(self, line: str) -> None:
        self._asked = line
        self._show()

    def _apart(self) -> bool:
        return self.session.state.analysis.has_lines

    def _own(self, name: str) -> bool:
        return name in LINES and getattr(self.session.state.job.lines, name) is not None

    def _show(self) -> None:
        if self._apart() and self._asked == "common":
            self._asked = self.session.line
        self.buttons["common"].setVisible(not self._apart())
        self.buttons[self._asked].setChecked(True)
        name = self._names()[self._asked].lower()
        told = self.tr("Its own values stand before the common ones.") if self._own(self._asked) else ""
        if self._asked in LINES and not self._own(self._asked):
            told = self.tr("The {line} takes the common values.").format(line=name)
        self._told.setText(told)
        self._told.setVisible(bool(told))
        give, drop = self.tr("Give the {line} its own values"), self.tr("Take the {line}'s own values out")
        self.offer.setAccessibleName((drop if self._own(self._asked) else give).format(line=name))
        short, shorter = self.tr("Give it its own values"), self.tr("Take its own values out")
        self.offer.setText(shorter if self._own(self._asked) else short)  # which line is told above
        self.offer.setVisible(self._asked in LINES)

    def _take_offer(self) -> None:
        asked, own = self._asked, self._own(self._asked)
        name = self._names()[asked].lower()
        give, drop = self.tr("give the {line} its own values"), self.tr("take the {line}'s own values out")
        self.session.set_fields((drop if own else give).format(line=name), {f"lines.{asked}": None if own else {}})
        self._asked = asked
        self.session.choose_line(asked)
        self._show()
