"""What a wanted speed and margin need, as sentences with numbers: seat load, open load, rate, mass."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from loadbench.analysis.motion.wanted_run import for_ringing
from loadbench.units import Kind, tell
from ui.motion import wording as words
from ui.motion.wording import tr

if TYPE_CHECKING:
    from loadbench.analysis.motion.wanted_duty import WantedDuty
    from loadbench.analysis.motion.wanted_run import HeldByRun
    from loadbench.units import Style


class Said(NamedTuple):
    """A question and its answer."""

    question: str
    answer: str


def sentences(duty: WantedDuty, style: Style) -> tuple[Said, ...]:
    """All that is told of a wanted duty, what is there now first.

    Args:
        duty: what it needs and what is there.
        style: the units on show.
    """
    return (_now(duty, style), _seat(duty, style), _open(duty, style), _rate(duty, style), _mass(duty, style))


def _force(value: float, style: Style) -> str:
    return words.force(value, style)


def _told(value: float, kind: Kind, style: Style) -> str:
    return str(tell(value, kind, style))


def _now(duty: WantedDuty, style: Style) -> Said:
    question = tr("As it is, by the force balance")
    values = {
        "speed": words.speed(duty.speed, style),
        "angle": f"{math.degrees(duty.angle):.0f}".replace("-", "\u2212"),
        "margin": _force(duty.margin, style),
    }
    if duty.least_force < 0:
        text = tr(
            "At {speed} a rigid linkage parts from its lobe: {force} are wanting at cam {angle}\u2009deg from the nose."
        )
        values["force"] = _force(-duty.least_force, style)
        if duty.margin:
            values["force"] = _force(duty.margin - duty.least_force, style)
            text = tr(
                "At {speed} a rigid linkage parts from its lobe: {force} are wanting for the margin of {margin}, at "
                "cam {angle}\u2009deg from the nose."
            )
        return Said(question, text.format(**values))
    values["force"] = _force(duty.least_force, style)
    text = tr("At {speed} at least {force} are left at the valve, at cam {angle}\u2009deg from the nose.")
    if duty.margin:
        text += " " + (
            tr("The margin of {margin} is there.") if duty.held else tr("The margin of {margin} is not there.")
        )
    return Said(question, text.format(**values))


def _apart(wanted: float, now: float, kind: Kind, style: Style) -> str:
    """How far what is there is from what does, beside it."""
    told, off = _told(now, kind, style), _told(abs(wanted - now), kind, style)
    if wanted > now:
        return tr("now {now}, {off} too little").format(now=told, off=off)
    return tr("now {now}, {off} more than it needs").format(now=told, off=off)


def _seat(duty: WantedDuty, style: Style) -> Said:
    question = tr("Seat load, at the rate of now")
    if duty.seat_load <= 0:
        text = tr("No seat load is needed at that speed: the rate alone does (now {now}).")
        return Said(question, text.format(now=_force(duty.seat_now, style)))
    text = tr("{seat} does, with {open} at full lift ({apart}).")
    return Said(
        question,
        text.format(
            seat=_force(duty.seat_load, style), open=_force(duty.seat_open, style),
            apart=_apart(duty.seat_load, duty.seat_now, Kind.FORCE, style),
        ),
    )  # fmt: skip


NO_RATE = "No spring of this seat load does: it falls short at the start of the lift already, where no rate helps."


def _open(duty: WantedDuty, style: Style) -> Said:
    question = tr("Open load, at the seat load of now")
    if not math.isfinite(duty.open_load):
        return Said(question, tr(NO_RATE))
    if duty.open_load <= duty.seat_now:
        text = tr("The seat load of {seat} does alone (now {now} open).")
        return Said(question, text.format(seat=_force(duty.seat_now, style), now=_force(duty.open_now, style)))
    text = tr("{open} does ({apart}).")
    apart = _apart(duty.open_load, duty.open_now, Kind.FORCE, style)
    return Said(question, text.format(open=_force(duty.open_load, style), apart=apart))


def _rate(duty: WantedDuty, style: Style) -> Said:
    question = tr("Rate, at the seat load of now")
    if not math.isfinite(duty.rate):
        return Said(question, tr(NO_RATE))
    if duty.rate <= 0:
        text = tr("No rate is needed at that speed (now {now}).")
        return Said(question, text.format(now=_told(duty.rate_now, Kind.RATE, style)))
    text = tr("{rate} does ({apart}).")
    apart = _apart(duty.rate, duty.rate_now, Kind.RATE, style)
    return Said(question, text.format(rate=_told(duty.rate, Kind.RATE, style), apart=apart))


def _mass(duty: WantedDuty, style: Style) -> Said:
    question = tr("Mass referred to the valve, at the loads of now")
    now = _told(duty.mass_now, Kind.MASS, style)
    if not math.isfinite(duty.mass):
        return Said(question, tr("Any mass does: nothing pulls the parts asunder (now {now}).").format(now=now))
    if duty.mass <= 0:
        text = tr("None does: the loads themselves leave less than the margin (now {now}).")
        return Said(question, text.format(now=now))
    off = _told(abs(duty.mass - duty.mass_now), Kind.MASS, style)
    beside = tr("now {now}, {off} too much") if duty.mass < duty.mass_now else tr("now {now}, {off} less than may be")
    text = tr("{mass} can be held ({apart}).")
    mass = _told(duty.mass, Kind.MASS, style)
    return Said(question, text.format(mass=mass, apart=beside.format(now=now, off=off)))


# The dynamic run


def run_question() -> str:
    """What is asked of the dynamic run."""
    return tr("Seat load, at the rate of now, by the dynamic run")


def run_sentence(run: HeldByRun, style: Style, rigid_seat_load: float | None = None) -> str:
    """What the dynamic run answers.

    Args:
        run: its answer.
        style: the units on show.
        rigid_seat_load: what the force balance asks for, N; None leaves out whether load is the cure.
    """
    told = _run_told(run, style)
    if rigid_seat_load is None or not for_ringing(run, rigid_seat_load):
        return told
    wrong = tr(
        "Load is the wrong cure: surge or the linkage takes it, not inertia. A stiffer linkage, less mass, another "
        "spring or a gentler lobe does more, and what the follower bears sets the load."
    )
    return f"{told} {wrong}"


def _run_told(run: HeldByRun, style: Style) -> str:
    wanted = words.speed(run.speed, style)
    if run.least_force > 0:
        now = tr("Up to {speed} at least {force} are left at the valve, least of all at {weakest}.").format(
            speed=wanted, force=_force(run.least_force, style), weakest=words.speed(run.weakest, style)
        )
    else:
        now = tr("Contact is lost at {weakest} first.").format(weakest=words.speed(run.weakest, style))
    if run.seat_load is None or run.open_load is None or run.needed_at is None:
        most = tr("No seat load holds it up to {speed}: surge or the linkage takes more than a spring of this rate and "
                  "mass can give.")  # fmt: skip
        return f"{now} {most.format(speed=wanted)}"
    if run.seat_load <= 0:
        return f"{now} {tr('No seat load is needed: the rate alone does.')}"
    text = tr("{seat} does, with {open} at full lift ({apart}).").format(
        seat=_force(run.seat_load, style), open=_force(run.open_load, style),
        apart=_apart(run.seat_load, run.seat_now, Kind.FORCE, style),
    )  # fmt: skip
    if abs(run.needed_at - run.speed) < 1e-6 * run.speed:
        return f"{now} {text}"
    return f"{now} {text} {tr('It is {speed} that needs it.').format(speed=words.speed(run.needed_at, style))}"
