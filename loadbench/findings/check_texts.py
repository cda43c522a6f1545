"""The items of the check list before fitting: what each asks, which followers it concerns, which rules speak of it."""

from __future__ import annotations

from dataclasses import dataclass

from loadbench.findings.view import FLAT, HYDRAULIC, ROLLER, SOLID

ALL = frozenset({*FLAT, *ROLLER, "bucket"})
SPUN = FLAT | {"bucket"}
PUSHROD = ALL - {"bucket"}

FIRST = "First"
FACE = "Follower and lobe"
BODY = "Follower in its bore"
AXLE = "Axle"
OIL = "Oil and cleaning"
SETTING = "Setting"
START = "First running"


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """One item. `families` are those that it concerns; one of every family is asked of an unstated one too.

    `axle` and `way` narrow it to a stated axle or way of setting; `rules` are those whose findings tell how this job
    stands; `figures` and `about` are what is shown where no rule speaks.
    """

    id: str
    group: str
    sentence: str
    families: frozenset[str] = ALL
    axle: str | None = None
    way: str | None = None
    rules: tuple[str, ...] = ()
    figures: tuple[str, ...] = ()
    about: tuple[str, ...] = ()


ITEMS = (
    Asked(
        id="sheet", group=FIRST, about=("follower.maker_limits.sheet",),
        sentence="Read the part maker's sheet first. Where it differs from this list, the sheet holds.",
    ),
    Asked(
        id="safety", group=FIRST,
        sentence="Eye protection on, and a proper spring compressor: a compressed valve spring stores enough energy to"
        " injure.",
    ),
    Asked(
        id="materials", group=FACE, rules=("cam-follower-kind", "cam-follower-material", "lobe-lash-kind"),
        about=("cam.kind", "cam.material", "follower.material"),
        sentence="See that the followers are those for this cam: their kind and their material.",
    ),
    Asked(
        id="face-crown", group=FACE, families=FLAT, figures=("crown_drop",), about=("follower.crown_radius",),
        sentence="Lay a straight edge across each face: its ground crown must be seen. A flat or hollow face does not"
        " go in, nor a used tappet on another lobe than its own.",
    ),
    Asked(
        id="lobe-taper", group=FACE, families=FLAT, rules=("tappet-spin",), figures=("tappet_offset",),
        about=("cam.taper", "follower.crown_radius"),
        sentence="See that the lobes are ground with their taper, the high side the same way for all, so that each"
        " tappet spins.",
    ),
    Asked(
        id="spins", group=FACE, families=SPUN,
        sentence="Mark the top of each follower, turn the cam by hand, and see that every one of them turns.",
    ),
    Asked(
        id="roller-on-lobe", group=FACE, families=ROLLER, about=("follower.roller_width", "cam.face_width"),
        sentence="See that each roller runs with its whole width on its lobe, square to it, from closed to full lift.",
    ),
    Asked(
        id="way-round", group=BODY, families=PUSHROD, rules=("orientation",),
        about=("follower.offset", "follower.oil_side"),
        sentence="An offset seat or an oil hole has a way round: mark each follower and look again before the cam"
        " turns.",
    ),
    Asked(
        id="bore-clearance", group=BODY, rules=("follower-bore",),
        about=("follower.bore.diameter", "follower.body_diameter"),
        sentence="Measure every bore and every body. Clean and oiled, each follower sinks by its own weight and turns"
        " freely.",
    ),
    Asked(
        id="oil-band", group=BODY, families=PUSHROD, rules=("oil-band",),
        about=("follower.oil_band.lower", "follower.oil_band.upper", "follower.bore.lower_end",
               "follower.bore.upper_end"),
        sentence="See that the oil band stays within the bore over the whole lift, closed and open, and meets the oil"
        " gallery.",
    ),
    Asked(
        id="guide", group=BODY, families=ROLLER, rules=("guide-clearance",), about=("follower.guide_clearance",),
        sentence="At full lift of each valve see that tie bar, guide or key clears follower, block and head.",
    ),
    Asked(
        id="shim-seated", group=BODY, families=frozenset({"bucket"}),
        sentence="Each shim lies flat in its seat, oiled, its number toward the bucket, and turns with it.",
    ),
    Asked(
        id="needles-oiled", group=AXLE, families=ROLLER, axle="needle", rules=("needle-oiling",),
        about=("follower.oil_feed",),
        sentence="Turn each roller through: no catch, no play. Oil the needles, and see that their oil way is open.",
    ),
    Asked(
        id="bush-oiled", group=AXLE, families=ROLLER, axle="bushed", rules=("bush-oiling",),
        about=("follower.oil_feed",),
        sentence="Turn each roller through: no catch. Oil the bush, and see that the oil hole to its axle is open.",
    ),
    Asked(
        id="clean", group=OIL,
        sentence="Wash off the rust inhibitor with mineral spirits, blow dry and look through every oil hole: it is no"
        " lubricant, and debris sticks a plunger.",
    ),
    Asked(
        id="soak", group=OIL,
        sentence="Soak the followers in the oil that will run in the engine, and fit them wet.",
    ),
    Asked(
        id="paste", group=OIL, families=SPUN,
        sentence="Coat faces and lobes with the paste that the cam's maker asks for, not the oil alone.",
    ),
    Asked(
        id="oil", group=OIL, rules=("flat-oil",), about=("duty.oil.grade", "duty.oil.phosphorus_ppm"),
        sentence="See that the oil and its additive are those that the cam and the follower ask for.",
    ),
    Asked(
        id="pushrods", group=SETTING, families=PUSHROD,
        sentence="Look through every pushrod, roll it on a plate, and see that it clears head and guide plate while it"
        " turns.",
    ),
    Asked(
        id="not-pumped", group=SETTING, families=HYDRAULIC,
        sentence="Do not pump the followers up by hand before they are set: a full plunger hides the zero lash.",
    ),
    Asked(
        id="bled", group=SETTING, families=HYDRAULIC, way="bottomed", about=("follower.preload.way",),
        sentence="Bleed each follower down until its plunger stands on the bottom, measure its own travel, then back"
        " off.",
    ),
    Asked(
        id="set", group=SETTING, rules=("preload-standard", "preload-short-top", "preload-short-bottom", "solid-lash"),
        about=("valves",),
        sentence="Set each valve with its follower on the base circle, by the worksheet, and initial it there.",
    ),
    Asked(
        id="hot", group=SETTING, families=HYDRAULIC, rules=("preload-hot",), figures=("plunger_depth_hot",),
        about=("follower.preload.depth",),
        sentence="See that the plunger keeps its depth when the engine is warm.",
    ),
    Asked(
        id="turned", group=SETTING, rules=("bind-margin-min", "retainer-margin-min"),
        sentence="Turn the engine over twice by hand: nothing binds, and coils and retainers clear at full lift.",
    ),
    Asked(
        id="primed", group=START,
        sentence="Prime the oil system until oil comes at every valve, turning the engine by hand meanwhile.",
    ),
    Asked(
        id="running", group=START,
        sentence="While it runs keep hands, hair, sleeves and tools away from belts, fan and rocker gear; oil and"
        " exhaust burn. Set lash, hot too, only with the engine stopped and the ignition off.",
    ),
    Asked(
        id="break-in-load", group=START, families=FLAT, rules=("flat-break-in",), about=("duty.first_running",),
        sentence="Run flat tappets in on reduced load: inner springs out, or a lower ratio.",
    ),
    Asked(
        id="break-in-run", group=START, families=FLAT,
        sentence="Everything ready, so that it starts at once: then 20 minutes at 2000 to 2500 rpm, varied, and no"
        " idling. Change oil and filter after it.",
    ),
    Asked(
        id="first-start", group=START, families=HYDRAULIC,
        sentence="At the first start let the followers fill and bleed: noise for some minutes is usual. No high speed"
        " until they are quiet.",
    ),
    Asked(
        id="again", group=START, families=SOLID,
        sentence="Measure the lash again after the first warm-up, and again after the first hours. Lash that opens"
        " tells of wear.",
    ),
)  # fmt: skip
