"""The kept recipes on disk: kept, found again for a printout, refused when damaged, never lost."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from loadbench.errors import InputError, SaveError, UnreadableFileError
from loadbench.job.kept_parts import PrintoutColumn, Recipe
from loadbench.readings.printout.recipe_shelf import best_recipe, forget_recipe, keep_recipe, load_shelf, shelf_path
from loadbench.readings.printout.splitting import grid_of_text

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path


def recipe(name: str, *headers: str) -> Recipe:
    columns = tuple(PrintoutColumn(header=header, meaning="load", height="1.900 in") for header in headers)
    return Recipe(name=name, layout="row-a-spring", columns=columns)


def test_recipes_come_back_as_kept(tmp_path: Path) -> None:
    path = tmp_path / "deep" / "recipes.json"
    assert load_shelf(path) == ()
    assert keep_recipe(recipe("one", "Qa"), path) == (recipe("one", "Qa"),)
    keep_recipe(recipe("two", "Größe"), path)
    assert load_shelf(path) == (recipe("one", "Qa"), recipe("two", "Größe"))
    keep_recipe(recipe("one", "Qb"), path)
    assert load_shelf(path) == (recipe("one", "Qb"), recipe("two", "Größe"))
    assert forget_recipe("one", path) == (recipe("two", "Größe"),)
    assert forget_recipe("one", path) == load_shelf(path)
    assert [file.name for file in path.parent.iterdir()] == ["recipes.json"]


def test_the_usual_place_follows_the_home(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("LOADBENCH_HOME", str(tmp_path))
    keep_recipe(recipe("one", "Qa"))
    assert shelf_path() == tmp_path / "settings" / "printout-recipes.json"
    assert load_shelf() == (recipe("one", "Qa"),)
    assert forget_recipe("one") == ()
    monkeypatch.delenv("LOADBENCH_HOME")
    assert tmp_path not in shelf_path().parents


def test_a_recipe_without_a_name_is_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="no name"):
        keep_recipe(recipe(" ", "Qa"), tmp_path / "recipes.json")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "empty"),
        ("{", "not JSON"),
        ("[]", "not kept recipes"),
        ('{"format": "loadbench-printout-recipes", "version": 9}', "later"),
        ('{"format": "loadbench-printout-recipes", "version": 1, "recipes": [{"nam": "x"}]}', "recipes.0.nam"),
        ('{"format": "loadbench-printout-recipes"}', "version"),
        (" " * 1_000_001, "1 MB"),
    ],
)
def test_a_damaged_file_is_told_and_kept(tmp_path: Path, text: str, said: str) -> None:
    path = tmp_path / "recipes.json"
    path.write_text(text, encoding="utf-8")
    works: list[Callable[[], object]] = [
        lambda: load_shelf(path),
        lambda: keep_recipe(recipe("x", "Qa"), path),
        lambda: forget_recipe("x", path),
    ]
    for work in works:
        with pytest.raises(UnreadableFileError, match=said):
            work()
    assert path.read_text(encoding="utf-8") == text


def test_bytes_that_are_no_text_and_a_folder_are_told(tmp_path: Path) -> None:
    (tmp_path / "b").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(UnreadableFileError, match="UTF-8"):
        load_shelf(tmp_path / "b")
    with pytest.raises(UnreadableFileError, match="cannot be read"):
        load_shelf(tmp_path)


def test_a_save_that_fails_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")
    with pytest.raises((SaveError, UnreadableFileError)):
        keep_recipe(recipe("x", "Qa"), tmp_path / "file" / "recipes.json")
    with pytest.raises(SaveError, match="half"):
        keep_recipe(recipe("x", "\ud800"), tmp_path / "recipes.json")
    with pytest.raises(SaveError, match="1 MB"):
        keep_recipe(recipe("x", *["y" * 1000] * 1100), tmp_path / "recipes.json")
    assert not (tmp_path / "recipes.json").exists()


def test_the_recipe_that_fits_is_found() -> None:
    grid = grid_of_text("A title\nSpring;Qa;Qb\n1;150;420\n2;151;421\n")
    fits, more, no = recipe("fits", "Qa"), recipe("more", "qa", "QB"), recipe("no", "Qa", "Qz")
    assert best_recipe(grid, (no, fits, more)) == more
    assert best_recipe(grid, (no, fits)) == fits
    assert best_recipe(grid, (no, Recipe(name="by place", columns=(PrintoutColumn(place=0, meaning="load"),)))) is None
    assert best_recipe(grid, ()) is None
    loose = recipe("loose", "Load @ 1.900")
    assert best_recipe(grid_of_text("Spring;Load @ 1.850\n1;150\n2;151\n"), (loose,)) == loose
