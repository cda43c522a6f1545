"""The words of the stress picture: its names, what each mark says, what stands beneath it."""

from __future__ import annotations

import math
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication

from loadbench.analysis.figure import Plain, told
from loadbench.units import Kind, Style, tell
from ui.level_words import source_words

if TYPE_CHECKING:
    from collections.abc import Callable

    from loadbench.analysis.coils.result import CoilAnalysis, FatigueLines

CRITERIA = ("goodman", "gerber", "sines")


def tr(text: str) -> str:
    """A text of the picture in the user's language."""
    return QCoreApplication.translate("StressPicture", text)


def stress(value: float, style: Style) -> str:
    """A stress with its unit."""
    return str(tell(value, Kind.STRESS, style))


def criterion_word(criterion: str) -> str:
    """What a fatigue line is called."""
    return {"goodman": tr("Goodman"), "gerber": tr("Gerber"), "sines": tr("Sines")}[criterion]


def factor_of(coil: CoilAnalysis, criterion: str) -> float | None:
    """A fatigue factor that can be drawn; None where it is unknown, or endless for want of a load range."""
    value = coil.value(f"fatigue_factor_{criterion}")
    return value if value is not None and math.isfinite(value) else None


def factors(coil: CoilAnalysis, style: Style) -> str:
    """The three factors in a row; "" where none is known."""
    known = [(each, factor_of(coil, each)) for each in CRITERIA]
    parts = [f"{criterion_word(each)} {told(value, Plain.NUMBER, style)}" for each, value in known if value]
    return tr("factor {factors}").format(factors=", ".join(parts)) if parts else ""


def named(coil: CoilAnalysis, text: str) -> str:
    """A sentence that begins with the spring's name where it has one."""
    said = f"{coil.name}: {text}" if coil.name else text
    return said[:1].upper() + said[1:]


def peening_words(peened: bool) -> str:
    """Which data of Zimmerli were taken."""
    return tr("peened") if peened else tr("not peened")


# What each mark says


def says(coil: CoilAnalysis, lines: FatigueLines, style: Style) -> dict[str, Callable[[], str]]:
    """What the read-out says at each mark of the chosen spring, by the mark's key."""
    keys = ["closed", "full_lift", *(["bind"] if lines.bind is not None else []), "static", "point"]
    keys += [each for each in CRITERIA if factor_of(coil, each)]
    return {key: partial(_said, key, coil, lines, style) for key in (*keys, "zimmerli", "ultimate")}


def _said(key: str, coil: CoilAnalysis, lines: FatigueLines, style: Style) -> str:
    if key in CRITERIA:
        return _crossing_says(coil, lines, key, style)
    if key == "point":
        return point_says(coil, lines, style)
    if key == "zimmerli":
        return _zimmerli_says(lines, style)
    if key in ("static", "ultimate"):
        return _share_says(key, lines, style)
    return _level_says(key, coil, lines, style)


def _level_says(key: str, coil: CoilAnalysis, lines: FatigueLines, style: Style) -> str:
    limit = stress(lines.static_limit, style)
    if key == "closed":
        return named(coil, tr("closed {stress}.").format(stress=stress(lines.closed, style)))
    text = (
        tr("full lift {stress}; static limit {limit}.")
        if key == "full_lift"
        else tr("at bind {stress}; static limit {limit}.")
    )
    value = lines.full_lift if key == "full_lift" else lines.bind or 0.0
    return named(coil, text.format(stress=stress(value, style), limit=limit))


def _share_says(key: str, lines: FatigueLines, style: Style) -> str:
    value = lines.static_limit if key == "static" else lines.ultimate_shear
    text = (
        tr("Static limit {value}: {share} of the tensile strength {tensile}.")
        if key == "static"
        else tr("Ultimate shear strength {value}: {share} of the tensile strength {tensile}.")
    )
    share = told(value / lines.tensile, Plain.SHARE, style)
    return text.format(value=stress(value, style), share=share, tensile=stress(lines.tensile, style))


def _zimmerli_says(lines: FatigueLines, style: Style) -> str:
    text = tr("Zimmerli, {peened}: alternating {amplitude} about a mean of {mean}, for endless life.")
    return text.format(
        peened=peening_words(lines.peened),
        amplitude=stress(lines.amplitude, style),
        mean=stress(lines.amplitude_mean, style),
    )


def point_says(coil: CoilAnalysis, lines: FatigueLines, style: Style) -> str:
    """A spring's alternating and mean stress with its factors."""
    text = tr("alternating {alternating} about a mean of {mean}").format(
        alternating=stress(lines.alternating, style), mean=stress(lines.mean, style)
    )
    own = factors(coil, style)
    return named(coil, f"{text}; {own}." if own else f"{text}.")


def other_says(coil: CoilAnalysis, lines: FatigueLines, style: Style) -> str:
    """The same of a spring that is not the chosen one: the lines drawn are not its own."""
    return tr("{said} The lines are of the chosen spring.").format(said=point_says(coil, lines, style))


def _crossing_says(coil: CoilAnalysis, lines: FatigueLines, criterion: str, style: Style) -> str:
    factor = factor_of(coil, criterion) or 0.0
    return tr(
        "{name}, factor {factor}: along the load line its line lies at {amplitude} about a mean of {mean}."
    ).format(
        name=criterion_word(criterion),
        factor=told(factor, Plain.NUMBER, style),
        amplitude=stress(factor * lines.alternating, style),
        mean=stress(factor * lines.mean, style),
    )


def at_mean(mean: float, allowed: dict[str, float], style: Style) -> str:
    """What the read-out says at a mean stress: the amplitude that each line allows there, Pa."""
    parts = [f"{criterion_word(each)} ±\u2009{stress(value, style)}" for each, value in allowed.items()]
    text = tr("At a mean of {mean}, allowed: {lines}.")
    return text.format(mean=stress(mean, style), lines=", ".join(parts) or tr("nothing"))


# Beneath and beside


def notes(coil: CoilAnalysis, lines: FatigueLines) -> tuple[str, ...]:
    """On what the lines rest."""
    unstated = coil.geometry is not None and coil.geometry.peened is None
    if unstated and not lines.peened:
        data = tr("Zimmerli data: not peened, for shot peening is not stated.")
    else:
        data = tr("Zimmerli data: {peened}.").format(peened=peening_words(lines.peened))
    strength = coil.figures["tensile_strength"]
    source = source_words(strength.source).rstrip(".")
    return (
        data,
        tr("Wire strength by {source}.").format(source=source),
        tr("EN 13906-1 gives fatigue strengths as diagrams only: no line of it is drawn."),
    )


def description(coil: CoilAnalysis, lines: FatigueLines, others: int, style: Style) -> str:
    """The whole picture in a sentence."""
    text = tr(
        "Modified Goodman and Haigh plot: {said} Closed {closed}, full lift {open}, static limit {static}; "
        "other springs shown: {others}."
    )
    return text.format(
        said=point_says(coil, lines, style),
        closed=stress(lines.closed, style),
        open=stress(lines.full_lift, style),
        static=stress(lines.static_limit, style),
        others=others,
    )
