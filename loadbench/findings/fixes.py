"""What would clear a finding, worked out with this job's own numbers."""

from __future__ import annotations

from itertools import combinations

from loadbench.findings.finding import Amount, Level, Sentence
from loadbench.findings.standing import Standing
from loadbench.findings.view import View
from loadbench.units import Kind

LENGTH, FORCE = Kind.LENGTH, Kind.FORCE


def more_room(view: View, stands: Standing, where: str) -> Sentence | None:
    """How to gain the clearance that is short: shims out, more height, less lift."""
    if stands.level in (Level.CLEAR, Level.UNKNOWN) or stands.margin is None or stands.limit is None:
        return None
    short = -stands.margin
    if short <= 0:
        return Sentence("Measure the heights again with a finer instrument, or leave more room.")
    need = Amount(short, LENGTH)
    if where == "retainer":
        lost = _seat_load_lost(view, short)
        less = "lowers the seat load" if lost is None else "takes {lost} off the seat load"
        return Sentence(
            "{short} less lift, a shorter seal or a cut guide, or locks that carry the retainer {short} higher; that "
            f"also {less}, and a {{short}} shim beneath the spring gives it back.",
            {"short": need} | ({} if lost is None else {"lost": lost}),
        )
    shims = _shims(view)
    best = _least_out(shims, short)
    if best is not None:
        after = Amount(stands.limit + stands.margin + best, LENGTH)
        return Sentence("{shim} less of shims gives {after}.", {"shim": Amount(best, LENGTH), "after": after})
    return Sentence(
        "{short} more installed height (cut the seat, other locks or retainer) or {short} less lift.", {"short": need}
    )


def _seat_load_lost(view: View, higher: float) -> Amount | None:
    """What a retainer that stands higher takes off the seat load; None where the load line is not known."""
    line, height = view.line.load_line, view.line.value("installed_height")
    if line is None or height is None:
        return None
    return Amount(float(line.load_at(height)) - float(line.load_at(height + higher)), FORCE)


def _shims(view: View) -> list[float]:
    path, count = view.line.stated.rows("spring.shims")
    values = view.line.stated.stated.values
    return [values[f"{path}.{index}"] for index in range(count) if f"{path}.{index}" in values]


def _least_out(shims: list[float], short: float) -> float | None:
    """The least that can be taken out of a stack and is enough; None where the stack is not."""
    sums = [sum(some) for size in range(1, min(len(shims), 6) + 1) for some in combinations(shims, size)]
    enough = [total for total in sums if total >= short - 1e-9]
    return min(enough, default=None)


def other_load(view: View, short: float, end: str) -> Sentence | None:
    """How much installed height moves a load by what it is short of (below zero: too much)."""
    line, height = view.line.load_line, view.line.value("installed_height" if end == "seat" else "open_height")
    if line is None or height is None:
        return None
    rate = float(line.rate_at(height))
    if rate <= 0:
        return None
    move = Amount(abs(short) / rate, LENGTH)
    if short <= 0:
        return Sentence("{move} more installed height, or a softer spring.", {"move": move})
    left = view.line.value("bind_margin")
    after = {} if left is None else {"left": Amount(left - move.value, LENGTH)}
    tail = " (coils then clear by {left})" if after else ""
    return Sentence("{move} of shims" + tail + ", or a stiffer spring.", {"move": move} | after)
