"""The sheets of a set: springs, doubts, valves, plan, order list, history, and the printouts."""

from __future__ import annotations

from collections.abc import Callable

from loadbench.analysis import Analysis
from loadbench.findings.set_check.check_set import check_set
from loadbench.findings.shop import Shop
from loadbench.report.book.blocks import Plan
from loadbench.report.book.history_sheet import History
from loadbench.report.book.order_list import write_order_list
from loadbench.report.book.paper import Book
from loadbench.report.book.plan_sheet import PlanRows
from loadbench.report.book.printout_sheet import write_printouts
from loadbench.report.book.readings import Sums, reading_paths
from loadbench.report.book.set_blocks import with_set
from loadbench.report.book.set_loads import LoadRows
from loadbench.report.book.springs_set import Springs, spec_paths, write_doubts
from loadbench.report.book.valves_sheet import Valves
from loadbench.report.kept_plan import kept_plan


class SetSheets:
    """What a workbook says of the numbered springs and the valves; a sheet is there where it has something to say.

    `plan` is the workbook's blocks with those of the set; `entries` the paths of the entries whose values stand on
    these sheets or on Readings; `wanted` those that need a cell on the sheet Job.
    """

    def __init__(self, book: Book, analysis: Analysis, lines: Plan, shop: Shop | None) -> None:
        self.book, self.analysis = book, analysis
        self.plan, self.carried = with_set(lines, analysis)
        self.loads = LoadRows()
        self.check = check_set(analysis, shop)
        self.valves = Valves(analysis)
        self.springs = Springs(analysis, self.check, self.carried, self.valves, self.loads)
        self.planned = PlanRows(analysis, kept_plan(analysis, shop), self.carried, self.valves, self.loads)
        self.history = History(analysis, self.check.past, self.carried, self.loads)
        self.entries = reading_paths(self.plan) | self.valves.paths()
        self.wanted = spec_paths(analysis)

    def steps(self, sums: dict[str, Sums]) -> tuple[Callable[[], None], ...]:
        """What writes the sheets, in their order.

        Args:
            sums: the columns of the blocks with readings, by mark, once they are written.
        """
        return (
            lambda: self.springs.write(self.book),
            lambda: write_doubts(self.book, self.check),
            lambda: self.valves.write(self.book, self.carried, self.loads, self.springs.loads),
            lambda: self.planned.write(self.book),
            lambda: write_order_list(self.book, self.analysis, self.check, self.valves, self.planned),
            lambda: self.history.write(self.book),
            lambda: self.loads.write(self.book, sums),
            lambda: write_printouts(self.book, self.analysis),
        )
