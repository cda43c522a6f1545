"""The rules that each criterion rests on, and what it says where no rule speaks."""

from __future__ import annotations

from dataclasses import dataclass

from loadbench.findings.finding import Level, Sentence
from loadbench.findings.match.result import Criterion, Kit
from loadbench.findings.view import View

PHYSICS = frozenset(
    {
        "float-margin", "contact-stress", "film-idle", "needle-life", "needle-safety", "bush-load", "bush-film",
        "pin-strength", "tappet-spin", "leak-down", "preload-hot", "bind-pumped-up",
    }
)  # fmt: skip
"""Rules that rest on a computation; the others are the trade's."""

RULES: dict[Criterion, tuple[str, ...]] = {
    Criterion.OPEN_LOAD: ("flat-hydraulic-max", "flat-solid-max", "standard-travel-max", "short-travel-max"),
    Criterion.SPEED: ("short-travel", "float-margin"),
    Criterion.CONTACT: ("cam-follower-material", "contact-stress", "tappet-spin"),
    Criterion.AXLE_LIFE: ("bushed-axle", "needle-life", "needle-safety", "bush-load", "pin-strength"),
    Criterion.FILM_AT_IDLE: ("film-idle", "bush-film"),
    Criterion.OIL_TO_AXLE: ("needle-oiling", "bush-oiling"),
    Criterion.OIL_ADDITIVE: ("flat-oil",),
    Criterion.TRAVEL: ("bind-pumped-up", "leak-down"),
    Criterion.LASH_UPKEEP: (),
    Criterion.HEAD_MATERIAL: ("lash-state", "preload-hot"),
    Criterion.DUTY: ("cam-follower-kind", "lobe-lash-kind", "solid-roller-street", "flat-break-in"),
}

ROLLERS = frozenset(kit for kit in Kit if "roller" in kit.value)
HYDRAULICS = frozenset(kit for kit in Kit if "hydraulic" in kit.value)
FLATS = frozenset({Kit.FLAT_SOLID, Kit.FLAT_HYDRAULIC})

CONCERNS: dict[Criterion, frozenset[Kit]] = {
    Criterion.OPEN_LOAD: frozenset(Kit) - {Kit.BUCKET, Kit.ROLLER_SOLID_NEEDLE, Kit.ROLLER_SOLID_BUSHED},
    Criterion.AXLE_LIFE: ROLLERS,
    Criterion.OIL_TO_AXLE: ROLLERS,
    Criterion.OIL_ADDITIVE: FLATS,
    Criterion.TRAVEL: HYDRAULICS,
}
"""The kits that a criterion concerns; all where it is not named."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Plainly:
    """What a criterion says without a rule."""

    level: Level
    sentence: Sentence
    missing: tuple[str, ...] = ()
    about: tuple[str, ...] = ()
    fix: Sentence | None = None


RACE = frozenset({"drag", "circuit", "endurance"})


def upkeep_of_lash(kit: Kit, view: View) -> Plainly:
    """Whether somebody has to keep the lash: common practice."""
    about = ("duty.use",)
    if kit in HYDRAULICS:
        return Plainly(level=Level.CLEAR, sentence=Sentence("It takes up its lash by itself."), about=about)
    if kit is Kit.BUCKET:
        said = "Lash by shims: it holds long, and is checked at the maker's interval."
        return Plainly(level=Level.CLEAR, sentence=Sentence(said), about=about)
    use = view.value("duty.use")
    if use is None:
        said = "Lash has to be checked and set; whether that suits the use is not said."
        return Plainly(level=Level.UNKNOWN, sentence=Sentence(said), missing=("duty.use",), about=about)
    if use in RACE:
        said = "Lash is checked between runs anyway, and tells of wear early."
        return Plainly(level=Level.CLEAR, sentence=Sentence(said), about=about)
    said = "Lash has to be checked and set again and again: upkeep that this use seldom gets."
    fix = Sentence("A hydraulic follower, or an interval that is kept.")
    return Plainly(level=Level.WATCH, sentence=Sentence(said), about=about, fix=fix)


def head_material(kit: Kit, view: View) -> Plainly | None:
    """What the head's material does to the setting, where no rule speaks of it: common practice."""
    head = view.value("valve_gear.head")
    about = ("valve_gear.head", "valve_gear.block")
    if head is None:
        said = "How the setting moves as it warms hangs on the head's material."
        return Plainly(level=Level.UNKNOWN, sentence=Sentence(said), missing=("valve_gear.head",), about=about)
    if kit in HYDRAULICS:
        said = f"The plunger takes up what a head of {head} makes of the lash as it warms."
        return Plainly(level=Level.CLEAR, sentence=Sentence(said), about=about)
    if kit is Kit.BUCKET:
        said = "Head and cam grow together: lash moves by the valve's stem alone."
        return Plainly(level=Level.CLEAR, sentence=Sentence(said), about=about)
    if head == "aluminium":
        said = "An aluminium head opens the lash as it warms: set it hot, or cold with the difference."
        return Plainly(level=Level.WATCH, sentence=Sentence(said), about=about)
    return Plainly(level=Level.CLEAR, sentence=Sentence("An iron head moves the lash little."), about=about)


def duty_of(kit: Kit, view: View) -> Plainly | None:
    """What the trade says of a family for a use, where no rule speaks of it: common practice."""
    use, about = view.value("duty.use"), ("duty.use",)
    if use is None:
        return Plainly(level=Level.UNKNOWN, sentence=Sentence("The use is not stated."), missing=about, about=about)
    if kit in FLATS and use in RACE:
        said = f"A flat tappet for {use}: lobes gentle enough for it give speed away."
        return Plainly(level=Level.WATCH, sentence=Sentence(said), about=about)
    return Plainly(level=Level.CLEAR, sentence=Sentence(f"Usual for {use}."), about=about)


PLAINLY = {
    Criterion.LASH_UPKEEP: upkeep_of_lash,
    Criterion.HEAD_MATERIAL: head_material,
    Criterion.DUTY: duty_of,
}
