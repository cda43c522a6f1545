"""The modes of a coil closed and at full lift, in the figures, as data and as text."""

from __future__ import annotations

import json
from typing import Any

import numpy as np
import pytest

from loadbench.analysis import Analysis
from loadbench.arrays import Floats
from loadbench.findings import judge
from loadbench.report.coils_plain import coils_told
from loadbench.report.json_out import as_json
from loadbench.spring import surge_chain
from loadbench.units import Style
from tests.analysis.bench_jobs import INCH
from tests.analysis.test_coils import CONE, LOW, coil_of, load_of_cone, missing, nest, single, turns_of_cone

LIFT = 0.560 * INCH


def cone(*changes: dict[str, Any], **coil: Any) -> Analysis:
    return single(LOW, *changes, **CONE | coil)


def modes_by_hand(load: float) -> Floats:
    """A chain of six thousand pieces of the cone, without those that the load has landed."""
    diameters, soft, lands = turns_of_cone()
    masses = surge_chain.element_masses(diameters, np.full(6000, 6 / 6000), np.pi * 0.002**2, 7850.0)
    return surge_chain.chain_frequencies(soft, masses, 5, np.flatnonzero(load < lands))


def test_a_cylinder_has_the_same_modes_closed_and_at_full_lift() -> None:
    for coil in nest().lines[0].coils:
        assert coil.modes is not None
        assert coil.modes_closed is coil.modes
        assert coil.modes_open is coil.modes
        first, full = coil.figures["surge_frequency"], coil.figures["surge_frequency_open"]
        assert full.value == first.value
        assert full.inputs == first.inputs
        assert "at bind" in full.note
    # They need no load, as the coils of a cylinder land together.
    assert coil_of(single({"spring.installed_height": None})).value("surge_frequency_open") is not None


def test_the_modes_of_a_cone_rise_by_the_coils_that_land() -> None:
    coil = coil_of(cone())
    assert coil.modes is not None
    assert coil.modes_closed is coil.modes  # none is down at 55 mm
    assert coil.modes_open is not None
    # The load curve of the line is an interpolant, within a tenth of a percent; an element is 1/240 of the coils.
    by_hand = modes_by_hand(load_of_cone(0.055 - LIFT))
    assert coil.modes_open == pytest.approx(by_hand, rel=5e-3)
    assert by_hand[0] > 1.1 * coil.modes[0]
    assert coil.value("surge_frequency_open") == coil.modes_open[0]
    assert "landed swing no more" in coil.figures["surge_frequency_open"].note


def test_they_rise_monotonically_as_the_spring_is_set_lower() -> None:
    heights = np.arange(60.0, 46.0, -0.5)
    coils = [coil_of(cone({"spring.installed_height": f"{height} mm"})) for height in heights]
    firsts = [coil.value("surge_frequency_open") or 0.0 for coil in coils]
    assert np.all(np.diff(firsts) >= 0)
    assert firsts[-1] > 1.5 * firsts[0]
    assert all(coil.modes_closed is not None and coil.modes_open is not None for coil in coils)
    # The rule goes by the lowest: it stays what it is with every coil free.
    assert len({coil.value("surge_ratio") for coil in coils}) == 1
    ratio = coils[-1].figures["surge_ratio"]
    assert ratio.value == pytest.approx((coils[-1].value("surge_frequency") or 0.0) / 50)
    assert "lowest first mode" in ratio.note


def test_with_no_coil_landed_at_full_lift_they_are_those_of_the_free_coil() -> None:
    coil = coil_of(cone({"spring.installed_height": "66 mm", "valve_gear.lobe_lift": "2 mm"}))
    assert coil.modes_open is coil.modes
    assert coil.value("surge_frequency_open") == coil.value("surge_frequency")
    assert "No coil has landed" in coil.figures["surge_frequency_open"].note


def test_what_they_wait_for_is_named() -> None:
    no_height = coil_of(cone({"spring.installed_height": None}))
    assert "spring.installed_height" in missing(no_height, "surge_frequency_open")
    assert no_height.modes_closed is None
    assert no_height.modes is not None
    no_lift = coil_of(cone({"valve_gear.lobe_lift": None}))
    assert no_lift.modes_closed is not None
    assert no_lift.modes_open is None
    assert "valve_gear.lobe_lift" in missing(no_lift, "surge_frequency_open")
    free = "spring.coils.0.free_height"
    readings = ({"height": "55 mm", "load": "300 N"}, {"height": "45 mm", "load": "650 N"})
    no_landings = coil_of(cone(readings=readings, free_height=None))
    assert no_landings.value("shear_stress_open") is not None
    assert no_landings.modes_open is None
    assert free in missing(no_landings, "surge_frequency_open")
    no_wire = coil_of(cone(material=None))
    assert missing(no_wire, "surge_frequency_open") == missing(no_wire, "surge_frequency")
    assert (no_wire.modes, no_wire.modes_closed, no_wire.modes_open) == (None, None, None)


def test_a_load_that_brings_all_coils_down_leaves_none_to_swing() -> None:
    stiff = {"readings": ({"height": "55 mm", "load": "500 N"}, {"height": "45 mm", "load": "3500 N"})}
    coil = coil_of(cone(**stiff))
    assert coil.modes_open is None
    figure = coil.figures["surge_frequency_open"]
    assert (figure.value, figure.missing) == (None, ())
    assert "cannot be had" in figure.note


# How it is told


def told_json(analysis: Analysis) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(json.dumps(as_json(analysis, judge(analysis)), allow_nan=False))
    member: dict[str, Any] = found["members"][0]
    return member


def test_data_hold_the_modes_of_each_spring() -> None:
    analysis = cone()
    coil, member = coil_of(analysis), told_json(analysis)
    assert coil.modes_open is not None
    assert member["modes_closed_Hz"] == pytest.approx(coil.modes)
    assert member["modes_open_Hz"] == pytest.approx(coil.modes_open)
    assert member["surge_frequency_open_Hz"] == member["modes_open_Hz"][0]
    unknown = told_json(cone({"spring.installed_height": None}))
    assert unknown["modes_open_Hz"] is None
    assert len(unknown["modes_Hz"]) == 5


def test_text_tells_both_where_they_differ() -> None:
    analysis = cone()
    coil = coil_of(analysis)
    rows = [text.strip() for text in coils_told(analysis, Style.METRIC)]
    row = next(text for text in rows if text.startswith("closed, full lift"))
    first, full = (coil.value(name) or 0.0 for name in ("surge_frequency", "surge_frequency_open"))
    assert row.split("lift")[1].strip() == f"{first:.0f}\u2009Hz; {full:.0f}\u2009Hz"
    assert rows[rows.index(row) - 1].startswith("First surge mode")
    assert not any("closed, full lift" in text and "Stress" not in text for text in coils_told(nest(), Style.METRIC))
