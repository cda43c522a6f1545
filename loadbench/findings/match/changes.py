"""What would have to change for a follower to suit: one plain sentence for each saying that stands in its way."""

from __future__ import annotations

from collections.abc import Callable

from loadbench.findings.finding import Amount, Finding, Level, Sentence
from loadbench.findings.loads import QUOTED_RATIO
from loadbench.findings.match.kits import HYDRAULICS, ROLLERS
from loadbench.findings.match.result import CRITERION_WORDS, Criterion, Kit
from loadbench.findings.match.sayings import Saying, Seat, lowered
from loadbench.findings.view import View
from loadbench.units import Kind

Change = Callable[[Finding, Seat], Sentence | None]
FLAT_RULES = frozenset({"flat-hydraulic-max", "flat-solid-max", "flat-break-in"})


def change_for(saying: Saying, criterion: Criterion, seat: Seat) -> Sentence:
    """What would clear a saying, with its amounts.

    Args:
        saying: a stop or a watch.
        criterion: under which it was said.
        seat: the follower.

    Returns:
        A sentence such as "Spring open load down to 360 lbf, from 399 lbf."
    """
    finding = saying.finding
    made = CHANGES.get(finding.id, _fix)(finding, seat) or _fix(finding, seat)
    if made is not None:
        return made
    said = lowered(finding.sentence)
    return Sentence(f"{CRITERION_WORDS[criterion]}: {said.template}", said.amounts)


def line_view(line: str | None, seat: Seat) -> View:
    """A line by its name; the one with the greatest open load where there is none of that name."""
    return next((view for view in seat.views if view.line.name == line), seat.heaviest)


def allowed_open(rule: str, limit: float | None, view: View) -> Amount | None:
    """The open load that a rule's limit allows, at this job's rocker ratio; None without a limit."""
    if limit is None:
        return None
    ratio = view.line.value("ratio")
    factor = QUOTED_RATIO / ratio if rule in FLAT_RULES and ratio else 1.0
    return Amount(limit * factor, Kind.FORCE)


def _fix(finding: Finding, seat: Seat) -> Sentence | None:
    return finding.fix


def _open_load(finding: Finding, seat: Seat) -> Sentence | None:
    view = line_view(finding.line, seat)
    allowed, load = allowed_open(finding.id, finding.limit, view), view.open_load
    if allowed is None or load.value is None or load.value <= allowed.value:
        return None
    amounts = {"allowed": allowed, "load": Amount(load.value, Kind.FORCE)}
    first = " for the first run" if finding.id == "flat-break-in" else ""
    return Sentence(f"Spring open load down to {{allowed}}{first}, from {{load}}.", amounts)


def _axle_load(finding: Finding, seat: Seat) -> Sentence | None:
    if finding.limit is None or finding.value is None:
        return None
    amounts = {"allowed": Amount(finding.limit, Kind.FORCE), "load": Amount(finding.value, Kind.FORCE)}
    oil = "" if finding.level is Level.STOP or seat.heaviest.value("follower.oil_feed") else ", or the oil feed stated"
    bush = ", or a bushed axle" if seat.heaviest.value("follower.axle") == "needle" else ""
    bush += " with pressure oil" if bush and seat.heaviest.value("follower.oil_feed") == "splash" else ""
    return Sentence(f"Spring open load under {{allowed}}, from {{load}}{oil}{bush}.", amounts)


def _maker(finding: Finding, seat: Seat) -> Sentence | None:
    if finding.limit is None or finding.value is None:
        return None
    what = "Spring open load" if finding.value_kind is Kind.FORCE else "Speed limit"
    amounts = {"allowed": Amount(finding.limit, finding.value_kind or Kind.FORCE)}
    return Sentence(f"{what} down to {{allowed}}, as the follower's maker says.", amounts)


def _speed(finding: Finding, seat: Seat) -> Sentence | None:
    if finding.limit is None or finding.value is None:
        return None
    amounts = {"allowed": Amount(finding.limit, Kind.SPEED), "speed": Amount(finding.value, Kind.SPEED)}
    return Sentence("Speed limit down to {allowed}, from {speed}.", amounts)


def _float(finding: Finding, seat: Seat) -> Sentence | None:
    apart = line_view(finding.line, seat).line.value("separation_speed")
    if finding.limit is None or apart is None:
        return None
    amounts = {"allowed": Amount(apart / (1.0 + finding.limit), Kind.SPEED)}
    return Sentence("Speed limit down to {allowed}, or more load, less mass or a gentler lobe.", amounts)


def _contact_lost(finding: Finding, seat: Seat) -> Sentence | None:
    onset = line_view(finding.line, seat).line.value("onset_speed")
    if onset is None or finding.fix is None:
        return None
    said = lowered(finding.fix)
    amounts = said.amounts | {"allowed": Amount(onset / (1.0 + (finding.limit or 0.0)), Kind.SPEED)}
    return Sentence(f"Speed limit down to {{allowed}}, or {said.template}", amounts)


def _camshaft(finding: Finding, seat: Seat) -> Sentence | None:
    word = "roller" if seat.kit in ROLLERS else "flat"
    return Sentence(f"Another camshaft: a cam ground for {word} followers.")


def _ramps(finding: Finding, seat: Seat) -> Sentence | None:
    word = "hydraulic" if seat.kit in HYDRAULICS else "solid"
    little = ", or little lash" if finding.level is Level.WATCH else ""
    return Sentence(f"Another camshaft: lobes for {word} followers{little}.")


def _material(finding: Finding, seat: Seat) -> Sentence | None:
    return Sentence("A follower of a material that the camshaft's maker names for it.")


def _street(finding: Finding, seat: Seat) -> Sentence | None:
    return Sentence("Oil to the axle at idle, and an inspection interval that is kept.")


def _oil(finding: Finding, seat: Seat) -> Sentence | None:
    asked = seat.book.limit("flat-oil", "phosphorus").watch
    said = f"Oil with an anti-wear additive: {asked:g} ppm of phosphorus or more." if asked is not None else None
    return finding.fix if said is None else Sentence(said)


def _room(finding: Finding, seat: Seat) -> Sentence | None:
    """Less preload, as far as there is any; else more room to the coils' bind."""
    view = line_view(finding.line, seat)
    depth, ratio, margin = view.line.value("plunger_depth"), view.line.value("ratio"), finding.margin
    if depth is None or not ratio or margin is None or margin >= 0:
        return None
    left = depth + margin / ratio
    amounts = {"short": Amount(-margin, Kind.LENGTH), "left": Amount(left, Kind.LENGTH)}
    if left <= 0:
        return Sentence("{short} more room to the coils' bind: more installed height or less lift.", amounts)
    return Sentence("A plunger set no deeper than {left}, or {short} more room to the coils' bind.", amounts)


def _pressure(finding: Finding, seat: Seat) -> Sentence | None:
    amounts = finding.sentence.amounts
    if "allowed" not in amounts or "p" not in amounts:
        return None
    said = "Contact pressure down to {allowed}, from {p}: less load, a larger roller or crown, or a harder pair."
    return Sentence(said, {name: amounts[name] for name in ("allowed", "p")})


CHANGES: dict[str, Change] = {
    "flat-hydraulic-max": _open_load,
    "flat-solid-max": _open_load,
    "standard-travel-max": _open_load,
    "short-travel-max": _open_load,
    "flat-break-in": _open_load,
    "bushed-axle": _axle_load,
    "maker-limits": _maker,
    "short-travel": _speed,
    "float-margin": _float,
    "contact-lost": _contact_lost,
    "bind-pumped-up": _room,
    "cam-follower-kind": _camshaft,
    "lobe-lash-kind": _ramps,
    "cam-follower-material": _material,
    "solid-roller-street": _street,
    "flat-oil": _oil,
    "contact-stress": _pressure,
}


def another_head(kit: Kit) -> Sentence:
    """For a kit that has no place in this head."""
    kind = "with its cams over buckets" if kit is Kit.BUCKET else "with rockers"
    return Sentence(f"Another cylinder head, {kind}.")
