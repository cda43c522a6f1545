"""What the slip means: how many pass, which to test again, then why; the strip list, bins and past as further lists."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import (
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)
from typing_extensions import override

from ui.icons import level_pixmap
from ui.let_go import let_go
from ui.theme import theme
from ui.trust.count_row import CountRow
from ui.trust.entries import entries_of
from ui.trust.entry_list import EntryList
from ui.trust.facts import Fact, facts_of, headline
from ui.trust.list_table import ListTable
from ui.trust.lists import bins, past_checks, strip_list
from ui.trust.word_row import WordRow
from ui.widgets.flow_bar import FlowBar
from ui.widgets.link import Link
from ui.widgets.wrapped_label import WrappedLabel

if TYPE_CHECKING:
    from loadbench.findings.set_check.result import SetCheck
    from ui.session import Session

MOST_NAMED = 12
FACTS = 5
LEAST, WIDE, FOLDED = 290, 310, 112
MOST_WIDE = 16777215  # Qt's own


class Wrapping(QWidget):
    """Holds what wraps."""

    @override
    def minimumSizeHint(self) -> QSize:
        """For the width of now: Qt would reckon with everything wrapped as in the narrowest panel."""
        least, layout = super().minimumSizeHint(), self.layout()
        height = least.height() if layout is None else layout.minimumHeightForWidth(max(self.width(), least.width()))
        return QSize(least.width(), height)


class MeaningSide(Wrapping):
    """Follows the page; folded it shows but its counts."""

    entry_pressed = Signal(object)  # Entry
    spring_wanted = Signal(str)
    springs_lit = Signal(tuple)
    level_asked = Signal(object)  # Level
    field_wanted = Signal(str)

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.check: SetCheck | None = None
        self.setObjectName("trust_meaning")
        self._head_fact: Fact | None = None
        self._facts: list[tuple[QWidget, QLabel, WrappedLabel]] = []
        self._shown: list[Fact] = []
        self._again_names: tuple[str, ...] | None = None
        self._make()
        self._lay_out()
        self._connect()
        self.set_folded(folded=False)

    def _make(self) -> None:
        tr = self.tr
        self._sign, self.head = QLabel(), WrappedLabel(role="heading")
        self.head.setObjectName("trust_headline")
        self.counts = CountRow()
        self.again = Wrapping()
        QHBoxLayout(self.again).setContentsMargins(0, 0, 0, 0)
        self.to_spec = Link(tr("Go to the spec"), tr("Go to the loads of the spring\u2019s sheet"))
        self.words = WordRow(
            "trust_lists",
            (
                ("why", tr("Why"), tr("The doubts, then the springs that fail")),
                ("order", tr("Order"), tr("The springs as they are laid out, in cylinder order")),
                ("bins", tr("Bins"), tr("Springs of nearly one load together")),
                ("past", tr("Past"), tr("The earlier checks of these springs")),
            ),
        )
        self.entries = EntryList()
        self.order = ListTable("trust_order", tr("Strip list"))
        self.bins = ListTable("trust_bins", tr("Bins"), wrapped=True)
        self.past = ListTable("trust_past", tr("Earlier checks"))
        self.copy_button = QPushButton(tr("Copy list"))
        self.copy_button.setObjectName("trust_copy_list")
        self.copy_button.setToolTip(tr("Copy the list with its heads, for a spreadsheet or for paper"))
        self.copy_button.setMinimumHeight(26)
        self.fold_button = QPushButton()
        self.fold_button.setObjectName("trust_fold")
        self.fold_button.setMinimumHeight(26)

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.setSpacing(6)
        head.addWidget(self._sign, 0, Qt.AlignmentFlag.AlignTop)
        head.addWidget(self.head, 1)
        self.body = Wrapping()
        rows = QVBoxLayout(self.body)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(3)
        rows.addWidget(self.again)
        for _ in range(FACTS):
            rows.addWidget(self._fact_row())
        rows.addWidget(self.to_spec)
        rows.addSpacing(4)
        rows.addWidget(self.words)
        self.stack = QStackedWidget()
        for part in (self.entries, self.order, self.bins, self.past):
            self.stack.addWidget(part)
        rows.addWidget(self.stack, 1)
        rows.addWidget(self.copy_button)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(4, 0, 0, 0)
        whole.setSpacing(4)
        whole.addLayout(head)
        whole.addWidget(self.counts)
        whole.addWidget(self.fold_button)
        whole.addWidget(self.body, 1)
        self._filler = QFrame()
        whole.addWidget(self._filler, 1)

    def _fact_row(self) -> QWidget:
        row, sign, text = QWidget(), QLabel(), WrappedLabel()
        sign.setFixedWidth(18)
        cells = QGridLayout(row)
        cells.setContentsMargins(0, 0, 0, 0)
        cells.setHorizontalSpacing(6)
        cells.addWidget(sign, 0, 0, Qt.AlignmentFlag.AlignTop)
        cells.addWidget(text, 0, 1)
        cells.setColumnStretch(1, 1)
        self._facts.append((row, sign, text))
        return row

    def _connect(self) -> None:
        self.counts.asked.connect(self.level_asked)
        self.words.chosen.connect(self._turn)
        self.entries.pressed.connect(self.entry_pressed)
        self.to_spec.clicked.connect(lambda: self.field_wanted.emit("spring.spec"))
        self.copy_button.clicked.connect(lambda _=False: self.copy_list())
        self.fold_button.clicked.connect(lambda _=False: self.set_folded(folded=not self.folded))
        for table in (self.order, self.bins, self.past):
            table.went.connect(self.springs_lit)
            table.copied.connect(self._copied)
        theme().changed.connect(self._draw)

    # Folding

    def set_folded(self, *, folded: bool) -> None:
        """Show but the counts, or all."""
        self.folded = folded
        self.body.setVisible(not folded)
        self._filler.setVisible(folded)
        self._size()
        self.fold_button.setText(self.tr("Why") if folded else self.tr("Fold"))
        tip = self.tr("Show the doubts and the lists") if folded else self.tr("Show but the counts")
        self.fold_button.setToolTip(tip)
        self.fold_button.setAccessibleName(tip)

    def _size(self) -> None:
        """Folded as wide as its counts."""
        least = max(FOLDED, self.counts.minimumSizeHint().width() + 8) if self.folded else LEAST
        self.setMinimumWidth(least)
        self.setMaximumWidth(least + 20 if self.folded else MOST_WIDE)

    def let_fold(self, *, narrow: bool) -> None:
        """In a narrow page the panel can be folded, and comes folded."""
        self.fold_button.setVisible(narrow)
        self.set_folded(folded=narrow)

    @override
    def sizeHint(self) -> QSize:
        return QSize(FOLDED if self.folded else WIDE, super().sizeHint().height())

    # Showing

    def show_check(self, check: SetCheck) -> None:
        """Tell another state of the set."""
        self.check = check
        self._head_fact = headline(check)
        self.head.tell(self._head_fact.text)
        self.counts.show_check(check)
        self._size()
        self._show_again(check.test_again)
        self._show_facts(facts_of(check, self.session.style))
        self.to_spec.setVisible(not check.windows)
        self._show_list()
        self._draw()

    def _show_again(self, names: tuple[str, ...]) -> None:
        """The springs to test again, each a way to its row."""
        if names == self._again_names:
            return
        self._again_names = names
        layout = self.again.layout()
        if layout is None:
            return
        while (item := layout.takeAt(0)) is not None:
            old = item.widget()
            if old is not None:
                old.hide()
                let_go(old)
        self.again.setVisible(bool(names))
        if names:
            bar = self._links(names)
            layout.addWidget(bar)
            before: QWidget = self.fold_button  # what is made late would come last in the focus order
            for link in bar.findChildren(Link):
                QWidget.setTabOrder(before, link)
                before = link

    def _links(self, names: tuple[str, ...]) -> QWidget:
        bar = FlowBar()
        label = QLabel(self.tr("Test again:"))
        label.setProperty("role", "heading")
        label.setMinimumHeight(24)
        bar.add(label)
        for name in names[:MOST_NAMED]:
            link = Link(name, self.tr("Go to spring {spring}").format(spring=name))
            link.clicked.connect(partial(self.spring_wanted.emit, name))
            bar.add(link)
        if len(names) > MOST_NAMED:
            bar.add(QLabel(self.tr("and %n more", "", len(names) - MOST_NAMED)))
        return bar

    def _show_facts(self, facts: list[Fact]) -> None:
        self._shown = facts
        for place, (row, _, text) in enumerate(self._facts):
            text.tell(facts[place].text if place < len(facts) else "")
            row.setVisible(place < len(facts))

    def _show_list(self) -> None:
        """Only the list on show is made."""
        check, style = self.check, self.session.style
        if check is None:
            return
        if self.words.key == "why":
            self.entries.show_entries(entries_of(check, style), self._nothing(check))
        elif self.words.key == "order":
            self.order.show_list(strip_list(check, style))
        elif self.words.key == "bins":
            self.bins.show_list(bins(check, style))
        else:
            self.past.show_list(past_checks(check, style))

    def _nothing(self, check: SetCheck) -> str:
        if not check.strips:
            return self.tr("Nothing to doubt yet: there are no loads.")
        few = len(check.springs) < 5
        if not check.windows and not few:
            return self.tr("No doubts.")
        text = self.tr("No doubts; but fewer than five springs cannot show which one stands out.")
        return text if few else self.tr("No doubts, and no spring outside its window.")

    def _turn(self, key: str) -> None:
        self.stack.setCurrentIndex(list(self.words.buttons).index(key))
        self._show_list()
        self._draw()

    def _draw(self) -> None:
        table = self._table()
        self.copy_button.setVisible(table is not None and not table.empty)
        if self._head_fact is not None:
            self._sign.setPixmap(level_pixmap(self._head_fact.level, 16))
            self._sign.setAccessibleName(str(self._head_fact.level))
        for (_, sign, _), fact in zip(self._facts, self._shown, strict=False):
            sign.setPixmap(level_pixmap(fact.level, 16))
            sign.setAccessibleName(str(fact.level))

    # Copying

    def copy_list(self) -> None:
        """Copy the list on show."""
        table = self._table()
        if table is not None and not table.empty:
            table.copy_rows(None)

    def _table(self) -> ListTable | None:
        return {"order": self.order, "bins": self.bins, "past": self.past}.get(self.words.key)

    def copy_strip_list(self) -> None:
        """Copy the springs in cylinder order, whatever is on show."""
        if self.check is not None:
            self.order.show_list(strip_list(self.check, self.session.style))
            self.order.copy_rows(None)

    def _copied(self, count: int) -> None:
        self.session.announce(self.tr("%n line(s) copied.", "", count))
