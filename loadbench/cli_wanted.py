"""The command `wanted`: which load, rate or mass a speed needs."""

from __future__ import annotations

import argparse
import math
from typing import TYPE_CHECKING

from loadbench.errors import InputError

if TYPE_CHECKING:
    from loadbench.analysis import LineAnalysis
    from loadbench.cli_sweep import Progress
    from loadbench.report.wanted_out import Answered
    from loadbench.units import Kind, Style

LINES = ("intake", "exhaust")
RPM = math.pi / 30
SLOWEST, FASTEST = 100.0, 50_000.0
"""rpm between which a speed can be wanted."""


def add_wanted(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> argparse.ArgumentParser:
    """Add the command to a parser.

    Args:
        commands: of the program.

    Returns:
        The command's parser, still without what it runs.
    """
    made = commands.add_parser("wanted", help="which load, rate or mass holds contact at a wanted speed")
    made.add_argument("job", metavar="JOB", help="a *.loadbench.json file")
    made.add_argument("--speed", metavar="SPEED", help='such as "7500 rpm"; without it the speed limit')
    made.add_argument(
        "--left", metavar="FORCE", default=None,
        help='what must still press at the valve where contact is least, such as "20 lbf"; without it, none',
    )  # fmt: skip
    made.add_argument("--line", choices=LINES, help="one line alone; a job with a common line has it for both")
    made.add_argument("--json", action="store_true", help="as JSON on standard output")
    return made


def speed_and_margin(speed: str | None, left: str | None, style: Style | None) -> tuple[float | None, float]:
    """What was typed, read.

    Args:
        speed: a speed with its unit; None where none was given.
        left: a force with its unit; None: nothing.
        style: of the job; a bare number takes its everyday unit.

    Returns:
        Engine speed, rad/s, or None; force, N.

    Raises:
        InputError: a text that is no such quantity, or out of sense.
    """
    from loadbench.units import Kind

    wanted = None if speed is None else _read("--speed", speed, Kind.SPEED, style)
    if wanted is not None and not SLOWEST <= wanted / RPM <= FASTEST:
        raise InputError(f"--speed is {speed}.", expected=f"a speed from {SLOWEST:g} to {FASTEST:g} rpm")
    margin = 0.0 if left is None else _read("--left", left, Kind.FORCE, style)
    if margin < 0:
        raise InputError(f"--left is {left}.", expected="a force of zero or more")
    return wanted, margin


def _read(option: str, text: str, kind: Kind, style: Style | None) -> float:
    from loadbench.units import parse

    try:
        return float(parse(text, kind, style).value)
    except InputError as error:
        raise InputError(f"{option}: {error}") from error


def answered(
    lines: tuple[LineAnalysis, ...], speed: float | None, margin: float, progress: Progress
) -> tuple[Answered, ...]:
    """The answers of some lines.

    Args:
        lines: analysed.
        speed: engine speed, rad/s; None for each line's speed limit.
        margin: N.
        progress: told how far the work is.

    Returns:
        One for each line, without needs where its gear or a speed is not known.
    """
    from loadbench.analysis.motion.wanted_duty import wanted_duty
    from loadbench.analysis.motion.wanted_run import held_by_run
    from loadbench.report.wanted_out import Answered

    out: list[Answered] = []
    for done, line in enumerate(lines):
        wanted = speed or line.motion.speed_limit
        dynamic, mass, lift = line.motion.dynamic, line.value("referred_mass"), line.value("net_valve_lift")
        if dynamic is None or wanted is None or mass is None or lift is None:
            out.append(Answered(line=line, rigid=None, run=None))
            continue

        def tell(share: float, done: int = done) -> None:
            progress((done + share) / len(lines))

        run = held_by_run(dynamic, lift, wanted, margin, progress=tell)
        out.append(Answered(line=line, rigid=wanted_duty(dynamic, mass, wanted, margin), run=run))
    return tuple(out)
