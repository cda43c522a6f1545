"""What custom says of a follower where no rule of the book speaks: upkeep of lash, the head's material, the use."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from loadbench.findings.finding import Finding, Level, Sentence
from loadbench.findings.match.kits import FLATS, HYDRAULICS
from loadbench.findings.match.result import CRITERION_WORDS, Criterion, Kit
from loadbench.findings.match.sayings import Saying, Seat

RACE = frozenset({"drag", "circuit", "endurance"})
NOTHING: tuple[str, ...] = ()
KEPT = "A lash check at an interval that is kept, or a hydraulic follower."


def by_custom(criterion: Criterion, level: Level, text: str, **more: Any) -> Saying:
    """A saying of custom, which no rule of the book stands behind.

    Args:
        criterion: what it is about.
        level: how it stands.
        text: the sentence's template.
        more: further fields of Finding.

    Returns:
        The saying; its finding has no rule id.
    """
    sentence = Sentence(text, more.pop("amounts", {}))
    title = CRITERION_WORDS[criterion]
    return Saying(finding=Finding(id="", title=title, group="", level=level, sentence=sentence, **more))


def upkeep_of_lash(seat: Seat) -> Iterator[Saying]:
    """Whether somebody has to keep the lash: common practice."""
    kit, view, about = seat.kit, seat.heaviest, ("duty.use",)
    use = view.value("duty.use")
    level, missing, fix = Level.CLEAR, NOTHING, None
    if kit in HYDRAULICS:
        text = "It takes up its lash by itself."
    elif kit is Kit.BUCKET:
        text = "Lash by shims: it holds long, and is checked at the maker's interval."
    elif use is None:
        level, missing = Level.UNKNOWN, about
        text = "Lash has to be checked and set; whether that suits the use is not said."
    elif use in RACE:
        text = "Lash is checked between runs anyway, and tells of wear early."
    else:
        level, fix = Level.WATCH, Sentence(KEPT)
        text = "Lash has to be checked and set again and again: upkeep that this use seldom gets."
    yield by_custom(Criterion.LASH_UPKEEP, level, text, missing=missing, about=about, fix=fix)


def head_material(seat: Seat) -> Iterator[Saying]:
    """What the head's material does to the setting, where the job's own lash or depth does not say it already."""
    kit, view = seat.kit, seat.heaviest
    about = ("valve_gear.head", "valve_gear.block")
    head = view.value("valve_gear.head")
    level, missing, fix = Level.CLEAR, NOTHING, None
    if head is None:
        level, missing = Level.UNKNOWN, (view.path("valve_gear.head"),)
        text = "How the setting moves as it warms hangs on the head's material."
    elif kit in HYDRAULICS:
        text = f"The plunger takes up what a head of {head} makes of the lash as it warms."
    elif kit is Kit.BUCKET:
        text = "Head and cam grow together: lash moves by the valve's stem alone."
    elif head != "aluminium":
        text = f"A head of {head} moves the lash little."
    elif _lash_is_told(seat):
        text = "An aluminium head opens the lash as it warms; that it was set cold or hot is stated."
    else:
        level, fix = Level.WATCH, Sentence("Lash set hot, or cold with the difference.")
        text = "An aluminium head opens the lash as it warms: set it hot, or cold with the difference."
    yield by_custom(Criterion.HEAD_MATERIAL, level, text, missing=missing, about=about, fix=fix)


def _lash_is_told(seat: Seat) -> bool:
    view = seat.heaviest
    stated = view.value("valve_gear.lash") is not None and not seat.took("valve_gear.lash")
    return stated and view.value("valve_gear.lash_at") is not None


def duty_of(seat: Seat) -> Iterator[Saying]:
    """What custom says of a family for a use."""
    kit, use, about = seat.kit, seat.heaviest.value("duty.use"), ("duty.use",)
    level, missing, fix = Level.CLEAR, NOTHING, None
    if use is None:
        level, missing, text = Level.UNKNOWN, about, "The use is not stated."
    elif kit in FLATS and use in RACE:
        level, text = Level.WATCH, f"A flat tappet for {use}: lobes gentle enough for it give speed away."
        fix = Sentence("Class rules that ask for flat tappets, or a gentler use.")
    else:
        text = f"Usual for {use}."
    yield by_custom(Criterion.DUTY, level, text, missing=missing, about=about, fix=fix)
