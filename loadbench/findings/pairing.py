"""Verdicts on whether follower, lobe, oil and fitting go together."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from loadbench.analysis.figure import Figure, Plain
from loadbench.findings.finding import Amount, Finding, Level, Nature, Sentence
from loadbench.findings.loads import at_quoted_ratio
from loadbench.findings.rows import material_word
from loadbench.findings.rulebook import Limit
from loadbench.findings.standing import past, standing
from loadbench.findings.view import FLAT, HYDRAULIC, ROLLER, Scope, Told, verdict


@verdict("cam-follower-kind", Scope.MERGED)
def cam_follower_kind(told: Told) -> Iterator[Finding]:
    """A roller wants a roller lobe, a flat follower a flat one; a bucket counts as flat."""
    view = told.view
    family, kind = view.family, view.value("cam.kind")
    about = (view.path("follower.family"), view.path("cam.kind"))
    if family is None or kind is None:
        missing = view.missing("follower.family", "cam.kind")
        yield told.unknown("Whether the follower belongs on this lobe cannot be said.", missing, about=about)
        return
    follower = "roller" if family in ROLLER else "flat"
    lobe = "roller" if kind == "roller" else "flat"
    if follower == lobe:
        yield told.finding(Level.CLEAR, f"A {follower} follower on a {lobe} lobe.", about=about)
        return
    fix = Sentence(f"A {lobe} follower, or a cam ground for {follower} followers.")
    yield told.finding(
        Level.STOP, f"A {follower} follower on a lobe ground for a {lobe} one destroys both.", about=about, fix=fix
    )


GOOD_PAIRS = frozenset(
    {
        ("flat", "iron", "iron"),
        ("flat", "tool-steel", "iron"),
        ("flat", "tool-steel", "tool-steel"),
        ("roller", "steel", "steel"),
        ("bucket", "steel", "iron"),
        ("bucket", "steel", "steel"),
    }
)


@verdict("cam-follower-material", Scope.MERGED)
def cam_follower_material(told: Told) -> Iterator[Finding]:
    """Which materials may run on each other."""
    view = told.view
    family = view.family
    follower, cam = material_word(view.value("follower.material")), material_word(view.value("cam.material"))
    about = (view.path("follower.material"), view.path("cam.material"))
    if family is None or follower is None or cam is None:
        missing = view.missing("follower.family", "follower.material", "cam.material")
        yield told.unknown("Whether the materials may run together cannot be said.", missing, about=about)
        return
    kind = "flat" if family in FLAT else "roller" if family in ROLLER else "bucket"
    if (kind, follower, cam) in GOOD_PAIRS:
        yield told.finding(Level.CLEAR, "These materials are used together.", about=about)
    elif (kind, follower, cam) == ("roller", "steel", "iron"):
        yield told.finding(Level.WATCH, "A steel roller on an iron lobe: ask the cam's maker.", about=about)
    elif (kind, follower, cam) == ("flat", "iron", "steel"):
        fix = Sentence("A tappet that the cam's maker names for this cam.")
        yield told.finding(Level.STOP, "An iron tappet on a steel cam wipes its lobe.", about=about, fix=fix)
    else:
        yield told.finding(
            Level.UNKNOWN, "The rule book has nothing on this pair: ask both makers.", about=about, missing=about
        )


@verdict("lobe-lash-kind", Scope.MERGED)
def lobe_lash_kind(told: Told) -> Iterator[Finding]:
    """A solid follower wants a lobe with lash ramps, a hydraulic one a lobe without."""
    view = told.view
    family, lobe = view.family, view.value("cam.lash_kind")
    about = (view.path("follower.family"), view.path("cam.lash_kind"))
    if family is None or lobe is None:
        missing = view.missing("follower.family", "cam.lash_kind")
        yield told.unknown("Whether the lobe's ramps suit the follower cannot be said.", missing, about=about)
        return
    follower = "hydraulic" if family in HYDRAULIC else "solid"
    if follower == lobe:
        yield told.finding(Level.CLEAR, f"A {follower} follower on a lobe for {lobe} followers.", about=about)
    elif follower == "solid":
        sentence = "A solid follower on a hydraulic lobe: the ramps are short, so set little lash."
        yield told.finding(Level.WATCH, sentence, about=about)
    else:
        sentence = "A hydraulic follower on a solid lobe: the lash ramps slam it and the timing is wrong."
        yield told.finding(
            Level.STOP, sentence, about=about, fix=Sentence("A solid follower, or a cam for hydraulic followers.")
        )


@verdict("solid-roller-street", Scope.JOB)
def solid_roller_street(told: Told) -> Iterator[Finding]:
    """A solid roller idles badly oiled: on the street it wants an inspection interval."""
    view, use, idle = told.view, told.view.value("duty.use"), told.view.value("duty.idle_share")
    if view.family != "roller-solid":
        return
    about = (view.path("duty.use"), view.path("duty.idle_share"))
    sentence = "A solid roller on the street: see that oil reaches the axle at idle, and set an inspection interval."
    if use is None or (use == "street-strip" and idle is None):
        missing = view.missing("duty.use", *(("duty.idle_share",) if use == "street-strip" else ()))
        yield told.unknown("Whether a solid roller suits the use cannot be said.", missing, about=about)
    elif use == "street":
        yield told.finding(Level.WATCH, sentence, about=about)
    elif use == "street-strip":
        limit = view.book.limit("solid-roller-street", "idle_share")
        figure = Figure(name="idle_share", label="Share of idling", kind=Plain.NUMBER, value=idle)
        stands = standing(limit, float(idle))
        said = sentence if stands.level is Level.WATCH else "Little idling: a solid roller suits this use."
        yield told.judged(figure, stands, said, {}, about=about)
    else:
        yield told.finding(Level.CLEAR, "A solid roller suits this use.", about=about)


@verdict("flat-oil", Scope.JOB)
def flat_oil(told: Told) -> Iterator[Finding]:
    """Flat tappets want an anti-wear additive in the oil."""
    view = told.view
    if view.family not in FLAT:
        return
    field = "duty.oil.phosphorus_ppm"
    ppm, about = view.value(field), (view.path(field),)
    fix = Sentence("An oil with an anti-wear additive and little detergent, 1200 ppm of phosphorus or more.")
    if ppm is None:
        yield told.unknown(
            "The oil's phosphorus is not stated: a flat tappet needs an anti-wear additive.",
            (view.path(field),),
            about=about,
        )
        return
    limit = view.book.limit("flat-oil", "phosphorus")
    figure = Figure(name="phosphorus", label="Phosphorus, ppm", kind=Plain.NUMBER, value=float(ppm))
    stands = standing(limit, float(ppm))
    if stands.level is Level.STOP and not _hard_on_lobes(told):
        stands = standing(_watch_only(limit), float(ppm))
    sentence = f"{ppm:g} ppm of phosphorus in the oil; a flat tappet asks for {{limit}} ppm."
    amounts = {"limit": Amount(stands.limit or 0.0, Plain.NUMBER)}
    yield told.judged(figure, stands, sentence, amounts, about=about, fix=None if stands.level is Level.CLEAR else fix)


def _hard_on_lobes(told: Told) -> bool:
    """Whether the load or the first running makes a poor oil a stop."""
    view = told.view
    load = at_quoted_ratio(view)
    limit = view.book.limit("flat-oil", "open_load")
    heavy = load.value is not None and past(limit, limit.watch, load.value)
    return heavy or view.value("duty.first_running") is True


def _watch_only(limit: Limit) -> Limit:
    return replace(limit, stop=None)


@verdict("orientation", Scope.JOB)
def orientation(told: Told) -> Iterator[Finding]:
    """An offset or one-sided follower has a way round; a guided one is checked for clearance."""
    view = told.view
    offset, side, guide = (view.value(f"follower.{name}") for name in ("offset", "oil_side", "guide"))
    about = (view.path("follower.offset"), view.path("follower.oil_side"), view.path("follower.guide"))
    if (offset is not None and offset > 0) or side is not None:
        sentence = "This follower has a side: set backwards it runs skewed and cuts the lobe within minutes."
        yield told.finding(
            Level.WATCH, sentence, about=about, fix=Sentence("Mark each follower and check it before the cam turns.")
        )
    elif guide in {"keyed", "tie-bar"}:
        words = {"keyed": "Keyed", "tie-bar": "Tie-bar guided"}[guide]
        yield told.finding(Level.CLEAR, f"{words}. On the check list: guide clear at full lift.", about=about)
    elif view.family in ROLLER and offset is None and guide is None:
        missing = view.missing("follower.offset", "follower.guide")
        yield told.unknown("How the roller is kept square to its lobe is not stated.", missing, about=about)
    elif view.family in ROLLER:
        yield told.finding(
            Level.CLEAR, "No side to this follower. On the check list: roller square to the lobe.", about=about
        )


@verdict("prep", Scope.JOB)
def prep(told: Told) -> Iterator[Finding]:
    """Washing and soaking before fitting: always told."""
    sentence = (
        "Wash off the shipping rust inhibitor with mineral spirits, then soak the followers in the oil that will run "
        "in the engine. The inhibitor is no lubricant and can gum a plunger; debris sticks a plunger fitted to "
        "millionths of an inch."
    )
    yield told.finding(Level.CLEAR, sentence, nature=Nature.ADVICE, line=None)
