"""The commands of the Setting page, in the order in which they are wanted."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ui.commands import Command
from ui.setting.wording import tr

if TYPE_CHECKING:
    from ui.pages.setting_page import SettingPage


def commands_for(page: SettingPage) -> tuple[Command, ...]:
    """Each with its name, words and tip."""
    return (
        Command(
            name="setting_lay_out_valves",
            text=tr("Lay out valves for setting"),
            tip=tr("Add the valves that the engine\u2019s cylinders have, and go to the first measurement"),
            run=page.lay_out_valves,
        ),
        Command(
            name="setting_turn_order",
            text=tr("Cylinder or firing order"),
            tip=tr("Show the worksheet in the other order"),
            run=page.turn_order,
        ),
        Command(
            name="copy_worksheet",
            text=tr("Copy worksheet"),
            tip=tr("Copy what to do on each valve, for a spreadsheet or for paper"),
            run=page.copy_worksheet,
        ),
        Command(
            name="copy_check_list",
            text=tr("Copy check list"),
            tip=tr("Copy the list of what to look at before the followers go in"),
            run=page.copy_check_list,
        ),
    )
