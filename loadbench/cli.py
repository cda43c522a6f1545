"""The same main job without a window: check a job, report it; without a command the desktop opens."""

from __future__ import annotations

import argparse
import contextlib
import importlib
import json
import os
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from loadbench import __version__
from loadbench.errors import InputError, LoadBenchError, Problem, UnreadableFileError

if TYPE_CHECKING:
    from loadbench.job.model import Job

CLEAR, STOP, BAD_INPUT, INCOMPLETE = 0, 1, 2, 3


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line.

    Args:
        arguments: without the program's name; None takes the process's own.

    Returns:
        The exit code: 0 clear, 1 a stop, 2 bad input, 3 incomplete (with --strict).
    """
    given = list(sys.argv[1:] if arguments is None else arguments)
    if not given or given[0] not in {"check", "report", "-h", "--help", "--version"}:
        return _desktop(given)
    _plain_streams()
    options = _parser().parse_args(given)
    try:
        return int(options.run(options))
    except UnreadableFileError as error:
        return _refused(error.problems, as_json=getattr(options, "json", False))
    except LoadBenchError as error:
        return _refused((Problem(what=str(error)),), as_json=getattr(options, "json", False))
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
    report.add_argument("--force", action="store_true", help="replace a file that LoadBench did not make")
    report.set_defaults(run=_report)
    return parser


def _judged(path: str):  # type: ignore[no-untyped-def]
    from loadbench.analysis import analyse
    from loadbench.findings import judge
    from loadbench.findings.shop import load_shop
    from loadbench.job.files import open_job

    analysis = analyse(open_job(path))
    return analysis, judge(analysis, load_shop())


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

        print(json.dumps(as_json(analysis, verdicts), indent=2, ensure_ascii=False, allow_nan=False))
    else:
        from loadbench.report.plain import as_text

        print(as_text(analysis, verdicts))
    return _exit_code(verdicts, strict=options.strict)


def _report(options: argparse.Namespace) -> int:
    if not options.xlsx and not options.csv:
        print("Nothing to write: give --xlsx FILE or --csv FILE.", file=sys.stderr)
        return BAD_INPUT
    targets = {name: Path(file) for name, file in (("xlsx", options.xlsx), ("csv", options.csv)) if file}
    if "xlsx" in targets:
        targets["xlsx"] = _workbook_path(targets["xlsx"])
    analysis, verdicts = _judged(options.job)
    from loadbench.report import table, workbook

    for name, path in targets.items():
        ours = workbook.is_ours if name == "xlsx" else table.is_ours
        if _would_destroy(path, options) or (path.exists() and not options.force and not ours(path)):
            print(
                f"{path} is there already and was not made by LoadBench: nothing was written. --force replaces it.",
                file=sys.stderr,
            )
            return BAD_INPUT
    if "xlsx" in targets:
        workbook.write_workbook(analysis, verdicts, targets["xlsx"])
    if "csv" in targets:
        table.write_csv(targets["csv"], table.load_table_csv(analysis))
    for path in targets.values():
        print(f"Written: {path}")
    _tell_entries(verdicts.problems, analysis.job)
    return _exit_code(verdicts, strict=False)


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


def _refused(problems: Sequence[Problem], *, as_json: bool) -> int:
    if as_json:
        from loadbench.report.json_out import problems_as_json

        told: Mapping[str, object] = {"problems": problems_as_json(problems)}
        print(json.dumps(told, indent=2, ensure_ascii=False))
    else:
        _tell_problems(problems)
    return BAD_INPUT
