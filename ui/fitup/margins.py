"""The rule book's limits on bind and retainer margin: in words beside the fields, and as levels in the grid."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication

from loadbench.findings.finding import Level
from loadbench.findings.rows import bind_row, rows_in_force
from loadbench.findings.rulebook import Limit, rule_book
from loadbench.findings.standing import standing
from loadbench.fitup.inverse import TALLEST_STACK
from loadbench.units import Kind, Style, tell

if TYPE_CHECKING:
    from loadbench.findings.shop import Shop
    from ui.fitup.rows import ValveRow
    from ui.state import State


class Margins:
    """The limits in force for the bind margin, by line, and for the retainer margin."""

    def __init__(self, state: State, shop: Shop | None) -> None:
        lines = state.analysis.lines
        book = rule_book(shop, state.job.rules, state.analysis.stated.style, rows_in_force(lines[0].stated))
        self.bind = {line.name: book.limit("bind-margin-min", bind_row(line.stated)) for line in lines}
        self.seal = book.limit("retainer-margin-min")

    def _of(self, row: ValveRow, column: str) -> tuple[Limit, float] | None:
        placed = row.placed
        if placed is None:
            return None
        if column == "plan_bind" and placed.bind_margin is not None and row.line in self.bind:
            return self.bind[row.line], placed.bind_margin
        if column == "plan_seal" and placed.retainer_margin is not None:
            return self.seal, placed.retainer_margin
        return None

    def level(self, row: ValveRow, column: str) -> Level | None:
        """How a planned margin stands; None for other columns and unknown margins."""
        found = self._of(row, column)
        return None if found is None else standing(*found).level

    def told(self, row: ValveRow, column: str, style: Style) -> str:
        """A margin that is within its stop but not within its watch, in a sentence."""
        found = self._of(row, column)
        if found is None or found[0].watch is None:
            return ""
        margin, asked = (str(tell(value, Kind.LENGTH, style)) for value in (found[1], found[0].watch))
        text = _tr("Watch: {margin}; this shop asks for {asked}.")
        return text.format(margin=margin, asked=asked)

    def stops(self, style: Style) -> list[str]:
        """The stops that a plan keeps, each as a line of words."""
        limits = list(dict.fromkeys(limit.stop for limit in self.bind.values()))
        bind = [_tr("Coils to bind: at least {stop}").format(stop=_told(stop, style)) for stop in limits]
        seal = _tr("Retainer to seal: at least {stop}").format(stop=_told(self.seal.stop, style))
        most = _tr("A stack: at most three shims, {most} in all").format(most=_told(TALLEST_STACK, style))
        return [*bind, seal, most]


def _told(stop: float | None, style: Style) -> str:
    return _tr("not limited") if stop is None else str(tell(stop, Kind.LENGTH, style))


def _tr(text: str) -> str:
    return QCoreApplication.translate("Fitup", text)
