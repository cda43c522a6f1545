"""Readings and names of springs: a height out of reach, half a reading, a spring not there."""

from __future__ import annotations

import difflib
from collections.abc import Iterator

from loadbench.job.coil_checks import Fault
from loadbench.job.stated import Stated

TALLEST = 2.0
"""A reading may stand this many times the installed height tall (common practice); a slip of the point is ten times."""

HALVES = (
    ("height", "load", "No load stands beside this height: the reading is not used."),
    ("load", "height", "No height stands beside this load: the reading is not used."),
)


def reading_lists(stated: Stated, ends: tuple[str, ...] = ("readings#",)) -> list[str]:
    """The paths of all lists of readings of a job, those of its variants left out.

    Args:
        stated: the entries read one by one.
        ends: how the path of such a list's length ends.

    Returns:
        Paths, such as "springs.3.readings".
    """
    lists = [path[:-1] for path in stated.values if path.endswith(ends)]
    return [path for path in lists if not path.startswith("variants.")]


def readings_out_of_reach(stated: Stated, at_rest: dict[str, float | None]) -> Iterator[Fault]:
    """Readings at a height that a spring of this job cannot stand at.

    Args:
        stated: the entries read one by one.
        at_rest: the installed height of each line, m; None where it is not stated.

    Yields:
        (path of the height, what is wrong, what is wanted). Without an installed height nothing is said.
    """
    own = [
        value for path, value in stated.values.items() if path.startswith("valves.") and path.endswith("bare_height")
    ]
    tallest = max([*(height for height in at_rest.values() if height is not None), *own], default=None)
    for path in reading_lists(stated):
        line = path.split(".")[1] if path.startswith("lines.") else ""
        installed = at_rest.get(line) or tallest
        if installed is None or installed <= 0:
            continue
        for index in range(stated.values[f"{path}#"]):
            height = stated.values.get(f"{path}.{index}.height")
            if height is not None and height > TALLEST * installed:
                what = "This height is more than twice the installed height."
                yield f"{path}.{index}.height", what, "a height of this spring, with the point in its place"


def half_readings(stated: Stated) -> dict[str, str]:
    """Readings with a height or a load alone: no fault, since heights are often written down before the test.

    Args:
        stated: the entries read one by one, less those that contradict each other.

    Returns:
        A note at the path of each half that is stated; none where the other half is faulty.
    """
    found = {}
    for path in reading_lists(stated):
        for index in range(stated.values[f"{path}#"]):
            own = f"{path}.{index}."
            for here, other, note in HALVES:
                there = f"{own}{other}"
                if f"{own}{here}" in stated.values and there not in stated.values and there not in stated.problems:
                    found[f"{own}{here}"] = note
    return found


def springs_not_there(stated: Stated) -> Iterator[Fault]:
    """Valves that name a numbered spring which the job does not have.

    Args:
        stated: the entries read one by one.

    Yields:
        (path of the name, what is wrong, what is wanted). Without any numbered spring a name is a label; loose members
        of a pair are joined by a plus, "O3 + I7".
    """
    values = stated.values
    names = [
        str(values[f"springs.{i}.id"]).strip() for i in range(values.get("springs#", 0)) if f"springs.{i}.id" in values
    ]
    if not names:
        return
    for index in range(values.get("valves#", 0)):
        name = str(values.get(f"valves.{index}.spring", "")).strip()
        parts = [name] if name in names else [part.strip() for part in name.split("+")]
        for part in parts if name else ():
            if part not in names:
                near = difflib.get_close_matches(part, names, n=1)
                expected = f'did you mean "{near[0]}"?' if near else "the name of a numbered spring of this job"
                yield f"valves.{index}.spring", f"There is no numbered spring {part}.", expected
