"""Invented sets of springs with planted faults, as jobs."""

from __future__ import annotations

import random
from typing import Any

from loadbench.analysis import analyse
from loadbench.findings.set_check.check_set import check_set
from loadbench.findings.set_check.result import SetCheck
from loadbench.job.edits import replaced_all
from loadbench.job.model import Job

TALL, SHORT = 1.9, 1.3
SEAT, RATE = 150.0, 420.0
TEN = tuple(TALL - 0.08 * step for step in range(10))
FOUR = (1.9, 1.7, 1.5, 1.3)


def a_set(count: int = 16, heights: tuple[float, ...] = (TALL, SHORT), **how: Any) -> Job:
    """Springs of one kind, 1 % apart.

    `faults` (spring's place, height) -> lbf added; `losses` of each earlier check's share, the first first; `parts` of
    a nest with their share of the load; `spec`, `valves`, `repeats`, `more` fields.
    """
    chance = random.Random(how.get("seed", 1))  # noqa: S311 - no secret
    own = [1 + chance.gauss(0, 0.01) for _ in range(count)]
    faults: dict[tuple[int, float], float] = how.get("faults", {})
    parts = how.get("parts", {"": 1.0})

    def springs(share: float, added: dict[tuple[int, float], float]) -> tuple[dict[str, Any], ...]:
        return tuple(
            {
                "id": f"S{place + 1:02d}",
                "readings": tuple(
                    {"height": f"{height:.3f} in", "load": f"{load:.1f} lbf", **({"part": part} if part else {})}
                    for part, of in parts.items()
                    for height in heights
                    for _ in range(how.get("repeats", 1))
                    for load in [
                        (SEAT * own[place] + RATE * (TALL - height)) * of * share
                        + chance.gauss(0, 0.3)
                        + added.get((place, height), 0.0)
                    ]
                ),
            }
            for place in range(count)
        )

    losses = how.get("losses", ())
    changes: dict[str, Any] = {
        "spring.installed_height": "1.900 in",
        "spring.bind_height": "1.100 in",
        "valve_gear.measured_net_lift": "0.600 in",
        "springs": springs(1 - losses[-1] if losses else 1.0, faults),
    }
    if how.get("spec", True):
        changes["spring.spec"] = tuple(
            {"height": f"{h:.3f} in", "load": f"{SEAT + RATE * (TALL - h):.0f} lbf", "minus": off, "plus": off}
            for h, off in ((heights[0], "8 lbf"), (heights[-1], "20 lbf"))
        )
    if any(parts):
        changes["spring.coils"] = tuple({"name": name} for name in parts if name != "pair")
    if losses:
        changes["history"] = tuple(
            {"record": {"date": f"2025-0{k + 1}-11", "hours": 10.0 * k}, "springs": springs(1 - share, {})}
            for k, share in enumerate(losses[:-1])
        )
        changes["record"] = {"date": "2025-09-11", "hours": 10.0 * (len(losses) - 1)}
    valves = how.get("valves", min(count, 16))
    changes["valves"] = tuple({"id": f"{k // 2 + 1}{'IE'[k % 2]}", "spring": f"S{k + 1:02d}"} for k in range(valves))
    return replaced_all(Job(title="Invented set", units="inch-pound"), changes | how.get("more", {}))


FAULTS = {(6, TALL): -14.0, (11, TALL): 12.0}
"""S07 stands low at the installed height, S12 high."""


def checked(job: Job) -> SetCheck:
    """A job's set checked."""
    return check_set(analyse(job))
