"""Verdict on a polydyne lobe: whether mass, spring, linkage, lash and speed of now are those that it was made for."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from loadbench.analysis.figure import FigureKind, Plain
from loadbench.analysis.motion.motion import lash_of, linkage_stiffness
from loadbench.findings.finding import Amount, Finding, Level
from loadbench.findings.motion import fix_for
from loadbench.findings.standing import standing
from loadbench.findings.view import Scope, Told, View, asked, asker, verdict
from loadbench.readings.polydyne_lift import DESIGN
from loadbench.units import Kind

FIX = "A lobe made for this bench, or the spring and the masses that the lobe was made for."


class _Apart(NamedTuple):
    """A quantity now and as the lobe was made for it, and how far apart as a share of that."""

    word: str
    kind: FigureKind
    now: float
    made: float

    @property
    def share(self) -> float:
        return abs(self.now / self.made - 1)


@verdict("lobe-design", Scope.MERGED)
def lobe_design(told: Told) -> Iterator[Finding]:
    """The quantity that is farthest from what a polydyne lobe was made for, the speed limit, and the lash."""
    view = told.view
    figure = view.figure("design_valve_lift")
    if figure is None or view.line.motion.dynamic is None:
        return
    gear = list(_of_gear(view))
    worst = max(gear, key=lambda each: each.share)
    limit = view.book.limit("lobe-design", "usual")
    stands = standing(limit, worst.share)
    clear = "Mass, spring and linkage are within {share} of those that the lobe was made for"
    apart = f"The lobe was made for {worst.word} {{made}}, and here it is {{now}}, {{share}} apart"
    start = clear if stands.level is Level.CLEAR else apart
    sentence = f"{start}; {asker(stands)} allows {{limit}}."
    amounts = {
        "made": Amount(worst.made, worst.kind), "now": Amount(worst.now, worst.kind),
        "share": Amount(worst.share, Plain.SHARE), "limit": asked(limit, stands),
    }  # fmt: skip
    about = tuple(view.path(f"{DESIGN}.{name}") for name in ("mass", "spring_rate", "stiffness", "seat_load", "ratio"))
    yield told.judged(
        figure, stands, sentence, amounts, value=worst.share, value_kind=Plain.SHARE, about=about,
        fix=fix_for(stands, FIX),
    )  # fmt: skip
    yield from _speed(told)
    yield from _lash(told)


def _of_gear(view: View) -> Iterator[_Apart]:
    line, dynamic = view.line.stated, view.line.motion.dynamic
    mass = view.line.value("referred_mass")
    if dynamic is None or mass is None:
        return
    gear = dynamic.gear
    for word, name, kind, now in (
        ("a mass at the valve of", "mass", Kind.MASS, mass),
        ("a spring rate of", "spring_rate", Kind.RATE, gear.spring_rate),
        ("a linkage of", "stiffness", Kind.RATE, linkage_stiffness(line)),
        ("a seat load of", "seat_load", Kind.FORCE, gear.preload),
    ):
        yield _Apart(word, kind, now, float(line.value(f"{DESIGN}.{name}")))
    ratio, made = view.line.value("ratio"), line.value(f"{DESIGN}.ratio")
    if ratio and made:
        yield _Apart("a rocker ratio of", Plain.NUMBER, ratio, float(made))


def _speed(told: Told) -> Iterator[Finding]:
    view = told.view
    top, made = view.value("duty.speed_limit"), view.value(f"{DESIGN}.speed")
    if not top or not made:
        return
    limit = view.book.limit("lobe-design", "speed")
    apart = _Apart("", Kind.SPEED, float(top), float(made))
    stands = standing(limit, apart.share)
    if stands.level is Level.CLEAR:
        return
    sentence = (
        f"The lobe was made for {{made}}, {{share}} off the speed limit of {{now}}; {asker(stands)} allows {{limit}}. "
        "Away from its own speed it makes the linkage ring."
    )
    amounts = {
        "made": Amount(apart.made, Kind.SPEED), "now": Amount(apart.now, Kind.SPEED),
        "share": Amount(apart.share, Plain.SHARE), "limit": asked(limit, stands),
    }  # fmt: skip
    yield told.judged(
        view.line.figures["design_valve_lift"], stands, sentence, amounts, value=apart.share, value_kind=Plain.SHARE,
        about=(view.path(f"{DESIGN}.speed"), view.path("duty.speed_limit")),
        fix=fix_for(stands, "A lobe made for a speed nearer to the limit."),
    )  # fmt: skip


def _lash(told: Told) -> Iterator[Finding]:
    view = told.view
    now, made = lash_of(view.line.stated)[0], view.value(f"{DESIGN}.lash")
    if now is None or made is None:
        return
    limit = view.book.limit("lobe-design", "lash")
    stands = standing(limit, abs(now - made))
    if stands.level is Level.CLEAR:
        return
    sentence = f"The lobe's ramps were made for a lash of {{made}}, and here it is {{now}}; {asker(stands)} allows "
    sentence += "{limit} between them. More lash opens and closes the valve beyond the ramps, with a blow."
    amounts = {
        "made": Amount(float(made), Kind.LENGTH), "now": Amount(now, Kind.LENGTH), "limit": asked(limit, stands)
    }  # fmt: skip
    yield told.judged(
        view.line.figures["design_valve_lift"], stands, sentence, amounts, value=abs(now - made),
        value_kind=Kind.LENGTH, about=(view.path(f"{DESIGN}.lash"), view.path("valve_gear.lash")),
        fix=fix_for(stands, "The lash that the lobe was made for."),
    )  # fmt: skip
