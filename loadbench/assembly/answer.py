"""The answer of a fit: the plan valve by valve, or what forbids one and the least change that would free it."""

from __future__ import annotations

from dataclasses import dataclass, field

from loadbench.analysis.loose import BETWEEN
from loadbench.errors import Problem
from loadbench.findings.finding import Sentence


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedSpring:
    """One valve of the plan, SI. `before` is how the valve stood: spring, shims, loads; None where it had none.

    `spring` names the spring, or the outer of a pair whose inner is `inner`.
    """

    valve: str
    index: int
    line: str
    spring: str
    shims: tuple[float, ...]
    installed_height: float
    seat_load: float
    open_load: float
    bind_margin: float | None
    retainer_margin: float | None
    inner: str | None = None
    locked: bool = False
    spring_before: str | None = None
    shims_before: tuple[float, ...] | None = None
    seat_load_before: float | None = None
    open_load_before: float | None = None

    @property
    def named(self) -> str:
        """The spring, or the pair as a valve names it: "O3 + I7"."""
        return self.spring if self.inner is None else f"{self.spring}{BETWEEN}{self.inner}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """A hard limit that forbids every plan, the valves it forbids, and the sentence that says so."""

    limit: str
    valves: tuple[str, ...]
    sentence: Sentence


@dataclass(frozen=True, slots=True, kw_only=True)
class Freeing:
    """A least change that would free a plan: kind (springs, shim, shims, lift, height, tolerance), amount, sentence."""

    kind: str
    amount: float
    sentence: Sentence


@dataclass(frozen=True, slots=True, kw_only=True)
class FitAnswer:
    """The answer. `shopping` is how many shims of each thickness, m, the plan takes.

    `unchecked` are limits that could not be held, `doubts` what is doubtful of the springs that were chosen.
    """

    feasible: bool
    proved: bool
    plan: tuple[PlacedSpring, ...] = ()
    seat_spread: float | None = None
    target_deviation: float | None = None
    shims_used: int | None = None
    binding: tuple[Bar, ...] = ()
    frees: tuple[Freeing, ...] = ()
    spare: tuple[str, ...] = ()
    shopping: dict[float, int] = field(default_factory=dict)
    unchecked: tuple[Sentence, ...] = ()
    doubts: tuple[Sentence, ...] = ()
    problems: tuple[Problem, ...] = ()
