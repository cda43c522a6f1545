"""The shims in stock with their counts on one line: "0.015 in x 8 + 0.030 in"; without a count there is no end."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from typing_extensions import override

from loadbench.errors import InputError
from loadbench.job.edits import replaced_all
from loadbench.units import Kind, tell, with_unit
from ui.labels import label_of
from ui.widgets.entry_edit import EntryEdit, Judgement, Sign
from ui.widgets.field import Field
from ui.widgets.list_edit import BETWEEN, MOST_SHIMS
from ui.widgets.message_row import MessageRow
from ui.widgets.quantity_edit import judged

if TYPE_CHECKING:
    from PySide6.QtGui import QResizeEvent
    from PySide6.QtWidgets import QWidget

    from loadbench.units import Style
    from ui.session import Session
    from ui.state import State
    from ui.widgets.own_value import Standing

COUNTED = re.compile(r"^(?P<size>.+?)\s*[x\u00d7*]\s*(?P<count>\S*)$", re.IGNORECASE)
MOST_COUNT = 9999
Part = tuple[str, str | None]  # a size as typed, and its count as typed


def parts_of(text: str) -> list[Part]:
    """A typed stock cut into sizes and counts."""
    found = []
    for part in BETWEEN.split(text.strip()):
        counted = COUNTED.match(part)
        if part:
            found.append((counted["size"].strip(), counted["count"]) if counted else (part, None))
    return found


def count_in(text: str | None) -> int | None:
    """A typed count; None without one.

    Raises:
        InputError: it is no whole number.
    """
    if text is None:
        return None
    if not (text.isascii() and text.isdigit() and int(text) <= MOST_COUNT):
        raise InputError(f'"{text[:20]}" is no count.', expected="a whole number of shims such as 0.015 in x 8")
    return int(text)


def stock_in(text: str, style: Style) -> tuple[tuple[str, ...], tuple[int | None, ...]]:
    """Sizes and counts of a typed stock.

    Args:
        text: as typed; a size that cannot be read is kept, and the job marks it.
        style: the units on show: of bare sizes.

    Returns:
        The job's "shims_in_stock" and "shim_counts"; no counts at all where none is typed.

    Raises:
        InputError: a count is none.
    """
    parts = parts_of(text)
    counts = tuple(count_in(count) for _, count in parts)
    return tuple(_sized(size, style) for size, _ in parts), counts if any(c is not None for c in counts) else ()


def _sized(size: str, style: Style) -> str:
    try:
        return with_unit(size, Kind.LENGTH, style)
    except InputError:
        return size


class StockEdit(EntryEdit):
    """Sizes and counts, kept together as one step."""

    @override
    def _stand(self, found: Standing) -> None:
        super()._stand(found)
        thin, thick = (tell(size, Kind.LENGTH, self.session.style) for size in (0.000381, 0.000762))
        text = self.tr("e.g. {thin} {unit} x 8 + {thick} {unit}")
        self.setPlaceholderText(text.format(thin=thin.number, thick=thick.number, unit=thin.unit))

    @override
    def as_text(self, value: object) -> str:
        if not isinstance(value, tuple):
            return ""
        counts = self.session.state.job.shim_counts
        told = []
        for place, size in enumerate(value):
            count = counts[place] if place < len(counts) else None
            told.append(size if count is None else f"{size} x {count}")
        return " + ".join(told)

    @override
    def as_value(self, text: str) -> object:
        return stock_in(text, self.session.style)[0]

    @override
    def faults(self, state: State, path: str) -> object:
        """The faults, and the counts: they stand in the same text."""
        stated = state.analysis.stated.problems
        faults = [stated[one] for place in range(MOST_SHIMS) if (one := f"{path}.{place}") in stated]
        return faults, state.job.shim_counts

    @override
    def judge(self, text: str) -> Judgement:
        typing = self.hasFocus() and text != self._shown
        remarks = []
        for size, count in parts_of(text):
            found = judged(size, Kind.LENGTH, self.session.style, typing=typing)
            if found.sign is not Sign.FINE:
                wanted = self.tr("sizes such as 0.015 in x 8 + 0.030 in")
                return Judgement(sign=found.sign, what=found.what, expected=wanted)
            try:
                count_in(count)
            except InputError as error:
                sign = Sign.UNFINISHED if typing and not count else Sign.WRONG
                return Judgement(sign=sign, what=error.what, expected=error.expected)
            remarks += [found.remark.removeprefix("= ")] if found.remark else []
        return Judgement(remark=f"= {' + '.join(remarks)}" if remarks else "")

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if not self.hasFocus():
            self.home(False)  # the first size is seen, not the last

    @override
    def _preview(self, text: str) -> None:
        """A plan follows what is committed: there is nothing to preview."""

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
        changes: dict[str, object] = {"shims_in_stock": sizes, "shim_counts": counts}
        title = self.tr("set {field}").format(field=label_of(self.field).lower())
        self.session.edit(title, lambda job: replaced_all(job, changes), self._gesture)
        self._shown = self.text()
        self._show(self.session.state)


class StockField(Field):
    """The stock with its label above and its message beneath."""

    unit_in_label = True

    @override
    def _lay_out(self) -> None:
        """A long entry wants the whole width."""
        super()._lay_out()
        self._rows.addWidget(self.label, 0, 0, 1, 2)
        self._rows.removeItem(self._across)
        self._rows.addLayout(self._across, 1, 0, 1, 2)

    @override
    def _message_row(self) -> MessageRow:
        row = super()._message_row()
        self._rows.addWidget(row, 2, 0, 1, 2)
        return row

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(StockEdit(session, "shims_in_stock"), session, "shims_in_stock", parent)
        tip = self.tr("Sizes with a plus between them; x and a number where there are only so many")
        self.editor.setToolTip(tip)
