"""What the panel says and lists."""

from __future__ import annotations

from dataclasses import replace

from loadbench.findings.finding import Level
from loadbench.units import Style
from tests.ui.trust.sets import FAULTS, TALL, a_set, checked
from ui.trust.entries import entries_of
from ui.trust.facts import facts_of, headline, left_over
from ui.trust.lists import as_text, bins, past_checks, strip_list

IP = Style.INCH_POUND


def texts(*facts: object) -> str:
    return " ".join(str(getattr(fact, "text", "")) for fact in facts).replace("\u2009", " ")


def test_the_head_line_counts_and_has_the_worst_sign() -> None:
    good, bad = headline(checked(a_set(seed=3))), headline(checked(a_set(faults=FAULTS)))
    assert (good.level, good.text) == (Level.CLEAR, "16 of 16 springs pass")
    assert (bad.level, bad.text) == (Level.STOP, "14 of 16 springs pass")
    none = headline(checked(a_set(spec=False)))
    assert (none.level, none.text) == (Level.UNKNOWN, "Springs: 16, no window stated")


def test_what_is_lacking_is_ordered() -> None:
    check = checked(a_set(faults=FAULTS))
    assert "Order 2 more for 16 valves; springs that do not fail: 14." in texts(*facts_of(check, IP))
    spare = checked(a_set(20, faults=FAULTS, valves=16))
    assert "Order" not in texts(*facts_of(spare, IP))
    assert left_over(spare) == ("S17", "S18", "S19", "S20")
    assert "Left over: S17, S18, S19, S20." in texts(*facts_of(spare, IP))
    many = texts(*facts_of(checked(a_set(40, valves=16)), IP))
    assert "Left over, 24: S17" in many
    assert left_over(checked(a_set(valves=0))) == ()


def test_spread_and_repeatability_are_told_with_their_limit() -> None:
    said = texts(*facts_of(checked(a_set(faults=FAULTS)), IP))
    assert "Watch: seat loads spread over" in said
    assert "at most 5.0 % is asked for." in said
    assert "Repeatability unknown: no height was read twice." in said
    twice = texts(*facts_of(checked(a_set(repeats=3)), IP))
    assert "Repeats of one reading scatter by 0." in twice
    unstated = facts_of(checked(a_set(spec=False)), IP)
    assert unstated[0].text.startswith("Nothing to hold the springs against")


def test_doubts_come_first_then_the_springs_that_fail() -> None:
    check = checked(a_set(faults=FAULTS))
    entries = entries_of(check, IP)
    assert [entry.level for entry in entries] == [Level.WATCH] * len(check.flags) + [Level.STOP] * 2
    assert {entry.spring for entry in entries} == {"S07", "S12"}
    assert all(entry.rule for entry in entries)
    assert entries[0].head.startswith("Look again")
    assert entries[0].path.startswith("springs.")
    fails = next(entry for entry in entries if entry.head == "Fails: S07")
    assert fails.sentence.endswith("low at 1.900\u2009in.")
    metric = entries_of(check, Style.METRIC)
    assert metric[0].sentence != entries[0].sentence


def test_all_springs_off_alike_is_the_testers_doubt() -> None:
    entries = entries_of(checked(a_set(faults={(place, h): 10.0 for place in range(16) for h in (TALL, 1.3)})), IP)
    assert entries[0].head == "Tester: its zero"
    assert entries[0].spring == ""


def test_the_strip_list_is_in_cylinder_order_and_leaves_as_text() -> None:
    job = a_set(4, more={"springs.0.mark": "=red"})
    turned = job.model_copy(update={"valves": tuple(reversed(job.valves))})
    listed = strip_list(checked(turned), IP)
    assert [row.cells[:2] for row in listed.rows] == [("1I", "S01"), ("1E", "S02"), ("2I", "S03"), ("2E", "S04")]
    lines = as_text(listed).splitlines()
    assert lines[0] == "Valve\tSpring\tMark\tBin\tSeat, lbf\tOpen, lbf"
    assert lines[1].split("\t")[2] == "'=red"
    assert len(as_text(listed, [1, 2]).splitlines()) == 3


def test_without_valves_the_springs_stand_as_they_are() -> None:
    listed = strip_list(checked(a_set(3, valves=0)), IP)
    assert listed.heads[0] == "Spring"
    assert [row.cells[0] for row in listed.rows] == ["S01", "S02", "S03"]
    assert "No valves" in listed.sentence


def test_bins_hold_every_spring_once_within_the_limit() -> None:
    check = checked(a_set(32, seed=5))
    listed = bins(check, IP)
    named = [name for row in listed.rows for name in row.springs]
    assert sorted(named) == sorted(spring.id for spring in check.springs)
    assert [int(row.cells[1]) for row in listed.rows] == [len(row.springs) for row in listed.rows]
    assert "5.0" in listed.sentence
    assert bins(replace(check, springs=()), IP).rows == ()


def test_the_past_tells_its_checks_and_its_trend() -> None:
    listed = past_checks(checked(a_set(losses=(0.0, 0.02, 0.04))), IP)
    assert [row.cells[0] for row in listed.rows] == ["2025-01-11, 0 h", "2025-02-11, 10 h", "2025-09-11, 20 h"]
    assert listed.rows[0].cells[2:] == ("\u2013", "\u2013")
    assert listed.rows[2].springs
    assert "for every 10 hours" in listed.sentence
    assert "No earlier check" in past_checks(checked(a_set()), IP).sentence
