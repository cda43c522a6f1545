"""What the worksheet types and pastes: units added, heads understood, valves found by name, others added."""

from __future__ import annotations

import pytest

from loadbench.assembly.setting_result import Way
from loadbench.job.model import Job
from loadbench.units import Style
from tests.ui.setting.setting_jobs import setting_job
from ui.setting.sheet_columns import COLUMNS, STATED, WIDEST, column_named, columns_of, first_of, head_of, plain_head
from ui.setting.sheet_edits import pasted, with_cells

INCH, METRIC = Style.INCH_POUND, Style.METRIC
ACROSS = ("id", "lash_found", "bucket_shim", "wanted", "set_by")
NAMES = ["1I", "1E", "2I", "2E"]


def test_a_bare_length_gets_the_unit_on_show_and_a_wrong_one_stays() -> None:
    cells = {(0, "lash_found"): "0.018", (1, "lash_found"): "0,45 mm", (2, "lash_found"): "much", (3, "set_by"): " AB "}
    after = with_cells(setting_job(), cells, INCH)
    assert [valve["lash_found"] for valve in after] == ["0.018 in", "0,45 mm", "much", None]
    assert after[3]["set_by"] == "AB"


def test_an_empty_cell_clears_and_a_place_past_the_end_is_a_new_valve() -> None:
    job = setting_job({}, {"depth_found": "0.010 in"})
    after = with_cells(job, {(0, "depth_found"): "", (5, "depth_found"): "0.02"}, METRIC)
    assert after[0]["depth_found"] is None
    assert [valve["id"] for valve in after] == [*NAMES, "3I", "3E"]
    assert after[5]["depth_found"] == "0.02 mm"


def test_a_block_without_heads_lies_where_it_is_put() -> None:
    found = pasted([["0.010", "2.50"], ["0.012", "2.55"]], ACROSS[1:], [2, 0, 1], NAMES)
    assert found.cells == {
        (2, "lash_found"): "0.010", (2, "bucket_shim"): "2.50", (0, "lash_found"): "0.012", (0, "bucket_shim"): "2.55",
    }  # fmt: skip
    assert found.left_out == 0


def test_with_heads_each_row_goes_to_the_valve_it_names() -> None:
    block = [["Valve", "Lash found, in", "Turns", "Initials"], ["2e", "0.020", "in 0.1", "AB"], ["1I", "0.015", "", ""]]
    found = pasted(block, ACROSS, [0, 1, 2, 3], NAMES)
    assert found.cells[3, "lash_found"] == "0.020"
    assert found.cells[3, "set_by"] == "AB"
    assert found.cells[0, "lash_found"] == "0.015"
    assert found.left_out == 1  # the turns are worked out


def test_a_valve_that_is_not_there_is_added_once_and_a_blank_row_makes_none() -> None:
    block = [["Valve", "Depth"], ["3I", "0.01"], ["", ""], ["3i", "0.02"], ["3E", "0.03"]]
    found = pasted(block, ACROSS, [0], NAMES)
    assert found.cells[4, "depth_found"] == "0.02"
    assert found.cells[5, "depth_found"] == "0.03"


def test_what_lies_past_the_columns_is_counted() -> None:
    found = pasted([["0.010", "x", "y", "z"]], ("lash_found", "wanted"), [0], NAMES)
    assert (found.cells, found.left_out) == ({(0, "lash_found"): "0.010"}, 3)


@pytest.mark.parametrize("way", [None, *Way])
def test_every_column_has_a_head_and_a_width_and_something_to_fill_in_first(way: Way | None) -> None:
    for column in columns_of(way):
        assert head_of(column, INCH)
        assert column in WIDEST
    assert first_of(way) in STATED


@pytest.mark.parametrize("style", list(Style))
def test_a_copied_head_is_understood_again(style: Style) -> None:
    for column in {each for columns in COLUMNS.values() for each in columns}:
        assert column_named(plain_head(column, style)) == (column if column in STATED else "")


def test_other_heads_are_none() -> None:
    assert column_named("Cylinder pressure") is None
    assert column_named("Lash (mm)") == "lash_found"


def test_a_job_without_valves_gets_them() -> None:
    assert [valve["id"] for valve in with_cells(Job(title=""), {(1, "lash_found"): "0.01"}, INCH)] == ["1", "2"]
