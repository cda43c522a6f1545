"""The command `sweep`: what was asked for, checked, and the dynamics followed speed by speed."""

from __future__ import annotations

import argparse
import math
import sys
import time
from dataclasses import replace
from typing import TYPE_CHECKING

from loadbench.errors import InputError

if TYPE_CHECKING:
    from loadbench.analysis import Analysis, LineAnalysis
    from loadbench.arrays import Floats

LINES = ("intake", "exhaust")
FROM, TO, STEP = 2000.0, 8000.0, 25.0
USUAL = {"--from": FROM, "--to": TO, "--step": STEP}
SLOWEST, FASTEST = 100.0, 50_000.0
"""rpm between which a sweep is of use; a slower one takes many more steps a turn."""
MOST_SPEEDS = 4000
QUIET_S = 1.0
"""Work that takes longer tells how far it is, where a person looks on."""


def add_sweep(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> argparse.ArgumentParser:
    """Add the command to a parser.

    Args:
        commands: of the program.

    Returns:
        The command's parser, still without what it runs.
    """
    made = commands.add_parser("sweep", help="follow the valve's motion speed by speed, and where contact is lost")
    made.add_argument("job", metavar="JOB", help="a *.loadbench.json file")
    made.add_argument("--line", choices=LINES, help="one line alone; a job with a common line has it for both")
    for name, usual, what in (("from", FROM, "first speed"), ("to", TO, "last speed"), ("step", STEP, "step")):
        made.add_argument(f"--{name}", dest=f"{name}_rpm", metavar="RPM", default=usual,
                          help=f"{what} of the engine, rpm ({usual:.0f})")  # fmt: skip
    made.add_argument(
        "--full", action="store_true",
        help="with the follower as a mass of its own, where its mass (and its plunger and oil) are stated",
    )  # fmt: skip
    out = made.add_mutually_exclusive_group()
    out.add_argument("--json", action="store_true", help="as JSON on standard output")
    out.add_argument("--csv", metavar="FILE", help="write the table as CSV")
    made.add_argument("--force", action="store_true", help="replace a file that LoadBench did not make")
    return made


def rpm_typed(option: str, text: str | float) -> float:
    """A speed as it was typed after an option.

    Args:
        option: such as "--from".
        text: what was typed, a bare number of rpm; or the usual value.

    Returns:
        rpm.

    Raises:
        InputError: it is no number.
    """
    try:
        return float(text)
    except ValueError as error:
        what = f'{option}: "{text}" is no speed.'
        raise InputError(what, expected=f"a number of rpm, such as {option} {USUAL[option]:.0f}") from error


def speeds_asked(first: float, last: float, step: float) -> Floats:
    """The speeds of a sweep.

    Args:
        first: rpm.
        last: rpm; among the speeds where whole steps reach it.
        step: rpm.

    Returns:
        Engine speeds, rad/s, rising.

    Raises:
        InputError: no such sweep can be made.
    """
    import numpy as np

    if not all(map(math.isfinite, (first, last, step))):
        raise InputError("A speed of the sweep is no finite number.", expected="speeds such as --from 2000 --to 8000")
    if step <= 0:
        raise InputError(f"--step is {step:g}.", expected="more than zero rpm")
    if first > last:
        raise InputError(f"--from {first:g} is over --to {last:g}.", expected="a first speed up to the last")
    if first < SLOWEST or last > FASTEST:
        what = f"A sweep from {first:g} to {last:g} rpm is out of range."
        raise InputError(what, expected=f"speeds from {SLOWEST:g} to {FASTEST:g} rpm")
    count = math.floor((last - first) / step * (1 + 1e-12)) + 1
    if count > MOST_SPEEDS:
        raise InputError(
            f"That is {count} speeds.", expected=f"at most {MOST_SPEEDS}: a longer step or a shorter range"
        )
    return np.asarray((first + step * np.arange(count)) * math.pi / 30)


def lines_asked(analysis: Analysis, name: str | None) -> tuple[LineAnalysis, ...]:
    """The lines to sweep: the one that is named, else all of the job."""
    return analysis.lines if name is None else (analysis.line(name),)


def swept(
    lines: tuple[LineAnalysis, ...], speeds: Floats, progress: Progress, *, full: bool = False
) -> tuple[LineAnalysis, ...]:
    """Lines with a dynamic run at some speeds.

    Args:
        lines: analysed.
        speeds: of the engine, rad/s, rising.
        progress: told how far the work is.
        full: with the follower as a mass of its own.

    Returns:
        The same lines, each with its run where it has what that takes, else without one.
    """
    from loadbench.analysis.motion.dynamics import run_dynamics

    if full:
        from loadbench.analysis.own_follower import with_own_follower

        lines = tuple(with_own_follower(line) for line in lines)
    out = []
    for done, line in enumerate(lines):
        run = run_dynamics(line.motion, speeds, progress=lambda share, done=done: progress((done + share) / len(lines)))  # type: ignore[misc]
        out.append(replace(line, dynamics=run))
    return tuple(out)


class Progress:
    """How far a piece of work is, on standard error: only where that is a terminal, and only after a second."""

    def __init__(self, what: str) -> None:
        self.what = what
        self.began = time.monotonic()
        self.told = ""
        self.seen = sys.stderr.isatty()

    def __call__(self, share: float) -> None:
        """Tell the share done, 0 to 1."""
        text = f"{self.what}: {100 * share:.0f} %"
        if self.seen and text != self.told and time.monotonic() - self.began > QUIET_S:
            self.told = text
            sys.stderr.write(f"\r{text}  ")
            sys.stderr.flush()

    def done(self) -> None:
        """Take the line away again."""
        if self.told:
            sys.stderr.write("\r" + " " * (len(self.told) + 2) + "\r")
            sys.stderr.flush()
