"""Cells that rest on physics: the rule book's limit is put just on either side of each figure of a sample."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import pytest

from loadbench.analysis.changeover import LOADS, changeover_of
from loadbench.analysis.figure import FigureKind, Plain
from loadbench.findings.match.criteria import PHYSICS, sayings
from loadbench.findings.match.match import seated
from loadbench.findings.match.result import Criterion, Kit
from loadbench.findings.match.sayings import worst
from loadbench.units import Kind, Style
from tests.findings.match.tried import BUCKETS, DRAG, SHORT, STREET, WHEEL, Changes, cell, level, matched, sample

STEP = 1e-4


@dataclass(frozen=True)
class Judged:
    """A figure of a sample under a rule of the book."""

    sample: str
    kit: Kit
    criterion: Criterion
    rule: str
    limit: str = "usual"
    least: bool = False
    changes: tuple[tuple[str, Any], ...] = ()

    @property
    def name(self) -> str:
        return f"{self.rule} {self.limit} of {self.kit}"


MUCH_IDLING = (("duty.idle_share", 0.5),)
LARGE_BUSH = (("follower.bush.bore", "14 mm"), ("follower.bush.length", "20 mm"))
PIN = (("follower.pin.span", "12 mm"), ("follower.pin.material", "steel"))
CASES = (
    Judged(SHORT, Kit.ROLLER_HYDRAULIC_SHORT, Criterion.SPEED, "float-margin", least=True),
    Judged(SHORT, Kit.ROLLER_SOLID_NEEDLE, Criterion.SPEED, "float-margin", least=True),
    Judged(BUCKETS, Kit.BUCKET, Criterion.SPEED, "float-margin", least=True),
    Judged(SHORT, Kit.ROLLER_HYDRAULIC_STANDARD, Criterion.CONTACT, "contact-stress"),
    Judged(STREET, Kit.FLAT_SOLID, Criterion.CONTACT, "contact-stress"),
    Judged(BUCKETS, Kit.BUCKET, Criterion.CONTACT, "contact-stress"),
    Judged(STREET, Kit.FLAT_HYDRAULIC, Criterion.CONTACT, "tappet-spin", least=True),
    Judged(SHORT, Kit.ROLLER_HYDRAULIC_SHORT, Criterion.AXLE_LIFE, "needle-life", least=True),
    Judged(WHEEL, Kit.ROLLER_SOLID_NEEDLE, Criterion.AXLE_LIFE, "needle-safety", least=True),
    Judged(DRAG, Kit.ROLLER_SOLID_BUSHED, Criterion.AXLE_LIFE, "bush-load", "pressure"),
    Judged(DRAG, Kit.ROLLER_SOLID_BUSHED, Criterion.AXLE_LIFE, "bush-load", "pv"),
    Judged(DRAG, Kit.ROLLER_SOLID_BUSHED, Criterion.AXLE_LIFE, "bush-film", least=True, changes=LARGE_BUSH),
    Judged(SHORT, Kit.ROLLER_HYDRAULIC_SHORT, Criterion.AXLE_LIFE, "pin-strength", least=True, changes=PIN),
    Judged(SHORT, Kit.ROLLER_HYDRAULIC_SHORT, Criterion.FILM_AT_IDLE, "film-idle", "film_ratio", True, MUCH_IDLING),
    Judged(STREET, Kit.FLAT_HYDRAULIC, Criterion.FILM_AT_IDLE, "film-idle", "film_ratio", True, MUCH_IDLING),
    Judged(SHORT, Kit.ROLLER_HYDRAULIC_SHORT, Criterion.TRAVEL, "bind-pumped-up", least=True),
    Judged(SHORT, Kit.ROLLER_HYDRAULIC_STANDARD, Criterion.TRAVEL, "bind-pumped-up", least=True),
    Judged(SHORT, Kit.ROLLER_HYDRAULIC_SHORT, Criterion.TRAVEL, "leak-down", least=True),
    Judged(STREET, Kit.FLAT_HYDRAULIC, Criterion.TRAVEL, "leak-down", least=True),
)


def text(value: float, kind: FigureKind) -> str | float:
    """A limit as the rule book writes it."""
    texts = {
        Kind.LENGTH: f"{1e3 * value:.9f} mm",
        Kind.TIME: f"{value:.9f} s",
        Kind.LIFE: f"{value / 3600:.9f} h",
        Plain.SHARE: f"{100 * value:.9f} %",
    }
    return texts.get(kind, value)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_both_sides_of_the_limit(case: Judged) -> None:
    analysis = sample(case.sample, dict(case.changes))
    seat = seated(case.kit, analysis)
    findings = [each for each in seat.findings(case.rule) if each.value is not None or each.figure is not None]
    if case.rule == "bush-load":
        findings = [findings[0] if case.limit == "pressure" else findings[1]]
    found = [each.value if each.value is not None else each.figure.value for each in findings if each.figure]
    value = min(found) if case.least else max(found)
    kind = seat.book.limit(case.rule, case.limit).kind
    for side, good in ((1 - STEP, case.least), (1 + STEP, not case.least)):
        change = {case.limit: {"watch": text(value * side, kind)}}
        stop = seat.book.limit(case.rule, case.limit).stop
        if stop is not None:
            change[case.limit]["stop"] = text(min(stop, value * side) if case.least else stop, kind)
        judged = seated(case.kit, analysis, _shop(case.rule, change))
        said = [each for each in sayings(case.criterion, judged) if each.finding.id == case.rule]
        if case.rule == "bush-load":
            said = [said[0] if case.limit == "pressure" else said[1]]
        governing = worst(said)
        assert governing is not None
        assert governing.physics
        assert (governing.level == "clear") is good
        assert governing.level in ("clear", "watch")


def _shop(rule: str, change: dict[str, Any]) -> dict[str, Any]:
    from loadbench.job.model import RuleChange

    return {rule: RuleChange.model_validate(change.get("usual", change))}


def test_every_rule_of_physics_has_its_case() -> None:
    assert {case.rule for case in CASES} == PHYSICS - {"contact-lost"}  # which test_speed has, with its dynamic run


@pytest.mark.parametrize(
    ("bore", "length", "idle_share", "expected"),
    [
        ("20 mm", "20 mm", 0.5, "clear"),
        ("13 mm", "20 mm", 0.21, "watch"),
        ("13 mm", "20 mm", 0.20, "clear"),
        ("13 mm", "20 mm", None, "clear"),
    ],
)
def test_a_bush_at_idle(bore: str, length: str, idle_share: float | None, expected: str) -> None:
    """At 40 degrees the larger one floats; the other does not, which counts where idling is frequent."""
    sizes = {"follower.bush.bore": bore, "follower.bush.length": length, "duty.idle_share": idle_share}
    cold = {"duty.oil.temperature": "40 degC"} if bore == "20 mm" else {}
    seat = seated(Kit.ROLLER_SOLID_BUSHED, sample(DRAG, sizes | cold))
    said = [each.finding for each in sayings(Criterion.FILM_AT_IDLE, seat) if each.finding.id == "bush-film"]
    assert [each.level.value for each in said] == [expected]


def test_a_bush_whose_clearance_is_not_stated_has_no_film_that_is_known() -> None:
    found = cell(sample(DRAG, {"follower.bush.clearance": None}), Kit.ROLLER_SOLID_BUSHED, Criterion.FILM_AT_IDLE)
    assert found.level == "unknown"
    assert "follower.bush.clearance" in found.missing


def test_little_idling_makes_a_thin_film_a_remark() -> None:
    much, little = (sample(STREET, {"duty.idle_share": share}) for share in (0.21, 0.2))
    assert level(much, Kit.FLAT_HYDRAULIC, Criterion.FILM_AT_IDLE) == "watch"
    assert level(little, Kit.FLAT_HYDRAULIC, Criterion.FILM_AT_IDLE) == "clear"


def test_without_a_lobe_the_film_is_not_known() -> None:
    found = cell(sample(SHORT, {"cam.durations": ()}), Kit.ROLLER_HYDRAULIC_SHORT, Criterion.FILM_AT_IDLE)
    assert found.level == "unknown"
    assert "cam.durations" in found.missing


@pytest.mark.parametrize(("speed", "expected"), [("8100 rpm", "clear"), ("8300 rpm", "watch")])
def test_a_valve_that_leaves_its_lobe_pumps_its_plunger_up(speed: str, expected: str) -> None:
    analysis = sample(SHORT, {"duty.speed_limit": speed, "lines.exhaust": None, "lines.intake": None})
    found = cell(analysis, Kit.ROLLER_HYDRAULIC_SHORT, Criterion.TRAVEL)
    apart = seated(Kit.ROLLER_HYDRAULIC_SHORT, analysis).heaviest.figure("float_margin")
    assert apart is not None
    assert apart.value is not None
    assert (apart.value < 0) is (expected == "watch")
    assert found.level == expected
    if expected == "watch":
        assert "pumps up" in found.sentence.template
        assert "0.022" in found.sentence.told(Style.INCH_POUND)  # 0.013 in at a ratio of 1.7
    assert level(analysis, Kit.ROLLER_SOLID_NEEDLE, Criterion.TRAVEL) is None


WARM: Changes = {
    "valve_gear.warming.cold": "20 degC", "valve_gear.warming.warm": "95 degC",
    "valve_gear.warming.head_height": "4 in", "valve_gear.warming.block_height": "6 in",
    "valve_gear.pushrod.length": "8 in", "valve_gear.pushrod.material": "steel",
}  # fmt: skip


def test_lengths_and_materials_stand_beside_the_trades_correction() -> None:
    warm = cell(sample(SHORT, WARM), Kit.ROLLER_HYDRAULIC_SHORT, Criterion.HEAD_MATERIAL)
    assert warm.practice is not None
    assert warm.physics is not None
    assert "lengths and materials" in warm.physics.template
    assert warm.practice.template.startswith("Set {cold}")


def test_lash_that_warmth_would_close() -> None:
    """A long aluminium pushrod beside little iron: the lash closes as it warms."""
    long = WARM | {"valve_gear.warming.head_height": "1 in", "valve_gear.warming.block_height": "1 in",
                   "valve_gear.pushrod.length": "16 in", "valve_gear.pushrod.material": "aluminium",
                   "valve_gear.head": "iron", "valve_gear.lash_at": "cold"}  # fmt: skip
    tight, wide = (sample(DRAG, long | {"valve_gear.lash": lash}) for lash in ("0.010 in", "0.200 in"))
    assert cell(wide, Kit.ROLLER_SOLID_BUSHED, Criterion.HEAD_MATERIAL).level == "clear"
    found = cell(tight, Kit.ROLLER_SOLID_BUSHED, Criterion.HEAD_MATERIAL)
    assert found.level == "stop"
    assert found.disagree  # by the trade's correction the lash opens
    assert found.source != "common practice"


def test_physics_and_trade_disagree_and_both_are_shown() -> None:
    found = cell(sample(DRAG), Kit.ROLLER_SOLID_BUSHED, Criterion.AXLE_LIFE)
    assert found.disagree
    assert found.practice is not None
    assert found.physics is not None
    assert found.practice.template != found.physics.template
    assert found.level == "watch"
    assert found.sentence == found.physics
    agreed = cell(sample(SHORT, {"duty.life_hours": 10}), Kit.ROLLER_HYDRAULIC_SHORT, Criterion.AXLE_LIFE)
    assert not agreed.disagree
    assert agreed.practice is not None
    assert agreed.physics is not None


def test_the_trade_may_be_the_stricter_of_the_two() -> None:
    """Strong needles under a load that the trade would not put on any."""
    needles = {"follower.axle": "needle", "follower.needles.count": 24, "follower.needles.diameter": "2.5 mm",
               "follower.needles.length": "14 mm", "follower.needles.axle_diameter": "17 mm",
               "duty.life_hours": 0.01}  # fmt: skip
    found = cell(sample(DRAG, needles), Kit.ROLLER_SOLID_NEEDLE, Criterion.AXLE_LIFE)
    assert (found.level, found.rule) == ("stop", "bushed-axle")
    assert found.disagree


def test_a_bush_that_the_figures_load_past_its_list_is_a_watch_beside_the_trades_word() -> None:
    """In the demo, where the picture of both axles says the same of it."""
    found = cell(sample(SHORT), Kit.ROLLER_SOLID_BUSHED, Criterion.AXLE_LIFE)
    assert (found.level, found.rule) == ("watch", "bush-load")
    assert found.value is not None
    assert found.value > 1
    assert found.disagree
    assert found.practice is not None
    assert "needles carry it" in found.practice.template
    line = next(line for line in sample(SHORT).lines if line.name == found.line)
    shown = changeover_of(line)
    assert shown is not None
    assert shown.bush_source == found.source
    margin = np.interp(shown.job_load, LOADS, shown.grid.bush_margin[:, 0])  # without idling: the worse of the two
    assert found.value == pytest.approx(1 / float(margin), rel=0.02)


def test_a_bush_of_the_jobs_own_is_asked_for_its_metal() -> None:
    own = seated(Kit.ROLLER_SOLID_BUSHED, sample(DRAG, {"follower.bush.material": None}))
    assert not own.took("follower.bush.material")
    assert [each.missing for each in own.findings("bush-load")] == [("follower.bush.material",)]
    assert seated(Kit.ROLLER_SOLID_BUSHED, sample(SHORT)).took("follower.bush.material")


def test_a_line_is_named_where_the_job_has_two() -> None:
    found = matched(sample(SHORT)).cell(Kit.FLAT_SOLID, Criterion.OPEN_LOAD)
    assert found.line in ("intake", "exhaust")
    assert matched(sample(DRAG)).cell(Kit.FLAT_SOLID, Criterion.OPEN_LOAD).line is None
