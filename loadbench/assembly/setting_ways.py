"""The three ways of setting preload side by side: what each gives with this job's adjuster, travel and warming."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from loadbench.assembly.setting_result import Way
from loadbench.findings.finding import Level, Sentence
from loadbench.findings.setting import corrections
from loadbench.findings.standing import standing, worst_of
from loadbench.findings.view import HYDRAULIC
from loadbench.follower.setting import hot_depth

if TYPE_CHECKING:
    from loadbench.analysis import LineAnalysis
    from loadbench.findings.rulebook import RuleBook

Range = tuple[float, float]
"""Least and most."""

CUSTOM_TURNS: Range = (0.5, 1.0)
"""Turns past zero lash. Source: common practice."""
ADJUSTER = ("valve_gear.adjuster.at", "valve_gear.adjuster.thread")
TRAVEL = "follower.plunger.travel"


@dataclass(frozen=True, slots=True, kw_only=True)
class WayShown:
    """One way, SI: from its least to its most. None where it cannot be had; `missing` are the fields waited for.

    `depth` of the plunger cold; `turns` past zero lash, or for the bottomed way backed off from the bottom; `left` of
    the travel beneath; `hot`, the depth when warm. `level` is the worst that the rule book says of either end;
    `suits` whether the way is meant for the stated travel, None where that is not stated.
    """

    way: Way
    word: str
    asks: Sentence
    depth: Range | None
    turns: Range | None
    left: Range | None
    hot: Range | None
    level: Level | None
    suits: bool | None
    chosen: bool
    missing: tuple[str, ...] = ()


def travel_kind(line: LineAnalysis) -> str | None:
    """The travel stated; a flat hydraulic tappet without one is of standard travel."""
    stated: str | None = line.stated.value("follower.travel")
    flat = line.stated.value("follower.family") == "flat-tappet-hydraulic"
    return stated or ("standard" if flat else None)


def hot_change(line: LineAnalysis) -> tuple[float | None, float | None]:
    """Cold less hot lash at the valve, m.

    Args:
        line: of a pushrod engine.

    Returns:
        Computed from lengths and materials, and by custom for this block and head; None where it cannot be had.
    """
    opens = line.value("hot_lash_change")
    pair = (line.stated.value("valve_gear.block"), line.stated.value("valve_gear.head"))
    return (None if opens is None else -opens), corrections().get(pair)


def setting_ways(line: LineAnalysis, book: RuleBook) -> tuple[WayShown, ...]:
    """The three ways for a line's hydraulic follower; none for another.

    Args:
        line: analysed.
        book: the limits in force.

    Returns:
        Half to one turn, minimal, bottomed and backed off.
    """
    if line.stated.value("follower.family") not in HYDRAULIC:
        return ()
    return _custom(line, book), _minimal(line, book), _bottomed(line, book)


def _custom(line: LineAnalysis, book: RuleBook) -> WayShown:
    turn, travel = line.value("depth_a_turn"), line.stated.value(TRAVEL)
    depth = None if turn is None else (CUSTOM_TURNS[0] * turn, CUSTOM_TURNS[1] * turn)
    missing = line.figures["depth_a_turn"].missing if turn is None else ()
    level = None
    if depth is not None:
        least, most, room = (book.limit("preload-standard", name) for name in ("least", "most", "left"))
        stands = [standing(least, depth[0]), standing(most, depth[1])]
        stands += [] if travel is None else [standing(room, travel - depth[1])]
        level = worst_of(*stands).level
    asks = Sentence("Half to one turn past zero lash.")
    return _shown(line, book, Way.PRELOAD_CUSTOM, asks, depth, CUSTOM_TURNS if depth else None, level, missing)


def _minimal(line: LineAnalysis, book: RuleBook) -> WayShown:
    least, most = (book.limit("preload-short-top", name).watch or 0.0 for name in ("least", "most"))
    travel = line.stated.value(TRAVEL)
    past = travel is not None and most > travel * (1 + 1e-9)
    asks = Sentence("Just below the stop: no more than keeps it from rattling.")
    level = Level.STOP if past else Level.CLEAR
    return _shown(line, book, Way.PRELOAD_MINIMAL, asks, (least, most), _turns(line, (least, most)), level, ())


def _bottomed(line: LineAnalysis, book: RuleBook) -> WayShown:
    least, most = (book.limit("preload-short-bottom", name).watch or 0.0 for name in ("least", "most"))
    travel = line.stated.value(TRAVEL)
    depth = None if travel is None else (travel - most, travel - least)
    missing = (line.stated.path(TRAVEL),) if travel is None else ()
    asks = Sentence("Bled down, bottomed, then backed off: each valve by its own travel.")
    level = None if depth is None else Level.STOP if depth[0] <= 0 else Level.CLEAR
    return _shown(line, book, Way.PRELOAD_BOTTOMED, asks, depth, _turns(line, (least, most)), level, missing)


def _turns(line: LineAnalysis, depth: Range) -> Range | None:
    turn = line.value("depth_a_turn")
    return None if not turn else (depth[0] / turn, depth[1] / turn)


WORDS = {Way.PRELOAD_CUSTOM: "custom", Way.PRELOAD_MINIMAL: "minimal", Way.PRELOAD_BOTTOMED: "bottomed"}


def _shown(  # noqa: PLR0913, PLR0917 - one way's parts in the order of the work
    line: LineAnalysis,
    book: RuleBook,
    way: Way,
    asks: Sentence,
    depth: Range | None,
    turns: Range | None,
    level: Level | None,
    missing: tuple[str, ...],
) -> WayShown:
    travel, kind, ratio = line.stated.value(TRAVEL), travel_kind(line), line.value("ratio")
    computed, custom = hot_change(line)
    change = custom if computed is None else computed
    hot = None
    if depth is not None and change is not None and ratio:
        hot = (float(hot_depth(depth[0], change, ratio)), float(hot_depth(depth[1], change, ratio)))
        warm = standing(book.limit("preload-hot"), hot[0]).level
        level = warm if level is None or warm.rank > level.rank else level
    left = None if depth is None or travel is None else (travel - depth[1], travel - depth[0])
    meant = "standard" if way is Way.PRELOAD_CUSTOM else "short"
    chosen = line.stated.value("follower.preload.way") == WORDS[way]
    waits = list(missing)
    if travel is None:
        waits.append(line.stated.path(TRAVEL))
    if turns is None:
        waits += line.figures["depth_a_turn"].missing
    if hot is None and change is None:
        waits += [line.stated.path(each) for each in ("valve_gear.head", "valve_gear.block")]
    return WayShown(
        way=way, word=WORDS[way], asks=asks, depth=depth, turns=turns, left=left, hot=hot, level=level,
        suits=None if kind is None else kind == meant, chosen=chosen, missing=tuple(dict.fromkeys(waits)),
    )  # fmt: skip
