"""Verdicts on the lobe, the pushrod, and the speed at which a rigid valve gear leaves its lobe.

A line without a lift is asked for one once; all else is silent until it is there.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from loadbench.analysis.figure import Figure, Plain
from loadbench.analysis.motion.moving_masses import DECISIVE, FIELDS
from loadbench.findings.finding import Amount, Finding, Level, Sentence
from loadbench.findings.rulebook import Limit
from loadbench.findings.standing import Standing, standing
from loadbench.findings.view import Scope, Told, View, amount, asked, asker, plain, verdict
from loadbench.readings.cam_lift import How
from loadbench.units import Kind

LIMIT = "duty.speed_limit"
DECIDING = tuple(FIELDS[name] for name in DECISIVE)
NO_LOBE = "How fast the engine may turn is not judged: it takes the lobe's motion and the masses of the valve gear."
LIGHTER = "More seat load or rate, less mass on the valve's side first, or a gentler lobe."


def has_lift(view: View) -> bool:
    """Whether the line's lift is known: without it the motion is asked for once, and no more."""
    return view.line.motion.shown is not None


def unstated_masses(view: View) -> tuple[str, ...]:
    """The masses that decide and are not stated: nothing is judged by typical ones."""
    return view.missing(*DECIDING)


def lobe_words(view: View) -> str:
    """A sentence where the lobe is no more than an estimate."""
    shown = view.line.motion.shown
    if shown is None or shown.how != How.DURATIONS.value:
        return ""
    return f" The lobe is {shown.how}."


def as_sure_as_its_lobe(view: View, stands: Standing) -> Standing:
    """A standing that stops nothing where the lobe is only estimated: a lift table has to say so first."""
    shown = view.line.motion.shown
    estimated = shown is not None and shown.how == How.DURATIONS.value
    return replace(stands, level=Level.WATCH) if estimated and stands.level is Level.STOP else stands


def fix_for(stands: Standing, text: str) -> Sentence | None:
    """What would help, where something has to."""
    return Sentence(text) if stands.level in (Level.WATCH, Level.STOP) else None


@verdict("float-margin", Scope.MERGED)
def float_margin(told: Told) -> Iterator[Finding]:
    """The speed at which a rigid gear leaves its lobe against the speed limit."""
    view = told.view
    figure = view.line.figures["float_margin"]
    if not has_lift(view):
        yield from _no_lobe(told, figure)
        return
    masses, apart = unstated_masses(view), view.line.figures["separation_speed"]
    amounts = {"apart": amount(apart)}
    if masses or (figure.value is None and figure.missing):
        yield told.unknown(
            _not_judged(apart, masses, figure), (*figure.missing, *masses), amounts=amounts, figure=figure
        )
        return
    if figure.value is None:
        sentence = "Nothing pulls the follower off its lobe, at whatever speed."
        yield told.finding(Level.CLEAR, sentence + lobe_words(view), figure=figure)
        return
    limit = view.book.limit("float-margin")
    stands = standing(limit, figure.value, figure.expanded)
    side = "over" if figure.value >= 0 else "under"
    sentence = (
        f"By the force balance the valve leaves its lobe at {{apart}}, {{share}} {side} the speed limit of {{speed}}; "
        f"{asker(stands)} asks for {{limit}} over it.{lobe_words(view)}{_typical(view)}"
    )
    speed = float(view.value(LIMIT) or 0.0)
    amounts |= {
        "share": Amount(abs(figure.value), Plain.SHARE),
        "speed": Amount(speed, Kind.SPEED),
        "limit": asked(limit, stands),
    }
    about = tuple(view.path(field) for field in (LIMIT, "cam.profile", "valve_gear.masses"))
    yield told.judged(figure, stands, sentence, amounts, about=about, fix=fix_for(stands, LIGHTER))


def _no_lobe(told: Told, figure: Figure) -> Iterator[Finding]:
    """One word for the whole job where no line has a lift; a line that lacks it alone is told alone."""
    view = told.view
    lines = view.analysis.lines
    alone = any(line.motion.shown is not None for line in lines)
    if not alone and view.line is not lines[0]:
        return
    views = (view,) if alone else tuple(View(analysis=view.analysis, line=line, book=view.book) for line in lines)
    missing: list[str] = []
    for each in views:
        missing += (*each.missing(LIMIT), *unstated_masses(each), *each.line.figures["float_margin"].missing)
    note = f" {plain(figure.note)}" if figure.note else ""
    yield told.unknown(NO_LOBE + note, missing, line=view.line.name if alone and view.analysis.has_lines else None)


def _not_judged(apart: Figure, masses: tuple[str, ...], figure: Figure) -> str:
    """Why a lift is not enough yet, with the speed of separation where there is one."""
    if apart.value is None:
        note = f" {plain(figure.note)}" if figure.note else ""
        return f"How fast the engine may turn cannot be had yet.{note}"
    if masses:
        return (
            "By typical masses the valve leaves its lobe at {apart}: not judged before the masses of valve and "
            "follower are stated."
        )
    return "By the force balance the valve leaves its lobe at {apart}; there is no speed limit to judge it by."


def _typical(view: View) -> str:
    note = view.line.figures["referred_mass"].note
    return f" {plain(note)}" if note else ""


@verdict("pushrod-column", Scope.MERGED)
def pushrod_column(told: Told) -> Iterator[Finding]:
    """The load at which the pushrod gives way sideways over the greatest force through it."""
    view = told.view
    figure, balance = view.figure("pushrod_factor"), view.line.motion.limit or view.line.motion.idle
    if figure is None or (figure.value is None and not has_lift(view)):
        return
    masses = unstated_masses(view) if balance is not None else ()
    if figure.value is None or masses:
        sentence = "How near the pushrod comes to giving way sideways cannot be had."
        note = f" {plain(figure.note)}" if figure.note and figure.value is None else ""
        yield told.unknown(sentence + note, (*figure.missing, *masses), figure=figure)
        return
    limit = view.book.limit("pushrod-column")
    stands = standing(limit, figure.value, figure.expanded)
    where = "at full lift, standing still"
    if balance is not None:
        where = "at the speed limit" if view.line.motion.limit is not None else "at idle"
    sentence = (
        f"The pushrod gives way sideways at {{euler}}, {{factor}} times the {{force}} that goes through it {where}; "
        f"{asker(stands)} asks for {{limit}}."
    )
    amounts = {
        "euler": amount(view.line.figures["pushrod_buckling_load"]),
        "force": amount(view.line.figures["pushrod_load"]),
        "factor": amount(figure),
        "limit": asked(limit, stands),
    }
    fix = fix_for(stands, "A pushrod of larger diameter first, then a thicker wall or a shorter one.")
    about = tuple(view.path(f"valve_gear.pushrod.{name}") for name in ("diameter", "wall", "length"))
    yield told.judged(figure, stands, sentence, amounts, about=about, fix=fix)


@verdict("lobe-undercut", Scope.MERGED)
def lobe_undercut(told: Told) -> Iterator[Finding]:
    """The least radius of the lobe under its follower: at zero or less there is no such lobe."""
    view, figure = told.view, told.view.figure("least_cam_radius")
    if figure is None or not has_lift(view):
        return
    if figure.value is None:
        yield _unknown_lobe(told, figure, "Whether the lobe is undercut")
        return
    limit = view.book.limit("lobe-undercut")
    stands = as_sure_as_its_lobe(view, standing(limit, figure.value, figure.expanded))
    start = "The lobe is undercut: its least radius is" if figure.value <= 0 else "The lobe's least radius is"
    sentence = f"{start} {{radius}}; {asker(stands)} asks for more than {{limit}}.{lobe_words(view)}"
    amounts = {"radius": amount(figure), "limit": asked(limit, stands)}
    smaller = ", a smaller roller" if view.figure("hollow_radius") is not None else ""
    fix = fix_for(stands, f"A larger base circle{smaller}, or a gentler lift about the nose.")
    yield told.judged(figure, stands, sentence, amounts, about=_lobe_fields(view), fix=fix)


@verdict("lobe-hollow", Scope.MERGED)
def lobe_hollow(told: Told) -> Iterator[Finding]:
    """The sharpest hollow of a roller's lobe against the roller, and against the wheel that grinds it."""
    view, figure = told.view, told.view.figure("hollow_radius")
    if figure is None or not has_lift(view):
        return
    roller = view.value("follower.roller_diameter")
    if figure.missing or (figure.value is not None and not roller):
        missing = figure.missing or view.missing("follower.roller_diameter")
        yield _unknown_lobe(told, figure, "Whether a flank is hollow", missing)
        return
    if figure.value is None:
        yield told.finding(Level.CLEAR, f"No flank of the lobe is hollow.{lobe_words(view)}", figure=figure)
        return
    limit, wheel = (view.book.limit("lobe-hollow", name) for name in ("roller", "wheel"))
    by_roller = as_sure_as_its_lobe(view, standing(limit, figure.value / (roller / 2)))
    if by_roller.level is not Level.CLEAR:
        yield _sharper_than_roller(told, figure, roller / 2, by_roller, limit)
        return
    stands = standing(wheel, figure.value, figure.expanded)
    sentence = (
        f"The sharpest hollow of the lobe's flanks has a radius of {{hollow}}, the roller {{roller}}; "
        f"{asker(stands)} asks for {{limit}}, for a usual grinding wheel.{lobe_words(view)}"
    )
    amounts = {
        "hollow": amount(figure),
        "roller": Amount(roller / 2, Kind.LENGTH),
        "limit": asked(wheel, stands),
    }
    fix = fix_for(stands, "Ask the cam's grinder for the radius of the wheel; a larger base circle or a gentler flank.")
    yield told.judged(figure, stands, sentence, amounts, about=_lobe_fields(view), fix=fix)


def _sharper_than_roller(told: Told, figure: Figure, roller: float, stands: Standing, limit: Limit) -> Finding:
    share = (figure.value or 0.0) / roller
    sentence = (
        f"The sharpest hollow of the lobe's flanks, {{hollow}}, is {{share}} times the roller's radius, {{roller}}; "
        f"{asker(stands)} asks for {{limit}}.{lobe_words(told.view)}"
    )
    amounts = {
        "hollow": amount(figure),
        "share": Amount(share, Plain.NUMBER),
        "roller": Amount(roller, Kind.LENGTH),
        "limit": asked(limit, stands),
    }
    fix = fix_for(stands, "A smaller roller, a larger base circle or a gentler flank.")
    about = _lobe_fields(told.view)
    return told.judged(figure, stands, sentence, amounts, value=share, value_kind=Plain.NUMBER, about=about, fix=fix)


def _unknown_lobe(told: Told, figure: Figure, what: str, missing: tuple[str, ...] | None = None) -> Finding:
    note = f" {plain(figure.note)}" if figure.note else ""
    wanted = figure.missing if missing is None else missing
    return told.unknown(f"{what} cannot be had.{note}", wanted, figure=figure)


def _lobe_fields(view: View) -> tuple[str, ...]:
    return tuple(view.path(field) for field in ("cam.profile", "cam.base_radius", "follower.roller_diameter"))
