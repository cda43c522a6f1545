"""Faults of value that show only between entries: coils bound at rest, an open load below the seat load."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain

from loadbench.errors import Place, Problem
from loadbench.job.cam_checks import laws_that_cannot_be, table_row_faults
from loadbench.job.coil_checks import Fault, coil_faults, wires_beyond_their_table
from loadbench.job.follower_checks import follower_faults, rollers_wider_than_their_lobe
from loadbench.job.reading_checks import half_readings, reading_lists, readings_out_of_reach, springs_not_there
from loadbench.job.stated import LineStated, Stated

REPEAT_SHARE = 0.05
"""Readings repeated at one height may differ by this share of their mean (common practice)."""

BELOW_BIND = 0.99
"""A reading may stand this close under the bind height: both are measured, and a tester squeezes (common practice)."""

SAME_HEIGHT = 2e-5
"""Two heights closer than this, m, are one height: below the step of any spring tester."""


def checked(stated: Stated) -> Stated:
    """The stated values less those that contradict each other, each told with its place.

    Args:
        stated: the entries read one by one.

    Returns:
        The same, with the faults between entries added and their values withdrawn; a wire that its material's table
        does not reach is told and its value kept; half a reading has a note.
    """
    if faults := _placed(
        readings_out_of_reach(stated, {name: stated_height(stated.line(name)) for name in stated.lines})
    ):
        stated = stated.without(faults)  # first: beside a height out of reach the true ones look wrong
    if faults := _placed(_found(stated)):
        stated = stated.without(faults)
    if faults := _placed(coil_faults(stated)):  # what was withdrawn says nothing of the coil
        stated = stated.without(faults)
    if faults := _placed(follower_faults(stated)):
        stated = stated.without(faults)
    if faults := _placed(table_row_faults(stated)):
        stated = stated.without(faults)
    told = _placed(
        chain(
            wires_beyond_their_table(stated),
            rollers_wider_than_their_lobe(stated),
            laws_that_cannot_be(stated),
            springs_not_there(stated),
        )
    )
    if told:
        stated = stated.telling(told)
    return stated.noting(half_readings(stated))


def _placed(faults: Iterator[Fault]) -> dict[str, Problem]:
    """The first fault of each path."""
    found: dict[str, Problem] = {}
    for path, what, expected in faults:
        found.setdefault(path, Problem(what=what, expected=expected, place=Place(field=path)))
    return found


def _found(stated: Stated) -> Iterator[Fault]:
    for name in stated.lines:
        line = stated.line(name)
        yield from _heights(line)
        yield from _bound_readings(line)
        yield from _names(line)
        yield from _lifts(line)
        yield from _order(line, "targets.open_load", "targets.seat_load", "The open load is below the seat load.")
    for path in reading_lists(stated, ("readings#", "spec#")):
        yield from _readings(stated, path)
    yield from _doubles(stated)
    line = stated.line("common")
    yield from _order(line, "duty.speed_limit", "duty.idle_speed", "The speed limit is below the idle speed.")
    for pair in ("preload", "lash"):
        low, high = (f"follower.maker_limits.{pair}_{end}" for end in ("min", "max"))
        yield from _order(line, high, low, "The largest is below the least.")


def _doubles(stated: Stated) -> Iterator[Fault]:
    """Springs or valves of one name, and a spring put on two valves."""
    for field, words in (("springs.{}.id", "spring"), ("valves.{}.id", "valve"), ("valves.{}.spring", "spring")):
        seen: set[str] = set()
        for index in range(stated.values.get(f"{field.split('.', 1)[0]}#", 0)):
            name = stated.values.get(field.format(index))
            if name is not None and str(name).strip() in seen:
                said = "is on another valve" if field == "valves.{}.spring" else "stands here twice"
                yield field.format(index), f"The {words} {name} {said}.", f"each {words} once"
            seen.add(str(name).strip())


def _order(line: LineStated, high: str, low: str, what: str) -> Iterator[Fault]:
    above, below = line.value(high), line.value(low)
    if above is not None and below is not None and above < below:
        yield line.path(high), what, "the two the other way round"


def stated_height(line: LineStated) -> float | None:
    """The installed height of a line in m: as stated, else the bare height less the shims; None where neither is.

    Args:
        line: the line's view of the job.

    Returns:
        H in m, or None.
    """
    if line.faulty("spring.installed_height"):
        return None
    stated: float | None = line.value("spring.installed_height")
    if stated is not None:
        return stated
    bare, shims = line.value("spring.bare_height"), stated_shims(line)
    return None if bare is None or shims is None else bare - shims


def stated_shims(line: LineStated) -> float | None:
    """The thickness of the shims under the spring, m; 0 where there are none, None where one of them is faulty."""
    path, count = line.rows("spring.shims")
    if any(f"{path}.{index}" in line.stated.problems for index in range(count)):
        return None
    return float(sum(line.stated.values.get(f"{path}.{index}", 0.0) for index in range(count)))


def _heights(line: LineStated) -> Iterator[Fault]:
    height = stated_height(line)
    if height is None:
        return
    if height <= 0:
        yield (
            line.path("spring.bare_height"),
            "The shims are as tall as the bare height.",
            "shims thinner than the bare height",
        )
        return
    bind, bare = line.value("spring.bind_height"), line.value("spring.bare_height")
    if bind is not None and bare is not None and bind >= bare:
        yield line.path("spring.bind_height"), "The coils bind at or above the bare height.", "a bind height below it"
    elif bind is not None and bind >= height:
        yield (
            line.path("spring.bind_height"),
            "The coils bind at or above the installed height.",
            "a bind height below it",
        )
    path, count = line.rows("spring.coils")
    for index in range(count):
        own = f"{path}.{index}."
        values = line.stated.values
        steps = values.get(f"{own}seat_step", 0.0) + values.get(f"{own}retainer_step", 0.0)
        bind = values.get(f"{own}bind_height")
        if bind is not None and bind >= height - steps:
            what = "This coil binds at or above its own installed height."
            yield f"{own}bind_height", what, "a bind height below the installed height less the steps"


def _bound_readings(line: LineStated) -> Iterator[Fault]:
    """Readings of a single spring at a height that its bound coils cannot reach."""
    bind = line.value("spring.bind_height")
    path, count = line.rows("spring.readings")
    tallest = min((at for at in (stated_height(line), line.value("spring.bare_height")) if at is not None), default=1.0)
    if bind is None or bind >= tallest or line.rows("spring.coils")[1] > 1:
        return  # a bind height that is wrong itself says nothing of the readings
    for index in range(count):
        height = line.stated.values.get(f"{path}.{index}.height")
        if height is not None and height < bind * BELOW_BIND:
            yield f"{path}.{index}.height", "This height is below the bind height.", "a height the coils can reach"


def _names(line: LineStated) -> Iterator[Fault]:
    """Members that readings could not tell apart: the loads of one would be counted twice."""
    path, count = line.rows("spring.coils")
    seen: set[str] = set()
    for index in range(count if count > 1 else 0):
        name = str(line.stated.values.get(f"{path}.{index}.name", "")).strip().lower()
        if name and name in seen | {"pair"}:
            yield f"{path}.{index}.name", "This name stands for other readings already.", "a name of its own, not pair"
        seen.add(name)


def _lifts(line: LineStated) -> Iterator[Fault]:
    ratio = line.value("valve_gear.rocker_ratio")
    bucket = line.value("follower.family") == "bucket"
    if bucket and ratio is not None and ratio != 1.0:
        yield line.path("valve_gear.rocker_ratio"), "A bucket has no rocker: its ratio is 1.", "1, or nothing"
    lash, lift, stated_in = line.value("valve_gear.lash"), line.value("valve_gear.valve_lift"), "valve_gear.valve_lift"
    if lift is None:
        lobe, factor = line.value("valve_gear.lobe_lift"), 1.0 if bucket else ratio
        lift = lobe * factor if lobe is not None and factor is not None else None
        stated_in = "valve_gear.lobe_lift"
    yield from _room(line, lift, stated_in)
    if lash is not None and lift is not None and lash >= lift:
        yield line.path("valve_gear.lash"), "The lash is as large as the lift.", "a lash smaller than the valve lift"


def _room(line: LineStated, lift: float | None, stated_in: str) -> Iterator[Fault]:
    """A lift that leaves the spring no height at all."""
    measured = line.value("valve_gear.measured_net_lift")
    if measured is not None:
        lift, stated_in = measured, "valve_gear.measured_net_lift"
    height = stated_height(line)
    if lift is not None and height is not None and lift >= height > 0:
        yield (
            line.path(stated_in),
            "The valve would lift as far as the spring is tall.",
            "a lift below the installed height",
        )


def _readings(stated: Stated, path: str) -> Iterator[Fault]:
    """Repeats that disagree, and loads that fall as the spring gets shorter; within one part and direction."""
    groups: dict[tuple[str, str], list[tuple[float, float, str]]] = {}
    for index in range(stated.values[f"{path}#"]):
        own = f"{path}.{index}."
        height, load = stated.values.get(f"{own}height"), stated.values.get(f"{own}load")
        if height is not None and load is not None:
            part = str(stated.values.get(f"{own}part", "")).strip().lower()
            key = ("" if part == "pair" else part, stated.values.get(f"{own}direction", "loading"))
            groups.setdefault(key, []).append((height, load, f"{own}load"))
    for readings in groups.values():
        faults = list(_disagreeing(readings)) or list(_not_growing(readings))
        yield from faults


def _not_growing(readings: list[tuple[float, float, str]]) -> Iterator[Fault]:
    """A spring that isn't stiffer than nothing: the shortest reading is no higher than the tallest."""
    (low, at_low, place), (high, at_high, _) = min(readings), max(readings)
    if high - low > SAME_HEIGHT and at_low <= at_high:
        yield place, "The load does not grow as the spring gets shorter.", "a load above that of the tallest reading"


def _disagreeing(readings: list[tuple[float, float, str]]) -> Iterator[Fault]:
    for height, load, place in readings:
        repeats = [other for at, other, _ in readings if abs(at - height) <= SAME_HEIGHT]
        mean = sum(repeats) / len(repeats)
        if max(repeats) - min(repeats) > REPEAT_SHARE * mean * (1 + 1e-9):
            what = "Readings at this height are more than 5 % of their mean apart."
            yield place, what, "repeats that agree, or the height of each"
        elif any(load < other * (1 - 1e-9) for at, other, _ in readings if at > height * 1.01):
            yield (
                place,
                "The load is lower than one at a taller height.",
                "a load that grows as the spring gets shorter",
            )
