"""Verdicts on loads: too little on the seat, too much for the follower, rates that disagree, targets."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from loadbench.analysis.figure import Figure, Plain
from loadbench.findings.finding import Amount, Finding, Level, Sentence
from loadbench.findings.fixes import other_load
from loadbench.findings.rows import seat_row, solid_row
from loadbench.findings.rulebook import Limit, Sense
from loadbench.findings.standing import Standing, standing
from loadbench.findings.view import FLAT, Scope, Told, View, amount, asked, asker, plain, verdict
from loadbench.readings.strand import Evidence
from loadbench.units import Kind

FORCE = Kind.FORCE
QUOTED_RATIO = 1.6
"""The rocker ratio for which the limits of flat tappets are quoted (common practice)."""


@verdict("seat-load-min")
def seat_load_min(told: Told) -> Iterator[Finding]:
    """The effective seat load against the least that this family and use ask for."""
    view, figure = told.view, told.view.line.figures["effective_seat_load"]
    about = (view.path("spring.readings"), view.path("spring.installed_height"))
    row, assumed = seat_row(view.line.stated)
    if row is None or not figure.known:
        missing = (*(view.missing("follower.family") if row is None else ()), *figure.missing)
        yield told.unknown("Whether the seat load suffices cannot be said.", missing, about=about, figure=figure)
        return
    limit = view.book.limit("seat-load-min", row).with_maker(view.value("spring.maker_limits.seat_load_min"))
    stands = standing(limit, figure.value or 0.0, figure.expanded)
    note = f" {figure.note}" if figure.note else ""
    sentence = f"{{load}} holds the valve on its seat; {asker(stands)} asks for {{limit}}.{assumed}{note}"
    short = -(stands.margin or 0.0)
    fix = other_load(view, short, "seat") if stands.level is not Level.CLEAR and short > 0 else None
    yield told.judged(
        figure, stands, sentence, {"load": amount(figure), "limit": asked(limit, stands)}, about=about, fix=fix
    )


def at_quoted_ratio(view: View) -> Figure:
    """The open load as a flat tappet feels it at the ratio for which its limits are quoted."""
    load, ratio = view.open_load, view.line.figures["ratio"]
    label = "Open load at the quoted ratio"
    if load.value is None or ratio.value is None:
        missing = (*load.missing, *(() if ratio.known else ratio.missing))
        return Figure(name="open_load_at_quoted_ratio", label=label, kind=FORCE, missing=tuple(dict.fromkeys(missing)))
    factor = ratio.value / QUOTED_RATIO
    expanded = None if load.expanded is None else load.expanded * factor
    return Figure(
        name="open_load_at_quoted_ratio", label=label, kind=FORCE, value=load.value * factor, expanded=expanded
    )


def _open_load(told: Told, limit: Limit, who: str) -> Finding:
    """The open load against the most that a follower takes; its maker's limit governs where it is stricter."""
    return _judged_open(told, told.view.open_load, limit, "{load} at full lift", f"{{limit}} for {who}", 1.0)


def _flat(told: Told, limit: Limit, who: str) -> Finding:
    """The same of a flat tappet: load and limits are compared at the ratio for which the limits are quoted."""
    view, factor = told.view, _to_quoted(told.view)
    load, ratio = _quoted_words(view)
    allowed = f"{{limit}} for {who} at {ratio}{_unstated_material(view)}"
    return _judged_open(told, at_quoted_ratio(view), limit, load, allowed, factor)


def _judged_open(told: Told, figure: Figure, limit: Limit, load: str, allowed: str, factor: float) -> Finding:
    """A figure that is the open load times a factor against a limit; the sentence by what it says of each."""
    view = told.view
    about = (view.path("valve_gear.lobe_lift"), view.path("spring.readings"))
    if not figure.known:
        return told.unknown("The load at full lift cannot be had.", figure.missing, about=about, figure=figure)
    maker = view.value("follower.maker_limits.open_load_max")
    stands = standing(limit.with_maker(None if maker is None else maker * factor), figure.value or 0.0, figure.expanded)
    if stands.house == "maker" and _converts(factor):
        allowed = "{as_stated}, which counts as {limit}"
    short = (stands.margin or 0.0) / factor
    fix = other_load(view, short, "open") if stands.level is not Level.CLEAR and short < 0 else None
    amounts = _quoted_amounts(view, figure, asked(limit, stands), factor)
    return told.judged(figure, stands, f"{load}; {asker(stands)} allows {allowed}.", amounts, about=about, fix=fix)


def _to_quoted(view: View) -> float:
    """What a load at the job's ratio is multiplied by for the ratio at which the limits are quoted."""
    return (view.line.figures["ratio"].value or QUOTED_RATIO) / QUOTED_RATIO


def _converts(factor: float) -> bool:
    return abs(factor - 1.0) > 1e-9


def _quoted_words(view: View) -> tuple[str, str]:
    """The open load of a flat tappet in a sentence, with what it counts as at the quoted ratio, and that ratio."""
    quoted = f"{QUOTED_RATIO:g}"
    if not _converts(_to_quoted(view)):
        return "{load} at full lift", f"a ratio of {quoted}"
    return f"{{as_it_is}} at full lift and a ratio of {{ratio}} counts as {{load}} at {quoted}", "that ratio"


def _quoted_amounts(view: View, figure: Figure, limit: Amount, factor: float) -> dict[str, Amount]:
    return {
        "load": amount(figure),
        "limit": limit,
        "as_it_is": amount(view.open_load),
        "ratio": Amount(factor * QUOTED_RATIO, Plain.NUMBER),
        "as_stated": Amount(limit.value / factor, limit.kind),
    }


def _unstated_material(view: View) -> str:
    unsaid = view.value("follower.material") is None or view.value("cam.material") is None
    return " (material not stated: taken as iron on iron)" if unsaid else ""


@verdict("flat-hydraulic-max")
def flat_hydraulic_max(told: Told) -> Iterator[Finding]:
    """A flat hydraulic tappet, iron on iron, quoted at a ratio of 1.6."""
    if told.view.family == "flat-tappet-hydraulic":
        yield _flat(told, told.view.book.limit("flat-hydraulic-max"), "a flat hydraulic tappet")


@verdict("flat-solid-max")
def flat_solid_max(told: Told) -> Iterator[Finding]:
    """A flat solid tappet, iron on iron or a pair of tool steel, quoted at a ratio of 1.6."""
    view = told.view
    if view.family == "flat-tappet-solid":
        row = solid_row(view.line.stated)
        who = "a flat solid tappet of tool steel" if row == "tool-steel" else "a flat solid tappet"
        limit = view.book.limit("flat-solid-max", row)
        yield _flat(told, limit, who)


@verdict("standard-travel-max")
def standard_travel_max(told: Told) -> Iterator[Finding]:
    """A hydraulic roller of standard travel; without a stated travel the question stays open here."""
    view, travel = told.view, told.view.value("follower.travel")
    if view.family != "roller-hydraulic" or travel == "short":
        return
    if travel is None and past_either_travel(view) is not None:
        return  # short-travel-max tells it
    if travel is None:
        sentence = "Standard or short travel is not stated: what load the follower takes is open."
        yield told.unknown(sentence, (*view.missing("follower.travel"), *view.open_load.missing), figure=view.open_load)
        return
    yield _open_load(told, view.book.limit("standard-travel-max"), "standard travel")


@verdict("short-travel-max")
def short_travel_max(told: Told) -> Iterator[Finding]:
    """A hydraulic roller of short travel; one of unstated travel where the load is past either."""
    view = told.view
    stops = None if view.family != "roller-hydraulic" or view.value("follower.travel") else past_either_travel(view)
    if stops is not None:
        yield _whichever_travel(told, stops)
        return
    if view.family == "roller-hydraulic" and view.value("follower.travel") == "short":
        yield _open_load(told, view.book.limit("short-travel-max"), "short travel")


def past_either_travel(view: View) -> tuple[Limit, Standing] | None:
    """The limit of the travel that takes the more, and how the open load stands to it; None where one travel may do."""
    figure = view.open_load
    if figure.value is None:
        return None
    maker = view.value("follower.maker_limits.open_load_max")
    limits = [view.book.limit(f"{word}-travel-max").with_maker(maker) for word in ("standard", "short")]
    found = [(limit, standing(limit, figure.value, figure.expanded)) for limit in limits]
    if any(stands.level is not Level.STOP for _, stands in found):
        return None
    return max(found, key=lambda each: each[1].limit or 0.0)


def _whichever_travel(told: Told, stops: tuple[Limit, Standing]) -> Finding:
    """Not stated, and a stop all the same."""
    (limit, stands), view = stops, told.view
    sentence = f"Whichever the travel: {{load}} at full lift; {asker(stands)} allows {{limit}} at most."
    amounts = {"load": amount(view.open_load), "limit": asked(limit, stands)}
    missing, fix = view.missing("follower.travel"), Sentence("Less load, or a solid roller.")
    about = (view.path("follower.travel"), "figures.open_load")
    return told.judged(view.open_load, stands, sentence, amounts, missing=missing, about=about, fix=fix)


@verdict("flat-break-in")
def flat_break_in(told: Told) -> Iterator[Finding]:
    """The first running of a flat tappet wants less load."""
    view, first = told.view, told.view.value("duty.first_running")
    if view.family not in FLAT or first is False:
        return
    figure = at_quoted_ratio(view)
    about = (view.path("duty.first_running"),)
    if first is None or not figure.known:
        missing = (*view.missing("duty.first_running"), *figure.missing)
        yield told.unknown("Whether the first running is safe for the lobes cannot be said.", missing, about=about)
        return
    limit = view.book.limit("flat-break-in")
    stands = standing(limit, figure.value or 0.0, figure.expanded)
    advice = (
        "" if stands.level is Level.CLEAR else " Take the inner springs out or fit a lower ratio for the first run."
    )
    load, ratio = _quoted_words(view)
    sentence = f"On the first run {load}; over {{limit}} at {ratio} a flat tappet may wipe its lobe.{advice}"
    amounts = _quoted_amounts(view, figure, asked(limit, stands), _to_quoted(view))
    yield told.judged(figure, stands, sentence, amounts, about=about)


@verdict("rate-agreement", Scope.MERGED)
def rate_agreement(told: Told) -> Iterator[Finding]:
    """Stated against measured rate, and the geometric rate against either, of the set and of its members."""
    nest = told.view.line.nest
    yield from _rates(told, nest.rates(), None)
    if not nest.single:
        for member in nest.members:
            each = member.evidence
            known = {
                Evidence.MEASURED: None if each.measured is None or each.faulty else each.measured.rate,
                Evidence.STATED: each.stated_rate,
                Evidence.GEOMETRIC: each.geometric_rate,
            }
            yield from _rates(told, {kind: rate for kind, rate in known.items() if rate is not None}, member.name)


def _rates(told: Told, rates: dict[Evidence, float], member: str | None) -> Iterator[Finding]:
    measured, stated, geometric = (rates.get(kind) for kind in Evidence)
    if measured is not None and stated is not None:
        yield _apart(told, "stated", stated, measured, ("stated", "measured"), member)
    if geometric is not None:
        others = [("measured", measured), ("stated", stated)]
        best = next((rate for _, rate in others if rate is not None), None)
        known = [(name, rate) for name, rate in others if rate is not None]
        if best is not None:
            name, rate = max(known, key=lambda each: abs(geometric - each[1]))
            yield _apart(told, "geometric", geometric, rate, ("geometric", name), member, best)


def _apart(
    told: Told,
    limit_name: str,
    one: float,
    other: float,
    names: tuple[str, str],
    member: str | None,
    base: float | None = None,
) -> Finding:
    limit = told.view.book.limit("rate-agreement", limit_name)
    share = abs(one - other) / (base or other)
    stands = standing(limit, share)
    figure = Figure(name="rate_gap", label="Rates apart", kind=Plain.SHARE, value=share)
    which = f" of the {plain(member)} spring" if member else ""
    sentence = f"The {names[0]} rate{which}, {{one}}, and the {names[1]} rate, {{other}}, are {{share}} apart."
    amounts = {"one": Amount(one, Kind.RATE), "other": Amount(other, Kind.RATE), "share": amount(figure)}
    return told.judged(figure, stands, sentence, amounts, member=member, about=(told.view.path("spring.rate"),))


@verdict("target-met")
def target_met(told: Told) -> Iterator[Finding]:
    """Seat and open load against what the builder wants."""
    view = told.view
    for end, name in (("seat", "Seat load"), ("open", "Open load")):
        field = f"targets.{end}_load"
        target, figure = view.value(field), view.line.figures[f"{end}_load"]
        if target is None:
            continue
        tolerance = view.value("targets.tolerance_percent")
        about = (view.path(field), view.path("targets.tolerance_percent"))
        if tolerance is None or not figure.known:
            missing = (*view.missing("targets.tolerance_percent"), *figure.missing)
            yield told.unknown(f"{name} against its target cannot be judged.", missing, about=about, figure=figure)
            continue
        share = abs((figure.value or 0.0) - target) / target
        limit = Limit(name=end, sense=Sense.AT_MOST, kind=FORCE, watch=target * tolerance / 100, watch_house="job")
        gap = abs((figure.value or 0.0) - target)
        stands = standing(limit, gap, figure.expanded)
        sentence = f"{name} {{load}}, target {{target}}: {{share}} apart, {tolerance:g} % allowed."
        amounts = {"load": amount(figure), "target": Amount(target, FORCE), "share": Amount(share, Plain.SHARE)}
        judged = told.judged(figure, stands, sentence, amounts, about=about)
        side = 1.0 if (figure.value or 0.0) >= target else -1.0
        yield replace(judged, limit=target + side * (limit.watch or 0.0))  # the edge of the window on the load's side
