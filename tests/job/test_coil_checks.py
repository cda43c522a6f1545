"""Faults of value within a coil: both sides of each limit, at the right field; a wire beyond its table stays in use."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from loadbench.analysis import analyse
from loadbench.assembly.fit import fit
from loadbench.cli import main
from loadbench.errors import Problem
from loadbench.job.checks import checked
from loadbench.job.coil_checks import LEAST_INDEX, MOST_INDEX
from loadbench.job.edits import replaced_all
from loadbench.job.files import save_job
from loadbench.job.model import Job
from loadbench.job.stated import Stated, read_stated
from loadbench.spring.materials import equal_area_diameter, material, materials
from tests.assembly.heads import analysed, head

COIL: dict[str, Any] = {
    "name": "outer",
    "bind_height": "1.080 in",
    "wire": {"shape": "round", "diameter": "0.200 in"},
    "mean_diameter": "1.240 in",
    "small_mean_diameter": "1.000 in",
    "tapered_coils": 2.0,
    "active_coils": 3.2,
    "total_coils": 5.2,
    "free_height": "2.250 in",
    "material": "chrome-silicon",
}
WHERE = "spring.coils.0"


def job_of(changes: dict[str, Any], **more: Any) -> Job:
    tree: dict[str, Any] = {"units": "inch-pound", "spring.installed_height": "1.900 in"}
    return replaced_all(Job(title="invented"), tree | {"spring.coils": (COIL | changes,)} | more)


def stated_of(changes: dict[str, Any], **more: Any) -> Stated:
    return checked(read_stated(job_of(changes, **more)))


def faults(changes: dict[str, Any], **more: Any) -> dict[str, Problem]:
    return stated_of(changes, **more).problems


def test_a_sound_coil_has_no_fault() -> None:
    assert faults({}) == {}


WIRE = {"shape": "round", "diameter": "0.200 in"}
FLAT = {"shape": "rectangular", "width": "0.200 in", "thickness": "0.100 in"}
ALONE = {"small_mean_diameter": None, "tapered_coils": None}


@pytest.mark.parametrize(
    ("changes", "field", "index"),
    [
        ({"mean_diameter": "0.400 in"} | ALONE, None, None),  # exactly 2
        ({"mean_diameter": "0.399 in"} | ALONE, "mean_diameter", "1.995"),
        ({"mean_diameter": "6.000 in"} | ALONE, None, None),  # exactly 30
        ({"mean_diameter": "6.010 in"} | ALONE, "mean_diameter", "30.05"),
        ({"small_mean_diameter": "10.16 mm"}, None, None),  # 0.400 in, typed in the other unit
        ({"small_mean_diameter": "0.390 in"}, "small_mean_diameter", "1.95"),
        # Of a section that is not round, the width stands across the coil.
        ({"mean_diameter": "0.400 in", "wire": FLAT} | ALONE, None, None),
        ({"mean_diameter": "0.390 in", "wire": FLAT | {"shape": "ovate"}} | ALONE, "mean_diameter", "1.95"),
    ],
)
def test_the_spring_index(changes: dict[str, Any], field: str | None, index: str | None) -> None:
    found = faults(changes | {"material": None})
    if field is None or index is None:
        assert found == {}
        return
    assert list(found) == [f"{WHERE}.{field}"]
    assert f"would be {index}." in found[f"{WHERE}.{field}"].what
    assert found[f"{WHERE}.{field}"].expected == "an index of 2 to 30"
    assert (LEAST_INDEX, MOST_INDEX) == (2, 30)


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"active_coils": 5.2}, None),
        ({"active_coils": 5.3}, "active_coils"),
        ({"active_coils": 5.3, "total_coils": None}, None),
        ({"tapered_coils": 3.2}, None),
        ({"tapered_coils": 3.3}, "tapered_coils"),
        ({"tapered_coils": 3.3, "active_coils": None}, None),
        ({"small_mean_diameter": "1.240 in"}, None),
        ({"small_mean_diameter": "31.496 mm"}, None),  # 1.240 in
        ({"small_mean_diameter": "1.241 in"}, "small_mean_diameter"),
        ({"small_mean_diameter": "1.241 in", "mean_diameter": None}, None),
        ({"free_height": "1.081 in"}, "free_height"),  # below the installed height
        ({"free_height": "1.901 in"}, None),
        ({"free_height": "1.080 in"}, "free_height"),
        ({"free_height": "1.000 in"}, "free_height"),
        ({"free_height": "1.000 in", "bind_height": None}, "free_height"),
        # Negative anything is out of sense by itself, and says nothing of the rest.
        ({"wire": {"diameter": "-0.2 in"}}, "wire.diameter"),
        ({"active_coils": -3.0}, "active_coils"),
        ({"tapered_coils": -1.0}, "tapered_coils"),
        ({"retainer_step_diameter": "-0.64 in"}, "retainer_step_diameter"),
    ],
)
def test_turns_diameters_and_heights(changes: dict[str, Any], field: str | None) -> None:
    stated = stated_of(changes)
    assert list(stated.problems) == ([] if field is None else [f"{WHERE}.{field}"])
    if field is not None:
        assert f"{WHERE}.{field}" not in stated.values
        assert stated.faulty(f"{WHERE}.{field}")
        assert stated.problems[f"{WHERE}.{field}"].expected


def test_a_bind_height_that_is_wrong_itself_says_nothing_of_the_free_height() -> None:
    assert list(faults({"bind_height": "2.300 in"})) == [f"{WHERE}.bind_height"]


def test_a_spring_alone_may_have_its_bind_height_beside_its_coil() -> None:
    low = {"bind_height": None, "free_height": "1.050 in"}
    assert list(faults(low, **{"spring.bind_height": "1.060 in"})) == [f"{WHERE}.free_height"]
    assert faults(low, **{"spring.bind_height": "1.040 in", "spring.installed_height": None}) == {}
    two = (COIL | low, COIL | {"name": "inner"})
    of_the_pair = {"spring.coils": two, "spring.bind_height": "1.060 in", "spring.installed_height": None}
    assert faults({}, **of_the_pair) == {}  # of the pair, not of this one
    # A line's own bind height holds for the coil that both share.
    lines = {"lines.exhaust.spring.bind_height": "1.060 in"}
    assert list(faults(low, **lines, **{"spring.bind_height": "1.040 in"})) == [f"{WHERE}.free_height"]


def edges() -> list[tuple[str, float, bool]]:
    """Each material's wire a thousandth within and beyond both ends of its strength."""
    ends = [(name, wire.least_diameter_m, wire.most_diameter_m) for name, wire in materials().items()]
    return [
        (name, size * share, share == within)
        for name, least, most in ends
        for size, within, beyond in ((least, 1.001, 0.999), (most, 0.999, 1.001))
        for share in (within, beyond)
    ]


@pytest.mark.parametrize(("name", "diameter", "holds"), edges())
def test_a_wire_beyond_its_materials_table_is_told_and_kept(name: str, diameter: float, holds: bool) -> None:
    sizes = {"wire": {"diameter": f"{diameter * 1e3:.9f} mm"}, "mean_diameter": f"{diameter * 6e3:.9f} mm"}
    stated = stated_of(sizes | ALONE | {"material": name})
    field = f"{WHERE}.wire.diameter"
    assert list(stated.problems) == ([] if holds else [field])
    assert stated.values[field] == pytest.approx(diameter, rel=1e-9)
    assert not stated.faulty(field)
    assert not stated.line("common").faulty(field)
    if not holds:
        wire = material(name)
        assert wire is not None
        problem = stated.problems[field]
        assert "strength is unknown" in problem.what
        assert f"({wire.least_diameter_m * 1e3:g} to {wire.most_diameter_m * 1e3:g} mm)" in problem.expected


@pytest.mark.parametrize(("shape", "share"), [("ovate", 1.0), ("rectangular", 4 / 3.141592653589793)])
def test_another_section_is_looked_up_by_its_area(shape: str, share: float) -> None:
    wire = material("chrome-silicon")
    assert wire is not None
    for beyond in (0.999, 1.001):
        along = (wire.most_diameter_m * beyond) ** 2 / share / 0.010
        section = {"shape": shape, "width": "10 mm", "thickness": f"{along * 1e3:.9f} mm"}
        found = stated_of({"wire": section, "mean_diameter": "60 mm"} | ALONE)
        assert list(found.problems) == ([f"{WHERE}.wire.thickness"] if beyond > 1 else [])
        assert found.values[f"{WHERE}.wire.thickness"] == pytest.approx(along)
        area = 3.141592653589793 / 4 * share * 0.010 * along  # an ellipse, or the whole rectangle
        assert equal_area_diameter(area) == pytest.approx(wire.most_diameter_m * beyond)


@pytest.mark.parametrize("word", ["unobtainium", None])
def test_a_material_that_is_not_in_the_table_is_no_fault(word: str | None) -> None:
    assert faults({"wire": {"diameter": "0.500 in"}, "material": word, "mean_diameter": "2 in"}) == {}


THICK = {"wire": {"diameter": "0.500 in"}, "mean_diameter": "2.600 in"} | ALONE


def test_nothing_else_becomes_unknown_by_it() -> None:
    analysis = analyse(job_of(THICK))
    assert [problem.place.field for problem in analysis.problems] == [f"{WHERE}.wire.diameter"]
    by_hand = 79.5e9 * 0.0127**4 / (8 * (2.6 * 0.0254) ** 3 * 3.2)
    assert analysis.value("rate") == pytest.approx(by_hand, rel=1e-9)
    assert analysis.value("seat_load") == pytest.approx(by_hand * 0.350 * 0.0254, rel=1e-9)


def test_a_fault_of_the_coil_leaves_the_rest_computed() -> None:
    readings = ({"height": "1.900 in", "load": "150 lbf"}, {"height": "1.300 in", "load": "402 lbf"})
    analysis = analyse(job_of({"active_coils": 9.0}, **{"spring.readings": readings}))
    assert [problem.place.field for problem in analysis.problems] == [f"{WHERE}.active_coils"]
    assert analysis.value("seat_load") == pytest.approx(150 * 4.4482216152605)


def test_check_lists_it_and_exits_with_2(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    save_job(job_of(THICK), tmp_path / "a.loadbench.json")
    assert main(["check", str(tmp_path / "a.loadbench.json"), "--json"]) == 2
    told = json.loads(capsys.readouterr().out)
    assert [problem["field"] for problem in told["problems"]] == [f"{WHERE}.wire.diameter"]
    assert told["figures"]["rate_N_per_m"] is not None


def test_a_lines_own_coils_are_checked_at_their_own_fields() -> None:
    own = {"lines.exhaust.spring.coils": (COIL | {"active_coils": 9.0} | THICK,)}
    assert set(faults({}, **own)) == {
        "lines.exhaust.spring.coils.0.active_coils",
        "lines.exhaust.spring.coils.0.wire.diameter",
    }
    stated = stated_of({}, **own)
    assert "lines.exhaust.spring.coils.0.wire.diameter" in stated.values
    assert "lines.exhaust.spring.coils.0.active_coils" not in stated.values
    # The other line keeps the common coil, which is sound; a fault there is told once for both lines that share it.
    assert list(faults({"tapered_coils": 4.0}, **{"lines.exhaust.spring.rate": "400 lbf/in"})) == [
        f"{WHERE}.tapered_coils"
    ]


def test_a_fit_is_not_held_up_by_a_strength_that_is_unknown() -> None:
    spring = {"bind_height": "1.100 in", "installed_height": "1.800 in", "coils": [THICK | {"material": "music"}]}
    told = analysed(head([("1", 150.0, 400.0)], [1.810], spring=spring))
    assert [problem.place.field for problem in told.problems] == [f"{WHERE}.wire.diameter"]
    assert fit(told).problems == ()


def test_coils_that_are_bound_at_the_installed_height() -> None:
    plain = {"bind_height": None, "free_height": None, "wire": {"diameter": "0.200 in"}, "ends": "closed and ground"}
    plain |= {"small_mean_diameter": None, "tapered_coils": None}
    found = faults(plain | {"active_coils": None, "total_coils": 9.6}, **{"spring.installed_height": "1.900 in"})
    assert "bound at the installed height" in found[f"{WHERE}.total_coils"].what
    assert f"{WHERE}.total_coils" not in faults(
        plain | {"active_coils": None, "total_coils": 9.4}, **{"spring.installed_height": "1.900 in"}
    )
