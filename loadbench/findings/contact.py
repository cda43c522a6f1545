"""Verdicts on what a dynamic run found: contact with the lobe, seating, and what surge takes from the open load."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import NamedTuple

import numpy as np

from loadbench.analysis.figure import Figure, Plain
from loadbench.analysis.motion.dynamics import NOT_PERIODIC
from loadbench.analysis.motion.result import Dynamics
from loadbench.findings.finding import Amount, Finding, Level
from loadbench.findings.motion import LIMIT, as_sure_as_its_lobe, fix_for, has_lift, lobe_words, unstated_masses
from loadbench.findings.rows import seating_row
from loadbench.findings.standing import Standing, standing
from loadbench.findings.view import Scope, Told, amount, asked, asker, plain, verdict
from loadbench.motion.bands import Cause, LossBand
from loadbench.units import Kind

TOLD = 3
"""So many bands below the speed limit are told one by one."""

COMPUTING = "is not known yet: the page Motion makes the dynamic run that tells it."
FIXES = {
    None: "More load, less mass, a stiffer linkage or a gentler lobe.",
    Cause.INERTIA: "More seat load or rate, less mass on the valve's side first, or a gentler lobe.",
    Cause.LINKAGE: "A stiffer linkage, the pushrod first, less mass at the valve, or a lobe with less jerk.",
    Cause.SURGE: "A damper, a stiffer and lighter coil, or a nest whose springs surge at other speeds.",
}


class _Lost(NamedTuple):
    """A band of lost contact; `high` is None where the sweep ends first, `cause` where it was not looked for."""

    low: float
    high: float | None
    begins_below: bool
    cause: Cause | None = None
    words: str = ""


def _waiting(told: Told, what: str) -> Finding | None:
    """What a dynamic rule waits for on a line with a lift; None where the run is there."""
    view, motion = told.view, told.view.line.motion
    missing = (*motion.missing, *unstated_masses(view))
    if missing or motion.dynamic is None:
        sentence = f"{what} cannot be had: it takes the lift, the loads and the masses of valve and follower."
        return told.unknown(sentence, missing)
    if view.line.dynamics is None:
        return told.unknown(f"{what} {COMPUTING}", ())
    return None


def _figure(told: Told, name: str, what: str) -> Figure | Finding:
    """A figure of the run at the speed limit, or what it waits for; one of another limit's run is being made anew."""
    waits = _waiting(told, what)
    if waits is not None:
        return waits
    figure, speed = told.view.line.figures[name], told.view.value(LIMIT)
    if speed is not None and figure.inputs and figure.inputs[0].value != speed:
        return told.unknown(f"{what} {COMPUTING}", ())
    if speed is None or figure.value is None or not math.isfinite(figure.value):
        return told.unknown(f"{what} cannot be had.", (*told.view.missing(LIMIT), *figure.missing), figure=figure)
    return figure


def _unsettled(figure: Figure) -> str:
    return f" {NOT_PERIODIC}" if NOT_PERIODIC in figure.note else ""


def _waves(told: Told) -> str:
    """A sentence where the run had a spring without waves."""
    dynamic = told.view.line.motion.dynamic
    if dynamic is None or dynamic.gear.surging:
        return ""
    return " The spring's own waves are not in it: its wire is not stated."


def _left_out(told: Told) -> str:
    """Sentences of what of the springs is not in the run: their waves, those of some, a damper's rubbing."""
    view, dynamic = told.view, told.view.line.motion.dynamic
    if _waves(told) or dynamic is None:
        return _waves(told)
    swinging = {each.name for each in dynamic.gear.waves}
    still = [coil.name for coil in view.line.coils if len(view.line.coils) > 1 and coil.name not in swinging]
    said = f" The waves of {' and '.join(map(plain, still))} are not in it: the wire is not stated." if still else ""
    if view.value("spring.damper.load"):
        said += " The damper's rubbing is not in it: the waves are told larger than they are."
    return said


def _fix(told: Told, cause: Cause | None) -> str:
    """What clears it; a damper is no advice where there is one."""
    text = FIXES[cause]
    if cause is Cause.SURGE and told.view.value("spring.damper.load"):
        return text.replace("A damper, a stiffer", "A stiffer")
    return text


@verdict("contact-lost", Scope.MERGED)
def contact_lost(told: Told) -> Iterator[Finding]:
    """The bands of speed in which contact is lost against the speed limit."""
    view, run = told.view, told.view.line.dynamics
    if not has_lift(view):
        return
    waits = _waiting(told, "Where contact with the lobe is lost")
    if waits is not None or run is None:
        yield from [] if waits is None else [waits]
        return
    bands, speed = _bands(run), view.value(LIMIT)
    first, top = float(run.found.speeds[0]), float(run.found.speeds[-1])
    ends = {"first": Amount(first, Kind.SPEED), "top": Amount(top, Kind.SPEED)}
    if speed is None or not first <= speed <= top * (1 + 1e-9):
        yield _outside(told, bands, ends, speed)
        return
    yield _by_bands(told, bands, ends, speed)


def _outside(told: Told, bands: list[_Lost], ends: dict[str, Amount], speed: float | None) -> Finding:
    """No speed limit, or one that was not swept: the bands are told all the same."""
    where, amounts = _listed(bands)
    found = f"Contact is lost {where}." if bands else "Contact is held from {first} to {top}."
    why = "there is no speed limit to judge it by" if speed is None else "the sweep from {first} to {top} misses it"
    sentence = f"{found} Not judged at the speed limit: {why}.{lobe_words(told.view)}{_left_out(told)}"
    figure = told.view.line.figures["onset_speed"]
    return told.unknown(sentence, told.view.missing(LIMIT), amounts=amounts | ends, figure=figure)


def _by_bands(told: Told, bands: list[_Lost], ends: dict[str, Amount], speed: float) -> Finding:
    view = told.view
    limit, figure = view.book.limit("contact-lost"), view.line.figures["onset_speed"]
    inside = next((each for each in bands if each.low <= speed and (each.high is None or speed <= each.high)), None)
    above = next((each for each in bands if each.low > speed), None)
    passed = [each for each in bands if each.high is not None and each.high < speed]
    nearest = inside or above
    reach = (ends["top"].value if nearest is None else nearest.low) / speed - 1
    stands = standing(limit, reach)
    if passed and stands.level is Level.CLEAR:
        stands = replace(stands, level=Level.WATCH)
    stands = as_sure_as_its_lobe(view, stands)
    where, amounts = _listed(passed[-TOLD:])
    more = f", and in {len(passed) - TOLD} bands below these" if len(passed) > TOLD else ""
    parts = [_inside_words(inside), f"Below the limit contact is lost {where}{more}." if passed else ""]
    parts.append(_above_words(above, stands, held=nearest is None and not passed, inside=inside is not None))
    if nearest is None and stands.limit is not None and reach < stands.limit:
        parts.append(f"The sweep ends before the {{asked}} that {asker(stands)} asks for.")
    sentence = " ".join(each for each in parts if each) + lobe_words(view) + _left_out(told)
    amounts |= ends | {"speed": Amount(speed, Kind.SPEED), "asked": asked(limit, stands)}
    amounts |= _edges(inside, "low", "high") | _edges(above, "next", "last")
    amounts["over"] = Amount(0.0 if above is None else above.low / speed - 1, Plain.SHARE)
    cause = (nearest or passed[-1]).cause if nearest or passed else None
    known = nearest is not None
    return told.finding(
        stands.level, sentence, amounts, figure=figure, value=reach if known else None,
        value_kind=Plain.SHARE if known else None, limit=stands.limit, house=stands.house,
        margin=stands.margin if known else None, fix=fix_for(stands, _fix(told, cause)), about=(view.path(LIMIT),),
    )  # fmt: skip


def _bands(run: Dynamics) -> list[_Lost]:
    """The run's bands; between the speeds themselves where the edges were not narrowed, as while dragging."""
    if run.bands:
        return [_Lost(each.low, each.high, each.begins_below, each.cause, _cause(each)) for each in run.bands]
    lost, speeds = run.found.lost, run.found.speeds
    if not lost.any():
        return []
    starts = np.flatnonzero(lost & ~np.concatenate([[False], lost[:-1]]))
    ends = np.flatnonzero(lost & ~np.concatenate([lost[1:], [False]]))
    return [
        _Lost(float(speeds[one]), float(speeds[other]) if other < speeds.size - 1 else None, bool(one == 0))
        for one, other in zip(starts, ends, strict=True)
    ]


def _cause(band: LossBand) -> str:
    if band.cause is Cause.SURGE:
        if band.order is None or band.mode is None:
            return " (the spring's own waves)"
        return f" (order {band.order} of the lift near mode {band.mode} of the spring{_named(band)})"
    return " (inertia against load)" if band.cause is Cause.INERTIA else " (the linkage's ringing)"


def _named(band: LossBand) -> str:
    return f" \u201c{plain(band.spring)}\u201d" if band.spring else ""


def _span(band: _Lost, low: str, high: str) -> str:
    start = f"from below {{{low}}}" if band.begins_below else f"from {{{low}}}"
    return f"{start} {'up' if band.high is None else f'to {{{high}}}'}{band.words}"


def _edges(band: _Lost | None, low: str, high: str) -> dict[str, Amount]:
    if band is None:
        return {}
    edges = {low: Amount(band.low, Kind.SPEED)}
    return edges if band.high is None else edges | {high: Amount(band.high, Kind.SPEED)}


def _listed(bands: list[_Lost]) -> tuple[str, dict[str, Amount]]:
    """Bands in words, and their edges."""
    amounts: dict[str, Amount] = {}
    for place, band in enumerate(bands):
        amounts |= _edges(band, f"from{place}", f"to{place}")
    return ", ".join(_span(band, f"from{place}", f"to{place}") for place, band in enumerate(bands)), amounts


def _inside_words(band: _Lost | None) -> str:
    return "" if band is None else f"At the speed limit, {{speed}}, contact is lost, {_span(band, 'low', 'high')}."


def _above_words(band: _Lost | None, stands: Standing, *, held: bool, inside: bool) -> str:
    if band is None:
        if held:
            return "Contact is held from {first} to {top}; the speed limit is {speed}."
        return "" if inside else "Above the limit, {speed}, it is held to {top}, where the sweep ends."
    if inside:
        return f"It is lost again {_span(band, 'next', 'last')}."
    return (
        f"Above the limit, {{speed}}, contact is next lost {_span(band, 'next', 'last')}, {{over}} over it; "
        f"{asker(stands)} asks for {{asked}}."
    )


@verdict("least-contact-force", Scope.MERGED)
def least_contact_force(told: Told) -> Iterator[Finding]:
    """The least contact force at the speed limit as a share of the seat load."""
    view = told.view
    if not has_lift(view):
        return
    figure = _figure(told, "least_contact_force", "The least contact force at the speed limit")
    seat = view.line.value("seat_load")
    if isinstance(figure, Finding) or not seat:
        yield figure if isinstance(figure, Finding) else told.unknown("The seat load cannot be had.", ())
        return
    share = (figure.value or 0.0) / seat
    limit = view.book.limit("least-contact-force")
    stands = as_sure_as_its_lobe(view, standing(limit, share))
    start = "The least contact force at the speed limit is {force} at the valve, {share} of the seat load; "
    sentence = f"{start}{asker(stands)} asks for {{limit}}."
    if share <= 0:
        sentence = "At the speed limit contact is lost: the least contact force is {force}."
    sentence += f"{_unsettled(figure)}{lobe_words(view)}{_left_out(told)}"
    amounts = {"force": amount(figure), "share": Amount(share, Plain.SHARE), "limit": asked(limit, stands)}
    fix = fix_for(stands, FIXES[None])
    about = (view.path(LIMIT),)
    yield told.judged(figure, stands, sentence, amounts, value=share, value_kind=Plain.SHARE, about=about, fix=fix)


@verdict("seating-velocity", Scope.MERGED)
def seating_velocity(told: Told) -> Iterator[Finding]:
    """How fast the valve meets its seat at the speed limit; a lobe without ramps cannot tell."""
    view = told.view
    shown = view.line.motion.shown
    if shown is None:
        return
    figure = _figure(told, "seating_speed", "How fast the valve meets its seat")
    if isinstance(figure, Finding):
        yield figure
        return
    if not shown.has_ramps:
        sentence = f"How fast the valve meets its seat is set by the lobe's ramps: a lift {shown.how} has none."
        yield told.unknown(sentence, (view.path("cam.ramps.height"), view.path("cam.profile")), figure=figure)
        return
    row, assumed = seating_row(view.line.stated)
    limit = view.book.limit("seating-velocity", row)
    stands = standing(limit, figure.value or 0.0)
    sentence = (
        f"At the speed limit the valve meets its seat at {{speed}}; {asker(stands)} allows {{limit}}.{assumed}"
        f"{_unsettled(figure)}"
    )
    amounts = {"speed": amount(figure), "limit": asked(limit, stands)}
    fix = fix_for(stands, "Less lash, a gentler closing ramp, more load where the valve bounces, or a lower limit.")
    yield told.judged(figure, stands, sentence, amounts, about=(view.path(LIMIT), view.path("cam.profile")), fix=fix)


@verdict("surge-resonance", Scope.MERGED)
def surge_resonance(told: Told) -> Iterator[Finding]:
    """The greatest share of the open load that the spring's waves take anywhere up to the speed limit."""
    view, run = told.view, told.view.line.dynamics
    if not has_lift(view):
        return
    if run is not None and _waves(told):
        # nothing stated of the wire: contact-lost says that the waves are not in the run
        if any(coil.concerned for coil in view.line.coils):
            yield told.unknown(f"What surge takes from the open load cannot be had.{_waves(told)}", _wire(told))
        return
    figure = _figure(told, "open_load_loss", "What surge takes from the open load")
    if isinstance(figure, Finding) or run is None:
        yield from [figure] if isinstance(figure, Finding) else []
        return
    full = view.line.value("open_load")
    if not full:
        yield told.unknown("What surge takes from the open load cannot be had.", ())
        return
    reached = run.found.speeds <= view.value(LIMIT) * (1 + 1e-9)
    losses = run.found.open_load_loss[reached]
    place = int(np.argmax(losses))
    share = float(losses[place]) / full
    limit = view.book.limit("surge-resonance")
    stands = standing(limit, share)
    sentence = (
        f"Up to the speed limit the spring's waves take at most {{loss}} of its load while the valve is up, {{share}} "
        f"of the open load, at {{at}}; {asker(stands)} allows {{limit}}.{_left_out(told)}"
    )
    amounts = {
        "loss": Amount(float(losses[place]), Kind.FORCE),
        "share": Amount(share, Plain.SHARE),
        "at": Amount(float(run.found.speeds[place]), Kind.SPEED),
        "limit": asked(limit, stands),
    }
    fix = fix_for(stands, _fix(told, Cause.SURGE))
    about = (view.path(LIMIT), "spring.coils")
    yield told.judged(figure, stands, sentence, amounts, value=share, value_kind=Plain.SHARE, about=about, fix=fix)


def _wire(told: Told) -> tuple[str, ...]:
    """What the mass of the moving coils waits for."""
    view = told.view
    fields = [field for coil in view.line.coils for field in coil.figures["moving_mass"].missing]
    return tuple(fields) or (view.path("spring.coils"),)
