"""Advice and verdicts on the roller's axle and on the plunger's travel: the book's decision rows."""

from __future__ import annotations

from collections.abc import Iterator

from loadbench.analysis.figure import Figure, Plain
from loadbench.findings.finding import Amount, Choice, Finding, Level, Sentence
from loadbench.findings.standing import past, standing
from loadbench.findings.view import ROLLER, Scope, Told, View, amount, verdict
from loadbench.units import Kind


def _from(value: float, limit: float) -> bool:
    """Whether a load has reached a limit that belongs to the heavier row."""
    return value >= limit - max(1e-9 * limit, 1e-9)


def advise_axle(view: View) -> Choice:  # noqa: PLR0911 - one return a row of the decision table
    """Needle or bushed, by open load, use, oil feed and idle share; neither without oil; open where it depends."""
    if view.family not in ROLLER:
        return Choice(choice=None, reason=Sentence("This follower has no axle."))
    because = ("bushed-axle",)
    figure = view.open_load
    if figure.value is None:
        return Choice(choice="open", reason=Sentence("The load at full lift cannot be had."), because=because)
    limit = view.book.limit("bushed-axle", "open_load")
    low, high = limit.watch or 0.0, limit.stop or float("inf")
    feed, use, idle = view.value("follower.oil_feed"), view.value("duty.use"), view.value("duty.idle_share")
    amounts = {"load": amount(figure), "low": Amount(low, Kind.FORCE), "high": Amount(high, Kind.FORCE)}

    def choice(word: str, template: str, runner_up: str | None = None, *more: str) -> Choice:
        return Choice(choice=word, runner_up=runner_up, reason=Sentence(template, amounts), because=because + more)

    if not _from(figure.value, low):
        share = view.book.limit("bushed-axle", "idle_share")
        if feed == "pressure" and idle is not None and past(share, share.watch, idle):
            return choice(
                "needle",
                "{load} open is under {low}; much idling with pressure oil speaks for a bush next.",
                "bushed",
                "bush-oiling",
            )
        return choice("needle", "{load} open is under {low}: needles carry it.")
    if feed == "splash":
        return choice(
            "neither",
            "{load} open is past {low}, and splash oil keeps neither alive: bring pressure oil to the axle.",
            None,
            "bush-oiling",
        )
    if _from(figure.value, high):
        unsaid = "" if feed else " The oil feed is not stated: a bush at this load needs pressure oil."
        return choice("bushed", "{load} open has reached {high}: needles are past their load." + unsaid)
    if feed == "pressure" or use in {"drag", "endurance"}:
        why = "with pressure oil at the axle" if feed == "pressure" else f"for {use}"
        return choice("bushed", f"{{load}} open is between {{low}} and {{high}}: a bush {why}.", "needle")
    return choice(
        "open", "{load} open is between {low} and {high}: it turns on the oil feed to the axle, which is not stated."
    )


@verdict("bushed-axle", Scope.JOB)
def bushed_axle(told: Told) -> Iterator[Finding]:
    """The stated axle against the advice."""
    view = told.view
    if view.family not in ROLLER:
        return
    advice, axle, figure = advise_axle(view), view.value("follower.axle"), view.open_load
    about = (view.path("follower.axle"), view.path("follower.oil_feed"))
    text, amounts = advice.reason.template, advice.reason.amounts
    if axle is None or not figure.known:
        missing = (*view.missing("follower.axle"), *figure.missing)
        yield told.finding(Level.UNKNOWN, text, amounts, missing=missing, about=about, figure=figure)
        return
    limit = view.book.limit("bushed-axle", "open_load")
    stands = standing(limit, figure.value or 0.0, figure.expanded)
    level = Level.CLEAR
    if axle == "needle" and _from(figure.value or 0.0, limit.stop or float("inf")):
        level = Level.STOP
    elif axle == "needle" and _from(figure.value or 0.0, limit.watch or float("inf")) and advice.choice != "needle":
        level = Level.WATCH
    near = limit.stop if level is Level.STOP else limit.watch
    fix = {
        "bushed": "A bushed axle.",
        "neither": "Pressure oil to the axle, then a bush.",
        "open": "State the oil feed to the axle.",
    }
    margin = None if near is None else near - (figure.value or 0.0)
    yield told.finding(
        level,
        f"{axle.capitalize()} axle. {text}",
        amounts,
        figure=figure,
        value=figure.value,
        value_kind=Kind.FORCE,
        limit=near,
        house=limit.stop_house if level is Level.STOP else limit.watch_house,
        margin=margin,
        chance=stands.chance if stands.limit == near else None,
        about=about,
        fix=None if level is Level.CLEAR else Sentence(fix.get(str(advice.choice), "A bushed axle.")),
    )


@verdict("needle-oiling", Scope.JOB)
def needle_oiling(told: Told) -> Iterator[Finding]:
    """Needles want plenty of oil, above all at low speed."""
    view = told.view
    if view.family not in ROLLER or view.value("follower.axle") != "needle":
        return
    feed, idle = view.value("follower.oil_feed"), view.value("duty.idle_share")
    about = (view.path("follower.oil_feed"), view.path("duty.idle_share"))
    if feed is None or idle is None:
        missing = view.missing("follower.oil_feed", "duty.idle_share")
        yield told.unknown("Whether the needles get enough oil at low speed cannot be said.", missing, about=about)
        return
    limit = view.book.limit("needle-oiling", "idle_share")
    figure = Figure(name="idle_share", label="Share of idling", kind=Plain.NUMBER, value=float(idle))
    amounts = {"idle": Amount(float(idle), Plain.SHARE)}
    if feed == "splash" and past(limit, limit.watch, float(idle)):
        sentence = "Needles on splash oil, idling {idle} of the time: they want plenty of oil, above all at low speed."
        stands = standing(limit, float(idle))
        yield told.judged(
            figure, stands, sentence, amounts, about=about, fix=Sentence("Pressure oil to the axle, or less idling.")
        )
        return
    sentence = (
        "Needles with pressure oil."
        if feed == "pressure"
        else "Needles on splash oil, idling {idle} of the time: enough oil."
    )
    yield told.finding(Level.CLEAR, sentence, amounts, about=about)


@verdict("bush-oiling", Scope.JOB)
def bush_oiling(told: Told) -> Iterator[Finding]:
    """A bush wants plenty of oil too, but suffers less at low speed."""
    view = told.view
    if view.family not in ROLLER or view.value("follower.axle") != "bushed":
        return
    feed, figure = view.value("follower.oil_feed"), view.open_load
    about = (view.path("follower.oil_feed"),)
    if feed == "pressure":
        yield told.finding(Level.CLEAR, "A bush with pressure oil.", about=about)
        return
    if feed is None or not figure.known:
        missing = (*view.missing("follower.oil_feed"), *figure.missing)
        yield told.unknown("Whether the bush gets enough oil cannot be said.", missing, about=about)
        return
    limit = view.book.limit("bush-oiling", "open_load")
    heavy = limit.stop is not None and _from(figure.value or 0.0, limit.stop)
    yield told.finding(
        Level.STOP if heavy else Level.WATCH,
        "A bush on splash oil at {load} open: it wants plenty of oil.",
        {"load": amount(figure)},
        figure=figure,
        value=figure.value,
        value_kind=Kind.FORCE,
        limit=limit.stop,
        house=limit.stop_house,
        margin=None if limit.stop is None else limit.stop - (figure.value or 0.0),
        about=about,
        fix=Sentence("Pressure oil to the axle."),
    )


def advise_travel(view: View) -> Choice:
    """Standard or short travel, by open load and speed; neither beyond both: a solid roller."""
    if view.family != "roller-hydraulic":
        return Choice(choice=None, reason=Sentence("This follower has no choice of travel."))
    because, figure, speed = ("short-travel",), view.open_load, view.value("duty.speed_limit")
    if figure.value is None:
        return Choice(choice="open", reason=Sentence("The load at full lift cannot be had."), because=because)
    load, fast = view.book.limit("short-travel", "open_load"), view.book.limit("short-travel", "speed")
    amounts = {"load": amount(figure)}
    said = "{load} open"
    if speed is None:
        said += " (speed is not stated: by load alone)"
    else:
        amounts["speed"] = Amount(float(speed), Kind.SPEED)
        said += " and {speed}"

    def over(end: str) -> bool:
        by_load = past(load, getattr(load, end), figure.value or 0.0)
        return by_load or (speed is not None and past(fast, getattr(fast, end), float(speed)))

    if over("stop"):
        sentence = f"{said}: beyond both travels; a solid roller."
        return Choice(choice="neither", reason=Sentence(sentence, amounts), because=because)
    if over("watch"):
        return Choice(choice="short", reason=Sentence(f"{said}: beyond standard travel.", amounts), because=because)
    return Choice(
        choice="standard",
        runner_up="short",
        reason=Sentence(f"{said}: standard travel carries it.", amounts),
        because=because,
    )


@verdict("short-travel", Scope.JOB)
def short_travel(told: Told) -> Iterator[Finding]:
    """The stated travel against the advice; loads are judged by the rules on the most open load."""
    view = told.view
    if view.family != "roller-hydraulic":
        return
    advice, travel, speed = advise_travel(view), view.value("follower.travel"), view.value("duty.speed_limit")
    about = (view.path("follower.travel"), view.path("duty.speed_limit"))
    text, amounts = advice.reason.template, advice.reason.amounts
    if travel is None or advice.choice == "open":
        missing = (*view.missing("follower.travel"), *view.open_load.missing)
        yield told.finding(Level.UNKNOWN, text, amounts, missing=missing, about=about)
        return
    fast = view.book.limit("short-travel", "speed")
    too_fast = speed is not None and past(fast, fast.stop, float(speed))
    watch = too_fast or (travel == "standard" and advice.choice == "short")
    tail = " The loads are judged by the travel's own limit." if advice.choice == "neither" and not watch else ""
    fix = Sentence("A solid roller." if advice.choice == "neither" else "A short-travel follower.") if watch else None
    level = Level.WATCH if watch else Level.CLEAR
    sentence = f"{travel.capitalize()} travel. {text}{tail}"
    yield told.finding(level, sentence, amounts, about=about, fix=fix, figure=view.open_load)
