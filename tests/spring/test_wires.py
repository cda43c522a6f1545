"""Stock wire sizes: each list has a source, odd lists are told with their place."""

from __future__ import annotations

import numpy as np
import pytest

from loadbench.errors import InputError
from loadbench.sources import COMMON_PRACTICE, SOURCES
from loadbench.spring.wires import read_wires, stock_wires, styles, wire_lists

ROW = 'label = "x"\nstyle = "metric"\nunit_m = 0.001\n'


def test_shipped_lists_have_a_source_and_sizes_of_springs() -> None:
    for row in wire_lists().values():
        assert row.source in {*SOURCES, COMMON_PRACTICE}
        assert np.all((row.diameters > 0.5e-3) & (row.diameters < 12e-3))


def test_metric_and_inch_sizes_are_told_in_metres() -> None:
    metric, inch = stock_wires("metric"), stock_wires("inch")
    assert np.any(np.isclose(metric, 0.004, rtol=1e-12))
    assert np.any(np.isclose(inch, 0.162 * 0.0254, rtol=1e-12))  # steel wire gauge 8
    assert np.any(np.isclose(inch, 0.00508, rtol=1e-12))  # 0.200 in


def test_all_is_every_list_each_size_once_and_rising() -> None:
    every = stock_wires("all")
    assert set(every) == set(stock_wires("metric")) | set(stock_wires("inch"))
    assert np.all(np.diff(every) > 0)
    assert styles() == ("metric", "inch", "all")


def test_an_unknown_style_names_those_there_are() -> None:
    with pytest.raises(InputError) as told:
        stock_wires("imperial")
    assert "imperial" in told.value.what
    assert told.value.expected == "metric, inch, all"


@pytest.mark.parametrize(
    ("row", "named"),
    [
        ("sizes = [1.0]", "seen, source"),
        ('sizes = [1.0]\nsource = "gum"\nseen = "read"\ncolour = 1', "colour"),
        ('sizes = [1.0]\nsource = "hearsay"\nseen = "read"', "hearsay"),
        ('sizes = [1.0]\nsource = "gum"\nseen = "guessed"', "guessed"),
        ('sizes = []\nsource = "gum"\nseen = "read"', "rise"),
        ('sizes = [1.0, 1.0]\nsource = "gum"\nseen = "read"', "rise"),
        ('sizes = [0.0, 1.0]\nsource = "gum"\nseen = "read"', "rise"),
    ],
)
def test_an_odd_list_is_told_with_its_place(row: str, named: str) -> None:
    with pytest.raises(InputError, match=named) as told:
        read_wires(f"[x]\n{ROW}{row}", "odd.toml")
    assert (told.value.place.file, told.value.place.field) == ("odd.toml", "x")
