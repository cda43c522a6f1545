"""Entries to mend in words."""

from __future__ import annotations

import pytest

from loadbench.errors import Place, Problem
from loadbench.report.entries import entries_counted, entry_name, entry_told


@pytest.mark.parametrize(
    ("problem", "told"),
    [
        (
            Problem(
                what='no number in "soon"', expected="a load such as 150 lbf", place=Place(field="targets.seat_load")
            ),
            'Wanted seat load: No number in "soon". Wanted: a load such as 150 lbf.',
        ),
        (Problem(what="Twice the same.", place=Place(field="springs.1.id")), "Spring 2, number: Twice the same."),
        (
            Problem(what="There is no rule.", expected='did you mean "b"?', place=Place(field="rules.a")),
            'Changed limit, a: There is no rule. Did you mean "b"?',
        ),
        (Problem(what="nothing stated"), "Nothing stated."),
    ],
)
def test_an_entry_is_told_by_its_name(problem: Problem, told: str) -> None:
    assert entry_told(problem) == told


def test_a_changed_limit_is_called_by_its_rule() -> None:
    assert entry_name("rules.shim-stack.stop") == "Changed limit, shim stack, stop"
    assert entry_name("rules.short-travel.open_load.watch").endswith(", open load, watch")


def test_entries_are_counted() -> None:
    one = Problem(what="x")
    assert [entries_counted((one,) * count) for count in range(3)] == ["", "1 entry to mend", "2 entries to mend"]
