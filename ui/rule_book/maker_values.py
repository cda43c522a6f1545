"""The part makers' own limits beside those of the book, where a rule covers what their sheet speaks of."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from loadbench.findings.loads import QUOTED_RATIO

if TYPE_CHECKING:
    from loadbench.analysis.line import LineAnalysis
    from loadbench.findings.rulebook import Limit, Rule

OPEN_LOAD = "follower.maker_limits.open_load_max"
SEAT_LOAD = "spring.maker_limits.seat_load_min"
FIELDS = {
    ("seat-load-min", ""): SEAT_LOAD,
    ("flat-hydraulic-max", ""): OPEN_LOAD,
    ("flat-solid-max", ""): OPEN_LOAD,
    ("standard-travel-max", ""): OPEN_LOAD,
    ("short-travel-max", ""): OPEN_LOAD,
    ("preload-standard", "least"): "follower.maker_limits.preload_min",
    ("preload-standard", "most"): "follower.maker_limits.preload_max",
    ("preload-short-top", "least"): "follower.maker_limits.preload_min",
    ("preload-short-top", "most"): "follower.maker_limits.preload_max",
    ("solid-lash", "least"): "follower.maker_limits.lash_min",
    ("solid-lash", "most"): "follower.maker_limits.lash_max",
    ("solid-lash", "hydraulic_lobe_least"): "follower.maker_limits.lash_min",
    ("solid-lash", "hydraulic_lobe_most"): "follower.maker_limits.lash_max",
    ("solid-lash", "bucket_least"): "follower.maker_limits.lash_min",
    ("solid-lash", "bucket_most"): "follower.maker_limits.lash_max",
}


@dataclass(frozen=True, slots=True)
class MakerValue:
    """A maker's limit, SI, in the terms of the rule; where it is stated."""

    field: str
    value: float


def maker_value(rule: Rule, limit: Limit, line: LineAnalysis) -> MakerValue | None:
    """The part maker's limit on what a limit of the book judges.

    Args:
        rule: the rule.
        limit: its limit.
        line: the line on show.

    Returns:
        The value; None where the job states none.
    """
    field = FIELDS.get((rule.id, limit.name)) or FIELDS.get((rule.id, ""))
    value = None if field is None else line.stated.value(field)
    if field is None or value is None:
        return None
    factor = (line.value("ratio") or QUOTED_RATIO) / QUOTED_RATIO if rule.id.startswith("flat-") else 1.0
    return MakerValue(line.stated.path(field), float(value) * factor)


def looser(limit: Limit, maker: MakerValue | None) -> bool:
    """Whether the maker allows more than the stop in force."""
    return maker is not None and limit.stop is not None and limit.sense.stricter(limit.stop, maker.value)
