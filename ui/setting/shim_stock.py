"""What the worksheet may take from the shelf: bucket shims with their counts, or pushrods."""

from __future__ import annotations

from typing import TYPE_CHECKING

from typing_extensions import override

from loadbench.errors import InputError
from loadbench.job.edits import replaced_all
from loadbench.units import Kind, tell
from ui.fitup.stock_edit import StockEdit, stock_in
from ui.setting.wording import tr
from ui.widgets.field import Field
from ui.widgets.list_edit import MOST_SHIMS, ShimsEdit

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from ui.session import Session
    from ui.state import State
    from ui.widgets.message_row import MessageRow
    from ui.widgets.own_value import Standing

SHIMS, COUNTS, PUSHRODS = "bucket_shims_in_stock", "bucket_shim_counts", "pushrods_in_stock"


class BucketStockEdit(StockEdit):
    """Sizes and counts of bucket shims, kept together as one step."""

    @override
    def _stand(self, found: Standing) -> None:
        super()._stand(found)
        thin, thick = (tell(size, Kind.LENGTH, self.session.style) for size in (0.00260, 0.00265))
        text = tr("e.g. {thin} {unit} x 2 + {thick} {unit}")
        self.setPlaceholderText(text.format(thin=thin.number, thick=thick.number, unit=thin.unit))

    @override
    def as_text(self, value: object) -> str:
        if not isinstance(value, tuple):
            return ""
        counts = self.session.state.job.bucket_shim_counts
        known = [*counts, *([None] * len(value))]
        return " + ".join(
            size if count is None else f"{size} x {count}" for size, count in zip(value, known, strict=False)
        )

    @override
    def faults(self, state: State, path: str) -> object:
        stated = state.analysis.stated.problems
        faults = [stated[one] for place in range(MOST_SHIMS) if (one := f"{path}.{place}") in stated]
        return faults, state.job.bucket_shim_counts

    @override
    def commit(self) -> None:
        text = self.text()
        if text == self._shown:
            return
        try:
            sizes, counts = stock_in(text, self.session.style)
            self._kept = None
        except InputError:
            sizes, counts, self._kept = (), (), text
        self._shown = text
        changes: dict[str, object] = {SHIMS: sizes, COUNTS: counts}
        self.session.edit(tr("set bucket shims in stock"), lambda job: replaced_all(job, changes), self._gesture)
        self._shown = self.text()
        self._show(self.session.state)


class StockLine(Field):
    """A stock with its label above, its entry as wide as the page, its message beneath."""

    unit_in_label = True

    @override
    def _lay_out(self) -> None:
        super()._lay_out()
        self._rows.addWidget(self.label, 0, 0, 1, 2)
        self._rows.removeItem(self._across)
        self._rows.addLayout(self._across, 1, 0, 1, 2)

    @override
    def _message_row(self) -> MessageRow:
        row = super()._message_row()
        self._rows.addWidget(row, 2, 0, 1, 2)
        return row


def bucket_stock(session: Session, parent: QWidget | None = None) -> StockLine:
    """The bucket shims in stock."""
    made = StockLine(BucketStockEdit(session, SHIMS), session, SHIMS, parent)
    return _second(made, tr("Sizes with a plus between them; x and a number where there are only so many"))


def pushrod_stock(session: Session, parent: QWidget | None = None) -> StockLine:
    """The pushrods in stock."""
    made = StockLine(ShimsEdit(session, PUSHRODS), session, PUSHRODS, parent)
    return _second(made, tr("Lengths with a plus between them"))


def _second(made: StockLine, tip: str) -> StockLine:
    """These fields have their first place on the Bench page: whoever looks for one by its path goes there."""
    editor = made.editor
    editor.setToolTip(tip)
    editor.setObjectName(f"setting__{editor.objectName()}")
    editor.setProperty("field", None)
    return made
