"""The sentences of a search: what is wanted, what was found, and what would have to give where nothing fits."""

from __future__ import annotations

from typing import TYPE_CHECKING

from loadbench.spring.wanted import Candidate, Give, Reason, SearchAnswer, Wanted
from loadbench.units import Kind, Style, display_unit, tell, to_display
from ui.labels import label_of
from ui.spring.wording import length, load, tr
from ui.widgets.waiting_page import within

if TYPE_CHECKING:
    from collections.abc import Iterable

    from loadbench.assembly.spring_wanted import Asked, Choices

MOST = 4
ROOM = ("outer_diameter_max", "inner_diameter_min", "bind_height_max")
KINDS = {
    Reason.OUTER_DIAMETER: Kind.LENGTH,
    Reason.INNER_DIAMETER: Kind.LENGTH,
    Reason.BIND_HEIGHT: Kind.LENGTH,
    Reason.BIND_MARGIN: Kind.LENGTH,
    Reason.SURGE: Kind.FREQUENCY,
}
SHARES = (Reason.STRESS_OPEN, Reason.STRESS_BIND)


def reason_word(reason: Reason) -> str:
    """What a limit is called within a sentence."""
    return {
        Reason.WIRE_RANGE: tr("wire outside the table of its strength"),
        Reason.FATIGUE_DATA: tr("wire without published fatigue data"),
        Reason.ACTIVE_COILS: tr("fewest active coils"),
        Reason.INDEX_LOW: tr("smallest spring index"),
        Reason.INDEX_HIGH: tr("largest spring index"),
        Reason.OUTER_DIAMETER: tr("largest outside diameter"),
        Reason.INNER_DIAMETER: tr("least inside diameter"),
        Reason.BIND_HEIGHT: tr("largest bind height"),
        Reason.BIND_MARGIN: tr("coil clearance at full lift"),
        Reason.STRESS_OPEN: tr("stress at full lift"),
        Reason.STRESS_BIND: tr("stress at bind"),
        Reason.FATIGUE: tr("fatigue factor by Goodman"),
        Reason.SURGE: tr("first surge mode"),
    }[reason]


def amount(reason: Reason, value: float, style: Style) -> str:
    """An amount of a limit with its unit."""
    if reason in KINDS:
        return str(tell(value, KINDS[reason], style))
    return tr("{share} % of the strength").format(share=f"{100 * value:.1f}") if reason in SHARES else f"{value:.3g}"


def wire(value: float, style: Style) -> str:
    """A stock size with its unit, not rounded away from what it is."""
    digits = 4 if style is Style.INCH_POUND else 3
    return f"{to_display(value, Kind.LENGTH, style):.{digits}f}\u2009{display_unit(Kind.LENGTH, style)}"


def wants(asked: Asked, wanted: Wanted, choices: Choices, style: Style) -> str:
    """One sentence on what the spring has to do and the limits that it has to keep."""
    told = tr("{seat} at {height}, {opened} after {lift} of lift, so {rate}").format(
        seat=load(wanted.seat_load, style),
        height=length(wanted.installed_height, style),
        opened=load(wanted.open_load, style),
        lift=length(wanted.travel, style),
        rate=tell(wanted.rate, Kind.RATE, style),
    )
    limits = "; ".join([*_room(wanted, style), *_rules(asked, wanted, choices, style)])
    return tr("Wanted: {loads}; {limits}.").format(loads=told, limits=limits)


def _room(wanted: Wanted, style: Style) -> list[str]:
    told = []
    if wanted.outer_diameter_max is not None:
        told.append(tr("outside at most {value}").format(value=length(wanted.outer_diameter_max, style)))
    if wanted.inner_diameter_min is not None:
        told.append(tr("inside at least {value}").format(value=length(wanted.inner_diameter_min, style)))
    if wanted.bind_height_max is not None:
        told.append(tr("bind height at most {value}").format(value=length(wanted.bind_height_max, style)))
    told.append(tr("at least {value} to bind at full lift").format(value=length(wanted.bind_margin, style)))
    return told


def _rules(asked: Asked, wanted: Wanted, choices: Choices, style: Style) -> list[str]:
    told = [tr("index {low} to {high}").format(low=f"{wanted.index_low:g}", high=f"{wanted.index_high:g}")]
    plain = tr("direct shear") if choices.preset else tr("Wahl")
    bind, by = wanted.stress_share_bind_max, tr("Wahl")
    if bind is None:
        bind, by = asked.wire.static_share_preset_low, plain
    share = tr("{share} % ({factor})")
    open_share = share.format(share=f"{100 * asked.share_open:.3g}", factor=plain)
    bind_share = share.format(share=f"{100 * bind:.3g}", factor=by)
    told.append(
        tr("stress at most {opened} of the strength at full lift and {bind} at bind").format(
            opened=open_share, bind=bind_share
        )
    )
    if wanted.surge_frequency_min is not None:
        told.append(
            tr("first mode at least {value}").format(value=amount(Reason.SURGE, wanted.surge_frequency_min, style))
        )
    if wanted.fatigue_factor_min is not None:
        told.append(tr("fatigue factor at least {value}").format(value=f"{wanted.fatigue_factor_min:g}"))
    return told


def not_limited(wanted: Wanted) -> tuple[str, ...]:
    """The fields of the room that are not stated, so that nothing is limited by them."""
    return tuple(f"targets.{name}" for name in ROOM if getattr(wanted, name) is None)


def not_held(choices: Choices) -> tuple[str, ...]:
    """The limits that the user does not have the search hold."""
    limits = ((tr("surge limit"), choices.hold_surge), (tr("fatigue limit"), choices.hold_fatigue))
    return tuple(word for word, held in limits if not held)


def names(fields: Iterable[str]) -> str:
    """Fields within a sentence, each once."""
    labels = list(dict.fromkeys(within(label_of(field)) for field in fields))
    return ", ".join(labels[:MOST]) + (", …" if len(labels) > MOST else "")


def found(answer: SearchAnswer) -> str:
    """How many fit, and what turned the others away."""
    told = tr("{fits} of {tried} springs fit; listed: the best {shown} by fatigue factor, no two alike.").format(
        fits=answer.fits, tried=answer.tried, shown=len(answer.candidates)
    )
    if not answer.candidates:
        told = tr("None of {tried} springs fits.").format(tried=answer.tried)
    return told


def turned_away(answer: SearchAnswer) -> str:
    """What turned springs away, the deadliest first; "" where nothing did."""
    told = [
        tr("{reason} {count} ({alone} by it alone)").format(
            reason=reason_word(each.reason), count=each.count, alone=each.alone
        )
        for each in answer.turned_away[:MOST]
    ]
    return tr("Turned away by: {reasons}.").format(reasons="; ".join(told)) if told else ""


def nothing_fits(answer: SearchAnswer, style: Style) -> list[str]:
    """What to do where nothing fits: which limit alone would be enough, and the spring that comes nearest."""
    told = []
    if answer.alone_enough:
        gives = "; ".join(_give(each, style) for each in answer.alone_enough[:MOST])
        told.append(tr("One of these alone would be enough: {gives}.").format(gives=gives))
    elif answer.nearest is not None:
        told.append(tr("No single limit would be enough: several have to give."))
    nearest = answer.nearest
    if nearest is not None:
        breaks = "; ".join(_give(each, style) for each in nearest.breaks)
        told.append(
            tr("The nearest: {spring}. It would need: {breaks}.").format(
                spring=_short(nearest.spring, style), breaks=breaks
            )
        )
    if nearest is None:
        told.append(tr("No spring comes near: other loads, heights, stock or wire are needed."))
    return told


def _give(give: Give, style: Style) -> str:
    return tr("{reason} {needed} instead of {limit}").format(
        reason=reason_word(give.reason),
        needed=amount(give.reason, give.needed, style),
        limit=amount(give.reason, give.limit, style),
    )


def _short(spring: Candidate, style: Style) -> str:
    return tr("wire {wire}, mean diameter {mean}, {active} active coils").format(
        wire=wire(spring.wire_diameter, style),
        mean=length(spring.mean_diameter, style),
        active=f"{spring.active_coils:.2f}",
    )


def read_out(rank: int, spring: Candidate, style: Style) -> str:
    """What the read-out says of a spring: how it is wound, what is left to its limits, on which it stands."""
    left = (
        (tr("{value} left outside"), spring.outer_clearance),
        (tr("{value} left inside"), spring.inner_clearance),
        (tr("{value} left to the bind height"), spring.bind_clearance),
    )
    parts = [tr("Spring {rank}: {spring}").format(rank=rank, spring=_short(spring, style))]
    parts += [text.format(value=length(max(value, 0.0), style)) for text, value in left if value is not None]
    parts.append(tr("bound at {value}").format(value=load(spring.bind_load, style)))
    told = "; ".join(parts) + "."
    if spring.edges:
        told += " " + tr("It stands on: {edges}.").format(edges=", ".join(reason_word(each) for each in spring.edges))
    return told


def take_tip(coils: Iterable[str], left: tuple[str, ...]) -> str:
    """What taking over would replace, and what of the old spring would stay: told beforehand."""
    told = [tr("Puts the chosen spring into the job as its coil: Enter in the table.")]
    if old := ", ".join(coils):
        told.append(tr("It replaces the wire, diameters, turns and heights of: {coils}.").format(coils=old))
    if left:
        what = ", ".join(dict.fromkeys(within(label_of(field)) for field in left))
        told.append(tr("Stays as measured or stated of the old spring: {fields}.").format(fields=what))
    return " ".join((*told, tr("Undo brings the old one back.")))


def keep_tip(most: int, *, full: bool) -> str:
    """What keeping a spring as a variant does, or why it cannot be done."""
    if full:
        return tr("The job has {most} variants already: remove one under Variants first.").format(most=most)
    return tr("Keeps the chosen spring beside the job's own, which stays, to compare them under Variants.")


def taken_over(rank: int, left: tuple[str, ...], others: int) -> str:
    """What is said once a spring is taken over: what remains of the old one."""
    told = tr("Spring {rank} taken over.").format(rank=rank)
    if others:
        told += " " + tr("It stands in place of the whole nest.")
    if left:
        what = ", ".join(dict.fromkeys(within(label_of(field)) for field in left))
        told += " " + tr("Still of the old spring, to be measured or stated anew: {fields}.").format(fields=what)
    return told
