"""A flat damper's friction: the loads while the valve opens and closes, and the energy of a cycle, by hand."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

import loadbench
from loadbench.analysis import analyse
from loadbench.analysis.damper import DAMPER_FIGURES, EDGES
from loadbench.findings import judge
from loadbench.job.edits import replaced
from loadbench.job.files import open_job
from loadbench.units import Kind, Style, tell
from tests.analysis.bench_jobs import COILS, INCH, LBF, analysis_of, shown

SAMPLES = Path(loadbench.__file__).parent.parent / "samples"
TEN = {"spring.damper.load": "10 lbf"}
LIFT_AT = {
    "instruments.lift": "0.003 in",
    "instruments.installed_height": "0.002 in",
    "tester.load_accuracy_percent": 1.0,
    "tester.load_accuracy_fixed": "1 lbf",
    "tester.load_repeatability": "0.5 lbf",
}
NEST: dict[str, Any] = {"spring.readings": (), "spring.coils": COILS}


@pytest.mark.parametrize(
    ("name", "by_hand"),
    [
        ("seat_load_loading", 160.0),  # 150 + 10
        ("seat_load_unloading", 140.0),  # 150 - 10
        ("open_load_loading", 395.2),  # 385.2 + 10
        ("open_load_unloading", 375.2),  # 385.2 - 10
    ],
)
def test_loads_by_hand(name: str, by_hand: float) -> None:
    assert shown(analysis_of(TEN), name) == pytest.approx(by_hand, abs=1e-9)


def test_energy_is_the_area_of_the_band_in_both_styles() -> None:
    """2 x 10 lbf x 0.560 in is 11.2 in lbf; times 0.0254 x 4.4482216 it is 1.265430 J."""
    figure = analysis_of(TEN).figures["damper_energy"]
    assert figure.value == pytest.approx(11.2 * INCH * LBF, rel=1e-12)
    assert figure.value == pytest.approx(1.265430, abs=1e-6)
    assert str(tell(figure.value, Kind.ENERGY, Style.INCH_POUND)) == "11.2\u2009in\u00b7lbf"
    assert str(tell(figure.value, Kind.ENERGY, Style.METRIC)) == "1.27\u2009J"


def test_energy_agrees_with_the_integral_over_the_stroke() -> None:
    """Trapezium rule over the load line of a nest: what goes in less what comes back."""
    import numpy as np

    line = analysis_of(TEN, NEST).lines[0]
    assert line.load_line is not None
    closed, opened = line.value("installed_height"), line.value("open_height")
    assert closed is not None
    assert opened is not None
    heights = np.linspace(closed, opened, 501)
    elastic, friction = line.load_line.load(heights), 10 * LBF
    band = (elastic + friction) - np.maximum(elastic - friction, 0.0)
    assert line.value("damper_energy") == pytest.approx(float(np.trapezoid(band, closed - heights)), rel=1e-9)


def test_every_formula_gives_its_value() -> None:
    figures = analysis_of(TEN).figures
    for name in DAMPER_FIGURES:
        figure = figures[name]
        right = figure.formula.split("=", 1)[1].format_map({each.symbol: repr(each.value) for each in figure.inputs})
        right = right.replace("\u2212", "-").replace("\u00d7", "*")
        assert eval(right, {"max": max}) == pytest.approx(figure.value)  # noqa: S307 - a formula of our own
        assert figure.inputs[-1 if name != "damper_energy" else 0].field == "spring.damper.load"


def test_uncertainty_is_that_of_the_springs_load_and_of_the_lift() -> None:
    damped = analysis_of(TEN, LIFT_AT).figures
    for edge in EDGES:
        assert damped[edge.of].expanded
        for way in ("loading", "unloading"):
            assert damped[f"{edge.of}_{way}"].expanded == damped[edge.of].expanded
    lift = damped["net_valve_lift"].expanded
    assert lift is not None
    assert damped["damper_energy"].expanded == pytest.approx(2 * 10 * LBF * lift)


@pytest.mark.parametrize(("friction", "by_hand"), [(149.99, 0.01), (150.01, 0.0), (400.0, 0.0)])
def test_no_load_falls_below_nothing(friction: float, by_hand: float) -> None:
    damped = analysis_of({"spring.damper.load": f"{friction} lbf"}, LIFT_AT)
    figure = damped.figures["seat_load_unloading"]
    assert shown(damped, "seat_load_unloading") == pytest.approx(by_hand, abs=1e-9)
    held = friction > 150
    assert ("hold them down" in figure.note) == held
    assert (figure.expanded is None) == held
    assert (damped.value("damper_energy") is None) == held  # the springs stick: no cycle closes
    assert ("would not close the valve" in damped.figures["damper_energy"].note) == held
    assert shown(damped, "open_load_unloading") == pytest.approx(max(385.2 - friction, 0.0), abs=1e-9)


def test_no_friction_leaves_the_loads_alone() -> None:
    none = analysis_of({"spring.damper.load": "0 lbf"})
    for edge in EDGES:
        assert {none.value(f"{edge.of}_{way}") for way in ("loading", "unloading")} == {none.value(edge.of)}
    assert none.value("damper_energy") == 0.0


def test_without_a_dampers_load_they_wait_for_it_and_nothing_else_changes() -> None:
    plain, damped = analysis_of(), analysis_of(TEN)
    for name in DAMPER_FIGURES:
        assert plain.value(name) is None
        assert plain.figures[name].missing == ("spring.damper.load",)
    others = [name for name in plain.figures if name not in DAMPER_FIGURES]
    assert {name: plain.figures[name] for name in others} == {name: damped.figures[name] for name in others}
    assert "spring.damper.load" not in judge(plain).missing
    assert judge(plain).complete == judge(damped).complete


def test_a_faulty_entry_is_no_friction() -> None:
    faulty = analysis_of({"spring.damper.load": "six pounds"})
    assert all(faulty.figures[name].missing == ("spring.damper.load",) for name in DAMPER_FIGURES)


def test_each_end_waits_for_its_own() -> None:
    no_lift = analysis_of(TEN, {"valve_gear.lobe_lift": None}).figures
    assert no_lift["seat_load_loading"].value == pytest.approx(160 * LBF)
    assert no_lift["open_load_loading"].missing == no_lift["open_load"].missing != ()
    assert no_lift["damper_energy"].missing == no_lift["net_valve_lift"].missing != ()
    assert "U is" not in no_lift["seat_load_loading"].note  # none is known
    no_load = analysis_of(TEN, {"spring.readings": ()}).figures
    assert no_load["seat_load_loading"].missing == no_load["seat_load"].missing != ()


def test_readings_of_the_whole_set_may_hold_the_friction_and_those_of_members_not() -> None:
    assert "hold its friction already" in analysis_of(TEN).figures["seat_load_loading"].note
    assert "hold its friction already" not in analysis_of(TEN, NEST).figures["seat_load_loading"].note


def test_a_line_of_its_own_and_the_worst_of_both() -> None:
    both = analysis_of(TEN, {"lines.exhaust.spring.damper.load": "14 lbf"})
    assert shown(both, "open_load_loading", "intake") == pytest.approx(395.2)
    assert shown(both, "open_load_loading", "exhaust") == pytest.approx(399.2)
    assert both.worst["open_load_loading"] == "exhaust"
    assert both.worst["seat_load_unloading"] == "exhaust"  # 136 lbf is less than 140 lbf
    assert both.worst["damper_energy"] == "exhaust"
    source = both.line("exhaust").figures["damper_energy"].inputs[0]
    assert source.field == "lines.exhaust.spring.damper.load"


def test_the_sample_nest_of_three() -> None:
    """6 lbf on either side of the nest's own line; 2 x 6 lbf x 0.578 in = 6.936 in lbf."""
    analysis = analyse(open_job(SAMPLES / "nest-of-three-with-damper.loadbench.json"))
    seat, opened = shown(analysis, "seat_load"), shown(analysis, "open_load")
    assert seat is not None
    assert opened is not None
    told = [shown(analysis, name) for name in DAMPER_FIGURES[:4]]
    assert told == pytest.approx([seat + 6, seat - 6, opened + 6, opened - 6])
    assert analysis.value("damper_energy") == pytest.approx(6.936 * INCH * LBF, rel=1e-9)


def test_an_edit_of_the_friction_is_taken_up() -> None:
    job = open_job(SAMPLES / "nest-of-three-with-damper.loadbench.json")
    before, after = analyse(job), analyse(replaced(job, "spring.damper.load", "9 lbf"))
    assert before.value("seat_load") == after.value("seat_load")
    assert (after.value("seat_load_loading") or 0) - (before.value("seat_load_loading") or 0) == pytest.approx(3 * LBF)
