"""Ends of a spring: what a person types, and that lengths and turns undo each other."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.errors import InputError
from loadbench.spring import ends
from loadbench.spring.ends import Ends, ends_of

wires = st.floats(0.001, 0.010)
turns = st.floats(1.0, 20.0)
pitches = st.floats(0.001, 0.020)
kinds = st.sampled_from(Ends)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        *((str(kind), kind) for kind in Ends),
        ("Squared and ground", Ends.CLOSED_GROUND),
        ("closed & ground", Ends.CLOSED_GROUND),
        ("ground, closed", Ends.CLOSED_GROUND),
        ("SQ/GRD", Ends.CLOSED_GROUND),
        ("both ends closed and ground flat", Ends.CLOSED_GROUND),
        ("squared", Ends.CLOSED),
        ("closed, not ground", Ends.CLOSED),
        ("closed but un-ground", Ends.CLOSED),
        ("unground closed ends", Ends.CLOSED),
        ("open", Ends.PLAIN),
        ("Open ended, unground", Ends.PLAIN),
        ("plain-ground", Ends.PLAIN_GROUND),
        ("open and ground", Ends.PLAIN_GROUND),
    ],
)
def test_many_ways_to_say_it(text: str, expected: Ends) -> None:
    assert ends_of(text) is expected


@pytest.mark.parametrize(
    "text",
    [None, "", "  ", "ground", "closed or open", "tapered", "closed 1", "ground and unground, closed", "not closed"],
)
def test_nothing_is_guessed(text: str | None) -> None:
    assert ends_of(text) is None


@given(kinds, turns)
def test_total_undoes_active(kind: Ends, active: float) -> None:
    total = ends.total_coils(kind, active)
    assert float(total) - active == pytest.approx(ends.dead_coils(kind), abs=1e-12)
    assert float(ends.active_coils_of_total(kind, total)) == pytest.approx(active, rel=1e-12)


@given(kinds, wires, turns, pitches)
def test_pitch_undoes_the_free_height(kind: Ends, wire: float, active: float, pitch: float) -> None:
    height = ends.free_height(kind, wire, active, pitch)
    assert float(ends.pitch(kind, wire, active, height)) == pytest.approx(pitch, rel=1e-9)


@given(kinds, wires, turns)
def test_touching_coils_stand_at_bind(kind: Ends, wire: float, active: float) -> None:
    # A pitch of one wire is bind, whatever the ends: the two columns of the table must agree.
    height = ends.free_height(kind, wire, active, wire)
    assert float(height) == pytest.approx(
        float(ends.bind_height(kind, wire, ends.total_coils(kind, active))), rel=1e-12
    )


@given(kinds, wires, turns, pitches, st.floats(0.5, 2.0))
def test_lengths_scale_with_size(kind: Ends, wire: float, active: float, pitch: float, scale: float) -> None:
    bind = float(ends.bind_height(kind, wire, active))
    assert float(ends.bind_height(kind, scale * wire, active)) == pytest.approx(scale * bind, rel=1e-12)
    free = float(ends.free_height(kind, wire, active, pitch))
    assert float(ends.free_height(kind, scale * wire, active, scale * pitch)) == pytest.approx(scale * free, rel=1e-12)


def test_ground_ends_stand_one_wire_lower_at_bind() -> None:
    heights = {kind: float(ends.bind_height(kind, 0.004, 8.0)) for kind in Ends}
    assert heights[Ends.CLOSED] - heights[Ends.CLOSED_GROUND] == pytest.approx(0.004)
    assert heights[Ends.PLAIN] - heights[Ends.PLAIN_GROUND] == pytest.approx(0.004)


def test_one_books_mean_pitch_by_hand() -> None:
    assert float(ends.mean_pitch_over_all(0.090, 10.0)) == pytest.approx(0.010)


def test_arrays_go_through_together() -> None:
    heights = ends.free_height(Ends.CLOSED, np.array([0.003, 0.004]), np.array([[4.0], [5.0], [6.0]]), 0.008)
    assert heights.shape == (3, 2)
    assert heights[2, 1] == pytest.approx(6 * 0.008 + 3 * 0.004)


@pytest.mark.parametrize("bad", [0.0, -1.0, float("nan")])
@pytest.mark.parametrize("kind", Ends)
def test_nothing_is_refused(kind: Ends, bad: float) -> None:
    calls = [
        lambda: ends.total_coils(kind, bad),
        lambda: ends.active_coils_of_total(kind, bad),
        lambda: ends.bind_height(kind, bad, 6.0),
        lambda: ends.bind_height(kind, 0.004, bad),
        *(lambda at=at: ends.free_height(kind, *np.where(np.arange(3) == at, bad, 1.0)) for at in range(3)),
        *(lambda at=at: ends.pitch(kind, *np.where(np.arange(3) == at, bad, 1.0)) for at in range(3)),
        lambda: ends.mean_pitch_over_all(bad, 6.0),
        lambda: ends.mean_pitch_over_all(0.05, 1.0 + min(bad, 0.0)),
    ]
    for call in calls:
        with pytest.raises(InputError):
            call()


@pytest.mark.parametrize("total", [2.0, 1.5])
def test_dead_coils_alone_are_no_spring(total: float) -> None:
    with pytest.raises(InputError, match="no active coil"):
        ends.active_coils_of_total(Ends.CLOSED_GROUND, total)
    assert float(ends.active_coils_of_total(Ends.PLAIN, total)) == total
