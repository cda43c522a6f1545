"""Verdicts on the part makers' own limits and on limits that this job loosened."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from loadbench.analysis.figure import Figure, FigureKind
from loadbench.findings.finding import Amount, Finding, Level
from loadbench.findings.rulebook import Limit, Sense
from loadbench.findings.standing import standing
from loadbench.findings.view import HYDRAULIC, SOLID, Scope, Told, View, amount, asked, plain, verdict
from loadbench.units import Kind

LENGTH, FORCE = Kind.LENGTH, Kind.FORCE


@dataclass(frozen=True, slots=True)
class Promise:
    """One line of a part maker's sheet: the field of its limit, the figure it speaks of, and how it is said."""

    field: str
    figure: str
    sense: Sense
    kind: FigureKind
    words: str
    families: frozenset[str] | None = None


AT_MOST, AT_LEAST = Sense.AT_MOST, Sense.AT_LEAST
SPRING_PROMISES = (
    Promise("spring.maker_limits.lift_max", "net_valve_lift", AT_MOST, LENGTH, "lift"),
    Promise("spring.maker_limits.seat_load_min", "seat_load", AT_LEAST, FORCE, "seat load"),
    Promise("spring.maker_limits.seat_load_max", "seat_load", AT_MOST, FORCE, "seat load"),
    Promise("spring.maker_limits.open_load_max", "open_load", AT_MOST, FORCE, "open load"),
    Promise(
        "spring.maker_limits.bind_height",
        "open_height",
        AT_LEAST,
        LENGTH,
        "height at full lift (the sheet's bind height)",
    ),
    Promise("follower.maker_limits.open_load_max", "open_load", AT_MOST, FORCE, "open load"),
    Promise("follower.maker_limits.speed_max", "duty.speed_limit", AT_MOST, Kind.SPEED, "speed"),
    Promise("follower.maker_limits.preload_min", "plunger_depth", AT_LEAST, LENGTH, "plunger depth", HYDRAULIC),
    Promise("follower.maker_limits.preload_max", "plunger_depth", AT_MOST, LENGTH, "plunger depth", HYDRAULIC),
    Promise("follower.maker_limits.lash_min", "valve_gear.lash", AT_LEAST, LENGTH, "lash", SOLID),
    Promise("follower.maker_limits.lash_max", "valve_gear.lash", AT_MOST, LENGTH, "lash", SOLID),
)


def promised(view: View, promise: Promise) -> Figure:
    """The figure or stated value that a maker's limit speaks of."""
    if "." not in promise.figure:
        found = view.figure(promise.figure)
        return found or Figure(
            name=promise.figure, label=promise.words, kind=promise.kind, missing=("follower.family",)
        )
    value = view.value(promise.figure)
    missing = () if value is not None else (view.path(promise.figure),)
    name = promise.figure.rsplit(".", 1)[-1]
    return Figure(name=name, label=promise.words.capitalize(), kind=promise.kind, value=value, missing=missing)


@verdict("maker-limits")
def maker_limits(told: Told) -> Iterator[Finding]:
    """Each limit on the makers' sheets: past it is a stop."""
    view = told.view
    for promise in SPRING_PROMISES:
        value = view.value(promise.field)
        if value is None or (promise.families is not None and view.family not in {None, *promise.families}):
            continue
        figure, about = promised(view, promise), (view.path(promise.field),)
        owner = promise.field.split(".", 1)[0]
        sheet = view.value(f"{owner}.maker_limits.sheet")
        named = f" ({plain(str(sheet))})" if sheet else ""
        if not figure.known:
            yield told.unknown(
                f"The {owner} maker's limit on {promise.words} cannot be judged.", figure.missing, about=about
            )
            continue
        limit = Limit(name=promise.field, sense=promise.sense, kind=promise.kind, stop=value, stop_house="maker")
        stands = standing(limit, figure.value or 0.0, figure.expanded)
        side = "at least" if promise.sense is AT_LEAST else "at most"
        sentence = f"{promise.words.capitalize()} {{value}}; the {owner} maker's sheet{named} says {side} {{limit}}."
        amounts = {"value": amount(figure), "limit": asked(limit, stands)}
        yield told.judged(figure, stands, sentence, amounts, about=about, source=f"the {owner} maker's sheet")


@verdict("rule-loosened", Scope.JOB)
def rule_loosened(told: Told) -> Iterator[Finding]:
    """A limit in this job is looser than the shop's."""
    for rule, now, before in told.view.book.loosened():
        amounts: dict[str, Amount] = {}
        parts: list[str] = []
        for end in ("watch", "stop"):
            new, old = getattr(now, end), getattr(before, end)
            if new is not None and old is not None and now.sense.stricter(old, new):
                amounts |= {f"{end}_now": Amount(new, now.kind), f"{end}_before": Amount(old, now.kind)}
                parts.append(f"{end} {{{end}_now}} in place of {{{end}_before}}")
        why = f" Why: {plain(now.why)}." if now.why else ""
        sentence = f"{rule.title}: this job is looser than the shop's rule ({', '.join(parts)}).{why}"
        field = f"rules.{rule.id}"
        yield told.finding(Level.WATCH, sentence, amounts, about=(field,))
