"""The worksheet of the setting: what each valve needs, turn by turn."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from loadbench.errors import Problem
from loadbench.findings.finding import Level, Sentence


class Way(StrEnum):
    """How a follower is set."""

    LASH = "lash by adjuster"
    BUCKET_SHIM = "lash by bucket shim"
    PRELOAD_CUSTOM = "preload, half to one turn"
    PRELOAD_MINIMAL = "preload, minimal"
    PRELOAD_BOTTOMED = "preload, bottomed and backed off"
    PUSHROD_LENGTH = "preload by pushrod length"


@dataclass(frozen=True, slots=True, kw_only=True)
class ValveSetting:
    """One valve's line of the worksheet; lengths m, `turns` of the adjuster (in is above zero).

    `index` is its place in `job.valves`; `found` is what was measured (lash, or plunger depth), `wanted` what it should
    be, both cold; `after` what it is once the instruction is carried out. `do` says it in words. `old_shim`,
    `new_shim` and `shim_from` (the valve whose shim is taken over, or None: from stock, `buy`: to be bought) belong to
    buckets; `pushrod` is a length. `travel` is the plunger's own. A level is told where `found` was judged.
    """

    valve: str
    index: int
    line: str | None
    cylinder: int | None
    found: float | None
    wanted: float | None
    after: float | None = None
    turns: float | None = None
    travel: float | None = None
    old_shim: float | None = None
    new_shim: float | None = None
    shim_from: str | None = None
    buy: bool = False
    pushrod: float | None = None
    level: Level | None = None
    do: Sentence = field(default_factory=lambda: Sentence(""))
    missing: tuple[str, ...] = ()
    set_by: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class LeverShown:
    """The adjuster's lever: depth (or lash) a turn exactly, to first order, and by the shortcuts, m."""

    exact: float
    first_order: float
    pitch_times_ratio: float
    straight: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SettingSheet:
    """The worksheet. `rows` stand in the order asked for; `steps` are the way's instructions in words.

    `hot_change` is what lash at the valve opens as it warms, m (hot less cold): `computed` from lengths and materials,
    `custom` by the trade.
    """

    way: Way | None
    rows: tuple[ValveSetting, ...]
    steps: tuple[Sentence, ...] = ()
    lever: LeverShown | None = None
    hot_change_computed: float | None = None
    hot_change_custom: float | None = None
    to_buy: tuple[float, ...] = ()
    problems: tuple[Problem, ...] = ()
    missing: tuple[str, ...] = ()
    notes: tuple[Sentence, ...] = ()
