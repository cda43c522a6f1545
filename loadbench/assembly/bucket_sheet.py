"""The rows of the worksheet for buckets: new shims from stock and from each other."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from loadbench.analysis import Analysis
from loadbench.assembly.setting_result import ValveSetting
from loadbench.assembly.setting_valve import ValveAt, started
from loadbench.errors import Place, Problem
from loadbench.findings.finding import Amount, Level, Sentence
from loadbench.fitup.bucket_shims import choose_shims
from loadbench.units import Kind, Style

SHIM_TOLERANCE = 0.03e-3
"""How near lash by shims has to come, m. Source: common practice."""

SHIM_GRIDS = {Style.METRIC: 0.05e-3, Style.INCH_POUND: 0.002 * 0.0254}
"""Steps in which shims are sold, m. Source: common practice."""


def bucket_rows(at: list[ValveAt], analysis: Analysis, problems: list[Problem]) -> list[ValveSetting]:
    """A row a valve, and what is wrong with the stock among the problems."""
    rows = {each.index: _bucketstarted(each) for each in at}
    ready = [each for each in at if rows[each.index].missing == ()]
    stated = analysis.stated
    count = len(analysis.job.bucket_shims_in_stock)
    stock = [stated.values.get(f"bucket_shims_in_stock.{place}") for place in range(count)]
    counts = [None if place >= len(analysis.job.bucket_shim_counts) else analysis.job.bucket_shim_counts[place]
              for place in range(count)]  # fmt: skip
    for place, number in enumerate(counts):
        if number is not None and number < 0:
            where = Place(field=f"bucket_shim_counts.{place}")
            problems.append(Problem(what=f"{number} shims cannot be in stock.", expected="zero or more", place=where))
            counts[place] = 0
    known = [(size, number) for size, number in zip(stock, counts, strict=True) if size is not None]
    if not ready:
        return [rows[each.index] for each in at]
    old, found, wanted = (
        np.array([getattr(rows[each.index], name) for each in ready], dtype=np.float64)
        for name in ("old_shim", "found", "wanted")
    )
    chosen = choose_shims(
        old, found, wanted, tolerance=SHIM_TOLERANCE, stock=np.array([size for size, _ in known]),
        counts=tuple(number for _, number in known), grid=SHIM_GRIDS[stated.style or Style.METRIC],
    )  # fmt: skip
    for each, choice in zip(ready, chosen, strict=True):
        row = rows[each.index]
        giver = None if choice.taken_from is None else rows[ready[choice.taken_from].index].valve
        words = {
            "shim": Amount(choice.shim, Kind.LENGTH), "lash": Amount(choice.lash, Kind.LENGTH),
        }  # fmt: skip
        said = "Put in {shim}, from stock: lash {lash}."
        if choice.kept:
            said = "Leave it."
        elif giver is not None:
            said = f"Put in {{shim}}, the one from valve {_plain(giver)}: lash {{lash}}."
        elif choice.buy:
            said = "Buy {shim}: lash {lash}."
        level = Level.CLEAR if choice.kept else Level.WATCH
        if not choice.within:
            level, said = Level.STOP, f"{said} No shim comes near the wanted lash: measure lash and old shim again."
        if row.found is not None and row.found <= 0:
            level, said = Level.STOP, f"No lash: the valve may be held open. {said}"
        rows[each.index] = replace(
            row, new_shim=choice.shim, after=choice.lash, shim_from=giver, buy=choice.buy, level=level,
            do=Sentence(said, words),
        )  # fmt: skip
    return [rows[each.index] for each in at]


def _plain(name: str) -> str:
    return name.replace("{", "{{").replace("}", "}}")


def _bucketstarted(at: ValveAt) -> ValveSetting:
    row = started(at)
    wanted = at.own("lash") if at.own("lash") is not None else at.value("valve_gear.lash")
    found, old = at.own("lash_found"), at.own("bucket_shim")
    missing = [] if wanted is not None else [at.line.stated.path("valve_gear.lash")]
    missing += [] if found is not None else [at.path("lash_found")]
    missing += [] if old is not None else [at.path("bucket_shim")]
    do = "Measure the lash." if found is None else "Measure the shim that comes out." if old is None else ""
    do = do or ("State the lash that is wanted." if wanted is None else "")
    level = Level.UNKNOWN if missing else None
    return replace(row, found=found, wanted=wanted, old_shim=old, level=level, missing=tuple(missing), do=Sentence(do))
