"""Verdicts on the setting: preload of hydraulic followers, lash of solid ones, cold against hot."""

from __future__ import annotations

import functools
import tomllib
from collections.abc import Iterator
from importlib import resources

from loadbench.analysis.figure import Figure
from loadbench.findings.finding import Amount, Finding, Level, Nature, Sentence
from loadbench.findings.rulebook import Limit
from loadbench.findings.standing import Standing, standing, worst_of
from loadbench.findings.view import HYDRAULIC, SOLID, Scope, Told, View, amount, asked, asker, plain, verdict
from loadbench.follower.setting import cold_lash, hot_depth
from loadbench.units import Kind, parse

LENGTH = Kind.LENGTH
PUSHROD = HYDRAULIC | {"flat-tappet-solid", "roller-solid"}


@functools.cache
def corrections() -> dict[tuple[str, str], float]:
    """Cold lash less hot lash, m, by block and head material."""
    text = (resources.files("loadbench.findings") / "corrections.toml").read_text(encoding="utf-8")
    rows = {
        tuple(name.split("-")): parse(row["correction"], LENGTH, None).value
        for name, row in tomllib.loads(text).items()
    }
    return {(block, head): value for (block, head), value in rows.items()}


def correction(view: View) -> float | None:
    """The correction c for this engine's block and head; None where the pair is not stated or not in the table."""
    return corrections().get((view.value("valve_gear.block"), view.value("valve_gear.head")))


def _travel(view: View) -> str | None:
    """The travel stated; a flat hydraulic tappet without one is of standard travel."""
    travel: str | None = view.value("follower.travel")
    return travel or ("standard" if view.family == "flat-tappet-hydraulic" else None)


def _between(figure: Figure, least: Limit, most: Limit) -> Standing:
    """The standing of a value that wants to be between two limits; the nearer governs where both are kept."""
    value = figure.value or 0.0
    return worst_of(standing(least, value, figure.expanded), standing(most, value, figure.expanded))


def _range(least: Limit, most: Limit) -> dict[str, Amount]:
    return {"least": Amount(least.watch or 0.0, LENGTH), "most": Amount(most.watch or 0.0, LENGTH)}


def _makers(view: View, least: Limit, most: Limit, kind: str) -> tuple[Limit, Limit]:
    return (
        least.with_maker(view.value(f"follower.maker_limits.{kind}_min")),
        most.with_maker(view.value(f"follower.maker_limits.{kind}_max")),
    )


@verdict("preload-standard", Scope.MERGED)
def preload_standard(told: Told) -> Iterator[Finding]:
    """Half to one turn past zero lash by custom, judged in plunger depth."""
    view = told.view
    if view.family not in HYDRAULIC or _travel(view) == "short":
        return
    figure, travel = view.line.figures["plunger_depth"], view.value("follower.plunger.travel")
    about = (view.path("follower.preload.depth"), view.path("follower.preload.turns"))
    book = view.book
    least, most = _makers(view, book.limit(told.rule.id, "least"), book.limit(told.rule.id, "most"), "preload")
    amounts = {"depth": amount(figure)} | _range(least, most)
    if not figure.known or _travel(view) is None:
        missing = (*figure.missing, *(view.missing("follower.travel") if _travel(view) is None else ()))
        yield told.unknown("How deep the plunger is set cannot be judged.", missing, about=about)
        return
    stands = _between(figure, least, most)
    if stands.level is not Level.STOP and travel is None:
        sentence = "How far the plunger stands off its bottom cannot be said: its whole travel is not stated."
        yield told.unknown(sentence, view.missing("follower.plunger.travel"), about=about, figure=figure)
        return
    left = Figure(name="plunger_left", label="Travel left", kind=LENGTH, value=(travel or 0.0) - (figure.value or 0.0))
    room = book.limit(told.rule.id, "left")
    if travel is not None and standing(room, left.value or 0.0).level is Level.STOP:
        below = standing(room, left.value or 0.0)
        sentence = "The plunger is set {depth} deep and has {left} left; at least {limit} is asked for."
        told_amounts = amounts | {"left": amount(left), "limit": asked(room, below)}
        yield told.judged(left, below, sentence, told_amounts, about=about, fix=Sentence("Back the adjuster off."))
        return
    yield _preload(told, figure, stands, amounts, about, remark=book.limit(told.rule.id, "remark"))


def _preload(
    told: Told,
    figure: Figure,
    stands: Standing,
    amounts: dict[str, Amount],
    about: tuple[str, ...],
    remark: Limit | None = None,
) -> Finding:
    """The finding on a plunger depth between two limits."""
    sentence = f"The plunger is set {{depth}} deep; {asker(stands)} asks for {{least}} to {{most}}."
    deep = (
        remark is not None
        and stands.level is Level.CLEAR
        and standing(remark, figure.value or 0.0).level is Level.WATCH
    )
    nature = Nature.REMARK if deep else Nature.LIMIT
    tail = " That is on the deep side." if deep else ""
    fix = None if stands.level is Level.CLEAR else Sentence("Set {least} to {most}.", amounts)
    return told.judged(figure, stands, sentence + tail, amounts, about=about, fix=fix, nature=nature)


@verdict("preload-short-top", Scope.MERGED)
def preload_short_top(told: Told) -> Iterator[Finding]:
    """Short travel, minimal preload: just below the stop."""
    view = told.view
    if view.family not in HYDRAULIC or _travel(view) != "short" or view.value("follower.preload.way") == "bottomed":
        return
    figure, travel = view.line.figures["plunger_depth"], view.value("follower.plunger.travel")
    about = (view.path("follower.preload.depth"),)
    if not figure.known:
        yield told.unknown("How deep the plunger is set cannot be judged.", figure.missing, about=about)
        return
    rule = told.rule.id
    least, most = _makers(view, view.book.limit(rule, "least"), view.book.limit(rule, "most"), "preload")
    amounts = {"depth": amount(figure)} | _range(least, most)
    if travel is not None and (figure.value or 0.0) > travel * (1 + 1e-9):
        whole = Limit(name="travel", sense=most.sense, kind=LENGTH, stop=travel)
        stands = standing(whole, figure.value or 0.0)
        sentence = "The plunger would be {depth} deep, past its whole travel of {limit}: it holds the valve open."
        told_amounts = amounts | {"limit": Amount(travel, LENGTH)}
        yield told.judged(
            figure, stands, sentence, told_amounts, about=about, fix=Sentence("Set {least} to {most}.", amounts)
        )
        return
    yield _preload(told, figure, _between(figure, least, most), amounts, about)


@verdict("preload-short-bottom", Scope.MERGED)
def preload_short_bottom(told: Told) -> Iterator[Finding]:
    """Short travel, bled down, bottomed and backed off: every valve measured one by one."""
    view = told.view
    if view.family not in HYDRAULIC or _travel(view) != "short" or view.value("follower.preload.way") != "bottomed":
        return
    depth = view.line.figures["plunger_depth"]
    values = view.analysis.stated.values
    valves: list[tuple[str | None, str, float | None]] = [
        (valve.id or f"#{index + 1}", f"valves.{index}.plunger_travel", values.get(f"valves.{index}.plunger_travel"))
        for index, valve in enumerate(view.analysis.job.valves)
        if valve.line in {None, view.line.name} or not view.analysis.has_lines
    ]
    common = "follower.plunger.travel"
    for name, field, travel in valves or [(None, view.path(common), view.value(common))]:
        yield _bottomed(told, depth, name, field, travel)


def _bottomed(told: Told, depth: Figure, name: str | None, field: str, travel: float | None) -> Finding:
    about = (field, told.view.path("follower.preload.depth"))
    which = f"Valve {plain(name)}: " if name else ""
    if depth.value is None or travel is None:
        missing = (*depth.missing, *(() if travel is not None else (field,)))
        return told.unknown(
            f"{which}The plunger's own travel is measured valve by valve for this way of setting.",
            missing,
            about=about,
            valve=name,
        )
    book = told.view.book
    least, most = book.limit(told.rule.id, "least"), book.limit(told.rule.id, "most")
    left = Figure(name="plunger_left", label="Travel left", kind=LENGTH, value=travel - depth.value)
    stands = _between(left, least, most)
    sentence = f"{which}The plunger stands {{left}} off its bottom; {asker(stands)} asks for {{least}} to {{most}}."
    amounts = {"left": amount(left)} | _range(least, most)
    fix = None if stands.level is Level.CLEAR else Sentence("Back off from the bottom by {least} to {most}.", amounts)
    return told.judged(left, stands, sentence, amounts, about=about, valve=name, fix=fix)


@verdict("preload-hot", Scope.MERGED)
def preload_hot(told: Told) -> Iterator[Finding]:
    """Plunger depth when the engine is warm: heads and block outgrow the pushrods."""
    view = told.view
    if view.family not in HYDRAULIC:
        return
    depth, ratio, c = view.line.figures["plunger_depth"], view.line.figures["ratio"], correction(view)
    about = (view.path("follower.preload.depth"), view.path("valve_gear.head"), view.path("valve_gear.block"))
    if not depth.known or not ratio.known or c is None:
        stated = view.missing("valve_gear.head", "valve_gear.block")
        pair = () if c is not None else stated or (view.path("valve_gear.block"), view.path("valve_gear.head"))
        missing = (*depth.missing, *(() if ratio.known else ratio.missing), *pair)
        yield told.unknown("How deep the plunger stands when warm cannot be said.", missing, about=about)
        return
    value = float(hot_depth(depth.value or 0.0, c, ratio.value or 1.0))
    hot = Figure(name="hot_plunger_depth", label="Plunger depth, warm", kind=LENGTH, value=value)
    limit = view.book.limit("preload-hot")
    stands = standing(limit, value)
    amounts = {"hot": amount(hot), "cold": amount(depth), "limit": asked(limit, stands)}
    fix = None if stands.level is Level.CLEAR else Sentence("Set it deeper cold.")
    by = "by custom for this block and head"
    sentence = (
        f"Set {{cold}} deep cold, the plunger stands {{hot}} deep warm, {by}; {asker(stands)} asks for {{limit}}."
    )
    yield told.judged(hot, stands, sentence, amounts, about=about, fix=fix)


@verdict("solid-lash", Scope.MERGED)
def solid_lash(told: Told) -> Iterator[Finding]:
    """Lash of solid followers and buckets, by the lobe it runs on."""
    view = told.view
    if view.family not in SOLID:
        return
    field = "valve_gear.lash"
    about, lash = (view.path(field),), view.value(field)
    if lash is None:
        yield told.unknown("The lash is not stated.", (view.path(field),), about=about)
        return
    prefix = (
        "bucket_"
        if view.family == "bucket"
        else "hydraulic_lobe_"
        if view.value("cam.lash_kind") == "hydraulic"
        else ""
    )
    rule = told.rule.id
    least, most = _makers(view, view.book.limit(rule, f"{prefix}least"), view.book.limit(rule, f"{prefix}most"), "lash")
    figure = Figure(name="lash", label="Lash", kind=LENGTH, value=lash)
    stands = _between(figure, least, most)
    remark = _lash_remark(lash) if not prefix and stands.level is Level.CLEAR else ""
    amounts = {"lash": amount(figure)} | _range(least, most)
    sentence = f"Lash {{lash}}; {asker(stands)} asks for {{least}} to {{most}}.{remark}"
    nature = Nature.REMARK if remark else Nature.LIMIT
    fix = (
        None
        if stands.level is Level.CLEAR
        else Sentence("Set {least} to {most}, or what the cam's maker says.", amounts)
    )
    yield told.judged(figure, stands, sentence, amounts, about=about, nature=nature, fix=fix)


REMARKS = (
    (0.0, 0.010, " That is tight."),
    (0.014, 0.018, " Usual for tight-lash lobes."),
    (0.028, 0.030, " Usual for older lobes."),
)


def _lash_remark(lash: float) -> str:
    """What custom says of a lash within the limits (common practice, in inches)."""
    inches = lash / 0.0254
    for low, high, words in REMARKS:
        upper = inches < high - 1e-9 if low == 0.0 else inches <= high + 1e-9
        if low - 1e-9 <= inches and upper:
            return words
    return ""


@verdict("lash-state", Scope.MERGED)
def lash_state(told: Told) -> Iterator[Finding]:
    """Whether the lash is cold or hot, and what the other would be."""
    view, lash = told.view, told.view.value("valve_gear.lash")
    if view.family not in SOLID or lash is None:
        return
    at = view.value("valve_gear.lash_at")
    about = (view.path("valve_gear.lash_at"), view.path("valve_gear.head"), view.path("valve_gear.block"))
    if at is None:
        sentence = "Lash is stated without saying cold or hot."
        yield told.finding(Level.WATCH, sentence, about=about, missing=view.missing("valve_gear.lash_at"))
        return
    if view.family not in PUSHROD:
        yield told.finding(Level.CLEAR, f"The lash is stated {at}.", about=about)
        return
    c = correction(view)
    if c is None:
        missing = view.missing("valve_gear.head", "valve_gear.block") or (
            view.path("valve_gear.block"),
            view.path("valve_gear.head"),
        )
        yield told.unknown("What the lash is in the other state cannot be said.", missing, about=about)
        return
    cold = float(lash) if at == "cold" else float(cold_lash(lash, c))
    hot = cold - c
    amounts = {"cold": Amount(cold, LENGTH), "hot": Amount(hot, LENGTH), "change": Amount(abs(c), LENGTH)}
    figure = Figure(name="cold_lash", label="Lash, cold", kind=LENGTH, value=cold)
    if cold <= 1e-12:
        sentence = "{hot} hot would be {cold} cold: the valve would not close. Set it hot."
        fix = Sentence("Set the lash on the warm engine.")
        yield told.finding(
            Level.STOP,
            sentence,
            amounts,
            about=about,
            figure=figure,
            value=cold,
            value_kind=LENGTH,
            limit=0.0,
            margin=cold,
            fix=fix,
        )
        return
    sentence = "Lash {cold} cold is {hot} hot for this block and head."
    yield told.finding(Level.CLEAR, sentence, amounts, about=about, figure=figure, value=cold, value_kind=LENGTH)
