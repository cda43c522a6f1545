"""What a fit reads from the job: the valves with their heights and limits, the springs' load lines, the shims."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from loadbench.analysis import Analysis, LineAnalysis
from loadbench.analysis.loose import BETWEEN, loose_member
from loadbench.analysis.springs import spring_load_line
from loadbench.assembly.fit_valve import FitValve, at, fit_valve
from loadbench.errors import Problem
from loadbench.findings.finding import Amount, Sentence
from loadbench.findings.rulebook import RuleBook
from loadbench.findings.view import plain
from loadbench.fitup.inverse import MOST_SHIMS, SLACK, STOCK_SHIMS, TALLEST_STACK
from loadbench.fitup.stacks import same_size
from loadbench.job.stated import LINES, Stated
from loadbench.readings.load_line import LoadLine
from loadbench.units import Kind


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FitInputs:
    """All that a fit reads. `loads` holds each spring's load line by line name and spring."""

    valves: tuple[FitValve, ...]
    springs: tuple[str, ...]
    loads: dict[str, tuple[LoadLine, ...]]
    stock: tuple[float, ...]
    counts: dict[float, int]
    unchecked: tuple[Sentence, ...] = ()
    problems: tuple[Problem, ...] = ()


Names = Sequence[str]


def fit_inputs(analysis: Analysis, book: RuleBook, loose: tuple[Names, Names] = ((), ())) -> FitInputs:
    """Read what a fit needs.

    Args:
        analysis: of the job.
        book: the rules in force.
        loose: names of the outers and of the inners, where pairs are to be made of them.

    Returns:
        The inputs; what cannot be read is told in `problems`, what cannot be held in `unchecked`.
    """
    lines = {line.name: line for line in analysis.lines}
    valves: list[FitValve] = []
    problems: list[Problem] = []
    unchecked: dict[str, Sentence] = {}
    for index in range(len(analysis.job.valves)):
        valve, faults, notes = fit_valve(analysis.stated, index, lines, book)
        problems += faults
        unchecked |= {note.template: note for note in notes}
        valves += [valve] if valve else []
    members = (*loose[0], *loose[1])
    springs, loads, left_out = _springs(analysis, lines, members)
    for valve in valves:
        if valve.locked_spring is not None and not _placeable(valve.locked_spring, springs, loose):
            problems.append(_not_placeable(valve, pairs=bool(members)))
    problems += _nothing(analysis, (*springs, *members)) + _faults(analysis.stated) + _rule_faults(book)
    # what is not held is told of what is stated well: a faulty entry is told as a fault
    notes = (
        left_out if problems else [*left_out, *_unheld(valves), *_own_stacks(valves), *_usual_stock(analysis.stated)]
    )
    unchecked = {sentence.template: sentence for sentence in notes} | ({} if problems else unchecked)
    stock, counts = _stock(analysis.stated)
    return FitInputs(
        valves=tuple(valves),
        springs=springs,
        loads=loads,
        stock=stock,
        counts=counts,
        unchecked=tuple(unchecked.values()),
        problems=tuple(problems),
    )


READ = (
    "shims_in_stock.",
    "targets.",
    "valve_gear.",
    "spring.bare_height",
    "spring.bind_height",
    "spring.coils.",
    "spring.installed_height",
    "spring.maker_limits.",
    "spring.shims",
    "follower.maker_limits.",
)
"""Where a fault of value would leave a limit unheld or the stock another; springs' readings leave a spring out."""


def _faults(stated: Stated) -> list[Problem]:
    """The faults of value in what a fit reads of the lines, the stock, the makers' sheets and the springs' names."""
    lines = tuple(f"lines.{line}.{head}" for line in LINES for head in READ)
    found = [
        problem
        for path, problem in sorted(stated.problems.items())
        if stated.faulty(path)
        and (path.startswith((*READ, *lines)) or (path.startswith("springs.") and path.endswith(".id")))
    ]
    return found + [
        Problem(what=f"{count} shims cannot be in stock.", expected="zero or more", place=at(f"shim_counts.{place}"))
        for place, count in enumerate(stated.job.shim_counts)
        if count is not None and count < 0
    ]


RULES = ("rules.bind-margin-min", "rules.retainer-margin-min")


def _rule_faults(book: RuleBook) -> list[Problem]:
    """The faults in changes of the rules that a fit holds."""
    return [problem for problem in book.problems if (problem.place.field or "").startswith(RULES)]


def _placeable(name: str, springs: Names, loose: tuple[Names, Names]) -> bool:
    """Whether a spring can stay on a valve: a whole one, or in a fit of pairs an outer, an inner, or one of each."""
    if not any(loose):
        return name in springs
    kinds = [[kind for kind in (0, 1) if each.strip() in loose[kind]] for each in name.split(BETWEEN.strip())]
    return all(kinds) and len({kind[0] for kind in kinds}) == len(kinds)


def _not_placeable(valve: FitValve, *, pairs: bool) -> Problem:
    what = (
        f"The spring {valve.locked_spring} that is locked on valve {valve.id} is not among those that can stand here."
    )
    expected = f'an outer, an inner, or both, such as "O3{BETWEEN}I7"' if pairs else "a numbered spring with readings"
    return Problem(what=what, expected=expected, place=at(f"valves.{valve.index}.spring"))


def _nothing(analysis: Analysis, springs: tuple[str, ...]) -> list[Problem]:
    found = []
    if not analysis.job.valves:
        found.append(Problem(what="No valves are stated.", expected="each valve with its height", place=at("valves")))
    if not springs:
        what = "No numbered spring has readings that give its load."
        found.append(Problem(what=what, expected="springs with readings at two heights", place=at("springs")))
    return found


def _own_stacks(valves: list[FitValve]) -> list[Sentence]:
    """Locked stacks that are past what a stack may be: they stay, and are told."""
    return [
        Sentence(f"The shims locked on valve {plain(valve.id)} are past the limits of a stack: they stay as they are.")
        for valve in valves
        if valve.locked_shims is not None
        and (len(valve.locked_shims) > MOST_SHIMS or sum(valve.locked_shims) > TALLEST_STACK * (1 + SLACK))
    ]


def _usual_stock(stated: Stated) -> list[Sentence]:
    """What is taken where no shims in stock are stated."""
    if any(stated.values.get(f"shims_in_stock.{place}") for place in range(stated.values.get("shims_in_stock#", 0))):
        return []
    sizes = {f"size{place}": Amount(size, Kind.LENGTH) for place, size in enumerate(STOCK_SHIMS)}
    named = ", ".join(f"{{{name}}}" for name in sizes)
    return [Sentence(f"No shims in stock are stated: {named} are taken, as many as are wanted.", sizes)]


def _springs(
    analysis: Analysis, lines: dict[str, LineAnalysis], loose: Sequence[str]
) -> tuple[tuple[str, ...], dict[str, tuple[LoadLine, ...]], list[Sentence]]:
    """The springs with a load line on every line; the others are told."""
    found: dict[str, dict[str, LoadLine]] = {}
    told = []
    for index, spring in enumerate(analysis.job.springs):
        name = spring.id or f"#{index + 1}"
        own = {line.name: spring_load_line(analysis.stated, f"springs.{index}", line)[0] for line in lines.values()}
        known = {line: load for line, load in own.items() if load is not None}
        if len(known) == len(own) and name not in found:
            found[name] = known
        elif name not in loose and name not in found:
            told.append(_left_out(analysis.stated, index, name, next(iter(lines.values()))))
    loads = {line: tuple(own[line] for own in found.values()) for line in lines}
    return tuple(found), loads, told


def _left_out(stated: Stated, index: int, name: str, line: LineAnalysis) -> Sentence:
    member = loose_member(stated, f"springs.{index}", line)
    why = "has no readings that give its load"
    if member is not None:
        why = f"is one member of the nest only ({plain(line.nest.members[member].name)})"
    return Sentence(f"Spring {plain(name)} {why}: it is not chosen.")


def _unheld(valves: list[FitValve]) -> list[Sentence]:
    """The hard limits that cannot be held because what they need is not stated."""
    told = []
    if lacking := [valve.id for valve in valves if valve.bind is None]:
        told.append(Sentence(f"Coil bind is not checked{_which(lacking, valves)}: no bind height is stated."))
    if lacking := [valve.id for valve in valves if valve.retainer_room is None]:
        told.append(Sentence(f"Retainer to seal is not checked{_which(lacking, valves)}: it is not stated."))
    wanted = [valve for valve in valves if valve.target_seat is not None or valve.target_open is not None]
    if lacking := [valve.id for valve in wanted if valve.tolerance is None]:
        told.append(Sentence(f"The target is no limit{_which(lacking, valves)}: no tolerance is stated."))
    return told


def _which(lacking: list[str], valves: list[FitValve]) -> str:
    return "" if len(lacking) == len(valves) else f" on valve {', '.join(plain(name) for name in lacking)}"


def _stock(stated: Stated) -> tuple[tuple[float, ...], dict[float, int]]:
    """The sizes in stock, m, tallest first, and the counts of those that are counted."""
    counted = stated.job.shim_counts
    sizes: dict[float, int | None] = {}
    for place in range(stated.values.get("shims_in_stock#", 0)):
        size = stated.values.get(f"shims_in_stock.{place}")
        if size:
            size = next((own for own in sizes if same_size(own, size)), size)
            count = counted[place] if place < len(counted) else None
            before = sizes.get(size, 0)
            sizes[size] = None if count is None or before is None else before + max(count, 0)
    if not sizes:
        return STOCK_SHIMS, {}
    counts = {size: count for size, count in sizes.items() if count is not None}
    return tuple(sorted(sizes, reverse=True)), counts
