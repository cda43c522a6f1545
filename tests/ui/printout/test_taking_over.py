"""A printout into the job: beside, later, in place; the recipe and the record with it."""

from __future__ import annotations

import pytest

from loadbench.job.model import Job
from loadbench.job.parts import Record
from loadbench.readings.printout.recipe_shelf import load_shelf
from tests.ui.printout.slips import PLAIN, read
from ui.printout.known_recipes import known_recipes
from ui.printout.taking_over import Way, remember, shared_ids, taken_over

BEFORE = Job.model_validate(
    {
        "title": "invented",
        "units": "inch-pound",
        "record": {"date": "2025-01-02", "hours": 1.0, "measured_by": "A porter"},
        "springs": (
            {"id": "S01", "mark": "blue", "readings": ({"height": "1.900 in", "load": "150 lbf"},)},
            {"id": "X9", "readings": ({"height": "1.900 in", "load": "160 lbf"},)},
        ),
    }
)
NOW = Record(date="2025-06-01", hours=9.0)


def loads(job: Job, name: str) -> list[str | None]:
    return [reading.load for spring in job.springs if spring.id == name for reading in spring.readings]


def test_a_later_test_keeps_the_present_readings_as_an_earlier_check() -> None:
    after = taken_over(BEFORE, read(PLAIN), NOW, Way.LATER)
    assert loads(after, "S01") == ["143 lbf", "402 lbf"]
    assert [entry.record.date for entry in after.history] == ["2025-01-02"]
    assert after.history[0].springs == BEFORE.springs
    assert after.record.hours == pytest.approx(9.0)
    assert loads(after, "X9") == ["160 lbf"]
    assert after.springs[0].mark == "blue"


def test_in_place_of_the_present_readings_makes_no_earlier_check() -> None:
    after = taken_over(BEFORE, read(PLAIN), NOW, Way.IN_PLACE)
    assert loads(after, "S01") == ["143 lbf", "402 lbf"]
    assert after.history == ()
    assert after.record.date == "2025-06-01"


def test_adding_keeps_both() -> None:
    after = taken_over(BEFORE, read(PLAIN), NOW, Way.ADD)
    assert loads(after, "S01") == ["150 lbf", "143 lbf", "402 lbf"]
    assert after.history == ()


def test_the_printout_and_its_recipe_stay_in_the_job() -> None:
    after = taken_over(BEFORE, read(PLAIN), NOW, Way.LATER, "Bench one")
    assert after.printouts[0].text == PLAIN
    assert after.printouts[0].recipe == "Bench one"
    assert [recipe.name for recipe in after.recipes] == ["Bench one"]
    assert shared_ids(BEFORE, read(PLAIN)) == ("S01",)


def test_what_is_remembered_is_offered_for_every_job() -> None:
    assert known_recipes(BEFORE).known == ()
    remember(read(PLAIN), "Bench one", "Bench one")
    assert [recipe.name for recipe in load_shelf()] == ["Bench one"]
    offered = known_recipes(BEFORE).known
    assert [(one.name, one.kept) for one in offered] == [("Bench one", True)]
    own = taken_over(BEFORE, read(PLAIN), NOW, Way.LATER, "Bench one")
    assert [(one.name, one.kept) for one in known_recipes(own).known] == [("Bench one", False)]


def test_a_damaged_file_of_recipes_is_told_and_stays() -> None:
    from loadbench.readings.printout.recipe_shelf import shelf_path

    shelf_path().parent.mkdir(parents=True, exist_ok=True)
    shelf_path().write_text("{", encoding="utf-8")
    found = known_recipes(BEFORE)
    assert found.known == ()
    assert "not JSON" in found.refused
    assert shelf_path().read_text(encoding="utf-8") == "{"
