"""The same main job without a window, by commands; without one the desktop opens."""

from __future__ import annotations

import argparse
import contextlib
import importlib
import json
import os
import sys
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from loadbench import __version__
from loadbench.cli_sweep import Progress, add_sweep, lines_asked, rpm_typed, speeds_asked, swept
from loadbench.cli_wanted import add_wanted, answered, speed_and_margin
from loadbench.errors import InputError, LoadBenchError, Problem, UnreadableFileError

if TYPE_CHECKING:
    from loadbench.findings.set_check.printout_in import Terms
    from loadbench.job.model import Job

CLEAR, STOP, BAD_INPUT, INCOMPLETE, STOPPED = 0, 1, 2, 3, 130
REPORTS = ("xlsx", "csv", "csv_set", "csv_plan")
COMMANDS = frozenset({"check", "report", "sweep", "wanted", "readings", "fit", "-h", "--help", "--version"})


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line.

    Args:
        arguments: without the program's name; None takes the process's own.

    Returns:
        The exit code: 0 clear, 1 a stop or no plan, 2 bad input, 3 incomplete (with --strict) or nothing to sweep.
    """
    given = list(sys.argv[1:] if arguments is None else arguments)
    if not given or given[0] not in COMMANDS:
        return _desktop(given)
    _plain_streams()
    options = _parser().parse_args(given)
    try:
        return int(options.run(options))
    except UnreadableFileError as error:
        return _refused(error.problems, options)
    except LoadBenchError as error:
        return _refused((Problem(what=str(error)),), options)
    except KeyboardInterrupt:
        print("Stopped.", file=sys.stderr)
        return STOPPED
    except BrokenPipeError:
        with contextlib.suppress(OSError):
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return CLEAR


def _desktop(given: list[str]) -> int:
    """Open the window; by name, so that this package needs no Qt to be imported."""
    screens = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")
    if sys.platform.startswith("linux") and not any(os.environ.get(name) for name in screens):
        print(
            "No screen was found, so the window cannot open. `loadbench check JOB` works without one.", file=sys.stderr
        )
        return INCOMPLETE
    try:
        app = importlib.import_module("ui.app")
    except ImportError as error:
        print(f"The window cannot be opened: {error}. Set up with: python3 loadbench/bootstrap.py", file=sys.stderr)
        return BAD_INPUT
    return int(app.main(given))


def _plain_streams() -> None:
    """A console that cannot show a character shows a question mark instead of failing."""
    for stream in (sys.stdout, sys.stderr):
        with contextlib.suppress(AttributeError, ValueError):
            stream.reconfigure(errors="replace")  # type: ignore[union-attr]


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="loadbench",
        description="Do spring, follower and setting suit each other and the duty? Without a command the window opens.",
    )
    parser.add_argument("--version", action="version", version=f"LoadBench {__version__}")
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    check = commands.add_parser("check", help="print figures and findings of a job")
    check.add_argument("job", metavar="JOB", help="a *.loadbench.json file")
    check.add_argument("--json", action="store_true", help="as JSON on standard output")
    check.add_argument("--strict", action="store_true", help="exit with 3 when a main figure is unknown")
    check.set_defaults(run=_check)
    report = commands.add_parser("report", help="write the workbook and tables of a job")
    report.add_argument("job", metavar="JOB", help="a *.loadbench.json file")
    report.add_argument("--xlsx", metavar="FILE", help="the workbook (.xlsx), with live formulas")
    report.add_argument("--csv", metavar="FILE", help="the load table as CSV")
    report.add_argument("--csv-set", metavar="FILE", help="the numbered springs, their loads and verdicts, as CSV")
    report.add_argument("--csv-plan", metavar="FILE", help="the plan kept in the job, else the best one, as CSV")
    report.add_argument("--force", action="store_true", help="replace a file that LoadBench did not make")
    report.set_defaults(run=_report)
    add_sweep(commands).set_defaults(run=_sweep, lists=("sweep", "loss_bands", "not_swept"))
    add_wanted(commands).set_defaults(run=_wanted, lists=("wanted",))
    _add_set_commands(commands)
    return parser


def _add_set_commands(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """The commands on a set of springs: its printout, and its fit to the head."""
    readings = commands.add_parser("readings", help="read a tester printout and say what is doubtful in it")
    readings.add_argument("file", metavar="FILE", help="text (CSV, tabs, columns of blanks) or a workbook (.xlsx)")
    readings.add_argument("--job", metavar="JOB", help="take units, tester, sheet and recipes from this job")
    readings.add_argument("--recipe", metavar="NAME", help="read it by this recipe of the job, or of this computer")
    readings.add_argument("--json", action="store_true", help="as JSON on standard output")
    readings.set_defaults(run=_readings, lists=("columns", "springs", "flags"))
    fit = commands.add_parser("fit", help="choose a spring and shims for each valve of a job")
    fit.add_argument("job", metavar="JOB", help="a *.loadbench.json file")
    fit.add_argument("--json", action="store_true", help="as JSON on standard output")
    fit.set_defaults(run=_fit)


def _judged(path: str):  # type: ignore[no-untyped-def]
    from loadbench.analysis import analyse
    from loadbench.analysis.dynamic_runs import fully_analysed
    from loadbench.findings import judge
    from loadbench.findings.match.match import match_of, with_match
    from loadbench.findings.shop import load_shop
    from loadbench.job.files import open_job

    progress = Progress("Following the motion")
    analysis = fully_analysed(analyse(open_job(path)), progress)
    progress.done()
    shop = load_shop()
    return analysis, with_match(judge(analysis, shop), match_of(analysis, shop))


def _exit_code(verdicts, *, strict: bool) -> int:  # type: ignore[no-untyped-def]
    if verdicts.problems:
        return BAD_INPUT
    if verdicts.worst.value == "stop":
        return STOP
    return INCOMPLETE if strict and not verdicts.complete else CLEAR


def _check(options: argparse.Namespace) -> int:
    analysis, verdicts = _judged(options.job)
    if options.json:
        from loadbench.report.json_out import as_json

        _print_json(as_json(analysis, verdicts))
    else:
        from loadbench.report.plain import as_text

        print(as_text(analysis, verdicts))
    return _exit_code(verdicts, strict=options.strict)


def _report(options: argparse.Namespace) -> int:
    targets = {name: Path(file) for name in REPORTS if (file := getattr(options, name))}
    if not targets:
        print("Nothing to write: give --xlsx, --csv, --csv-set or --csv-plan with a FILE.", file=sys.stderr)
        return BAD_INPUT
    if "xlsx" in targets:
        targets["xlsx"] = _workbook_path(targets["xlsx"])
    analysis, verdicts = _judged(options.job)
    from loadbench.findings.shop import load_shop
    from loadbench.report import table, workbook
    from loadbench.report.plan_table import plan_table_csv
    from loadbench.report.set_table import set_table_csv

    for name, path in targets.items():
        if _kept_from(path, options, workbook.is_ours if name == "xlsx" else table.is_ours):
            return BAD_INPUT
    shop = load_shop()
    tables: dict[str, Callable[[], str]] = {
        "csv": lambda: table.load_table_csv(analysis),
        "csv_set": lambda: set_table_csv(analysis, shop),
        "csv_plan": lambda: plan_table_csv(analysis, shop),
    }
    # all of them before anything is written: a plan may be refused
    texts = {name: text() for name, text in tables.items() if name in targets}
    if "xlsx" in targets:
        workbook.write_workbook(analysis, verdicts, targets["xlsx"], shop=shop)
    for name, text in texts.items():
        table.write_csv(targets[name], text)
    for path in targets.values():
        print(f"Written: {path}")
    _tell_entries(verdicts.problems, analysis.job)
    return _exit_code(verdicts, strict=False)


def _sweep(options: argparse.Namespace) -> int:
    typed = {"--from": options.from_rpm, "--to": options.to_rpm, "--step": options.step_rpm}
    speeds = speeds_asked(*(rpm_typed(option, text) for option, text in typed.items()))
    analysis, verdicts = _judged(options.job)
    from loadbench.report import sweep_plain, sweep_rows, table
    from loadbench.report.json_out import style_of

    target = None if options.csv is None else Path(options.csv)
    if target is not None and _kept_from(target, options, table.is_ours):
        return BAD_INPUT
    progress = Progress("Sweeping")
    lines = swept(lines_asked(analysis, options.line), speeds, progress, full=options.full)
    progress.done()
    waiting = [line for line in lines if line.dynamics is None]
    if options.json:
        _print_json(sweep_rows.sweep_as_json(analysis, lines))
    elif target is None:
        print(sweep_plain.sweep_as_text(analysis, lines, style_of(analysis)))
    else:
        for line in waiting:
            print(sweep_plain.waits_told(analysis, line), file=sys.stderr)
        if len(waiting) < len(lines):
            table.write_csv(target, sweep_rows.sweep_csv(lines))
            print(f"Written: {target}")
    if not options.json:
        _tell_entries(verdicts.problems, analysis.job)
    code = _exit_code(verdicts, strict=False)
    return INCOMPLETE if code == CLEAR and waiting else code


def _wanted(options: argparse.Namespace) -> int:
    from loadbench.analysis import analyse
    from loadbench.job.files import open_job
    from loadbench.report import wanted_out
    from loadbench.report.json_out import style_of

    analysis = analyse(open_job(options.job))
    style = style_of(analysis)
    speed, margin = speed_and_margin(options.speed, options.left, style)
    progress = Progress("Looking for the load")
    answers = answered(lines_asked(analysis, options.line), speed, margin, progress)
    progress.done()
    problems = tuple(analysis.stated.problems.values())
    if options.json:
        _print_json(wanted_out.wanted_as_json(analysis, answers))
    else:
        print(wanted_out.wanted_as_text(analysis, answers, style))
        _tell_entries(problems, analysis.job)
    if problems:
        return BAD_INPUT
    return INCOMPLETE if any(each.run is None for each in answers) else CLEAR


def _kept_from(path: Path, options: argparse.Namespace, ours: Callable[[Path], bool]) -> bool:
    """Whether a file has to stay as it is; then it is told."""
    if not _would_destroy(path, options) and (options.force or not path.exists() or ours(path)):
        return False
    print(
        f"{path} is there already and was not made by LoadBench: nothing was written. --force replaces it.",
        file=sys.stderr,
    )
    return True


def _readings(options: argparse.Namespace) -> int:
    from loadbench.findings.set_check.printout_in import Terms, read_printout

    terms = Terms() if options.job is None else _terms(options.job)
    check = read_printout(options.file, terms, options.recipe)
    style = terms.style or check.understood.style
    if options.json:
        from loadbench.report.readings_json import readings_as_json

        _print_json(readings_as_json(check, style))
    else:
        from loadbench.report.readings_plain import readings_as_text

        print(readings_as_text(check, style))
    return BAD_INPUT if check.understood.problems else CLEAR


def _terms(path: str) -> Terms:
    from loadbench.analysis import analyse
    from loadbench.findings.set_check.printout_in import terms_of
    from loadbench.job.files import open_job

    return terms_of(analyse(open_job(path)))


def _fit(options: argparse.Namespace) -> int:
    from loadbench.analysis import analyse
    from loadbench.assembly.fit import fit
    from loadbench.findings.shop import load_shop
    from loadbench.job.files import open_job
    from loadbench.report.json_out import style_of

    analysis = analyse(open_job(options.job))
    answer, style = fit(analysis, load_shop()), style_of(analysis)
    if options.json:
        from loadbench.report.fit_json import fit_as_json

        _print_json(fit_as_json(answer, style))
    else:
        from loadbench.report.fit_plain import fit_as_text

        print(fit_as_text(answer, style, analysis.job))
    if answer.problems:
        return BAD_INPUT
    return CLEAR if answer.feasible else STOP


def _print_json(tree: Mapping[str, object]) -> None:
    print(json.dumps(tree, indent=2, ensure_ascii=False, allow_nan=False))


def _workbook_path(path: Path) -> Path:
    """The workbook's file with its suffix; without it a spreadsheet would not open the file."""
    if path.suffix.lower() == ".xlsx":
        return path
    if not path.name or path.suffix or path.is_dir():
        what = f"{path} is no name for a workbook: nothing was written."
        raise InputError(what, expected="a name that ends in .xlsx, such as job.xlsx")
    return path.with_name(f"{path.name}.xlsx")


def _would_destroy(path: Path, options: argparse.Namespace) -> bool:
    """Whether a report would be written over the job itself."""
    with contextlib.suppress(OSError):
        return path.exists() and path.samefile(options.job)
    return False


def _tell_problems(problems: Sequence[Problem]) -> None:
    for problem in problems:
        print(problem, file=sys.stderr)


def _tell_entries(problems: tuple[Problem, ...], job: Job) -> None:
    """The entries to mend of a job that was opened all the same, by their names."""
    from loadbench.report.entries import entries_counted, entry_told

    if problems:
        print(f"{entries_counted(problems)}:", file=sys.stderr)
    for problem in problems:
        print(f"  {entry_told(problem, job)}", file=sys.stderr)


def _refused(problems: Sequence[Problem], options: argparse.Namespace) -> int:
    """Tell why nothing was done; as JSON the lists that a script reads are there, empty."""
    if getattr(options, "json", False):
        from loadbench.report.json_out import problems_as_json

        empty: dict[str, object] = {name: [] for name in getattr(options, "lists", ())}
        print(json.dumps({**empty, "problems": problems_as_json(problems)}, indent=2, ensure_ascii=False))
    else:
        _tell_problems(problems)
    return BAD_INPUT
