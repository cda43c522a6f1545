"""A sheet of a workbook as a grid of cells: guarded from outside, read in a program of its own that can be stopped."""

from __future__ import annotations

import contextlib
import csv
import io
import json
import os
import queue
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import IO, Any

import loadbench
from loadbench.errors import UnreadableFileError
from loadbench.readings.printout.cells import Grid
from loadbench.readings.printout.splitting import rows_of_cells, too_many
from loadbench.readings.printout.workbook_guard import damaged, guard, refused

READER = "loadbench.readings.printout.sheet_values"
TIME_LIMIT = 20.0
STEP = 0.05

Progress = Callable[[float], None]


def grid_of_workbook(
    path: str | os.PathLike[str], *, sheet: str | None = None, progress: Progress | None = None
) -> Grid:
    """Read one sheet of an .xlsx workbook.

    Numbers become their shortest text, days and times ISO 8601, formulas their stored results; a formula without one
    stays a formula, so that it is told. Nothing in the workbook is run, and no link is followed.

    Args:
        path: the workbook.
        sheet: the name of the sheet; None: the first that holds rows of numbers.
        progress: told the share done; it may raise Cancelled, and the reading stops at once.

    Returns:
        The grid; a row's number and columns are those of the sheet.

    Raises:
        UnreadableFileError: not a workbook, too large, with macros, locked, damaged, no such sheet, or nothing in it.
        Cancelled: by `progress`.
    """
    path = Path(path)
    guard(path)
    answer = _answer(path, sheet, progress)
    names = tuple(answer.get("sheets", ()))
    if "refused" in answer:
        raise _refusal(answer, path.name, sheet)
    cells = _level({int(number): list(texts) for number, texts in answer["rows"]})
    rows = tuple(rows_of_cells(sorted(cells.items())))
    if not rows:
        where = f"The sheet {sheet!r}" if sheet is not None else "The workbook"
        raise refused(f"{where} holds no cells.", "a sheet with the readings, one row a spring or a reading", path.name)
    return Grid(
        rows=rows,
        text=_as_text(cells),
        name=path.name,
        sheet=answer["sheet"],
        sheets=names,
    )


def _refusal(answer: dict[str, Any], name: str, sheet: str | None) -> UnreadableFileError:
    if answer["refused"] == "sheet":
        names = ", ".join(repr(one) for one in answer["sheets"]) or "none"
        return refused(f"There is no sheet {sheet!r}.", f"one of these sheets: {names}", name)
    return too_many(
        f"cells beyond the last of the {answer['refused']} in the sheet {answer['sheet']!r}", name, answer["row"]
    )


def _as_text(cells: dict[int, list[str]]) -> str:
    """The cells with tabs between and a line a row, blank rows too, so that it reads again to the same rows."""
    stream = io.StringIO()
    writer = csv.writer(stream, delimiter="\t", lineterminator="\n")
    for number in range(1, max(cells) + 1):
        if number in cells:
            writer.writerow(cells[number])
        else:
            stream.write("\n")
    return stream.getvalue()


# The program that reads


def _answer(path: Path, sheet: str | None, progress: Progress | None) -> dict[str, Any]:
    """What the reading program says at its end."""
    last: dict[str, Any] = {}
    with _reader(path, sheet) as said:
        end = time.monotonic() + TIME_LIMIT
        share = 0.0
        while True:
            if progress is not None:
                progress(share)
            if time.monotonic() > end:
                what = f"The workbook could not be read within {TIME_LIMIT:.0f} s."
                raise refused(what, "a smaller workbook, or the sheet exported as CSV", path.name)
            try:
                line = said.get(timeout=STEP)
            except queue.Empty:
                continue
            if line is None:
                break
            last = json.loads(line)
            share = last.get("share", share)
    if "rows" not in last and "refused" not in last:
        raise damaged(path.name)
    return last


@contextlib.contextmanager
def _reader(path: Path, sheet: str | None) -> Iterator[queue.Queue[bytes | None]]:
    """The reading program at work: its lines as they come, then None. However it is left, the program is gone after."""
    home = str(Path(loadbench.__file__).parent.parent)
    # -P: a file lying in the present folder must not stand in for a module.
    command = [sys.executable, "-P", "-m", READER, str(path.resolve()), *([sheet] if sheet is not None else [])]
    paths = os.pathsep.join([home, *filter(None, [os.environ.get("PYTHONPATH")])])
    process = subprocess.Popen(  # noqa: S603 - our own program
        command,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        env={**os.environ, "PYTHONPATH": paths},
        creationflags=getattr(subprocess, "CREATE_NO_WINDOW", 0),
    )
    said: queue.Queue[bytes | None] = queue.Queue()
    assert process.stdout is not None  # noqa: S101 - asked for above
    listener = threading.Thread(target=_listen, args=(process.stdout, said), daemon=True)
    listener.start()
    try:
        yield said
    finally:
        process.kill()
        process.wait()
        listener.join()
        process.stdout.close()


def _listen(stream: IO[bytes], said: queue.Queue[bytes | None]) -> None:
    for line in stream:
        said.put(line)
    said.put(None)


def _level(cells: dict[int, list[str]]) -> dict[int, list[str]]:
    """All rows as wide as the widest: a sheet's row ends where its cells do, and lacks none for that."""
    width = max((len(texts) for texts in cells.values()), default=0)
    return {number: texts + [""] * (width - len(texts)) for number, texts in cells.items()}
