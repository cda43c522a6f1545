"""Verdicts on room: coils, retainer, heights, shims, lifts."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from loadbench.analysis.figure import Figure, Plain
from loadbench.findings.finding import Amount, Finding, Level, Sentence
from loadbench.findings.fixes import more_room
from loadbench.findings.rows import bind_row
from loadbench.findings.standing import standing, worst_of
from loadbench.findings.view import Scope, Told, amount, asked, asker, plain, verdict
from loadbench.job.checks import stated_shims
from loadbench.units import Kind

LENGTH = Kind.LENGTH


@verdict("bind-margin-min")
def bind_margin(told: Told) -> Iterator[Finding]:
    """Each member's coil clearance at full net lift, and each valve's that has a height of its own."""
    view = told.view
    limit = view.book.limit("bind-margin-min", bind_row(view.line.stated))
    for member in view.line.members:
        figure = member.figures["bind_margin"]
        about = (member.bind_field, view.path("spring.installed_height"))
        if not figure.known:
            yield told.unknown(
                "Coil clearance cannot be had.", figure.missing, member=member.name, about=about, figure=figure
            )
            continue
        stands = standing(limit, figure.value or 0.0, figure.expanded)
        which = f" of the {plain(member.name)} spring" if member.name else ""
        yield told.judged(
            figure,
            stands,
            f"Coils{which} clear by {{margin}} at full lift; {asker(stands)} asks for {{limit}}.",
            {"margin": amount(figure), "limit": asked(limit, stands)},
            member=member.name,
            about=about,
            fix=more_room(view, stands, "coil"),
        )
    yield from _valves(told, limit.name)


def _valves(told: Told, limit_name: str) -> Iterator[Finding]:
    view = told.view
    limit = view.book.limit("bind-margin-min", limit_name)
    usual = view.figure("bind_margin")
    for valve in view.analysis.set.valves:
        if valve.line != view.line.name or valve.bind_margin is None or usual is None:
            continue
        stands = standing(limit, valve.bind_margin, usual.expanded)
        yield told.judged(
            usual,
            stands,
            f"Valve {plain(valve.id)}: coils clear by {{margin}} at its height; {asker(stands)} asks for {{limit}}.",
            {"margin": Amount(valve.bind_margin, LENGTH, usual.expanded), "limit": asked(limit, stands)},
            value=valve.bind_margin,
            valve=valve.id,
            about=(f"valves.{valve.index}.bare_height",),
        )


@verdict("bind-margin-wide")
def bind_margin_wide(told: Told) -> Iterator[Finding]:
    """A spring far from bind has more room to surge: drag and circuit only."""
    view, figure = told.view, told.view.line.figures["bind_margin"]
    if view.value("duty.use") not in {"drag", "circuit"}:
        return
    if not figure.known:
        yield told.unknown("Coil clearance cannot be had.", figure.missing)
        return
    limit = view.book.limit("bind-margin-wide")
    stands = standing(limit, figure.value or 0.0, figure.expanded)
    said = "more than" if stands.level is Level.WATCH else "no more than"
    sentence = f"Coils clear by {{margin}}, {said} {{limit}}: a spring far from bind has more room to surge."
    yield told.judged(figure, stands, sentence, {"margin": amount(figure), "limit": asked(limit, stands)})


@verdict("bind-pumped-up")
def bind_pumped_up(told: Told) -> Iterator[Finding]:
    """Coil clearance when the plunger has pumped up to its stop."""
    view, figure = told.view, told.view.figure("bind_margin_pumped_up")
    if figure is None or view.family is None:
        return
    about = (view.path("follower.preload.depth"),)
    if not figure.known:
        yield told.unknown("Coil clearance with the plunger pumped up cannot be had.", figure.missing, about=about)
        return
    limit = view.book.limit("bind-pumped-up")
    stands = standing(limit, figure.value or 0.0, figure.expanded)
    sentence = f"Pumped up, the coils clear by {{margin}}; {asker(stands)} asks for {{limit}}."
    yield told.judged(figure, stands, sentence, {"margin": amount(figure), "limit": asked(limit, stands)}, about=about)


@verdict("retainer-margin-min")
def retainer_margin(told: Told) -> Iterator[Finding]:
    """Retainer to seal at full net lift; each valve's that has a seal height of its own."""
    view, figure = told.view, told.view.line.figures["retainer_margin"]
    limit = view.book.limit("retainer-margin-min")
    about = (view.path("valve_gear.retainer_to_seal"),)
    if figure.known:
        stands = standing(limit, figure.value or 0.0, figure.expanded)
        sentence = f"The retainer clears the seal by {{margin}} at full lift; {asker(stands)} asks for {{limit}}."
        amounts = {"margin": amount(figure), "limit": asked(limit, stands)}
        yield told.judged(figure, stands, sentence, amounts, about=about, fix=more_room(view, stands, "retainer"))
    else:
        yield told.unknown("Room between retainer and seal cannot be had.", figure.missing, about=about, figure=figure)
    for valve in view.analysis.set.valves:
        if valve.line == view.line.name and valve.retainer_margin is not None:
            stands = standing(limit, valve.retainer_margin, figure.expanded)
            said = f"the retainer clears its seal by {{margin}}; {asker(stands)} asks for {{limit}}."
            sentence = f"Valve {plain(valve.id)}: {said}"
            amounts = {"margin": Amount(valve.retainer_margin, LENGTH, figure.expanded), "limit": asked(limit, stands)}
            place = (f"valves.{valve.index}.retainer_to_seal",)
            yield told.judged(
                figure, stands, sentence, amounts, value=valve.retainer_margin, valve=valve.id, about=place
            )


def difference(
    told: Told, name: str, value: float, kind: Kind | Plain, about: tuple[str, ...], said: tuple[str, str]
) -> Finding:
    """A finding on two statements of one thing: how far apart they are."""
    limit = told.view.book.limit(told.rule.id, name)
    stands = standing(limit, value)
    figure = Figure(name=told.rule.id.replace("-", "_"), label=told.rule.title, kind=kind, value=value)
    sentence = said[0] if stands.level is Level.CLEAR else said[1]
    return told.judged(figure, stands, sentence, {"gap": amount(figure), "limit": asked(limit, stands)}, about=about)


@verdict("height-agreement", Scope.MERGED)
def height_agreement(told: Told) -> Iterator[Finding]:
    """Bare height less shims against the installed height, where all are stated."""
    view = told.view
    bare, height = view.value("spring.bare_height"), view.value("spring.installed_height")
    shims = stated_shims(view.line.stated)
    path, count = view.line.stated.rows("spring.shims")
    if bare is None or height is None or shims is None or (not count and height <= bare):
        return  # without shims stated, a shorter spring is shimmed by what is not said
    about = (view.path("spring.bare_height"), path, view.path("spring.installed_height"))
    said = (
        "Bare height less shims and the installed height agree; they are {gap} apart.",
        "Bare height less shims is {gap} off the installed height; the installed height is used.",
    )
    yield difference(told, "usual", abs(bare - shims - height), LENGTH, about, said)


@verdict("lift-agreement", Scope.MERGED)
def lift_agreement(told: Told) -> Iterator[Finding]:
    """Stated valve lift against ratio times lobe lift."""
    view = told.view
    valve, lobe, ratio = view.value("valve_gear.valve_lift"), view.value("valve_gear.lobe_lift"), view.figure("ratio")
    if valve is None or lobe is None or ratio is None or ratio.value is None:
        return
    about = (
        view.path("valve_gear.valve_lift"),
        view.path("valve_gear.lobe_lift"),
        view.path("valve_gear.rocker_ratio"),
    )
    said = (
        "Valve lift and lobe lift times ratio agree to {gap}.",
        "Valve lift and lobe lift times ratio are {gap} apart; the valve lift is used.",
    )
    yield difference(told, "usual", abs(valve - ratio.value * lobe) / valve, Plain.SHARE, about, said)


@verdict("shim-stack", Scope.MERGED)
def shim_stack(told: Told) -> Iterable[Finding]:
    """Height and count of the shims, and what they stand on."""
    view = told.view
    path, count = view.line.stated.rows("spring.shims")
    total = stated_shims(view.line.stated)
    if not count:
        return ()
    if total is None:
        return (told.unknown("The shim stack cannot be read.", (path,), about=(path,)),)
    height, number = view.book.limit("shim-stack", "height"), view.book.limit("shim-stack", "count")
    stack = Figure(name="shim_stack", label="Shim stack", kind=LENGTH, value=total)
    stands = standing(height, total)
    by_count = standing(number, float(count))
    amounts = {"stack": amount(stack), "count": Amount(float(count), Plain.COUNT)}
    if by_count.level is not Level.CLEAR and stands.level is Level.CLEAR:
        counted = Figure(name="shim_count", label="Shims", kind=Plain.COUNT, value=float(count))
        sentence = "{count} shims are stacked: more than three can walk."
        return (told.judged(counted, by_count, sentence, amounts, about=(path,)),)
    if worst_of(stands, by_count).level is not Level.CLEAR:
        sentence = "The shims stack to {stack}, more than {limit}: a cut seat or other locks hold better."
        return (told.judged(stack, stands, sentence, amounts | {"limit": asked(height, stands)}, about=(path,)),)
    return (_under_shims(told, stack, amounts, path),)


def _under_shims(told: Told, stack: Figure, amounts: dict[str, Amount], path: str) -> Finding:
    """Shims on bare aluminium want a steel cup beneath them."""
    view = told.view
    head, cup = view.value("valve_gear.head"), view.value("spring.seat_cup")
    about = (path, view.path("spring.seat_cup"), view.path("valve_gear.head"))
    limit = view.book.limit("shim-stack", "height")
    stands = standing(limit, stack.value or 0.0)
    if cup != "steel" and head is None:
        missing = view.missing("valve_gear.head", "spring.seat_cup")
        return told.unknown("What the shims stand on is not stated.", missing, about=about)
    if cup != "steel" and head == "aluminium":
        if cup is None:
            return told.unknown(
                "Shims on an aluminium head: is there a steel seat cup?", view.missing("spring.seat_cup"), about=about
            )
        fix = Sentence("Put a hardened steel cup under the shims.")
        sentence = "Shims ({stack}) stand on bare aluminium and will work into it."
        return told.finding(
            Level.WATCH, sentence, amounts, about=about, figure=stack, value=stack.value, value_kind=LENGTH, fix=fix
        )
    return told.judged(stack, stands, "The shims stack to {stack}.", amounts, about=about)
