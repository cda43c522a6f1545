"""Jobs with numbered springs, valves, a plan, earlier checks and printouts. All is invented."""

from __future__ import annotations

from typing import Any

import numpy as np

from loadbench.analysis import analyse
from loadbench.assembly.fit import fit
from loadbench.assembly.plan_edits import planned
from loadbench.job.model import Job
from loadbench.units import Style
from tests.report.cases import LOOSE_INNER, NEST, PAIR, SOLID, STATED, job, readings

SPEC = [
    {"height": "1.900 in", "load": "150 lbf", "minus": "8 lbf", "plus": "8 lbf"},
    {"height": "1.300 in", "load": "390 lbf"},
]
TARGETS = {"seat_load": "152 lbf", "tolerance_percent": 6}
PRINTED = "=1+1;a slip\n+2\tthree\n" + "7" * 40_000 + "\n\n-S01 1.900 150.0\n"


def springs(count: int, heights: tuple[float, ...] = (1.9, 1.3), *, lost: float = 0.0) -> list[dict[str, Any]]:
    """Invented springs whose loads scatter by a few pounds; the fourth is far too weak."""
    chance = np.random.default_rng(4)
    found = []
    for place in range(count):
        seat, rate = float(chance.normal(150, 2)), float(chance.normal(405, 3))
        seat -= 25 if place == 3 else 0
        loads = [(height, round((seat + rate * (1.9 - height)) * (1 - lost), 1)) for height in heights]
        found.append({"id": f"S{place + 1:02}", "mark": f"={place}", "readings": readings(*loads)})
    return found


def valves(count: int) -> list[dict[str, Any]]:
    chance = np.random.default_rng(5)
    found: list[dict[str, Any]] = []
    for place in range(count):
        name = f"{place // 2 + 1}{'IE'[place % 2]}"
        found.append(
            {"id": name, "bare_height": f"{chance.normal(1.945, 0.008):.3f} in", "spring": f"S{place + 1:02}",
             "shims": ["0.030 in"] if place % 3 else []}
        )  # fmt: skip
    return found


def with_plan(subject: Job) -> Job:
    """The job with the plan of its own fit kept in it, so that the valves still stand as before."""
    answer = fit(analyse(subject))
    assert answer.feasible, answer
    return planned(subject, answer, style=Style.INCH_POUND, made_on="2031-05-04")


def head(**more: Any) -> Job:
    """Sixteen valves, eighteen springs, a spec, targets and printouts."""
    document: dict[str, Any] = {
        "springs": springs(18),
        "valves": valves(16),
        "targets": TARGETS,
        "printouts": [{"name": "slip", "text": PRINTED, "recipe": "mine", "record": {"tester": "T", "hours": 3.5}}],
        "version": 2,
    }
    spring = more.pop("spring", {"readings": readings((1.9, 150), (1.3, 391)), "spec": SPEC})
    return job(spring, more.pop("follower", SOLID), **(document | STATED | more))


def _curved(count: int) -> list[dict[str, Any]]:
    """Progressive springs, one of them with repeats, and a straight one between."""
    rows = ((1.95, 120.0), (1.8, 180.0), (1.6, 275.0), (1.45, 365.0), (1.3, 480.0))
    found = []
    for place in range(count):
        loads = [(height, load + 1.5 * place) for height, load in rows]
        loads += [(1.8, 181.5)] if place == 1 else []
        loads = [(height, 130 + 400 * (1.95 - height)) for height, _ in rows] if place == 2 else loads
        found.append({"id": f"S{place + 1:02}", "readings": readings(*loads)})
    return found


def _nested(count: int) -> list[dict[str, Any]]:
    found = []
    for place in range(count):
        outer = readings((1.9, 120 + place), (1.25, 340 + 2 * place), part="outer")
        inner = readings((1.83, 45 + place), (1.2, 150), (1.5, 99), part="inner")
        found.append({"id": f"S{place + 1:02}", "readings": [*outer, *inner, *readings((1.9, 166), part="pair")]})
    return found


def _loose(count: int) -> list[dict[str, Any]]:
    found = []
    for place in range(count):
        outer = readings((1.9, 120 + place), (1.25, 340 + 2 * place), part="outer")
        inner = readings((1.5, 40 + place), (1.2, 150), part="inner")
        found += [{"id": f"O{place + 1}", "readings": outer}, {"id": f"I{place + 1}", "readings": inner}]
    return found


LINES = {
    "intake": {"valve_gear": {"lobe_lift": "0.300 in"}},
    "exhaust": {"valve_gear": {"lobe_lift": "0.310 in"}, "targets": {"seat_load": "150 lbf"}},
}
EARLIER = [
    {"record": {"date": "2031-01-02", "hours": 0}, "springs": springs(6)},
    {"record": {"date": "2031-02-02", "hours": 10.5}, "springs": springs(6, lost=0.02)},
]
BARE: dict[str, Any] = {"targets": {}, "printouts": [], "history": []}

SETS: dict[str, tuple[Job, dict[str, Any]]] = {
    "sixteen with a plan": (
        with_plan(head()),
        {
            "plan.placed.3.shims.0": "0.045 in",
            "valves.5.bare_height": "1.950 in",
            "valves.1.shims.0": "0.015 in",
            "springs.7.readings.1.load": "420 lbf",
            "spring.spec.0.minus": "1 lbf",
            "valve_gear.lash": "0.020 in",
            "tester.load_accuracy_percent": 0.5,
            "targets.seat_load": "155 lbf",
        },
    ),
    "progressive set": (
        with_plan(head(springs=_curved(5), valves=[{**v, "lash": "0.012 in"} for v in valves(4)], spring={}, **BARE)),
        {
            "plan.placed.0.shims.0": "0.045 in",
            "springs.1.readings.2.load": "281 lbf",
            "springs.2.readings.4.load": "470 lbf",
            "valves.2.lash": "0.020 in",
        },
    ),
    "nested set": (
        with_plan(head(springs=_nested(5), valves=valves(4), spring=NEST, **BARE)),
        {
            "springs.1.readings.0.load": "125 lbf",
            "spring.coils.1.seat_step": "0.080 in",
            "valves.0.bare_height": "1.93 in",
        },
    ),
    "loose pairs": (
        with_plan(
            head(springs=_loose(4), valves=[{**v, "spring": None} for v in valves(3)], spring=LOOSE_INNER, **BARE)
        ),
        {"springs.1.readings.1.load": "160 lbf", "valves.0.bare_height": "1.93 in", "valve_gear.lobe_lift": "0.25 in"},
    ),
    "pair as a whole, no spec": (
        head(
            springs=[
                {"id": f"S{n:02}", "readings": readings((1.9, 150 + n), (1.3, 420 + n), part="pair")} for n in (1, 2)
            ],
            valves=[],
            spring={**PAIR, "coils": [{**PAIR["coils"][0]}, {**PAIR["coils"][1], "seat_step": "0 in"}]},
            targets={"seat_load": "150 lbf", "open_load": "280 lbf", "tolerance_percent": 5},
            history=[],
        ),
        {"springs.0.readings.1.load": "425 lbf", "spring.installed_height": "1.885 in"},
    ),
    "stated rate, one reading each": (
        head(
            springs=[{"id": f"S{n:02}", "readings": readings((1.9, 150 + n))} for n in range(1, 5)],
            valves=valves(3),
            spring={"rate": "400 lbf/in"},
            **BARE,
        ),
        {"spring.rate": "410 lbf/in", "springs.2.readings.0.load": "158 lbf"},
    ),
    "lines and a history": (
        with_plan(
            head(
                springs=springs(6, (1.9, 1.6, 1.3), lost=0.05),
                valves=[{**v, "line": ("intake", "exhaust")[n % 2]} for n, v in enumerate(valves(4))],
                lines=LINES,
                history=EARLIER,
                record={"date": "2031-03-02", "hours": 22},
                targets={},
            )
        ),
        {
            "history.0.springs.2.readings.0.load": "156 lbf",
            "springs.4.readings.0.load": "139 lbf",
            "plan.placed.2.shims.0": "0.045 in",
            "lines.exhaust.valve_gear.lobe_lift": "0.290 in",
        },
    ),
}
"""Each with a change to it; "=0" and the like as marks, and a printout of hostile text."""
