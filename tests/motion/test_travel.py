"""Lift from lobe to valve."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.motion.travel import gross_valve_lift, net_valve_lift, pump_up_lift

lifts = st.floats(0.0, 0.02)
ratios = st.floats(0.5, 2.5)


def test_by_hand() -> None:
    # 0.435 in x 1.8 = 0.783 in; less 0.016 in of lash 0.767 in.
    gross = float(gross_valve_lift(0.435, 1.8))
    assert gross == pytest.approx(0.783, abs=1e-12)
    assert float(net_valve_lift(gross, 0.016)) == pytest.approx(0.767, abs=1e-12)
    assert float(net_valve_lift(gross)) == gross
    assert float(pump_up_lift(0.060, 1.7)) == pytest.approx(0.102, abs=1e-12)


@given(lifts, lifts, ratios)
def test_more_lobe_is_never_less_valve(one: float, other: float, ratio: float) -> None:
    low, high = sorted((one, other))
    assert gross_valve_lift(low, ratio) <= gross_valve_lift(high, ratio)


@given(lifts, lifts, lifts)
def test_more_lash_is_never_more_lift(gross: float, one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert net_valve_lift(gross, high) <= net_valve_lift(gross, low) <= gross
