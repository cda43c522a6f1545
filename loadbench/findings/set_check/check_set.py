"""Check a set of numbered springs: what each carries, what is doubtful, which pass, and how many are lacking."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from loadbench.analysis import Analysis, LineAnalysis
from loadbench.analysis.springs import NumberedSpringAnalysis
from loadbench.findings.finding import Level
from loadbench.findings.rows import rows_in_force
from loadbench.findings.rulebook import RuleBook, rule_book
from loadbench.findings.set_check.bins import bins_of
from loadbench.findings.set_check.cylinder_order import in_cylinder_order
from loadbench.findings.set_check.doubts import doubts_of, home_of
from loadbench.findings.set_check.past import past_of
from loadbench.findings.set_check.result import (
    HeightStrip,
    LaidOut,
    LoadLoss,
    Residual,
    SetCheck,
    SpringCheck,
    StripLoad,
)
from loadbench.findings.set_check.tested import springs_as_tested
from loadbench.findings.sets import numbered_losses, sheet_loads
from loadbench.findings.shop import Shop
from loadbench.findings.spec_check import Window, direct_loads, judged, windows_of
from loadbench.findings.standing import standing
from loadbench.findings.view import View
from loadbench.job.checks import SAME_HEIGHT
from loadbench.readings.evidence import part_named
from loadbench.readings.trust.flag import Flag, FlagKind, TestedSpring
from loadbench.readings.trust.repeats import repeatability

AGAIN = frozenset({FlagKind.OUTLIER, FlagKind.HEIGHT_TYPED_WRONG, FlagKind.NOT_RISING, FlagKind.REPEAT_DISAGREES})
"""Doubts that another test of the same spring settles."""


def check_set(analysis: Analysis, shop: Shop | None = None) -> SetCheck:
    """Everything that is known of the numbered springs.

    Args:
        analysis: of the job.
        shop: the shop's changes to the rule book.

    Returns:
        Springs in the order of the job; flags with the most telling first.
    """
    book = rule_book(shop, analysis.job.rules, analysis.stated.style, rows_in_force(analysis.lines[0].stated))
    tested = springs_as_tested(analysis.stated)
    first = analysis.lines[0]
    flags = doubts_of(analysis, tested)
    repeats = repeatability(tested)
    springs = tuple(_spring(analysis, book, spring, tested[spring.index], flags) for spring in analysis.set.springs)
    springs = _in_bins(springs, book)
    levels = [spring.verdict.level for spring in springs]
    needed = len(analysis.job.valves) or None
    limit = book.limit("set-spread")
    spread = analysis.set.spread
    return SetCheck(
        springs=springs,
        strips=tuple(_strips(tested, windows_of(first))),
        flags=flags,
        windows=windows_of(first),
        passed=levels.count(Level.CLEAR),
        failed=levels.count(Level.STOP),
        unknown=levels.count(Level.UNKNOWN),
        needed=needed,
        order_more=max(0, (needed or len(springs)) - (len(springs) - levels.count(Level.STOP))),
        test_again=tuple(dict.fromkeys(flag.spring for flag in flags if flag.kind in AGAIN and flag.spring)),
        laid_out=tuple(_laid_out(analysis, springs)),
        spread=spread,
        spread_limit=limit,
        spread_level=Level.UNKNOWN if spread is None else standing(limit, spread).level,
        loss_limit=book.limit("load-loss"),
        repeatability=None if repeats is None else repeats.deviation,
        past=past_of(analysis),
    )


def _spring(
    analysis: Analysis,
    book: RuleBook,
    spring: NumberedSpringAnalysis,
    tested: TestedSpring,
    flags: tuple[Flag, ...],
) -> SpringCheck:
    line = home_of(analysis, spring.id)
    whole = len(line.nest.members) == 1  # a nest without readings of its own has the pair for its only member
    direct = direct_loads(analysis, spring.index, whole=whole)
    entry = analysis.job.springs[spring.index]
    own = SpringCheck(
        id=spring.id,
        index=spring.index,
        mark=entry.mark or "",
        verdict=judged(spring, direct, windows_of(line)),
        height=spring.height,
        open_height=spring.open_height,
        rate=spring.rate,
        seat_load=spring.seat_load,
        open_load=spring.open_load,
        flags=tuple(flag for flag in flags if flag.spring == spring.id),
        loss=_loss(View(analysis=analysis, line=line, book=book), spring),
    )
    return own if spring.load_line is None else _measured(own, spring, tested, line)


def _measured(
    own: SpringCheck, spring: NumberedSpringAnalysis, tested: TestedSpring, line: LineAnalysis
) -> SpringCheck:
    """The same with its uncertainties and residuals."""
    load_line = spring.load_line
    if load_line is None:
        return own

    def expanded(height: float | None, figure: str) -> float | None:
        known = line.figures.get(figure)
        deviation = (known.expanded or 0.0) / 2 if known is not None else 0.0
        found = None if height is None else load_line.uncertainty(height, deviation)
        return None if found is None else float(found)

    heights = [each for each in (spring.height, spring.open_height) if each is not None]
    return replace(
        own,
        rate_expanded=None if own.rate is None else load_line.rate_uncertainty(),
        seat_expanded=expanded(spring.height, "installed_height"),
        open_expanded=expanded(spring.open_height, "open_height"),
        extrapolated=any(load_line.extrapolated(height) for height in heights),
        residuals=tuple(_residuals(spring, tested, line)),
    )


def _residuals(spring: NumberedSpringAnalysis, tested: TestedSpring, line: LineAnalysis) -> Iterator[Residual]:
    """Each reading against the line through the readings of its own part."""
    load_line = spring.load_line
    parts = _parts_of(tested, line)
    strands = () if load_line is None else tuple(strand for _, strand in load_line.strands)
    if len(strands) != len(parts):
        parts = ("",)  # a nest by the readings of the pair
    by_part = dict(zip(parts, strands, strict=True))
    loading = {reading.part for reading in tested.readings if reading.direction != "unloading"}
    for reading in tested.readings:
        strand = by_part.get(reading.part)
        if strand is None or (reading.direction == "unloading" and reading.part in loading):
            continue
        off = reading.load - float(strand.load(reading.height))
        yield Residual(part=reading.part, height=reading.height, load=reading.load, off=off, place=reading.path)


def _parts_of(tested: TestedSpring, line: LineAnalysis) -> tuple[str, ...]:
    """The part that each strand of the line's springs was fitted to, as `readings_of_single` chooses for a single."""
    members = line.nest.members
    if len(members) > 1:
        return tuple(part_named(member.name) for member in members)
    parts = {reading.part for reading in tested.readings}
    if len(parts) == 1:
        return (parts.pop(),)
    return ("",) if "" in parts else (part_named(members[0].name),)


def _loss(view: View, spring: NumberedSpringAnalysis) -> LoadLoss | None:
    if spring.load_line is None:
        return None
    losses = list(numbered_losses(view, spring.id, spring.load_line, tuple(sheet_loads(view))))
    if not losses:
        return None
    worst = max(losses, key=lambda loss: loss.share)
    return LoadLoss(share=worst.share, now=worst.now, then=worst.then, height=worst.height, basis=worst.basis)


def _in_bins(springs: tuple[SpringCheck, ...], book: RuleBook) -> tuple[SpringCheck, ...]:
    """Each spring's bin by its seat load: within one bin the spread stays inside the rule book's limit."""
    loads = {spring.id: spring.seat_load for spring in springs if spring.seat_load}
    share = book.limit("set-spread").watch
    if not loads or not share:
        return springs
    bins = bins_of(loads, share * sum(loads.values()) / len(loads))
    return tuple(replace(spring, bin=bins.get(spring.id, "")) for spring in springs)


def _strips(tested: tuple[TestedSpring, ...], windows: tuple[Window, ...]) -> Iterator[HeightStrip]:
    """The loads at every tested height, parts apart, the tallest first."""
    found: dict[tuple[str, float], dict[str, list[float]]] = {}
    for spring in tested:
        for reading in spring.readings:
            if reading.direction == "unloading":
                continue
            key = next(
                (each for each in found if each[0] == reading.part and abs(each[1] - reading.height) <= SAME_HEIGHT),
                (reading.part, reading.height),
            )
            found.setdefault(key, {}).setdefault(spring.id, []).append(reading.load)
    for (part, height), loads in sorted(found.items(), key=lambda item: (item[0][0], -item[0][1])):
        window = next((each for each in windows if abs(each.height - height) <= SAME_HEIGHT), None)
        means = tuple(StripLoad(spring=name, load=sum(own) / len(own)) for name, own in loads.items())
        yield HeightStrip(part=part, height=height, loads=means, window=window if not part else None)


def _laid_out(analysis: Analysis, springs: tuple[SpringCheck, ...]) -> Iterator[LaidOut]:
    """The plan's springs, else the valves' own, in cylinder order; without valves the springs as they stand."""
    by_id = {spring.id: spring for spring in springs}
    planned = {placed.valve: placed.spring for placed in analysis.job.plan.placed}
    for index in in_cylinder_order(analysis.job.valves):
        valve = analysis.job.valves[index]
        name = planned.get(valve.id) or valve.spring or ""
        yield _place(valve.id or f"#{index + 1}", name, by_id.get(name))
    if not analysis.job.valves:
        for spring in springs:
            yield _place("", spring.id, spring)


def _place(valve: str, name: str, spring: SpringCheck | None) -> LaidOut:
    if spring is None:
        return LaidOut(valve=valve, spring=name, mark="", bin="", seat_load=None, open_load=None)
    return LaidOut(
        valve=valve,
        spring=name,
        mark=spring.mark,
        bin=spring.bin,
        seat_load=spring.seat_load,
        open_load=spring.open_load,
    )
