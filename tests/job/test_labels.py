"""Names of fields where no window shows their place: with the items that they stand in, by number."""

from __future__ import annotations

import pytest

from loadbench.job.edits import replaced_all
from loadbench.job.labels import label_of, name_of, names_of
from loadbench.job.model import Job


@pytest.mark.parametrize(
    ("field", "name"),
    [
        ("spring.installed_height", "Installed height"),
        ("spring.readings.1.load", "Reading 2, load"),
        ("springs.2.readings.0.height", "Spring 3, reading 1, height"),
        ("springs.2.id", "Spring 3, number"),
        ("valves.3.bare_height", "Valve 4, bare height"),
        ("valves.3.shims.1", "Valve 4, shim 2"),
        ("lines.exhaust.valve_gear.lobe_lift", "Exhaust, lobe lift"),
        ("lines.intake.spring.readings.0.load", "Intake, reading 1, load"),
        ("spring.coils.1.bind_height", "Member 2, bind height"),
        ("spring.coils.1.readings.0.height", "Member 2, reading 1, height"),
        ("spring.spec.0.minus", "Spec 1, load may be less by"),
        ("spring.spec.0.height", "Spec 1, height"),
        ("cam.profile.7.1", "Lift table, row 8, lift"),
        ("valve_gear.ratio_curve.0.1", "Ratio over lift, row 1, ratio"),
        ("cam.durations.0.lift", "Duration 1, at lift"),
        ("variants.0.spring.coils.2.rate", "Variant 1, member 3, rate"),
        ("history.2.springs.0.readings.1.load", "Earlier check 3, spring 1, reading 2, load"),
        ("shims_in_stock.4", "Shim in stock 5"),
        ("spring.readings", "Readings"),
        ("gadgets.0.fine_setting", "Gadget 1, fine setting"),
    ],
)
def test_a_field_is_named_with_the_items_it_stands_in(field: str, name: str) -> None:
    assert name_of(field) == name


def test_valves_and_springs_are_told_by_their_own_numbers_too() -> None:
    job = replaced_all(Job(title="t"), {"springs": ({"id": "S07"}, {"id": "2"}, {}), "valves": ({"id": "1E"},)})
    assert name_of("springs.0.readings.1.load", job) == "Spring 1 (S07), reading 2, load"
    assert name_of("springs.1.readings.1.load", job) == "Spring 2, reading 2, load"
    assert name_of("springs.2.readings.1.load", job) == "Spring 3, reading 2, load"
    assert name_of("springs.9.readings.1.load", job) == "Spring 10, reading 2, load"
    assert name_of("valves.0.lash", job) == "Valve 1 (1E), lash"


def test_several_fields_are_told_in_a_sentence_each_once() -> None:
    fields = ("spring.readings.0.load", "spring.rate", "spring.rate", "valve_gear.retainer_to_seal")
    assert names_of(fields) == "reading 1, load; rate; retainer to seal, closed"


def test_labels_go_through_the_readers_language() -> None:
    assert name_of("spring.readings.1.load", word=str.upper) == "READING 2, lOAD"
    assert label_of("spring.rate", str.upper) == "RATE"
