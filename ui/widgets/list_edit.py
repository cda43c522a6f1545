"""Short lists on one line: the shims of a stack ("0.015 in + 0.030 in") and the firing order ("1 8 4 3")."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from typing_extensions import override

from loadbench.errors import InputError
from loadbench.units import Kind, with_unit
from ui.widgets.entry_edit import EntryEdit, Judgement, Sign
from ui.widgets.quantity_edit import judged

if TYPE_CHECKING:
    from ui.state import State

MOST_SHIMS = 20
BETWEEN = re.compile(r"\s*[+;]\s*")


class ShimsEdit(EntryEdit):
    """Several lengths, joined by a plus; each is kept as typed."""

    @override
    def as_text(self, value: object) -> str:
        return " + ".join(value) if isinstance(value, tuple) else ""

    @override
    def as_value(self, text: str) -> object:
        return tuple(self._whole(part) for part in BETWEEN.split(text.strip()) if part)

    def _whole(self, part: str) -> str:
        try:
            return with_unit(part, Kind.LENGTH, self.session.style)
        except InputError:
            return part

    @override
    def faults(self, state: State, path: str) -> object:
        stated = state.analysis.stated.problems
        return [stated[one] for place in range(MOST_SHIMS) if (one := f"{path}.{place}") in stated]

    @override
    def judge(self, text: str) -> Judgement:
        typing = self.hasFocus() and text != self._shown
        parts = [part for part in BETWEEN.split(text.strip()) if part]
        found = [judged(part, Kind.LENGTH, self.session.style, typing=typing) for part in parts]
        stated = self.session.state.analysis.stated.problems
        for place, one in enumerate(found):
            problem = stated.get(f"{self.standing.shown}.{place}")
            if one.sign is not Sign.FINE:
                return Judgement(sign=one.sign, what=one.what, expected=self.tr("lengths such as 0.015 in + 0.030 in"))
            if problem is not None and not typing:
                return Judgement(sign=Sign.WRONG, what=problem.what, expected=problem.expected)
        remark = " + ".join(one.remark.removeprefix("= ") for one in found if one.remark)
        return Judgement(remark=f"= {remark}" if remark else "")


class OrderEdit(EntryEdit):
    """The firing order: whole numbers with blanks between."""

    @override
    def as_text(self, value: object) -> str:
        return " ".join(str(number) for number in value) if isinstance(value, tuple) else ""

    @override
    def as_value(self, text: str) -> object:
        parts = [part for part in re.split(r"[\s,;-]+", text.strip()) if part]
        if not all(part.isascii() and part.isdigit() and 0 < int(part) < 100 for part in parts):
            raise InputError(f'"{text.strip()[:40]}" is no firing order.', expected="cylinder numbers such as 1 3 4 2")
        return tuple(int(part) for part in parts)

    @override
    def judge(self, text: str) -> Judgement:
        try:
            self.as_value(text)
        except InputError as error:
            return Judgement(sign=Sign.WRONG, what=error.what, expected=error.expected)
        return Judgement()
