"""The readings of numbered springs as the statistics take them, each with its place in the job."""

from __future__ import annotations

from loadbench.job.checks import SAME_HEIGHT
from loadbench.job.stated import Stated, read_stated
from loadbench.readings.evidence import part_named
from loadbench.readings.trust.flag import TestedReading, TestedSpring


def springs_as_tested(stated: Stated, path: str = "springs") -> tuple[TestedSpring, ...]:
    """The numbered springs of a list with their complete readings.

    Args:
        stated: the job's values.
        path: of the list: "springs", or a check's, such as "history.0.springs".

    Returns:
        Every spring in the order of the job; a reading that lacks height or load, or whose text is none, is left out.
        Loads that contradict one another are there, though the analysis leaves them out: that is what is looked for.
    """
    entries = read_stated(stated.job)
    count = entries.values.get(f"{path}#", 0)
    names = (stated.values.get(f"{path}.{index}.id") for index in range(count))
    return tuple(_spring(entries, f"{path}.{index}", str(name or f"#{index + 1}")) for index, name in enumerate(names))


def _spring(entries: Stated, path: str, name: str) -> TestedSpring:
    values = entries.values
    readings: list[TestedReading] = []
    for place in range(values.get(f"{path}.readings#", 0)):
        own = f"{path}.readings.{place}"
        height, load = values.get(f"{own}.height"), values.get(f"{own}.load")
        if height is None or load is None:
            continue
        part = part_named(values.get(f"{own}.part"))
        direction = str(values.get(f"{own}.direction") or "")
        same = [
            each
            for each in readings
            if each.part == part and each.direction == direction and abs(each.height - height) <= SAME_HEIGHT
        ]
        readings.append(
            TestedReading(part=part, height=height, load=load, repeat=len(same) + 1, direction=direction, path=own)
        )
    return TestedSpring(id=name, readings=tuple(readings), path=path)
