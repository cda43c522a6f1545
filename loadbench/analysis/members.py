"""Each member's own heights and clearances, and the least of them for the line."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from loadbench.analysis.builder import Bench
from loadbench.analysis.figure import Figure, Input
from loadbench.analysis.nest import MemberStated, Nest
from loadbench.analysis.room import half
from loadbench.readings.accuracy import expanded
from loadbench.spring.nest import member_height
from loadbench.units import Kind

LENGTH = Kind.LENGTH
MARGINS = {
    "bind_margin": ("Coil clearance at full lift", "net_valve_lift"),
    "bind_margin_zero_lash": ("Coil clearance at zero lash", "lift_at_zero_lash"),
    "bind_margin_pumped_up": ("Coil clearance pumped up", "lift_pumped_up"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Member:
    """One spring of the set with its figures. `name` is None where it is the only one."""

    name: str | None
    title: str
    stated: MemberStated
    figures: dict[str, Figure]

    @property
    def bind_field(self) -> str:
        """Where its bind height stands, or would stand."""
        return self.stated.bind_field


def members_of(bench: Bench, nest: Nest) -> tuple[Member, ...]:
    """The members with their heights and clearances; the whole spring's bind height serves where no member has one."""
    return tuple(_member(bench, nest, each) for each in _judged(bench, nest))


def _judged(bench: Bench, nest: Nest) -> Iterable[MemberStated]:
    """Members' bind heights win over the spring's; those without one stand under the spring's where it is stated."""
    lacking = [member for member in nest.members if not bench.line.entered(member.bind_field)]
    whole = bench.line.value("spring.bind_height")
    if nest.single or not lacking or whole is None:
        return nest.members
    bind_field = bench.line.path("spring.bind_height")
    pair = MemberStated(name="pair", path="", offset=0.0, bind=whole, bind_field=bind_field, evidence=nest.whole)
    return (*(member for member in nest.members if member not in lacking), pair)


def _member(bench: Bench, nest: Nest, stated: MemberStated) -> Member:
    own = Bench(bench.line, dict(bench.figures))
    _add_height(own, stated)
    for name, (label, lift) in MARGINS.items():
        if lift in bench.figures:
            _add_margin(own, stated, name, label, lift)
    _add_own_loads(own, stated)
    kept = ("member_height", *MARGINS, "member_seat_load", "member_open_load")
    figures = {name: own.figures[name] for name in kept if name in own.figures}
    return Member(name=None if nest.single else stated.name, title=stated.name, stated=stated, figures=figures)


def _add_height(own: Bench, stated: MemberStated) -> None:
    common: dict[str, Any] = {"name": "member_height", "label": "Own installed height", "kind": LENGTH}
    height = own.found("H", "installed_height")
    if height is None or stated.offset is None:
        missing = (
            *own.lacking("installed_height"),
            *(() if stated.offset is not None else (f"{stated.path}.seat_step",)),
        )
        own.add(Figure(**common, missing=missing))
        return
    value = float(member_height(height.value, stated.offset))
    u = own.expanded("installed_height")
    steps = Input(symbol="steps", label="seat and retainer steps", value=stated.offset, kind=LENGTH, field=stated.path)
    formula, inputs = ("h = {H} \u2212 {steps}", (height, steps)) if stated.offset else ("h = {H}", (height,))
    own.add(Figure(**common, value=value, expanded=u, formula=formula, inputs=inputs))


def _add_margin(own: Bench, stated: MemberStated, name: str, label: str, lift_name: str) -> None:
    common: dict[str, Any] = {"name": name, "label": label, "kind": LENGTH}
    height, lift = own.found("h", "member_height"), own.found("L", lift_name)
    missing = own.lacking("member_height", lift_name)
    if stated.bind is None:
        own.add(Figure(**common, missing=(*missing, stated.bind_field)))
        return
    if height is None or lift is None:
        own.add(Figure(**common, missing=missing))
        return
    bind = Input(symbol="bind", label="bind height", value=stated.bind, kind=LENGTH, field=stated.bind_field)
    u = expanded(
        half(own.expanded("installed_height")), half(own.expanded(lift_name)), own.deviation("instruments.bind_height")
    )
    value = height.value - lift.value - stated.bind
    own.add(
        Figure(
            **common,
            value=value,
            expanded=u,
            formula="margin = {h} \u2212 {L} \u2212 {bind}",
            inputs=(height, lift, bind),
        )
    )


def _add_own_loads(own: Bench, stated: MemberStated) -> None:
    """The member's share of the load at both ends, where it has a load line of its own."""
    height, lift = own.value("member_height"), own.value("net_valve_lift")
    strand = stated.evidence.strand
    ends = (("seat", height), ("open", None if height is None or lift is None else height - lift))
    for name, at in ends:
        value = None if strand is None or at is None else float(strand.load(at))
        label = f"Its load, {'closed' if name == 'seat' else 'full lift'}"
        own.add(
            Figure(
                name=f"member_{name}_load", label=label, kind=Kind.FORCE, value=value, missing=stated.evidence.missing
            )
        )


def least_margins(bench: Bench, members: tuple[Member, ...]) -> None:
    """The line's clearances: the least of its members'; unknown while a member's is unknown."""
    for name, (label, lift) in MARGINS.items():
        if lift not in bench.figures:
            continue
        figures = [member.figures[name] for member in members]
        unknown = tuple(dict.fromkeys(field for figure in figures if not figure.known for field in figure.missing))
        if unknown or not figures:
            bench.add(Figure(name=name, label=label, kind=LENGTH, missing=unknown))
        else:
            bench.add(min(figures, key=lambda figure: figure.value or 0.0))
