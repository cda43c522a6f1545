"""Verdicts of physics on the contact of lobe and follower: pressure, oil film, the spin of flat tappets, leak-down."""

from __future__ import annotations

from collections.abc import Iterator

from loadbench.analysis.figure import Plain
from loadbench.findings.axle_physics import fix_if, waiting
from loadbench.findings.finding import Amount, Finding, Level, Nature
from loadbench.findings.motion import has_lift, lobe_words
from loadbench.findings.standing import standing
from loadbench.findings.view import FLAT, HYDRAULIC, Scope, Told, amount, asked, asker, plain, verdict
from loadbench.follower.film import regime

PLACES = {
    "hertz_nose": "on the nose, idling",
    "hertz_nose_limit": "on the nose at the speed limit",
    "hertz_flank": "on a flank at the speed limit",
}


@verdict("contact-stress", Scope.MERGED)
def contact_stress(told: Told) -> Iterator[Finding]:
    """Greatest Hertz pressure against what the pair of materials is said to bear; asked where there is a lobe."""
    view = told.view
    if not has_lift(view) or view.family is None:
        return
    about = tuple(
        view.path(field) for field in ("cam.material", "follower.material", "cam.base_radius", "follower.crown_radius")
    )
    allowed, share = view.line.figures["contact_allowed"], view.figure("contact_share")
    known = [
        (name, figure) for name in PLACES if (figure := view.figure(name)) is not None and figure.value is not None
    ]
    if not known:
        yield waiting(told, view.figure("hertz_nose"), "The contact pressure of lobe and follower", about)
        return
    name, worst = max(known, key=lambda each: each[1].value or 0.0)
    amounts = {"p": amount(worst)}
    said = f"Lobe and follower press with {{p}} {PLACES[name]}"
    if allowed.value is None or share is None or share.value is None:
        note = f" {plain(allowed.note)}" if allowed.note else ""
        yield told.unknown(f"{said}; what these materials bear is not known.{note}", allowed.missing, amounts=amounts,
                           about=about, figure=worst)  # fmt: skip
        return
    limit = view.book.limit("contact-stress")
    stands = standing(limit, share.value)
    amounts["allowed"] = amount(allowed)
    pair = view.line.follower.allowed.pair if view.line.follower.allowed else ""
    sentence = f"{said}; {pair} is said to bear {{allowed}} (from memory, guidance and no proof).{lobe_words(view)}"
    yield told.judged(
        worst, stands, sentence, amounts, value=share.value, value_kind=Plain.SHARE, about=about,
        source=allowed.source,
        fix=fix_if(stands, "Less load, a larger roller or crown, a wider contact, a gentler nose or a harder pair."),
    )  # fmt: skip


@verdict("film-idle", Scope.MERGED)
def film_idle(told: Told) -> Iterator[Finding]:
    """Oil film at the nose at idle, the worst case: a watch where it parts nothing and idling is frequent."""
    view = told.view
    if not has_lift(view) or view.family is None:
        return
    figure, idle = view.figure("film_ratio_idle"), view.value("duty.idle_share")
    about = tuple(
        view.path(field) for field in ("duty.oil.grade", "duty.oil.temperature", "duty.idle_speed", "duty.idle_share")
    )
    if figure is None or figure.value is None:
        yield waiting(told, figure, "The oil film on the lobe at idle", about)
        return
    limit, shares = view.book.limit("film-idle", "film_ratio"), view.book.limit("film-idle", "idle_share")
    stands = standing(limit, figure.value)
    thin = stands.level is Level.WATCH
    amounts = {"film": amount(figure), "limit": asked(limit, stands)}
    words = f"At idle the oil film at the nose is {{film}} times the roughness: {regime(figure.value)}"
    if not thin:
        yield told.judged(figure, stands, f"{words}.", amounts, about=about)
        return
    much = idle is not None and standing(shares, float(idle)).level is Level.WATCH
    tail = "the surfaces touch, and the oil's additive and their hardness carry them"
    if not much:
        # Nearly every film is that thin at idle: the rule asks how long it lives on it.
        asks = f"{asker(stands)} asks for more where it idles over {{most}} of the time"
        amounts["most"] = Amount(shares.watch or 0.0, Plain.SHARE)
        if idle is None:
            missing = (view.path("duty.idle_share"),)
            sentence = f"{words}; {tail}; {asks}, and how often it idles is not stated."
            yield told.unknown(sentence, missing, amounts=amounts, about=about, figure=figure)
            return
        amounts["share"] = Amount(float(idle), Plain.SHARE)
        yield told.finding(
            Level.CLEAR, f"{words}; {tail}; {asks}, and here it is {{share}}.", amounts, about=about, figure=figure,
            nature=Nature.REMARK,
        )  # fmt: skip
        return
    amounts["share"] = Amount(float(idle), Plain.SHARE)
    yield told.judged(
        figure, stands, f"{words}; {tail}, {{share}} of the time.", amounts, about=about,
        fix=fix_if(stands, "A faster idle, thicker oil when hot, smoother faces, or a roller."),
    )  # fmt: skip


@verdict("tappet-spin", Scope.MERGED)
def tappet_spin(told: Told) -> Iterator[Finding]:
    """Whether crown and taper set the contact off the tappet's axis, so that it turns."""
    view = told.view
    if view.family not in FLAT:
        return
    figure, spin = view.figure("tappet_offset"), view.figure("tappet_spin_ratio")
    about = tuple(view.path(field) for field in ("follower.crown_radius", "cam.taper"))
    if figure is None or figure.value is None:
        yield waiting(told, figure, "Whether the tappet spins", about)
        return
    limit = view.book.limit("tappet-spin")
    stands = standing(limit, figure.value)
    start = "Crown and taper set the contact {offset} off the tappet's axis; "
    sentence = f"{start}{asker(stands)} asks for {{limit}} so that it spins."
    amounts = {"offset": amount(figure), "limit": asked(limit, stands)}
    if spin is not None and spin.value is not None:
        sentence += " It turns at most {spin} times for one turn of the cam."
        amounts["spin"] = amount(spin)
    fix = fix_if(stands, "A crowned face on a tapered lobe: a tappet that does not turn wipes its lobe.")
    yield told.judged(figure, stands, sentence, amounts, about=about, fix=fix)


@verdict("leak-down", Scope.MERGED)
def leak_down(told: Told) -> Iterator[Finding]:
    """Time in which the plunger sinks to its bottom while the valve is held open."""
    view = told.view
    sizes = tuple(f"follower.plunger.{name}" for name in ("diameter", "travel", "clearance", "length"))
    if view.family not in HYDRAULIC or all(view.value(field) is None for field in sizes):
        return
    figure, about = view.figure("leak_down_time"), tuple(view.path(field) for field in sizes)
    if figure is None or figure.value is None:
        yield waiting(told, figure, "How fast the plunger leaks down", about)
        return
    limit = view.book.limit("leak-down")
    stands = standing(limit, figure.value)
    sentence = f"Held at full lift the plunger sinks to its bottom in {{time}}; {asker(stands)} asks for {{limit}}."
    lost = view.figure("leak_lift_loss")
    amounts = {"time": amount(figure), "limit": asked(limit, stands)}
    if lost is not None and lost.value is not None:
        sentence += " One opening at the speed limit loses {lost} of lift to it."
        amounts["lost"] = amount(lost)
    fix = fix_if(stands, "A closer plunger, or thicker oil when hot.")
    yield told.judged(figure, stands, sentence, amounts, about=about, fix=fix)
