"""Changes to the valves, and blocks read as valves."""

from __future__ import annotations

import pytest

from loadbench.job.edits import replaced_all
from loadbench.job.model import Job
from loadbench.units import Style
from ui.fitup import valve_edits
from ui.fitup.valve_columns import COLUMNS, STATED, column_named, head_of, plain_head
from ui.fitup.valve_pasting import pasted

INCH = Style.INCH_POUND


def job(*valves: dict[str, object]) -> Job:
    return replaced_all(Job(title="A job", units="inch-pound"), {"valves": valves})


def with_cells(before: Job, cells: dict[tuple[int, str], str]) -> Job:
    return replaced_all(before, {"valves": valve_edits.with_cells(before, cells, INCH)})


def test_a_typed_height_gets_the_unit_on_show_and_a_wrong_one_stays() -> None:
    after = with_cells(job({"id": "1I"}), {(0, "bare_height"): "1.812", (0, "lash"): "1,8 q"})
    assert (after.valves[0].bare_height, after.valves[0].lash) == ("1.812 in", "1,8 q")
    assert with_cells(after, {(0, "bare_height"): ""}).valves[0].bare_height is None


def test_a_cell_past_the_end_adds_the_next_valve() -> None:
    after = with_cells(job({"id": "1I", "line": "intake"}), {(1, "bare_height"): "1.8", (2, "spring"): "S03"})
    assert [(valve.id, valve.line) for valve in after.valves] == [
        ("1I", "intake"),
        ("1E", "exhaust"),
        ("2I", "intake"),
    ]
    assert with_cells(job({"id": "V09"}), {(1, "lash"): "0"}).valves[1].id == "V10"
    assert with_cells(job(), {(0, "lash"): "0"}).valves[0].id == "1"


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("0.015 + 0.030 in", ("0.015 in", "0.030 in")),
        ("2 x 0.015", ("0.015 in", "0.015 in")),
        ("2 \u00d7 0.38 mm", ("0.38 mm", "0.38 mm")),
        ("none", ()),
        ("", ()),
        ("thick", ("thick",)),
    ],
)
def test_stacks_are_read_as_they_are_shown(typed: str, kept: tuple[str, ...]) -> None:
    assert valve_edits.entry("shims", typed, INCH) == kept


def test_lines_and_locks_are_typed_short() -> None:
    assert [valve_edits.entry("line", typed, INCH) for typed in ("i", "Ex", "both", "")] == [
        "intake",
        "exhaust",
        "both",
        None,
    ]
    assert [valve_edits.entry("locked", typed, INCH) for typed in ("x", "Yes", "no", "")] == [True, True, None, None]


def test_valves_are_laid_out_and_those_there_stay() -> None:
    before = job({"id": "1e", "bare_height": "1.800 in"})
    after = valve_edits.laid_out(before, 2, 2)
    assert [valve["id"] for valve in after] == ["1e", "1I", "2I", "2E"]
    assert after[0]["bare_height"] == "1.800 in"
    assert [name for name, _ in valve_edits.names_of(1, 4)] == ["1I1", "1I2", "1E1", "1E2"]


def test_only_what_stands_can_be_locked() -> None:
    before = job({"id": "1I", "spring": "S1"}, {"id": "1E"}, {"id": "2I", "shims": ("0.015 in",)})
    assert valve_edits.lockable(before) == [0, 2]
    locked = replaced_all(before, {"valves": valve_edits.with_locks(before, [0, 2], locked=True)})
    assert [valve.locked for valve in locked.valves] == [True, None, True]
    freed = replaced_all(locked, {"valves": valve_edits.with_locks(locked, [0], locked=False)})
    assert [valve.locked for valve in freed.valves] == [None, None, True]
    assert [valve["id"] for valve in valve_edits.without(locked, [1])] == ["1I", "2I"]


# Blocks from a spreadsheet


def test_a_column_of_heights_goes_down_from_the_current_cell() -> None:
    found = pasted([["1.812"], ["1.834"], ["1.829"]], STATED.index("bare_height"), [1, 0], ["a", "b"], 2)
    assert found.cells == {(1, "bare_height"): "1.812", (0, "bare_height"): "1.834", (2, "bare_height"): "1.829"}
    assert found.left_out == 0


def test_with_heads_each_row_goes_to_the_valve_it_names() -> None:
    block = [
        ["Height", "Valve", "Colour"],
        ["1.834", "1e", "red"],
        ["", "", ""],
        ["1.812", "1I", ""],
        ["1.9", "9I", ""],
    ]
    found = pasted(block, 0, [0, 1], ["1I", "1E"], 2)
    assert found.cells == {
        (1, "bare_height"): "1.834",
        (1, "id"): "1e",
        (0, "bare_height"): "1.812",
        (0, "id"): "1I",
        (2, "bare_height"): "1.9",
        (2, "id"): "9I",
    }
    assert found.left_out == 1


def test_what_was_copied_from_the_grid_is_read_by_its_own_heads() -> None:
    for style in Style:
        named = [column_named(plain_head(column, style)) for column in COLUMNS]
        assert named[: len(STATED)] == list(STATED)
        assert set(named[len(STATED) :]) == {""}
    assert column_named("Bare height (in)") == "bare_height"
    assert column_named("1.812") is None


def test_tight_heads_say_the_same_on_more_lines() -> None:
    for column in COLUMNS:
        tight = head_of(column, INCH, tight=True)
        assert sorted(tight.replace(",", "").split()) == sorted(head_of(column, INCH).replace(",", "").split())
        assert tight.count("\n") <= 2
