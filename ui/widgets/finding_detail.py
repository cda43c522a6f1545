"""What an opened finding adds: limit and who set it, margin, chance, what would clear it, what it waits for, source."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QWidget

from loadbench.analysis.figure import told
from ui.labels import label_of
from ui.let_go import let_go
from ui.level_words import house_words, source_words
from ui.widgets.finding_groups import chance_words, place_of
from ui.widgets.link import Link
from ui.widgets.wrapped_label import WrappedLabel

if TYPE_CHECKING:
    from collections.abc import Callable

    from loadbench.findings.finding import Finding
    from loadbench.units import Style


class FindingDetail(QWidget):
    """The rows beneath one finding; made when it is first opened."""

    def __init__(self, wanted: Callable[[str], object], rule_wanted: Callable[[str], object]) -> None:
        super().__init__()
        self._wanted, self._rule_wanted = wanted, rule_wanted
        self._rows = QGridLayout(self)
        self._rows.setContentsMargins(0, 2, 0, 2)
        self._rows.setHorizontalSpacing(8)
        self._rows.setVerticalSpacing(3)
        self._rows.setColumnStretch(1, 1)
        self._shown: tuple[tuple[Finding, ...], Style] | None = None

    def show_findings(self, findings: tuple[Finding, ...], style: Style) -> None:
        """Show the worst in full, and a sentence for each of the others."""
        if self._shown == (findings, style):
            return
        self._shown = (findings, style)
        self._clear()
        worst = findings[0]
        for name, text in self._facts(worst, style):
            self._row(name, WrappedLabel(text))
        rests = tuple(field for field in worst.about if field not in worst.missing)
        for title, fields in ((self.tr("Waits for"), worst.missing), (self.tr("Rests on"), rests)):
            for place, field in enumerate(dict.fromkeys(fields)):
                self._row(title if not place else "", self._link(field))
        for other in findings[1:]:
            self._row(place_of(other) or self.tr("Also"), WrappedLabel(other.sentence.told(style)))
        self._row(self.tr("Rule"), self._rule_link(worst))

    def _facts(self, finding: Finding, style: Style) -> list[tuple[str, str]]:
        rows = []
        kind = finding.value_kind
        if finding.limit is not None and kind is not None:
            limit = str(told(finding.limit, kind, style))
            whose = house_words(finding.house)
            rows.append((self.tr("Limit"), self.tr("{limit} ({whose})").format(limit=limit, whose=whose)))
            if finding.margin is not None:
                past = self.tr("past it by {margin}") if finding.margin < 0 else self.tr("{margin} to it")
                rows.append((self.tr("Margin"), past.format(margin=told(abs(finding.margin), kind, style))))
        if finding.chance is not None:
            chance = self.tr("{chance} of being past this limit").format(chance=chance_words(finding.chance))
            rows.append((self.tr("Chance"), chance))
        if finding.fix is not None:
            rows.append((self.tr("To clear it"), finding.fix.told(style)))
        rows.append((self.tr("Source"), source_words(finding.source)))
        return rows

    def _clear(self) -> None:
        while (item := self._rows.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                let_go(widget)

    def _row(self, name: str, widget: QWidget) -> None:
        row = self._rows.rowCount()
        label = WrappedLabel(name, role="quiet")
        label.setFixedWidth(self.fontMetrics().horizontalAdvance("To clear it xx"))
        beside = Qt.AlignmentFlag.AlignVCenter if isinstance(widget, Link) else Qt.AlignmentFlag.AlignTop
        self._rows.addWidget(label, row, 0, beside)
        self._rows.addWidget(widget, row, 1)

    def _link(self, field: str) -> Link:
        label = label_of(field)
        button = Link(label, self.tr("Go to {field}").format(field=label))
        button.setProperty("field", field)
        button.clicked.connect(lambda: self._wanted(field))
        return button

    def _rule_link(self, finding: Finding) -> Link:
        name = self.tr("Open {rule} in the rule book").format(rule=finding.title)
        button = Link(self.tr("Open in the rule book"), name)
        button.setProperty("rule", finding.id)
        button.clicked.connect(lambda: self._rule_wanted(finding.id))
        return button
