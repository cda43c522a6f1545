"""Sayings that the book's limits judge for the match: speed by travel, a bush at idle, pump-up, warm lash and depth."""

from __future__ import annotations

from collections.abc import Iterator

from loadbench.analysis.figure import Figure, Plain
from loadbench.findings.axle_physics import on_bush
from loadbench.findings.finding import Amount, Level, Sentence
from loadbench.findings.match.kits import HYDRAULICS, SOLIDS
from loadbench.findings.match.result import Kit
from loadbench.findings.match.sayings import Saying, Seat
from loadbench.findings.standing import Standing, past, standing
from loadbench.findings.view import Told, View, amount, asked, asker
from loadbench.units import Kind

SPEED = "duty.speed_limit"
TRAVEL_WORDS = {Kit.ROLLER_HYDRAULIC_STANDARD: "standard", Kit.ROLLER_HYDRAULIC_SHORT: "short"}


def trade_speed(seat: Seat) -> Iterator[Saying]:
    """The speed limit against the speed to which the trade runs a hydraulic roller of this travel."""
    word = TRAVEL_WORDS.get(seat.kit)
    if word is None:
        return
    view, told = seat.heaviest, seat.teller("short-travel", seat.heaviest)
    about, speed = (SPEED, "follower.travel"), view.value(SPEED)
    if speed is None:
        text = f"Whether {word} travel suits the speed cannot be said."
        yield Saying(finding=told.unknown(text, view.missing(SPEED), about=about, line=None))
        return
    limit = seat.book.limit("short-travel", "speed")
    most, house = (limit.watch, limit.watch_house) if word == "standard" else (limit.stop, limit.stop_house)
    if most is None:
        return
    value = float(speed)
    over = past(limit, most, value)
    stands = Standing(
        level=Level.WATCH if over else Level.CLEAR, limit=most, house=house, margin=most - value, chance=None
    )
    figure = Figure(name="speed_limit", label="Speed limit", kind=Kind.SPEED, value=value)
    side = "past" if over else "within"
    sentence = f"{{speed}} is {side} the {{limit}} to which {word} travel is used."
    amounts = {"speed": amount(figure), "limit": asked(limit, stands)}
    yield Saying(finding=told.judged(figure, stands, sentence, amounts, about=about, line=None))


def bush_at_idle(seat: Seat) -> Iterator[Saying]:
    """Oil film of the bush over the roughness, idling: a watch where it is thin and idling is frequent."""
    if not on_bush(seat.heaviest):
        return
    for view in seat.views:
        figure, idle = view.figure("bush_film_ratio_idle"), view.value("duty.idle_share")
        told, about = seat.teller("bush-film", view), ("follower.bush", "duty.idle_speed", "duty.idle_share")
        if figure is None or figure.value is None:
            missing = () if figure is None else figure.missing
            yield Saying(
                finding=told.unknown("The oil film in the bush, idling, cannot be had.", missing, about=about),
                physics=True,
            )
            continue
        stands = standing(seat.book.limit("bush-film"), figure.value)
        shares = seat.book.limit("film-idle", "idle_share")
        amounts = {"film": amount(figure)}
        sentence = "Idling, the bush's oil film is {film} times its roughness"
        if stands.level is Level.CLEAR:
            found = told.judged(figure, stands, f"{sentence}.", amounts, about=about)
        elif idle is not None and past(shares, shares.watch, float(idle)):
            amounts["share"] = Amount(float(idle), Plain.SHARE)
            sentence += ": its metal carries the load, {share} of the time."
            fix = Sentence("A longer bush, less clearance, thicker oil or a faster idle.")
            found = told.judged(figure, stands, sentence, amounts, about=about, fix=fix)
        else:
            sentence += ": its metal carries the load, as it can while idling is seldom."
            found = told.finding(Level.CLEAR, sentence, amounts, figure=figure, about=about)
        yield Saying(finding=found, physics=True)


def pumped_up(seat: Seat) -> Iterator[Saying]:
    """A valve that leaves its lobe under the speed limit lets the plunger pump up by the depth it is set to."""
    for view in seat.views:
        margin, apart = view.figure("float_margin"), view.figure("separation_speed")
        depth, ratio = view.line.value("plunger_depth"), view.line.value("ratio")
        if margin is None or margin.value is None or apart is None or apart.value is None or margin.value >= 0:
            continue
        told = seat.teller("float-margin", view)
        amounts = {"apart": amount(apart)}
        held = "holds the valve open"
        if depth is not None and ratio is not None:
            held = "holds the valve {open} open"
            amounts["open"] = Amount(max(depth, 0.0) * ratio, Kind.LENGTH)
        sentence = f"Above {{apart}} the valve leaves its lobe: the plunger pumps up and {held}."
        fix = Sentence("A speed limit under {apart}, more load, or less mass.", {"apart": amount(apart)})
        found = told.finding(Level.WATCH, sentence, amounts, figure=margin, about=(SPEED,), fix=fix)
        yield Saying(finding=found, physics=True)


def warm_lash(seat: Seat) -> Iterator[Saying]:
    """Lash when warm by the lengths and materials, beside the trade's correction."""
    if seat.kit not in SOLIDS or seat.took("valve_gear.lash"):
        return
    for view in seat.views:
        change, lash, at = (
            view.figure("hot_lash_change"),
            view.value("valve_gear.lash"),
            view.value("valve_gear.lash_at"),
        )
        if change is None or change.value is None or lash is None or at is None:
            continue
        cold = float(lash) if at == "cold" else float(lash) - change.value
        hot = cold + change.value
        limit = seat.book.limit("solid-lash", "least")
        least = min(cold, hot)
        stops = past(limit, limit.stop, least, reached=limit.reached)
        told = seat.teller("lash-state", view)
        amounts = {"cold": Amount(cold, Kind.LENGTH), "hot": Amount(hot, Kind.LENGTH)}
        sentence = "By lengths and materials the lash is {cold} cold and {hot} warm"
        sentence += ": the valve would not close." if stops else "."
        yield Saying(
            finding=told.finding(
                Level.STOP if stops else Level.CLEAR, sentence, amounts, figure=change, value=least,
                value_kind=Kind.LENGTH, limit=limit.stop, house=limit.stop_house, margin=least - (limit.stop or 0.0),
                source=change.source, about=_about(view),
                fix=Sentence("More lash, set in the state that leaves the least.") if stops else None,
            ),
            physics=True,
        )  # fmt: skip


def warm_depth(seat: Seat) -> Iterator[Saying]:
    """Depth of the plunger when warm by the lengths and materials, beside the trade's correction."""
    if seat.kit not in HYDRAULICS:
        return
    for view in seat.views:
        figure = view.figure("plunger_depth_hot")
        if figure is None or figure.value is None:
            continue
        told: Told = seat.teller("preload-hot", view)
        limit = seat.book.limit("preload-hot")
        stands = standing(limit, figure.value)
        amounts = {"hot": amount(figure), "limit": asked(limit, stands)}
        sentence = f"By lengths and materials the plunger stands {{hot}} deep warm; {asker(stands)} asks for {{limit}}."
        fix = None if stands.level is Level.CLEAR else Sentence("A deeper setting, cold.")
        yield Saying(
            finding=told.judged(figure, stands, sentence, amounts, source=figure.source, about=_about(view), fix=fix),
            physics=True,
        )


def _about(view: View) -> tuple[str, ...]:
    return (view.path("valve_gear.head"), view.path("valve_gear.block"), "valve_gear.warming")
