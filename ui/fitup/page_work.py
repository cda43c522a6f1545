"""What can be done on the Fit-up page: find, take over, keep and copy a plan; lay out, lock and remove valves."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtGui import QGuiApplication

from loadbench.assembly.plan_edits import applied, planned
from ui.fitup import valve_edits
from ui.fitup.plan_table import plan_text
from ui.fitup.rows import rows_of
from ui.fitup.valve_columns import FIRST

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from loadbench.assembly.answer import FitAnswer
    from ui.fitup.lay_out_prompt import LayOutPrompt
    from ui.fitup.planner import Planner
    from ui.fitup.valve_grid import ValveGrid


class PageWork(QObject):
    """Every change goes through the session, as one undo step with its name."""

    def __init__(self, planner: Planner, grid: ValveGrid, prompt: LayOutPrompt, page: QWidget) -> None:
        super().__init__(page)
        self.session, self.planner, self.grid, self.prompt = planner.session, planner, grid, prompt
        self._page = page

    def find_plan(self) -> None:
        """Work the plan out now."""
        self._come_forward()
        self.session.announce(self.tr("Working out the plan."))
        self.planner.find()

    def _come_forward(self) -> None:
        """The page on show: what is done here from a menu elsewhere is seen."""
        show_page = getattr(self._page.window(), "show_page", None)  # a window of its own has none
        if show_page is not None and not self._page.isVisible():
            show_page("fitup")

    def take_over_plan(self) -> None:
        """The valves get their springs and shims, as one undo step; the plan is kept."""
        answer = self._usable()
        if answer is not None:
            style, made_on = self.session.style, date.today().isoformat()
            text = self.tr("take over the plan")
            self.session.edit(text, lambda job: applied(job, answer, style=style, made_on=made_on))
            self.session.announce(self.tr("Springs and shims of %n valve(s) are as planned.", "", len(answer.plan)))

    def keep_plan(self) -> None:
        """Keep the plan in the job; the valves stay as they are."""
        answer = self._usable()
        if answer is not None:
            style, made_on = self.session.style, date.today().isoformat()
            self.session.edit(self.tr("keep the plan"), lambda job: planned(job, answer, style=style, made_on=made_on))
            self.session.announce(self.tr("The plan is kept in the job; the valves stay as they are."))

    def copy_plan(self) -> None:
        """The plan to the clipboard, for a spreadsheet or for paper."""
        answer = self._usable()
        if answer is not None:
            QGuiApplication.clipboard().setText(
                plan_text(answer, rows_of(self.session.state.analysis, answer), self.session.style)
            )
            self.session.announce(self.tr("The plan of %n valve(s) is copied.", "", len(answer.plan)))

    def _usable(self) -> FitAnswer | None:
        if self.planner.usable:
            return self.planner.answer
        self.session.announce(self.tr("There is no plan of the job as it stands."))
        return None

    def lock_valves(self) -> None:
        """Lock the chosen valves as they stand; free them where all are locked."""
        places, valves = self.grid.chosen_places(), self.session.job.valves
        locked = all(valves[place].locked for place in places)
        self._lock(places, locked=not locked)

    def lock_all(self) -> None:
        """Lock every valve that has a spring or shims."""
        self._lock(list(range(len(self.session.job.valves))), locked=True)

    def unlock_all(self) -> None:
        """Free every valve."""
        self._lock(list(range(len(self.session.job.valves))), locked=False)

    def _lock(self, places: list[int], *, locked: bool) -> None:
        able = [place for place in places if not locked or place in valve_edits.lockable(self.session.job)]
        if not able:
            self.session.announce(self.tr("Nothing to lock: state its spring or shims, or take over the plan first."))
            return
        text = self.tr("lock %n valve(s)", "", len(able)) if locked else self.tr("unlock %n valve(s)", "", len(able))
        valves = valve_edits.with_locks(self.session.job, able, locked=locked)
        self.session.set_fields(text, {"valves": valves})
        told = self.tr("%n valve(s) locked.", "", len(able)) if locked else self.tr("%n valve(s) free.", "", len(able))
        self.session.announce(told)

    def lay_out_valves(self) -> None:
        """Add the valves that the engine has, then go to the first height; without cylinders ask for them."""
        self._come_forward()
        if self.prompt.isVisible():
            self.prompt.cylinders.commit()
        cylinders = self.session.job.engine.cylinders
        if not cylinders:
            self._ask_cylinders()
            return
        valves = valve_edits.laid_out(self.session.job, cylinders, self.prompt.valves_each)
        count = len(valves) - len(self.session.job.valves)
        if count:
            self.session.set_fields(self.tr("lay out %n valve(s)", "", count), {"valves": valves})
        told = self.tr("%n valve(s) laid out. Type the first bare height; Enter moves down.", "", count)
        self.session.announce(told if count else self.tr("Every valve of the engine is there already."))
        self.grid.setFocus()
        self.grid.go_to(0, FIRST)

    def _ask_cylinders(self) -> None:
        if self.prompt.isVisible():
            self.prompt.cylinders.setFocus()
        else:
            go_to_field(self._page, "engine.cylinders")
        self.session.announce(self.tr("Type how many cylinders the engine has."))

    def remove_valves(self) -> None:
        """Take the chosen valves out; undo brings them back."""
        places = self.grid.chosen_places()
        if places:
            valves = valve_edits.without(self.session.job, places)
            self.session.set_fields(self.tr("remove %n valve(s)", "", len(places)), {"valves": valves})


def go_to_field(page: QWidget, field: str) -> None:
    """Have the window show a field of another page; a window of its own has none."""
    go = getattr(page.window(), "go_to_field", None)
    if go is not None:
        go(field)
