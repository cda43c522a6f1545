"""Physics of the follower judged: both sides of every limit, and what each verdict waits for."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from loadbench.analysis import Analysis, analyse
from loadbench.findings import Finding, judge
from loadbench.job.reading_in import job_from_text
from loadbench.units import Style

SAMPLES = Path(__file__).parents[2] / "samples"
HOUR, INCH = 3600.0, 0.0254


def sample(name: str, **changes: Any) -> Analysis:
    """A sample with some entries changed, by path with double underscores."""
    tree = json.loads((SAMPLES / f"{name}.loadbench.json").read_text(encoding="utf-8"))
    for path, value in changes.items():
        *above, last = path.split("__")
        part = tree
        for step in above:
            part = part.setdefault(step, {})
        part[last] = value
    return analyse(job_from_text(json.dumps(tree)))


def needles(**changes: Any) -> Analysis:
    return sample("lobe-from-a-degree-wheel", **changes)


def bushed(**changes: Any) -> Analysis:
    return sample("solid-roller-1000-lbf", **changes)


def flat(**changes: Any) -> Analysis:
    return sample("mild-street-flat-hydraulic", **changes)


def with_figures(analysis: Analysis, **values: float) -> Analysis:
    """The same with figures of its only line as given."""
    (line,) = analysis.lines
    figures = {**line.figures, **{name: replace(line.figures[name], value=value) for name, value in values.items()}}
    return replace(analysis, lines=(replace(line, figures=figures),))


def of(rule: str, analysis: Analysis) -> list[Finding]:
    return [finding for finding in judge(analysis).findings if finding.id == rule]


def level(rule: str, analysis: Analysis) -> str:
    (finding,) = of(rule, analysis)
    assert "{" not in finding.sentence.told(Style.METRIC)
    return finding.level.value


def rated(**changes: Any) -> Analysis:
    """Needles that last by their rating and with the oil's factor."""
    return with_figures(needles(**changes), needle_life=1000 * HOUR, needle_life_oil=1000 * HOUR)


BOTH_SIDES = [
    ("contact-stress", needles, "contact_share", ((1.0, "clear"), (1.001, "watch"))),
    ("needle-life", rated, "needle_life", ((100 * HOUR, "clear"), (99.9 * HOUR, "watch"))),
    ("needle-life", rated, "needle_life_oil", ((100 * HOUR, "clear"), (99.9 * HOUR, "watch"))),
    (
        "needle-safety",
        needles,
        "needle_static_safety",
        ((1.5, "clear"), (1.499, "watch"), (1.0, "watch"), (0.999, "stop")),
    ),
    ("bush-film", bushed, "bush_film_ratio_limit", ((1.0, "clear"), (0.999, "watch"))),
    ("tappet-spin", flat, "tappet_offset", ((0.020 * INCH, "clear"), (0.0199 * INCH, "watch"))),
    ("leak-down", flat, "leak_down_time", ((2.0, "clear"), (1.99, "watch"))),
]


@pytest.mark.parametrize(
    ("rule", "subject", "figure", "value", "wanted"),
    [(rule, subject, figure, value, word) for rule, subject, figure, sides in BOTH_SIDES for value, word in sides],
)
def test_both_sides_of_every_limit(rule: str, subject: Any, figure: str, value: float, wanted: str) -> None:
    assert level(rule, with_figures(subject(), **{figure: value})) == wanted


def test_the_life_that_is_wanted_takes_the_place_of_the_usual_one() -> None:
    analysis = with_figures(rated(duty__life_hours=20), needle_life=25 * HOUR)
    (finding,) = of("needle-life", analysis)
    assert (finding.level.value, finding.limit) == ("clear", 20 * HOUR)
    assert "is wanted" in finding.sentence.template
    assert level("needle-life", with_figures(rated(duty__life_hours=30), needle_life=25 * HOUR)) == "watch"


def test_needles_are_judged_by_the_lesser_of_both_lives() -> None:
    (finding,) = of("needle-life", with_figures(rated(), needle_life=171 * HOUR, needle_life_oil=22.9 * HOUR))
    assert (finding.level.value, finding.value) == ("watch", 22.9 * HOUR)
    told = finding.sentence.told(Style.METRIC)
    assert told.startswith("With the oil's factor nine of ten such axles last 22.9")
    assert "by their rating alone 171" in told
    (finding,) = of("needle-life", with_figures(rated(), needle_life=171 * HOUR, needle_life_oil=400 * HOUR))
    assert (finding.level.value, finding.value) == ("clear", 171 * HOUR)


def test_needles_in_oil_too_thin_for_the_standard_are_a_watch() -> None:
    analysis = with_figures(rated(), needle_life=1000 * HOUR)
    (line,) = analysis.lines
    gone = replace(line.figures["needle_life_oil"], value=None, note="Below a viscosity ratio of 0.1 there is none.")
    thin = replace(analysis, lines=(replace(line, figures={**line.figures, "needle_life_oil": gone}),))
    (finding,) = of("needle-life", thin)
    assert finding.level.value == "watch"
    assert "too thin" in finding.sentence.template


def test_advice_on_a_bush_can_be_followed() -> None:
    pressure, pv = of("bush-load", bushed())
    assert all("steady sliding" in each.sentence.template for each in (pressure, pv))
    for each in (pressure, pv):
        assert each.fix is not None
        assert "no longer bush will do" in each.fix.template
        assert each.fix.amounts["needed"].value > each.fix.amounts["width"].value
    assert pressure.fix is not None
    assert pv.fix is not None
    assert "thicker axle" in pressure.fix.template
    assert "thicker axle" not in pv.fix.template
    nearly = with_figures(bushed(), bush_pressure=16e6, bush_pv=15e6)
    (short,) = (each for each in of("bush-load", nearly) if each.level.value == "watch")
    assert short.fix is not None
    length = nearly.stated.values["follower.bush.length"]
    assert short.fix.amounts["needed"].value == pytest.approx(length * 16 / 15)
    assert "lead bronze" in short.fix.template


def test_the_oils_factor_is_told_beside_the_rated_life() -> None:
    (finding,) = of("needle-life", needles())
    assert "With the oil's factor" in finding.sentence.told(Style.METRIC)
    thin = needles(duty__oil={"viscosity_40_cst": 20, "viscosity_100_cst": 4, "temperature": "140 degC"})
    assert thin.value("needle_kappa") is not None


def test_a_bush_is_held_against_the_list_of_its_oil() -> None:
    found = of("bush-load", bushed())
    assert len(found) == 2
    assert {finding.source for finding in found} == {"machine-elements-351"}
    splash = of("bush-load", bushed(follower__oil_feed="splash"))
    assert {finding.source for finding in splash} == {"shigley-bearings"}
    assert all(finding.level.value == "watch" for finding in found)
    light = with_figures(bushed(), bush_pressure=15e6, bush_pv=15e6)
    assert [finding.level.value for finding in of("bush-load", light)] == ["clear", "clear"]


def test_a_bush_of_no_known_material_is_not_judged() -> None:
    found = of("bush-load", bushed(follower__bush__material="carbon wonder"))
    assert [finding.level.value for finding in found] == ["unknown"]
    unsaid = of("bush-load", bushed(follower__bush__material=None))
    assert unsaid[0].missing == ("follower.bush.material",)


def test_needles_say_nothing_of_a_bush_and_the_other_way_round() -> None:
    assert not of("bush-load", needles())
    assert not of("needle-life", bushed())
    assert not of("needle-life", flat())
    assert not of("tappet-spin", needles())


def test_what_is_not_stated_is_waited_for() -> None:
    (finding,) = of("needle-safety", needles(follower__needles={"count": 17}))
    assert finding.level.value == "unknown"
    assert "follower.needles.length" in finding.missing
    (spin,) = of("tappet-spin", flat(follower__crown_radius=None))
    assert spin.missing == ("follower.crown_radius",)
    (film,) = of("film-idle", needles(duty__oil={"grade": "20W-50"}))
    assert film.missing == ("duty.oil.temperature",)


def test_materials_without_a_source_are_not_judged() -> None:
    (finding,) = of("contact-stress", needles(cam__material="unobtainium"))
    assert finding.level.value == "unknown"
    assert finding.value is None


def test_a_thin_film_is_watched_only_where_it_idles_much() -> None:
    often, seldom, unsaid = (
        with_figures(needles(duty__idle_share=share), film_ratio_idle=0.3) for share in (0.21, 0.20, None)
    )
    assert [level("film-idle", each) for each in (often, seldom, unsaid)] == ["watch", "clear", "unknown"]
    assert of("film-idle", unsaid)[0].missing == ("duty.idle_share",)
    told = of("film-idle", seldom)[0].sentence.told(Style.METRIC)
    assert "asks for more where it idles over 20.0\N{THIN SPACE}% of the time, and here it is 20.0" in told
    assert level("film-idle", with_figures(needles(duty__idle_share=0.9), film_ratio_idle=1.0)) == "clear"


def test_the_pin_is_judged_where_its_span_is_stated() -> None:
    assert not of("pin-strength", needles())
    pin = {"span": "12 mm", "material": "bearing steel"}
    analysis = needles(follower__pin=pin)
    for value, wanted in ((1.5, "clear"), (1.49, "watch"), (1.0, "watch"), (0.99, "stop")):
        assert level("pin-strength", with_figures(analysis, pin_safety=value)) == wanted
    assert level("pin-strength", needles(follower__pin=pin | {"material": "cheese"})) == "unknown"


@pytest.mark.parametrize(
    ("bore", "wanted"),
    [("0.8428 in", "clear"), ("0.84279 in", "watch"), ("0.8445 in", "clear"), ("0.84451 in", "watch"), (None, None)],
)
def test_clearance_in_the_bore(bore: str | None, wanted: str | None) -> None:
    found = of("follower-bore", needles(follower__bore={"diameter": bore}))
    assert [finding.level.value for finding in found] == ([] if wanted is None else [wanted])


def test_the_oil_band_stays_within_the_bore_over_the_lift() -> None:
    bore = {"lower_end": "0.300 in", "upper_end": "2.000 in"}
    lobe = needles().lines[0].value("gross_valve_lift")
    ratio = needles().lines[0].value("ratio")
    assert lobe is not None
    assert ratio is not None
    lift = lobe / ratio / INCH
    for upper, wanted in (
        (2.0 - lift - 0.0201, "clear"), (2.0 - lift - 0.0199, "watch"), (2.0 - lift + 0.001, "stop"),
    ):  # fmt: skip
        band = {"lower": "0.900 in", "upper": f"{upper:.5f} in"}
        assert level("oil-band", needles(follower__bore=bore, follower__oil_band=band)) == wanted
    low = {"lower": "0.290 in", "upper": "0.500 in"}
    (finding,) = of("oil-band", needles(follower__bore=bore, follower__oil_band=low))
    assert finding.level.value == "stop"
    assert "at the bottom, closed" in finding.sentence.template
    half = of("oil-band", needles(follower__bore=bore))
    assert half[0].missing == ("follower.oil_band.lower", "follower.oil_band.upper")


@pytest.mark.parametrize(
    ("clearance", "wanted"), [("0.010 in", "clear"), ("0.009 in", "watch"), ("0 in", "stop"), (None, None)]
)
def test_the_guide_is_clear_at_full_lift(clearance: str | None, wanted: str | None) -> None:
    found = of("guide-clearance", needles(follower__guide_clearance=clearance))
    assert [finding.level.value for finding in found] == ([] if wanted is None else [wanted])


def test_without_a_lobe_the_axle_is_judged_by_the_static_load() -> None:
    analysis = sample("lobe-from-a-degree-wheel", cam__profile=[])
    assert analysis.lines[0].follower.idle is not None
    assert analysis.lines[0].follower.idle.static
    load, safety = analysis.value("axle_load"), analysis.value("needle_static_safety")
    assert load == pytest.approx(analysis.value("follower_open_load") or 0.0)
    assert safety == pytest.approx((analysis.value("needle_static_rating") or 0.0) / (load or 1.0))
    assert analysis.value("needle_life") is not None
    assert not of("contact-stress", analysis)  # asked where there is a lobe
