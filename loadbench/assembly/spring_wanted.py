"""What a job asks of a spring to be found, and the edits that take a found one over into the job.

The wanted loads are those of the whole set: what is looked for is one spring that carries them alone.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from loadbench.analysis.line import LineAnalysis
from loadbench.errors import Place, Problem
from loadbench.findings.coils import DRAWN
from loadbench.findings.rows import bind_row
from loadbench.findings.rulebook import RuleBook
from loadbench.fitup.moves import lift_field
from loadbench.job.model import Job
from loadbench.spring.ends import Ends
from loadbench.spring.materials import Material, material, materials
from loadbench.spring.stress import direct_shear_factor, wahl_factor
from loadbench.spring.surge import order_frequency
from loadbench.spring.wanted import Candidate, Wanted
from loadbench.units import Kind, Style, display_unit, from_display, to_display

USUAL_MATERIAL = "chrome-silicon"
PLACES = {Style.INCH_POUND: 4, Style.METRIC: 3}
"""Decimals of a length that is taken over: a tenth of what a coil is wound to."""

_TARGETS = ("seat_load", "open_load")
_ROOM = ("bind_height_max", "outer_diameter_max", "inner_diameter_min")
_RULES = {"bind_margin": "bind-margin-min", "index_low": "spring-index", "index_high": "spring-index"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Choices:
    """What the user chooses beside the job: the wire, how the spring is made, which further limits are held."""

    material: str = USUAL_MATERIAL
    peened: bool = False
    preset: bool = False
    hold_surge: bool = False
    hold_fatigue: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """The wants with their wire, or the fields they wait for, or what is wrong.

    A fault stands at its field of the job, or at "rules.<rule>" where it comes from a limit of the rule book.
    `share_open` is the share of strength that the book allows at full lift: where the stress at bind decides for
    every spring the wants do not have it.
    """

    wanted: Wanted | None
    wire: Material
    share_open: float = 0.0
    missing: tuple[str, ...] = ()
    faults: tuple[Problem, ...] = ()


def choices_of(line: LineAnalysis) -> Choices:
    """The choices to start from: the wire and the treatment of the line's first coil, as far as they are stated."""
    path, _ = line.stated.rows("spring.coils")
    values = line.stated.stated.values
    own = material(values.get(f"{path}.0.material"))
    return Choices(
        material=own.name if own is not None else USUAL_MATERIAL,
        peened=values.get(f"{path}.0.shot_peened") is True,
        preset=values.get(f"{path}.0.preset") is True,
    )


def asked_of(line: LineAnalysis, book: RuleBook, choices: Choices) -> Asked:
    """What a line of the job asks of a spring.

    Args:
        line: with its heights and lifts found.
        book: the limits in force.
        choices: of the user.

    Returns:
        The wants; without them the fields that are wanting, or the faults that stand in their way.
    """
    wire = materials()[choices.material]
    missing, faults = _missing(line, choices), _faulty(line, choices)
    if missing or faults:
        return Asked(wanted=None, wire=wire, missing=missing, faults=faults)
    wanted = _wanted(line, book, choices)
    shares = at_open, at_bind = _shares(book, wanted, wire)
    if wanted.preset:
        wanted, wire = _by_direct_shear(wanted, wire, *shares)
    else:
        wanted = replace(wanted, stress_share_open_max=at_open, stress_share_bind_max=at_bind)
    faults = tuple(_placed(line, each) for each in wanted.faults)
    return Asked(wanted=None if faults else wanted, wire=wire, share_open=at_open, faults=faults)


def _needed(choices: Choices) -> tuple[str, ...]:
    speed = ("duty.speed_limit",) if choices.hold_surge else ()
    return (*(f"targets.{name}" for name in _TARGETS), *speed)


def _missing(line: LineAnalysis, choices: Choices) -> tuple[str, ...]:
    """The fields that are wanting, each once; one that is there and cannot be used is a fault, not missing."""
    fields = [field for field in _needed(choices) if not line.stated.entered(field)]
    for name in ("installed_height", "net_valve_lift"):
        figure = line.figures[name]
        if figure.value is None:
            fields += [each for each in figure.missing if not each.startswith("figures.")]
    return tuple(dict.fromkeys(each for each in fields if each not in line.stated.stated.problems))


def _faulty(line: LineAnalysis, choices: Choices) -> tuple[Problem, ...]:
    """What was entered and cannot be used: a limit of the room that cannot be read is not silently left out."""
    fields = [*_needed(choices), *(f"targets.{name}" for name in _ROOM)]
    for name in ("installed_height", "net_valve_lift"):
        fields += line.figures[name].missing if line.value(name) is None else ()
    problems = line.stated.stated.problems
    paths = dict.fromkeys(line.stated.path(each) for each in fields if line.stated.faulty(each))
    return tuple(replace(problems[path], place=Place(field=path)) for path in paths)


def _wanted(line: LineAnalysis, book: RuleBook, choices: Choices) -> Wanted:
    """The wants but for their stresses."""
    targets = {name: line.stated.value(f"targets.{name}") for name in (*_TARGETS, *_ROOM)}
    low, high = (_held(book, "spring-index", end) for end in ("least", "most"))
    wanted = Wanted(
        installed_height=(line.value("installed_height") or 0.0) - _steps(line),
        travel=line.value("net_valve_lift") or 0.0,
        **targets,
        bind_margin=_held(book, "bind-margin-min", bind_row(line.stated)) or 0.0,
        surge_frequency_min=_surge_limit(line, book) if choices.hold_surge else None,
        fatigue_factor_min=_held(book, "fatigue-factor") if choices.hold_fatigue else None,
        preset=choices.preset,
        peened=choices.peened,
    )
    return replace(
        wanted,
        index_low=wanted.index_low if low is None else low,
        index_high=wanted.index_high if high is None else high,
    )


def _steps(line: LineAnalysis) -> float:
    """The steps that the place of the found spring takes from the installed height, m."""
    path, _ = line.stated.rows("spring.coils")
    values = line.stated.stated.values
    return float(sum(values.get(f"{path}.0.{name}") or 0.0 for name in ("seat_step", "retainer_step")))


def _held(book: RuleBook, rule: str, name: str | None = None) -> float | None:
    """A limit of the book as a spring must keep it to give no finding; None where the book has none."""
    limit = book.limit(rule, name)
    return limit.stop if limit.watch is None else limit.watch


def _surge_limit(line: LineAnalysis, book: RuleBook) -> float | None:
    """The first mode that the rule asks for at the speed limit, Hz; its ratio is to the cam's own speed."""
    ratio = _held(book, "surge-ratio")
    return None if not ratio else ratio * float(order_frequency(1.0, line.stated.value("duty.speed_limit")))


def _shares(book: RuleBook, wanted: Wanted, wire: Material) -> tuple[float, float]:
    """The shares of strength that the book allows at full lift and at bind; the published one where it has none."""
    row = f"{'drawn-' if wire.name in DRAWN else ''}{'preset' if wanted.preset else 'not-preset'}"
    published = wire.static_share_preset_low if wanted.preset else wire.static_share
    at_open, at_bind = (_held(book, rule, row) for rule in ("stress-share", "bind-stress"))
    return published if at_open is None else at_open, published if at_bind is None else at_bind


def _by_direct_shear(wanted: Wanted, wire: Material, at_open: float, at_bind: float) -> tuple[Wanted, Material]:
    """The wants of a preset spring, and the wire to search.

    The book's shares are then of the stress with direct shear alone, which the search takes from the wire: one share
    for both places, exact wherever bind decides for every spring. Else the share at bind is told by Wahl for the
    highest index, where the two corrections are nearest: never more than the book allows.
    """
    index = wanted.index_high
    if at_bind <= at_open * _least_at_bind(wanted) or not index > 1:
        return wanted, replace(wire, static_share_preset_low=at_bind)
    by_wahl = at_bind * float(wahl_factor(index) / direct_shear_factor(index))
    return replace(wanted, stress_share_bind_max=by_wahl), replace(wire, static_share_preset_low=at_open)


def _least_at_bind(wanted: Wanted) -> float:
    """How many times the open load a spring that keeps its room carries at bind, at the least."""
    tallest = min(wanted.open_height - wanted.bind_margin, wanted.bind_height_max or math.inf)
    if not (wanted.travel > 0 and wanted.open_load > 0):
        return 1.0
    return max(1.0, (wanted.seat_load + wanted.rate * (wanted.installed_height - tallest)) / wanted.open_load)


def _placed(line: LineAnalysis, fault: Problem) -> Problem:
    """A fault of the wants at the field of the job that it comes from; one of a rule at that rule."""
    name = fault.place.field or ""
    fields = {"installed_height": "spring.installed_height", "travel": lift_field(line.stated)}
    fields |= {each: f"targets.{each}" for each in (*_TARGETS, *_ROOM)}
    if name == "surge_frequency_min":
        fields[name] = "duty.speed_limit"
    where = line.stated.path(fields[name]) if name in fields else f"rules.{_RULES.get(name, 'stress-share')}"
    return replace(fault, place=Place(field=where))


def ways_of(line: LineAnalysis) -> tuple[str, ...]:
    """The fields that what is wanted comes from, as the line states them, then the rules at "rules.<rule>"."""
    view = line.stated
    height = next(
        (name for name in ("spring.installed_height", "spring.bare_height") if view.entered(name)),
        "spring.installed_height",
    )
    fields = (*(f"targets.{name}" for name in _TARGETS), height, lift_field(view))
    room = (f"targets.{name}" for name in _ROOM if view.entered(f"targets.{name}"))
    return (*(view.path(each) for each in (*fields, *room)), "rules.bind-margin-min")


# Taking over

_OF_SPRING = ("readings", "rate", "spec", "bind_height", "mass", "name")
_OF_COIL = ("readings", "rate")
_PARTS = {
    "maker_limits": ("sheet", "lift_max", "seat_load_min", "seat_load_max", "open_load_max", "bind_height"),
    "damper": ("load", "width", "thickness"),
}
_CLEARED = ("small_mean_diameter", "tapered_coils")


def coil_changes(
    candidate: Candidate, line: LineAnalysis, choices: Choices, own: Callable[[str], str], style: Style
) -> dict[str, Any]:
    """The edits that make a found spring the one spring of the line.

    Args:
        candidate: as the search found it.
        line: before the edit.
        choices: that it was found by.
        own: where an edit of a common field goes for the line.
        style: the units in which the lengths are written.

    Returns:
        Field and value: the list of coils with this one alone, in the place of the first; what that one is called,
        its readings and its steps are kept, the other coils of a nest go.
    """
    kept = {name: value for name, value in _first_coil(line).items() if name not in _CLEARED}
    return {own("spring.coils"): (kept | _wound(candidate, choices, style),)}


def variant_changes(candidate: Candidate, job: Job, choices: Choices, style: Style, name: str) -> dict[str, Any]:
    """The edits that keep a found spring as one more variant of the job.

    Args:
        candidate: as the search found it.
        job: before the edit.
        choices: that it was found by.
        style: the units in which the lengths are written.
        name: of the variant.

    Returns:
        Field and value: a variant that states this coil alone; where it stands follows the job's own spring.
    """
    coil = _wound(candidate, choices, style)
    return {f"variants.{len(job.variants)}": {"name": name, "spring": {"coils": (coil,)}}}


def _wound(candidate: Candidate, choices: Choices, style: Style) -> dict[str, Any]:
    """A found spring as the entries of a coil."""
    return {
        "wire": {"shape": "round", "diameter": wire_text(candidate.wire_diameter, style)},
        "material": choices.material,
        "mean_diameter": length_text(candidate.mean_diameter, style),
        "active_coils": round(candidate.active_coils, 3),
        "total_coils": round(candidate.total_coils, 3),
        "ends": str(Ends.CLOSED_GROUND),
        "free_height": length_text(candidate.free_height, style),
        "bind_height": length_text(candidate.bind_height, style),
        "shot_peened": choices.peened,
        "preset": choices.preset,
    }


def left_of_old(line: LineAnalysis) -> tuple[str, ...]:
    """What the job states of the spring that was measured or read off a sheet, and no search can know of another.

    Args:
        line: before a spring is taken over.

    Returns:
        Dotted paths of the common part, the whole part for a sheet's limits and the damper; the loads first.
    """
    view, (path, count) = line.stated, line.stated.rows("spring.coils")
    found = [f"spring.{name}" for name in _OF_SPRING if _entered(line, f"spring.{name}")]
    found += [
        f"spring.{part}" for part, names in _PARTS.items() if any(view.entered(f"spring.{part}.{n}") for n in names)
    ]
    coil = f"{path}.0"
    found += [f"{coil}.{name}" for name in _OF_COIL if count and _entered(line, f"{coil}.{name}")]
    return tuple(found)


def _entered(line: LineAnalysis, field: str) -> bool:
    if field.endswith((".readings", ".spec")):
        return line.stated.rows(field)[1] > 0
    return line.stated.entered(field)


def _first_coil(line: LineAnalysis) -> dict[str, Any]:
    """The first coil as the job has it, a plain tree; empty where it has none."""
    path, count = line.stated.rows("spring.coils")
    node: Any = line.stated.stated.job
    for step in path.split("."):
        node = getattr(node, step)
    return node[0].model_dump(exclude_none=True) if count else {}


def length_text(value: float, style: Style) -> str:
    """A length, m, as a person would type it, to 0.0001 in or 0.001 mm."""
    number = round(to_display(value, Kind.LENGTH, style), PLACES[style])
    return f"{number:.{PLACES[style]}f} {display_unit(Kind.LENGTH, style)}"


def wire_text(value: float, style: Style) -> str:
    """A stock diameter, m, in the unit in which it is a stock size, the one on show first; else as a length."""
    for each in (style, *Style):
        number = round(to_display(value, Kind.LENGTH, each), PLACES[each])
        if math.isclose(from_display(number, Kind.LENGTH, each), value, rel_tol=1e-9):
            return (
                f"{number:.{PLACES[each] - 1}f} {display_unit(Kind.LENGTH, each)}"
                if _short(number, each)
                else length_text(value, each)
            )
    return length_text(value, style)


def _short(number: float, style: Style) -> bool:
    return round(number, PLACES[style] - 1) == number
