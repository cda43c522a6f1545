"""Loose members of a nest: numbered springs that are an outer or an inner only, and the pairs made of them.

A valve names a pair as "O3 + I7".
"""

from __future__ import annotations

from loadbench.analysis.line import LineAnalysis
from loadbench.job.stated import Stated
from loadbench.readings.evidence import accuracy_of, part_named, readings_at
from loadbench.readings.load_line import LoadLine
from loadbench.readings.strand_fit import fitted_strand, line_from_rate

BETWEEN = " + "


def parts_of(stated: Stated, path: str) -> frozenset[str]:
    """The parts that a numbered spring's readings speak of; "" for the whole.

    Args:
        stated: the job's values.
        path: of the spring, such as "springs.3".
    """
    count = stated.values.get(f"{path}.readings#", 0)
    return frozenset(part_named(stated.values.get(f"{path}.readings.{place}.part")) for place in range(count))


def loose_member(stated: Stated, path: str, line: LineAnalysis) -> int | None:
    """Which member of a line's nest a numbered spring is: its index; None where it is a whole spring or none of them.

    Args:
        stated: the job's values.
        path: of the spring.
        line: the line whose nest it is for.
    """
    parts = parts_of(stated, path)
    if len(line.nest.members) < 2 or len(parts) != 1:
        return None
    names = [part_named(member.name) for member in line.nest.members]
    return next((place for place, name in enumerate(names) if name in parts and name), None)


def member_load_line(stated: Stated, path: str, line: LineAnalysis, member: int) -> LoadLine | None:
    """The load line, against the height H of the nest, of a numbered spring as one member of it.

    Args:
        stated: the job's values.
        path: of the spring.
        line: the line whose nest it is for.
        member: index of the member.

    Returns:
        The line; None where its readings do not give one.
    """
    own = line.nest.members[member]
    count = stated.values.get(f"{path}.readings#", 0)
    readings = readings_at(line.stated, f"{path}.readings", count, (part_named(own.name),))
    rate = own.evidence.stated_rate
    if readings.faulty or not readings.count or own.offset is None:
        return None
    accuracy = accuracy_of(line.stated)
    if readings.several_heights:
        strand = fitted_strand(readings.heights, readings.loads, accuracy)
    elif rate is not None:
        strand = line_from_rate(rate, readings.heights, readings.loads)
    else:
        return None
    return LoadLine(strands=((own.offset, strand),), accuracy=accuracy)


def pair_load_line(stated: Stated, name: str, line: LineAnalysis) -> LoadLine | None:
    """The load line of a pair that a valve names, such as "O3 + I7".

    Args:
        stated: the job's values.
        name: the names of its members, in any order.
        line: the line of the valve.

    Returns:
        The members' lines together; None where the name is no pair, or a member is not there or stands in for two.
    """
    names = [each.strip() for each in name.split(BETWEEN.strip())]
    places = {spring.id: f"springs.{index}" for index, spring in enumerate(stated.job.springs)}
    if len(names) < 2 or len(names) != len(line.nest.members) or any(each not in places for each in names):
        return None
    found: dict[int, LoadLine] = {}
    for each in names:
        member = loose_member(stated, places[each], line)
        own = None if member is None else member_load_line(stated, places[each], line, member)
        if member is not None and own is not None:
            found[member] = own
    if len(found) < len(names):
        return None
    strands = tuple(strand for _, own in sorted(found.items()) for strand in own.strands)
    return LoadLine(strands=strands, accuracy=accuracy_of(line.stated))
