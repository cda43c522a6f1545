"""A job with one of its candidate springs in place of its own.

What a variant states wins; its lists replace the job's whole. A variant that states a rate, readings or coils is
another spring: then nothing that was measured, computed or promised for the job's own spring speaks for it (readings,
rate, coil geometry, the sheet with its limits). Where the members stand (steps, and the diameters of the retainer's)
belongs to the head and stays.
"""

from __future__ import annotations

from typing import Any

from loadbench.job.model import Job, LineParts, Lines
from loadbench.job.parts import Coil, Part, Spring

EVIDENCE = frozenset({"rate", "readings", "coils"})
OF_ONE_SPRING = frozenset({*EVIDENCE, "readings_on", "spec", "maker_limits", "damper", "mass", "name"})
KEPT_OF_A_COIL = ("name", "seat_step", "retainer_step", "retainer_step_diameter", "bind_height")
"""What is not the coil's own: where it stands, and the step of the retainer that centres it."""
HEIGHTS = frozenset({"bare_height", "shims"})


def with_variant(job: Job, index: int) -> Job:
    """The job as it would be judged with a candidate spring in it.

    Args:
        job: the job.
        index: of the candidate in `job.variants`.

    Returns:
        The job with the candidate's entries laid over its own spring, on every line. Where the candidate is another
        spring, the numbered springs and their history, which are of the job's own, are left out.
    """
    after = taken_over(job, index)
    if not another_spring(job.variants[index].spring):
        return after
    valves = tuple(valve.model_copy(update={"spring": None}) for valve in job.valves)
    return after.model_copy(update={"springs": (), "history": (), "valves": valves})


def taken_over(job: Job, index: int) -> Job:
    """The job with a candidate made its own spring; otherwise as `with_variant`, but nothing else is left out."""
    own = job.variants[index].spring
    stated = _stated(own)
    against = _contradicted(stated)
    gone = set(stated) | against
    parts = {name for name, entry in stated.items() if isinstance(entry, Part)} - against
    lines = {
        name: _line(line, gone) for name in ("intake", "exhaust") if (line := getattr(job.lines, name)) is not None
    }
    spring = _laid_over(_without(job.spring, gone - parts), stated)
    return job.model_copy(update={"spring": spring, "lines": Lines(**lines)})


def another_spring(own: Spring) -> bool:
    """Whether a candidate states what makes it another spring than the job's."""
    return bool(EVIDENCE & set(_stated(own)))


def _stated(own: Spring) -> dict[str, Any]:
    entries = {name: getattr(own, name) for name in Spring.model_fields}
    return {name: entry for name, entry in entries.items() if _says_something(entry)}


def _says_something(entry: object) -> bool:
    return entry != type(entry)() if isinstance(entry, Part) else entry not in (None, "", ())


def _contradicted(stated: dict[str, Any]) -> set[str]:
    """The job's entries that would speak against what the candidate states."""
    gone = set(OF_ONE_SPRING) if EVIDENCE & set(stated) else set()
    if "installed_height" in stated:
        gone.add("shims")
    elif HEIGHTS & set(stated):
        gone.add("installed_height")
    return gone


def _without(spring: Spring, gone: set[str]) -> Spring:
    """The spring without some entries; its coils keep where they stand."""
    blank = Spring()
    update: dict[str, Any] = {name: getattr(blank, name) for name in gone}
    update["coils"] = tuple(_bare(coil, gone) for coil in spring.coils)
    return spring.model_copy(update=update)


def _bare(coil: Coil, gone: set[str]) -> Coil:
    kept = coil if not EVIDENCE & gone else Coil(**{name: getattr(coil, name) for name in KEPT_OF_A_COIL})
    # A member's own bind height would win over the one that the candidate states.
    return kept.model_copy(update={"bind_height": None}) if "bind_height" in gone else kept


def _line(line: LineParts, gone: set[str]) -> LineParts:
    return line.model_copy(update={"spring": _without(line.spring, gone)})


def _laid_over(spring: Spring, stated: dict[str, Any]) -> Spring:
    update = {name: _merged(getattr(spring, name), entry) for name, entry in stated.items()}
    return spring.model_copy(update=update)


def _merged(before: object, entry: object) -> object:
    """A part keeps what the candidate's does not state; anything else is replaced whole."""
    if not isinstance(entry, Part) or not isinstance(before, Part):
        return entry
    own = {name: getattr(entry, name) for name in type(entry).model_fields if _says_something(getattr(entry, name))}
    return before.model_copy(update=own)
