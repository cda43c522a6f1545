"""Faults of value of the follower that show only between entries: told at the field, its value withdrawn."""

from __future__ import annotations

from collections.abc import Iterator

from loadbench.errors import InputError
from loadbench.follower.needle import checked_count
from loadbench.job.coil_checks import Fault
from loadbench.job.stated import LineStated, Stated

NEEDLES = "follower.needles."


def follower_faults(stated: Stated) -> Iterator[Fault]:
    """What is wrong with the follower of a job.

    Args:
        stated: the entries read one by one.

    Yields:
        (path, what is wrong, what is wanted): needles that do not fit round the axle, a plunger set deeper than its
        travel or above zero lash, a bore or bush that is no larger than what is in it.
    """
    line = stated.line("common")
    yield from _needles(line)
    yield from _plungers(stated, line)
    yield from _bores(line)


def _needles(line: LineStated) -> Iterator[Fault]:
    count, diameter, axle = (line.value(f"{NEEDLES}{name}") for name in ("count", "diameter", "axle_diameter"))
    if count is None or diameter is None or axle is None:
        return
    try:
        checked_count(count, diameter, axle + diameter)
    except InputError as error:
        yield f"{NEEDLES}count", f"{error.what[:1].upper()}{error.what[1:]}.", error.expected


def rollers_wider_than_their_lobe(stated: Stated) -> Iterator[Fault]:
    """A roller wider than the lobe it runs on: told, its value kept, for it is right in itself.

    Args:
        stated: the entries read one by one.

    Yields:
        As `follower_faults`.
    """
    for name in stated.lines:
        line = stated.line(name)
        roller, lobe = line.value("follower.roller_width"), line.value("cam.face_width")
        if roller is not None and lobe is not None and roller > lobe * (1 + 1e-9):
            yield "follower.roller_width", "The roller is wider than its lobe.", "the lobe's face width at most"


def _plungers(stated: Stated, line: LineStated) -> Iterator[Fault]:
    travel, depth = line.value("follower.plunger.travel"), line.value("follower.preload.depth")
    turns = line.value("follower.preload.turns")
    if turns is not None and turns < 0:
        yield "follower.preload.turns", "The turns end below zero lash: the pushrod has play.", "zero or more"
    for index in range(stated.values.get("valves#", 0)):
        own = stated.values.get(f"valves.{index}.plunger_travel")
        found, most = stated.values.get(f"valves.{index}.depth_found"), own if own is not None else travel
        if found is not None and most is not None and found > most * (1 + 1e-9):
            what = "The plunger stands deeper than its whole travel."
            yield f"valves.{index}.depth_found", what, "its travel at most"
    if depth is not None and travel is not None and depth > travel * (1 + 1e-9) and not _holds_open(line):
        yield "follower.preload.depth", "The plunger is set deeper than its whole travel.", "its travel at most"


def _holds_open(line: LineStated) -> bool:
    """A short travel near the top has a verdict of its own that says what comes of it: the valve is held open."""
    return bool(line.value("follower.travel") == "short")


def _bores(line: LineStated) -> Iterator[Fault]:
    bore, body = line.value("follower.bore.diameter"), line.value("follower.body_diameter")
    if bore is not None and body is not None and bore <= body:
        yield "follower.bore.diameter", "The follower does not go into its bore.", "a bore larger than the body"
    low, high = line.value("follower.bore.lower_end"), line.value("follower.bore.upper_end")
    if low is not None and high is not None and high <= low:
        yield "follower.bore.upper_end", "The bore ends below where it begins.", "an upper end above the lower one"
    lower, upper = line.value("follower.oil_band.lower"), line.value("follower.oil_band.upper")
    if lower is not None and upper is not None and upper <= lower:
        yield "follower.oil_band.upper", "The oil band ends below where it begins.", "an upper edge above the lower one"
    clearance, size = line.value("follower.bush.clearance"), line.value("follower.bush.bore")
    if clearance is not None and size is not None and clearance >= size / 10:
        yield "follower.bush.clearance", "The clearance is a tenth of the bush's bore or more.", "a bush's clearance"
