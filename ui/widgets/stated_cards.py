"""What stands on which card of the left panel, in the order of the way through the house; every key has its place."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from ui.widgets.readings_table import READING_COLUMNS

Concerns = Callable[[str | None], bool]  # of the follower's family, as read


@dataclass(frozen=True, slots=True)
class Table:
    """A list shown as a small table."""

    field: str
    columns: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Group:
    """A card, or a group within one. `concerns` folds it away for families that have no such part."""

    title: str
    items: tuple[Item, ...]
    opened: bool = False
    concerns: Concerns | None = None


@dataclass(frozen=True, slots=True)
class Items:
    """A list of parts, each a group of its own; the paths of its items begin with a dot."""

    field: str
    one: str
    items: tuple[Item, ...]


Item = str | Table | Group | Items


def _under(above: str, *names: str) -> tuple[str, ...]:
    return tuple(f"{above}.{name}" for name in names)


def _roller(family: str | None) -> bool:
    return family is None or family.startswith("roller")


def _hydraulic(family: str | None) -> bool:
    return family is None or family.endswith("hydraulic")


def _solid(family: str | None) -> bool:
    return family is None or not family.endswith("hydraulic")


def _flat(family: str | None) -> bool:
    return family is None or family.startswith("flat") or family == "bucket"


def _rocker(family: str | None) -> bool:
    return family != "bucket"


_RECORD = ("measured_by", "date", "tester", "tester_serial", "calibrated_on", "engine", "hours", "passes")
_WIRE = Group("Wire and geometry", (
    *_under(".wire", "shape", "diameter", "width", "thickness"),
    *_under("", "mean_diameter", "small_mean_diameter", "tapered_coils", "active_coils", "total_coils"),
    *_under("", "free_height", "ends", "material", "shot_peened", "preset", "retainer_step_diameter"),
))  # fmt: skip
_COIL: tuple[Item, ...] = (
    *_under("", "name", "seat_step", "retainer_step", "bind_height", "rate"),
    Table(".readings", READING_COLUMNS),
    _WIRE,
)
_SPRING_LIMITS = ("sheet", "lift_max", "seat_load_min", "seat_load_max", "open_load_max", "bind_height")
_FOLLOWER_LIMITS = ("sheet", "open_load_max", "speed_max", "preload_min", "preload_max", "lash_min", "lash_max")
_DESIGN = ("speed", "ratio", "mass", "spring_rate", "stiffness", "seat_load", "lash")
_NUMBERED = (".id", ".mark", Table(".readings", READING_COLUMNS))

CARDS: tuple[Group, ...] = (
    Group("Job", ("title", "customer", Group("Record and notes", (*_under("record", *_RECORD), "notes", "units")))),
    Group("Spring", (
        *_under("spring", "name", "bare_height", "shims", "installed_height", "bind_height", "rate"),
        Table("spring.readings", READING_COLUMNS),
        *_under("spring", "readings_on", "seat_cup"),
        Table("spring.spec", ("height", "load", "minus", "plus")),
        Items("spring.coils", "Member", _COIL),
        Group("More of the spring", _under("spring", "mass", "damper.load", "damper.width", "damper.thickness")),
    ), opened=True),
    Group("Valve gear", (
        *_under("valve_gear", "rocker_ratio", "lobe_lift", "valve_lift", "measured_net_lift", "lash", "lash_at"),
        *_under("valve_gear", "retainer_to_seal", "head_diameter", "adjuster.at", "adjuster.thread", "head", "block"),
        Group("Masses", (
            *_under("valve_gear.masses", "valve", "retainer", "locks", "pushrod", "follower", "rocker_inertia"),
            "valve_gear.masses.rocker_valve_arm",
        )),
        Group("Pushrod", _under("valve_gear.pushrod", "diameter", "wall", "length", "material"), concerns=_rocker),
        Group("Warming and lever", (
            *_under("valve_gear.warming", "cold", "warm", "head_height", "block_height", "stem_length", "stem_warm"),
            *_under("valve_gear.adjuster", "pushrod_arm", "cup_angle", "pushrod_lean"),
        )),
        Group("More of the valve gear", (
            *_under("valve_gear", "stiffness", "damping"), Table("valve_gear.ratio_curve", ("lift", "ratio")),
        )),
    ), opened=True),
    Group("Cam", (
        *_under("cam", "kind", "lash_kind", "material"),
        Table("cam.durations", ("lift", "crank")),
        Group("Lobe and lift table", (
            *_under("cam", "base_radius", "face_width", "taper", "roughness", "law.name", "law.opening", "law.closing"),
            *_under("cam.ramps", "height", "opening", "closing"),
            Group("Polydyne lobe made for", _under("cam.law.design", *_DESIGN)),
            *_under("cam", "profile_name", "profile_angle", "profile_side"), Table("cam.profile", ("angle", "lift")),
        )),
    )),
    Group("Follower", (
        *_under("follower", "family", "material", "guide", "offset", "oil_side"),
        Group("Roller and axle", (
            *_under("follower", "axle", "oil_feed", "roller_diameter", "roller_width"),
            Group("Needles and bush", (
                *_under("follower.needles", "count", "diameter", "length", "axle_diameter"),
                *_under("follower.bush", "bore", "length", "clearance", "material"),
                *_under("follower.pin", "span", "bore", "material"),
            )),
        ), opened=True, concerns=_roller),
        Group("Plunger and preload", (
            *_under("follower", "travel", "preload.way", "preload.depth", "preload.turns"),
            *_under("follower.plunger", "travel", "diameter", "length", "clearance", "chamber", "air_share"),
        ), opened=True, concerns=_hydraulic),
        Group("Face and body", (
            *_under("follower", "body_diameter", "face_diameter", "crown_radius", "roughness"),
            *_under("follower.bore", "diameter", "lower_end", "upper_end"),
            *_under("follower", "oil_band.lower", "oil_band.upper", "guide_clearance"),
        )),
    ), opened=True),
    Group("Duty", (
        *_under("duty", "use", "speed_limit", "idle_speed", "idle_share", "life_hours", "first_running", "boost"),
        *_under("duty", "exhaust_back_pressure", "cylinder_pressure_at_opening"),
        *_under("duty.oil", "grade", "category", "temperature", "viscosity_40_cst", "viscosity_100_cst"),
        "duty.oil.phosphorus_ppm",
    )),
    Group("Targets", (
        *_under("targets", "seat_load", "open_load", "tolerance_percent"),
        *_under("targets", "bind_height_max", "outer_diameter_max", "inner_diameter_min"),
    )),
    Group("Tester and instruments", (
        *_under("tester", "load_accuracy_percent", "load_accuracy_fixed", "load_repeatability", "height_accuracy"),
        *_under("instruments", "installed_height", "bind_height", "lift", "seal"),
    )),
    Group("Maker's limits", (
        Group("From the spring's sheet", _under("spring.maker_limits", *_SPRING_LIMITS), opened=True),
        Group("From the follower's sheet", _under("follower.maker_limits", *_FOLLOWER_LIMITS), opened=True),
    )),
    Group("Engine and valves", (
        *_under("engine", "cylinders", "firing_order"), "shims_in_stock",
        "bucket_shims_in_stock", "pushrods_in_stock",
        Items("valves", "Valve", (
            *_under("", "id", "line", "bare_height", "shims", "retainer_to_seal", "spring", "locked"),
            *_under("", "lash", "lash_found", "bucket_shim", "plunger_travel", "depth_found", "set_by"),
        )),
    )),
    Group("Earlier checks", (
        Items("history", "Earlier check", (
            *_under(".record", *_RECORD), Items(".springs", "Spring", _NUMBERED),
        )),
    )),
)  # fmt: skip


def at(item: Item, place: str) -> Item:
    """An item of a list of parts with its path filled in.

    Args:
        item: with paths that begin with a dot.
        place: the path of the part, such as "spring.coils.0".
    """
    if isinstance(item, str):
        return f"{place}{item}"
    if isinstance(item, Table):
        return Table(f"{place}{item.field}", item.columns)
    inner = tuple(each if isinstance(item, Items) else at(each, place) for each in item.items)
    if isinstance(item, Items):
        return Items(f"{place}{item.field}", item.one, inner)
    return Group(item.title, inner, item.opened, item.concerns)


def mentions(item: Item, field: str) -> bool:
    """Whether a field stands somewhere in an item."""
    if isinstance(item, str):
        return field == item or field.startswith(f"{item}.")
    if isinstance(item, Table | Items):
        return field == item.field or field.startswith(f"{item.field}.")
    return any(mentions(each, field) for each in item.items)
