"""A printout into the job as one edit: beside the present readings, as a later check, or in their place."""

from __future__ import annotations

from dataclasses import replace
from enum import StrEnum
from typing import TYPE_CHECKING

from loadbench.job.edits import replaced_all
from loadbench.readings.printout.recipes import recipe_of
from loadbench.readings.printout.to_job import imported

if TYPE_CHECKING:
    from loadbench.job.kept_parts import Recipe
    from loadbench.job.model import Job
    from loadbench.job.parts import Record
    from loadbench.readings.printout.meaning import Understood


class Way(StrEnum):
    """What becomes of the present readings of springs that the printout holds too."""

    LATER = "later"
    IN_PLACE = "in-place"
    ADD = "add"


def shared_ids(job: Job, understood: Understood) -> tuple[str, ...]:
    """The springs that are in the job and in the printout, in the printout's order."""
    present = {spring.id for spring in job.springs if spring.id}
    return tuple(spring.id for spring in understood.springs if spring.id in present)


def taken_over(job: Job, understood: Understood, record: Record, way: Way, recipe: str = "") -> Job:
    """The job with the printout in it.

    Args:
        job: before.
        understood: the printout, corrected.
        record: of this check.
        way: what becomes of the present readings.
        recipe: the name to remember the way of reading by; "" for none of its own.

    Returns:
        The job after. In place: the present readings are gone, and no earlier check is made of them.
    """
    named = replace(understood, recipe=recipe) if recipe else understood
    after = imported(job, named, record=record, replace=way is not Way.ADD)
    return replaced_all(after, {"history": job.history}) if way is Way.IN_PLACE else after


def remember(understood: Understood, name: str, tester: str) -> Recipe:
    """Keep the way of reading for this user, across jobs.

    Args:
        understood: the printout, corrected.
        name: what the recipe is found by.
        tester: which tester it is for.

    Returns:
        The recipe that is kept.

    Raises:
        UnreadableFileError: the file of recipes is damaged; it stays as it is.
        SaveError: it cannot be written.
    """
    from loadbench.readings.printout.recipe_shelf import keep_recipe

    recipe = recipe_of(understood, name, tester)
    keep_recipe(recipe)
    return recipe
