"""One valve of a fit: its height, its room, its limits and targets, and what of it is locked."""

from __future__ import annotations

from dataclasses import dataclass, field

from loadbench.analysis import LineAnalysis
from loadbench.analysis.springs import valve_lift, valve_line
from loadbench.errors import Place, Problem
from loadbench.findings.finding import Sentence
from loadbench.findings.rows import bind_row
from loadbench.findings.rulebook import Limit, RuleBook
from loadbench.job.checks import stated_shims
from loadbench.job.labels import names_of
from loadbench.job.stated import Stated


@dataclass(frozen=True, slots=True, kw_only=True)
class FitValve:
    """One valve, SI. `bind` is the height H at which its tallest member is bound; None: not stated.

    `retainer_room` is retainer to seal with the valve closed; `makers` are the limits of the makers' sheets by what
    they speak of; `locked_spring` and `locked_shims` stay.
    """

    id: str
    index: int
    line: str
    bare_height: float
    lift: float
    bind: float | None
    retainer_room: float | None
    bind_limit: Limit
    retainer_limit: Limit
    target_seat: float | None = None
    target_open: float | None = None
    tolerance: float | None = None
    makers: dict[str, float] = field(default_factory=dict)
    locked_spring: str | None = None
    locked_shims: tuple[float, ...] | None = None


MAKERS = {
    "lift_max": "spring.maker_limits.lift_max",
    "seat_load_min": "spring.maker_limits.seat_load_min",
    "seat_load_max": "spring.maker_limits.seat_load_max",
    "open_load_max": "spring.maker_limits.open_load_max",
    "bind_height": "spring.maker_limits.bind_height",
    "follower_open_load_max": "follower.maker_limits.open_load_max",
}


def at(field_path: str) -> Place:
    """A field as a place."""
    return Place(field=field_path)


def fit_valve(
    stated: Stated, index: int, lines: dict[str, LineAnalysis], book: RuleBook
) -> tuple[FitValve | None, list[Problem], list[Sentence]]:
    """One valve as a fit takes it, with the faults that forbid it or the notes on what was assumed.

    Args:
        stated: the job's values.
        index: of the valve.
        lines: the analysed lines by name.
        book: the rules in force.

    Returns:
        None in place of the valve where there are faults.
    """
    own, line = f"valves.{index}", valve_line(stated, index, lines)
    name = stated.job.valves[index].id or f"#{index + 1}"
    problems = [stated.problems[path] for path in sorted(stated.problems) if path.startswith(f"{own}.")]
    bare, notes = _bare_height(stated, index, line)
    lift = valve_lift(stated, index, line)
    if bare is None and not problems:
        what = f"Valve {name} has no height: neither its bare height nor its line's is stated."
        problems.append(Problem(what=what, expected="a bare height", place=at(f"{own}.bare_height")))
    if lift is None:
        figure = line.figures.get("net_valve_lift")
        waits = names_of(figure.missing) if figure else ""
        place = at(figure.missing[0] if figure and figure.missing else "valve_gear.lobe_lift")
        problems.append(Problem(what=f"The lift of valve {name} cannot be had.", expected=waits, place=place))
    if lift is not None and lift <= 0:
        what = f"The lash of valve {name} is as large as its lift."
        problems.append(Problem(what=what, expected="a lash smaller than the valve lift", place=at(f"{own}.lash")))
    elif lift is not None and bare is not None and bare <= lift:
        what = f"Valve {name} would lift as far as its spring is tall."
        problems.append(Problem(what=what, expected="a height above the lift", place=at(f"{own}.bare_height")))
    if bare is None or lift is None or problems:
        return None, problems, []
    percent = line.stated.value("targets.tolerance_percent")
    locked = bool(stated.job.valves[index].locked)
    return (
        FitValve(
            id=name,
            index=index,
            line=line.name,
            bare_height=bare,
            lift=lift,
            bind=bound_height(line),
            retainer_room=_seal(stated, index, line),
            bind_limit=book.limit("bind-margin-min", bind_row(line.stated)),
            retainer_limit=book.limit("retainer-margin-min"),
            target_seat=line.stated.value("targets.seat_load"),
            target_open=line.stated.value("targets.open_load"),
            tolerance=None if percent is None else percent / 100,
            makers={key: value for key, path in MAKERS.items() if (value := line.stated.value(path)) is not None},
            locked_spring=((stated.job.valves[index].spring or "").strip() or None) if locked else None,
            locked_shims=_own_shims(stated, index) if locked else None,
        ),
        [],
        notes,
    )


def _bare_height(stated: Stated, index: int, line: LineAnalysis) -> tuple[float | None, list[Sentence]]:
    """The valve's own, else the line's, else what the installed height and the stated shims make."""
    bare = stated.values.get(f"valves.{index}.bare_height")
    if bare is None:
        bare = line.stated.value("spring.bare_height")
    if bare is not None:
        return float(bare), []
    height, shims = line.value("installed_height"), stated_shims(line.stated)
    if height is None or shims is None:
        return None, []
    note = "A bare height is not stated: the installed height with its shims counts as bare."
    return height + shims, [Sentence(note)]


def _own_shims(stated: Stated, index: int) -> tuple[float, ...] | None:
    """A valve's stated shims; one of no thickness states that there are none."""
    read = [stated.values.get(f"valves.{index}.shims.{place}") for place in range(_shims_stated(stated, index))]
    known = [float(shim) for shim in read if shim is not None]
    return tuple(shim for shim in known if shim > 0) if known else None


def _shims_stated(stated: Stated, index: int) -> int:
    return int(stated.values.get(f"valves.{index}.shims#", 0))


def _seal(stated: Stated, index: int, line: LineAnalysis) -> float | None:
    own: float | None = stated.values.get(f"valves.{index}.retainer_to_seal")
    usual: float | None = line.stated.value("valve_gear.retainer_to_seal")
    return usual if own is None else own


def bound_height(line: LineAnalysis) -> float | None:
    """The height H, m, at which the line's tallest member is bound; None while a member's bind height is not known."""
    tops = [
        None
        if member.stated.bind is None or member.stated.offset is None
        else member.stated.bind + member.stated.offset
        for member in line.members
    ]
    known = [top for top in tops if top is not None]
    return max(known) if known and len(known) == len(tops) else None
