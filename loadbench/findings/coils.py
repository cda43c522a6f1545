"""Verdicts on each spring's coil: index, stress, fatigue, surge, and the gaps in the nest.

A spring of which nothing is stated but its loads is not asked about its wire.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from functools import partial
from typing import NamedTuple

from loadbench.analysis.coils.result import CoilAnalysis
from loadbench.analysis.figure import Figure, Plain
from loadbench.findings.finding import Amount, Finding, Level, Sentence
from loadbench.findings.standing import standing, worst_of
from loadbench.findings.view import Scope, Told, amount, asked, asker, plain, verdict
from loadbench.units import Kind

DRAWN = frozenset({"music", "hard-drawn"})
"""Wire that is cold drawn, not hardened and tempered: it takes less stress for its strength."""

Asked = Callable[[Told, CoilAnalysis], Iterator[Finding]]


class _Kept(NamedTuple):
    """What was found of one coil the last time, and all that it rests on."""

    token: tuple[object, ...]
    findings: tuple[Finding, ...]


_KEPT: dict[tuple[str, tuple[str, ...], str, int, bool], _Kept] = {}
"""By rule, figures asked, line, place in the nest and whether lines stand apart: most edits leave coils as they are."""


def _each(told: Told, ask: Asked, *names: str) -> Iterator[Finding]:
    """Ask every coil of which something is stated; one whose figures are as they were keeps its findings."""
    view = told.view
    for place, coil in enumerate(view.line.coils):
        if not coil.concerned:
            continue
        figures = [coil.figures[name] for name in names]
        known = tuple((each.value, each.note, each.missing) for each in figures)
        place_of_speed = (view.value("duty.speed_limit"), view.path("duty.speed_limit"))
        damped = view.value("spring.damper.load")
        token = (coil.geometry, told.rule, known, coil.name, len(view.line.coils), place_of_speed, damped)
        at = (told.rule.id, names, view.line.name, place, view.analysis.has_lines)
        kept = _KEPT.get(at)
        if kept is None or not _same(kept.token, token):
            kept = _KEPT[at] = _Kept(token, tuple(ask(told, coil)))
        yield from kept.findings


def _same(one: tuple[object, ...], other: tuple[object, ...]) -> bool:
    """Whether two tokens are the same: geometry and rule by identity, the rest by value."""
    return one[0] is other[0] and one[1] is other[1] and one[2:] == other[2:]


def _member(told: Told, coil: CoilAnalysis) -> str | None:
    """The coil as a finding names it: not at all where it is the only one."""
    return coil.name if len(told.view.line.coils) > 1 else None


def _which(told: Told, coil: CoilAnalysis) -> str:
    """Which spring of the nest is meant; nothing where there is one only."""
    member = _member(told, coil)
    return f" of {plain(member)}" if member else ""


def _unknown(told: Told, coil: CoilAnalysis, figure: Figure, what: str) -> Finding:
    sentence = f"{what}{_which(told, coil)} cannot be had."
    if figure.note:
        sentence = f"{sentence} {plain(figure.note)}"
    return told.unknown(sentence, figure.missing, figure=figure, member=_member(told, coil), about=(coil.path,))


def _about(coil: CoilAnalysis, *names: str) -> tuple[str, ...]:
    return tuple(f"{coil.path}.{name}" for name in names)


@verdict("spring-index", Scope.MERGED)
def spring_index(told: Told) -> Iterator[Finding]:
    """Mean coil diameter over wire diameter: too small is hard to wind and crowds stress, too large is limp."""
    yield from _each(told, _index, "spring_index")


def _index(told: Told, coil: CoilAnalysis) -> Iterator[Finding]:
    figure, book = coil.figures["spring_index"], told.view.book
    if figure.value is None:
        yield _unknown(told, coil, figure, "The spring index")
        return
    stands = worst_of(*(standing(book.limit("spring-index", end), figure.value) for end in ("least", "most")))
    least, most = (book.limit("spring-index", end) for end in ("least", "most"))
    amounts = {"index": amount(figure), "least": _shown(least.watch), "most": _shown(most.watch)}
    sentence = f"The spring index{_which(told, coil)} is {{index}}; usual is {{least}} to {{most}}."
    fix = None
    if stands.level is not Level.CLEAR:
        small = figure.value < (least.watch or 0.0)
        fix = Sentence("Thinner wire or a wider coil." if small else "Thicker wire or a narrower coil.")
    about = _about(coil, "mean_diameter", "wire.diameter")
    yield told.judged(figure, stands, sentence, amounts, member=_member(told, coil), about=about, fix=fix)


def _shown(value: float | None) -> Amount:
    return Amount(value or 0.0, Plain.NUMBER)


def _share_row(coil: CoilAnalysis) -> str:
    """The row of the stress rules that holds for a coil: its wire, and whether set was taken out beforehand."""
    geometry = coil.geometry
    drawn = geometry is not None and geometry.material is not None and geometry.material.name in DRAWN
    preset = geometry is not None and geometry.preset is True
    return f"{'drawn-' if drawn else ''}{'preset' if preset else 'not-preset'}"


def _static_share(coil: CoilAnalysis, name: str) -> tuple[Figure, float | None]:
    """The share that the published limits speak of: by Wahl before set removal, by direct shear alone after it."""
    figure = coil.figures[name]
    index, wahl = coil.value("spring_index"), coil.value("wahl_factor")
    if figure.value is None or index is None or wahl is None:
        return figure, None
    preset = coil.geometry is not None and coil.geometry.preset is True
    return figure, figure.value * ((1 + 0.5 / index) / wahl if preset else 1.0)


def _stress(told: Told, coil: CoilAnalysis, name: str, where: str) -> Iterator[Finding]:
    figure, share = _static_share(coil, name)
    if share is None:
        yield _unknown(told, coil, figure, f"Stress over tensile strength {where}")
        return
    row = _share_row(coil)
    limit = told.view.book.limit(told.rule.id, row)
    stands = standing(limit, share)
    preset = row.endswith("preset") and not row.endswith("not-preset")
    stated = coil.geometry is not None and coil.geometry.preset is not None
    taken = "preset" if preset else "not preset" if stated else "preset not stated: taken as not preset"
    factor = "direct shear" if preset else "Wahl"
    sentence = (
        f"Stress{_which(told, coil)} {where} is {{share}} of the wire's tensile strength ({factor}, {taken}); "
        f"{asker(stands)} allows {{limit}}."
    )
    fix = None
    if stands.level is not Level.CLEAR:
        sentence += " In the engine the coils must never bind." if name == "stress_share_bind" else ""
        grade = "Wire of a valve-spring grade is stronger: state its grade, or ask the spring's maker."
        fix = Sentence(f"Thicker wire, a narrower coil or less load. {grade}")
    amounts = {"share": Amount(share, Plain.SHARE), "limit": asked(limit, stands)}
    about = _about(coil, "wire.diameter", "material", "preset")
    member = _member(told, coil)
    yield told.judged(figure, stands, sentence, amounts, value=share, member=member, about=about, fix=fix)


@verdict("stress-share", Scope.MERGED)
def stress_share(told: Told) -> Iterator[Finding]:
    """Torsional stress at full lift as a share of the wire's tensile strength."""
    name = "stress_share_open"
    ask = partial(_stress, name=name, where="at full lift")
    yield from _each(told, ask, name, "spring_index", "wahl_factor")


@verdict("bind-stress", Scope.MERGED)
def bind_stress(told: Told) -> Iterator[Finding]:
    """The same pressed to bind: what a check of the bind height asks of the wire."""
    name = "stress_share_bind"
    ask = partial(_stress, name=name, where="at bind")
    yield from _each(told, ask, name, "spring_index", "wahl_factor")


@verdict("fatigue-factor", Scope.MERGED)
def fatigue_factor(told: Told) -> Iterator[Finding]:
    """Torsional fatigue by Goodman with Zimmerli's strengths; Gerber and Sines stand beside."""
    names = (f"fatigue_factor_{name}" for name in ("goodman", "gerber", "sines"))
    yield from _each(told, _fatigue, *names)


def _fatigue(told: Told, coil: CoilAnalysis) -> Iterator[Finding]:
    figure = coil.figures["fatigue_factor_goodman"]
    if figure.value is None:
        yield _unknown(told, coil, figure, "The fatigue factor")
        return
    limit = told.view.book.limit("fatigue-factor")
    stands = standing(limit, figure.value)
    others = {name: coil.figures[f"fatigue_factor_{name}"] for name in ("gerber", "sines")}
    beside = ", ".join(f"{name.capitalize()} {{{name}}}" for name, each in others.items() if each.known)
    note = f" {plain(figure.note)}" if figure.note else ""
    sentence = (
        f"The fatigue factor{_which(told, coil)} between closed and full lift is {{factor}} by Goodman"
        f"{f' ({beside})' if beside else ''}; {asker(stands)} asks for {{limit}}.{note}"
    )
    fix = None
    if stands.level is not Level.CLEAR:
        fix = Sentence(
            "Less load or lift, thicker wire, a narrower coil, shot peening; or take life as limited and inspect."
        )
    amounts = {"factor": amount(figure), "limit": asked(limit, stands)}
    amounts |= {name: amount(each) for name, each in others.items() if each.known}
    about = _about(coil, "wire.diameter", "material", "shot_peened")
    yield told.judged(figure, stands, sentence, amounts, member=_member(told, coil), about=about, fix=fix)


@verdict("surge-ratio", Scope.MERGED)
def surge_ratio(told: Told) -> Iterator[Finding]:
    """The first surge mode against the cam's own speed at the speed limit, and where an order first meets it."""
    yield from _each(told, _surge, "surge_ratio", "surge_frequency")


def _surge(told: Told, coil: CoilAnalysis) -> Iterator[Finding]:
    figure, mode = coil.figures["surge_ratio"], coil.figures["surge_frequency"]
    if figure.value is None:
        yield _unknown(told, coil, figure, "The surge mode against the cam's speed")
        return
    limit = told.view.book.limit("surge-ratio")
    stands = standing(limit, figure.value)
    speed = float(told.view.value("duty.speed_limit") or 0.0)
    order = max(1, math.ceil(figure.value * (1 - 1e-12)))
    met = "" if order > 20 else " Order {order} of the lift meets it at {speed}."
    sentence = (
        f"The first surge mode{_which(told, coil)}, {{mode}}, is {{ratio}} times the cam's speed at the limit; "
        f"{asker(stands)} asks for {{limit}}.{met}"
    )
    fix = None
    if stands.level is not Level.CLEAR:
        damped = told.view.value("spring.damper.load") is not None
        other = "" if damped else "a damper, "
        fix = Sentence(f"A stiffer, lighter coil or a taper, {other}or a nest whose springs surge at other speeds.")
    amounts = {
        "mode": amount(mode),
        "ratio": amount(figure),
        "limit": asked(limit, stands),
        "order": Amount(float(order), Plain.COUNT),
        "speed": Amount(speed * figure.value / order, Kind.SPEED),
    }
    about = (*_about(coil, "wire.diameter", "active_coils"), told.view.path("duty.speed_limit"))
    yield told.judged(figure, stands, sentence, amounts, member=_member(told, coil), about=about, fix=fix)


@verdict("nest-clearance", Scope.MERGED)
def nest_clearance(told: Told) -> Iterator[Finding]:
    """The gap from each spring to the next one inside it, and to the retainer's step."""
    yield from _each(told, _gap_to_next, "gap_to_next")
    coils = [coil for coil in told.view.line.coils if coil.concerned]
    if len(coils) > 1 and not any(_step_entered(told, coil) for coil in coils):
        yield _no_step(told, coils)
    else:
        yield from _each(told, _gap_to_step, "retainer_step_gap")


def _gap_to_next(told: Told, coil: CoilAnalysis) -> Iterator[Finding]:
    yield from _gap(told, coil, "gap_to_next", "coils", f"{plain(coil.name)} and the next spring inside it")


def _gap_to_step(told: Told, coil: CoilAnalysis) -> Iterator[Finding]:
    yield from _gap(told, coil, "retainer_step_gap", "step", f"{plain(coil.name)} and the retainer's step")


def _step_entered(told: Told, coil: CoilAnalysis) -> bool:
    return told.view.line.stated.entered(f"{coil.path}.retainer_step_diameter")


def _no_step(told: Told, coils: list[CoilAnalysis]) -> Finding:
    """One word for the whole nest: a retainer that was not measured is one thing to go and measure."""
    figures = [coil.figures["retainer_step_gap"] for coil in coils]
    missing = (field for figure in figures for field in figure.missing)
    sentence = "The gaps between the springs and the retainer's steps cannot be had: no step's diameter is stated."
    return told.unknown(sentence, missing, figure=figures[0], about=tuple(coil.path for coil in coils))


def _gap(told: Told, coil: CoilAnalysis, name: str, row: str, between: str) -> Iterator[Finding]:
    figure = coil.figures[name]
    if figure.value is None:
        if figure.missing:
            sentence, member = f"The gap between {between} cannot be had.", _member(told, coil)
            yield told.unknown(sentence, figure.missing, figure=figure, member=member, about=(coil.path,))
        return
    limit = told.view.book.limit("nest-clearance", row)
    stands = standing(limit, figure.value)
    pressed = figure.value < 0
    gap = Amount(abs(figure.value), Kind.LENGTH)
    said = "are pressed into each other by {gap} across" if pressed else "clear each other by {gap} across"
    note = f" {plain(figure.note)}" if figure.note else ""
    more = " A press fit that its maker intends is a damper." if pressed else ""
    sentence = f"Between {between}: they {said}; {asker(stands)} asks for {{limit}}.{more}{note}"
    amounts = {"gap": gap, "limit": asked(limit, stands)}
    about = _about(coil, "mean_diameter", "retainer_step_diameter" if row == "step" else "wire.diameter")
    yield told.judged(figure, stands, sentence, amounts, member=_member(told, coil), about=about)
