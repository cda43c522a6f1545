"""The editors of quantities and of plain numbers: judged while typing, nudged by the arrow keys, kept as typed."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from typing_extensions import override

from loadbench.errors import AmbiguousEntry, InputError, UnfinishedEntry
from loadbench.job.kinds import Number, Quantity, Sense
from loadbench.units import Kind, Style, display_unit, everyday_unit, nudged, parse, tell, with_unit
from ui.entries import number_of
from ui.labels import mark_for, unit_of_field
from ui.widgets.entry_edit import EntryEdit, Judgement, Sign

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from ui.session import Session

TYPED_STEP = {"valve_gear.rocker_ratio": 0.01, "duty.idle_share": 0.01, "duty.oil.phosphorus_ppm": 50.0}


class QuantityEdit(EntryEdit):
    """A quantity in any unit of its kind."""

    def __init__(self, session: Session, field: str, parent: QWidget | None = None) -> None:
        mark = mark_for(field)
        assert isinstance(mark, Quantity)  # noqa: S101 - a defect of ours, never of an entry
        self.kind: Kind = mark.kind
        super().__init__(session, field, parent)

    @override
    def as_value(self, text: str) -> object:
        try:
            return with_unit(text, self.kind, self.session.style) or None
        except InputError:
            return text.strip() or None  # kept as typed; the job marks it

    @override
    def judge(self, text: str) -> Judgement:
        return judged(text, self.kind, self.session.style, typing=self.hasFocus() and text != self._shown)

    @override
    def nudge(self, steps: int) -> None:
        """A step fit for the unit; an empty field that shows a common value starts from that."""
        start = self.text().strip() or (self.as_text(self.standing.value) if self.standing.inherited else "")
        try:
            text = nudged(start, self.kind, self.session.style, steps)
        except InputError:
            return
        self.setText(text)
        self._typed(text)


def judged(text: str, kind: Kind, style: Style, *, typing: bool) -> Judgement:
    """How a typed quantity stands.

    Args:
        text: what stands in the field.
        kind: what the field wants.
        style: the units on show.
        typing: whether the user is still at it; an unfinished entry that was left is a wrong one.

    Returns:
        The judgement, with the value in the units on show as remark where another unit was typed.
    """
    if not text.strip():
        return Judgement()
    try:
        whole = with_unit(text, kind, style)
        found = parse(whole, kind, style)
    except UnfinishedEntry as error:
        sign = Sign.UNFINISHED if typing else Sign.WRONG
        return Judgement(sign=sign, what="" if typing else error.what, expected=error.expected)
    except AmbiguousEntry as error:
        return Judgement(sign=Sign.AMBIGUOUS, what=error.what, expected=error.expected, choices=error.choices)
    except InputError as error:
        return Judgement(sign=Sign.WRONG, what=error.what, expected=error.expected)
    remarks = [found.note or ""]
    if found.unit not in (display_unit(kind, style), everyday_unit(kind, style)):
        told = tell(found.value, kind, style)
        remarks.insert(0, f"= {told.number}\u00a0{told.unit}")
    return Judgement(remark="; ".join(filter(None, remarks)))


class NumberEdit(EntryEdit):
    """A number without a dimension: a ratio, a percentage, a share, a count."""

    @override
    def as_text(self, value: object) -> str:
        return f"{value:.10g}" if isinstance(value, float | int) else ""

    def _read(self, text: str) -> float | None:
        """The number typed; its percent sign belongs where the field is in percent, and nowhere else."""
        return number_of(text, percent=unit_of_field(self.field, self.session.style) == "%")

    @override
    def as_value(self, text: str) -> object:
        return self._read(text)

    @override
    def judge(self, text: str) -> Judgement:
        try:
            number = self._read(text)
        except UnfinishedEntry as error:
            typing = self.hasFocus() and text != self._shown
            sign = Sign.UNFINISHED if typing else Sign.WRONG
            return Judgement(sign=sign, what="" if typing else error.what, expected=error.expected)
        except AmbiguousEntry as error:
            return Judgement(sign=Sign.AMBIGUOUS, what=error.what, expected=error.expected, choices=error.choices)
        except InputError as error:
            return Judgement(sign=Sign.WRONG, what=error.what, expected=error.expected)
        mark = mark_for(self.field)
        fits = number is None or not isinstance(mark, Number) or in_sense(number, mark)
        return Judgement() if fits else Judgement(sign=Sign.WRONG, what=self._out_of_sense(), expected=limits_of(mark))

    def _out_of_sense(self) -> str:
        unit = unit_of_field(self.field, self.session.style)
        whole = f"{self.text().strip()} {unit}".strip() if unit == "%" else self.text().strip()
        return self.tr("{number} cannot be.").format(number=whole)

    @override
    def nudge(self, steps: int) -> None:
        start = self.text().strip() or (self.as_text(self.standing.value) if self.standing.inherited else "")
        try:
            number = self._read(start)
        except InputError:
            return
        if number is None:
            return
        step = TYPED_STEP.get(self.field, 0.1 if number != int(number) else 1.0)
        decimals = max(len(start.replace(",", ".").partition(".")[2]), 2 if step < 0.1 else 1 if step < 1 else 0)
        text = f"{number + steps * step:.{decimals}f}"
        self.setText(text)
        self._typed(text)


class WholeEdit(NumberEdit):
    """A whole number, such as the number of cylinders."""

    @override
    def as_value(self, text: str) -> object:
        number = self._read(text)
        if number is None:
            return None
        if number != int(number) or not 0 < number < 1000:
            raise InputError(f"{text.strip()[:40]} is not a whole number.", expected="a whole number such as 8")
        return int(number)

    @override
    def judge(self, text: str) -> Judgement:
        try:
            self.as_value(text)
        except UnfinishedEntry:
            return Judgement(sign=Sign.UNFINISHED)
        except InputError as error:
            return Judgement(sign=Sign.WRONG, what=error.what, expected=error.expected)
        return Judgement()


def in_sense(number: float, mark: Number) -> bool:
    """Whether a number stands where such a number can."""
    low = {Sense.ANY: -math.inf, Sense.NOT_NEGATIVE: 0.0, Sense.POSITIVE: math.ulp(0.0)}[mark.sense]
    return low <= number <= mark.most


def limits_of(mark: object) -> str:
    """What a number's mark lets through, in words."""
    if not isinstance(mark, Number):
        return ""
    most = "" if math.isinf(mark.most) else f"at most {mark.most:g}"
    return ", ".join(filter(None, [f"a value {mark.sense.value}", most]))
