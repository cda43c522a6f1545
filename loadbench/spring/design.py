"""The design search: wire, coil and turns for wanted loads, room and limits, over stock wire sizes."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np

from loadbench.arrays import Floats, Indices
from loadbench.errors import InputError, Place
from loadbench.spring.design_grid import Springs, springs_of
from loadbench.spring.design_limits import HARD, SLACK, Edges, Limit, Truths, breaches, edges_of, least_broken, limits
from loadbench.spring.fatigue import fatigue_known
from loadbench.spring.materials import Material
from loadbench.spring.wanted import INDEX_RANGE, Candidate, Give, Nearest, Reason, SearchAnswer, TurnedAway, Wanted

__all__ = ["Candidate", "Give", "Nearest", "Reason", "SearchAnswer", "TurnedAway", "Wanted", "search"]

# 0.9 % of mean diameter from one spring to the next.
INDICES = np.geomspace(*INDEX_RANGE, 301)

WIRE_ALIKE, COIL_ALIKE = 0.015, 0.05
"""Two springs are alike when their wires differ by no more than the first and their mean diameters than the second."""


def search(
    wanted: Wanted,
    material: Material,
    wires: Floats,
    progress: Callable[[float], None] | None = None,
    count: int = 10,
) -> SearchAnswer:
    """The best springs that keep every limit.

    Every wire is wound to every index of a fine row and to the two mean diameters at which its limits are just kept;
    loads and travel then ask for the active coils. Springs that keep every limit are ranked by their Goodman factor,
    those alike to 1e-6 by the higher surge frequency; springs without published fatigue data come last, by surge.
    From the top, each is listed unless it is like one already listed: wire within 1.5 % and mean diameter within 5 %.

    Args:
        wanted: the loads, heights and limits.
        material: of the wire.
        wires: stock diameters, m, in any order, above zero.
        progress: told the share done, 0 to 1; may raise to stop the work.
        count: most springs to list.

    Returns:
        The springs, what turned the others away, and what would have to give when nothing fits.

    Raises:
        InputError: the wants contradict themselves, or there is no wire; its place names the field.

    Source:
        own derivation: for one wire each limit is kept on one side of one mean diameter; formulas as in design_grid.
    """
    if wanted.faults:
        first = wanted.faults[0]
        raise InputError(first.what, expected=first.expected, place=first.place)
    stock = np.unique(np.asarray(wires, dtype=np.float64))
    if not stock.size or not np.all(stock > 0):
        raise InputError("no wire to wind", expected="diameters above zero", place=Place(field="wires"))
    tell = progress or (lambda _share: None)
    known, unknown = _judged_wires(wanted, material, stock)
    tell(0.1)
    edges = edges_of(wanted, material, known)
    tell(0.5)
    springs = springs_of(wanted, material, known[:, None], _mean_diameters(known, edges))
    judged = limits(wanted, springs)
    broken = breaches(judged, springs.mean_diameter.shape) > SLACK
    fits: Truths = np.logical_not(broken.any(axis=0))
    tell(0.8)
    chosen = [_candidate(wanted, springs, judged, place) for place in _best(springs, fits, count)]
    hopeless = known.size > 0 and not fits.any()
    answer = SearchAnswer(
        candidates=tuple(chosen),
        tried=stock.size * (INDICES.size + 2),
        fits=int(fits.sum()),
        turned_away=_turned_away([limit.reason for limit in judged], broken, unknown),
        alone_enough=_alone_enough(wanted, material, known, edges) if hopeless else (),
        nearest=_nearest(wanted, material, known, edges) if hopeless else None,
    )
    tell(1.0)
    return answer


def _judged_wires(wanted: Wanted, material: Material, stock: Floats) -> tuple[Floats, dict[Reason, int]]:
    """The wires whose strength, and fatigue data where wanted, are published; and how many are not, by reason."""
    strong = np.isfinite(material.tensile_strength(stock))
    lasting = np.isfinite(fatigue_known(material, stock)) | (wanted.fatigue_factor_min is None)
    unknown = {Reason.WIRE_RANGE: int((~strong).sum()), Reason.FATIGUE_DATA: int((strong & ~lasting).sum())}
    return stock[strong & lasting], unknown


def _mean_diameters(wires: Floats, edges: Edges) -> Floats:
    """The row of mean diameters of each wire, m, shape (wires, springs): an even row, and its edges."""
    narrow, wide = (index * wires for index in INDEX_RANGE)
    ends = [np.clip(edge, narrow, wide) for edge in edges.between()]
    return np.concatenate([wires[:, None] * INDICES, np.stack(ends, axis=1)], axis=1)


def _best(springs: Springs, fits: Truths, count: int) -> list[tuple[int, ...]]:
    """Places of the best springs, no two alike."""
    rows, columns = np.nonzero(fits)
    factor, surge = (each[rows, columns] for each in (springs.fatigue_factor_goodman, springs.surge_frequency))
    left: Indices = np.lexsort((-surge, -np.round(np.nan_to_num(factor, nan=-1.0), 6)))
    wire, mean = springs.wire_diameter[rows, 0], springs.mean_diameter[rows, columns]
    chosen: list[tuple[int, ...]] = []
    while left.size and len(chosen) < count:
        best = left[0]
        chosen.append((int(rows[best]), int(columns[best])))
        unlike = np.abs(wire[left] / wire[best] - 1) > WIRE_ALIKE
        left = left[unlike | (np.abs(mean[left] / mean[best] - 1) > COIL_ALIKE)]
    return chosen


def _candidate(wanted: Wanted, springs: Springs, judged: list[Limit], place: tuple[int, ...]) -> Candidate:
    """One spring told in full."""
    told = springs.at(*place)
    d, D, bind, strength = (told[n] for n in ("wire_diameter", "mean_diameter", "bind_height", "tensile_strength"))
    factors = [told.pop(f"fatigue_factor_{way}") for way in ("goodman", "gerber", "sines")]
    goodman, gerber, sines = (None if math.isnan(factor) else factor for factor in factors)
    shares = {f"stress_share_{where}": told[f"shear_stress_{where}"] / strength for where in ("seat", "open", "bind")}
    most, least, tall = wanted.outer_diameter_max, wanted.inner_diameter_min, wanted.bind_height_max
    shape = springs.mean_diameter.shape
    return Candidate(
        **told | shares,
        fatigue_factor_goodman=goodman,
        fatigue_factor_gerber=gerber,
        fatigue_factor_sines=sines,
        outer_diameter=D + d,
        inner_diameter=D - d,
        free_height=wanted.installed_height + wanted.seat_load / wanted.rate,
        bind_margin=wanted.open_height - bind,
        rate=wanted.rate,
        outer_clearance=None if most is None else most - (D + d),
        inner_clearance=None if least is None else D - d - least,
        bind_clearance=None if tall is None else tall - bind,
        edges=tuple(each.reason for each in judged if abs(np.broadcast_to(each.breach, shape)[place]) <= SLACK),
    )


def _turned_away(reasons: list[Reason], broken: Truths, unknown: dict[Reason, int]) -> tuple[TurnedAway, ...]:
    """How many springs each limit turned away, the deadliest first: by those that it alone turned away, then by all."""
    each_wire = INDICES.size + 2
    away = [TurnedAway(reason=reason, count=wires * each_wire, alone=0) for reason, wires in unknown.items()]
    single = broken.sum(axis=0) == 1
    for reason, by in zip(reasons, broken, strict=True):
        away.append(TurnedAway(reason=reason, count=int(by.sum()), alone=int((by & single).sum())))
    return tuple(sorted((each for each in away if each.count), key=lambda each: (-each.alone, -each.count)))


def _give(limit: Limit, place: tuple[int, ...], shape: tuple[int, ...]) -> Give:
    value, most = (float(np.broadcast_to(each, shape)[place]) for each in (limit.value, limit.limit))
    return Give(reason=limit.reason, limit=most, needed=value)


def _alone_enough(wanted: Wanted, material: Material, wires: Floats, edges: Edges) -> tuple[Give, ...]:
    """Each limit whose giving alone would let a spring fit, by how far it would have to at the least."""
    found = []
    for row, reason in enumerate(edges.reasons):
        if reason in HARD:
            continue
        low, high = edges.between(without=row)
        narrow, wide = (index * wires for index in INDEX_RANGE)
        low, high = np.maximum(low, narrow), np.minimum(high, wide)
        open_wires = low <= high * (1 + SLACK)
        if not open_wires.any():
            continue
        best = np.where(edges.lower[row], high, low)[open_wires]
        judged = limits(wanted, springs_of(wanted, material, wires[open_wires], best))
        limit = next(each for each in judged if each.reason is reason)
        breach = np.broadcast_to(limit.breach, best.shape)
        place = int(np.argmin(breach))
        give = _give(limit, (place,), best.shape)
        if reason is not Reason.BIND_MARGIN or give.needed >= 0:
            found.append((float(breach[place]), give))
    return tuple(give for _breach, give in sorted(found, key=lambda each: each[0]))


def _nearest(wanted: Wanted, material: Material, wires: Floats, edges: Edges) -> Nearest | None:
    """The spring whose greatest breach is least, and what it breaks; None where none would open with turns enough."""
    most = edges.mean_diameters[[edges.reasons.index(reason) for reason in HARD]].min(axis=0)
    mean = least_broken(wanted, material, wires)
    springs = springs_of(wanted, material, wires, np.where(most > 0, np.minimum(mean, most), mean))
    judged = limits(wanted, springs)
    breach = breaches(judged, wires.shape)
    possible = (springs.bind_height <= wanted.open_height * (1 + SLACK)) & (most > 0)
    if not possible.any():
        return None
    place = (int(np.argmin(np.where(possible, breach.max(axis=0), np.inf))),)
    return Nearest(
        spring=_candidate(wanted, springs, judged, place),
        breaks=tuple(
            _give(limit, place, wires.shape) for limit, by in zip(judged, breach, strict=True) if by[place] > SLACK
        ),
    )
