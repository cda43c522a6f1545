"""Names and hints of fields."""

from __future__ import annotations

import pytest

from loadbench.job.label_texts import LABELS
from loadbench.job.stated import mark_of
from loadbench.units import Style, parse
from ui.field_texts import TYPICAL
from ui.field_types import leaves
from ui.labels import common_path, hint_of, label_of, mark_for, pattern_of, unit_of_field, word_label, words_of


@pytest.mark.parametrize(
    ("field", "label"),
    [
        ("spring.installed_height", "Installed height"),
        ("lines.exhaust.valve_gear.lobe_lift", "Lobe lift"),
        ("springs.3.readings.1.load", "Load"),
        ("spring.coils.1.readings.0.height", "Height"),
        ("variants.0.spring.rate", "Rate"),
        ("history.2.record.date", "Date"),
        ("cam.profile.7.1", "Lift"),
        ("nobody.knows_this", "Knows this"),
    ],
)
def test_a_field_has_a_name(field: str, label: str) -> None:
    assert label_of(field) == label


def test_hints_are_typical_and_follow_the_units_on_show() -> None:
    assert hint_of("spring.installed_height") == "e.g. 1.900 in"
    assert hint_of("spring.installed_height", Style.METRIC) == "e.g. 48.26 mm"
    assert hint_of("lines.exhaust.spring.rate", Style.METRIC, unit=False) == "e.g. 73.6"
    assert hint_of("customer") == ""


def test_units_stand_beside_quantities_and_plain_numbers() -> None:
    assert unit_of_field("spring.rate", Style.INCH_POUND) == "lbf/in"
    assert unit_of_field("targets.tolerance_percent", Style.METRIC) == "%"
    assert unit_of_field("customer", Style.METRIC) == ""


def test_every_text_belongs_to_a_field_of_the_document() -> None:
    known = {pattern_of(path) for path, _ in leaves()}
    for pattern in TYPICAL:
        assert pattern in known or pattern.removesuffix(".*") in known, pattern
    groups = {pattern.rsplit(".", depth)[0] for pattern in known for depth in (0, 1, 2, 3)}
    lost = [pattern for pattern in LABELS if not pattern.startswith("**") and pattern.removesuffix(".*") not in groups]
    assert sorted(lost) == ["history", "history.*", "lines", "lines.exhaust", "lines.intake", "rules"]


def test_every_typical_entry_can_be_read() -> None:
    for path, _ in leaves():
        hint, mark = hint_of(path), mark_for(path)
        if hint and hasattr(mark, "kind"):
            parse(hint.removeprefix("e.g. "), mark.kind, None)


def test_columns_of_bare_tables_have_marks() -> None:
    assert mark_for("valve_gear.ratio_curve.0.1") is not None
    assert mark_for("cam.profile.0.0") is not None
    assert mark_for("spring.rate") == mark_of("spring.rate")


def test_words_are_shown_in_words() -> None:
    assert word_label("roller-hydraulic") == "Roller hydraulic"
    assert words_of("follower.family")[0] == "flat-tappet-solid"
    assert common_path("lines.intake.cam.kind") == "cam.kind"
