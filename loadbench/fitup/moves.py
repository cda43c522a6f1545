"""What moves together when the closed height or the lift is changed: field changes as pure functions on the statement.

    shim, seat cut             the installed height only
    locks or retainer          the height and the seal clearance
    valve sunk, longer stem    the height, the seal clearance and the tip: lash or preload
    lash cap                   the tip only

Source: own derivation, from where each part stands in the gear.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from enum import StrEnum
from typing import Any

from loadbench.job.checks import stated_height, stated_shims
from loadbench.job.stated import LineStated
from loadbench.units import Kind, Style, display_unit, from_display, to_display

Own = Callable[[str], str]
"""From a field of the common part to where an edit of it goes for the line on show."""

PLACES = {Style.INCH_POUND: 3, Style.METRIC: 2}
LEAST_ROOM = 2.54e-5
"""A dragged height stays this far, m, above bind, and a dragged lift this far above nothing."""


class Way(StrEnum):
    """By what the closed height is changed."""

    SHIM = "shim"
    SEAT_CUT = "seat-cut"
    RETAINER = "retainer"
    SUNK = "sunk"
    STEM = "stem"


class Stop(StrEnum):
    """Why a move ended before it was where it was wanted."""

    BARE = "bare"  # shims only shorten
    CUT = "cut"  # a cut only lengthens
    LASH = "lash"  # the lash is used up
    BIND = "bind"  # the coils would be bound at rest
    NO_LIFT = "no-lift"
    UNKNOWN = "unknown"  # there is nothing stated that could be changed


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """The fields to set, where it ends (m), why it ended early and how much is then wanting (m)."""

    changes: dict[str, Any] = field(default_factory=dict)
    reached: float | None = None
    stop: Stop | None = None
    wanting: float = 0.0
    turns_left: bool = False  # the preload is stated in turns, which this move does not follow


def written(value: float, style: Style) -> str:
    """A length as a person would type it: "1.885 in" or "47.88 mm", to 0.001 in or 0.01 mm.

    Args:
        value: m.
        style: the units on show.

    Returns:
        The text with its unit.
    """
    number = Decimal(repr(round(to_display(value, Kind.LENGTH, style), PLACES[style])))
    return f"{number:.{PLACES[style]}f} {display_unit(Kind.LENGTH, style)}"


def rounded(value: float, style: Style) -> float:
    """A length, m, at the nearest 0.001 in or 0.01 mm."""
    return from_display(round(to_display(value, Kind.LENGTH, style), PLACES[style]), Kind.LENGTH, style)


def least_height(line: LineStated) -> float:
    """The shortest height a spring can stand at: just above its tallest bound member, m.

    Args:
        line: the line's view of the job.

    Returns:
        H, m; zero where no bind height is stated.
    """
    path, count = line.rows("spring.coils")
    own = [_bound(line, f"{path}.{index}") for index in range(count)]
    known = [height for height in own if height is not None]
    whole = line.value("spring.bind_height")
    if whole is not None and (len(known) < count or not count):
        known.append(whole)
    return max(known, default=0.0)


def _bound(line: LineStated, coil: str) -> float | None:
    values = line.stated.values
    bind = values.get(f"{coil}.bind_height")
    steps = values.get(f"{coil}.seat_step", 0.0) + values.get(f"{coil}.retainer_step", 0.0)
    return None if bind is None else float(bind + steps)


def move_height(line: LineStated, own: Own, way: Way, height: float, style: Style) -> Move:
    """Bring the spring to an installed height in one of the ways a shop has.

    Args:
        line: the statement before the move.
        own: where an edit of a common field goes.
        way: by what the height is changed.
        height: wanted, m; it is taken at the nearest 0.001 in or 0.01 mm.
        style: the units in which the changes are written.

    Returns:
        The changes, and where the move had to end.
    """
    before = stated_height(line)
    if before is None:
        return Move(stop=Stop.UNKNOWN)
    wanted = rounded(height, style)
    reached, stop = _allowed(line, way, before, wanted, style)
    if abs(reached - before) < LEAST_ROOM * 1e-3:
        return Move(reached=before, stop=stop, wanting=abs(wanted - before) if stop else 0.0)
    by = reached - before
    changes = _height_changes(line, own, way, reached, by, style)
    turns_left = False
    if way not in (Way.SHIM, Way.SEAT_CUT):
        changes |= _length(line, own, "valve_gear.retainer_to_seal", by, style)
    if way in (Way.SUNK, Way.STEM):
        tip, turns_left = tip_changes(line, own, by, style)
        changes |= tip
    wanting = abs(wanted - reached) if stop else 0.0
    return Move(changes=changes, reached=reached, stop=stop, wanting=wanting, turns_left=turns_left)


def _allowed(line: LineStated, way: Way, before: float, wanted: float, style: Style) -> tuple[float, Stop | None]:
    """Where a move may end."""
    least = least_height(line)
    if wanted <= least:
        return min(before, rounded(least, style) + from_display(10.0 ** -PLACES[style], Kind.LENGTH, style)), Stop.BIND
    bare = line.value("spring.bare_height")
    if way is Way.SHIM and bare is not None and wanted > bare + LEAST_ROOM * 1e-3:
        return bare, Stop.BARE
    if way in (Way.SEAT_CUT, Way.SUNK) and wanted < before:
        return before, Stop.CUT
    lash = line.value("valve_gear.lash")
    if way in (Way.SUNK, Way.STEM) and lash is not None and wanted - before > lash:
        return before + lash, Stop.LASH
    return wanted, None


def _height_changes(line: LineStated, own: Own, way: Way, reached: float, by: float, style: Style) -> dict[str, Any]:
    changes: dict[str, Any] = {}
    bare, shims = line.value("spring.bare_height"), stated_shims(line)
    if way is not Way.SHIM:
        changes |= _length(line, own, "spring.bare_height", by, style)
    elif bare is not None and shims is not None:
        changes[own("spring.shims")] = _shims(line, own, max(bare - reached, 0.0), style)
    if line.value("spring.installed_height") is not None or not changes:
        changes[own("spring.installed_height")] = written(reached, style)
    return changes


def _length(line: LineStated, own: Own, name: str, by: float, style: Style) -> dict[str, Any]:
    """One stated length changed; nothing where it isn't stated."""
    value = line.value(name)
    return {} if value is None else {own(name): written(value + by, style)}


def _shims(line: LineStated, own: Own, stack: float, style: Style) -> tuple[str, ...]:
    """The stack as typed as far as it fits, its last shim taking the change."""
    path, count = line.rows("spring.shims")
    kept: list[str] = []
    left = stack
    for index in range(count - 1):
        size = line.stated.values[f"{path}.{index}"]
        if size > left + LEAST_ROOM * 1e-3:
            break
        kept.append(_typed(line, path, index))
        left -= size
    if rounded(left, style) > 0:
        kept.append(written(left, style))
    if not kept and own("spring.shims") != "spring.shims" and line.stated.values.get("spring.shims#", 0):
        return (written(0.0, style),)  # an empty list of a line's own would let the common shims through
    return tuple(kept)


def _typed(line: LineStated, path: str, index: int) -> str:
    node: Any = line.stated.job
    for step in path.split("."):
        node = getattr(node, step)
    return str(node[index])


def tip_changes(line: LineStated, own: Own, rise: float, style: Style) -> tuple[dict[str, Any], bool]:
    """What a stem tip that stands higher does: the lash shrinks, the plunger sits deeper.

    Args:
        line: the statement before the move.
        own: where an edit of a common field goes.
        rise: of the tip, m: a longer stem, a sunk valve, a lash cap's thickness.
        style: the units in which the changes are written.

    Returns:
        The changes, and whether the preload is stated in turns, which are not changed here.
    """
    changes = _length(line, own, "valve_gear.lash", -rise, style)
    ratio = 1.0 if line.value("follower.family") == "bucket" else line.value("valve_gear.rocker_ratio")
    depth = line.value("follower.preload.depth")
    if ratio and depth is not None:
        changes |= _length(line, own, "follower.preload.depth", rise / ratio, style)
    return changes, depth is None and line.value("follower.preload.turns") is not None


LIFT_FIELDS = ("valve_gear.measured_net_lift", "valve_gear.valve_lift", "valve_gear.lobe_lift")


def lift_field(line: LineStated) -> str:
    """The field that governs the lift: the measured net lift, else the valve lift, else the lobe lift."""
    stated = (name for name in LIFT_FIELDS if line.value(name) is not None or line.faulty(name))
    return next(stated, LIFT_FIELDS[-1])


def move_lift(line: LineStated, own: Own, lift: float, net_less: float, style: Style) -> Move:
    """Bring the valve to a net lift by the field that governs it.

    Args:
        line: the statement before the move.
        own: where an edit of a common field goes.
        lift: net lift wanted, m.
        net_less: how much the net lift is less than the gross one, m: the lash, zero for a hydraulic follower.
        style: the units in which the change is written.

    Returns:
        The change, and the net lift it gives; a lift that isn't above zero ends just above it.
    """
    name = lift_field(line)
    ratio: float | None = 1.0 if line.value("follower.family") == "bucket" else line.value("valve_gear.rocker_ratio")
    if line.faulty(name) or (name.endswith("lobe_lift") and not ratio):
        return Move(stop=Stop.UNKNOWN)
    least = from_display(10.0 ** -PLACES[style], Kind.LENGTH, style)
    wanted = max(lift, least)
    less = 0.0 if name.endswith("net_lift") else net_less
    factor = ratio if name.endswith("lobe_lift") and ratio else 1.0
    value = max(rounded((wanted + less) / factor, style), least)
    stop = Stop.NO_LIFT if lift < least else None
    return Move(changes={own(name): written(value, style)}, reached=value * factor - less, stop=stop)


def stock_of(line: LineStated, otherwise: Sequence[float]) -> tuple[float, ...]:
    """The shims in stock as the job states them, m; `otherwise` where it states none that can be used."""
    values = line.stated.values
    own = (values.get(f"shims_in_stock.{index}") for index in range(values.get("shims_in_stock#", 0)))
    return tuple(size for size in own if size) or tuple(otherwise)
