"""Which row of a rule is in force for a job, where a rule has one row for each family or use."""

from __future__ import annotations

from loadbench.job.stated import LineStated

RACING = frozenset({"drag", "circuit", "endurance"})


def seat_row(line: LineStated) -> tuple[str | None, str]:
    """The row of seat-load-min, and what was assumed for it; None without a family."""
    family, use, travel = (line.value(field) for field in ("follower.family", "duty.use", "follower.travel"))
    if family == "roller-hydraulic":
        row = "roller-hydraulic-short" if travel == "short" else "roller-hydraulic-standard"
        return row, "" if travel else " Travel is not stated: the row for standard travel is taken."
    if family == "roller-solid":
        row = "roller-solid-race" if use in RACING else "roller-solid-street"
        return row, "" if use else " Use is not stated: the street row is taken."
    rows = {"flat-tappet-hydraulic": "flat-hydraulic", "flat-tappet-solid": "flat-solid", "bucket": "bucket"}
    return (rows.get(family) if family else None), ""


def bind_row(line: LineStated) -> str:
    """The row of bind-margin-min."""
    return "bucket" if line.value("follower.family") == "bucket" else "usual"


def solid_row(line: LineStated) -> str:
    """The row of flat-solid-max: a pair of tool steel, or iron, which an unstated material counts as."""
    pair = {material_word(line.value("follower.material")), material_word(line.value("cam.material"))}
    return "tool-steel" if pair == {"tool-steel"} else "iron"


def seating_row(line: LineStated) -> tuple[str, str]:
    """The row of seating-velocity, and what was assumed for it: the stricter one without a family."""
    family = line.value("follower.family")
    if not family:
        return "hydraulic", " The follower's family is not stated: the stricter row is taken."
    return ("hydraulic" if family.endswith("hydraulic") else "solid"), ""


def material_word(text: str | None) -> str | None:
    """A material as one of our words: iron, steel, tool-steel; other text in its own plain form."""
    plain_text = "-".join(text.lower().split()) if text else None
    return {"cast-iron": "iron", "chilled-iron": "iron", "billet-steel": "steel"}.get(plain_text or "", plain_text)


def rows_in_force(line: LineStated) -> dict[str, str]:
    """The row in force of every rule that has alternatives; a rule without a family has none.

    Args:
        line: the line's view of the job.

    Returns:
        Limit name by rule id.
    """
    rows = {
        "bind-margin-min": bind_row(line),
        "flat-solid-max": solid_row(line),
        "seating-velocity": seating_row(line)[0],
    }
    seat, _ = seat_row(line)
    return rows | ({"seat-load-min": seat} if seat else {})
