"""A printout from a file to its check: by the units, tester, sheet and recipes of a job where one is given."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from loadbench.analysis import Analysis
from loadbench.errors import Place, Problem, UnreadableFileError
from loadbench.findings.set_check.doubts import sheet_of
from loadbench.findings.set_check.printout_check import PrintoutCheck, check_printout
from loadbench.job.kept_parts import Recipe
from loadbench.job.kinds import SEPARATORS
from loadbench.readings.accuracy import Accuracy
from loadbench.readings.evidence import accuracy_of
from loadbench.readings.printout.cells import Grid, Separator
from loadbench.readings.printout.meaning import Understood
from loadbench.readings.printout.opening import read_grid
from loadbench.readings.printout.reading import understood
from loadbench.readings.printout.recipe_shelf import best_recipe, load_shelf
from loadbench.readings.printout.splitting import grid_of_text
from loadbench.units import Style

READ_OF_A_JOB = ("units", "tester.", "spring.spec", "recipes.")
WANTED = "a header such as Spring, Height (in), Load (lbf), and a row for each spring or each reading"


@dataclass(frozen=True, slots=True, kw_only=True)
class Terms:
    """What a job says of a printout beforehand; without a job nothing. `problems` are the faults in just that."""

    style: Style | None = None
    accuracy: Accuracy = field(default_factory=Accuracy)
    spec: tuple[tuple[float, float], ...] = ()
    recipes: tuple[Recipe, ...] = ()
    problems: tuple[Problem, ...] = ()


def terms_of(analysis: Analysis) -> Terms:
    """The terms of a job.

    Args:
        analysis: of the job.

    Returns:
        Its units, its tester's accuracies, the loads of its first line's sheet, its recipes.
    """
    first, stated = analysis.lines[0], analysis.stated
    own = (*READ_OF_A_JOB, f"lines.{first.name}.spring.spec")
    return Terms(
        style=stated.style,
        accuracy=accuracy_of(first.stated),
        spec=sheet_of(first),
        recipes=analysis.job.recipes,
        problems=tuple(problem for path, problem in stated.problems.items() if path.startswith(own)),
    )


def read_printout(path: str | Path, terms: Terms, recipe_name: str | None = None) -> PrintoutCheck:
    """Read and judge a printout.

    Args:
        path: the file.
        terms: of the job.
        recipe_name: of a recipe of the job, else of the user's shelf; None: the job's recipe whose headers all fit.

    Returns:
        The check. Its problems hold those of the terms, and say so where no reading was understood.

    Raises:
        UnreadableFileError: the file is no printout, no recipe has the name, or the shelf cannot be read.
    """
    recipe = None if recipe_name is None else recipe_named(recipe_name, terms.recipes)
    grid = read_grid(path)
    if recipe_name is None:
        recipe = best_recipe(grid, terms.recipes)
    found = understood(_parted(grid, recipe), style=terms.style, recipe=recipe)
    problems = (*terms.problems, *found.problems, *_nothing(found))
    return check_printout(replace(found, problems=problems), accuracy=terms.accuracy, spec=terms.spec)


def recipe_named(name: str, recipes: Sequence[Recipe]) -> Recipe:
    """The recipe of a name.

    Args:
        name: as typed; case and blanks around it do not count where one name alone fits.
        recipes: of the job; the user's shelf is looked at where none of them has the name.

    Returns:
        The recipe.

    Raises:
        UnreadableFileError: there is none of that name, and which there are; or the shelf cannot be read.
    """
    if (own := _of_name(name, recipes)) is not None:
        return own
    shelf = load_shelf()
    if (kept := _of_name(name, shelf)) is not None:
        return kept
    names = sorted({each.name.strip() for each in (*recipes, *shelf) if each.name and each.name.strip()})
    expected = f"one of: {', '.join(names)}" if names else "the name of a recipe; none is kept yet"
    what = f'There is no recipe "{name}" in the job or among the recipes kept on this computer.'
    raise UnreadableFileError((Problem(what=what, expected=expected, place=Place(field="recipe")),))


def _of_name(name: str, recipes: Sequence[Recipe]) -> Recipe | None:
    named = [(each, (each.name or "").strip()) for each in recipes]
    exact = [each for each, own in named if own == name.strip()]
    near = [each for each, own in named if own.casefold() == name.strip().casefold()]
    return exact[0] if exact else (near[0] if len(near) == 1 else None)


def _parted(grid: Grid, recipe: Recipe | None) -> Grid:
    """The text split by the recipe's own separator, where its columns do not fit as the text was split."""
    word = SEPARATORS.read(recipe.separator) if recipe and recipe.separator else None
    if recipe is None or word is None or grid.separator in (None, Separator(word)):
        return grid
    if best_recipe(grid, (recipe,)) is not None:
        return grid
    return grid_of_text(grid.text, name=grid.name, encoding=grid.encoding, separator=Separator(word))


def _nothing(found: Understood) -> tuple[Problem, ...]:
    if found.count or found.problems:
        return ()
    place = Place(file=found.grid.name or None, row=found.first_row)
    return (Problem(what="No reading was understood.", expected=WANTED, place=place),)
