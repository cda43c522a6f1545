"""Oil with air, the plunger on it, and the plunger over a turn of the cam."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.errors import InputError
from loadbench.follower import bulk, plunger, plunger_cycle
from loadbench.follower.plunger import Sizes
from loadbench.follower.plunger_cycle import Duty, Gap, SetPlunger, compare_travels

MM, UM, INCH = 1e-3, 1e-6, 0.0254
GAP = Gap(12 * MM, 3 * UM, 12 * MM)
pressures = st.floats(1.0e5, 3e7)
shares = st.floats(0.0, 0.2)
loads = st.floats(50.0, 5000.0)


# Oil with air


@pytest.mark.reference("merritt")
@given(pressures, shares, st.sampled_from((bulk.ISOTHERMAL, 1.2, bulk.ADIABATIC)))
def test_f109_the_modulus_is_how_the_volume_answers_the_pressure(p: float, share: float, n: float) -> None:
    # -V dp/dV of the volumes themselves, by a difference: nothing of the formula under test. A liquid of constant
    # modulus shrinks as exp(-(p - p0)/B); the row's 1 - (p - p0)/B is within 2e-4 of that up to 300 bar.
    def volume(at: float) -> float:
        return math.exp(-(at - bulk.AIR) / bulk.OIL) + share / (1 - share) * (bulk.AIR / at) ** (1 / n)

    step = p * 1e-4
    by_difference = -volume(p) * 2 * step / (volume(p + step) - volume(p - step))
    assert float(bulk.bulk_modulus(p, share, n)) == pytest.approx(by_difference, rel=5e-4)


@given(pressures, shares)
def test_air_only_softens_and_pressure_only_stiffens(p: float, share: float) -> None:
    found = float(bulk.bulk_modulus(p, share))
    assert found <= float(bulk.bulk_modulus(p, 0.0)) * (1 + 1e-12)
    if share > 0.001:
        assert found < float(bulk.bulk_modulus(p * 1.1, share))


def test_oil_without_air_is_oil() -> None:
    # At the air's own pressure; above it the same springs stand on a volume that is a little less.
    assert float(bulk.bulk_modulus(bulk.AIR, 0.0)) == pytest.approx(bulk.OIL, rel=1e-12)


@pytest.mark.parametrize(("p", "share"), [(0.0, 0.01), (-1e5, 0.01), (1e6, 1.0), (1e6, -0.01), (1e6, math.nan)])
def test_air_that_cannot_be(p: float, share: float) -> None:
    with pytest.raises(InputError):
        bulk.bulk_modulus(p, share)


# The column and the leak


@given(loads, st.floats(2.0, 8.0), shares)
def test_the_give_and_the_stiffness_are_of_one_mind(F: float, height: float, share: float) -> None:
    d, h, step = 12 * MM, height * MM, 1e-3 * F
    give = plunger.squeeze(np.array([F - step, F, F + step]), d, h, share)
    slope = float(give[2] - give[0]) / (2 * step)
    pressure = bulk.AIR + F / plunger.plunger_area(d)
    at = plunger.oil_stiffness(bulk.bulk_modulus(pressure, share), d, h - give[1])
    # The give counts the liquid's volume as it was without load: off by as much as the liquid shrinks.
    off = float(pressure - bulk.AIR) / bulk.OIL
    assert slope == pytest.approx(1 / float(at), rel=1.1 * off + 1e-4)


@given(st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_deeper_is_stiffer(one: float, other: float) -> None:
    low, high = sorted((one, other))
    heights = plunger.chamber_height(4 * MM, np.array([low, high]) * 4 * MM)
    assert heights[1] <= heights[0]
    stiff = plunger.oil_stiffness(1e9, 12 * MM, heights)
    assert stiff[1] >= stiff[0]
    assert float(stiff[0] * heights[0]) == pytest.approx(float(stiff[1] * heights[1]), rel=1e-12)


@given(loads, st.floats(0.005, 0.2), st.floats(0.0, 1.0))
def test_the_leak_by_parallel_strips_of_the_gap(F: float, oil: float, e: float) -> None:
    # Each strip of the unrolled gap is a slot of its own height c (1 + e cos): h^3 b dp/(12 eta L), summed.
    d, c, length = GAP
    around = (np.arange(4000) + 0.5) / 4000 * 2 * np.pi
    strips = (c * (1 + e * np.cos(around))) ** 3 * (np.pi * d / 4000)
    dp = F / float(plunger.plunger_area(d))
    flow = float(np.sum(strips)) * dp / (12 * oil * length)
    assert float(plunger.leak_flow(d, c, length, dp, oil, e)) == pytest.approx(flow, rel=1e-9)


def test_thin_oil_and_wide_gaps_leak_faster() -> None:
    slow = float(plunger.leak_down_time(MM, 400.0, *GAP, 0.05))
    assert float(plunger.leak_down_time(MM, 400.0, *GAP, 0.005)) == pytest.approx(slow / 10, rel=1e-12)
    assert float(plunger.leak_down_time(MM, 400.0, GAP[0], 2 * GAP[1], GAP[2], 0.05)) == pytest.approx(
        slow / 8, rel=1e-12
    )
    assert np.isinf(plunger.leak_down_time(MM, 0.0, *GAP, 0.05))


def test_depths_and_sizes_that_cannot_be() -> None:
    for depth in (-0.1 * MM, 4.1 * MM):
        with pytest.raises(InputError) as told:
            plunger.chamber_height(4 * MM, depth)
        assert told.value.place.field == "depth"
    for bad in ({"diameter": 0.0}, {"clearance": -1e-6}, {"length": 0.0}, {"viscosity": 0.0}, {"eccentric": 1.1}):
        sizes = {"diameter": 12 * MM, "clearance": 3 * UM, "length": 12 * MM, "pressure": 1e6, "viscosity": 0.05} | bad
        with pytest.raises(InputError):
            plunger.leak_flow(**sizes)  # type: ignore[arg-type]


# A turn of the cam

ANGLE = np.linspace(-1.2, 1.2, 241)
LOAD = 300.0 + 600.0 * np.cos(ANGLE / 1.2 * np.pi / 2) ** 2


def test_the_loss_of_a_steady_load_is_sink_speed_times_time() -> None:
    steady = float(plunger_cycle.lift_loss(500.0, ANGLE, 100.0, GAP, 0.02))
    assert steady == pytest.approx(float(plunger.sink_speed(500.0, *GAP, 0.02)) * 2.4 / 100, rel=1e-12)


def test_the_loss_of_a_cosine_by_hand() -> None:
    # The mean of cos^2 over half a wave is 1/2: mean load 600 N.
    found = float(plunger_cycle.lift_loss(LOAD, ANGLE, 100.0, GAP, 0.02))
    assert found == pytest.approx(float(plunger.sink_speed(600.0, *GAP, 0.02)) * 0.024, rel=1e-9)


@given(st.floats(20.0, 400.0), st.floats(1.1, 4.0))
def test_idle_loses_most(speed: float, times: float) -> None:
    both = plunger_cycle.lift_loss(np.stack([LOAD, LOAD]), ANGLE, np.array([speed, times * speed]), GAP, 0.02)
    assert both.shape == (2,)
    assert float(both[0]) == pytest.approx(times * float(both[1]), rel=1e-9)


def test_lost_contact_does_not_lift_the_plunger() -> None:
    off = np.where(ANGLE > 0.5, -200.0, LOAD)
    none = np.where(ANGLE > 0.5, 0.0, LOAD)
    assert plunger_cycle.lift_loss(off, ANGLE, 100.0, GAP, 0.02) == plunger_cycle.lift_loss(
        none, ANGLE, 100.0, GAP, 0.02
    )


def test_the_base_circle_is_the_rest_of_the_turn() -> None:
    assert float(plunger_cycle.closed_time(ANGLE, 10.0)) == pytest.approx((2 * math.pi - 2.4) / 10, rel=1e-12)
    with pytest.raises(InputError, match="more than a turn"):
        plunger_cycle.closed_time(np.array([0.0, 7.0]), 10.0)


@given(st.floats(0.0, 1e-4), st.floats(1e-3, 0.2))
def test_the_flow_that_is_needed_refills_just_so(sunk: float, time: float) -> None:
    flow = plunger_cycle.refill_flow(sunk, 12 * MM, time)
    assert float(plunger_cycle.refilled(sunk, flow, 12 * MM, time)) == pytest.approx(sunk, rel=1e-9, abs=1e-18)
    assert float(plunger_cycle.refilled(sunk, flow / 2, 12 * MM, time)) == pytest.approx(sunk / 2, rel=1e-9, abs=1e-18)
    assert float(plunger_cycle.refilled(sunk, flow * 3, 12 * MM, time)) == pytest.approx(sunk, rel=1e-12)


def test_a_check_valve_passes_no_more_than_its_narrowest_opening() -> None:
    # 0.6 x pi/4 (3 mm)^2 x sqrt(2 x 3e5/850) = 112.7 cm3/s; lifted by 0.2 mm the gap of 1.885 mm2 governs.
    wide = float(plunger_cycle.check_valve_flow(3e5, 3 * MM, 1.0 * MM))
    assert wide == pytest.approx(112.68e-6, rel=1e-4)
    narrow = float(plunger_cycle.check_valve_flow(3e5, 3 * MM, 0.2 * MM))
    assert narrow == pytest.approx(wide * 4 * 0.2 / 3, rel=1e-12)
    assert float(plunger_cycle.check_valve_flow(-1e5, 3 * MM, 1.0 * MM)) == 0.0


@pytest.mark.parametrize("angle", [np.array([0.0]), np.array([0.0, 0.0]), np.array([1.0, 0.5]), np.zeros((2, 2))])
def test_angles_that_do_not_rise(angle: np.ndarray) -> None:  # type: ignore[type-arg]
    with pytest.raises(InputError) as told:
        plunger_cycle.lift_loss(100.0, angle, 100.0, GAP, 0.02)
    assert told.value.place.field == "angle"


# Two travels

STANDARD = SetPlunger(Sizes(12 * MM, 0.140 * INCH, 3 * UM, 12 * MM), 0.040 * INCH)
SHORT = SetPlunger(Sizes(12 * MM, 0.060 * INCH, 3 * UM, 12 * MM), 0.0125 * INCH)
BOTTOMED = SetPlunger(SHORT.sizes, 0.045 * INCH)
DUTY = Duty(seat=700.0, full=2200.0, load=LOAD * 2, angle=ANGLE, speed=300.0, ratio=1.6)


def compared(
    standard: SetPlunger = STANDARD, short: SetPlunger = SHORT, eccentric: float = 0.0
) -> plunger_cycle.TravelsCompared:
    return compare_travels(standard, short, DUTY, 0.012, eccentric=eccentric)


def test_less_oil_is_stiffer_gives_less_and_has_less_to_take_in() -> None:
    found = compared()
    assert found.standard.oil_height == pytest.approx(1.5 * MM + 0.100 * INCH, rel=1e-12)
    assert found.stiffer == pytest.approx(found.standard.oil_height / found.short.oil_height, rel=1e-9)
    assert found.short.give < found.standard.give
    assert found.short.lift_loss < found.standard.lift_loss
    assert found.refills_quicker == pytest.approx(0.100 / 0.0475, rel=1e-9)
    assert found.presses_out_quicker == pytest.approx(0.040 / 0.0125, rel=1e-9)
    assert found.short.pump_up_lift == pytest.approx(1.6 * 0.0125 * INCH, rel=1e-12)
    assert found.standard.laminar
    assert found.short.leak == found.standard.leak  # the gap is the same: depth does not change what leaks


def test_near_the_bottom_it_is_stiffer_still_but_pumps_up_further() -> None:
    # What the trade says of depth near the bottom holds for stiffness and refilling; a pump-up grows with the depth.
    top, bottom = compared().short, compared(short=BOTTOMED).short
    assert bottom.stiffness > 1.3 * top.stiffness
    assert bottom.refill_volume < 0.4 * top.refill_volume
    assert bottom.leak_down_time < top.leak_down_time
    assert bottom.press_out_time == pytest.approx(top.press_out_time * 45 / 12.5, rel=1e-9)
    assert bottom.pump_up_lift > 3 * top.pump_up_lift


def test_a_plunger_on_its_wall_leaks_two_and_a_half_times_as_fast() -> None:
    middle, wall = compared().short, compared(eccentric=1.0).short
    for name in ("leak", "refill_flow", "reynolds"):
        assert getattr(wall, name) == pytest.approx(2.5 * getattr(middle, name), rel=1e-9)
    for name in ("leak_down_time", "press_out_time"):
        assert getattr(wall, name) == pytest.approx(getattr(middle, name) / 2.5, rel=1e-9)


def test_the_same_plunger_twice_makes_no_difference() -> None:
    found = compared(short=STANDARD)
    assert found.short == found.standard
    assert (found.stiffer, found.refills_quicker, found.presses_out_quicker) == (1.0, 1.0, 1.0)


def test_a_depth_beyond_its_travel_is_told() -> None:
    with pytest.raises(InputError) as told:
        compared(short=SetPlunger(SHORT.sizes, 0.061 * INCH))
    assert told.value.place.field == "depth"
