"""The row of choices above a search: wire, stock, how the spring is made, which further limits are held."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication, Qt, Signal
from PySide6.QtWidgets import QCheckBox, QComboBox, QHBoxLayout, QLabel, QWidget
from typing_extensions import override

from loadbench.assembly.spring_wanted import Choices
from loadbench.spring.materials import materials
from loadbench.spring.wires import ALL
from loadbench.units import Style
from ui.spring.wording import tr
from ui.widgets.flow_bar import FlowBar

if TYPE_CHECKING:
    from PySide6.QtGui import QWheelEvent

OF_STYLE = {Style.METRIC: "metric", Style.INCH_POUND: "inch"}
"""The stock wires that a style of units starts with."""


class _List(QComboBox):
    """The wheel over it changes nothing unless it has the focus."""

    @override
    def wheelEvent(self, event: QWheelEvent) -> None:
        if self.hasFocus():
            super().wheelEvent(event)
        else:
            event.ignore()


class SearchChoices(FlowBar):
    """Tells when the user has changed one of them."""

    changed = Signal()

    def __init__(self, style: Style, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("search_choices")
        self.material = self._list("search_material", tr("Wire"), tr("The material of the wire."))
        for each in materials().values():
            self.material.addItem(QCoreApplication.translate("Materials", each.label), each.name)
        self.stock = self._list("search_stock", tr("Stock"), tr("Which list of stock wire sizes is searched."))
        for word, key in ((tr("metric"), "metric"), (tr("inch"), "inch"), (tr("all"), ALL)):
            self.stock.addItem(word, key)
        self.stock.setCurrentIndex(self.stock.findData(OF_STYLE[style]))
        self.peened = self._box("search_peened", tr("Peened"), tr("The spring is shot peened: it lasts longer."))
        self.preset = self._box(
            "search_preset", tr("Preset"), tr("Set is taken out beforehand: the wire may be stressed higher.")
        )
        self.surge = self._box(
            "search_surge",
            tr("Hold the surge limit"),
            tr("Only springs whose first mode keeps the rule book's ratio at the speed limit; few race springs do."),
        )
        self.fatigue = self._box(
            "search_fatigue",
            tr("Hold the fatigue limit"),
            tr("Only springs that keep the rule book's fatigue factor by Goodman."),
        )

    def _list(self, name: str, label: str, tip: str) -> QComboBox:
        pair, word, chosen = QWidget(), QLabel(label), _List()
        chosen.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        chosen.setObjectName(name)
        chosen.setAccessibleName(label)
        chosen.setToolTip(tip)
        chosen.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        word.setBuddy(chosen)
        row = QHBoxLayout(pair)
        row.setContentsMargins(0, 0, 6, 0)
        row.setSpacing(6)
        row.addWidget(word)
        row.addWidget(chosen)
        self.add(pair)
        chosen.activated.connect(self._tell)
        return chosen

    def _box(self, name: str, word: str, tip: str) -> QCheckBox:
        box = QCheckBox(word)
        box.setObjectName(name)
        box.setToolTip(tip)
        box.setMinimumHeight(26)
        box.clicked.connect(self._tell)
        self.add(box)
        return box

    def _tell(self, *_: object) -> None:
        self.changed.emit()

    @property
    def stock_style(self) -> str:
        """Which stock wires are searched."""
        return str(self.stock.currentData())

    @property
    def choices(self) -> Choices:
        """What is chosen."""
        return Choices(
            material=str(self.material.currentData()),
            peened=self.peened.isChecked(),
            preset=self.preset.isChecked(),
            hold_surge=self.surge.isChecked(),
            hold_fatigue=self.fatigue.isChecked(),
        )

    def put(self, choices: Choices) -> None:
        """Show these choices; nobody is told."""
        self.material.setCurrentIndex(self.material.findData(choices.material))
        self.peened.setChecked(choices.peened)
        self.preset.setChecked(choices.preset)
        self.surge.setChecked(choices.hold_surge)
        self.fatigue.setChecked(choices.hold_fatigue)
