"""Bins of springs, and valves in cylinder order."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from loadbench.findings.set_check.bins import bin_name, bins_of
from loadbench.findings.set_check.cylinder_order import in_cylinder_order
from loadbench.job.model import Valve


@given(st.lists(st.integers(1, 40), max_size=9), st.integers(1, 12))
def test_bins_are_narrow_enough_and_the_fewest(loads: list[int], width: int) -> None:
    named = {str(place): float(load) for place, load in enumerate(loads)}
    bins = bins_of(named, float(width))
    assert bins.keys() == named.keys()
    for name in set(bins.values()):
        own = [named[spring] for spring in bins if bins[spring] == name]
        assert max(own) - min(own) <= width
    assert len(set(bins.values())) == fewest(sorted(set(loads)), width)


def fewest(loads: list[int], width: int) -> int:
    """The fewest groups by trying every first group."""
    if not loads:
        return 0
    reach = [place for place, load in enumerate(loads) if load - loads[0] <= width]
    return 1 + min(fewest(loads[place + 1 :], width) for place in reach)


def test_bins_are_lettered_from_the_lightest() -> None:
    assert bins_of({"a": 150.0, "b": 140.0, "c": 141.0}, 5.0) == {"b": "A", "c": "A", "a": "B"}
    assert [bin_name(number) for number in (0, 25, 26, 27, 51, 52, 702)] == ["A", "Z", "AA", "AB", "AZ", "BA", "AAA"]


def test_valves_stand_by_cylinder_intake_first() -> None:
    names = ("10E", "2I", "E1", "I1", "10I", "2E", "lost")
    valves = [Valve(id=name) for name in names]
    assert [names[place] for place in in_cylinder_order(valves)] == ["I1", "E1", "2I", "2E", "10I", "10E", "lost"]
    by_line = [Valve(id="1b", line="exhaust"), Valve(id="1a", line="exhaust"), Valve(id="1z", line="intake"), Valve()]
    assert in_cylinder_order(by_line) == (2, 1, 0, 3)
