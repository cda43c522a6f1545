"""The recipes that this user keeps across jobs: a small file beside the settings, read whole or refused."""

from __future__ import annotations

import json
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from loadbench.errors import InputError, Place, Problem, SaveError, UnreadableFileError
from loadbench.job.files import write_atomically
from loadbench.job.kept_parts import Recipe
from loadbench.job.own_file import MOST_BYTES, own_path, own_text, refused
from loadbench.job.parts import Part
from loadbench.job.reading_in import pruned
from loadbench.readings.printout.cells import Grid
from loadbench.readings.printout.guidance import matched
from loadbench.readings.printout.layout import table_of
from loadbench.readings.printout.recipe_words import guidance_of

FORMAT = "loadbench-printout-recipes"
VERSION = 1
FILE_NAME = "printout-recipes.json"


class _ShelfFile(Part):
    """What the file holds."""

    format: str
    version: int
    recipes: tuple[Recipe, ...] = ()


def shelf_path() -> Path:
    """Where the recipes live: the folder of the settings; LOADBENCH_HOME moves it."""
    return own_path(FILE_NAME)


def load_shelf(path: Path | None = None) -> tuple[Recipe, ...]:
    """Read the kept recipes.

    Args:
        path: the file; None for the usual place.

    Returns:
        The recipes in the order in which they were kept; none where there is no file.

    Raises:
        UnreadableFileError: the file cannot be read or is not ours; it stays as it is.
    """
    path = path or shelf_path()
    text = own_text(path, "kept recipes")
    return () if text is None else _recipes_in(path, text)


def _recipes_in(path: Path, text: str) -> tuple[Recipe, ...]:
    try:
        tree = json.loads(text)
    except (ValueError, RecursionError) as error:
        what = "The file is empty." if not text.strip() else f"This is not JSON: {error}."
        raise refused(path, what, "kept recipes") from error
    if not isinstance(tree, dict) or tree.get("format") != FORMAT:
        raise refused(path, "These are not kept recipes.", f'"format": "{FORMAT}"', "format")
    version = tree.get("version")
    if isinstance(version, int) and version > VERSION:
        raise refused(path, "These recipes were kept by a later LoadBench.", "a newer program", "version")
    try:
        return _ShelfFile.model_validate_json(
            json.dumps(pruned(tree), ensure_ascii=False).encode("utf-8", "replace")
        ).recipes
    except ValidationError as error:
        raise UnreadableFileError(tuple(_told(path, each) for each in error.errors())) from error


def _told(path: Path, error: Any) -> Problem:
    field = ".".join(str(step) for step in error["loc"])
    return Problem(what=f"{error['msg']}.", expected="a recipe", place=Place(file=path.name, field=field))


def keep_recipe(recipe: Recipe, path: Path | None = None) -> tuple[Recipe, ...]:
    """Keep a recipe; one of the same name is replaced.

    Args:
        recipe: with a name.
        path: the file; None for the usual place.

    Returns:
        The recipes that are kept now.

    Raises:
        InputError: the recipe has no name.
        UnreadableFileError: the file is damaged; it stays as it is.
        SaveError: it cannot be written.
    """
    name = _name(recipe)
    if not name:
        raise InputError("The recipe has no name.", expected="a name to find it by", place=Place(field="name"))
    kept = load_shelf(path)
    placed = any(_name(each) == name for each in kept)
    after = tuple(recipe if _name(each) == name else each for each in kept) + (() if placed else (recipe,))
    _save(path or shelf_path(), after)
    return after


def forget_recipe(name: str, path: Path | None = None) -> tuple[Recipe, ...]:
    """Drop the recipe of a name; none of that name is no fault.

    Args:
        name: of the recipe.
        path: the file; None for the usual place.

    Returns:
        The recipes that are kept now.

    Raises:
        UnreadableFileError: the file is damaged; it stays as it is.
        SaveError: it cannot be written.
    """
    kept = load_shelf(path)
    after = tuple(each for each in kept if _name(each) != name.strip())
    if after != kept:
        _save(path or shelf_path(), after)
    return after


def _name(recipe: Recipe) -> str:
    return (recipe.name or "").strip()


def _save(path: Path, recipes: tuple[Recipe, ...]) -> None:
    shown = [each.model_dump(mode="json", exclude_none=True, exclude_defaults=True) for each in recipes]
    tree = {"format": FORMAT, "version": VERSION, "recipes": shown}
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        content = (json.dumps(tree, indent=2, ensure_ascii=False) + "\n").encode("utf-8")
    except OSError as error:
        raise SaveError(f"{path.name} cannot be saved: {error.strerror or error}.") from error
    except UnicodeEncodeError as error:
        raise SaveError(f"{path.name} cannot be saved: a text holds half of a character.") from error
    if len(content) > MOST_BYTES:
        raise SaveError(f"{path.name} cannot be saved: the recipes together are over 1 MB.")
    write_atomically(path, content)


def best_recipe(grid: Grid, recipes: Iterable[Recipe]) -> Recipe | None:
    """The recipe that fits a printout.

    Args:
        grid: the printout's cells.
        recipes: of the job and of the shelf, those to be preferred first.

    Returns:
        The one whose columns' headers are all there; of several the one with most columns; None where none fits.
    """
    best: tuple[tuple[int, int], Recipe] | None = None
    for recipe in recipes:
        guidance = guidance_of(recipe)
        if not guidance.headers:
            continue
        headers = table_of(grid, guidance).headers
        found = matched(guidance.columns, headers, by_header=True)
        fit = len(found.guides), len(found.exact)
        if not found.missing and (best is None or fit > best[0]):
            best = fit, recipe
    return best[1] if best else None
