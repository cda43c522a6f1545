"""What the trade's rule says of the axle, and what a job's own parts say."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from loadbench.analysis.changeover import USUAL_SAFETY
from loadbench.units import Kind, display_unit, tell, to_display
from ui.followers.axle_place import AxlePlace, place_at
from ui.followers.wording import tr
from ui.level_words import source_words

if TYPE_CHECKING:
    from loadbench.analysis.changeover import ChangeOverShown
    from loadbench.findings.rulebook import Limit
    from loadbench.units import Style

NEEDLE, BUSH, EITHER = "needle", "bush", "either"


def force(value: float, style: Style) -> str:
    """A load in words."""
    return str(tell(value, Kind.FORCE, style))


def hours(seconds: float) -> str:
    """A life, h; what is far beyond any use isn't told to the hour."""
    told = seconds / 3600
    return tr("over 100\u202f000\u2009h") if told > 1e5 else f"{told:,.0f}\u2009h".replace(",", "\u202f")


def percent(share: float) -> str:
    """A share of time."""
    return f"{100 * share:.0f}\u2009%"


def margin(value: float) -> str:
    """How far from a limit, as a multiple of it."""
    return f"{value:.2f}" if value < 10 else f"{value:.0f}"


def trade_choice(load: float, limit: Limit) -> str:
    """The axle that the trade takes at a load."""
    if limit.stop is not None and load >= limit.stop:
        return BUSH
    return EITHER if limit.watch is not None and load >= limit.watch else NEEDLE


def parts_choice(place: AxlePlace) -> str:
    """The axle that is farther from what it bears."""
    return NEEDLE if place.needle_margin >= place.bush_margin else BUSH


def trade_sentence(load: float, limit: Limit, style: Style) -> str:
    """The trade's rule at a load."""
    texts = {
        NEEDLE: tr("The trade: {load} open suits needles; a bush from {watch} in some uses, always from {stop}."),
        EITHER: tr("The trade: at {load} open some uses take a bush already, from {stop} on all do."),
        BUSH: tr("The trade: {load} open has reached {stop}, a load for a bush."),
    }  # fmt: skip
    watch, stop = (force(each, style) if each is not None else "\u2013" for each in (limit.watch, limit.stop))
    return texts[trade_choice(load, limit)].format(load=force(load, style), watch=watch, stop=stop)


def needles_sentence(place: AxlePlace, shown: ChangeOverShown) -> str:
    """What the needles do at a place."""
    return tr("needles last {life} of {wanted} wanted, with a static safety of {safety} of {asked}").format(
        life=hours(place.life), wanted=hours(shown.wanted_life), safety=f"{place.safety:.2f}", asked=f"{USUAL_SAFETY:g}"
    )


def bush_sentence(place: AxlePlace, shown: ChangeOverShown) -> str:
    """What the bush does at a place."""
    if not shown.bush_label or not np.isfinite(place.bush_margin):
        return tr("no list is known for the bush\u2019s material")
    if place.bush_margin >= 1:
        return tr("the bush keeps within its list {times} times").format(times=margin(place.bush_margin))
    return tr("the bush is loaded {times} times what its list allows").format(times=margin(1 / place.bush_margin))


def parts_sentence(shown: ChangeOverShown, share: float, style: Style) -> str:
    """What the job's own parts say at its own load."""
    place = place_at(shown, shown.job_load, share)
    text = tr("These parts, idling {share}: {needles}; {bush}.").format(
        share=percent(share), needles=needles_sentence(place, shown), bush=bush_sentence(place, shown)
    )
    return f"{text} {change_sentence(place, style)}"


def change_sentence(place: AxlePlace, style: Style) -> str:
    """From which load on the bush is the better of the two."""
    if place.change is not None:
        return tr("By what each is said to bear they change over at {load}.").format(load=force(place.change, style))
    better = parts_choice(place)
    if better == NEEDLE:
        return tr("By what each is said to bear the needles are ahead at every load shown.")
    return tr("By what each is said to bear the bush is ahead at every load shown.")


def agreement(shown: ChangeOverShown, share: float, limit: Limit) -> str:
    """Whether the two say the same of this job."""
    trade = trade_choice(shown.job_load, limit)
    if trade == EITHER:
        return ""
    own = parts_choice(place_at(shown, shown.job_load, share))
    return tr("Both say the same here.") if own == trade else tr("They disagree here.")


def notes_of(shown: ChangeOverShown, limit: Limit, style: Style) -> tuple[str, ...]:
    """What stands beneath the picture: the rule of thumb, the own parts, and what both rest on."""
    share = shown.job_share
    own = tr("The share of time idling is not stated, so the job is a level line.")
    if share is not None:
        own = " ".join((parts_sentence(shown, share, style), agreement(shown, share, limit))).strip()
    found = []
    if shown.bush_label:
        said = tr("List: pressure and PV of {label}, for steady sliding. {source}")
        found.append(said.format(label=shown.bush_label, source=source_words(shown.bush_source)))
    if shown.typical:
        found.append(tr("Taken as is typical: {what}.").format(what="; ".join(shown.typical)))
    return ("\n".join((trade_sentence(shown.job_load, limit, style), own, " ".join(found))).strip(),)


def job_sentence(shown: ChangeOverShown, style: Style) -> str:
    """The job in a sentence."""
    load = force(shown.job_load, style)
    if shown.job_share is None:
        return tr("This job: {load} open; its share of idling is not stated.").format(load=load)
    told = place_sentence(place_at(shown, shown.job_load, shown.job_share), shown, style)
    return tr("This job: {told}").format(told=told)


def place_sentence(place: AxlePlace, shown: ChangeOverShown, style: Style) -> str:
    """The read-out at a place."""
    return tr("{load} open, idling {share}: {needles}; {bush} ({p}, {pv}).").format(
        load=force(place.load, style), share=percent(place.share), needles=needles_sentence(place, shown),
        bush=bush_sentence(place, shown), p=tell(place.pressure, Kind.STRESS, style), pv=tell(place.pv, Kind.PV, style),
    )  # fmt: skip


def axle_rows(shown: ChangeOverShown, style: Style) -> list[list[str]]:
    """The data behind the picture: a row for each load and share."""
    grid = shown.grid
    force_unit, stress, pv = (display_unit(kind, style) for kind in (Kind.FORCE, Kind.STRESS, Kind.PV))
    heads = ["idle_share", f"open_load_{force_unit}", "needle_life_h", "needle_static_safety"]
    heads += [f"bush_pressure_{stress}", f"bush_pv_{pv}", "needle_margin", "bush_margin"]
    rows = [heads]
    loads = to_display(grid.loads, Kind.FORCE, style)
    pressures, works = to_display(grid.bush_pressure, Kind.STRESS, style), to_display(grid.bush_pv, Kind.PV, style)
    columns = (grid.needle_life / 3600, grid.needle_safety, pressures, works, grid.needle_margin, grid.bush_margin)
    for column, share in enumerate(grid.shares):
        for row, load in enumerate(loads):
            rows.append([f"{share:.4g}", f"{load:.6g}", *(f"{float(each[row, column]):.6g}" for each in columns)])
    return rows
