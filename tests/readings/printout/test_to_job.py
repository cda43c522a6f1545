"""A printout in the job: springs, text, recipe, history, as one edit that analyses and comes back from disk."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from loadbench import analyse, open_job
from loadbench.job.files import save_job
from loadbench.job.kept_parts import Recipe
from loadbench.job.model import Job, NumberedSpring, Valve
from loadbench.job.parts import Reading, Record, Spring
from loadbench.readings.printout.meaning import Understood
from loadbench.readings.printout.reading import MOST_KEPT, understood
from loadbench.readings.printout.recipes import recipe_of
from loadbench.readings.printout.splitting import grid_of_text
from loadbench.readings.printout.to_job import imported, kept_text, near_names, springs_of
from loadbench.units import Style

if TYPE_CHECKING:
    from pathlib import Path

NEW = "Spring,1.900 in,1.250 in,Mark\nS01,140,400,\nS02,141,401,blue\n"


def read(text: str = NEW, recipe: Recipe | None = None) -> Understood:
    return understood(grid_of_text(text, name="slip.csv"), style=Style.INCH_POUND, recipe=recipe)


def reading(height: str, load: str) -> Reading:
    return Reading(height=height, load=load)


def job() -> Job:
    return Job(
        title="set",
        units="inch-pound",
        record=Record(measured_by="B", date="2024-05-01", hours=0.0, engine="E1"),
        spring=Spring(installed_height="1.900 in"),
        springs=(
            NumberedSpring(
                id="S01", mark="red", readings=(reading("1.900 in", "150 lbf"), reading("1.250 in", "420 lbf"))
            ),
            NumberedSpring(id="S09", readings=(reading("1.900 in", "155 lbf"),)),
        ),
        valves=(Valve(id="1E", spring="S01"), Valve(id="2E", spring="S09")),
    )


def test_springs_are_kept_as_printed() -> None:
    one, two = springs_of(read())
    assert one == NumberedSpring(id="S01", readings=(reading("1.900 in", "140 lbf"), reading("1.250 in", "400 lbf")))
    assert two.mark == "blue"
    nest = read("Spring,Part,Dir,Height (mm),Load (N)\n1,outer,loading,40.00,500\n1,pair,,40.00,700\n")
    first, second = springs_of(nest)[0].readings
    assert first == Reading(part="outer", height="40.00 mm", load="500 N", direction="loading")
    assert (second.part, second.direction) == ("pair", None)


def test_a_new_check_moves_the_springs_to_the_history() -> None:
    before, record = job(), Record(date="2024-09-01", hours=30.0)
    after = imported(before, read(), record=record, replace=True)
    (entry,) = after.history
    assert (entry.record, entry.springs) == (before.record, before.springs)
    assert after.record == record
    assert [spring.id for spring in after.springs] == ["S01", "S09", "S02"]
    assert after.springs[0].readings[0].load == "140 lbf"
    assert (after.springs[0].mark, after.springs[2].mark) == ("red", "blue")
    assert after.springs[1] is before.springs[1]
    assert [valve.spring for valve in after.valves] == ["S01", "S09"]


def test_without_a_record_no_old_date_is_said_of_new_readings() -> None:
    after = imported(job(), read(), replace=True)
    assert (after.record.date, after.record.hours, after.record.engine) == (None, None, "E1")
    assert after.history[0].record.date == "2024-05-01"


def test_the_same_printout_again_changes_nothing() -> None:
    once = imported(job(), read(), replace=True)
    again = imported(once, read(), replace=True)
    assert again == once
    assert imported(once, read(), replace=False) == once


def test_springs_are_merged_where_nothing_is_replaced() -> None:
    before = job()
    after = imported(before, read(), record=Record(date="2024-09-01", tester="T"), replace=False)
    assert after.history == ()
    assert [each.load for each in after.springs[0].readings] == ["150 lbf", "420 lbf", "140 lbf", "400 lbf"]
    assert [spring.id for spring in after.springs] == ["S01", "S09", "S02"]
    assert (after.record.date, after.record.tester) == ("2024-05-01", "T")
    other = imported(before, read("Spring,1.900 in\nX1,150\n"), replace=True)
    assert other.history == ()
    assert [spring.id for spring in other.springs] == ["S01", "S09", "X1"]


def test_a_spring_without_a_new_reading_keeps_its_old_ones() -> None:
    after = imported(job(), read("Spring,1.900 in\nS01,--\nS02,150\n"), replace=True)
    assert after.springs[0].readings == job().springs[0].readings
    assert after.history == ()


def test_other_spellings_are_not_merged_but_can_be_told() -> None:
    found = read("Spring,1.900 in\n1,140\ns01,141\n09,142\nS10,143\n")
    after = imported(job(), found, replace=True)
    assert [spring.id for spring in after.springs] == ["S01", "S09", "1", "s01", "09", "S10"]
    assert after.history == ()
    assert near_names(job(), found) == (("1", "S01"), ("s01", "S01"), ("09", "S09"))


def test_text_and_recipe_are_kept() -> None:
    recipe = recipe_of(read(), "bench", "T")
    after = imported(Job(title="x", units="inch-pound"), read(recipe=recipe), record=Record(tester="T"), replace=False)
    (printout,) = after.printouts
    assert (printout.name, printout.text, printout.recipe) == ("slip.csv", NEW, "bench")
    assert printout.record == after.record == Record(tester="T")
    assert [each.name for each in after.recipes] == ["bench"]
    assert after.recipes[0].tester == "T"
    again = understood(grid_of_text(printout.text or "", name="slip.csv"), recipe=after.recipes[0])
    assert springs_of(again) == after.springs
    twice = imported(after, read(NEW.replace("140", "139"), recipe), replace=True)
    assert (len(twice.printouts), len(twice.recipes), len(twice.history)) == (2, 1, 1)


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_a_long_text_is_cut_at_the_end_of_a_line(end: str) -> None:
    line = "S01;ß;140" + end
    text = line * (MOST_KEPT // len(line.encode()) + 10)
    kept = kept_text(text)
    assert len(kept.encode()) <= MOST_KEPT
    assert text.startswith(kept)
    assert kept.endswith(end)
    assert kept_text(line) == line
    assert len(kept_text("ß" * MOST_KEPT).encode()) == MOST_KEPT


def test_the_job_analyses_and_comes_back_from_disk(tmp_path: Path) -> None:
    after = imported(job(), read(), replace=True)
    analysis = analyse(after)
    by_id = {spring.id: spring for spring in analysis.set.springs}
    assert by_id["S02"].seat_load == pytest.approx(141 * 4.4482216152605, rel=1e-9)
    assert by_id["S01"].rate == pytest.approx(260 / 0.65 * 4.4482216152605 / 0.0254, rel=1e-9)
    path = tmp_path / "set.loadbench.json"
    save_job(after, path)
    assert open_job(path) == after


def test_halves_of_characters_do_not_reach_the_file(tmp_path: Path) -> None:
    found = read("Spring,1.900 in,Mark\nS\ud8001,140,\udc00\n")
    after = imported(Job(title="x"), found, replace=False)
    save_job(after, tmp_path / "x.loadbench.json")
    assert open_job(tmp_path / "x.loadbench.json") == after
