"""The recipes that a printout can be read by: those of the job, then those kept for this user."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from loadbench.errors import UnreadableFileError

if TYPE_CHECKING:
    from loadbench.job.kept_parts import Recipe
    from loadbench.job.model import Job


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """One recipe, and whether it is kept for this user; else it is the job's."""

    recipe: Recipe
    kept: bool

    @property
    def name(self) -> str:
        """What it is called."""
        return self.recipe.name or self.recipe.tester or ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Recipes:
    """All that are known. `refused` says why those of this user could not be read; "" where they could."""

    known: tuple[Known, ...] = ()
    refused: str = ""


def known_recipes(job: Job) -> Recipes:
    """The recipes with a name, each name once; the job's own goes before the kept one.

    Args:
        job: whose recipes come first.
    """
    from loadbench.readings.printout.recipe_shelf import load_shelf

    refused = ""
    try:
        shelf = tuple(load_shelf())
    except UnreadableFileError as error:
        shelf, refused = (), str(error)
    found: dict[str, Known] = {}
    for recipe, kept in (*((one, False) for one in job.recipes), *((one, True) for one in shelf)):
        one = Known(recipe=recipe, kept=kept)
        if one.name:
            found.setdefault(one.name, one)
    return Recipes(known=tuple(found.values()), refused=refused)
