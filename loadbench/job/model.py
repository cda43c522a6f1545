"""The job document, version 4: the whole of it, in the order in which it is written."""

from __future__ import annotations

from typing import Annotated

from pydantic import ConfigDict, Field

from loadbench.job import kinds as k
from loadbench.job.follower_parts import Follower
from loadbench.job.kept_parts import Photo, Plan, Printout, Recipe
from loadbench.job.parts import (
    Cam,
    Duty,
    Instruments,
    Part,
    Reading,
    Record,
    Spring,
    Targets,
    Tester,
    ValveGear,
)

FORMAT = "loadbench-job"
VERSION = 6


class LineParts(Part):
    """What one line (intake or exhaust) has of its own; the rest is the common part."""

    spring: Spring = Spring()
    valve_gear: ValveGear = ValveGear()
    cam: Cam = Cam()
    targets: Targets = Targets()


class Lines(Part):
    """Intake and exhaust apart. None: this line is the common part unchanged."""

    intake: LineParts | None = None
    exhaust: LineParts | None = None


class Engine(Part):
    """How many cylinders, and the order they fire in."""

    cylinders: int | None = None
    firing_order: tuple[int, ...] = ()


class Valve(Part):
    """One valve of the head with its own measured heights."""

    id: str | None = None
    line: Annotated[str | None, k.Words(("intake", "exhaust"))] = None
    bare_height: k.Length = None
    shims: tuple[k.ShimLength, ...] = ()
    retainer_to_seal: k.Length = None
    lash: k.LengthOrZero = None
    lash_found: k.LengthAny = None
    bucket_shim: k.Length = None
    plunger_travel: k.Length = None
    depth_found: k.LengthAny = None
    set_by: str | None = None
    spring: str | None = None
    locked: bool | None = None


class Checked(Part):
    """One item of the check list before fitting, done and initialled."""

    item: str | None = None
    initials: str | None = None
    date: str | None = None


class NumberedSpring(Part):
    """One numbered spring of a set, with its readings by part."""

    id: str | None = None
    mark: str | None = None
    readings: tuple[Reading, ...] = ()


class Variant(Part):
    """A candidate spring kept beside the job's own; what it states replaces the job's."""

    name: str | None = None
    spring: Spring = Spring()


class HistoryEntry(Part):
    """An earlier check of the same springs."""

    record: Record = Record()
    springs: tuple[NumberedSpring, ...] = ()


class LimitChange(Part):
    """A limit of the rule book changed by this shop or for this job, and why."""

    watch: str | float | None = None
    stop: str | float | None = None
    why: str | None = None


class RuleChange(LimitChange):
    """The changes to one rule; a rule with several limits names them as further keys."""

    model_config = ConfigDict(frozen=True, extra="allow", strict=True, allow_inf_nan=False)
    __pydantic_extra__: dict[str, LimitChange]

    @property
    def named(self) -> dict[str, LimitChange]:
        """The changes to named limits of the rule."""
        return dict(self.__pydantic_extra__ or {})


class Job(Part):
    """Everything that was stated about one set of springs, followers and their duty."""

    format: str = FORMAT
    version: int = VERSION
    title: str
    customer: str | None = None
    notes: str | None = None
    units: Annotated[str | None, k.UNITS] = None
    record: Record = Record()
    tester: Tester = Tester()
    instruments: Instruments = Instruments()
    spring: Spring = Spring()
    valve_gear: ValveGear = ValveGear()
    cam: Cam = Cam()
    follower: Follower = Follower()
    duty: Duty = Duty()
    targets: Targets = Targets()
    lines: Lines = Lines()
    engine: Engine = Engine()
    valves: tuple[Valve, ...] = ()
    springs: tuple[NumberedSpring, ...] = ()
    shims_in_stock: tuple[k.ShimLength, ...] = ()
    shim_counts: tuple[int | None, ...] = ()
    bucket_shims_in_stock: tuple[k.ShimLength, ...] = ()
    bucket_shim_counts: tuple[int | None, ...] = ()
    pushrods_in_stock: tuple[k.StockLength, ...] = ()
    check_list: tuple[Checked, ...] = ()
    variants: tuple[Variant, ...] = ()
    history: tuple[HistoryEntry, ...] = ()
    printouts: tuple[Printout, ...] = ()
    recipes: tuple[Recipe, ...] = ()
    photos: tuple[Photo, ...] = ()
    plan: Plan = Plan()
    rules: dict[str, RuleChange] = Field(default={})
