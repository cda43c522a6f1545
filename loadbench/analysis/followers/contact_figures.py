"""Contact of lobe and follower: Hertz pressure over the turn, what the materials bear, the oil film, spin and wear."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from loadbench.analysis.builder import Bench
from loadbench.analysis.coils.kept import kept
from loadbench.analysis.figure import Figure, FigureKind, Plain
from loadbench.analysis.followers.adding import Chapter
from loadbench.analysis.followers.oil_stated import OilStated
from loadbench.analysis.followers.result import Allowed, ContactCurve, Cycle
from loadbench.analysis.motion.held_lift import Same
from loadbench.analysis.motion.result import MotionAnalysis
from loadbench.arrays import Floats
from loadbench.errors import InputError
from loadbench.follower import film, tappet
from loadbench.follower.contact_limits import elastic_of, pair_of, what_is_known
from loadbench.follower.crown import CrownedContact, crowned_contact
from loadbench.follower.elastic import STEEL, combined_radius, reduced_modulus
from loadbench.follower.hertz import line_contact
from loadbench.follower.oil import PRESSURE_COEFFICIENT
from loadbench.units import Kind

STRIDE = 2
"""Every second angle: whole degrees."""

ROUGHNESS = {"cam.roughness": 0.40e-6, "follower.roughness": 0.20e-6}
"""Rq of a ground lobe and of a roller or face, m. Source: common practice, from memory."""

LABELS: dict[str, tuple[str, FigureKind]] = {
    "hertz_nose": ("Contact pressure at the nose, idling", Kind.STRESS),
    "hertz_nose_limit": ("Contact pressure at the nose at the speed limit", Kind.STRESS),
    "hertz_flank": ("Greatest contact pressure on a flank at the speed limit", Kind.STRESS),
    "contact_allowed": ("Contact pressure that the pair is said to bear", Kind.STRESS),
    "contact_share": ("Share of what the pair is said to bear", Plain.SHARE),
    "shear_depth": ("Depth of greatest shear under the nose", Kind.LENGTH),
    "film_idle": ("Least oil film at the nose, idling", Kind.FILM),
    "film_ratio_idle": ("Oil film over roughness at the nose, idling", Plain.NUMBER),
    "film_ratio_limit": ("Oil film over roughness at the nose at the speed limit", Plain.NUMBER),
    "tappet_offset": ("Contact off the tappet's axis by crown and taper", Kind.LENGTH),
    "tappet_spin_ratio": ("Turns of the tappet for one of the cam, at most", Plain.NUMBER),
    "crown_drop": ("Fall of the crown at the edge of the face", Kind.FILM),
    "sliding_speed": ("Sliding at the nose at the speed limit", Kind.VELOCITY),
    "wear_load": ("Load times sliding at the nose at the speed limit", Kind.POWER),
}
PRESSURES = ("hertz_nose", "hertz_nose_limit", "hertz_flank", "contact_share", "shear_depth")
FILMS = ("film_idle", "film_ratio_idle", "film_ratio_limit")
SIZES = (
    "cam.material", "follower.material", "cam.face_width", "cam.taper", "cam.roughness",
    "follower.roughness", "follower.roller_diameter", "follower.roller_width", "follower.crown_radius",
    "follower.face_diameter", "duty.idle_speed", "duty.speed_limit",
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ContactPart:
    """What the chapter has for pictures and rules."""

    idle: ContactCurve | None = None
    limit: ContactCurve | None = None
    allowed: Allowed | None = None
    typical: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Pressed:
    """The two bodies: whether it rolls, radius of the roller or None for a flat face, crown, length, modulus."""

    rolls: bool
    radius: float | None
    crown: float | None
    length: float
    modulus: float
    typical: tuple[str, ...]


def add_contact(
    bench: Bench, idle: Cycle | None, limit: Cycle | None, motion: MotionAnalysis, oil: OilStated
) -> ContactPart:
    """The figures of the contact, as they were where nothing that they rest on has changed.

    Args:
        bench: the line.
        idle: what the follower carries at idle.
        limit: at the speed limit.
        motion: of the line.
        oil: of the job.

    Returns:
        Curves for pictures.
    """
    line = bench.line
    token = (
        Same(motion.idle), Same(motion.limit), Same(motion.shown), oil, *(line.value(field) for field in SIZES),
        motion.missing, bench.lacking("follower_open_load"), *map(rested, (idle, limit)),
        rolls(bench), line.value("follower.family") == "bucket",
    )  # fmt: skip

    def make() -> tuple[ContactPart, tuple[Figure, ...]]:
        chapter = Chapter(LABELS)
        part = _contact(bench, chapter, idle, limit, motion, oil)
        return part, tuple(chapter.figures)

    part, figures = kept("contact", line.name, token, make)
    for figure in figures:
        bench.add(figure)
    return part


def rested(cycle: Cycle | None) -> tuple[float, float | None] | None:
    """What a cycle rests on besides the motion: its speed, and its load where that is static."""
    return None if cycle is None else (cycle.speed, float(cycle.contact[0]) if cycle.static else None)


def rolls(bench: Bench) -> bool:
    """Whether the follower has a roller; by the lobe's kind where no family is stated."""
    family = str(bench.line.value("follower.family") or "")
    return family.startswith("roller") or (not family and bench.line.value("cam.kind") == "roller")


def _contact(
    bench: Bench, chapter: Chapter, idle: Cycle | None, limit: Cycle | None, motion: MotionAnalysis, oil: OilStated
) -> ContactPart:
    allowed = _allowed(bench, chapter)
    if not rolls(bench):
        _tappet(bench, chapter, limit or idle, motion)
    pressed, missing = _pressed(bench)
    wanting = (*missing, *_without_lobe(bench, idle, limit, motion))
    if pressed is None or wanting:
        chapter.unknown(PRESSURES, wanting, "The shape of the lobe at the contact has to be known.")
        chapter.unknown(FILMS, (*wanting, *oil.missing))
        return ContactPart(allowed=allowed)
    rough, rough_typical = _roughness(bench)
    curves = [None if each is None else _curve(each, pressed, oil, rough) for each in (idle, limit)]
    typical = (*pressed.typical, *rough_typical)
    _pressures(chapter, curves, motion, allowed, pressed)
    _films(chapter, curves, oil, rough_typical, rough, pressed)
    return ContactPart(idle=curves[0], limit=curves[1], allowed=allowed, typical=typical)


def _without_lobe(bench: Bench, idle: Cycle | None, limit: Cycle | None, motion: MotionAnalysis) -> tuple[str, ...]:
    """What the radius of the lobe at the contact waits for."""
    cycle = idle or limit
    if cycle is None:
        speeds = bench.lacking("duty.idle_speed", "duty.speed_limit")
        return (*speeds, *motion.missing, *bench.lacking("follower_open_load"))
    if cycle.static:
        return motion.missing or (bench.line.path("cam.durations"),)
    return () if cycle.radius is not None else bench.lacking("cam.base_radius")


def _pressed(bench: Bench) -> tuple[Pressed | None, tuple[str, ...]]:
    line = bench.line
    rolling, width, typical = rolls(bench), line.value("cam.face_width"), []
    crown = line.value("follower.crown_radius")
    lobe, own = elastic_of(line.value("cam.material")), elastic_of(line.value("follower.material"))
    if lobe is None:
        typical.append("the lobe's elasticity, as of steel")
    if own is None and not rolling:
        typical.append("the follower's elasticity, as of steel")
    modulus = reduced_modulus(lobe or STEEL, STEEL if rolling else own or STEEL)
    if rolling:
        roller, face = line.value("follower.roller_diameter"), line.value("follower.roller_width")
        missing = bench.lacking("follower.roller_diameter", "follower.roller_width")
        if roller is None or face is None:
            return None, missing
        length = min(face, width) if width else face
        made = Pressed(
            rolls=True, radius=roller / 2, crown=crown, length=length, modulus=modulus, typical=tuple(typical)
        )
        return made, ()
    if width is None:
        return None, bench.lacking("cam.face_width")
    face = line.value("follower.face_diameter")
    length = min(width, face) if face else width
    return (
        Pressed(rolls=False, radius=None, crown=crown, length=length, modulus=modulus, typical=tuple(typical)),
        (),
    )


def _roughness(bench: Bench) -> tuple[tuple[float, float], tuple[str, ...]]:
    stated = {field: bench.line.value(field) for field in ROUGHNESS}
    words = {"cam.roughness": "the lobe's roughness", "follower.roughness": "the follower's roughness"}
    both = [usual if stated[field] is None else float(stated[field]) for field, usual in ROUGHNESS.items()]
    if both[0] == both[1] == 0:
        both = list(ROUGHNESS.values())
    return (both[0], both[1]), tuple(words[field] for field, value in stated.items() if value is None)


def _curve(cycle: Cycle, pressed: Pressed, oil: OilStated, rough: tuple[float, float]) -> ContactCurve:
    """Pressure and film over the turn; NaN where nothing presses or where the lobe has no such contact."""
    force = cycle.contact[::STRIDE]
    cam = np.full_like(force, np.nan) if cycle.radius is None else cycle.radius[::STRIDE]
    sound = (force > 0) & ~np.isnan(cam) & (cam != 0)
    if pressed.radius is not None:
        sound &= (cam > 0) | (-cam > pressed.radius * (1 + 1e-9))
        combined = combined_radius(np.where(sound, cam, 1.0), pressed.radius)
    else:
        sound &= (cam > 0) & np.isfinite(cam)
        combined = np.where(sound, cam, 1.0)
    found = _hertz(np.where(sound, force, 0.0), combined, pressed)
    thick = share = None
    if oil.dynamic is not None and cycle.entrainment is not None:
        load = np.where(sound, force, 1.0)
        speed = cycle.entrainment[::STRIDE]
        flow = (pressed.modulus, PRESSURE_COEFFICIENT)
        least = film.film_line(speed, oil.dynamic, combined, pressed.length, load, *flow)
        if pressed.crown is not None:
            ratio = np.maximum(np.where(np.isfinite(found.ratio), found.ratio, 1e6), 1.0)
            oval = film.film_ellipse(speed, oil.dynamic, combined, ratio, load, *flow)[0]
            least = np.where(found.straight, least, oval)
        thick = np.where(sound, least, np.nan)
        share = film.film_ratio(thick, *rough)
    bare = np.where(sound, 1.0, np.nan)
    return ContactCurve(
        cycle=_thinned(cycle),
        pressure=found.pressure * bare,
        half_width=found.half_width * bare,
        depth=found.depth * bare,
        film=thick,
        film_ratio=share,
    )


def _thinned(cycle: Cycle) -> Cycle:
    def every(values: Floats | None) -> Floats | None:
        return None if values is None else values[::STRIDE]

    return Cycle(
        speed=cycle.speed, angles=cycle.angles[::STRIDE], contact=cycle.contact[::STRIDE], axle=cycle.axle[::STRIDE],
        radius=every(cycle.radius), entrainment=every(cycle.entrainment), sliding=every(cycle.sliding),
        spin=every(cycle.spin),
    )  # fmt: skip


def _hertz(force: Floats, radius: Floats, pressed: Pressed) -> CrownedContact:
    """The contact at each angle; a crown whose ellipse is longer than the line counts as a straight line."""
    crown = np.inf if pressed.crown is None else pressed.crown
    if pressed.crown is not None:
        return crowned_contact(force, radius, crown, pressed.length, pressed.modulus)
    line = line_contact(force, pressed.length, radius, pressed.modulus)
    straight = np.ones(force.shape, dtype=bool)
    return CrownedContact(
        half_width=line.half_width, half_length=np.full_like(force, pressed.length / 2), pressure=line.pressure,
        shear=line.shear, depth=line.depth, ratio=np.full_like(force, np.inf), straight=straight,
    )  # fmt: skip


def _pressures(
    chapter: Chapter, curves: list[ContactCurve | None], motion: MotionAnalysis, allowed: Allowed, pressed: Pressed
) -> None:
    idle, limit = curves
    source = "johnson-contact"
    note = f"Not stated, taken as is typical: {', '.join(pressed.typical)}." if pressed.typical else ""
    formula = (
        "p = \u221a(F E* / (\u03c0 L R))" if pressed.crown is None else "p = 3 F / (2 \u03c0 a b), the crown's ellipse"
    )

    def at_nose(curve: ContactCurve | None) -> float | None:
        return None if curve is None else float(curve.pressure[curve.cycle.nose])

    rest = {"source": source, "note": note, "formula": formula}
    no_idle, no_limit = ("duty.idle_speed",), ("duty.speed_limit",)
    nose = chapter.add("hertz_nose", at_nose(idle), missing=() if idle else no_idle, **rest)
    nose_limit = chapter.add("hertz_nose_limit", at_nose(limit), missing=() if limit else no_limit, **rest)
    flank = None
    if limit is not None and motion.shown is not None:
        pushing = motion.shown.lobe[2][::STRIDE] > 0
        on_flank = limit.pressure[pushing & np.isfinite(limit.pressure)]
        flank = float(on_flank.max()) if on_flank.size else None
    flank = chapter.add("hertz_flank", flank, missing=() if limit else no_limit, **rest)
    greatest = max((each for each in (nose, nose_limit, flank) if each is not None), default=None)
    share = None if greatest is None or allowed.stress is None else greatest / allowed.stress
    wanting = () if allowed.stress is not None else ("cam.material",)
    chapter.add("contact_share", share, missing=wanting, source=allowed.source, note=allowed.note)
    depth = None if idle is None or idle.depth is None else float(idle.depth[idle.cycle.nose])
    chapter.add(
        "shear_depth", depth, source=source, missing=() if idle else no_idle,
        formula="z = 0.786 b" if pressed.crown is None else "of the crown's ellipse",
    )  # fmt: skip


def _films(
    chapter: Chapter, curves: list[ContactCurve | None], oil: OilStated, typical: tuple[str, ...],
    rough: tuple[float, float], pressed: Pressed,
) -> None:  # fmt: skip
    crowned = pressed.crown is not None
    note = f"Taken as is typical: {', '.join(typical)}." if typical else ""
    note = " ".join(each for each in (oil.note, note) if each)
    common = {"source": "hamrock-film" if crowned else "dowson-higginson", "note": note, "evidence": oil.evidence}
    names = (("film_idle", "film_ratio_idle", "duty.idle_speed"), (None, "film_ratio_limit", "duty.speed_limit"))
    for curve, (of_film, of_ratio, field) in zip(curves, names, strict=True):
        missing = oil.missing if curve is not None else (field,)
        thick = None if curve is None or curve.film is None else float(curve.film[curve.cycle.nose])
        if of_film:
            law = "3.63 U^0.68 G^0.49 W^\u22120.073 (1 \u2212 e^(\u22120.68 k)) R"
            law = law if crowned else "2.65 U^0.70 G^0.54 W^\u22120.13 R"
            chapter.add(of_film, thick, missing=missing, formula=f"h = {law}", **common)
        share = None if thick is None else float(film.film_ratio(thick, *rough))
        chapter.add(
            of_ratio, share, missing=missing, formula="\u039b = h / \u221a(Rq\u2081\u00b2 + Rq\u2082\u00b2)", **common
        )


def _allowed(bench: Bench, chapter: Chapter) -> Allowed:
    line = bench.line
    pair = pair_of(line.value("cam.material"), line.value("follower.material"), rolls=rolls(bench))
    if pair is None:
        fields = ("cam.material",) if rolls(bench) else ("cam.material", "follower.material")
        missing = bench.lacking(*fields)
        known = what_is_known(line.value("cam.material"), line.value("follower.material"), rolls=rolls(bench))
        note = "" if missing else known
        chapter.add("contact_allowed", None, missing=missing, note=note, source="common practice")
        return Allowed(stress=None, pair="", source="common practice", note=note)
    note = what_is_known(line.value("cam.material"), line.value("follower.material"), rolls=rolls(bench))
    chapter.add("contact_allowed", pair.stress, source=pair.source, note=note, evidence="table")
    return Allowed(stress=pair.stress, pair=pair.label, source=pair.source, note=note)


def _tappet(bench: Bench, chapter: Chapter, cycle: Cycle | None, motion: MotionAnalysis) -> None:
    """Crown, taper, spin and wear of a flat face; a bucket has no crown that is asked for."""
    line = bench.line
    crown, taper = line.value("follower.crown_radius"), line.value("cam.taper")
    family = str(line.value("follower.family") or "")
    face = line.value("follower.face_diameter")
    offset = None
    if family != "bucket":
        missing = bench.lacking("follower.crown_radius", "cam.taper")
        offset = None if crown is None or taper is None else float(tappet.contact_offset(crown, taper))
        chapter.add("tappet_offset", offset, missing=missing, formula="R sin \u03c4")
        drop, why = None, ""
        try:
            drop = None if crown is None or face is None else float(tappet.crown_drop(crown, face / 2))
        except InputError as error:
            why = f"{error.what[:1].upper()}{error.what[1:]}."
        chapter.add(
            "crown_drop", drop, missing=bench.lacking("follower.crown_radius", "follower.face_diameter"),
            formula="R \u2212 \u221a(R\u00b2 \u2212 r\u00b2)", note=why,
        )  # fmt: skip
        _spin(chapter, cycle, motion, offset, missing)
    if cycle is not None and cycle.sliding is not None and not cycle.static:
        nose = cycle.nose
        sliding = chapter.add(
            "sliding_speed", float(cycle.sliding[nose]), formula="\u03c9 (R_b + s)", source="own derivation"
        )
        force = float(cycle.contact[nose])
        chapter.add(
            "wear_load", None if sliding is None else float(tappet.wear_load(force, sliding)), formula="F v",
            source="common practice", note="A group to compare by, not a limit.",
        )  # fmt: skip


def _spin(
    chapter: Chapter, cycle: Cycle | None, motion: MotionAnalysis, offset: float | None, missing: tuple[str, ...]
) -> None:
    shown = motion.shown
    if cycle is None or cycle.static or shown is None or cycle.sliding is None or offset is None:
        chapter.add("tappet_spin_ratio", None, missing=missing or motion.missing)
        return
    surface = cycle.sliding / (cycle.speed / 2)
    found = tappet.spin(shown.lobe[1], surface, cycle.contact, offset)
    chapter.add(
        "tappet_spin_ratio", found.ratio, formula="\u03a3 F v e / \u03a3 F (e\u00b2 + s\u2032\u00b2)",
        note="At most: the friction of the bore holds a tappet back.",
    )  # fmt: skip
