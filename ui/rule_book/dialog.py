"""The rule book: rules by group to the left, the one chosen to the right."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import (
    QDialog,
    QHBoxLayout,
    QHeaderView,
    QPushButton,
    QSplitter,
    QTreeWidget,
    QTreeWidgetItem,
    QVBoxLayout,
    QWidget,
)

from loadbench.findings.rulebook import program_rules
from loadbench.findings.shop import shop_path
from ui.let_go import let_go
from ui.rule_book.houses import House, Houses
from ui.rule_book.rule_view import RuleView
from ui.state import Pointing
from ui.widgets.wrapped_label import WrappedLabel

if TYPE_CHECKING:
    from ui.session import Session

RULE = Qt.ItemDataRole.UserRole


class RuleBookDialog(QDialog):
    """Stands beside the work and follows it."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("rule_book")
        self.setWindowTitle(self.tr("Rule book"))
        self.session = session
        self.houses = Houses(session)
        self.houses.setParent(self)
        self.view: RuleView | None = None
        self._in_force = self.houses.in_force
        self.tree = QTreeWidget()
        self.tree.setObjectName("rules")
        self.tree.setAccessibleName(self.tr("Rules by group"))
        self.tree.setColumnCount(2)
        self.tree.setHeaderLabels([self.tr("Rule"), self.tr("Changed by")])
        self.tree.setMinimumWidth(self._tree_width())
        self.tree.setIndentation(14)
        self.tree.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.tree.header().setStretchLastSection(False)
        self.tree.header().setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        self.tree.header().setSectionResizeMode(1, QHeaderView.ResizeMode.ResizeToContents)
        self.tree.setRootIsDecorated(False)
        self._items = self._fill()
        self.refused = WrappedLabel(role="stop")
        self._splitter = QSplitter(Qt.Orientation.Horizontal)
        self._splitter.addWidget(self.tree)
        self._lay_out()
        self.tree.currentItemChanged.connect(self._choose)
        self.houses.refused.connect(self._refuse)
        session.changed.connect(self._refresh)
        session.styled.connect(self._rebuild)
        session.line_chosen.connect(self._refresh)
        self._refresh()
        self.show_rule(next(iter(self._items)))
        self.resize(1000, 620)

    def _tree_width(self) -> int:
        """Room for the longest title beside who changed it."""
        metrics = self.fontMetrics()
        longest = max(metrics.horizontalAdvance(self.tr(rule.title)) for rule in program_rules().values())
        return min(longest, metrics.averageCharWidth() * 48) + metrics.horizontalAdvance(self.tr("Changed by")) + 80

    def _lay_out(self) -> None:
        close = QPushButton(self.tr("Close"))
        close.clicked.connect(self.close)
        close.setAutoDefault(False)
        where = self.tr("Limits are common practice unless a source is named. The shop\u2019s are kept in {file}.")
        foot = QHBoxLayout()
        foot.addWidget(WrappedLabel(where.format(file=shop_path().name), role="quiet"), 1)
        foot.addWidget(close)
        whole = QVBoxLayout(self)
        whole.addWidget(self._splitter, 1)
        whole.addWidget(self.refused)
        whole.addLayout(foot)

    def _fill(self) -> dict[str, QTreeWidgetItem]:
        groups: dict[str, QTreeWidgetItem] = {}
        items = {}
        for rule in program_rules().values():
            if rule.group not in groups:
                groups[rule.group] = QTreeWidgetItem(self.tree, [self.tr(rule.group)])
                groups[rule.group].setFlags(Qt.ItemFlag.ItemIsEnabled)
                groups[rule.group].setExpanded(True)
            items[rule.id] = QTreeWidgetItem(groups[rule.group], [self.tr(rule.title)])
            items[rule.id].setData(0, RULE, rule.id)
            items[rule.id].setToolTip(0, rule.title)
            items[rule.id].setSizeHint(0, QSize(0, max(24, self.fontMetrics().height() + 6)))
        return items

    # Showing

    def show_rule(self, rule: str) -> None:
        """Turn to a rule; an unknown one leaves the book where it is open."""
        item = self._items.get(rule)
        if item is not None:
            self.tree.setCurrentItem(item)
            self.tree.scrollToItem(item)

    def _choose(self, item: QTreeWidgetItem | None) -> None:
        rule = None if item is None else program_rules().get(item.data(0, RULE))
        if rule is None or (self.view is not None and self.view.rule.id == rule.id):
            return
        self._replace(RuleView(self.session, self.houses, rule))
        self.session.point_at(Pointing(rule=rule.id))

    def _replace(self, view: RuleView) -> None:
        old, self.view = self.view, view
        if old is not None:
            self._splitter.replaceWidget(1, view)
            self.houses.outcome.disconnect(old.show_outcome)
            old.hide()
            let_go(old)
        else:
            self._splitter.addWidget(view)
            self._splitter.setStretchFactor(1, 1)

    def _refresh(self, _what: object = None) -> None:
        words = {House.SHOP: self.tr("shop"), House.JOB: self.tr("job")}
        for rule, item in self._items.items():
            item.setText(1, ", ".join(words[house] for house in House if rule in self.houses.rules(house)))
        if self.view is None:
            return
        if self.houses.in_force != self._in_force and self.view.rule.alternatives:
            self._replace(RuleView(self.session, self.houses, self.view.rule))
        self._in_force = self.houses.in_force
        self.view.refresh()

    def _rebuild(self, _style: object = None) -> None:
        if self.view is not None:
            self.view.refresh()
            self.view.show_outcome(None)

    def _refuse(self, why: str) -> None:
        self.refused.tell(why)
        if why:
            self.session.announce(why)
