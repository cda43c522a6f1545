"""Heat: the modulus falls in a straight line, the load goes with it and with what has relaxed, refusals."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.errors import InputError
from loadbench.spring import coil
from loadbench.spring.temperature import FIRST_HEAT_LOSS, ROOM_TEMPERATURE, hot_load_share, modulus_share

temperatures = st.floats(250.0, 520.0)


@pytest.mark.reference("en-13906-1")
def test_modulus_by_temperature() -> None:
    # 0.25e-3 per kelvin, from memory: 2.5 % at 120 degC, 5 % at 220 degC.
    assert modulus_share(np.array([293.15, 393.15, 493.15])) == pytest.approx([1.0, 0.975, 0.95], rel=1e-12)


@given(temperatures, st.floats(0.5, 50.0))
def test_a_hotter_spring_is_softer(T: float, more: float) -> None:
    assert modulus_share(T + more) < modulus_share(T)


@given(temperatures)
def test_the_rate_goes_with_the_modulus(T: float) -> None:
    cold, hot = (float(coil.rate(G, 0.004, 0.03, 5.0)) for G in (79.5e9, 79.5e9 * float(modulus_share(T))))
    assert hot_load_share(T) == pytest.approx(hot / cold, rel=1e-12)


def test_relaxation_comes_off_what_is_left() -> None:
    assert hot_load_share(ROOM_TEMPERATURE, FIRST_HEAT_LOSS) == pytest.approx(0.95, rel=1e-12)
    assert hot_load_share(393.15, np.array([0.0, 0.1])) == pytest.approx([0.975, 0.8775], rel=1e-12)


def test_an_unknown_temperature_gives_an_unknown_share() -> None:
    assert np.isnan(hot_load_share(np.nan))


@pytest.mark.parametrize("loss", [-0.01, 1.0, 5.0])
def test_a_relaxation_that_is_no_share_is_refused(loss: float) -> None:
    with pytest.raises(InputError, match="relaxation"):
        hot_load_share(350.0, loss)


def test_absolute_zero_is_refused() -> None:
    with pytest.raises(InputError, match="kelvin"):
        modulus_share(np.array([300.0, 0.0]))
