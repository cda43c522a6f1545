"""The commands of the Fit-up page, in the order in which they are wanted."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication

from ui.commands import Command

if TYPE_CHECKING:
    from ui.fitup.page_work import PageWork


def _tr(text: str) -> str:
    return QCoreApplication.translate("Fitup", text)


def commands_for(work: PageWork) -> tuple[Command, ...]:
    """Each with its name, words, tip and keys."""
    return (
        Command(
            name="find_plan",
            text=_tr("Find plan"),
            tip=_tr("Work out which spring goes on which valve, on which shims"),
            run=work.find_plan,
            keys=("F5",),
        ),
        Command(
            name="take_over_plan",
            text=_tr("Take over plan"),
            tip=_tr("Give the valves the springs and shims of the plan; one undo takes it back"),
            run=work.take_over_plan,
            keys=("Ctrl+Return",),
        ),
        Command(
            name="keep_plan",
            text=_tr("Keep plan"),
            tip=_tr("Keep the plan in the job and leave the valves as they are"),
            run=work.keep_plan,
            keys=("Ctrl+Shift+Return",),
        ),
        Command(
            name="copy_plan",
            text=_tr("Copy plan"),
            tip=_tr("Copy the plan in cylinder order and the shims to lay out, for a spreadsheet"),
            run=work.copy_plan,
            keys=("Ctrl+Alt+C",),
        ),
        Command(
            name="lock_valves",
            text=_tr("Lock valve"),
            tip=_tr("Keep spring and shims of the chosen valves as they stand, or free them again"),
            run=work.lock_valves,
            keys=("Ctrl+L",),
        ),
        Command(
            name="lock_all", text=_tr("Lock all"), tip=_tr("Lock every valve that has a spring"), run=work.lock_all
        ),
        Command(name="unlock_all", text=_tr("Unlock all"), tip=_tr("Free every valve"), run=work.unlock_all),
        Command(
            name="lay_out_valves",
            text=_tr("Lay out valves"),
            tip=_tr("Add the valves that the engine\u2019s cylinders have and the grid has not"),
            run=work.lay_out_valves,
        ),
        Command(
            name="remove_valves",
            text=_tr("Remove valves"),
            tip=_tr("Take the chosen valves out"),
            run=work.remove_valves,
        ),
    )
