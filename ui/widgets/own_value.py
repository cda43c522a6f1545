"""Where a field of the common part stands for the line on show: its own entry, or the one it takes from the common."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from pydantic import BaseModel

from loadbench.job.edits import value_at

if TYPE_CHECKING:
    from loadbench.job.model import Job
    from ui.session import Session


@dataclass(frozen=True, slots=True)
class Standing:
    """The path that an edit goes to, the path that holds now, and what stands there."""

    own: str
    shown: str
    value: Any

    @property
    def inherited(self) -> bool:
        """Whether the value comes from the common part and the line could have its own."""
        return self.own != self.shown

    @property
    def overriding(self) -> bool:
        """Whether the line has its own entry in place of the common one."""
        return self.own.startswith("lines.") and self.own == self.shown and self.value not in (None, ())


def list_above(field: str) -> str | None:
    """The outermost list that a path runs through: "spring.coils" of "spring.coils.0.wire.diameter"; None without."""
    steps = field.split(".")
    place = next((place for place, step in enumerate(steps) if step.isdigit()), None)
    return None if place is None else ".".join(steps[:place])


def standing(session: Session, job: Job, field: str) -> Standing:
    """Where a field stands for the line on show.

    Args:
        session: tells the line on show.
        job: the job, as committed or previewed.
        field: dotted path in the common part.

    Returns:
        The standing. A line's own list replaces the common one whole, so an item is inherited with its list.
    """
    own = session.own_field(field)
    if own == field:
        return Standing(own, own, value_at(job, own))
    above = list_above(field)
    taken = bool(value_at(job, session.own_field(above))) if above else value_at(job, own) not in (None, "", ())
    shown = own if taken else field
    return Standing(own, shown, value_at(job, shown))


def plain(value: Any) -> Any:
    """A part or a tuple of parts as the plain tree that an edit takes."""
    if isinstance(value, BaseModel):
        return value.model_dump()
    if isinstance(value, tuple):
        return tuple(plain(item) for item in value)
    return value


def changes_for(session: Session, field: str, value: Any) -> dict[str, object]:
    """The changes that set a field for the line on show.

    Args:
        session: tells the job and the line on show.
        field: dotted path in the common part.
        value: what to set.

    Returns:
        Path -> value, in order. Where the field lies in a list that the line takes from the common part, the whole
        list becomes the line's own first; otherwise its other items would be lost.
    """
    own = session.own_field(field)
    above = list_above(field)
    if own != field and above is not None:
        own_list = session.own_field(above)
        common = value_at(session.job, above)
        if not value_at(session.job, own_list) and common:
            return {own_list: plain(common), own: value}
    return {own: value}
