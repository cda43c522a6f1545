"""A printout into the job, as one edit: its springs, its text, its recipe; what stood there goes to the history."""

from __future__ import annotations

from collections.abc import Sequence

from loadbench.job.edits import replaced_all
from loadbench.job.kept_parts import Printout, Recipe
from loadbench.job.model import HistoryEntry, Job, NumberedSpring
from loadbench.job.parts import Reading, Record
from loadbench.readings.printout.meaning import PrintedSpring, Understood
from loadbench.readings.printout.reading import MOST_KEPT
from loadbench.readings.printout.recipes import recipe_of

_OF_ONE_CHECK = ("date", "hours", "passes")


def springs_of(understood: Understood) -> tuple[NumberedSpring, ...]:
    """The springs of a printout as the job keeps them: each quantity as printed, with its unit.

    Args:
        understood: the printout.

    Returns:
        One for each spring, in the order of the printout.
    """
    return tuple(_spring(spring) for spring in understood.springs)


def _spring(spring: PrintedSpring) -> NumberedSpring:
    readings = tuple(
        Reading(
            part=_whole(each.part) or None,
            height=each.height_text,
            load=each.load_text,
            direction=each.direction or None,
        )
        for each in spring.readings
    )
    return NumberedSpring(id=_whole(spring.id), mark=_whole(spring.mark) or None, readings=readings)


def _whole(text: str) -> str:
    """A text without halves of characters, which no file can store."""
    return text if text.isascii() else text.encode("utf-8", "replace").decode("utf-8")


def imported(job: Job, understood: Understood, *, record: Record | None = None, replace: bool) -> Job:
    """The job with a printout in it.

    Springs are the same where their numbers are, to the letter: "7" is not "S07". A spring that the printout does not
    hold stays as it is. Marks stay where the printout has none.

    Args:
        job: before.
        understood: the printout.
        record: who measured it, when, with what. None: the job's stays, without its date, hours and passes where the
            springs before went to the history.
        replace: the printout is a new check of the springs that it shares with the job. Where a reading differs, all
            springs as they were go to the history with the job's record, and the new readings stand alone. False:
            the new readings stand beside the present ones.

    Returns:
        The job after: one edit, validated.
    """
    printed = springs_of(understood)
    before = {spring.id: spring.readings for spring in job.springs if spring.id}
    renewed = replace and any(
        spring.readings and before.get(spring.id or "", spring.readings) != spring.readings for spring in printed
    )
    springs = _merged(job.springs, printed, replace=replace)
    changes: dict[str, object] = {"springs": springs}
    if renewed:
        changes["history"] = (*job.history, HistoryEntry(record=job.record, springs=job.springs))
    changes["record"] = _record(job, record, renewed=renewed)
    changes["printouts"] = _printouts(job.printouts, understood, record)
    if understood.recipe and understood.recipe.strip():
        tester = (record.tester if record else None) or job.record.tester or ""
        changes["recipes"] = _recipes(job.recipes, recipe_of(understood, understood.recipe, tester))
    return replaced_all(job, changes)


def _merged(
    present: Sequence[NumberedSpring], printed: Sequence[NumberedSpring], *, replace: bool
) -> tuple[NumberedSpring, ...]:
    new = {spring.id: spring for spring in printed}
    merged = []
    for spring in present:
        found = new.pop(spring.id, None) if spring.id else None
        merged.append(spring if found is None else _renewed(spring, found, replace=replace))
    return (*merged, *new.values())


def _renewed(spring: NumberedSpring, found: NumberedSpring, *, replace: bool) -> NumberedSpring:
    """One spring with its new readings; the very same object where nothing is new."""
    readings = found.readings
    if not replace:
        readings = (*spring.readings, *_not_yet(spring.readings, found.readings))
    elif not readings:
        readings = spring.readings  # the printout names the spring but has no reading of it
    after = NumberedSpring(id=spring.id, mark=found.mark or spring.mark, readings=readings)
    return spring if after == spring else after


def _not_yet(present: Sequence[Reading], found: Sequence[Reading]) -> list[Reading]:
    """The readings that are not there yet; a repeat that was printed twice counts twice."""
    left = list(present)
    fresh = []
    for reading in found:
        if reading in left:
            left.remove(reading)
        else:
            fresh.append(reading)
    return fresh


def _record(job: Job, record: Record | None, *, renewed: bool) -> Record:
    if renewed or not job.springs:
        if record is not None:
            return record
        return job.record.model_copy(update=dict.fromkeys(_OF_ONE_CHECK)) if renewed else job.record
    if record is None:
        return job.record
    stated = {name: value for name, value in job.record.model_dump().items() if value is not None}
    return Record.model_validate({**record.model_dump(), **stated})


def _printouts(kept: Sequence[Printout], understood: Understood, record: Record | None) -> tuple[Printout, ...]:
    grid = understood.grid
    new = Printout(
        name=_whole(grid.name) or None,
        text=kept_text(grid.text),
        sheet=_whole(grid.sheet or "") or None,
        recipe=understood.recipe or None,
        record=record or Record(),
    )
    same = [(each.name, each.text, each.sheet) == (new.name, new.text, new.sheet) for each in kept]
    if any(same):
        return tuple(new if is_same else each for is_same, each in zip(same, kept, strict=True))
    return (*kept, new)


def kept_text(text: str) -> str:
    """What a job keeps of a printout's text: all of it, or whole lines of it up to 2 MB.

    Args:
        text: as it came.

    Returns:
        The text, cut at the end of a line where it is longer.
    """
    whole = _whole(text)
    data = whole.encode("utf-8")
    if len(data) <= MOST_KEPT:
        return whole
    part = data[:MOST_KEPT]
    end = max(part.rfind(b"\n"), part.rfind(b"\r")) + 1
    return part[: end or MOST_KEPT].decode("utf-8", "ignore")


def _recipes(kept: Sequence[Recipe], recipe: Recipe) -> tuple[Recipe, ...]:
    if any(each.name == recipe.name for each in kept):
        return tuple(recipe if each.name == recipe.name else each for each in kept)
    return (*kept, recipe)


def near_names(job: Job, understood: Understood) -> tuple[tuple[str, str], ...]:
    """Springs of a printout that may be those of the job under another spelling, such as "7" and "S07".

    Args:
        job: before the import.
        understood: the printout.

    Returns:
        Pairs of the printout's number and the job's; they are not taken for the same.
    """
    present = {spring.id for spring in job.springs if spring.id}
    by_key: dict[str, str] = {}
    for name in present:
        by_key.setdefault(_loose(name), name)
    new = [spring.id for spring in understood.springs if spring.id not in present]
    return tuple((name, by_key[_loose(name)]) for name in new if _loose(name) in by_key)


def _loose(name: str) -> str:
    """A spring's number without case, signs and leading zeros; of "S07" the 7 alone."""
    digits = "".join(ch if ch.isdigit() else " " for ch in name).split()
    if len(digits) == 1 and sum(ch.isalpha() for ch in name) <= 1:
        return digits[0].lstrip("0") or "0"
    return "".join(ch for ch in name.casefold() if ch.isalnum())
