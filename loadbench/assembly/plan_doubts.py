"""What is doubtful about the springs that a plan has chosen: it holds its limits, they may not hold theirs."""

from __future__ import annotations

from loadbench.analysis import Analysis
from loadbench.assembly.answer import PlacedSpring
from loadbench.findings.finding import Amount, Level, Sentence
from loadbench.findings.set_check.check_set import check_set
from loadbench.findings.set_check.result import SetCheck, SpringCheck
from loadbench.findings.shop import Shop
from loadbench.findings.standing import standing
from loadbench.findings.view import plain
from loadbench.units import Kind


def doubts_of_plan(analysis: Analysis, shop: Shop | None, plan: tuple[PlacedSpring, ...]) -> tuple[Sentence, ...]:
    """What to look at before a plan is built.

    Args:
        analysis: of the job.
        shop: the shop's changes to the rule book.
        plan: of the fit.

    Returns:
        A sentence for each chosen spring that fails its sheet's window, has lost too much load, or is doubtful.
    """
    check = check_set(analysis, shop)
    springs = {spring.id: spring for spring in check.springs}
    told = []
    for placed in plan:
        for name in (placed.spring, placed.inner):
            if name is not None and name in springs:
                told += _of_spring(springs[name], check, placed.valve)
    return tuple(told)


def _of_spring(spring: SpringCheck, check: SetCheck, valve: str) -> list[Sentence]:
    where = f"Spring {plain(spring.id)} on valve {plain(valve)}"
    if spring.verdict.level is Level.STOP:
        miss = max(spring.verdict.misses, key=lambda each: abs(each.off))
        side = "low" if miss.off < 0 else "high"
        amounts = {"off": Amount(abs(miss.off), Kind.FORCE), "height": Amount(miss.height, Kind.LENGTH)}
        return [Sentence(f"{where} fails its window: {{off}} {side} at {{height}}.", amounts)]
    limit = check.loss_limit
    if spring.loss is not None and standing(limit, spring.loss.share).level is Level.STOP:
        amounts = {"share": Amount(spring.loss.share, limit.kind)}
        return [Sentence(f"{where} has lost {{share}} of its load.", amounts)]
    if spring.id in check.test_again:
        return [Sentence(f"{where} is doubtful: test it again.")]
    return []
