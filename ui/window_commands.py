"""Every command of the window, by menu: what it is called, what it says, its keys, what it does."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication
from PySide6.QtGui import QAction, QKeySequence

from ui.commands import Command

if TYPE_CHECKING:
    from ui.window import MainWindow

Key = QKeySequence.StandardKey
Role = QAction.MenuRole


def _tr(text: str) -> str:
    return QCoreApplication.translate("Commands", text)


def file_commands(window: MainWindow) -> list[Command | None]:
    """The File menu before Quit; None is a line. Recent jobs and samples are menus of their own."""
    files, exports = window.documents, window.exporting
    return [
        Command(name="new", text=_tr("&New"), tip=_tr("Begin an empty job"), run=files.new, keys=(Key.New,)),
        Command(name="open", text=_tr("&Open…"), tip=_tr("Open a job file"), run=files.open, keys=(Key.Open,)),
        None,
        Command(name="save", text=_tr("&Save"), tip=_tr("Save the job to its file"), run=files.save, keys=(Key.Save,)),
        Command(
            name="save_as",
            text=_tr("Save &as…"),
            tip=_tr("Save the job under another name"),
            run=files.save_as,
            keys=(Key.SaveAs, "Ctrl+Shift+S"),
        ),
        None,
        *printout_commands(window),
        None,
        Command(
            name="export_workbook",
            text=_tr("&Export workbook…"),
            tip=_tr("Write an Excel workbook whose figures are live formulas"),
            run=exports.workbook,
            keys=("Ctrl+E",),
        ),
        Command(
            name="export_table",
            text=_tr("Export &table (CSV)…"),
            tip=_tr("Write the table of loads as comma-separated values"),
            run=exports.table,
        ),
        Command(
            name="export_set",
            text=_tr("Export sprin&gs (CSV)…"),
            tip=_tr("Write the numbered springs with their loads and verdicts as comma-separated values"),
            run=exports.set_table,
        ),
        Command(
            name="export_plan",
            text=_tr("Export p&lan (CSV)…"),
            tip=_tr("Write which spring stands on which valve, on which shims, as comma-separated values"),
            run=exports.plan_table,
        ),
        Command(
            name="copy_picture",
            text=_tr("&Copy picture"),
            tip=_tr("Copy the page\u2019s picture"),
            run=lambda: window.ask_page("copy_picture"),
            keys=("Ctrl+Shift+C",),
        ),
        Command(
            name="save_picture",
            text=_tr("Save &picture…"),
            tip=_tr("Save the page\u2019s picture as PNG, SVG or PDF, or the data behind it as CSV"),
            run=lambda: window.ask_page("save_picture"),
        ),
    ]


def printout_commands(window: MainWindow) -> list[Command]:
    """What brings a tester's printout in, and the photos that are kept with the job."""
    printouts = window.documents.printouts
    return [
        Command(
            name="read_printout",
            text=_tr("&Read a printout…"),
            tip=_tr("Read the slip or file of a spring tester, see what was understood, and take the springs over"),
            run=printouts.read,
            keys=("Ctrl+Shift+R",),
        ),
        Command(
            name="paste_printout",
            text=_tr("Paste a pri&ntout…"),
            tip=_tr("Read the text on the clipboard as the printout of a spring tester"),
            run=printouts.read_pasted,
            keys=("Ctrl+Alt+V",),
        ),
        Command(
            name="import_lift_table",
            text=_tr("Import &lift table…"),
            tip=_tr("Read a lobe's lift over cam or crank degrees, see what was understood, and take it over"),
            run=window.documents.lifts.read,
            keys=("Ctrl+Shift+L",),
        ),
        Command(
            name="attach_photo",
            text=_tr("Attach a p&hoto…"),
            tip=_tr("Keep a picture of slip, tester or springs with the job; it is not read"),
            run=printouts.attach_photo,
        ),
        Command(
            name="show_photos",
            text=_tr("Pho&tos…"),
            tip=_tr("Show the pictures that are kept with the job"),
            run=printouts.show_photos,
        ),
    ]


def quit_command(window: MainWindow) -> Command:
    """Leaving the program."""
    return Command(
        name="quit",
        text=_tr("&Quit"),
        tip=_tr("Close LoadBench"),
        run=window.close,
        keys=(Key.Quit, "Ctrl+Q"),
        role=Role.QuitRole,
    )


def edit_commands(window: MainWindow) -> list[Command | None]:
    """The Edit menu after Undo and Redo."""
    return [
        None,
        Command(
            name="cut",
            text=_tr("Cu&t"),
            tip=_tr("Cut what is selected"),
            run=lambda: window.ask_focus("cut"),
            keys=(Key.Cut,),
        ),
        Command(
            name="copy",
            text=_tr("&Copy"),
            tip=_tr("Copy what is selected"),
            run=lambda: window.ask_focus("copy"),
            keys=(Key.Copy,),
        ),
        Command(
            name="paste",
            text=_tr("&Paste"),
            tip=_tr("Paste where the focus is"),
            run=lambda: window.ask_focus("paste"),
            keys=(Key.Paste,),
        ),
        None,
        Command(
            name="find",
            text=_tr("&Find command, field or rule…"),
            tip=_tr("Find anything by its name and go there"),
            run=window.search,
            keys=("Ctrl+K", QKeySequence("Ctrl+Shift+P"), *QKeySequence.keyBindings(Key.Find)),
        ),
    ]


def view_commands(window: MainWindow) -> list[Command | None]:
    """The View menu after pages, units and theme."""
    return [
        Command(
            name="reset_view",
            text=_tr("&Reset view"),
            tip=_tr("Show the whole picture again"),
            run=lambda: window.ask_page("reset_view"),
            keys=("Ctrl+0",),
        ),
        Command(
            name="reset_layout",
            text=_tr("Reset &layout"),
            tip=_tr("Put the window and its columns back as they came"),
            run=window.reset_layout,
        ),
        Command(
            name="full_screen",
            text=_tr("&Full screen"),
            tip=_tr("Fill the screen, or go back to a window"),
            run=window.toggle_full_screen,
            keys=(Key.FullScreen, "F11"),
        ),
    ]


def tools_commands(window: MainWindow) -> list[Command | None]:
    """The Tools menu."""
    return [
        Command(
            name="rule_book",
            text=_tr("&Rule book…"),
            tip=_tr("See and change the limits that findings are judged by"),
            run=window.show_rule_book,
            keys=("Ctrl+R",),
        ),
        Command(
            name="variants",
            text=_tr("&Variants…"),
            tip=_tr("Compare candidate springs side by side"),
            run=window.show_variants,
            keys=("Ctrl+Shift+V",),
        ),
        Command(
            name="inverse",
            text=_tr("&Inverse answers…"),
            tip=_tr("The height for a wanted load, the shims for a height, the most lift, the rate wanted"),
            run=window.show_inverse,
            keys=("Ctrl+I",),
        ),
        Command(
            name="make_polydyne",
            text=_tr("Make a &polydyne lobe"),
            tip=_tr("Make the lobe's law the one for which this spring, mass and linkage give the wanted valve lift"),
            run=window.make_polydyne,
        ),
    ]


def help_commands(window: MainWindow) -> list[Command | None]:
    """The Help menu."""
    return [
        Command(
            name="help",
            text=_tr("&Help on this page"),
            tip=_tr("What this page answers and how to read it"),
            run=window.show_help,
            keys=(Key.HelpContents, "F1"),
        ),
        Command(
            name="keyboard",
            text=_tr("&Keyboard"),
            tip=_tr("Every command with its keys"),
            run=window.show_keyboard,
            keys=("Ctrl+F1",),
        ),
        Command(
            name="cautions",
            text=_tr("&Cautions"),
            tip=_tr("What can hurt you at this work, and what this program does not cover"),
            run=lambda: window.show_help("cautions"),
        ),
        None,
        Command(
            name="about",
            text=_tr("&About LoadBench"),
            tip=_tr("Version, libraries and licences, and what to send with a report of trouble"),
            run=window.show_about,
            role=Role.AboutRole,
        ),
    ]
