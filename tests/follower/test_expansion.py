"""Growth with temperature: names of materials, signs, and what warms where."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.errors import InputError
from loadbench.follower import expansion
from loadbench.sources import SOURCES

lengths = st.floats(0.05, 0.4)
coefficients = st.floats(8e-6, 25e-6)
rises = st.floats(-40.0, 120.0)


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("aluminium", "cast aluminium"),
        ("Aluminum", "cast aluminium"),
        ("6061 aluminum", "wrought aluminium"),
        ("cast iron", "grey iron"),
        ("gray iron", "grey iron"),
        ("nodular iron", "ductile iron"),
        ("pearlitic ductile iron", "pearlitic ductile iron"),
        ("steel", "carbon steel"),
        ("4130 chrome-moly steel", "alloy steel"),
        ("chrome-moly", "alloy steel"),
        ("1040 steel", "medium carbon steel"),
        ("stainless steel", "stainless steel"),
        ("  titanium ", "titanium"),
    ],
)
def test_a_material_is_understood_from_its_text(text: str, name: str) -> None:
    found = expansion.coefficient(text)
    assert found is not None
    assert found[0] == name


@pytest.mark.parametrize("text", [None, "", "carbon fibre", "wood"])
def test_a_material_that_is_not_known_is_not_guessed(text: str | None) -> None:
    assert expansion.coefficient(text) is None


def test_every_row_has_a_source_and_says_how_it_was_seen() -> None:
    for row in (*expansion.expansions(), *expansion.mean_to_100()):
        assert row.source in SOURCES
        assert row.seen in {"read", "memory"}
        assert 5e-6 < row.coefficient < 30e-6


def test_every_name_finds_its_own_row() -> None:
    for row in expansion.expansions():
        assert expansion.expansion_of(row.name) is row


@given(lengths, lengths, coefficients, rises)
def test_an_engine_of_one_material_keeps_its_lash(head: float, block: float, alpha: float, rise: float) -> None:
    rod = head + block - 0.05
    change = expansion.pushrod_change((head, alpha), (block, alpha), (rod, alpha), (0.05, alpha), rise)
    assert float(change) == pytest.approx(0.0, abs=1e-15)


@given(lengths, rises)
def test_an_aluminium_head_on_iron_opens_lash_as_it_warms(head: float, rise: float) -> None:
    change = float(expansion.pushrod_change((head, 21.5e-6), (0.2, 11.4e-6), (head + 0.2, 11.4e-6), (0, 0), rise))
    assert change == pytest.approx(head * 10.1e-6 * rise, abs=1e-15)


def test_lash_that_opens_takes_depth() -> None:
    # 0.2573 mm at the valve with R 1.5 is 0.1715 mm less deep at the plunger.
    assert float(expansion.depth_change(0.2573e-3, 1.5)) == pytest.approx(-0.17153e-3, abs=1e-8)


def test_many_engines_at_once() -> None:
    heights, rises_ = np.array([[0.1], [0.2]]), np.array([20.0, 60.0, 100.0])
    change = expansion.pushrod_change((heights, 21.5e-6), (0.1, 11.4e-6), (heights + 0.1, 11.7e-6), (0.0, 0.0), rises_)
    assert change.shape == (2, 3)
    assert float(change[1, 2]) == pytest.approx(100 * (0.2 * 21.5e-6 + 0.1 * 11.4e-6 - 0.3 * 11.7e-6), rel=1e-12)
    stem = expansion.stem_change((np.array([0.09, 0.11]), 12.3e-6), 300.0, (np.array([0.09, 0.11]), 21.5e-6), 80.0)
    assert stem.tolist() == pytest.approx([0.09 * -1.97e-3, 0.11 * -1.97e-3], rel=1e-9)


def test_a_length_below_zero_is_refused() -> None:
    with pytest.raises(InputError):
        expansion.pushrod_change((-0.1, 1e-5), (0.1, 1e-5), (0.1, 1e-5), (0.0, 0.0), 50.0)
