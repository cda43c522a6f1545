"""What a view of the Followers page waits for, and the field that leads on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from loadbench.analysis.changeover import changeover_missing
from ui.followers.axle_place import shown_of
from ui.followers.wording import small, tr
from ui.labels import label_of

if TYPE_CHECKING:
    from loadbench.analysis import LineAnalysis

FAMILY = "follower.family"
MOST = 6
"""Fields that one sentence names."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """What is waited for, in a sentence, and the field that a button leads to."""

    sentence: str
    field: str


def need_of(key: str, line: LineAnalysis) -> Need | None:
    """What a view lacks to be drawn.

    Args:
        key: of the view.
        line: on show.

    Returns:
        None where it can be drawn; the match always can.
    """
    looks = {"contact": _contact, "axle": _axle, "plunger": _plunger}
    return looks[key](line) if key in looks else None


def _contact(line: LineAnalysis) -> Need | None:
    if line.follower.contact_idle is not None or line.follower.contact_limit is not None:
        return None
    figure = line.figures.get("hertz_nose")
    lead = tr("How hard lobe and follower press on each other follows from lobe, follower and load.")
    return _waits(lead, () if figure is None else figure.missing)


def _axle(line: LineAnalysis) -> Need | None:
    family = str(line.stated.value(FAMILY) or "")
    if family and not family.startswith("roller"):
        return Need(sentence=tr("This follower has no axle: needles and bush concern rollers only."), field=FAMILY)
    if shown_of(line) is not None:
        return None
    lead = tr("Where needles give way to a bush follows from the loads over the turn and the sizes of the axle.")
    open_load = line.figures.get("open_load")
    return _waits(lead, changeover_missing(line) or (() if open_load is None else open_load.missing))


def _plunger(line: LineAnalysis) -> Need | None:
    if line.follower.travels:
        return None
    figure, family = line.figures.get("plunger_stiffness"), str(line.stated.value(FAMILY) or "")
    if figure is None:
        if family:
            return Need(sentence=tr("This follower has no plunger: only hydraulic ones do."), field=FAMILY)
        return _waits(tr("Only hydraulic followers have a plunger."), (FAMILY,))
    lead = tr("What the oil under the plunger does follows from its sizes, its depth, the oil and the loads.")
    return _waits(" ".join(each for each in (lead, figure.note if figure.missing else "") if each), figure.missing)


def _waits(lead: str, missing: tuple[str, ...]) -> Need:
    fields = missing or (FAMILY,)
    return Need(sentence=lead + "\n" + tr("It waits for: {fields}.").format(fields=names_of(fields)), field=fields[0])


def names_of(fields: tuple[str, ...]) -> str:
    """Fields as they are named within a sentence, each name once."""
    names = list(dict.fromkeys(small(label_of(field)) for field in fields))
    told = ", ".join(names[:MOST])
    return tr("{fields} and more").format(fields=told) if len(names) > MOST else told
