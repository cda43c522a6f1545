"""What each criterion rests on: the rules of the book it asks, and what is said beside them."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from loadbench.findings.finding import Sentence
from loadbench.findings.match.book_limits import bush_at_idle, pumped_up, trade_speed, warm_depth, warm_lash
from loadbench.findings.match.kits import FLATS, HYDRAULICS, ROLLERS, SOLID_ROLLERS, SOLIDS
from loadbench.findings.match.own_words import duty_of, head_material, upkeep_of_lash
from loadbench.findings.match.result import Criterion, Kit
from loadbench.findings.match.sayings import Saying, Seat
from loadbench.findings.match.speed import speed_by_motion

ALL = frozenset(Kit)
PHYSICS = frozenset(
    {
        "float-margin", "contact-lost", "contact-stress", "film-idle", "needle-life", "needle-safety", "bush-load",
        "bush-film", "pin-strength", "tappet-spin", "leak-down", "bind-pumped-up",
    }
)  # fmt: skip
"""Rules that rest on a computation; the others are the trade's."""

RULES: dict[Criterion, dict[str, frozenset[Kit]]] = {
    Criterion.OPEN_LOAD: {
        "flat-hydraulic-max": frozenset({Kit.FLAT_HYDRAULIC}),
        "flat-solid-max": frozenset({Kit.FLAT_SOLID}),
        "standard-travel-max": frozenset({Kit.ROLLER_HYDRAULIC_STANDARD}),
        "short-travel-max": frozenset({Kit.ROLLER_HYDRAULIC_SHORT}),
        "bushed-axle": SOLID_ROLLERS,
    },
    Criterion.SPEED: {},
    Criterion.CONTACT: {
        "cam-follower-material": ALL, "contact-stress": ALL, "tappet-spin": FLATS,
    },
    Criterion.AXLE_LIFE: dict.fromkeys(
        ("bushed-axle", "needle-life", "needle-safety", "bush-load", "bush-film", "pin-strength"), ROLLERS
    ),
    Criterion.FILM_AT_IDLE: {"film-idle": ALL},
    Criterion.OIL_TO_AXLE: {"needle-oiling": ROLLERS, "bush-oiling": ROLLERS},
    Criterion.OIL_ADDITIVE: {"flat-oil": FLATS},
    Criterion.TRAVEL: {"bind-pumped-up": HYDRAULICS, "leak-down": HYDRAULICS},
    Criterion.LASH_UPKEEP: {},
    Criterion.HEAD_MATERIAL: {"lash-state": SOLIDS, "preload-hot": HYDRAULICS},
    Criterion.DUTY: {
        "cam-follower-kind": ALL, "lobe-lash-kind": ALL, "solid-roller-street": SOLID_ROLLERS,
        "flat-break-in": FLATS,
    },
}  # fmt: skip
"""The rules asked under each criterion, and of which kits."""

SETTING = ("preload-standard", "preload-short-top", "preload-short-bottom")
"""Asked under the travel only of a depth that the job states."""

MAKERS = {
    Criterion.OPEN_LOAD: "follower.maker_limits.open_load_max",
    Criterion.SPEED: "follower.maker_limits.speed_max",
}
"""The follower maker's limits that speak of a criterion."""

CONCERNS: dict[Criterion, frozenset[Kit]] = {
    Criterion.AXLE_LIFE: ROLLERS,
    Criterion.OIL_TO_AXLE: ROLLERS,
    Criterion.OIL_ADDITIVE: FLATS,
    Criterion.TRAVEL: HYDRAULICS,
}
"""The kits that a criterion concerns; all where it is not named."""

TRADE_ANSWERS = frozenset({Criterion.AXLE_LIFE})
"""Where the trade's rule answers the same question: physics that lacks its inputs leaves the level to it."""

NOT_CONCERNED = {
    Criterion.AXLE_LIFE: "It has no axle.",
    Criterion.OIL_TO_AXLE: "It has no axle.",
    Criterion.OIL_ADDITIVE: "A roller does not live on the additive, and a bucket less than a tappet in a block.",
    Criterion.TRAVEL: "It has no plunger.",
}
BUCKET_LOAD = "The trade has no limit of its own for a bucket's open load: the contact judges it."
NO_LOBE = "It takes the lobe's motion, the sizes of the follower and the oil."
NO_AXLE = "How the oil reaches the axle is judged once the axle is stated."
UNKNOWN_WORDS = {Criterion.FILM_AT_IDLE: NO_LOBE, Criterion.OIL_TO_AXLE: NO_AXLE}
WAITS_FOR = {
    Criterion.FILM_AT_IDLE: ("cam.durations", "duty.idle_speed"),
    Criterion.OIL_TO_AXLE: ("follower.axle",),
    Criterion.SPEED: ("duty.speed_limit",),
}
"""What a criterion waits for where no rule has anything to say yet."""

BESIDE: dict[Criterion, tuple[Callable[[Seat], Iterator[Saying]], ...]] = {
    Criterion.SPEED: (trade_speed, speed_by_motion),
    Criterion.FILM_AT_IDLE: (bush_at_idle,),
    Criterion.TRAVEL: (pumped_up,),
    Criterion.LASH_UPKEEP: (upkeep_of_lash,),
    Criterion.HEAD_MATERIAL: (head_material, warm_lash, warm_depth),
    Criterion.DUTY: (duty_of,),
}
"""What is said beside the rules."""


def sayings(criterion: Criterion, seat: Seat) -> list[Saying]:
    """Everything that is said of a follower under a criterion.

    Args:
        criterion: the criterion.
        seat: the follower with its lines and rules.

    Returns:
        The sayings, by the trade and by physics.
    """
    made = [saying for beside in BESIDE.get(criterion, ()) for saying in beside(seat)]
    made += [
        Saying(finding=finding, physics=rule in PHYSICS)
        for rule, kits in RULES[criterion].items()
        if seat.kit in kits and not (rule == "lash-state" and seat.took("valve_gear.lash"))
        for finding in seat.findings(rule)
    ]
    if criterion is Criterion.TRAVEL and not seat.took("follower.preload.depth"):
        made += [Saying(finding=finding) for rule in SETTING for finding in seat.findings(rule)]
    if criterion in MAKERS and seat.heaviest.value(MAKERS[criterion]) is not None:
        made += [
            Saying(finding=finding)
            for finding in seat.findings("maker-limits")
            if finding.about and finding.about[0].endswith(MAKERS[criterion])
        ]
    return made


def silent(criterion: Criterion, kit: Kit) -> Sentence | None:
    """Why a criterion does not concern a kit; None where it does."""
    if criterion is Criterion.OPEN_LOAD and kit is Kit.BUCKET:
        return Sentence(BUCKET_LOAD)
    if kit in CONCERNS.get(criterion, ALL):
        return None
    return Sentence(NOT_CONCERNED[criterion])
