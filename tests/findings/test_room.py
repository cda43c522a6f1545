"""Room: both sides of every limit, and the missing input."""

from __future__ import annotations

import pytest

from tests.findings.jobs import level, told, verdicts

INCH = 0.0254


@pytest.mark.parametrize(
    ("bind", "expected"),
    [("1.240 in", "clear"), ("1.2401 in", "watch"), ("1.270 in", "watch"), ("1.2701 in", "stop"), (None, "unknown")],
)
def test_coil_clearance_at_full_lift(bind: str | None, expected: str) -> None:
    assert level("bind-margin-min", {"spring.bind_height": bind}) == expected


@pytest.mark.parametrize(
    ("bind", "expected"),
    [("1.660 in", "clear"), ("1.6601 in", "watch"), ("1.680 in", "watch"), ("1.6801 in", "stop")],
)
def test_a_bucket_needs_less_coil_clearance(bind: str, expected: str) -> None:
    bucket = {"follower.family": "bucket", "valve_gear.rocker_ratio": None, "valve_gear.lash": "0.010 in"}
    lift = {"valve_gear.valve_lift": "0.210 in", "spring.bind_height": bind}
    assert level("bind-margin-min", bucket | lift) == expected


def test_each_member_is_judged_at_its_own_height() -> None:
    coils = (
        {"name": "outer", "bind_height": "1.100 in"},
        {"name": "inner", "seat_step": "0.060 in", "retainer_step": "0.030 in", "bind_height": "1.160 in"},
    )
    findings = {each.member: each for each in told("bind-margin-min", {"spring.coils": coils})}
    assert findings["outer"].level == "clear"
    assert findings["inner"].level == "watch"
    assert findings["inner"].value == pytest.approx(0.050 * INCH, rel=1e-9)


@pytest.mark.parametrize(
    ("use", "expected"), [("drag", "watch"), ("circuit", "watch"), ("endurance", None), ("street", None), (None, None)]
)
def test_a_wide_clearance_concerns_drag_and_circuit(use: str | None, expected: str | None) -> None:
    assert level("bind-margin-wide", {"duty.use": use}) == expected


def test_a_clearance_of_the_wide_limit_is_clear() -> None:
    assert level("bind-margin-wide", {"duty.use": "drag", "spring.bind_height": "1.150 in"}) == "clear"


@pytest.mark.parametrize(
    ("depth", "expected"),
    [
        ("0.010 in", "clear"),
        ("0.1062 in", "clear"),
        ("0.1063 in", "watch"),
        ("0.125 in", "watch"),
        ("0.1251 in", "stop"),
        (None, "unknown"),
    ],
)
def test_coil_clearance_pumped_up(depth: str | None, expected: str) -> None:
    assert level("bind-pumped-up", {"follower.preload.depth": depth}) == expected


def test_pumped_up_concerns_hydraulic_followers() -> None:
    assert level("bind-pumped-up", {"follower.family": "roller-solid", "valve_gear.lash": "0.016 in"}) is None


@pytest.mark.parametrize(
    ("seal", "expected"),
    [("0.660 in", "clear"), ("0.6599 in", "watch"), ("0.630 in", "watch"), ("0.6299 in", "stop"), (None, "unknown")],
)
def test_retainer_to_seal(seal: str | None, expected: str) -> None:
    assert level("retainer-margin-min", {"valve_gear.retainer_to_seal": seal}) == expected


def test_higher_locks_are_told_with_the_seat_load_they_take() -> None:
    from loadbench.units import Style

    (finding,) = told("retainer-margin-min", {"valve_gear.retainer_to_seal": "0.650 in"})
    assert finding.fix is not None
    said = finding.fix.told(Style.INCH_POUND).replace("\u2009", " ")
    assert "0.010 in higher; that also takes 4 lbf off the seat load" in said  # 400 lbf/in
    assert "a 0.010 in shim beneath the spring gives it back" in said
    loose = {"valve_gear.retainer_to_seal": "0.650 in", "spring.readings": ()}
    (finding,) = told("retainer-margin-min", loose)
    assert finding.fix is not None
    assert "that also lowers the seat load" in finding.fix.template


@pytest.mark.parametrize(
    ("bare", "expected"), [("1.932 in", "clear"), ("1.9321 in", "watch"), ("1.928 in", "clear"), (None, None)]
)
def test_heights_agree(bare: str | None, expected: str | None) -> None:
    assert level("height-agreement", {"spring.bare_height": bare, "spring.shims": ("0.030 in",)}) == expected


@pytest.mark.parametrize(("lobe", "expected"), [("0.3825 in", "clear"), ("0.3826 in", "watch"), (None, None)])
def test_lifts_agree(lobe: str | None, expected: str | None) -> None:
    assert level("lift-agreement", {"valve_gear.lobe_lift": lobe}) == expected


@pytest.mark.parametrize(
    ("shims", "cup", "head", "expected"),
    [
        (("0.060 in", "0.030 in"), "steel", "iron", "clear"),
        (("0.060 in", "0.031 in"), "steel", "iron", "watch"),
        (("0.015 in",) * 3, "steel", "iron", "clear"),
        (("0.015 in",) * 4, "steel", "iron", "watch"),
        (("0.015 in",), "none", "aluminium", "watch"),
        (("0.015 in",), None, "aluminium", "unknown"),
        (("0.015 in",), "steel", "aluminium", "clear"),
        (("0.015 in",), "none", "iron", "clear"),
        (("0.015 in",), "none", None, "unknown"),
        ((), None, None, None),
    ],
)
def test_shim_stack(shims: tuple[str, ...], cup: str | None, head: str | None, expected: str | None) -> None:
    assert level("shim-stack", {"spring.shims": shims, "spring.seat_cup": cup, "valve_gear.head": head}) == expected


def test_the_fix_names_the_shim_that_clears_it() -> None:
    changes = {
        "spring.installed_height": None,
        "spring.bare_height": "1.915 in",
        "spring.shims": ("0.015 in",),
        "spring.bind_height": "1.254 in",
    }
    (finding,) = told("bind-margin-min", changes)
    assert finding.level == "watch"
    assert finding.fix is not None
    from loadbench.units import Style

    assert finding.fix.told(Style.INCH_POUND).replace("\u2009", " ") == "0.015 in less of shims gives 0.061 in."


def test_a_clear_that_may_be_past_its_stop_becomes_a_watch() -> None:
    instruments = {f"instruments.{name}": "0.020 in" for name in ("installed_height", "bind_height", "lift")}
    (finding,) = told("bind-margin-min", {"spring.bind_height": "1.239 in"} | instruments)
    assert finding.level == "watch"
    assert finding.limit == pytest.approx(0.030 * INCH)
    assert finding.chance is not None
    assert finding.chance > 0.05


def test_a_valve_of_its_own_height_has_its_own_finding() -> None:
    valves = ({"id": "1I", "bare_height": "1.850 in"}, {"id": "2I"})
    findings = [each for each in verdicts({"valves": valves}).findings if each.valve]
    assert [each.valve for each in findings] == ["1I"]
    assert findings[0].value == pytest.approx(0.150 * INCH, rel=1e-9)


@pytest.mark.parametrize(("bare", "expected"), [("1.890 in", "watch"), ("1.899 in", "clear"), ("1.950 in", None)])
def test_an_installed_height_above_the_bare_one_is_told_without_shims(bare: str, expected: str | None) -> None:
    assert level("height-agreement", {"spring.bare_height": bare}) == expected


def test_a_valves_own_lash_reaches_its_clearance() -> None:
    solid = {"follower.family": "roller-solid", "valve_gear.lash": "0.016 in"}
    valves = ({"id": "1I", "lash": "0.010 in"}, {"id": "2I"})
    findings = [each for each in verdicts(solid | {"valves": valves}).findings if each.id == "bind-margin-min"]
    clearance = {each.valve: (each.value or 0.0) / INCH for each in findings}
    assert clearance == pytest.approx({None: 0.216, "1I": 0.210}, abs=1e-9)
