"""The fit of a job: which spring on which valve on which shims, or what forbids every plan and what would free one."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import replace

from loadbench.analysis import Analysis
from loadbench.analysis.springs import ValveAnalysis
from loadbench.assembly.answer import Bar, FitAnswer, PlacedSpring
from loadbench.assembly.binding import binding_of
from loadbench.assembly.choices import table_of
from loadbench.assembly.fit_inputs import FitInputs, fit_inputs
from loadbench.assembly.fit_valve import FitValve
from loadbench.assembly.freeing import freeing_of
from loadbench.assembly.pairing import LooseSprings, fitted_pairs, loose_springs
from loadbench.assembly.plan_doubts import doubts_of_plan
from loadbench.assembly.trials import Trials
from loadbench.findings.finding import Sentence
from loadbench.findings.rows import rows_in_force
from loadbench.findings.rulebook import rule_book
from loadbench.findings.shop import Shop
from loadbench.findings.view import plain
from loadbench.fitup.best_fit import NotKnownError, best_fit
from loadbench.fitup.choice_table import Chosen
from loadbench.fitup.pair_table import PairChosen
from loadbench.units import Style

Progress = Callable[[float], None]


def fit(analysis: Analysis, shop: Shop | None = None, progress: Progress | None = None) -> FitAnswer:
    """Choose a spring and a stack of shims for every valve.

    Args:
        analysis: of the job.
        shop: the shop's changes to the rule book.
        progress: called with the share done; may raise Cancelled.

    Returns:
        The plan: within every hard limit the least spread of seat load, then the least deviation from the target,
        then the fewest shims. Without one, what forbids it and the least changes that would free it.
    """
    book = rule_book(shop, analysis.job.rules, analysis.stated.style, rows_in_force(analysis.lines[0].stated))
    loose = loose_springs(analysis)
    inputs = fit_inputs(analysis, book, ((), ()) if loose is None else (loose.outer_names, loose.inner_names))
    if loose is not None and len(inputs.springs) > min(len(loose.outer_names), len(loose.inner_names)):
        loose, inputs = None, fit_inputs(analysis, book)  # a set of whole springs with a stray member or two
    if inputs.problems:
        return FitAnswer(feasible=False, proved=False, problems=inputs.problems, unchecked=inputs.unchecked)
    try:
        found = _single(analysis, inputs, progress) if loose is None else _paired(analysis, inputs, loose, progress)
        return replace(found, doubts=doubts_of_plan(analysis, shop, found.plan)) if found.plan else found
    except NotKnownError:
        bar = Bar(limit="time", valves=(), sentence=Sentence("Neither a plan nor a proof of none was found in time."))
        return FitAnswer(feasible=False, proved=False, binding=(bar,), unchecked=inputs.unchecked)


def _single(analysis: Analysis, inputs: FitInputs, progress: Progress | None) -> FitAnswer:
    table = table_of(inputs)
    chosen = best_fit(table, progress)
    if chosen is None:
        return _without_plan(analysis, inputs, Trials(progress=progress))
    rows = zip(chosen.springs, chosen.stacks, strict=True)
    plan = tuple(
        _placed(
            analysis,
            inputs.valves[row],
            (table.springs[spring], None),
            table.stacks[stack],
            (float(table.seat[row, spring, stack]), float(table.open[row, spring, stack])),
        )
        for row, (spring, stack) in enumerate(rows)
    )
    return _answered(inputs, plan, chosen, inputs.springs)


def _paired(analysis: Analysis, inputs: FitInputs, loose: LooseSprings, progress: Progress | None) -> FitAnswer:
    table, chosen = fitted_pairs(inputs, loose, progress)
    whole = [Sentence(f"Spring {plain(name)} is a whole spring: pairs only are made here.") for name in inputs.springs]
    inputs = replace(inputs, unchecked=(*inputs.unchecked, *whole))
    if chosen is None:
        return _without_plan(analysis, inputs, Trials(loose=loose, progress=progress))
    rows = zip(chosen.outers, chosen.inners, chosen.stacks, strict=True)
    plan = tuple(
        _placed(
            analysis,
            inputs.valves[row],
            (table.outers[outer], table.inners[inner]),
            table.stacks[stack],
            (
                float(table.seat_outer[row, outer, stack] + table.seat_inner[row, inner, stack]),
                float(table.open_outer[row, outer, stack] + table.open_inner[row, inner, stack]),
            ),
        )
        for row, (outer, inner, stack) in enumerate(rows)
    )
    return _answered(inputs, plan, chosen, (*table.outers, *table.inners))


def _without_plan(analysis: Analysis, inputs: FitInputs, trials: Trials) -> FitAnswer:
    return FitAnswer(
        feasible=False,
        proved=True,
        binding=binding_of(inputs, trials),
        frees=freeing_of(inputs, trials, analysis.stated.style or Style.INCH_POUND),
        unchecked=inputs.unchecked,
    )


def _answered(
    inputs: FitInputs, plan: tuple[PlacedSpring, ...], chosen: Chosen | PairChosen, springs: tuple[str, ...]
) -> FitAnswer:
    used = {name for placed in plan for name in (placed.spring, placed.inner)}
    return FitAnswer(
        feasible=True,
        proved=chosen.proved,
        plan=plan,
        seat_spread=chosen.spread,
        target_deviation=chosen.deviation,
        shims_used=chosen.shims,
        spare=tuple(spring for spring in springs if spring not in used),
        shopping=dict(sorted(Counter(shim for placed in plan for shim in placed.shims).items())),
        unchecked=inputs.unchecked,
    )


def _placed(
    analysis: Analysis,
    valve: FitValve,
    springs: tuple[str, str | None],
    shims: tuple[float, ...],
    loads: tuple[float, float],
) -> PlacedSpring:
    height = valve.bare_height - sum(shims)
    before = analysis.set.valves[valve.index]
    return PlacedSpring(
        valve=valve.id,
        index=valve.index,
        line=valve.line,
        spring=springs[0],
        inner=springs[1],
        shims=shims,
        installed_height=height,
        seat_load=loads[0],
        open_load=loads[1],
        bind_margin=None if valve.bind is None else height - valve.lift - valve.bind,
        retainer_margin=None if valve.retainer_room is None else valve.retainer_room - valve.lift,
        locked=valve.locked_spring is not None or valve.locked_shims is not None,
        spring_before=before.spring,
        shims_before=_shims_before(analysis, before),
        seat_load_before=before.seat_load,
        open_load_before=before.open_load,
    )


def _shims_before(analysis: Analysis, valve: ValveAnalysis) -> tuple[float, ...]:
    values = analysis.stated.values
    own = f"valves.{valve.index}.shims"
    read = (values.get(f"{own}.{place}") for place in range(values.get(f"{own}#", 0)))
    return tuple(shim for shim in read if shim is not None)
