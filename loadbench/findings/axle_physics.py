"""Verdicts of physics on the roller's axle: needle life and safety, bush, pin; they stand beside the trade's rule."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from loadbench.analysis.figure import HOUR, Figure, Plain
from loadbench.findings.finding import Amount, Finding, Level, Sentence
from loadbench.findings.standing import Standing, standing
from loadbench.findings.view import ROLLER, Scope, Told, View, amount, asked, asker, plain, verdict
from loadbench.follower.bush import bush_limits, bush_lists
from loadbench.units import Kind

NEEDLE_FIELDS = tuple(f"follower.needles.{name}" for name in ("count", "diameter", "length", "axle_diameter"))
BUSH_FIELDS = tuple(f"follower.bush.{name}" for name in ("bore", "length", "clearance", "material"))


def on_needles(view: View) -> bool:
    """Whether the axle is judged as one on needles: stated so, or its needles are stated and no bush is."""
    if view.family not in ROLLER or view.value("follower.axle") == "bushed":
        return False
    return view.value("follower.axle") == "needle" or any(view.value(field) is not None for field in NEEDLE_FIELDS)


def on_bush(view: View) -> bool:
    """Whether the axle is judged as one in a bush."""
    if view.family not in ROLLER:
        return False
    stated = view.value("follower.axle")
    return bool(stated == "bushed" or (stated is None and view.value("follower.bush.bore") is not None))


def fix_if(stands: Standing, text: str) -> Sentence | None:
    """What would help, where something has to."""
    return None if stands.level is Level.CLEAR else Sentence(text)


def waiting(told: Told, figure: Figure | None, what: str, about: tuple[str, ...]) -> Finding:
    """A finding that waits for what a figure waits for."""
    note = "" if figure is None or not figure.note or figure.missing else f" {plain(figure.note)}"
    return told.unknown(
        f"{what} cannot be had.{note}", () if figure is None else figure.missing, about=about, figure=figure
    )


@verdict("needle-life", Scope.MERGED)
def needle_life(told: Told) -> Iterator[Finding]:
    """Life of the needles over the duty against the life that is wanted."""
    view = told.view
    if not on_needles(view):
        return
    figure, wanted = view.figure("needle_life"), view.value("duty.life_hours")
    about = tuple(view.path(field) for field in (*NEEDLE_FIELDS, "duty.life_hours"))
    if figure is None or figure.value is None:
        yield waiting(told, figure, "How long the needles last", about)
        return
    limit = view.book.limit("needle-life")
    asks = "{asker} asks for {limit}"
    if wanted is not None:
        limit = replace(limit, watch=float(wanted) * HOUR, watch_house="job")
        asks = "{limit} is wanted"
    oil = view.figure("needle_life_oil")
    amounts = {"life": amount(figure)}
    if oil is not None and oil.value is not None:
        # The lesser is judged: oil that parts nothing takes from the rated life what better oil may not add to it.
        amounts["oil"] = amount(oil)
        judged = min(figure, oil, key=lambda each: each.value or 0.0)
        stands = standing(limit, judged.value or 0.0)
        start = "With the oil's factor nine of ten such axles last {oil} at this duty, by their rating alone {life}"
    else:
        judged, stands = figure, standing(limit, figure.value)
        start = "By their rating nine of ten such axles last {life} at this duty"
    amounts["limit"] = asked(limit, stands)
    sentence = f"{start}; {asks.replace('{asker}', asker(stands))}."
    if oil is not None and oil.value is None and oil.note and not oil.missing:
        stands = replace(stands, level=Level.WATCH)
        sentence += " The oil is too thin there for the standard's factor: they will not last so long."
    yield told.judged(
        judged, stands, sentence, amounts, about=about,
        fix=fix_if(stands, "More or longer needles, less load, less time at full speed, or a bush with pressure oil."),
    )  # fmt: skip


@verdict("needle-safety", Scope.MERGED)
def needle_safety(told: Told) -> Iterator[Finding]:
    """Static rating of the needles over the highest load of the cycle."""
    view = told.view
    if not on_needles(view):
        return
    figure, load = view.figure("needle_static_safety"), view.figure("axle_load")
    about = tuple(view.path(field) for field in NEEDLE_FIELDS)
    if figure is None or figure.value is None or load is None or load.value is None:
        yield waiting(told, figure, "How the needles stand the highest load", about)
        return
    limit = view.book.limit("needle-safety")
    stands = standing(limit, figure.value)
    start = "The needles' static rating is {safety} times the highest load, {load}; "
    sentence = f"{start}{asker(stands)} asks for {{limit}}."
    amounts = {"safety": amount(figure), "load": amount(load), "limit": asked(limit, stands)}
    fix = fix_if(stands, "More or longer needles, less load, or a bush with pressure oil.")
    yield told.judged(figure, stands, sentence, amounts, about=about, fix=fix)


@verdict("bush-load", Scope.MERGED)
def bush_load(told: Told) -> Iterator[Finding]:
    """Pressure and PV of the bush against the list for its material and its oil."""
    view = told.view
    if not on_bush(view):
        return
    about = tuple(view.path(field) for field in (*BUSH_FIELDS, "follower.oil_feed"))
    material, fed = view.value("follower.bush.material"), view.value("follower.oil_feed") == "pressure"
    pressure, pv = view.figure("bush_pressure"), view.figure("bush_pv")
    if pressure is None or pressure.value is None:
        yield waiting(told, pressure, "How the bush stands its load", about)
        return
    row = bush_limits(material, fed=fed)
    if row is None:
        what = (
            "No list that is known here speaks of this bush's material"
            if material
            else "The bush's material is not stated"
        )
        yield told.unknown(f"{what}: its pressure of {{p}} is not judged.", view.missing("follower.bush.material"),
                           amounts={"p": amount(pressure)}, about=about, figure=pressure)  # fmt: skip
        return
    kind = "with pressure oil" if fed else "under boundary lubrication"
    for figure, name, most, word in (
        (pressure, "pressure", row.pressure, "pressure"),
        (pv, "pv", row.pv, "pressure times speed"),
    ):
        if figure is None or figure.value is None or most is None:
            continue
        limit = view.book.limit("bush-load", name)
        share = figure.value / most
        stands = standing(limit, share)
        sentence = (
            f"The bush's {word} is {{value}}; {row.label} {kind} is said to bear {{most}} in steady sliding: the list "
            "knows nothing of a load that comes and goes."
        )
        amounts = {"value": amount(figure), "most": Amount(most, figure.kind)}
        yield told.judged(
            figure, stands, sentence, amounts, value=share, value_kind=Plain.SHARE, about=about, source=row.source,
            fix=None if stands.level is Level.CLEAR else _bush_that_bears(view, name, figure.value, share),
        )  # fmt: skip


def _bush_that_bears(view: View, name: str, value: float, share: float) -> Sentence:
    """How long the bush would have to be by its list, whether that fits in the roller, and what else could be done."""
    needed, width = share * float(view.value("follower.bush.length") or 0.0), view.value("follower.roller_width")
    fed = view.value("follower.oil_feed") == "pressure"
    labels = [each.label for each in bush_lists() if each.fed is fed and (getattr(each, name) or 0.0) >= value]
    material = f", or {labels[0]} for a material" if labels else ""
    amounts = {"needed": Amount(needed, Kind.LENGTH)}
    other = " or a thicker axle" if name == "pressure" else ""  # a thicker one is as much faster as it presses less
    ask = "ask the bush's maker what it bears under a load that comes and goes"
    if width is not None and needed > width:
        amounts["width"] = Amount(float(width), Kind.LENGTH)
        start = "By this list it would have to be {needed} long, and the roller is {width} wide: no longer bush will do"
        return Sentence(f"{start}. Less load{other}{material}; {ask}.", amounts)
    return Sentence(f"By this list a bush {{needed}} long, less load{other}{material}; else {ask}.", amounts)


@verdict("bush-film", Scope.MERGED)
def bush_film(told: Told) -> Iterator[Finding]:
    """Oil film of the bush over the roughness, idling and at the speed limit."""
    view = told.view
    if not on_bush(view):
        return
    idle, limit_ = view.figure("bush_film_ratio_idle"), view.figure("bush_film_ratio_limit")
    about = tuple(view.path(field) for field in (*BUSH_FIELDS, "duty.oil.grade", "duty.oil.temperature"))
    figure = limit_ if limit_ is not None and limit_.value is not None else idle
    if figure is None or figure.value is None:
        yield waiting(told, figure, "The oil film in the bush", about)
        return
    limit = view.book.limit("bush-film")
    stands = standing(limit, figure.value)
    sentence = "At the highest load the bush's oil film is {film} times its roughness at the speed limit"
    amounts = {"film": amount(figure), "limit": asked(limit, stands)}
    if idle is not None and idle.value is not None and idle is not figure:
        sentence += ", {idle} times idling"
        amounts["idle"] = amount(idle)
    sentence += f"; {asker(stands)} asks for {{limit}}, below which the surfaces touch."
    if stands.level is not Level.CLEAR:
        sentence += " It lives on what its material bears and on the oil that is fed to it."
    yield told.judged(
        figure, stands, sentence, amounts, about=about,
        fix=fix_if(stands, "Less load, a longer bush, less clearance, or thicker oil."),
    )  # fmt: skip


@verdict("pin-strength", Scope.MERGED)
def pin_strength(told: Told) -> Iterator[Finding]:
    """Yield strength of the axle pin over its stress; nothing where its span is not stated."""
    view = told.view
    if view.family not in ROLLER or view.value("follower.pin.span") is None:
        return
    figure, stress = view.figure("pin_safety"), view.figure("pin_stress")
    about = tuple(view.path(f"follower.pin.{name}") for name in ("span", "bore", "material"))
    if figure is None or figure.value is None or stress is None:
        yield waiting(told, figure, "How the axle pin stands the highest load", about)
        return
    limit = view.book.limit("pin-strength")
    stands = standing(limit, figure.value)
    start = "The axle pin yields at {safety} times its stress, {stress} in bending; "
    sentence = f"{start}{asker(stands)} asks for {{limit}}."
    amounts = {"safety": amount(figure), "stress": amount(stress), "limit": asked(limit, stands)}
    yield told.judged(
        figure,
        stands,
        sentence,
        amounts,
        about=about,
        fix=fix_if(stands, "A thicker or stronger pin, or a shorter span."),
    )
